"""Totals counted by hand on boilers of a few tubes: what is plugged, bad, out of service, unseen.

Not here: how a state follows from records (``test_scenarios``), coverage (``test_coverage``).
"""

import pytest
from hypothesis import given

from model.condition.counts import TubeSize, as_left, count_boiler
from model.condition.fold import fold_boiler
from model.condition.tubes import WallConcerns, tube_conditions
from tests.model.condition.journal import BEN, BOILER, SPRING
from tests.model.condition.record_sets import record_sets
from tests.model.condition.small_boiler import SmallBoiler

SIX = ("sound", "thinned", "leaking", "plugged", "split", "not_inspected")
BORE = {"leak_at": "bore"}
JOINT = {"leak_at": "joint"}


def plug(condition):
    return {"plug": {"type": "driven", "condition": condition, "vented": None}}


def finding(grade, mechanism="bead-cracked"):
    return {"findings": [{"mechanism": mechanism, "side": "fire", "grade": grade, "note": ""}]}


def six(totals):
    return {name: getattr(totals, name) for name in SIX if getattr(totals, name)}


# ------------------------------------------------------------------ state of a tube


@pytest.mark.parametrize(
    ("front", "rear", "state"),
    [
        ("sound", "sound", "sound"),
        ("sound", "thinned", "thinned"),
        ("thinned", "leaking", "leaking"),
        ("leaking", "split", "split"),
        ("plugged", "sound", "plugged"),
        ("leaking", "plugged", "plugged"),
        ("split", "plugged", "plugged"),
        (None, "sound", "sound"),
        (None, None, None),
    ],
)
def test_a_tube_is_plugged_if_either_end_is_otherwise_its_worse_end(front, rear, state):
    boiler = SmallBoiler({2: 1})
    for end, said in (("front", front), ("rear", rear)):
        if said is not None:
            boiler.see("2.1", said, end)
    assert boiler.tubes()["2.1"].left.state == state


@pytest.mark.parametrize("other", ["leaking", "split"])
def test_a_leaking_or_split_other_end_of_a_plugged_tube_is_still_bad_now(other):
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "plugged", "front")
    boiler.see("2.1", other, "rear")
    totals = boiler.totals()
    assert (totals.plugged, totals.bad_now, totals.out_of_service) == (1, 1, 1)


def test_a_tube_plugged_at_both_ends_counts_once():
    boiler = SmallBoiler({2: 2})
    boiler.see("2.1", "plugged")
    assert boiler.totals().plugged == 1


# ------------------------------------------------------------------ bad now


@pytest.mark.parametrize(
    ("state", "more", "why"),
    [
        ("split", {}, "split"),
        ("leaking", BORE, "leaking in the bore"),
        ("leaking", {"leak_at": "ligament"}, "leaking at the ligament"),
        ("leaking", {"leak_at": "not-found"}, "leaking, place not found"),
        ("leaking", {}, "leaking, place not found"),
        ("plugged", plug("weeping"), "plug weeping"),
        ("plugged", plug("burned"), "plug burned"),
        ("plugged", plug("missing"), "plug missing"),
        ("sound", finding("act"), "bead cracked, act"),
    ],
)
def test_a_tube_is_bad_now_and_says_why(state, more, why):
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", state, "rear", **more)
    assert boiler.tubes()["2.1"].left.bad == (why,)
    assert boiler.totals().bad_now == 1


@pytest.mark.parametrize(
    ("state", "more"),
    [
        ("sound", {}),
        ("thinned", {}),
        ("leaking", JOINT),
        ("plugged", {}),
        ("plugged", plug("tight")),
        ("plugged", plug(None)),
        ("sound", finding("watch")),
        ("sound", finding("note")),
    ],
)
def test_a_tube_is_not_bad_now(state, more):
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", state, "rear", **more)
    assert boiler.tubes()["2.1"].left.bad == ()
    assert boiler.totals().bad_now == 0


def test_of_several_places_of_one_end_the_order_is_bore_ligament_not_found_joint():
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "leaking", "front", **JOINT)
    boiler.see("2.1", "leaking", "front", leak_at="ligament", by=BEN)
    (tube,) = boiler.tubes().values()
    assert (tube.left.bad, tube.left.disputed) == (("leaking at the ligament",), False)


def test_bad_now_is_per_tube_over_both_ends():
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "leaking", **BORE)
    assert boiler.totals().bad_now == 1
    assert boiler.tubes()["2.1"].left.bad == ("leaking in the bore",)


def test_bad_now_takes_carried_states_in():
    boiler = SmallBoiler({2: 2})
    boiler.see("2.1", "leaking", "front", at=SPRING, **BORE)
    boiler.see("2.2", "plugged", at=SPRING, **plug("weeping"))
    totals = boiler.totals()
    assert (totals.bad_now, totals.carried, totals.out_of_service) == (2, 2, 2)


def test_a_filled_split_counts_as_bad_because_the_worse_state_counts():
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "split", how="filled")
    assert boiler.totals().bad_now == 1


# ------------------------------------------------------------------ joint leaks


def test_joint_leaks_only_is_leaking_at_joints_alone():
    boiler = SmallBoiler({2: 3})
    boiler.see("2.1", "leaking", **JOINT)
    boiler.see("2.2", "leaking", "front", **JOINT)
    boiler.see("2.2", "sound", "rear")
    boiler.see("2.3", "leaking", "front", **JOINT)
    boiler.see("2.3", "leaking", "rear", **BORE)
    totals = boiler.totals()
    assert (totals.leaking, totals.joint_leaks_only, totals.bad_now) == (3, 2, 1)
    assert totals.out_of_service == 1


def test_a_joint_leak_on_a_bad_tube_is_not_counted_beside_it():
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "leaking", "front", **JOINT, **finding("act"))
    totals = boiler.totals()
    assert (totals.joint_leaks_only, totals.bad_now) == (0, 1)


def test_a_joint_leak_carried_from_last_time_is_counted_beside_the_bad():
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "leaking", "front", at=SPRING, **JOINT)
    totals = boiler.totals()
    assert (totals.joint_leaks_only, totals.bad_now, totals.carried) == (1, 0, 1)


# ------------------------------------------------------------------ out of service


def test_out_of_service_is_plugged_or_bad_now_each_tube_once():
    boiler = SmallBoiler({2: 5})
    boiler.see("2.1", "plugged", **plug("weeping"))
    boiler.see("2.2", "plugged")
    boiler.see("2.3", "split", "front")
    boiler.see("2.4", "leaking", "front", **JOINT)
    boiler.see("2.5", "sound")
    totals = boiler.totals()
    assert (totals.plugged, totals.bad_now, totals.out_of_service) == (2, 2, 3)
    assert totals.out_of_service_percent == 60.0


# ------------------------------------------------------------------ sound with findings


@pytest.mark.parametrize("grade", ["note", "watch", "act"])
def test_sound_with_findings_is_state_sound_with_a_finding_of_any_grade(grade):
    boiler = SmallBoiler({2: 2})
    boiler.see("2.1", "sound", **finding(grade))
    boiler.see("2.2", "thinned", **finding(grade))
    totals = boiler.totals()
    assert (totals.sound, totals.sound_with_findings) == (1, 1)


def test_said_sound_measured_thin_is_counted_and_the_state_stays_what_a_person_said():
    boiler = SmallBoiler({2: 3})
    boiler.see("2.1", "sound")
    boiler.see("2.2", "thinned")
    totals = boiler.totals(thin=("2.1", "2.2", "2.3"))
    assert six(totals) == {"sound": 1, "thinned": 1, "not_inspected": 1}
    assert totals.sound_with_findings == 1


def test_a_tube_that_was_measured_thin_and_replaced_counts_as_found_and_not_as_left():
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "sound")
    boiler.work("2.1", "replace")
    assert boiler.totals(found=True, thin=("2.1",)).sound_with_findings == 1
    assert boiler.totals(thin=("2.1",)).sound_with_findings == 0


# ------------------------------------------------------------------ as found and as left


def test_all_totals_are_as_left_and_as_found_repeats_the_block():
    boiler = SmallBoiler({2: 4})
    boiler.see_rest()
    for key in ("2.1", "2.2"):
        boiler.see(key, "leaking", "front", **BORE, names=_own(boiler, key, "front"))
    boiler.work("2.1", "plug")
    found, left = boiler.totals(found=True), boiler.totals()
    assert six(found) == {"sound": 2, "leaking": 2}
    assert six(left) == {"sound": 2, "leaking": 1, "plugged": 1}
    assert (found.bad_now, left.bad_now) == (2, 1)
    assert (found.plugged_percent, left.plugged_percent) == (0.0, 25.0)
    assert found.out_of_service == left.out_of_service == 2


def _own(boiler, key, end):
    hole = boiler.tubes()[key].hole
    return [
        r
        for r in boiler.journal.records
        if r.kind == "observation" and (r.body["hole"], r.body["end"]) == (hole, end)
    ]


def test_a_renewed_tube_is_counted_as_not_inspected_and_again_as_renewed():
    boiler = SmallBoiler({2: 3})
    boiler.see("2.1", "split")
    boiler.see("2.2", "sound")
    boiler.work("2.1", "replace")
    left = boiler.totals()
    assert six(left) == {"sound": 1, "not_inspected": 2}
    assert (left.renewed, left.bad_now) == (1, 0)
    assert boiler.totals(found=True).renewed == 0


def test_a_finding_of_the_old_tube_is_gone_when_the_tube_was_replaced():
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "sound", **finding("act"))
    boiler.work("2.1", "replace")
    assert (boiler.totals(found=True).bad_now, boiler.totals().bad_now) == (1, 0)


def test_a_plugged_tube_with_a_finding_to_act_on_still_counts_as_bad():
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "sound", "front", **finding("act"))
    boiler.work("2.1", "plug")
    totals = boiler.totals()
    assert (totals.plugged, totals.bad_now, totals.out_of_service) == (1, 1, 1)


def test_disputed_tubes_are_counted_and_the_worse_state_counts_meanwhile():
    boiler = SmallBoiler({2: 2})
    boiler.see("2.1", "sound", "front")
    boiler.see("2.1", "thinned", "front", by=BEN)
    totals = boiler.totals()
    assert six(totals) == {"thinned": 1, "not_inspected": 1}
    assert totals.disputed == 1


# ------------------------------------------------------------------ findings of earlier inspections


def test_an_earlier_finding_of_grade_act_still_counts():
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "sound", "front", at=SPRING, **finding("act"))
    totals = boiler.totals()
    assert six(totals) == {"not_inspected": 1}
    assert (totals.bad_now, totals.out_of_service) == (1, 1)


@pytest.mark.parametrize("grade", ["note", "watch"])
def test_an_earlier_finding_of_lesser_grade_does_not_carry(grade):
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "sound", "front", at=SPRING, **finding(grade))
    assert boiler.totals().bad_now == 0
    assert boiler.tubes()["2.1"].left.findings == ()


def test_an_earlier_finding_ends_when_its_tube_was_replaced():
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "sound", "front", at=SPRING, **finding("act"))
    boiler.work("2.1", "replace", at=SPRING)
    assert boiler.totals().bad_now == 0


def test_an_earlier_finding_ends_when_it_was_withdrawn():
    boiler = SmallBoiler({2: 1})
    said = boiler.see("2.1", "sound", "front", at=SPRING, **finding("act"))
    boiler.journal.withdraws(said)
    assert boiler.totals().bad_now == 0


def test_an_earlier_finding_ends_when_that_end_was_looked_at_again_without_it():
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "sound", "front", at=SPRING, **finding("act"))
    boiler.see("2.1", "sound", "rear")
    assert boiler.totals().bad_now == 1  # the other end is no answer
    boiler.see("2.1", "sound", "front", how="filled")
    assert boiler.totals().bad_now == 1  # nor is a fill-in
    boiler.see("2.1", "sound", "front", by=BEN)
    assert boiler.totals().bad_now == 0


# ------------------------------------------------------------------ percentages


def test_percent_plugged_is_per_pass_and_of_the_whole_boiler():
    """FACTS, plugging: a pass of 60 with 6 plugged is 10.0 %, a boiler of 180 with 6 is 3.33 %."""
    boiler = SmallBoiler({2: 60, 3: 60, 4: 60})
    for number in range(1, 7):
        boiler.see(f"2.{number}", "plugged", "front")
    boiler.see_rest(how="by-row")
    passes = boiler.passes()
    assert [passes[p].plugged_percent for p in (2, 3, 4)] == [10.0, 0.0, 0.0]
    assert boiler.totals().plugged_percent == pytest.approx(3.33, abs=0.005)
    assert boiler.totals().plugged_percent_high == boiler.totals().plugged_percent


def test_percent_plugged_is_of_all_tubes_of_the_layout_stay_tubes_and_unseen_included():
    boiler = SmallBoiler({2: 4, 3: 4}, stays=("2.4", "3.1"), scope="passes", of_passes=(2,))
    boiler.see("2.1", "plugged")
    assert boiler.passes()[2].plugged_percent == 25.0
    assert boiler.totals().plugged_percent == 12.5


def test_the_high_figure_adds_the_unseen_at_the_rate_of_those_with_an_end_looked_at():
    boiler = SmallBoiler({2: 10})
    boiler.see("2.1", "plugged", "front")
    boiler.see("2.2", "split", "rear")
    for number in (3, 4):
        boiler.see(f"2.{number}", "sound")
    boiler.see("2.5", "sound", how="filled")  # a fill-in is no look: unseen with 2.6 to 2.10
    totals = boiler.totals()
    assert totals.unseen == 6
    assert totals.plugged_percent == 10.0
    assert totals.plugged_percent_high == 10.0 + 6 / 10 * (1 / 4) * 100
    assert totals.out_of_service_percent == 20.0
    assert totals.out_of_service_percent_high == 20.0 + 6 / 10 * (2 / 4) * 100


def test_a_tube_with_anything_carried_is_not_among_the_unseen_and_not_among_the_looked_at():
    boiler = SmallBoiler({2: 4})
    boiler.see("2.1", "plugged", at=SPRING)
    boiler.see("2.2", "sound")
    boiler.see("2.3", "plugged")
    totals = boiler.totals()
    assert totals.unseen == 1
    assert totals.plugged_percent == 50.0
    assert totals.plugged_percent_high == 50.0 + 1 / 4 * (1 / 2) * 100


def test_the_high_figure_of_a_pass_where_nobody_looked_is_unknown_and_so_is_the_boilers():
    boiler = SmallBoiler({2: 2, 3: 2})
    boiler.see_rest(at=SPRING)
    boiler.see("2.1", "plugged")
    boiler.see("2.2", "sound")
    passes = boiler.passes()
    assert passes[2].plugged_percent_high == 50.0
    assert passes[3].plugged_percent == 0.0
    assert passes[3].plugged_percent_high is None
    assert passes[3].out_of_service_percent_high is None
    assert boiler.totals().plugged_percent == 25.0
    assert boiler.totals().plugged_percent_high is None


def test_a_pass_with_everything_carried_has_a_high_figure_though_nobody_looked():
    boiler = SmallBoiler({2: 2})
    for key in ("2.1", "2.2"):
        boiler.see(key, "plugged", at=SPRING)
    assert boiler.totals().plugged_percent_high == 100.0


def test_the_boilers_high_figure_is_the_sum_of_what_each_pass_adds():
    boiler = SmallBoiler({2: 4, 3: 6})
    boiler.see("2.1", "plugged")
    boiler.see("2.2", "sound")
    for number in (1, 2, 3):
        boiler.see(f"3.{number}", "sound")
    # Pass 2: 2 unseen, half of the seen plugged: 1 more. Pass 3: 3 unseen, none plugged.
    assert boiler.passes()[2].plugged_percent_high == 50.0
    assert boiler.passes()[3].plugged_percent_high == 0.0
    assert boiler.totals().plugged_percent_high == pytest.approx((1 + 1) / 10 * 100)


def test_an_unseen_tube_that_counts_already_does_not_count_twice():
    boiler = SmallBoiler({2: 2})
    boiler.see("2.1", "plugged")
    boiler.work("2.2", "plug")
    totals = boiler.totals()
    assert (totals.unseen, totals.plugged_percent, totals.plugged_percent_high) == (1, 100.0, 100.0)


def test_of_the_gas_area_each_tube_counts_with_its_own_bore():
    sizes = {"2.1": {"od_mm": 70.0, "wall_mm": 5.0}, "2.2": {"wall_mm": 10.0}}
    boiler = SmallBoiler({2: 4}, sizes=sizes)
    boiler.see("2.1", "plugged")
    size = TubeSize(od_mm=50.0, wall_mm=5.0)
    # Bores 60, 30, 40 and 40 mm.
    assert boiler.totals(size=size).plugged_area_percent == pytest.approx(100 * 3600 / 7700)
    assert boiler.totals(size=None).plugged_area_percent is None
    assert boiler.totals(size=TubeSize(od_mm=50.0)).plugged_area_percent is None


def test_a_boiler_without_tubes_has_no_percentages():
    totals = count_boiler([], as_left, None)
    assert totals.tubes == 0
    assert totals.plugged_percent is None
    assert totals.plugged_percent_high is None
    assert totals.plugged_area_percent is None


@given(record_sets())
def test_the_six_states_add_up_to_the_tubes_and_low_is_never_above_high(records):
    boiler = fold_boiler(records, BOILER)
    for inspection in boiler.inspections:
        tubes = tube_conditions(boiler, inspection, WallConcerns())
        totals = count_boiler(tubes, as_left, None)
        assert sum(getattr(totals, name) for name in SIX) == totals.tubes == len(boiler.tubes)
        assert max(totals.plugged, totals.bad_now) <= totals.out_of_service
        assert totals.out_of_service <= totals.plugged + totals.bad_now
        for name in ("plugged_percent", "out_of_service_percent"):
            low, high = getattr(totals, name), getattr(totals, f"{name}_high")
            assert low is None or high is None or low <= high + 1e-9 <= 100 + 2e-9
