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
    """The record begins with the tubes."""
    boiler = SmallBoiler({2: 20, 3: 5})
    boiler.journal.event("cleaned", "2014-10-10")
    return boiler


def leaks(boiler, at=AUTUMN, *, installed="2014-10-10", number=2, next_years=1.0, earlier=()):
    folded = boiler.folded()
    inspection = boiler.inspection(at, folded)
    tubes = tube_conditions(folded, inspection, WallConcerns())
    return pass_leaks(
        number,
        [each for each in tubes if each.tube.pass_ == number],
        folded,
        inspection,
        document_facts(
            "b",
            {"tubes": {"installed": installed}, "identity": {"earlier_retubes": list(earlier)}},
            {},
        ),
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


@pytest.mark.parametrize(
    ("installed", "cleaned", "began"),
    [
        ("2020-10-10", None, SPRING_DAY),  # the first inspection
        ("2020-10-10", "2022-01-01", date(2022, 1, 1)),
        ("2022-01-01", "2020-10-10", date(2022, 1, 1)),
        (None, "2021-01-01", date(2021, 1, 1)),
    ],
)
def test_the_years_on_record_are_those_of_the_tubes_as_far_as_the_record_reaches(
    installed, cleaned, began
):
    boiler = SmallBoiler({2: 20})
    if cleaned is not None:
        boiler.journal.event("cleaned", cleaned)
    found = leaks(boiler, installed=installed)
    assert found.years_on_record == pytest.approx((AUTUMN_DAY - began).days / 365.25, abs=0.01)


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
    boiler.journal.event("cleaned", "1964-10-10")
    found = leaks(boiler, installed="1964-10-10")
    assert (found.lost, found.growth) == (3, None)
    assert "no growth can be told" in found.why_no_growth
    found = leaks(boiler, installed="2014-10-10")  # a shape of 120
    assert (found.growth, found.expected_next) == (None, None)
    assert found.why_no_growth.startswith("Nearly all losses were noted at the end")


def lose_three(boiler, number):
    for column, day in enumerate(("2018-10-10", "2020-10-10", "2023-10-10"), start=1):
        boiler.journal.event("leak", day, hole=hole_of(f"{number}.{column}"))


def test_a_retube_that_names_its_pass_leaves_the_others_their_age(boiler):
    lose_three(boiler, 2)
    lose_three(boiler, 3)
    earlier = ["2011-08, pass 2"]
    two, three = leaks(boiler, earlier=earlier), leaks(boiler, number=3, earlier=earlier)
    assert (two.since, two.growth) == (None, None)
    assert three.since == "2014-10-10"
    assert three.growth is not None
    unnamed = leaks(boiler, number=3, earlier=["2011-08"])
    assert (unnamed.since, unnamed.growth) == (None, None)


def test_a_retube_on_record_begins_a_life_whatever_was_renewed_before(boiler):
    boiler.journal.event("retubed", "2016-10-10", **{"pass": 2})
    lose_three(boiler, 2)
    found = leaks(boiler, installed="2001", earlier=["2011-08, pass 2"])
    assert found.since == "2016-10-10"
    assert found.growth.until_years == pytest.approx(2922 / 365.25)


@pytest.mark.parametrize(("installed", "is_fitted"), [("2012-10-10", True), ("2012-10-09", False)])
def test_growth_and_law_are_fitted_where_the_record_reaches_back(boiler, installed, is_fitted):
    """The record begins on 2014-10-10: two years after, or two years and a day."""
    lose_three(boiler, 2)
    found = leaks(boiler, installed=installed)
    assert (found.lost, found.since) == (3, installed)
    assert (found.growth is not None, found.law is not None) == (is_fitted, is_fitted)


def test_a_record_that_begins_late_tells_no_growth_and_says_why(boiler):
    lose_three(boiler, 2)
    found = leaks(boiler, installed="2001-10-10")
    assert found.growth is found.shape_bounds is found.expected_next is found.law is None
    assert found.why_no_law == found.why_no_growth
    assert found.why_no_growth == (
        "The record of these tubes begins 13 years after they were put in, so how losses grow with "
        "age cannot be told."
    )
    assert leaks(boiler, installed="2001-10-10", number=3).why_no_growth.startswith("0 of at least")
