"""The scatter of repeated readings: the pooled formula against other libraries, and what counts."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import f_oneway

from model.errors import OutOfRange
from model.wall.repeatability import gauge_repeatability, pooled_deviation
from model.wall.trusted_readings import trusted_readings
from tests.model.condition.journal import AUTUMN, SPRING
from tests.model.condition.small_boiler import SmallBoiler, hole_of

walls_mm = st.integers(500, 4000).map(lambda hundredths: hundredths / 1000.0)
groups = st.lists(st.lists(walls_mm, min_size=2, max_size=6), min_size=1, max_size=8)


@given(groups=groups)
def test_numpy_pools_the_variances_to_the_same(groups):
    freedom = [len(group) - 1 for group in groups]
    variances = [np.var(group, ddof=1) for group in groups]
    judge = math.sqrt(np.average(variances, weights=freedom))
    found = pooled_deviation(groups)
    assert found.degrees_of_freedom == sum(freedom)
    # Rounding of a mean of some mm: 1e-15, whose root remains where all readings are alike.
    assert found.deviation == pytest.approx(judge, rel=1e-9, abs=1e-12)


def test_the_analysis_of_variance_of_scipy_rests_on_the_same_scatter():
    groups = [[2.41, 2.44, 2.40], [2.92, 2.95], [1.88, 1.83, 1.86, 1.87]]
    found = pooled_deviation(groups)
    every = np.concatenate(groups)
    between = sum(len(g) * (np.mean(g) - every.mean()) ** 2 for g in groups) / (len(groups) - 1)
    assert between / found.deviation**2 == pytest.approx(float(f_oneway(*groups).statistic))
    assert found.degrees_of_freedom == 6


@given(groups=groups, shifts=st.lists(st.floats(-2.0, 2.0), min_size=8, max_size=8))
def test_how_much_places_differ_does_not_matter(groups, shifts):
    moved = [[x + shift for x in group] for group, shift in zip(groups, shifts, strict=False)]
    assert pooled_deviation(moved).deviation == pytest.approx(
        pooled_deviation(groups).deviation, abs=1e-9
    )


def test_a_place_read_once_says_nothing():
    assert pooled_deviation([]) is pooled_deviation([[2.0], [3.0]]) is None
    assert pooled_deviation([[2.0, 2.2], [9.0]]) == pooled_deviation([[2.0, 2.2]])


def test_what_is_no_number_is_refused():
    with pytest.raises(OutOfRange, match="reading is nan, but must be a finite number"):
        pooled_deviation([[2.0, math.nan]])


# ---------------------------------------------------------------------- what counts of a record

PLACE = {"end": "front", "at_mm": 200, "clock_h": 6, "method": "ultrasonic", "accuracy_mm": 0.1}


@pytest.fixture
def boiler():
    return SmallBoiler({2: 6})


def found_of(boiler):
    folded = boiler.folded()
    inspection = boiler.inspection(AUTUMN, folded)
    return gauge_repeatability(
        inspection, trusted_readings(folded, inspection, default_wall_mm=3.0)
    )


def test_repeated_readings_of_one_place_speak_and_others_do_not(boiler):
    boiler.measure("2.1", 2.50, **PLACE)
    boiler.measure("2.1", 2.54, **PLACE)
    boiler.measure("2.2", 2.00, **PLACE)
    boiler.measure("2.2", 2.04, **PLACE)
    boiler.measure("2.1", 1.0, **{**PLACE, "at_mm": 210})
    boiler.measure("2.1", 1.0, **{**PLACE, "end": "rear"})
    boiler.measure("2.1", 1.0, **{**PLACE, "clock_h": 3})
    boiler.measure("2.1", 1.0, at=SPRING, **PLACE)
    boiler.measure("2.1", 1.0, in_rolled_zone=True, **PLACE)
    for missing in ("end", "at_mm", "clock_h"):
        for wall_mm in (1.0, 2.0):
            boiler.measure("2.3", wall_mm, **{**PLACE, missing: None})
    (found,) = found_of(boiler)
    assert (found.places, found.readings, found.degrees_of_freedom) == (2, 4, 2)
    assert found.deviation_mm == pytest.approx(0.04 / math.sqrt(2))
    assert (found.method, found.accuracy_mm) == ("ultrasonic", 0.1)
    assert not found.is_beyond_stated_error


def test_each_gauge_has_a_scatter_of_its_own(boiler):
    boiler.measure("2.1", 2.50, instrument="Gauge B", **PLACE)
    boiler.measure("2.1", 2.90, instrument="gauge b", **PLACE)
    boiler.measure("2.1", 2.00, instrument="Gauge A", **PLACE)
    boiler.measure("2.1", 2.00, instrument="Gauge A", **PLACE)
    first, second = found_of(boiler)
    assert (first.instrument, first.deviation_mm) == ("Gauge A", 0.0)
    assert second.instrument == "Gauge B"
    assert second.is_beyond_stated_error


def test_a_new_tube_is_another_place(boiler):
    boiler.measure("2.1", 2.0, **PLACE)
    boiler.journal.works("replace", at=AUTUMN, hole=hole_of("2.1"))
    boiler.measure("2.1", 3.0, purpose="baseline", **PLACE)
    assert found_of(boiler) == ()
