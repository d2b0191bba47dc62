"""How likely one tube is lost in a year: cases by hand and what must hold."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.decision.trials.draws import draw
from model.decision.trials.loss_rates import loss_rates
from tests.model.decision.small_situation import a_pass, a_risk, a_situation


def rates_of(each, *, years=3, losses=None, shape=None, weak_share=None, **changes):
    """Of one pass in one trial: lists by year."""
    situation = a_situation(each)
    draws = draw(situation, years=years, trials=1, seed=1)
    given = {"losses": losses, "shape": shape, "weak_share": weak_share}
    known = {name: np.array([[value]]) for name, value in given.items() if value is not None}
    found = loss_rates(situation, dataclasses.replace(draws, **known, **changes), years=years)
    return tuple(getattr(found, name)[:, 0, 0] for name in ("weak", "others", "new"))


def test_at_a_constant_rate_every_tube_is_lost_alike_new_or_old():
    each = a_pass(tubes=100, risk=a_risk(window_years=10.0))
    for rates in rates_of(each, losses=5.0):
        assert rates == pytest.approx([0.005] * 3)


def test_where_losses_grow_old_tubes_go_on_and_new_ones_begin():
    each = a_pass(tubes=100, risk=a_risk(window_years=2.0, is_growth_known=True))
    _, others, new = rates_of(each, losses=4.0, shape=2.0)
    # 0.04 (age / 2)^2: 0.04 at 2 years, 0.09 at 3, 0.16 at 4, 0.25 at 5.
    assert others == pytest.approx([0.05, 0.07, 0.09])
    assert new == pytest.approx([0.01, 0.03, 0.05])


def test_the_share_of_the_weak_is_of_what_all_old_tubes_in_service_lose():
    each = a_pass(tubes=100, plugged=8, bad=2, weak=10, risk=a_risk(window_years=10.0))
    weak, others, _ = rates_of(each, losses=5.0, weak_share=0.6)
    # 90 tubes lose 0.45 a year: 0.27 of 10 weak ones, 0.18 of 80 others.
    assert weak == pytest.approx([0.027] * 3)
    assert others == pytest.approx([0.18 / 80] * 3)


def test_what_a_few_weak_tubes_cannot_lose_falls_on_the_others():
    each = a_pass(tubes=100, weak=1, risk=a_risk(window_years=1.0))
    weak, others, _ = rates_of(each, losses=5.0, weak_share=0.9)
    assert weak == pytest.approx([1.0] * 3)
    assert others == pytest.approx([4.0 / 99] * 3)


def test_where_all_are_weak_they_lose_all():
    weak, others, _ = rates_of(a_pass(tubes=20, weak=20), losses=5.0)
    assert weak == pytest.approx([0.025] * 3)
    assert (others == 0.0).all()


@given(
    losses=st.floats(0.0, 1e4),
    shape=st.floats(1e-3, 500.0),
    window=st.floats(0.5, 60.0),
    weak=st.integers(0, 30),
)
def test_no_tube_is_lost_twice_however_fast_losses_grow(losses, shape, window, weak):
    each = a_pass(tubes=30, weak=weak, risk=a_risk(window_years=window, is_growth_known=True))
    for rates in rates_of(each, years=30, losses=losses, shape=shape):
        assert ((rates >= 0.0) & (rates <= 1.0)).all()


@given(
    losses=st.floats(0.0, 50.0),
    more=st.floats(1.0, 5.0),
    shape=st.floats(0.5, 4.0),
    grows=st.booleans(),
)
def test_more_losses_never_lower_a_rate_where_no_tube_is_weak(losses, more, shape, grows):
    each = a_pass(tubes=30, risk=a_risk(is_growth_known=grows))
    few = rates_of(each, losses=losses, shape=shape)
    many = rates_of(each, losses=losses * more, shape=shape)
    for lower, higher in zip(few, many, strict=True):
        assert (higher >= lower * (1 - 1e-12)).all()
