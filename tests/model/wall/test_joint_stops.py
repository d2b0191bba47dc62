"""Which leaking joints are taken to have stopped the boiler.

Not here: joints that inspections found (``test_leak_history``), tubes (``test_losses``).
"""

import pytest

from model.wall.joint_stops import JointStops, joint_stops
from tests.model.condition.journal import AUTUMN, SPRING
from tests.model.condition.small_boiler import SmallBoiler, hole_of


@pytest.fixture
def boiler():
    """Inspections of 2024-04-10 and 2024-10-10."""
    return SmallBoiler({2: 20, 3: 5})


def stops(boiler, number=2, at=AUTUMN):
    folded = boiler.folded()
    holes = {tube.hole for tube in folded.tubes if tube.pass_ == number}
    return joint_stops(number, holes, folded, boiler.inspection(at, folded))


def re_roll(boiler, key, day):
    boiler.journal.works("re-roll", at=None, hole=hole_of(key), done_on=day)


def re_rolled(boiler, **more):
    return stops(boiler, **more).re_rolled_between


def test_joints_found_in_a_leak_call_stopped_the_boiler_and_in_another_inspection_did_not():
    def found(scope):
        boiler = SmallBoiler({2: 20, 3: 5}, scope=scope)
        boiler.see("2.1", "leaking", at=SPRING, leak_at="joint")
        boiler.see("2.2", "leaking", leak_at="joint")
        boiler.see("2.3", "leaking", "front", leak_at="bore")
        boiler.see("3.1", "leaking", "front", leak_at="joint")
        return stops(boiler)

    assert found("leak-call") == JointStops(in_leak_calls=1, re_rolled_between=0)
    assert found("full") == JointStops(in_leak_calls=0, re_rolled_between=0)


def test_a_leak_that_is_known_from_before_is_not_found_again_in_a_leak_call():
    boiler = SmallBoiler({2: 20}, scope="leak-call")
    boiler.see("2.1", "leaking", "front", at=SPRING, leak_at="joint")
    assert stops(boiler).in_leak_calls == 0


def test_a_joint_that_was_re_rolled_between_two_inspections_stopped_the_boiler(boiler):
    re_roll(boiler, "2.1", "2024-06-01")
    boiler.journal.event("re-roll", "2024-07", hole=hole_of("2.2"))
    re_roll(boiler, "3.1", "2024-06-01")
    assert (re_rolled(boiler), re_rolled(boiler, number=3)) == (2, 1)
    assert re_rolled(boiler, at=SPRING) == 0


@pytest.mark.parametrize("day", ["2024-04-09", "2024-04-10", "2024-10-10", "2024-11-01"])
def test_re_rolling_before_and_after_or_in_the_outage_of_an_inspection_does_not_count(boiler, day):
    re_roll(boiler, "2.1", day)
    assert re_rolled(boiler) == 0


def test_a_joint_that_was_left_leaking_was_known(boiler):
    boiler.see("2.1", "leaking", "front", at=SPRING, leak_at="joint")
    boiler.see("2.2", "leaking", "front", at=SPRING, leak_at="joint")
    boiler.work("2.2", "re-roll", at=SPRING, ends=["front"])
    re_roll(boiler, "2.1", "2024-06-01")
    assert re_rolled(boiler) == 0
    re_roll(boiler, "2.2", "2024-07-01")  # it leaked again
    assert re_rolled(boiler) == 1


def test_of_several_in_a_day_one_leaked_and_the_others_may_have_been_a_precaution(boiler):
    for key in ("2.1", "2.2", "2.3"):
        re_roll(boiler, key, "2024-06-01")
    assert re_rolled(boiler) == 1


@pytest.mark.parametrize("does", ["plug", "replace"])
def test_re_rolling_on_a_day_of_other_work_on_tubes_was_done_along_with_it(boiler, does):
    re_roll(boiler, "2.1", "2024-06-01")
    boiler.journal.works(does, at=None, hole=hole_of("3.2"), done_on="2024-06-01")
    boiler.journal.works(does, at=None, hole=hole_of("3.3"), done_on="2024-06-02")
    assert re_rolled(boiler) == 0


def test_what_is_known_by_number_only_does_not_say_that_anything_leaked(boiler):
    boiler.journal.event("re-roll", "2024-06-01", **{"pass": 2, "count": 4})
    assert re_rolled(boiler) == 0


def test_inspections_of_other_passes_before_the_first_look_begin_nothing():
    boiler = SmallBoiler({2: 20, 3: 5}, scope="passes", of_passes=(3,))
    early = {"inspection": "inspearlyaaaa", "date": "2020-01-01", "scope": "passes", "passes": [3]}
    boiler.journal.add("inspection", early)
    re_roll(boiler, "2.1", "2022-06-01")
    re_roll(boiler, "3.1", "2022-06-01")
    assert (re_rolled(boiler), re_rolled(boiler, number=3)) == (0, 1)
