"""Which lost tubes and leaking joints cost a forced outage, and what that does to the money.

Not here: which of the record's did (``test_losses``, ``test_joint_stops``), other money of the
options (``test_option_money``).
"""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.decision.money.option_money import price_options
from model.decision.options.work_bills import event_bills
from model.decision.trials.draws import draw
from model.decision.trials.trial_runs import run_trials
from tests.model.decision.random_boilers import boilers
from tests.model.decision.small_situation import (
    a_pass,
    a_plan,
    a_risk,
    a_situation,
    all_of,
    some_bills,
)

RATE = 6.0


def priced(situation, plans, draws, effects=None, *, bills=None):
    counts = run_trials(plans, situation, effects, draws, years=draws.years, discount_percent=RATE)
    bills = bills or some_bills(situation)
    return counts, price_options(plans, counts, bills, situation.prices, draws)


def with_stops(draws, tubes, joints):
    """The same chances with these shares of lost tubes and leaking joints stopping the boiler."""
    shares = (np.full_like(draws.losses, share) for share in (tubes, joints))
    return dataclasses.replace(
        draws, stopping_share=next(shares), joint_stopping_share=next(shares)
    )


@pytest.mark.parametrize(
    ("tubes", "joints", "a_tube", "a_joint"),
    [
        # Two plugs and an hour; half an hour of re-rolling. Every price is 100.
        (0.0, 0.0, 300.0, 50.0),
        # A forced outage for each: 6 h, 2 plugs and 1.5 days; 5 h and a day.
        (1.0, 1.0, 950.0, 600.0),
        (0.0, 1.0, 300.0, 600.0),
        (0.25, 0.5, 0.25 * 950.0 + 0.75 * 300.0, 0.5 * 600.0 + 0.5 * 50.0),
    ],
)
def test_only_what_stops_the_boiler_costs_a_forced_outage(tubes, joints, a_tube, a_joint):
    situation = a_situation(a_pass(2, 100, risk=a_risk(losses=9, joint_leaks=6)))
    draws = with_stops(draw(situation, years=5, trials=80, seed=4), tubes, joints)
    counts, found = priced(situation, (a_plan(),), draws)
    money = found.money["plug-bad"]
    lost, leaking = np.array(money.leaks), np.array(money.joint_leaks)
    assert min(lost.sum(), leaking.sum()) > 1.0
    assert money.forced_outages == pytest.approx(tubes * lost + joints * leaking)
    assert money.flows == pytest.approx(a_tube * lost + a_joint * leaking)
    assert ("forced_outage_per_day" in money.flows_by_item) == (tubes + joints > 0.0)
    assert sum(money.leaks) == pytest.approx(counts.leaks[0].mean())


@given(
    boiler=boilers(),
    fewer=st.floats(0.0, 1.0),
    more=st.floats(0.0, 1.0),
    are_joints=st.booleans(),
    seed=st.integers(0, 2**32),
)
@settings(max_examples=40)
def test_a_larger_share_that_stops_the_boiler_is_never_cheaper(
    boiler, fewer, more, are_joints, seed
):
    situation = boiler.situation
    fewer, more = sorted((fewer, more))
    draws = draw(situation, years=6, trials=20, seed=seed)
    values, lost = [], []
    for share in (fewer, more):
        stops = with_stops(draws, *((0.3, share) if are_joints else (share, 0.3)))
        bills = event_bills(situation)
        counts, found = priced(situation, boiler.plans, stops, boiler.effects, bills=bills)
        values.append(found.present_values)
        lost.append(counts.leaks)
    assert (values[1] >= values[0] * (1.0 - 1e-12)).all()
    assert np.array_equal(*lost)


@pytest.mark.parametrize("growth", [{}, {"is_growth_known": True, "shape": 2.0}])
def test_more_stops_in_the_record_are_dearer_for_every_option(growth):
    """The same seed and losses; of six losses and four joint leaks so many stopped the boiler."""
    values = []
    for tubes, joints in ((0, 0), (2, 0), (2, 2), (5, 2), (6, 4)):
        risk = a_risk(
            losses=6, stopping_losses=tubes, losses_when_down=6 - tubes, joint_leaks=4,
            stopping_joint_leaks=joints, **growth,
        )  # fmt: skip
        situation = a_situation(a_pass(2, 100, bad=3, weak=5, risk=risk))
        bad = all_of(situation, "bad")
        plans = (a_plan(plug=bad), a_plan("retube-all", retube=frozenset({2})))
        draws = draw(situation, years=8, trials=4000, seed=1)
        _, found = priced(situation, plans, draws)
        values.append([found.money[plan.key].present_value for plan in plans])
    assert (np.diff(values, axis=0) > 0.0).all()
