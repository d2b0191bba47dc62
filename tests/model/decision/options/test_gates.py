"""What rules an option out, sentence by sentence, and which reasons come first.

Not here: how limits stand after an option (``test_limits_after``).
"""

import pytest
from hypothesis import given

from model.condition.clusters import AcceptedWidth, find_clusters
from model.condition.coverage import count_coverage
from model.decision.advice import GasAfter, Waits
from model.decision.limits import (
    CLUSTER,
    DEFAULT_LIMITS,
    LimitResult,
    LimitStatus,
    judge_limits,
)
from model.decision.options.every_option import plans_of
from model.decision.options.gates import reachable_unseen_ends, ruled_out
from model.decision.situation import PartDamage
from model.tubesheet.faces import Sheet
from tests.model.condition.small_boiler import SmallBoiler
from tests.model.condition.test_clusters import FRONT, grid
from tests.model.decision.situation_cases import a_pass, a_situation, holes, situations

SOUND = a_situation(a_pass())
WORN = a_situation(a_pass(bad=(1, 2), weak=(3,), joints={5: 1}))


def gas(limit_kw):
    return GasAfter(
        stack_rise_k=1.0, efficiency_loss_points=0.1, fuel_rise_percent=0.1, draft_ratio=1.1,
        draft_ratio_by_pass={2: 1.1}, output_limit_kw=limit_kw, output_remark="",
    )  # fmt: skip


def place(sheet, span_mm, permitted_mm, status, *, permitted_by=None):
    return LimitResult(
        name=CLUSTER, value=span_mm, high=None, watch=None, act=permitted_mm, basis="",
        status=LimitStatus(status), sheet=sheet, permitted_by=permitted_by,
    )  # fmt: skip


def why(situation, key, **given):
    against = judged(situation, key, **given)
    return None if against is None else against.words


def judged(
    situation,
    key,
    *,
    limits=(),
    stays=(),
    limit_kw=None,
    unseen_ends=0,
    refused=False,
    open_kw=None,
):
    plan = next(each for each in plans_of(situation) if each.key == key)
    return ruled_out(
        plan,
        situation,
        limits=limits,
        plugged_stays=stays,
        gas=None if limit_kw is None else gas(limit_kw),
        unseen_ends=unseen_ends,
        is_gas_refused=refused,
        open_kw=open_kw,
    )


# ------------------------------------------------------------------ what must be dealt with


def test_running_on_is_for_a_boiler_in_which_nothing_is_bad():
    assert why(SOUND, "run-on") is None
    assert why(WORN, "run-on") == (
        "Ruled out: 2 tubes are bad and must be dealt with before steaming. "
        "Also: 1 joint leaks and must be re-rolled."
    )


def test_nobody_runs_on_while_an_end_within_reach_is_unseen():
    assert why(SOUND, "run-on", unseen_ends=1) == (
        "Ruled out: nobody looked at 1 tube end that can be reached today: look first."
    )
    assert why(SOUND, "retube-pass-2", unseen_ends=1) is None
    assert judged(SOUND, "run-on", unseen_ends=1).waits_for == {Waits.LOOK}


def test_doing_nothing_now_and_retubing_later_is_running_on_by_another_name():
    assert "look first" in why(SOUND, "plug-then-retube", unseen_ends=1)
    assert "look first" in why(SOUND, "reduced-output", unseen_ends=1, limit_kw=900.0)
    # Where something is done, what was not seen is no worse than before it.
    assert why(WORN, "plug-then-retube", unseen_ends=1) is None


def damaged(*, bad=(), sheet=None):
    crack = PartDamage(words="the furnace", sheet=None)
    plate = PartDamage(words="an area of plate of the front sheet", sheet="front")
    told = {"sheets_to_renew": (sheet,), "passes_of_sheet": {sheet: (2,)}} if sheet else {}
    return a_situation(a_pass(bad=bad), damage=(plate,) if sheet else (crack, plate), **told)


def test_doing_nothing_is_no_answer_to_damage_of_a_part():
    asked = judged(damaged(), "run-on")
    assert asked.words == (
        "Ruled out: damage graded act is recorded of the furnace and an area of plate of the front "
        "sheet, and doing nothing leaves it: have it judged first."
    )
    assert asked.waits_for == {Waits.DAMAGE}
    assert why(damaged(), "plug-then-retube") == asked.words
    assert judged(damaged(), "run-on", unseen_ends=1).waits_for == {Waits.DAMAGE, Waits.LOOK}
    # What is done to tubes is not made wrong by it, nor does a new boiler leave it.
    assert why(damaged(bad=(1,)), "plug-bad") is None
    assert why(damaged(), "new-boiler") is None
    assert why(damaged(sheet="front"), "renew-sheet") is None


def test_a_bad_tube_beside_damage_waits_for_no_answer():
    assert judged(damaged(bad=(1,)), "run-on").waits_for == frozenset()


def test_finding_out_more_is_ruled_out_by_no_state_of_the_boiler():
    circle = place("chamber", 228.0, 214.0, "refer")
    assert why(WORN, "find-out", limits=[circle], stays=("A",), limit_kw=1.0) is None


def test_gas_needs_a_tube_that_is_open():
    shut = a_situation(a_pass(), a_pass(3, plugged=range(1, 11)))
    said = "Ruled out: no tube of pass 3 is open after it."
    assert why(shut, "run-on") == said
    assert why(shut, "retube-pass-2") == said
    assert why(shut, "retube-pass-3") is None
    assert why(shut, "new-boiler") is None
    # Plugging all that is left is no better than finding it plugged.
    last = a_situation(a_pass(bad=range(1, 11)), a_pass(3))
    assert "no tube of pass 2 is open" in why(last, "plug-bad")


def test_a_plug_with_its_other_end_open_is_closed_by_every_option_but_running_on():
    half = a_situation(a_pass(plugged=(7,), open_plugs=holes(2, 7)), a_pass(3))
    assert why(half, "run-on") == (
        "Ruled out: 1 plugged tube is open at the other end: it must be closed before steaming."
    )
    for key in ("plug-bad", "plug-then-retube", "retube-pass-2", "retube-pass-3", "new-boiler"):
        assert why(half, key) is None
    plans = {each.key: each for each in plans_of(half)}
    assert plans["plug-bad"].words == "Close the open end of 1 plugged tube."
    assert plans["plug-bad"].bill_now["plug_each"] == 1.0
    assert plans["retube-pass-3"].close == holes(2, 7)
    assert plans["retube-pass-2"].close == frozenset()


def test_re_rolling_is_no_answer_to_a_bad_tube():
    assert why(WORN, "re-roll") == (
        "Ruled out: 2 tubes are bad and must be dealt with before steaming."
    )
    assert why(a_situation(a_pass(joints={5: 1})), "re-roll") is None


def test_one_bad_tube_is_one():
    said = why(a_situation(a_pass(bad=(1,))), "run-on")
    assert said == "Ruled out: 1 tube is bad and must be dealt with before steaming."


# ------------------------------------------------------------------ stays and places


def test_a_place_wider_than_permitted_rules_out_until_an_engineer_was_asked():
    limits = [place("front", 150.0, 214.0, "ok"), place("chamber", 228.4, 214.4, "refer")]
    assert why(WORN, "plug-bad", limits=limits) == (
        "Ruled out: a circle of 228 mm around plugs on the chamber sheet is left without a working "
        "tube or stay; 214 mm is permitted. Ask an engineer first; the answer goes into [limits] "
        "cluster."
    )


def test_of_several_sheets_the_one_farthest_beyond_is_told_and_the_others_named():
    limits = [place("front", 230.0, 200.0, "refer"), place("rear", 220.0, 110.0, "refer")]
    assert why(WORN, "plug-bad", limits=limits) == (
        "Ruled out: a circle of 220 mm around plugs on the rear sheet is left without a working "
        "tube or stay; 110 mm is permitted. Likewise on the front sheet. Ask an engineer first; "
        "the answer goes into [limits] cluster."
    )


def test_an_engineer_who_said_what_is_permitted_is_not_asked_again():
    asked = place("front", 230.0, 200.0, "refer")
    answered = place("chamber", 221.0, 210.0, "refer", permitted_by="letter of May 3.")
    said = (
        "Ruled out: a circle of 221 mm around plugs on the chamber sheet is left without a working "
        "tube or stay; 210 mm is permitted by letter of May 3."
    )
    no = judged(WORN, "plug-bad", limits=[answered])
    assert (no.words, no.waits_for) == (said, frozenset())
    assert judged(WORN, "plug-bad", limits=[asked]).waits_for == {Waits.STAY}
    # What is asked of another sheet no longer matters.
    both = judged(WORN, "plug-bad", limits=[asked, answered])
    assert both.words == f"{said} Likewise on the front sheet."
    assert not both.waits_for


def test_an_answer_that_is_kept_leaves_other_questions_open():
    kept = place("front", 200.0, 210.0, "refer", permitted_by="letter")
    assert judged(WORN, "plug-bad", limits=[kept], stays=("A",)).waits_for == {Waits.STAY}


def test_a_place_that_cannot_be_judged_rules_nothing_out():
    assert why(WORN, "plug-bad", limits=[place("front", 500.0, None, "unknown")]) is None


def limits_of_plugs(*keys, accepted=None):
    """Of a square of 7 by 7 tubes in a wide sheet, where 177 mm are permitted."""
    sheet = Sheet(key="front", name="front", plate_mm=12.4, stress_mpa=92.4)
    clusters = find_clusters(
        grid(set(keys)), (sheet,), (FRONT,), shell_diameter_mm=3000.0, furnaces=(), mawp_mpa=1.0,
        accepted=accepted,
    )  # fmt: skip
    limits = judge_limits((), count_coverage(()), clusters, DEFAULT_LIMITS)
    return [each for each in limits if each.name == CLUSTER]


@pytest.mark.parametrize("keys", [("d7",), ("a1",), ("d7", "a4", "g1")])
def test_lone_plugs_beside_bare_plate_rule_nothing_out(keys):
    (limit,) = limits_of_plugs(*keys)
    assert limit.plugs_beside_bare_plate == len(keys)
    assert why(WORN, "plug-bad", limits=[limit]) is None


@pytest.mark.parametrize("keys", [(), ("d7",)])
def test_four_plugs_in_the_middle_rule_out_beside_bare_plate_or_not(keys):
    four = ("d4", "d5", "e4", "e5")
    limits = limits_of_plugs(*four, *keys)
    assert "a circle of 221 mm around plugs on the front sheet" in why(
        WORN, "plug-bad", limits=limits
    )
    answer = {"front": AcceptedWidth(width_mm=230.0, basis="letter")}
    allowed = limits_of_plugs(*four, *keys, accepted=answer)
    assert [(each.act, each.basis) for each in allowed] == [(230.0, "letter")]
    assert why(WORN, "plug-bad", limits=allowed) is None


def test_a_cluster_at_the_edge_is_not_hidden_behind_the_bare_plate_beside_it():
    limits = limits_of_plugs("c7", "d7", "e7", "c6", "d6", "e6")
    assert limits[0].plugs_beside_bare_plate > 0
    assert "around plugs on the front sheet" in why(WORN, "plug-bad", limits=limits)


def test_a_plugged_stay_tube_is_a_question_for_an_engineer():
    # However narrow the place around it.
    limits = [place("front", 150.0, 214.0, "refer")]
    assert why(WORN, "plug-bad", limits=limits, stays=("P2-R01-C01",)) == (
        "Ruled out: stay tube P2-R01-C01 is plugged after it. Ask an engineer first."
    )
    assert why(WORN, "plug-bad", stays=("A", "B", "C")) == (
        "Ruled out: stay tubes A, B and C are plugged after it. Ask an engineer first."
    )
    assert why(WORN, "plug-bad", stays=("A", "B", "C", "D")) == (
        "Ruled out: 4 stay tubes are plugged after it. Ask an engineer first."
    )


# ------------------------------------------------------------------ output and draft


def test_output_below_need_rules_out_all_but_running_lower_and_a_new_boiler():
    # 1000 kW needed; 900 kW is above the mean load of 700.
    assert why(WORN, "plug-bad", limit_kw=900.0) == (
        "Ruled out: the fan reaches 900 kW at most, and 1,000 kW is needed (a standby is not "
        "counted)."
    )
    assert why(WORN, "reduced-output", limit_kw=900.0) is None
    assert why(WORN, "new-boiler", limit_kw=900.0) is None
    assert why(WORN, "plug-bad", limit_kw=1000.0) is None
    assert why(WORN, "plug-bad") is None


def test_a_fan_that_cannot_carry_the_mean_load_rules_out_running_lower_too():
    said = "Ruled out: the fan cannot draw the gas of more than 699 kW; the mean load is 700 kW."
    assert why(WORN, "reduced-output", limit_kw=699.0) == said
    assert why(WORN, "plug-bad", limit_kw=699.0) == said
    assert why(WORN, "reduced-output", limit_kw=700.0) is None


def test_without_a_mean_load_a_fan_that_draws_nothing_still_rules_out():
    idle = a_situation(a_pass(), load_percent=None)
    assert why(idle, "run-on", limit_kw=0.0) == (
        "Ruled out: the fan cannot draw the gas of more than 0 kW."
    )


def test_a_gas_side_that_is_refused_after_an_option_rules_it_out():
    assert why(SOUND, "run-on", refused=True).startswith(
        "Ruled out: so many tubes are plugged after it that its gas side cannot be computed"
    )
    assert judged(SOUND, "run-on", refused=True, unseen_ends=1).waits_for == frozenset()
    assert why(SOUND, "new-boiler", refused=True) is None


def test_running_lower_makes_sense_only_where_the_output_falls_below_need():
    assert why(WORN, "reduced-output", limit_kw=1200.0) == (
        "Ruled out: the fan still reaches 1,200 kW, and 1,000 kW is needed: there is no need to "
        "run lower."
    )
    assert "no need to run lower" in why(WORN, "reduced-output", limit_kw=1000.0)
    assert why(WORN, "reduced-output", limit_kw=999.0) is None
    unknown = "Ruled out: the highest output after it or the output needed is not known."
    assert why(WORN, "reduced-output") == unknown
    nobody = a_situation(a_pass(), needed_output_kw=None)
    assert why(nobody, "reduced-output", limit_kw=100.0) == unknown
    assert why(nobody, "run-on", limit_kw=100.0) is None


def test_a_need_that_every_tube_open_would_not_meet_rules_nothing_out():
    """A wrong figure of fan or need must not leave a new boiler as the only choice."""
    sound = a_situation(a_pass(), without=("capacity_per_mwh",))
    for key in ("run-on", "retube-pass-2", "new-boiler", "find-out"):
        assert why(sound, key, limit_kw=900.0, open_kw=999.0) is None
    assert "reaches 999 kW at most" in why(sound, "run-on", limit_kw=999.0, open_kw=1000.0)
    # Plugs that take the mean load of 700 kW away do so whatever is needed at most.
    assert "the mean load is 700 kW" in why(sound, "run-on", limit_kw=699.0, open_kw=700.0)
    assert why(sound, "run-on", limit_kw=600.0, open_kw=699.0) is None
    assert why(sound, "reduced-output", limit_kw=900.0, open_kw=999.0) == (
        "Ruled out: with every tube open the fan would not reach the output needed either: what is "
        "short is not for the plugs."
    )


# ------------------------------------------------------------------ prices and sense


@pytest.mark.parametrize(
    ("key", "price"),
    [
        ("renew-sheet", "sheet_renewal"),
        ("new-boiler", "new_boiler"),
        ("rental", "rental_per_week"),
    ],
)
def test_what_has_no_price_is_ruled_out_and_the_price_named(key, price):
    told = {"sheets_to_renew": ("front",), "passes_of_sheet": {"front": (2,)}}
    assert why(a_situation(a_pass(), **told), key) is None
    assert why(a_situation(a_pass(), without=(price,), **told), key) == (
        f"Ruled out: its cost cannot be worked out without {price} in [costs]."
    )


def test_missing_output_needs_a_price_where_the_standby_does_not_cover_it():
    # 1000 kW needed, 400 kW of standby.
    priceless = a_situation(a_pass(), without=("capacity_per_mwh",), load_percent=50.0)
    said = "Ruled out: its cost cannot be worked out without capacity_per_mwh in [costs]."
    assert why(priceless, "reduced-output", limit_kw=599.0) == said
    assert why(priceless, "reduced-output", limit_kw=600.0) is None
    assert why(priceless, "new-boiler", limit_kw=599.0) is None


def test_where_nothing_is_weak_dealing_with_the_weak_is_the_same():
    bad = a_situation(a_pass(bad=(1,)))
    assert why(bad, "plug-bad-and-weak") == (
        "Ruled out: no weak tube is known, so it would be the same as plug-bad."
    )
    assert why(bad, "replace-bad-and-weak") == (
        "Ruled out: no weak tube is known, so it would be the same as replace-bad."
    )
    stay = a_situation(a_pass(bad=(1,), weak=(3,), stays=(3,)))
    assert why(stay, "plug-bad-and-weak") == (
        "Ruled out: only stay tubes are weak, so it would be the same as plug-bad."
    )
    assert why(stay, "replace-bad-and-weak") is None
    assert why(WORN, "plug-bad-and-weak") is None


def test_a_retube_beyond_the_years_looked_ahead_is_none():
    far = a_situation(a_pass(bad=(1,)), years_to_outage=25.0)
    assert why(far, "plug-then-retube") == (
        "Ruled out: its retube falls in year 25, beyond the 15 looked ahead, so it would be the "
        "same as without it."
    )
    assert why(a_situation(a_pass(bad=(1,)), years_to_outage=14.0), "plug-then-retube") is None


def test_the_weightiest_reason_comes_first_and_two_are_told_at_most():
    said = why(
        WORN,
        "run-on",
        limits=[place("front", 230.0, 200.0, "refer")],
        stays=("A",),
        limit_kw=100.0,
        unseen_ends=3,
    )
    assert said.startswith("Ruled out: 2 tubes are bad")
    assert said.count("Also: ") == 1
    weightier = why(WORN, "plug-bad", stays=("A",), limit_kw=900.0)
    assert weightier == (
        "Ruled out: stay tube A is plugged after it. Ask an engineer first. Also: the fan reaches "
        "900 kW at most, and 1,000 kW is needed (a standby is not counted)."
    )


@given(situations())
def test_running_on_and_re_rolling_are_allowed_just_where_they_deal_with_everything(situation):
    bad = any(each.bad for each in situation.passes)
    joints = any(each.joint_ends for each in situation.passes)
    keys = {each.key for each in plans_of(situation)}
    shut = any(each.holes <= each.plugged | each.behind_bad_plug for each in situation.passes)
    assert (why(situation, "run-on") is None) is not (bad or joints or shut)
    assert ("re-roll" in keys) is joints
    if joints:
        assert (why(situation, "re-roll") is None) is not (bad or shut)


@given(situations())
def test_an_option_that_deals_with_everything_is_never_ruled_out_for_what_is_bad(situation):
    for plan in plans_of(situation):
        if plan.key not in ("run-on", "re-roll"):
            said = why(situation, plan.key) or ""
            assert "before steaming" not in said
            assert "re-rolled" not in said


# ------------------------------------------------------------------ ends that nobody looked at


def test_ends_out_of_reach_and_ends_that_are_known_are_not_asked_for():
    boiler = SmallBoiler({2: 8})
    boiler.see("2.1", "sound", "front")
    for key, reason in (
        ("2.1", "not-cleaned"), ("2.2", "no-entry"), ("2.3", "obstructed"), ("2.4", "no-time"),
    ):  # fmt: skip
        ends = ("rear",) if key == "2.1" else ("front", "rear")
        for end in ends:
            boiler.see(key, None, end, reason=reason, how="seen")
    boiler.see("2.5", "sound")
    boiler.work("2.6", "replace")
    boiler.work("2.7", "plug")
    tubes = list(boiler.tubes().values())
    # The rear end of 2.1, both of 2.4, and both of 2.8, of which nobody said anything.
    assert reachable_unseen_ends(tubes) == 5


def test_a_filled_end_is_unseen():
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "sound", how="filled")
    assert reachable_unseen_ends(boiler.tubes().values()) == 2


# ------------------------------------------------------------------ what an engineer may allow


def test_only_a_stay_question_alone_waits_for_an_engineer():
    circle = place("chamber", 228.0, 214.0, "refer")

    asked = judged(WORN, "plug-bad", limits=[circle])
    assert asked is not None
    assert asked.waits_for == {Waits.STAY}
    leaks_too = judged(WORN, "run-on", limits=[circle])
    assert leaks_too is not None
    assert not leaks_too.waits_for
    too_little = judged(WORN, "plug-bad", limits=[circle], limit_kw=900.0)
    assert too_little is not None
    assert not too_little.waits_for
