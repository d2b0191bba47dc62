"""Plugged at one end only: a hazard when the other was seen open, a question when it was not.

Not here: what a plug does to the counts (``test_counts``).
"""

import pytest

from tests.model.condition.journal import BEN, SPRING
from tests.model.condition.small_boiler import SmallBoiler


@pytest.fixture
def boiler():
    return SmallBoiler({2: 1})


def answer(boiler):
    return boiler.tubes()["2.1"].plugged_one_end


def test_it_is_null_when_the_tube_is_not_plugged(boiler):
    boiler.see("2.1", "leaking")
    assert answer(boiler) is None


def test_it_is_no_when_both_ends_are_plugged(boiler):
    boiler.see("2.1", "plugged")
    assert answer(boiler) == "no"


@pytest.mark.parametrize("state", ["sound", "thinned", "leaking", "split"])
@pytest.mark.parametrize("how", ["seen", "by-row", "paper"])
def test_it_is_yes_when_the_other_end_is_open_by_a_look_of_this_inspection(boiler, state, how):
    boiler.see("2.1", "plugged", "front")
    boiler.see("2.1", state, "rear", how=how)
    assert answer(boiler) == "yes"


def test_a_carried_plug_counts_and_the_other_end_seen_open_today_makes_it_yes(boiler):
    boiler.see("2.1", "plugged", "front", at=SPRING)
    boiler.see("2.1", "sound", "rear")
    assert answer(boiler) == "yes"


def test_the_other_end_was_not_seen_when_nobody_spoke_of_it(boiler):
    boiler.see("2.1", "plugged", "rear")
    assert answer(boiler) == "other_end_not_seen"


def test_the_other_end_was_not_seen_when_it_was_only_filled_in(boiler):
    boiler.see("2.1", "plugged", "rear")
    boiler.see("2.1", "sound", "front", how="filled")
    assert answer(boiler) == "other_end_not_seen"


def test_the_other_end_was_not_seen_when_it_was_seen_open_only_last_time(boiler):
    boiler.see("2.1", "plugged", "front", at=SPRING)
    boiler.see("2.1", "leaking", "rear", at=SPRING)
    assert answer(boiler) == "other_end_not_seen"


def test_the_other_end_was_not_seen_when_it_was_not_inspected_for_a_reason(boiler):
    boiler.see("2.1", "plugged", "front")
    boiler.see("2.1", None, "rear", reason="refractory")
    assert answer(boiler) == "other_end_not_seen"


def test_it_is_as_left_so_that_the_crew_can_end_and_begin_it(boiler):
    boiler.see("2.1", "plugged", "front")
    boiler.see("2.1", "sound", "rear")
    first = boiler.work("2.1", "plug", ends=["rear"])
    assert answer(boiler) == "no"
    boiler.work("2.1", "unplug", ends=["front"], names=[first])
    assert answer(boiler) == "yes"
    boiler.work("2.1", "unplug", ends=["rear"], names=[first])
    assert answer(boiler) is None


def test_an_end_that_two_disagree_on_counts_as_plugged_when_one_says_so(boiler):
    boiler.see("2.1", "plugged")
    boiler.see("2.1", "sound", "rear", by=BEN)
    assert answer(boiler) == "no"
