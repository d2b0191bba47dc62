"""Which options a situation allows, what each does, and what it costs now, reckoned by hand.

Not here: options that retube (``test_retube_options``), what is ruled out (``test_gates``).
"""

import pytest
from hypothesis import given

from model.decision.options.every_option import plans_of
from model.decision.options.plan_making import FROM_STOCK, ORDERED
from model.decision.prices import BY_PRICE
from tests.model.decision.situation_cases import SHARED, a_pass, a_situation, holes, situations

ORDER = [
    "run-on", "re-roll", "plug-bad", "plug-bad-and-weak", "plug-then-retube", "replace-bad",
    "replace-bad-and-weak", "retube-pass-2", "retube-pass-3", "retube-pass-4", "retube-all",
    "renew-sheet", "reduced-output", "new-boiler", "rental", "find-out",
]  # fmt: skip
WORN = a_situation(
    a_pass(2, bad=(1, 2), weak=(3,)),
    a_pass(3, ends="rolled-beaded", bad=(1,), joints={5: 2}),
    sheets_to_renew=("front",),
    passes_of_sheet={"front": (2, 3)},
)
"""Three bad tubes of twenty, one weak, two leaking joints of one tube."""


def plans(situation):
    return {each.key: each for each in plans_of(situation)}


def test_every_option_has_its_place():
    assert list(plans(WORN)) == [key for key in ORDER if key != "retube-pass-4"]


def test_of_a_sound_boiler_with_one_pass_only_what_makes_sense_is_shown():
    assert list(plans(a_situation(a_pass()))) == [
        "run-on", "plug-then-retube", "retube-pass-2", "reduced-output", "new-boiler", "rental",
        "find-out",
    ]  # fmt: skip


def test_weak_tubes_alone_may_be_plugged_or_replaced():
    shown = plans(a_situation(a_pass(weak=(4,))))
    assert {"plug-bad", "replace-bad", "re-roll"}.isdisjoint(shown)
    assert shown["plug-bad-and-weak"].plug == holes(2, 4)
    assert shown["replace-bad-and-weak"].replace == holes(2, 4)


def test_a_boiler_of_which_no_tube_is_known_runs_on_or_is_replaced():
    empty = a_situation(a_pass(2, 0))
    assert {"run-on", "new-boiler"} <= set(plans(empty))
    assert "find-out" not in plans(empty)


# ------------------------------------------------------------------ what each does and costs


def test_running_on_does_nothing():
    plan = plans(WORN)["run-on"]
    assert (plan.plug, plan.replace, plan.retube, dict(plan.re_roll)) == (
        frozenset(), frozenset(), frozenset(), {},
    )  # fmt: skip
    assert (plan.bill_now, plan.days_now, plan.waits_days, plan.assumptions) == ({}, 0.0, 0.0, ())
    assert plan.words == "Run on: nothing is done to the tubes in this outage."


def test_re_rolling_deals_with_leaking_joints_alone():
    plan = plans(WORN)["re-roll"]
    assert (dict(plan.re_roll), plan.plug) == ({"3.05": 2}, frozenset())
    assert plan.words == "Re-roll 2 joints."
    # 10 h set-up and 0.5 h; 0.5 h at 2.5 h a tube, 10 days for 100 tubes: 0.02 days.
    assert plan.bill_now["labour_per_hour"] == pytest.approx(10.5)
    assert plan.days_now == pytest.approx(0.02)
    # 1050 + 3000 + 20
    assert WORN.prices.money(plan.bill_now) == pytest.approx(4070)


def test_plugging_the_bad_takes_two_plugs_a_tube():
    plan = plans(WORN)["plug-bad"]
    assert plan.plug == holes(2, 1, 2) | holes(3, 1)
    assert plan.words == "Plug the 3 bad tubes, re-roll 2 joints."
    # 10 h set-up, 6 plugs of 0.5 h, 2 re-rolls of 0.25 h; 3.5 h are 1.4 tubes: 0.14 days.
    assert plan.bill_now == pytest.approx(
        {
            "labour_per_hour": 13.5,
            "plug_each": 6,
            "open_and_close": 1,
            "doors_and_refractory": 1,
            "cleaning": 1,
            "pressure_test": 1,
            "inspector": 1,
            "mobilisation": 1,
            "outage_per_day": 0.14,
        }
    )
    # 1350 + 120 + 3000 + 140
    assert WORN.prices.money(plan.bill_now) == pytest.approx(4610)


def test_plugging_the_weak_too_takes_more_plugs_and_days():
    plan = plans(WORN)["plug-bad-and-weak"]
    assert plan.plug == holes(2, 1, 2, 3) | holes(3, 1)
    assert plan.words == "Plug the 3 bad and 1 weak tubes, re-roll 2 joints."
    # 4610 + 100 labour + 40 plugs + 40 for 0.04 days
    assert WORN.prices.money(plan.bill_now) == pytest.approx(4790)


def test_a_weak_tube_that_is_plugged_needs_no_re_roll():
    plan = plans(a_situation(a_pass(weak=(4,), joints={4: 2, 6: 1})))["plug-bad-and-weak"]
    assert dict(plan.re_roll) == {"2.06": 1}
    assert plan.words == "Plug the weak tube, re-roll 1 joint."


def test_replacing_the_bad_works_the_neighbours_loose():
    plan = plans(WORN)["replace-bad"]
    assert plan.replace == holes(2, 1, 2) | holes(3, 1)
    assert plan.words == "Replace the 3 bad tubes, re-roll 2 joints."
    # Tubes: 2 of 2 h and 1 of 3 h. Neighbours: pass 2 has 8 tubes left, so 16 ends and not 24;
    # pass 3 has 9, and 12 of its 16 sound ends. With the 2 that leak 30 ends of 0.25 h.
    assert plan.bill_now["labour_per_hour"] == pytest.approx(10 + 7 + 7.5)
    assert plan.days_now == pytest.approx(0.58)
    assert plan.bill_now["tube_each"] == 3
    assert {"freight", "plug_each"}.isdisjoint(plan.bill_now)
    # 2450 + 240 + 3000 + 580
    assert WORN.prices.money(plan.bill_now) == pytest.approx(6270)
    assert (
        "Beside each single tube replaced, 6 neighbours are re-rolled at both ends (ours)."
        in plan.assumptions
    )
    assert FROM_STOCK in plan.assumptions


@pytest.mark.parametrize(("bad", "is_order"), [(20, False), (21, True)])
def test_up_to_twenty_single_tubes_come_from_stock_and_more_are_ordered(bad, is_order):
    # Ten in one pass, the rest in the other.
    situation = a_situation(a_pass(2, 40, bad=range(1, bad - 9)), a_pass(3, 40, bad=range(1, 11)))
    plan = plans(situation)["replace-bad"]
    assert len(plan.replace) == bad
    assert (plan.waits_days, "freight" in plan.bill_now) == (28.0 if is_order else 0.0, is_order)
    assert plan.bill_now["outage_per_day"] == pytest.approx(plan.days_now + plan.waits_days)
    assert (ORDERED in plan.assumptions, FROM_STOCK in plan.assumptions) == (is_order, not is_order)
    assert FROM_STOCK.startswith("Up to 20 single tubes come from stock: no waiting and no freight")


def test_where_the_lead_time_of_many_single_tubes_is_not_stated_that_is_said():
    situation = a_situation(a_pass(2, 40, bad=range(1, 22)), tube_lead_weeks=None)
    plan = plans(situation)["replace-bad"]
    assert plan.waits_days == 56.0
    assert "How long tubes take to come is not stated: 8 weeks are taken (ours)." in (
        plan.assumptions
    )
    assert plan.bill_now["freight"] == 1.0


def test_stay_tubes_are_replaced_and_never_plugged_and_a_plugged_one_is_an_answer_too():
    situation = a_situation(a_pass(2, 30, bad=(1, 2), stays=(2, 9), plugged=(9,)))
    shown = plans(situation)
    assert shown["replace-bad"].replace == holes(2, 1, 2, 9)
    assert shown["replace-bad"].words == (
        "Replace the 2 bad and 1 plugged tubes (2 of them stay tubes: not to be plugged)."
    )
    assert shown["plug-bad"].words == (
        "Plug the 2 bad tubes (1 of them a stay tube: refer to an engineer)."
    )
    only = plans(a_situation(a_pass(2, 30, stays=(9,), plugged=(9,))))["replace-bad"]
    assert only.words == "Replace the plugged tube (a stay tube: not to be plugged)."


def test_a_weak_stay_tube_stays_in_service_when_the_weak_are_plugged():
    plan = plans(a_situation(a_pass(weak=(3, 4), stays=(4,))))["plug-bad-and-weak"]
    assert plan.plug == holes(2, 3)
    assert plan.assumptions[-1].startswith("Weak stay tubes stay in service")
    assert "plug-bad-and-weak" not in plans(a_situation(a_pass(weak=(4,), stays=(4,))))


def test_reduced_output_is_plugging_and_running_lower():
    shown = plans(WORN)
    plan, plugged = shown["reduced-output"], shown["plug-bad"]
    assert (plan.plug, plan.bill_now, plan.days_now) == (
        plugged.plug, plugged.bill_now, plugged.days_now,
    )  # fmt: skip
    assert plan.words == (
        "Plug the 3 bad tubes, re-roll 2 joints; then run below the output needed."
    )
    idle = plans(a_situation(a_pass()))["reduced-output"]
    assert (idle.words, idle.bill_now) == (
        "Do nothing to the tubes now; then run below the output needed.", {},
    )  # fmt: skip


def test_a_new_boiler_is_its_price_and_no_other_work_and_waits_no_less_than_a_retube():
    """Had for no outage at all it would win where days are dear."""
    plan = plans(WORN)["new-boiler"]
    bill = {"new_boiler": 1.0, "outage_per_day": 28.0}
    assert (plan.bill_now, plan.days_now, plan.waits_days) == (bill, 0.0, 28.0)
    assert (plan.words, plan.is_new_boiler, dict(plan.re_roll)) == (
        "Replace the boiler.", True, {},
    )  # fmt: skip
    assert WORN.prices.money(plan.bill_now) == 250_000 + 28 * 1000
    assert plan.assumptions == (
        "How long the boiler is missing while it is replaced is stated by nobody: it is taken to "
        "come no sooner than tubes (ours), and no day of exchange is counted.",
    )


def test_finding_out_pulls_a_tube_of_each_pass_and_takes_a_second_visit():
    plan = plans(WORN)["find-out"]
    assert plan.plug == holes(2, 1, 2) | holes(3, 1)
    # The weak tube of pass 2; of pass 3 the first that neither leaks nor is bad.
    assert plan.replace == holes(2, 3) | holes(3, 2)
    assert plan.words == (
        "Find out more first: pull one tube of each pass and put a new one in its place (2 tubes), "
        "plug the 3 bad tubes, re-roll 2 joints."
    )
    # Set-up twice; tubes of 2 and 3 h; 6 plugs; 2 joints and 12 + 12 neighbours of 0.25 h.
    # (Pass 2 keeps 7 open tubes with 14 ends, pass 3 8 with 16, 2 of which leak.)
    assert plan.bill_now["labour_per_hour"] == pytest.approx(20 + 5 + 3 + 0.5 + 6)
    assert plan.bill_now["inspector"] == 2
    assert plan.days_now == pytest.approx(0.58)
    # 3450 + 160 + 120 + 3000 + 400 + 580
    assert WORN.prices.money(plan.bill_now) == pytest.approx(3450 + 160 + 120 + SHARED + 400 + 580)


def test_a_stay_tube_or_a_leaking_one_is_pulled_only_where_no_other_is_left():
    def pulled(**more):
        return plans(a_situation(a_pass(2, 4, **more)))["find-out"].replace

    assert pulled(plugged=(1,), stays=(2,), joints={3: 1}) == holes(2, 4)
    assert pulled(plugged=(1, 4), stays=(2,), joints={3: 1}) == holes(2, 2)
    assert pulled(weak=(3, 4), stays=(3,)) == holes(2, 4)


def test_finding_out_replaces_stay_tubes_since_tubes_are_there():
    plan = plans(a_situation(a_pass(2, 20, bad=(1, 2), stays=(2,))))["find-out"]
    assert (plan.plug, plan.replace) == (holes(2, 1), holes(2, 2, 3))


def test_ends_that_are_not_stated_take_the_mean_hours_and_say_so():
    plan = plans(a_situation(a_pass(2, 20, ends=None, bad=(1,))))["replace-bad"]
    # (2 + 3 + 4) / 3 h, 12 ends of 0.25 h, set-up.
    assert plan.bill_now["labour_per_hour"] == pytest.approx(10 + 3 + 3)
    assert any("those of pass 2 are made" in each for each in plan.assumptions)
    known = plans(a_situation(a_pass(2, 20, bad=(1,))))["replace-bad"]
    assert not any("mean hours" in each for each in known.assumptions)


# ------------------------------------------------------------------ whatever the boiler


@given(situations())
def test_options_stand_once_each_and_in_order(situation):
    keys = [each.key for each in plans_of(situation)]
    assert keys == [key for key in ORDER if key in keys]
    assert len(set(keys)) == len(keys)


@given(situations())
def test_only_the_option_of_less_output_runs_below_the_need(situation):
    below = [plan.key for plan in plans_of(situation) if plan.runs_below_need]
    assert below == ["reduced-output"]


@given(situations())
def test_no_tube_is_dealt_with_twice(situation):
    for plan in plans_of(situation):
        renewed = frozenset().union(*(e.holes for e in situation.passes if e.pass_ in plan.retube))
        for one, other in (
            (plan.plug, plan.replace),
            (plan.plug, renewed),
            (plan.replace, renewed),
            (frozenset(plan.re_roll), plan.plug | plan.replace | renewed),
        ):
            assert one.isdisjoint(other)


@given(situations())
def test_no_bad_tube_and_no_leaking_joint_stays_in_service(situation):
    for plan in plans_of(situation):
        for each in situation.passes:
            bad_left = each.bad - plan.plugged_after(each) - plan.replace
            is_renewed = plan.is_new_boiler or each.pass_ in plan.retube
            joints = {h: n for h, n in each.joint_ends.items() if h not in plan.plug | plan.replace}
            rolled = {h: n for h, n in plan.re_roll.items() if h in each.holes}
            if plan.key in ("run-on", "re-roll"):
                assert bad_left == each.bad
            elif not is_renewed:
                assert not bad_left
            if plan.key != "run-on" and not is_renewed:
                assert rolled == joints


@given(situations())
def test_every_stay_that_is_plugged_is_said_and_only_the_plugging_options_plug_one(situation):
    for plan in plans_of(situation):
        stays = plan.plug & frozenset().union(*(each.stays for each in situation.passes))
        if stays:
            assert plan.key in (
                "plug-bad", "plug-bad-and-weak", "plug-then-retube", "reduced-output",
            )  # fmt: skip
            assert "refer to an engineer" in plan.words


@given(situations())
def test_bills_hold_priced_things_alone_and_words_are_one_sentence(situation):
    for plan in plans_of(situation):
        assert set(plan.bill_now) <= BY_PRICE
        assert all(0.0 <= each < float("inf") for each in plan.bill_now.values())
        assert plan.words[0].isupper()
        assert plan.words.endswith(".")
        assert plan.words.count(".") == 1
        does = plan.plug or plan.replace or plan.retube or plan.re_roll or plan.renew_sheets
        assert bool(plan.bill_now) == bool(does or plan.is_new_boiler)


@given(situations())
def test_more_work_never_costs_less_now(situation):
    shown = plans(situation)
    costs = {key: situation.prices.money(plan.bill_now) for key, plan in shown.items()}
    for less, more in (
        ("re-roll", "plug-then-retube"),
        ("plug-bad", "find-out"),
        ("run-on", "new-boiler"),
    ):
        stays = frozenset().union(*(each.stays & each.bad for each in situation.passes))
        if less in costs and more in costs and not stays:
            assert costs[less] <= costs[more] + 1e-6
