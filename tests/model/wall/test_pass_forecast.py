"""Which tubes speak in a pass's forecast, which they speak for, and when there is none.

Not here: whether the bound holds (``test_forecast``).
"""

from functools import lru_cache
from random import Random

import pytest

from model.condition.boiler_facts import document_facts
from model.condition.tubes import WallConcerns, tube_conditions
from model.wall.pass_forecast import forecast_pass
from model.wall.pivots import simulate_pivots
from model.wall.trusted_readings import trusted_readings
from tests.model.condition.journal import AUTUMN, SPRING
from tests.model.condition.small_boiler import SmallBoiler, hole_of

TUBES = 30
WALLS_MM = (2.9, 2.85, 2.8, 2.78, 2.86, 2.82, 2.75, 2.7, 2.88, 2.84, 2.6, 2.81)


@lru_cache
def few_pivots(sample_size):
    return simulate_pivots(sample_size=sample_size, chance=Random(3), simulations=400)


@pytest.fixture
def boiler():
    return SmallBoiler({2: TUBES}, stays=("2.30",), sizes={"2.30": {"wall_mm": 6.0}})


def measure(boiler, walls_mm=WALLS_MM, **more):
    for number, wall_mm in enumerate(walls_mm, start=1):
        boiler.measure(f"2.{number}", wall_mm, **more)


def forecast(
    boiler, *, next_outage="2025-10-10", installed="2014-10-10", retirement_mm=2.0, earlier=()
):
    folded = boiler.folded()
    inspection = boiler.inspection(AUTUMN, folded)
    facts = document_facts(
        "b",
        {
            "tubes": {"wall_mm": 3.0, "installed": installed},
            "identity": {"earlier_retubes": list(earlier)},
        },
        {"wall": {} if retirement_mm is None else {"stated_mm": retirement_mm}},
    )
    return forecast_pass(
        2,
        tube_conditions(folded, inspection, WallConcerns()),
        inspection,
        trusted_readings(folded, inspection, default_wall_mm=3.0),
        facts,
        next_outage=next_outage,
        pivots_of=few_pivots,
        chance=Random(4),
    )


def test_planned_readings_speak_for_the_tubes_alike_that_nobody_measured(boiler):
    measure(boiler)
    found = forecast(boiler)
    assert (found.sample, found.unmeasured, found.left_out) == (12, TUBES - 12 - 1, 1)
    assert found.why_not is None
    assert found.now.bound_mm < found.now.most_likely_thinnest_mm < 2.9
    assert 0.0 < found.now.expected_below < 1.0
    assert "Anderson-Darling" in found.test


def test_suspect_and_baseline_readings_neither_speak_nor_are_spoken_for(boiler):
    measure(boiler)
    before = forecast(boiler)
    boiler.measure("2.20", 1.2, purpose="suspect")
    after = forecast(boiler)
    assert (after.sample, after.unmeasured) == (before.sample, before.unmeasured - 1)
    assert after.now.most_likely_thinnest_mm >= before.now.most_likely_thinnest_mm


def test_readings_of_an_earlier_inspection_do_not_speak(boiler):
    measure(boiler, at=SPRING)
    found = forecast(boiler)
    assert (found.sample, found.now) == (0, None)
    assert found.why_not == "Only 0 tubes were measured as planned; a forecast needs at least 10."


def test_plugged_and_renewed_tubes_are_not_spoken_for(boiler):
    measure(boiler)
    before = forecast(boiler).unmeasured
    boiler.journal.works("plug", at=AUTUMN, hole=hole_of("2.21"), ends=["front", "rear"])
    boiler.journal.works("replace", at=AUTUMN, hole=hole_of("2.22"))
    assert forecast(boiler).unmeasured == before - 2


def test_tubes_renewed_earlier_are_another_population(boiler):
    measure(boiler)
    boiler.journal.works("replace", at=SPRING, hole=hole_of("2.1"))
    found = forecast(boiler)
    assert (found.sample, found.left_out) == (11, 2)


def test_until_the_next_outage_losses_grow_with_the_age(boiler):
    measure(boiler)
    found = forecast(boiler)
    grown = 1 + 365 / 3653
    assert 3.0 - found.at_outage.bound_mm == pytest.approx(
        grown * (3.0 - found.now.bound_mm), rel=1e-9
    )
    assert found.at_outage.expected_below > found.now.expected_below
    assert found.at_outage.chance_of_none_below < found.now.chance_of_none_below


@pytest.mark.parametrize(
    ("given", "reason"),
    [
        ({"next_outage": None}, "next outage is not known"),
        ({"next_outage": "2024-01-01"}, "is not after this inspection"),
        ({"installed": None}, "from which these tubes stand is not known"),
        ({"installed": "2024-06"}, "less than a year"),
        ({"earlier": ["2011-08, pass 2"]}, "from which these tubes stand is not known"),
    ],
)
def test_without_an_age_or_an_outage_only_today_is_forecast(boiler, given, reason):
    measure(boiler)
    found = forecast(boiler, **given)
    assert found.now is not None
    assert found.at_outage is None
    assert reason in found.why_no_outage


def test_a_retube_before_the_record_of_another_pass_leaves_this_one_its_forecast(boiler):
    measure(boiler)
    assert forecast(boiler, earlier=["2011-08, pass 3"]).at_outage == forecast(boiler).at_outage


def test_without_a_retirement_wall_there_is_a_bound_and_no_count(boiler):
    measure(boiler)
    found = forecast(boiler, retirement_mm=None)
    assert found.now.bound_mm > 0
    assert found.now.expected_below is found.now.chance_of_none_below is None


def test_a_sample_of_two_kinds_is_refused_with_the_test_that_refused_it(boiler):
    measure(boiler, [2.95, 2.94, 2.93, 2.95, 2.94, 2.93, 1.0, 1.01, 1.02, 1.0, 1.01, 1.03])
    found = forecast(boiler)
    assert found.now is None
    assert "do not follow the law" in found.why_not
    assert "Anderson-Darling" in found.test


def test_the_tubes_to_measure_next_are_alike_unmeasured_and_stay_in_service(boiler):
    measure(boiler)
    boiler.journal.works("plug", at=AUTUMN, hole=hole_of("2.21"), ends=["front", "rear"])
    boiler.journal.works("replace", at=AUTUMN, hole=hole_of("2.22"))
    boiler.see("2.18", "split")
    boiler.measure("2.20", 1.2, purpose="suspect")
    found = forecast(boiler)
    # The split tube is spoken for, but its wall decides nothing any more.
    assert found.unmeasured == TUBES - 12 - 4
    named = [each.tube for each in found.measure_next]
    left_out = {*(f"2.{n}" for n in range(1, 13)), "2.18", "2.20", "2.21", "2.22", "2.30"}
    assert len(named) == len(set(named)) == 10
    assert left_out.isdisjoint(named)
    # The thinnest wall is that of 2.20; 2.19 lies beside it.
    assert "2.19" in named


def test_the_readings_that_would_help_are_counted_beyond_those_at_hand(boiler):
    measure(boiler)
    found = forecast(boiler)
    plan = found.more_readings
    width_mm = found.now.most_likely_thinnest_mm - found.now.bound_mm
    assert plan.width_mm == 0.2
    assert plan.width_now_mm == pytest.approx(width_mm)
    assert (plan.more is None) != (plan.why_not is None)


def test_without_a_forecast_there_is_no_number_but_tubes_to_go_on_with(boiler):
    boiler.measure("2.1", 2.9)
    found = forecast(boiler)
    assert found.more_readings.more is None
    assert "no forecast yet" in found.more_readings.why_not
    assert found.measure_next[0].tube == "2.29"  # farthest from 2.1; 2.30 is another kind
