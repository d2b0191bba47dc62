"""Options that retube: which passes, when, how long the outage waits, and what it takes by hand.

Not here: the other options, and what holds of every option (``test_options``).
"""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.decision.options.every_option import plans_of
from model.decision.options.retube_options import first_outage_with_tubes, worst_passes
from model.decision.trials.planned_outages import planned_outage_years
from tests.model.decision.situation_cases import a_pass, a_situation, holes, situations

WORN = a_situation(
    a_pass(2, bad=(1, 2)),
    a_pass(3, ends="rolled-beaded", bad=(1,), joints={5: 2}),
    out_of_service_act={2: 15.0, 3: 15.0},
)


def plan_of(situation, key):
    return next(each for each in plans_of(situation) if each.key == key)


# ------------------------------------------------------------------ the passes beside it


def beside(situation, key, wide_with, closing=frozenset()):
    """The option, where plugging beside these retubed passes leaves a place too wide."""
    plans = plans_of(
        situation, closing=closing, is_too_wide_beside=lambda retubed: retubed == wide_with
    )
    return next(each for each in plans if each.key == key)


def test_beside_a_retube_the_bad_tubes_of_other_passes_are_replaced_where_plugs_would_not_do():
    plugged = replace(WORN, passes=(a_pass(2, plugged=(7,), bad=(1, 2)), WORN.passes[1]))
    closes = holes(2, 7)
    plan = beside(plugged, "retube-pass-3", {3}, closes)
    assert (plan.plug, plan.replace) == (frozenset(), holes(2, 1, 2, 7))
    assert "replace the 2 bad tubes and 1 plugged tube, so that no place" in plan.words
    # Where plugs do, they are taken; what closes a place of the retubed pass is new anyway.
    other = beside(plugged, "retube-pass-2", {3}, closes)
    assert (other.plug, other.replace) == (holes(3, 1), frozenset())
    both = beside(plugged, "retube-pass-2", {2}, closes)
    assert (both.plug, both.replace) == (frozenset(), holes(3, 1))


# ------------------------------------------------------------------ which pass is the worst


def test_every_pass_beyond_its_limit_is_among_the_worst():
    situation = a_situation(
        a_pass(2, plugged=(1,), bad=(2,)), a_pass(3, plugged=(1,)), a_pass(4, plugged=(1, 2, 3)),
        out_of_service_act={2: 15.0, 3: 15.0, 4: 15.0},
    )  # fmt: skip
    assert worst_passes(situation) == (2, 4)


def test_a_pass_exactly_at_its_limit_is_not_beyond_it():
    situation = a_situation(
        a_pass(2, plugged=(1, 2)), a_pass(3, plugged=(1,)), out_of_service_act={2: 20.0, 3: 9.9}
    )
    assert worst_passes(situation) == (3,)


@pytest.mark.parametrize("act", [None, 50.0])
def test_where_no_pass_is_beyond_the_one_with_most_out_of_service_is_the_worst(act):
    situation = a_situation(
        a_pass(2, plugged=(1,)), a_pass(3, bad=(1, 2)), out_of_service_act={2: act, 3: act}
    )
    assert worst_passes(situation) == (3,)


def test_of_equal_passes_the_one_with_more_weak_tubes_then_the_first():
    assert worst_passes(a_situation(a_pass(2), a_pass(3, weak=(1,)))) == (3,)
    assert worst_passes(a_situation(a_pass(2), a_pass(3))) == (2,)


# ------------------------------------------------------------------ the planned outage


@pytest.mark.parametrize(
    ("to_outage", "interval", "lead_weeks", "year"),
    [
        (0.8, 1.0, 4.0, 1),
        (0.8, 1.0, 41.0, 1),  # 0.786 years
        (0.8, 1.0, 42.0, 2),  # 0.805 years: the outage of 1.8
        (0.0, 1.0, 0.0, 1),
        (1.0, 1.0, 0.0, 1),
        (1.0, 1.0, 365.25 / 7.0, 2),  # on the day itself is too late
        (1.5, 2.0, 4.0, 2),
        (1.5, 2.0, 80.0, 4),  # 1.53 years: the outage of 3.5
        (-3.0, 1.0, 4.0, 1),  # long overdue: the next one that tubes can make, at 1.0
        (None, 3.0, 4.0, 3),
        (0.8, 1.0, None, 1),
    ],
)
def test_the_tubes_go_in_at_the_first_planned_outage_that_they_can_make(
    to_outage, interval, lead_weeks, year
):
    situation = a_situation(
        a_pass(), years_to_outage=to_outage, interval_years=interval, tube_lead_weeks=lead_weeks
    )
    assert first_outage_with_tubes(situation) == year


@given(st.none() | st.floats(-3.0, 6.0), st.floats(0.2, 5.0), st.none() | st.floats(0.0, 300.0))
def test_that_year_is_one_in_which_a_planned_outage_falls(to_outage, interval, lead_weeks):
    situation = a_situation(
        a_pass(), years_to_outage=to_outage, interval_years=interval, tube_lead_weeks=lead_weeks
    )
    year = first_outage_with_tubes(situation)
    assert year in planned_outage_years(
        years_to_outage=to_outage, interval_years=interval, years=40
    )
    assert year >= (lead_weeks or 0.0) * 7.0 / 365.25 - 0.02


def test_plugging_now_and_retubing_later_costs_now_what_plugging_costs():
    plan, plugged = plan_of(WORN, "plug-then-retube"), plan_of(WORN, "plug-bad")
    assert (plan.bill_now, plan.days_now, plan.waits_days) == (
        plugged.bill_now, plugged.days_now, 0.0,
    )  # fmt: skip
    assert (plan.plug, plan.retube, dict(plan.retube_in_year)) == (
        plugged.plug, frozenset(), {2: 1},
    )  # fmt: skip
    assert plan.words == (
        "Plug the 3 bad tubes, re-roll 2 joints; then retube pass 2 (10 tubes) at the planned "
        "outage of year 1."
    )


def test_what_is_not_stated_of_the_outage_is_said():
    plan = plan_of(
        a_situation(a_pass(), years_to_outage=None, tube_lead_weeks=None), "plug-then-retube"
    )
    assert plan.assumptions == (
        "Not stated: the day of the next planned outage and how long tubes take to come. The "
        "retube is taken to fall in year 1.",
    )
    assert plan.words == (
        "Do nothing to the tubes now; then retube pass 2 (10 tubes) at the planned outage of "
        "year 1."
    )


# ------------------------------------------------------------------ retubed now


def test_a_retubed_pass_takes_all_its_tubes_and_the_outage_waits_for_them():
    plan = plan_of(WORN, "retube-pass-2")
    assert (plan.retube, plan.plug, plan.replace) == (frozenset({2}), holes(3, 1), frozenset())
    assert plan.words == "Retube pass 2 (10 tubes), plug the bad tube, re-roll 2 joints."
    # 10 h set-up, 10 tubes of 2 h, 2 plugs of 0.5 h, 2 joints of 0.25 h; no neighbours.
    # 21.5 h at 2.5 h a tube, 10 days for 100: 0.86 days, and 4 weeks of waiting.
    assert plan.bill_now == pytest.approx(
        {
            "labour_per_hour": 31.5,
            "tube_each": 10,
            "plug_each": 2,
            "freight": 1,
            "open_and_close": 1,
            "doors_and_refractory": 1,
            "cleaning": 1,
            "pressure_test": 1,
            "inspector": 1,
            "mobilisation": 1,
            "outage_per_day": 28.86,
        }
    )
    assert (plan.days_now, plan.waits_days) == (pytest.approx(0.86), 28.0)
    # 3150 + 800 + 40 + 150 + 3000 + 28 860
    assert WORN.prices.money(plan.bill_now) == pytest.approx(36_000)


def test_a_retubed_boiler_has_no_plug_left():
    plan = plan_of(WORN, "retube-all")
    assert (plan.retube, plan.plug, dict(plan.re_roll)) == (frozenset({2, 3}), frozenset(), {})
    assert plan.words == "Retube passes 2 and 3 (20 tubes)."
    # 10 h set-up, 20 h and 30 h; 50 h at 2.5 h are 20 tubes: 2 days.
    assert plan.bill_now["labour_per_hour"] == pytest.approx(60)
    # 6000 + 1600 + 150 + 3000 + 30 000
    assert WORN.prices.money(plan.bill_now) == pytest.approx(40_750)


def test_where_the_lead_time_is_not_stated_a_usual_one_is_taken_and_that_is_said():
    """Without any waiting a retube would look cheap for want of a figure."""
    plan = plan_of(a_situation(a_pass(), tube_lead_weeks=None), "retube-pass-2")
    assert plan.waits_days == 56.0
    assert "How long tubes take to come is not stated: 8 weeks are taken (ours)." in (
        plan.assumptions
    )
    assert plan.bill_now["outage_per_day"] == pytest.approx(plan.days_now + 56.0)


def test_stay_tubes_of_the_other_passes_are_replaced_when_tubes_come_anyway():
    situation = a_situation(a_pass(2), a_pass(3, 30, bad=(1, 2), plugged=(3, 4), stays=(2, 3)))
    plan = plan_of(situation, "retube-pass-2")
    assert (plan.plug, plan.replace) == (holes(3, 1), holes(3, 2, 3))
    assert plan.words == (
        "Retube pass 2 (10 tubes), replace the 1 bad and 1 plugged tubes (2 of them stay tubes: "
        "not to be plugged), plug the bad tube."
    )
    assert not any("from stock" in each for each in plan.assumptions)
    # 10 + 10 x 2 + 2 x 2 h tubes, 2 plugs of 0.5 h, 24 neighbours of 0.25 h.
    assert plan.bill_now["labour_per_hour"] == pytest.approx(10 + 20 + 4 + 1 + 6)
    assert plan.bill_now["tube_each"] == 12


def test_a_renewed_sheet_takes_every_pass_that_ends_in_it():
    situation = a_situation(
        a_pass(2), a_pass(3, bad=(1,)),
        sheets_to_renew=("chamber",), passes_of_sheet={"chamber": (2,)},
    )  # fmt: skip
    plan = plan_of(situation, "renew-sheet")
    assert (plan.renew_sheets, plan.retube, plan.plug) == (
        ("chamber",), frozenset({2}), holes(3, 1),
    )  # fmt: skip
    assert plan.words == (
        "Renew the chamber tube sheet, retube pass 2 (10 tubes), plug the bad tube."
    )
    # As the retube of pass 2 with one bad tube elsewhere: 10 + 20 + 1 h, 21 h at 2 h a tube.
    # 3100 + 800 + 40 + 150 + 3000 + (28 + 1.05) x 1000, and the sheet.
    assert situation.prices.money(plan.bill_now) == pytest.approx(36_140 + 40_000)
    assert any("How long the sheet itself takes" in each for each in plan.assumptions)


def test_several_sheets_are_renewed_together():
    situation = a_situation(
        a_pass(2), a_pass(3), a_pass(4), sheets_to_renew=("front", "rear"),
        passes_of_sheet={"front": (2, 3), "rear": (3,)},
    )  # fmt: skip
    plan = plan_of(situation, "renew-sheet")
    assert (plan.retube, plan.bill_now["sheet_renewal"]) == (frozenset({2, 3}), 2)
    assert plan.words.startswith("Renew the front and rear tube sheets, retube passes 2 and 3 (20")


def test_a_sheet_in_which_no_pass_is_known_to_end_takes_its_price_and_a_set_up():
    plan = plan_of(a_situation(a_pass(2), sheets_to_renew=("odd",)), "renew-sheet")
    assert plan.retube == frozenset()
    # 10 h, what is shared, the sheet.
    assert a_situation(a_pass()).prices.money(plan.bill_now) == pytest.approx(1000 + 3000 + 40_000)


def test_a_rented_boiler_bridges_whole_weeks_and_the_outage_costs_nothing_meanwhile():
    plan = plan_of(WORN, "rental")
    retubed = plan_of(WORN, "retube-pass-2")
    assert (plan.retube, plan.plug, plan.days_now, plan.waits_days) == (
        retubed.retube, retubed.plug, retubed.days_now, 28.0,
    )  # fmt: skip
    # 28.86 days are five weeks.
    assert plan.rental_weeks == 5.0
    assert plan.words == (
        "Rent a boiler for 5 weeks, retube pass 2 (10 tubes) as soon as tubes come, plug the bad "
        "tube, re-roll 2 joints."
    )
    assert "outage_per_day" not in plan.bill_now
    # What the retube takes but its days: 36 000 - 28 860; five weeks of 7000 and 9000.
    assert WORN.prices.money(plan.bill_now) == pytest.approx(7140 + 35_000 + 9000)


def test_a_rental_whose_way_there_has_no_price_says_so():
    plan = plan_of(a_situation(a_pass(), without=("rental_mobilise",)), "rental")
    assert any("(rental_mobilise) is not given" in each for each in plan.assumptions)
    assert not any("not given" in each for each in plan_of(WORN, "rental").assumptions)


def test_at_least_a_week_is_rented():
    situation = a_situation(a_pass(), tube_lead_weeks=0.0, without=("days_per_100_tubes",))
    assert plan_of(situation, "rental").rental_weeks == 1.0


@given(situations())
def test_a_rental_lasts_until_the_work_is_done_and_less_than_a_week_more(situation):
    plan = plan_of(situation, "rental")
    spare_days = 7.0 * plan.rental_weeks - plan.days_now - plan.waits_days
    assert -1e-9 < spare_days < 7.0 + 1e-9


@given(situations())
def test_the_worst_passes_are_passes_of_the_boiler_and_the_same_in_both_options(situation):
    passes = worst_passes(situation)
    assert passes
    assert set(passes) <= {each.pass_ for each in situation.passes}
    assert set(plan_of(situation, "plug-then-retube").retube_in_year) == set(passes)
    assert plan_of(situation, "rental").retube == set(passes)
