"""The unmeasured tubes that come to the retirement wall, year by year, and where they stop.

Not here: which tubes are alike (``test_pass_forecast``), the law (``test_forecast``).
"""

from functools import lru_cache
from itertools import pairwise
from random import Random

import pytest

from model.condition.boiler_facts import document_facts
from model.condition.tubes import WallConcerns, tube_conditions
from model.wall.below_ahead import expected_below
from model.wall.pass_forecast import forecast_pass
from model.wall.pivots import simulate_pivots
from model.wall.trusted_readings import trusted_readings
from tests.model.condition.journal import AUTUMN
from tests.model.condition.small_boiler import SmallBoiler, hole_of

TUBES = 30
WALLS_MM = (2.9, 2.85, 2.8, 2.78, 2.86, 2.82, 2.75, 2.7, 2.88, 2.84, 2.6, 2.81)


@lru_cache
def few_pivots(sample_size):
    return simulate_pivots(sample_size=sample_size, chance=Random(3), simulations=400)


@pytest.fixture
def boiler():
    small = SmallBoiler({2: TUBES}, stays=("2.30",), sizes={"2.30": {"wall_mm": 6.0}})
    for number, wall_mm in enumerate(WALLS_MM, start=1):
        small.measure(f"2.{number}", wall_mm)
    return small


def asked(boiler, *, installed="2014-10-10", retirement_mm=2.0, wall_mm=3.0):
    folded = boiler.folded()
    inspection = boiler.inspection(AUTUMN, folded)
    facts = document_facts(
        "b",
        {"tubes": {"wall_mm": wall_mm, "installed": installed}},
        {"wall": {} if retirement_mm is None else {"stated_mm": retirement_mm}},
    )
    tubes = tube_conditions(folded, inspection, WallConcerns())
    trusted = trusted_readings(folded, inspection, default_wall_mm=wall_mm)
    return tubes, inspection, trusted, facts


def ahead(boiler, *, years=5, **given):
    return expected_below(*asked(boiler, **given), years=years, pivots_of=few_pivots)


def test_now_and_at_a_year_it_says_what_the_forecast_says(boiler):
    found = ahead(boiler)
    forecast = forecast_pass(
        2,
        *asked(boiler),
        next_outage="2026-10-10",
        pivots_of=few_pivots,
        chance=Random(4),
    )
    assert len(found.expected) == 6
    assert found.expected[0] == forecast.now.expected_below
    assert found.expected[2] == pytest.approx(forecast.at_outage.expected_below, rel=0.01)


def test_every_year_brings_more_and_never_more_than_there_are(boiler):
    found = ahead(boiler, years=60)
    assert all(before < after for before, after in pairwise(found.expected))
    assert found.expected[-1] <= len(found.holes)


def test_the_tubes_spoken_for_are_those_alike_and_the_others_are_counted(boiler):
    boiler.work("2.20", "plug")
    boiler.work("2.21", "replace")
    found = ahead(boiler)
    spoken_for = {*range(13, 20), *range(22, 30)}
    assert found.holes == {hole_of(f"2.{number}") for number in spoken_for}
    assert found.not_alike == 1  # the stay tube


def test_without_an_age_it_stops_at_now_and_says_why(boiler):
    found = ahead(boiler, installed=None)
    assert len(found.expected) == 1
    assert "The day from which these tubes stand is not known" in found.why_short


@pytest.mark.parametrize(
    ("given", "reason"),
    [
        ({"retirement_mm": None}, "no retirement wall"),
        ({"wall_mm": None}, "as supplied is not known"),
    ],
)
def test_without_a_wall_to_come_to_or_from_there_is_nothing(boiler, given, reason):
    found = ahead(boiler, **given)
    assert found.expected == ()
    assert reason in found.why_short


def test_with_few_readings_there_is_nothing_either():
    small = SmallBoiler({2: 4})
    small.measure("2.1", 2.9)
    found = ahead(small)
    assert (found.expected, len(found.holes)) == ((), 3)
    assert "a forecast needs at least 10" in found.why_short


def test_where_every_tube_was_measured_nothing_lacks():
    small = SmallBoiler({2: 2})
    small.measure("2.1", 2.9)
    small.measure("2.2", 2.8)
    found = ahead(small, years=3)
    assert (found.expected, found.why_short) == ((0.0,) * 4, None)
