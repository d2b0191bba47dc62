"""Which losses a pass's record holds since it began, and which came between two inspections.

Not here: the growth that is fitted to them (``test_leak_history``).
"""

import pytest

from model.wall.losses import (
    Stops,
    count_stops,
    first_look,
    losses_of_pass,
    newly_lost,
    recorded_losses,
)
from tests.model.condition.journal import AUTUMN, SPRING, entity
from tests.model.condition.small_boiler import SmallBoiler, hole_of

SPRING_TO_AUTUMN_YEARS = 183 / 365.25


@pytest.fixture
def boiler():
    """Inspections of 2024-04-10 and 2024-10-10."""
    return SmallBoiler({2: 20, 3: 5})


def record_of(boiler, number=2, at=AUTUMN):
    folded = boiler.folded()
    holes = {tube.hole for tube in folded.tubes if tube.pass_ == number}
    return recorded_losses(number, holes, folded, boiler.inspection(at, folded))


def lost_since_spring(boiler):
    folded = boiler.folded()
    found = newly_lost(
        [tube.hole for tube in folded.tubes],
        boiler.inspection(AUTUMN, folded),
        boiler.inspection(SPRING, folded),
    )
    return {tube.key for tube in folded.tubes if tube.hole in found}


# ------------------------------------------------------------------ since the record began


def test_without_history_the_record_begins_with_the_first_inspection(boiler):
    boiler.see("2.1", "leaking", "front", at=SPRING, leak_at="bore")
    found = record_of(boiler)
    assert (found.began, found.lost, found.undated_plugs) == ("2024-04-10", 1, 0)
    assert found.years == pytest.approx(SPRING_TO_AUTUMN_YEARS)


def test_the_first_loss_or_work_of_the_pass_begins_its_record_and_not_that_of_another(boiler):
    boiler.journal.event("plug", "2014-03", hole=hole_of("3.1"))
    boiler.journal.event("leak", "2016", **{"pass": 3, "count": 2})
    boiler.journal.event("re-roll", "2018-05-02", **{"pass": 2, "count": 4})
    two, three = record_of(boiler), record_of(boiler, 3)
    assert (two.began, two.lost) == ("2018-05-02", 0)
    assert (three.began, three.lost) == ("2014-03", 3)
    assert three.years == pytest.approx((3846) / 365.25)  # from 2014-03-31


def test_work_on_the_whole_boiler_is_of_every_pass(boiler):
    boiler.journal.event("cleaned", "2017-02-08")
    assert {record_of(boiler, number).began for number in (2, 3)} == {"2017-02-08"}


def test_what_comes_after_the_inspection_is_no_record_of_it(boiler):
    boiler.journal.event("leak", "2025-01-01", hole=hole_of("2.1"))
    found = record_of(boiler, at=SPRING)
    assert (found.began, found.years, found.lost) == ("2024-04-10", 0.0, 0)


def test_an_inspection_of_other_passes_does_not_begin_the_record_of_this_one():
    boiler = SmallBoiler({2: 20, 3: 5}, scope="passes", of_passes=(3,))
    early = entity("inspearly")
    body = {"inspection": early, "date": "2020-01-01", "scope": "passes", "passes": [3]}
    boiler.journal.add("inspection", body)
    assert record_of(boiler).began == "2024-04-10"
    assert record_of(boiler, 3).began == "2020-01-01"
    folded = boiler.folded()
    until = boiler.inspection(early, folded)
    assert first_look(2, folded, until) is None
    assert first_look(3, folded, until) is until


def test_plugs_that_stood_at_the_first_look_have_no_date_and_are_not_among_the_lost(boiler):
    boiler.see("2.1", "plugged", at=SPRING)
    boiler.see("2.2", "leaking", "front", at=SPRING, leak_at="not-found")
    boiler.see("2.3", "plugged")  # nobody had looked at it in spring
    boiler.see("2.4", "sound", at=SPRING)
    boiler.see("2.4", "plugged")
    found = record_of(boiler)
    assert (found.lost, found.undated_plugs) == (2, 2)


def test_a_plug_with_a_date_or_of_this_outage_is_a_loss_at_the_first_look(boiler):
    boiler.journal.event("plug", "2020-05-05", hole=hole_of("2.1"))
    boiler.see("2.1", "plugged", at=SPRING)
    boiler.see("2.2", "sound", at=SPRING)
    boiler.work("2.2", "plug", at=SPRING)
    found = record_of(boiler)
    assert (found.lost, found.undated_plugs) == (2, 0)


# ------------------------------------------------------------------ which stopped the boiler


def stopped(boiler, number=2):
    """Whether each loss of a pass stopped the boiler, by tube key; those of no tube under None."""
    folded = boiler.folded()
    keys = {tube.hole: tube.key for tube in folded.tubes if tube.pass_ == number}
    losses = losses_of_pass(number, keys.keys(), folded, boiler.inspection(AUTUMN, folded))
    return {keys.get(loss.hole): loss.stopped for loss in losses}


def test_dated_events_and_work_between_inspections_stopped_the_boiler(boiler):
    boiler.journal.event("leak", "2016-11-03", hole=hole_of("2.1"))
    boiler.journal.event("leak", "2017", **{"pass": 2, "count": 2})
    boiler.journal.works("plug", at=None, hole=hole_of("2.2"), done_on="2024-07-01")
    assert stopped(boiler) == {"2.1": True, None: True, "2.2": True}


def test_what_an_inspection_found_or_its_outage_plugged_stopped_nothing(boiler):
    boiler.see("2.1", "split", "rear")
    boiler.see("2.2", "leaking", "front", leak_at="bore")
    boiler.work("2.3", "plug")
    # Plugged later, but found leaking before.
    boiler.see("2.4", "leaking", "front", at=SPRING, leak_at="bore")
    boiler.journal.works("plug", at=None, hole=hole_of("2.4"), done_on="2024-07-01")
    assert stopped(boiler) == dict.fromkeys(("2.1", "2.2", "2.3", "2.4"), False)


def test_a_loss_of_the_day_of_an_inspection_is_of_its_outage(boiler):
    boiler.journal.works("plug", at=None, hole=hole_of("2.1"), done_on="2024-10-10")
    boiler.journal.works("plug", at=None, hole=hole_of("2.2"), done_on="2024-10-09")
    assert stopped(boiler) == {"2.1": False, "2.2": True}


def test_of_a_plug_that_was_found_without_a_date_no_record_tells(boiler):
    boiler.see("2.1", "plugged", at=SPRING)
    boiler.see("2.2", "sound", at=SPRING)
    boiler.see("2.2", "plugged")
    boiler.see("2.3", "plugged", "front")
    boiler.see("2.3", "leaking", "rear", leak_at="bore")
    assert stopped(boiler) == {"2.1": None, "2.2": None, "2.3": False}


def test_what_leaks_in_a_leak_call_stopped_the_boiler_and_what_is_plugged_to_be_safe_did_not():
    boiler = SmallBoiler({2: 20}, scope="leak-call")
    boiler.see("2.4", "sound", at=SPRING)
    boiler.see("2.1", "split", "front")
    boiler.work("2.1", "plug")
    boiler.see("2.2", "thinned")
    boiler.work("2.2", "plug")
    boiler.work("2.3", "plug")  # nobody wrote down what it was like
    boiler.see("2.4", "plugged")  # open in spring
    boiler.see("2.5", "plugged")  # nobody knows since when
    boiler.journal.works("plug", at=None, hole=hole_of("2.6"), done_on="2024-10-10")
    assert stopped(boiler) == {
        "2.1": True, "2.2": False, "2.3": True, "2.4": True, "2.5": None, "2.6": True,
    }  # fmt: skip


def test_stops_are_counted_by_tubes_and_what_no_record_tells_on_neither_side(boiler):
    boiler.journal.event("leak", "2017", **{"pass": 2, "count": 3})
    boiler.see("2.1", "plugged", at=SPRING)
    boiler.see("2.2", "split", at=SPRING)
    boiler.see("2.3", "split")
    folded = boiler.folded()
    holes = {tube.hole for tube in folded.tubes}
    losses = losses_of_pass(2, holes, folded, boiler.inspection(AUTUMN, folded))
    assert count_stops(losses) == Stops(stopping=3, when_down=2)
    assert sum(loss.count for loss in losses) == 6
    assert count_stops([]) == Stops(stopping=0, when_down=0)


# ------------------------------------------------------------------ between two inspections


def test_lost_since_the_inspection_before_are_leaks_splits_and_plugs_but_no_joints(boiler):
    boiler.see_rest(at=SPRING)
    boiler.see("2.1", "split", "rear")
    boiler.see("2.2", "leaking", "front", leak_at="bore")
    boiler.see("2.3", "leaking", "front", leak_at="joint")
    boiler.work("2.4", "plug")
    boiler.journal.works("plug", at=None, hole=hole_of("2.5"), done_on="2024-07-01")
    assert lost_since_spring(boiler) == {"2.1", "2.2", "2.4", "2.5"}


def test_what_was_lost_before_is_not_lost_anew(boiler):
    boiler.see("2.1", "split", at=SPRING)
    boiler.see("2.2", "plugged", at=SPRING)
    boiler.work("2.3", "plug", at=SPRING)
    for key in ("2.1", "2.2", "2.3"):
        boiler.see(key, "plugged")
    assert lost_since_spring(boiler) == set()


def test_a_tube_renewed_in_between_is_another_tube(boiler):
    boiler.see_rest(at=SPRING)
    boiler.work("2.1", "replace", at=SPRING)
    boiler.journal.works("replace", at=None, hole=hole_of("2.2"), done_on="2024-07-01")
    for key in ("2.1", "2.2", "2.3"):
        boiler.see(key, "split", "front")
    assert lost_since_spring(boiler) == {"2.3"}
