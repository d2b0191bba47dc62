"""Further planned readings until the bound is close enough, or why no number of them does it."""

import functools
import math
from random import Random

import pytest

from model.errors import OutOfRange
from model.wall.forecast import NoForecast, WorstForecast, forecast_worst, readings_for_width
from model.wall.more_readings import more_readings
from model.wall.pivots import simulate_pivots


@functools.cache
def forecast(sigma_mm):
    pivots = simulate_pivots(sample_size=12, chance=Random(5), simulations=1000)
    # The law's own shares: a sample that fits it as well as any.
    losses = [0.4 - sigma_mm * math.log(-math.log((n + 0.5) / 12)) for n in range(12)]
    found = forecast_worst(losses, tubes=200, chance=Random(0), pivots=pivots)
    assert isinstance(found, WorstForecast)
    return found


def test_a_bound_that_is_close_enough_needs_no_more():
    plan = more_readings(forecast(0.02), chance=Random(1))
    assert (plan.more, plan.why_not) == (0, None)
    assert plan.width_now_mm < plan.width_mm == 0.2


def test_more_are_needed_beyond_those_at_hand():
    found = forecast(0.065)
    plan = more_readings(found, chance=Random(1))
    assert plan.width_now_mm == pytest.approx(found.bound_mm - found.most_likely_worst_mm)
    assert plan.width_now_mm > 0.2
    assert plan.more == readings_for_width(found, width_mm=0.2, chance=Random(1)) - 12
    assert plan.more > 0


def test_where_the_worst_scatters_by_itself_no_number_does_it():
    plan = more_readings(forecast(0.3), chance=Random(1))
    assert plan.more is None
    assert "scatters by itself" in plan.why_not


def test_without_a_forecast_there_is_no_number_and_a_reason():
    plan = more_readings(NoForecast(reason="Too few."), chance=Random(1), width_mm=0.3)
    assert (plan.width_mm, plan.width_now_mm, plan.more) == (0.3, None, None)
    assert "no forecast yet" in plan.why_not


def test_a_width_of_nothing_is_refused():
    with pytest.raises(OutOfRange, match=r"width_mm is 0\.0, but must be above 0"):
        more_readings(forecast(0.02), chance=Random(1), width_mm=0.0)
