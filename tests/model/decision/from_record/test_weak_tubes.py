"""Which tubes are weak, by what people saw, by their wall and by its rate, each with its reason.

Not here: bad tubes (``tests/model/condition``).
"""

import pytest

from model.decision.from_record.weak_tubes import was_weak
from tests.model.condition.journal import AUTUMN, SPRING
from tests.model.condition.small_boiler import SmallBoiler, hole_of
from tests.model.decision.recorded import describe, recorded, state

PLACE = {"end": "rear", "at_mm": 3450.0}


def finding(mechanism, grade):
    return {"findings": [{"mechanism": mechanism, "side": "fire", "grade": grade, "note": ""}]}


@pytest.fixture
def boiler():
    small = SmallBoiler({2: 10})
    describe(small)
    state(small, "wall", stated_mm=1.8)
    return small


def test_a_thinned_tube_is_weak_whatever_its_other_end_is(boiler):
    boiler.see("2.1", "thinned", "front")
    boiler.see("2.2", "thinned", "front")
    boiler.see("2.2", "leaking", "rear", leak_at="joint")
    assert recorded(boiler).weak == {"2.1": "thinned", "2.2": "thinned"}


def test_a_carried_thinned_state_is_weak_until_somebody_looks(boiler):
    boiler.see("2.1", "thinned", at=SPRING)
    boiler.see("2.2", "thinned", at=SPRING)
    boiler.see("2.2", "sound")
    assert set(recorded(boiler).weak) == {"2.1"}


@pytest.mark.parametrize(
    ("mechanism", "grade", "reason"),
    [
        ("circumferential-crack", "watch", "circumferential crack, to watch"),
        ("bead-cracked", "watch", "bead cracked, to watch"),
        ("end-burned", "watch", "end burned, to watch"),
        ("end-burned", "note", None),
        ("scale", "watch", None),
        ("bead-cracked", "act", None),  # bad
    ],
)
def test_a_crack_or_a_burned_end_to_watch_is_weak_and_other_findings_are_not(
    boiler, mechanism, grade, reason
):
    boiler.see("2.1", "sound", "rear", **finding(mechanism, grade))
    assert recorded(boiler).weak.get("2.1") == reason


def test_measured_thin_and_within_the_gauges_error_say_the_wall(boiler):
    boiler.measure("2.1", 2.3, accuracy_mm=0.1)
    boiler.measure("2.2", 1.85, accuracy_mm=0.1)
    boiler.measure("2.3", 2.9, accuracy_mm=0.1)
    state(boiler, "outage", interval_years=0.1)  # so that no life is short
    assert recorded(boiler).weak == {
        "2.1": "2.30 mm, measured thin",
        "2.2": "1.85 mm, measured thin and within the gauge's error of the retirement wall",
    }


@pytest.mark.parametrize(("interval_years", "is_weak"), [(1.0, False), (2.0, True)])
def test_a_wall_that_lasts_less_than_two_intervals_is_weak(boiler, interval_years, is_weak):
    boiler.measure("2.1", 2.9, at=SPRING, **PLACE)
    boiler.measure("2.1", 2.75, **PLACE)  # 0.95 mm left at 0.3 mm a year: 3.2 years
    state(boiler, "outage", interval_years=interval_years)
    weak = recorded(boiler).weak
    assert ("2.1" in weak) is is_weak
    if is_weak:
        assert weak["2.1"] == (
            "its wall lasts 3.2 years, less than twice the 2 years between planned outages"
        )


def test_bad_plugged_and_renewed_tubes_are_not_weak(boiler):
    for key in ("2.1", "2.2", "2.3"):
        boiler.see(key, "thinned")
        boiler.measure(key, 2.2)
    boiler.see("2.3", "split", "rear")
    boiler.work("2.1", "plug")
    boiler.work("2.2", "replace")
    assert recorded(boiler).weak == {}


def test_the_new_tube_of_a_hole_is_judged_by_its_own_wall(boiler):
    boiler.measure("2.1", 2.2)
    boiler.work("2.1", "replace")
    boiler.measure("2.1", 1.85, purpose="baseline", accuracy_mm=0.1)
    assert recorded(boiler).weak == {
        "2.1": "1.85 mm, within the gauge's error of the retirement wall"
    }


# ------------------------------------------------------------------ weak then


@pytest.mark.parametrize(
    ("seen", "measured_mm", "is_weak"),
    [
        (("thinned", {}), None, True),
        (("sound", finding("bead-cracked", "watch")), None, True),
        (("sound", finding("bowed", "act")), None, True),
        (("sound", finding("bowed", "watch")), None, False),
        (("sound", {}), 2.4, False),  # of 3.0 mm exactly the 20 % to be noted
        (("sound", {}), 2.39, True),
        (("sound", {}), 1.7, True),
        (("sound", {}), None, False),
    ],
)
def test_weak_then_is_weak_by_what_was_found_then(boiler, seen, measured_mm, is_weak):
    said, more = seen
    boiler.see("2.1", said, "rear", **more)
    if measured_mm is not None:
        boiler.measure("2.1", measured_mm)
    walls = boiler.walls(wall_mm=3.0, retirement_mm=1.8)
    found = was_weak(
        hole_of("2.1"),
        boiler.inspection(AUTUMN),
        walls.today.get(hole_of("2.1")),
        note_percent=20.0,
    )
    assert found is is_weak
