"""Rates and life of tubes: what is compared with what, on one tube with readings set by hand.

Not here: the equations (``test_life``).
"""

import pytest

from model.condition.boiler_facts import document_facts
from model.wall.governing import inspection_walls
from model.wall.tube_life import FROM_SUPPLIED, NO_START, PLUGGED, SCATTER, TOO_YOUNG, tube_lives
from tests.model.condition.journal import AUTUMN, SPRING, entity
from tests.model.condition.small_boiler import SmallBoiler, hole_of

FIRST = entity("inspfirst")
HOLE = hole_of("2.1")
PLACE = {"end": "rear", "at_mm": 3450.0}
OLDER_YEARS = 731 / 365.25
HALF_YEAR = 183 / 365.25


@pytest.fixture
def boiler():
    """Inspections of 2022-04-10, 2024-04-10 and 2024-10-10."""
    small = SmallBoiler({2: 2})
    small.journal.inspection(FIRST, "2022-04-10")
    return small


def life_of(boiler, *, retirement_mm=1.8, installed=None, legal_years=None, identity=None):
    folded = boiler.folded()
    inspection = boiler.inspection(AUTUMN, folded)
    wall = {} if retirement_mm is None else {"stated_mm": retirement_mm}
    outage = {} if legal_years is None else {"legal_interval_years": legal_years}
    facts = document_facts(
        "b",
        {"tubes": {"wall_mm": 3.0, "installed": installed}, "identity": identity or {}},
        {"wall": wall, "outage": outage},
    )
    walls = inspection_walls(
        folded, inspection, default_wall_mm=3.0, retirement_mm=facts.retirement_mm
    )
    return tube_lives(folded, inspection, walls, facts).get(HOLE)


def test_long_and_short_term_and_the_faster_one_governs(boiler):
    boiler.measure("2.1", 2.9, at=FIRST, **PLACE)
    boiler.measure("2.1", 2.5, at=SPRING, **PLACE)
    boiler.measure("2.1", 2.3, **PLACE)
    life = life_of(boiler)
    assert life.long_term_mm_per_year == pytest.approx(0.6 / (OLDER_YEARS + HALF_YEAR))
    assert life.short_term_mm_per_year == pytest.approx(0.2 / HALF_YEAR)
    assert life.governing_mm_per_year == life.short_term_mm_per_year
    assert life.remaining_life_years == pytest.approx(0.5 / (0.2 / HALF_YEAR))
    assert life.thinning_allows_years == pytest.approx(life.remaining_life_years / 2)
    assert (life.since, life.notes) == ("2022-04-10", ())


def test_with_two_readings_there_is_no_short_term(boiler):
    boiler.measure("2.1", 2.9, at=FIRST, **PLACE)
    boiler.measure("2.1", 2.7, **PLACE)
    life = life_of(boiler)
    assert life.short_term_mm_per_year is None
    assert life.governing_mm_per_year == life.long_term_mm_per_year > 0


@pytest.mark.parametrize(
    ("earlier", "is_like"),
    [
        ({"end": "rear", "at_mm": 3500.0}, True),
        ({"end": "rear", "at_mm": 3400.0}, True),
        ({"end": "rear", "at_mm": 3500.1}, False),
        ({"end": "front", "at_mm": 3450.0}, False),
        ({"end": "rear", "at_mm": None}, False),
        ({**PLACE, "in_rolled_zone": True}, False),
    ],
)
def test_only_one_end_and_one_place_are_compared(boiler, earlier, is_like):
    boiler.measure("2.1", 2.9, at=FIRST, **earlier)
    boiler.measure("2.1", 2.7, **PLACE)
    life = life_of(boiler)
    assert (life.governing_mm_per_year is not None) is is_like
    assert life.notes == (() if is_like else (NO_START,))


def test_two_readings_whose_distance_nobody_wrote_down_are_not_compared(boiler):
    boiler.measure("2.1", 2.9, at=FIRST, end="rear")
    boiler.measure("2.1", 2.7, end="rear")
    assert life_of(boiler).governing_mm_per_year is None


def test_a_new_tube_is_not_compared_with_the_one_before(boiler):
    boiler.measure("2.1", 1.9, at=FIRST, **PLACE)
    boiler.journal.works("replace", at=SPRING, hole=HOLE)
    boiler.measure("2.1", 3.1, **PLACE)
    assert life_of(boiler).governing_mm_per_year is None


def test_growth_is_scatter_and_taken_as_no_loss(boiler):
    boiler.measure("2.1", 2.6, at=FIRST, **PLACE)
    boiler.measure("2.1", 2.7, **PLACE)
    life = life_of(boiler)
    assert life.long_term_mm_per_year < 0
    assert (life.governing_mm_per_year, life.notes) == (0.0, (SCATTER,))
    assert (life.remaining_life_years, life.thinning_allows_years) == (None, 10.0)


def test_the_fastest_place_is_laid_on_the_thinnest_wall(boiler):
    boiler.measure("2.1", 2.9, at=SPRING, **PLACE)
    boiler.measure("2.1", 2.8, **PLACE)
    boiler.measure("2.1", 2.0, end="front", at_mm=100.0)
    life = life_of(boiler)
    assert life.wall_mm == 2.0
    assert life.remaining_life_years == pytest.approx(0.2 / (0.1 / HALF_YEAR))


def test_the_legal_interval_is_a_limit_too(boiler):
    boiler.measure("2.1", 2.9, at=FIRST, **PLACE)
    boiler.measure("2.1", 2.89, **PLACE)
    assert life_of(boiler).thinning_allows_years == 10.0
    assert life_of(boiler, legal_years=1.0).thinning_allows_years == 1.0


def test_without_a_retirement_wall_there_is_a_rate_and_no_life(boiler):
    boiler.measure("2.1", 2.9, at=FIRST, **PLACE)
    boiler.measure("2.1", 2.7, **PLACE)
    life = life_of(boiler, retirement_mm=None)
    assert life.governing_mm_per_year > 0
    assert life.remaining_life_years is life.thinning_allows_years is None


def test_below_the_retirement_wall_no_life_is_left(boiler):
    boiler.measure("2.1", 2.9, at=FIRST, **PLACE)
    boiler.measure("2.1", 1.5, **PLACE)
    life = life_of(boiler)
    assert (life.remaining_life_years, life.thinning_allows_years) == (0.0, 0.0)


def test_a_tube_plugged_today_has_a_rate_and_no_life(boiler):
    boiler.measure("2.1", 2.9, at=FIRST, **PLACE)
    boiler.measure("2.1", 2.7, **PLACE)
    boiler.journal.works("plug", at=AUTUMN, hole=HOLE, ends=["front", "rear"])
    life = life_of(boiler)
    assert life.governing_mm_per_year > 0
    assert (life.remaining_life_years, life.notes) == (None, (PLUGGED,))


def test_without_an_earlier_reading_it_starts_from_the_wall_as_supplied(boiler):
    boiler.measure("2.1", 2.5, **PLACE)
    life = life_of(boiler, installed="2014-10")
    assert life.long_term_mm_per_year == pytest.approx(0.5 / ((3650 - 21 + 3) / 365.25), rel=1e-3)
    assert (life.since, life.notes) == ("2014-10-31", (FROM_SUPPLIED,))


def test_where_tubes_were_renewed_before_the_record_the_boilers_day_says_nothing(boiler):
    boiler.measure("2.1", 2.5, **PLACE)
    assert life_of(boiler, installed="2014-10", identity={"earlier_retubes": ["2020"]}).notes == (
        NO_START,
    )


def test_a_retube_before_the_record_that_names_another_pass_leaves_this_one_its_day(boiler):
    boiler.measure("2.1", 2.5, **PLACE)
    life = life_of(boiler, installed="2014-10", identity={"earlier_retubes": ["2020, pass 3"]})
    assert (life.since, life.notes) == ("2014-10-31", (FROM_SUPPLIED,))
    life = life_of(boiler, installed="2014-10", identity={"earlier_retubes": ["2020, pass 2"]})
    assert life.notes == (NO_START,)


def test_a_tube_of_less_than_a_year_tells_no_rate(boiler):
    boiler.measure("2.1", 2.9, **PLACE)
    life = life_of(boiler, installed="2024-01")
    assert (life.governing_mm_per_year, life.notes) == (None, (TOO_YOUNG,))


def test_a_tube_that_was_not_measured_today_has_none(boiler):
    boiler.measure("2.1", 2.5, at=SPRING, **PLACE)
    assert life_of(boiler) is None
