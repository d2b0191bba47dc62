"""Money of the options: exact, consistent, and moved by prices as it must be."""

import dataclasses
import math

import numpy as np
import numpy_financial as npf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.decision.money.option_money import expected_quantities, price_options
from model.decision.prices import PriceSource
from model.decision.trials.draws import PRICE_ITEMS, draw
from model.decision.trials.trial_runs import run_trials
from model.errors import OutOfRange
from tests.model.decision.random_boilers import boilers
from tests.model.decision.small_situation import (
    a_pass,
    a_plan,
    a_risk,
    a_situation,
    all_of,
    some_bills,
    some_effects,
    some_prices,
)

RATE = 6.0
SEEDS = st.integers(0, 2**32)
amounts = st.floats(0.0, 500.0).map(lambda amount: round(amount, 2))
prices_given = st.builds(
    lambda source, values: some_prices(source, **values),
    st.sampled_from(PriceSource),
    st.dictionaries(st.sampled_from(PRICE_ITEMS), amounts, max_size=8),
)
bills_now = st.dictionaries(st.sampled_from(PRICE_ITEMS), amounts, max_size=6)


def priced(situation, plans, effects=None, *, years=8, trials=60, seed=1, draws=None, rate=RATE):
    draws = draws or draw(situation, years=years, trials=trials, seed=seed)
    counts = run_trials(plans, situation, effects, draws, years=draws.years, discount_percent=rate)
    return counts, price_options(plans, counts, some_bills(situation), situation.prices, draws)


def without_leaks(situation, **changes):
    draws = draw(situation, **({"years": 8, "trials": 30, "seed": 1} | changes))
    none = np.zeros_like(draws.joint_leaks_per_year)
    return dataclasses.replace(draws.with_more_leaks(0.0), joint_leaks_per_year=none)


@given(boiler=boilers(), seed=SEEDS, prices=prices_given, now=bills_now)
def test_the_present_value_is_that_of_the_flows_and_of_the_trials_at_stated_prices(
    boiler, seed, prices, now
):
    situation = dataclasses.replace(boiler.situation, prices=prices)
    plans = tuple(dataclasses.replace(plan, bill_now=now) for plan in boiler.plans)
    counts, found = priced(situation, plans, boiler.effects, seed=seed, trials=20)
    bills = some_bills(situation)
    for option, plan in enumerate(plans):
        money = found.money[plan.key]
        assert money.present_value == pytest.approx(float(npf.npv(RATE / 100, money.flows)))
        assert money.cost_now == money.flows[0] == pytest.approx(prices.money(now))
        in_trials = prices.money(now) + sum(
            prices.money(bills[kind]) * counts.discounted[option, place].mean()
            for place, kind in enumerate(counts.kinds)
        )
        assert money.present_value == pytest.approx(in_trials, rel=1e-9)
        by_item = np.array(list(money.flows_by_item.values()) or [np.zeros(9)])
        assert by_item.sum(axis=0) == pytest.approx(money.flows, rel=1e-9)
        assert len(money.flows) == len(money.leaks) == len(money.joint_leaks) == 9
        assert money.leaks[0] == money.joint_leaks[0] == money.forced_outages[0] == 0.0
        assert sum(money.leaks) == pytest.approx(counts.leaks[option].mean())
        stops = counts.mean_of("leak")[option] + counts.mean_of("joint-leak")[option]
        assert money.forced_outages[1:] == pytest.approx(stops)
        leaking = np.array(money.leaks) + np.array(money.joint_leaks)
        assert (np.array(money.forced_outages) <= leaking + 1e-9).all()
        middle = np.median(found.present_values[option])
        assert money.p10 <= middle <= money.p90
        assert money.leaks_p10 <= np.median(counts.leaks[option]) <= money.leaks_p90


@given(boiler=boilers(), seed=SEEDS, prices=prices_given)
@settings(max_examples=25)
def test_each_trial_is_priced_at_its_own_prices(boiler, seed, prices):
    situation = dataclasses.replace(boiler.situation, prices=prices)
    draws = draw(situation, years=4, trials=3, seed=seed)
    plans = tuple(
        dataclasses.replace(plan, bill_now={"tube_each": 7.0, "labour_per_hour": 2.0})
        for plan in boiler.plans
    )
    counts, found = priced(situation, plans, boiler.effects, draws=draws)
    bills = some_bills(situation) | {"now": plans[0].bill_now}
    for trial in range(3):
        factors = dict(zip(PRICE_ITEMS, draws.price_factors[:, trial].tolist(), strict=True))
        money = {
            kind: math.fsum(n * prices.value(name) * factors[name] for name, n in bill.items())
            for kind, bill in bills.items()
        }
        for option in range(len(plans)):
            expected = money["now"] + math.fsum(
                money[kind] * counts.discounted[option, place, trial]
                for place, kind in enumerate(counts.kinds)
            )
            assert found.present_values[option, trial] == pytest.approx(expected, rel=1e-9)


def test_where_every_price_is_quoted_the_mean_of_the_trials_is_the_present_value():
    situation = a_situation(a_pass(bad=3), prices=some_prices(PriceSource.QUOTED))
    _, found = priced(situation, (a_plan(bill_now={"tube_each": 3.0}),))
    money = found.money["plug-bad"]
    assert found.present_values[0].mean() == pytest.approx(money.present_value, rel=1e-12)
    assert money.p10 < money.p90  # of chance alone


def test_a_price_that_is_not_sure_widens_the_range_and_not_the_middle():
    def money_of(source):
        situation = a_situation(prices=some_prices(source))
        plan = a_plan("retube-all", retube=frozenset({2}), bill_now={"tube_each": 1000.0})
        _, found = priced(situation, (plan,), draws=without_leaks(situation, trials=4000))
        return found.money["retube-all"]

    quoted, owner, assumed = (money_of(source) for source in PriceSource)
    assert quoted.p10 == quoted.p90 == quoted.present_value == pytest.approx(100_000.0)
    for money, spread in ((owner, 0.1), (assumed, 0.3)):
        assert money.present_value == quoted.present_value
        assert money.p10 == pytest.approx(100_000.0 * (1 - 0.8 * spread), rel=0.01)
        assert money.p90 == pytest.approx(100_000.0 * (1 + 0.8 * spread), rel=0.01)


@given(boiler=boilers(), now=st.lists(bills_now, min_size=6, max_size=6), seed=SEEDS)
@settings(max_examples=40)
def test_without_failures_fuel_shortfall_and_later_work_the_cheapest_work_wins(boiler, now, seed):
    """Nothing is due, no pass is beyond a level: only this outage costs."""
    passes = [
        dataclasses.replace(each, due_weak=(), due_other=()) for each in boiler.situation.passes
    ]
    situation = dataclasses.replace(
        boiler.situation,
        passes=tuple(passes),
        out_of_service_act={},
        prices=some_prices(fuel_per_gj=0.0, capacity_per_mwh=0.0),
        needed_output_kw=None,
    )
    plans = tuple(
        dataclasses.replace(plan, bill_now=bill, retube_in_year={})
        for plan, bill in zip(boiler.plans, now, strict=False)
    )
    draws = without_leaks(situation, seed=seed)
    _, found = priced(situation, plans, boiler.effects, draws=draws)
    for plan in plans:
        money = found.money[plan.key]
        assert money.present_value == money.cost_now
        assert money.flows[1:] == (0.0,) * 8
        assert money.planned is None
    values = [found.money[plan.key].present_value for plan in plans]
    work = [situation.prices.money(plan.bill_now) for plan in plans]
    assert values == pytest.approx(work)
    assert values.index(min(values)) in [
        place for place, each in enumerate(work) if each <= min(work) * (1 + 1e-12)
    ]


def few_losses(**changes):
    """So few of so many tubes that none of a sort runs out."""
    return st.builds(
        a_risk,
        losses=st.integers(0, 4),
        window_years=st.floats(8.0, 30.0),
        shape=st.floats(0.8, 2.0),
        is_growth_known=st.booleans(),
        seen_losses=st.integers(0, 3),
        **changes,
    )


@given(
    risk=few_losses(),
    weak=st.integers(20, 40),
    factor=st.floats(1.1, 3.0),
    seed=SEEDS,
)
@settings(max_examples=40)
def test_more_leaks_are_never_cheaper_where_no_pass_is_retubed(risk, weak, factor, seed):
    situation = a_situation(a_pass(2, 400, bad=5, weak=weak, risk=risk))
    bad = all_of(situation, "bad")
    plans = (a_plan(plug=bad), a_plan("replace-bad", replace=bad))
    draws = draw(situation, years=10, trials=200, seed=seed)
    effects = some_effects(2)
    _, few = priced(situation, plans, effects, draws=draws)
    _, many = priced(situation, plans, effects, draws=draws.with_more_leaks(factor))
    for plan in plans:
        fewer, more = few.money[plan.key], many.money[plan.key]
        assert sum(more.leaks) >= sum(fewer.leaks)
        assert more.present_value >= fewer.present_value


@given(
    risk=few_losses(),
    weak=st.integers(1, 40),
    fuel=st.floats(0.0, 50.0),
    dearer=st.floats(0.1, 50.0),
    are_leaks=st.booleans(),
    seed=SEEDS,
)
@settings(max_examples=60)
def test_dearer_fuel_never_favours_more_plugs(risk, weak, fuel, dearer, are_leaks, seed):
    situation = a_situation(
        a_pass(2, 400, bad=5, weak=weak, risk=risk), a_pass(3, 300, bad=2, risk=risk)
    )
    bad, weak_tubes = all_of(situation, "bad"), all_of(situation, "weak")
    plans = (
        a_plan("replace-bad-and-weak", replace=bad | weak_tubes),
        a_plan("replace-bad", replace=bad),
        a_plan("plug-bad", plug=bad),
        a_plan("plug-bad-and-weak", plug=bad | weak_tubes),
    )
    draws = (
        draw(situation, years=8, trials=200, seed=seed)
        if are_leaks
        else without_leaks(situation, seed=seed)
    )
    _, found = priced(situation, plans, some_effects(2, 3), draws=draws)
    fuel_of = {"fuel_per_gj": fuel / 100.0}, {"fuel_per_gj": (fuel + dearer) / 100.0}
    before, after = (found.quantities.present_values(price_factors=each) for each in fuel_of)
    # In the order of more plugs; without leaks the first two have as many.
    keys = [plan.key for plan in plans]
    pairs = [("replace-bad", "plug-bad"), ("replace-bad", "plug-bad-and-weak")]
    pairs += [("replace-bad-and-weak", "plug-bad-and-weak"), ("plug-bad", "plug-bad-and-weak")]
    for fewer, more in pairs:
        assert keys.index(fewer) < keys.index(more)
        moved = (after[more] - after[fewer]) - (before[more] - before[fewer])
        assert moved >= 0.0, (fewer, more)


@given(
    boiler=boilers(),
    seed=SEEDS,
    factors=st.dictionaries(st.sampled_from(PRICE_ITEMS), st.floats(0.0, 4.0)),
    rate=st.floats(-5.0, 40.0),
)
@settings(max_examples=40)
def test_other_prices_and_rates_need_no_new_run(boiler, seed, factors, rate):
    situation = boiler.situation
    draws = draw(situation, years=6, trials=15, seed=seed)
    plans = tuple(
        dataclasses.replace(plan, bill_now={"plug_each": 4.0, "cleaning": 1.0})
        for plan in boiler.plans
    )
    counts, found = priced(situation, plans, boiler.effects, draws=draws)
    quick = found.quantities.present_values(price_factors=factors, discount_percent=rate)
    prices = {name: 100.0 * factors.get(name, 1.0) for name in PRICE_ITEMS}
    again = dataclasses.replace(situation, prices=some_prices(**prices))
    anew = run_trials(plans, situation, boiler.effects, draws, years=6, discount_percent=rate)
    slow = price_options(plans, anew, some_bills(situation), again.prices, draws)
    assert list(quick) == list(counts.keys)
    for key, value in quick.items():
        assert value == pytest.approx(slow.money[key].present_value, rel=1e-9, abs=1e-9)


def test_a_shorter_horizon_leaves_out_later_years_and_retubes_in_its_last_two():
    situation = a_situation(
        a_pass(2, 50, plugged=3, due_other=(1.0, 1.1)), out_of_service_act={2: 10.0}
    )
    draws = draw(situation, years=8, trials=3, seed=1, leak_factor=0.0)
    counts, found = priced(situation, (a_plan(),), None, draws=draws)
    assert counts.mean_of("retube-2")[0].tolist()[:3] == [0.0, 1.0, 0.0]
    money = found.money["plug-bad"]
    bills = some_bills(situation)
    outage = situation.prices.money(bills["retube-outage"])
    retube = outage + situation.prices.money(bills["retube-2"])

    def cut(years):
        return found.quantities.present_values(horizon_years=years, discount_percent=0.0)[
            "plug-bad"
        ]

    assert retube > outage > 0.0
    assert cut(4) == pytest.approx(sum(money.flows[:5]))
    assert cut(3) == pytest.approx(sum(money.flows[:4]) - retube)
    assert cut(2) == pytest.approx(sum(money.flows[:3]) - retube)
    assert cut(1) == pytest.approx(sum(money.flows[:2]))


@pytest.mark.parametrize("years", [3, 4, 5])
def test_a_retube_that_the_plan_says_is_paid_at_a_shorter_horizon_too(years):
    """New tubes that are put in are never had for nothing, however soon the boiler goes."""
    situation = a_situation(a_pass(2, 50))
    plans = (a_plan("plug-then-retube", retube_in_year={2: 3}),)
    _, found = priced(situation, plans, draws=without_leaks(situation), rate=0.0)
    _, anew = priced(situation, plans, draws=without_leaks(situation, years=years), rate=0.0)
    cut = found.quantities.present_values(horizon_years=years)["plug-then-retube"]
    # 50 tubes and 150 h; 8 h, freight and inspector of the outage. Every price is 100.
    assert cut == pytest.approx(20_000 + 1000)
    assert cut == pytest.approx(anew.money["plug-then-retube"].present_value)


def test_passes_retubed_at_one_outage_pay_what_they_share_once():
    situation = a_situation(a_pass(2), a_pass(3))
    plans = (
        a_plan("together", retube_in_year={2: 3, 3: 3}),
        a_plan("apart", retube_in_year={2: 3, 3: 4}),
    )
    _, found = priced(situation, plans, draws=without_leaks(situation), rate=0.0)
    together, apart = (found.money[plan.key].flows for plan in plans)
    # 100 tubes and 300 h a pass; 8 h, freight and inspector an outage. Every price is 100.
    assert together == pytest.approx((0, 0, 0, 2 * 40_000 + 1000, 0, 0, 0, 0, 0))
    assert apart == pytest.approx((0, 0, 0, 41_000, 41_000, 0, 0, 0, 0))


def test_as_stated_the_quick_present_values_are_those_of_the_money():
    situation = a_situation(a_pass(bad=2))
    _, found = priced(situation, (a_plan(), a_plan("other", bill_now={"inspector": 2.0})))
    for key, value in found.quantities.present_values().items():
        assert value == pytest.approx(found.money[key].present_value, rel=1e-12)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"discount_percent": -100.0}, r"discount_percent is -100\.0, but must be above -100"),
        ({"horizon_years": 9}, "horizon_years is 9, but must be from 0 to the 8 that were run"),
        ({"horizon_years": -1}, "horizon_years is -1, but must be from 0"),
    ],
)
def test_what_cannot_be_priced_again_is_refused(changes, words):
    _, found = priced(a_situation(), (a_plan(),))
    with pytest.raises(OutOfRange, match=words):
        found.quantities.present_values(**changes)


def test_a_missing_price_counts_as_nothing():
    situation = a_situation(prices=some_prices())
    items = {name: price for name, price in situation.prices.items.items() if name != "inspector"}
    prices = dataclasses.replace(situation.prices, items=items)
    draws = without_leaks(situation)
    plans = (a_plan(bill_now={"inspector": 3.0, "cleaning": 1.0}),)
    counts = run_trials(plans, situation, None, draws, years=2, discount_percent=RATE)
    quantities = expected_quantities(plans, counts, some_bills(situation), prices)
    assert quantities.present_values() == {"plug-bad": pytest.approx(100.0)}


def test_the_next_planned_work_is_the_first_retube_in_the_middle_of_the_trials():
    situation = a_situation(
        a_pass(2, 100, risk=a_risk(losses=8)), a_pass(3, 100), out_of_service_act={2: 5.0, 3: 9.0}
    )
    plans = (a_plan("run-on"), a_plan("later", retube_in_year={3: 2}))
    counts, found = priced(situation, plans, years=12, trials=400)
    planned = found.money["run-on"].planned
    years = counts.first_retube_year[0]
    assert planned.words == "retube pass 2"
    assert planned.chance == pytest.approx(np.isfinite(years).mean())
    assert planned.year == np.median(years[np.isfinite(years)])
    assert 3.0 < planned.year < 12.0
    later = found.money["later"].planned
    assert (later.words, later.year, later.chance) == ("retube pass 3", 2.0, 1.0)


def test_planned_work_that_most_trials_never_see_has_no_year():
    situation = a_situation(a_pass(2, 100, risk=a_risk(losses=2)), out_of_service_act={2: 4.0})
    _, found = priced(situation, (a_plan(),), years=10, trials=400)
    planned = found.money["plug-bad"].planned
    assert planned.year is None
    assert 0.0 < planned.chance < 0.5
