"""Present value and internal rates against numpy-financial."""

import math
from itertools import pairwise

import numpy_financial as npf
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from model.decision.present_value import (
    internal_rates_percent,
    nearest_to_zero,
    net_present_value,
)
from model.errors import OutOfRange

money = st.floats(-1e6, 1e6).map(lambda flow: round(flow, 2))
returns = st.floats(0.0, 1e6).map(lambda flow: round(flow, 2))
flows_lists = st.lists(money, min_size=1, max_size=25)


@given(rate_percent=st.floats(-50.0, 100.0), flows=flows_lists)
def test_an_independent_library_finds_the_same_present_value(
    rate_percent: float, flows: list[float]
) -> None:
    judge = float(npf.npv(rate_percent / 100.0, flows))
    size = math.fsum(abs(f) / (1 + rate_percent / 100) ** t for t, f in enumerate(flows))
    assert net_present_value(rate_percent=rate_percent, flows=flows) == pytest.approx(
        judge, abs=1e-9 * size + 1e-9
    )


@given(cost=st.floats(10.0, 1e6), returns=st.lists(returns, min_size=1, max_size=20))
def test_an_outlay_with_returns_has_the_one_rate_of_the_library(
    cost: float, returns: list[float]
) -> None:
    assume(sum(returns) > 0.01 * cost)
    flows = [-cost, *returns]
    (rate,) = internal_rates_percent(flows)
    judge = float(npf.irr(flows))
    assert (1 + rate / 100) == pytest.approx(1 + judge, rel=1e-6)


@given(flows=flows_lists)
def test_the_present_value_at_every_internal_rate_is_nothing(flows: list[float]) -> None:
    for rate in internal_rates_percent(flows):
        assume(rate > -99.0)
        size = math.fsum(abs(f) / (1 + rate / 100) ** t for t, f in enumerate(flows))
        value = net_present_value(rate_percent=rate, flows=flows)
        assert abs(value) <= 1e-9 * size


@given(flows=st.lists(money, min_size=2, max_size=20))
def test_there_are_never_more_rates_than_changes_of_sign(flows: list[float]) -> None:
    signs = [flow > 0 for flow in flows if flow]
    changes = sum(a != b for a, b in pairwise(signs))
    assert len(internal_rates_percent(flows)) <= changes


def test_several_rates_are_all_found_and_the_nearest_to_zero_is_chosen() -> None:
    # (x - 1/1.1)(x - 1/1.3)(x - 1/0.8), spelled out: rates of 10, 30 and -20 %.
    roots = [1 / 1.1, 1 / 1.3, 1 / 0.8]
    flows = [1.0]
    for root in roots:
        shifted = [0.0, *flows]
        flows = [a - root * b for a, b in zip(shifted, [*flows, 0.0], strict=True)]
    rates = internal_rates_percent(flows)
    assert rates == pytest.approx((-20.0, 10.0, 30.0))
    assert nearest_to_zero(rates) == pytest.approx(10.0)


@pytest.mark.parametrize("flows", [[1.0, 2.0], [-1.0], [0.0, 0.0], [-5.0, -1.0, 0.0]])
def test_flows_of_one_sign_have_no_rate(flows: list[float]) -> None:
    assert internal_rates_percent(flows) == ()
    assert nearest_to_zero(()) is None


def test_blank_years_at_both_ends_change_no_rate() -> None:
    assert internal_rates_percent([0.0, -100.0, 125.0, 0.0]) == pytest.approx((25.0,))


def test_a_rate_that_only_touches_zero_is_one_rate() -> None:
    assert internal_rates_percent([1.0, -2.2, 1.21]) == pytest.approx((10.0,))


@given(rate_percent=st.floats(0.0, 50.0), more=st.floats(0.1, 20.0), flows=flows_lists)
def test_a_higher_rate_never_raises_the_value_of_returns(
    rate_percent: float, more: float, flows: list[float]
) -> None:
    returns = [abs(flow) for flow in flows]
    higher = net_present_value(rate_percent=rate_percent + more, flows=returns)
    assert higher <= net_present_value(rate_percent=rate_percent, flows=returns) * (1 + 1e-12)


def test_a_loss_of_everything_and_no_flows_are_refused() -> None:
    with pytest.raises(OutOfRange, match=r"rate_percent is -100\.0, but must be above -100"):
        net_present_value(rate_percent=-100.0, flows=[1.0])
    with pytest.raises(OutOfRange, match="flows is empty, but must be at least one flow"):
        net_present_value(rate_percent=5.0, flows=[])


def test_an_amount_too_small_to_count_hides_no_rate() -> None:
    assert internal_rates_percent([-10.0, 1.0, 5e-324]) == pytest.approx((-90.0,))
