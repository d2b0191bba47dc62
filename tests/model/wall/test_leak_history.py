"""Which tubes count as lost, when, and what a pass's history says.

Not here: the laws themselves (``test_leak_process``, ``test_weibull``).
"""

from datetime import date
from math import log

import pytest

from model.condition.boiler_facts import document_facts
from model.condition.tubes import WallConcerns, tube_conditions
from model.wall.leak_history import pass_leaks
from tests.model.condition.journal import AUTUMN, SPRING
from tests.model.condition.small_boiler import SmallBoiler, hole_of

INSTALLED = date(2014, 10, 10)
SPRING_DAY, AUTUMN_DAY = date(2024, 4, 10), date(2024, 10, 10)


@pytest.fixture
def boiler():
    return SmallBoiler({2: 20, 3: 5})


def leaks(boiler, at=AUTUMN, *, installed="2014-10-10", number=2, next_years=1.0):
    folded = boiler.folded()
    inspection = boiler.inspection(at, folded)
    tubes = tube_conditions(folded, inspection, WallConcerns())
    return pass_leaks(
        number,
        [each for each in tubes if each.tube.pass_ == number],
        folded,
        inspection,
        document_facts("b", {"tubes": {"installed": installed}}, {}),
        next_years=next_years,
    )


def years(day):
    return (day - INSTALLED).days / 365.25


def test_a_leak_counts_once_however_long_it_is_seen(boiler):
    boiler.see("2.1", "leaking", "front", at=SPRING, leak_at="bore")
    boiler.see("2.1", "leaking", "front", leak_at="bore")
    boiler.journal.works("plug", at=AUTUMN, hole=hole_of("2.1"), ends=["front", "rear"])
    assert leaks(boiler).lost == 1


def test_joint_leaks_stand_apart(boiler):
    boiler.see("2.1", "leaking", "front", leak_at="joint")
    boiler.see("2.2", "leaking", "front", leak_at="ligament")
    found = leaks(boiler)
    assert (found.lost, found.joint_leaks) == (1, 1)


def test_splits_and_plugs_without_a_leak_count_and_other_passes_do_not(boiler):
    boiler.see("2.1", "split", "front")
    boiler.journal.works("plug", at=AUTUMN, hole=hole_of("2.2"), ends=["front"])
    boiler.see("3.1", "split", "front")
    assert leaks(boiler).lost == 2
    assert leaks(boiler, number=3).lost == 1


def test_the_leak_of_a_new_tube_in_the_same_hole_counts_again(boiler):
    boiler.see("2.1", "leaking", "front", at=SPRING, leak_at="bore")
    boiler.journal.works("replace", at=SPRING, hole=hole_of("2.1"))
    boiler.see("2.1", "leaking", "front", leak_at="bore")
    assert leaks(boiler).lost == 2


def test_history_counts_by_hole_and_by_number_but_not_from_before_the_tubes(boiler):
    boiler.journal.event("leak", "2019-05", hole=hole_of("2.1"))
    boiler.journal.event("plug", "2019-06", hole=hole_of("2.1"))
    boiler.journal.event("leak", "2020", **{"pass": 2, "count": 3})
    boiler.journal.event("plug", "2020", **{"pass": 2, "count": 3})
    boiler.journal.event("leak", "2010", **{"pass": 2, "count": 5})
    boiler.journal.event("leak", "2025-01-01", hole=hole_of("2.2"))
    assert leaks(boiler).lost == 4


def test_what_an_inspection_finds_came_in_the_middle_of_the_time_since_the_last(boiler):
    boiler.journal.event("leak", "2018-10-10", hole=hole_of("2.1"))
    boiler.see("2.2", "split", "front", at=SPRING)
    boiler.see("2.3", "split", "front")
    found = leaks(boiler)
    times = [
        years(date(2018, 10, 10)),
        years(SPRING_DAY) / 2,
        (years(SPRING_DAY) + years(AUTUMN_DAY)) / 2,
    ]
    assert found.growth.until_years == pytest.approx(years(AUTUMN_DAY))
    by_hand = 3 / sum(log(years(AUTUMN_DAY) / time) for time in times)
    assert found.growth.beta == pytest.approx(by_hand)
    assert found.shape_bounds[0] < found.growth.beta < found.shape_bounds[1]
    assert found.expected_next > 0
    assert found.law is not None
    assert found.law.share_failed(years(AUTUMN_DAY)) == pytest.approx(3 / 20, abs=0.02)


def test_fewer_than_three_losses_are_too_little_and_give_a_bound_instead(boiler):
    boiler.see("2.1", "split", "front")
    boiler.see("2.2", "split", "front")
    found = leaks(boiler)
    assert found.growth is found.law is found.expected_next is None
    assert "too little to conclude" in found.why_no_growth
    # Poisson, 90 %, two seen: 5.322 is the tabled upper limit.
    assert found.upper_bound == pytest.approx(5.322, abs=0.001)


def test_without_the_day_from_which_the_tubes_stand_nothing_is_fitted(boiler):
    for key in ("2.1", "2.2", "2.3"):
        boiler.see(key, "split", "front")
    found = leaks(boiler, installed=None)
    assert (found.lost, found.growth, found.law) == (3, None, None)
    assert "not known" in found.why_no_growth


def test_losses_that_were_all_noted_in_one_outage_give_no_growth(boiler):
    """Years to the power of the shape would be no number any more."""
    boiler.see("2.1", "split", "front")
    for key in ("2.2", "2.3"):
        boiler.journal.works("plug", at=AUTUMN, hole=hole_of(key), ends=["front"])
    found = leaks(boiler, installed="1964-10-10")
    assert (found.lost, found.growth) == (3, None)
    assert "no growth can be told" in found.why_no_growth
    found = leaks(boiler, installed="2014-10-10")  # a shape of 120
    assert (found.growth, found.expected_next) == (None, None)
    assert found.why_no_growth.startswith("Nearly all losses were noted at the end")
