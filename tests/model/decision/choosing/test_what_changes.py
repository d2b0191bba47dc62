"""What would change a choice, and what moves its margin, on situations reckoned in the head."""

from dataclasses import replace

import pytest

from model.decision.advice import OptionResult
from model.decision.choosing.break_even import find_crossing
from model.decision.choosing.choice import choose
from model.decision.choosing.what_changes import (
    COARSE,
    DISCOUNT,
    FUEL_PRICE,
    FURTHER_LEAKS,
    LABOUR,
    LEAK_STEPS,
    LONGEST_YEARS,
    OUTAGE_COST,
    PLANNED_DAY,
    RENTAL_PRICE,
    TRIALS_AGAIN,
    YEARS_TO_REPLACEMENT,
    what_changes,
)
from model.decision.choosing.what_matters import drivers, measure_next
from model.decision.money.priced_options import priced_options
from model.decision.options.every_option import plans_of
from model.decision.prices import Price, PriceSource
from tests.model.decision.situation_cases import RISK, a_pass, a_situation

LEAKY = replace(
    RISK, losses=12, window_years=8.0, shape=2.0, is_growth_known=True, joint_window_years=8.0
)
SITUATION = a_situation(a_pass(tubes=60, bad=(1, 2), risk=LEAKY), without=("fuel_per_gj",))


def _unjudged(plan):
    return OptionResult(
        plan=plan,
        ruled_out=None,
        waits_for=frozenset(),
        money=None,
        limits=(),
        gas=None,
        hours=0.0,
        days=0.0,
    )


def _priced(situation, keys, trials=800, years=10):
    """The options named, as if no gate stood before them, and what is chosen of them."""
    options = [_unjudged(plan) for plan in plans_of(situation) if plan.key in keys]
    priced = priced_options(options, situation, None, years=years, trials=trials, seed=7)
    return priced, choose(priced.options)


PRICED, CHOICE = _priced(SITUATION, {"plug-bad", "retube-pass-2", "new-boiler"})


@pytest.fixture(scope="module")
def by_name():
    found = what_changes(PRICED, PRICED.options, CHOICE.option.plan.key)
    return {each.name: each for each in found}


def test_every_input_that_the_options_take_anything_of_is_looked_at(by_name):
    """Without a gas side no fuel is counted, so nothing is said of its price."""
    assert by_name.keys() == {
        OUTAGE_COST,
        PLANNED_DAY,
        LABOUR,
        DISCOUNT,
        FURTHER_LEAKS,
        YEARS_TO_REPLACEMENT,
    }
    rented, choice = _priced(SITUATION, {"rental", "retube-pass-2"}, 200)
    names = [each.name for each in what_changes(rented, rented.options, choice.option.plan.key)]
    assert RENTAL_PRICE in names
    assert FUEL_PRICE not in names


def test_at_a_break_even_of_a_price_the_two_options_cost_the_same(by_name):
    found = by_name[OUTAGE_COST]
    value, option = (
        (found.below, found.below_option)
        if found.above is None
        else (found.above, found.above_option)
    )
    assert value is not None
    factor = value / found.now
    costs = PRICED.money.quantities.present_values(price_factors={"forced_outage_per_day": factor})
    choice = CHOICE.option.plan.key
    assert costs[option] == pytest.approx(costs[choice], rel=1e-3)
    assert option != choice


def test_a_range_holds_the_present_value_and_a_change_lies_within_it(by_name):
    for each in by_name.values():
        assert each.low <= each.now <= each.high
        assert each.below is None or each.low <= each.below < each.now
        assert each.above is None or each.now < each.above <= each.high
        assert (each.below is None) == (each.below_option is None)
        assert (each.above is None) == (each.above_option is None)


def test_nobody_retubes_for_the_last_two_years(by_name):
    """With two years left plugging is never dearer than new tubes: none are put in later."""
    two = PRICED.money.quantities.present_values(horizon_years=2)
    assert two["plug-bad"] < two["retube-pass-2"] < two["new-boiler"]
    assert by_name[YEARS_TO_REPLACEMENT].high == LONGEST_YEARS


def test_more_and_more_leaks_make_new_tubes_win():
    quiet = a_situation(
        a_pass(tubes=60, bad=(1,), risk=replace(LEAKY, losses=1, window_years=30.0)),
        tube_lead_weeks=0.0,
    )
    priced, choice = _priced(quiet, {"plug-bad", "retube-pass-2"})
    assert choice.option.plan.key == "plug-bad"
    busy = replace(LEAKY, losses=60, window_years=10.0, shape=3.0)
    assert (
        _priced(
            a_situation(a_pass(tubes=60, bad=(1,), risk=busy), tube_lead_weeks=0.0),
            {"plug-bad", "retube-pass-2"},
        )[1].option.plan.key
        == "retube-pass-2"
    )
    leaks = next(
        each
        for each in what_changes(priced, priced.options, "plug-bad")
        if each.name == FURTHER_LEAKS
    )
    assert leaks.below is None


@pytest.mark.parametrize("losses", [6, 12, 30])
def test_many_factors_on_the_leaks_at_once_give_what_each_by_itself_gives(losses):
    risk = replace(LEAKY, losses=losses, window_years=20.0)
    situation = a_situation(a_pass(tubes=60, bad=(1,), risk=risk), tube_lead_weeks=0.0)
    priced, choice = _priced(situation, {"plug-bad", "retube-pass-2"})
    chosen = choice.option.plan.key
    some = priced.draws.part(slice(0, TRIALS_AGAIN))

    def by_itself(factor):
        draws = some.with_more_leaks(factor)
        return priced.quantities_again(priced.options, draws, years=priced.years).present_values()

    stated, again = priced.money.quantities.present_values(), by_itself(1.0)

    def costs(factor):
        other = by_itself(factor)
        return {key: stated[key] + other[key] - again[key] for key in stated}

    found = next(
        each for each in what_changes(priced, priced.options, chosen) if each.name == FURTHER_LEAKS
    )
    given = {"choice": chosen, "now": 1.0, "grid_points": LEAK_STEPS, "tolerance": COARSE}
    below = find_crossing(costs, limit=found.low, **given)
    above = find_crossing(costs, limit=found.high, **given)
    assert below is not None or above is not None
    assert (found.below, found.below_option) == _said(below)
    assert (found.above, found.above_option) == _said(above)


def _said(crossing):
    return (None, None) if crossing is None else (crossing.value, crossing.option)


def test_the_widest_swing_stands_first_and_quoted_prices_do_not_swing():
    choice, runner_up = CHOICE.option.plan.key, CHOICE.runner_up.plan.key
    found = drivers(PRICED, choice, runner_up)
    swings = [abs(each.margin_high - each.margin_low) for each in found]
    assert found
    assert swings == sorted(swings, reverse=True)
    items = {
        name: Price(name=name, value=each.value, source=PriceSource.QUOTED)
        for name, each in SITUATION.prices.items.items()
    }
    quoted = replace(SITUATION, prices=replace(SITUATION.prices, items=items))
    priced, chosen = _priced(quoted, {"plug-bad", "retube-pass-2"})
    names = {
        each.name for each in drivers(priced, chosen.option.plan.key, chosen.runner_up.plan.key)
    }
    assert names <= {
        "discount",
        "tube leaks of pass 2",
        "how leaks of pass 2 grow with age",
        "joint leaks of pass 2",
        "leaks of pass 2 that fall on weak tubes",
    } | {name for name in names if "pass 2" in name}


def test_a_measurement_is_named_only_where_its_answer_could_change_the_choice():
    near = [each for each in PRICED.options if each.plan.key != "new-boiler"]
    alone = [each for each in PRICED.options if each.plan.key == CHOICE.option.plan.key]
    assert measure_next(PRICED, alone) == ()
    worths = [each.worth for each in measure_next(PRICED, near)]
    assert worths == sorted(worths, reverse=True)
    assert all(worth > 0.0 for worth in worths)


def test_the_same_seed_gives_the_same_money():
    again, _ = _priced(SITUATION, {"plug-bad", "retube-pass-2", "new-boiler"})
    assert [each.money for each in again.options] == [each.money for each in PRICED.options]
