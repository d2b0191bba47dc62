"""The governing wall, its reference and where it stands, on one tube with readings set by hand.

Not here: what a thin wall does to the counts beyond its being bad.
"""

from itertools import permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.wall.governing import WallVerdict
from tests.model.condition.journal import AUTUMN, SPRING
from tests.model.condition.small_boiler import SmallBoiler, hole_of

NOMINAL_MM = 3.0
RETIREMENT_MM = 1.8
HOLE = hole_of("2.1")


@pytest.fixture
def boiler():
    return SmallBoiler({2: 2})


def walls(boiler, at=AUTUMN):
    return boiler.walls(at, wall_mm=NOMINAL_MM, retirement_mm=RETIREMENT_MM)


def today(boiler, at=AUTUMN):
    return walls(boiler, at).today.get(HOLE)


def bad(boiler, at=AUTUMN):
    """Whether the tube is bad as found, and as left."""
    tube = boiler.tubes(at, wall_mm=NOMINAL_MM, retirement_mm=RETIREMENT_MM)["2.1"]
    return tube.found.is_bad, tube.left.is_bad


# ------------------------------------------------------------------ which reading governs


def test_the_thinnest_reading_governs_whatever_its_order(boiler):
    for wall_mm in (2.8, 2.4, 2.6):
        boiler.measure("2.1", wall_mm)
    assert today(boiler).wall_mm == 2.4


@pytest.mark.parametrize("order", list(permutations(range(3))))
def test_of_readings_as_thin_the_one_of_the_gauge_known_to_be_most_accurate_governs(order):
    # Ids follow from the order of entry; what governs does not.
    boiler = SmallBoiler({2: 2})
    entered = ({"accuracy_mm": 0.1, "note": "stated"}, {}, {"accuracy_mm": 0.3})
    records = {number: boiler.measure("2.1", 1.75, **entered[number]) for number in order}
    wall = today(boiler)
    assert (wall.record, wall.accuracy_mm) == (records[0].id, 0.1)
    assert wall.verdict is WallVerdict.WITHIN_ERROR


@pytest.mark.parametrize("order", list(permutations(range(4))))
def test_of_readings_as_thin_and_as_accurate_what_was_written_down_decides(order):
    boiler = SmallBoiler({2: 2})
    entered = (
        {"method": "caliper", "end": "rear", "at_mm": 50.0, "note": "a"},
        {"method": "caliper", "end": "rear", "at_mm": 50.0, "note": "b"},
        {"method": "caliper", "end": "rear", "note": "a"},
        {"method": "ultrasonic", "end": "front", "at_mm": 10.0},
    )
    records = {number: boiler.measure("2.1", 1.75, **entered[number]) for number in order}
    assert today(boiler).record == records[0].id


def test_a_reading_that_was_corrected_or_withdrawn_does_not_count(boiler):
    slip = boiler.measure("2.1", 0.24)
    boiler.measure("2.1", 2.4, names=[slip])
    boiler.journal.withdraws(boiler.measure("2.1", 1.1))
    assert today(boiler).wall_mm == 2.4


def test_a_reading_in_the_rolled_zone_is_not_trusted(boiler):
    boiler.measure("2.1", 1.2, in_rolled_zone=True)
    assert today(boiler) is None
    boiler.measure("2.1", 2.6)
    assert today(boiler).wall_mm == 2.6


def test_a_reading_of_a_tube_that_is_in_no_layout_is_left_out(boiler):
    boiler.journal.layout({HOLE: ("2.1", 2)}, retired=[HOLE])
    boiler.measure("2.1", 1.2)
    assert walls(boiler).today == {}


def test_an_implausible_wall_is_trusted_only_when_it_was_confirmed(boiler):
    boiler.measure("2.1", 3.91, at=SPRING)  # 1.3 x 3.0 is 3.9
    assert today(boiler, SPRING) is None
    boiler.measure("2.1", 3.91, confirmed=True)
    assert today(boiler).wall_mm == 3.91


@pytest.mark.parametrize("wall_mm", [3.66, 3.9])
def test_a_new_tube_may_measure_22_percent_over_and_up_to_30_is_not_asked_about(boiler, wall_mm):
    boiler.measure("2.1", wall_mm)
    assert today(boiler).wall_mm == wall_mm


def test_without_a_nominal_wall_nothing_is_implausible(boiler):
    boiler.measure("2.1", 9.0)
    assert boiler.walls().today[HOLE].wall_mm == 9.0


def test_readings_never_carry_into_todays_figures(boiler):
    boiler.measure("2.1", 2.4, at=SPRING)
    assert today(boiler, SPRING).wall_mm == 2.4
    assert walls(boiler).today == {}


def test_a_second_inspection_of_the_same_day_has_readings_of_its_own():
    boiler = SmallBoiler({2: 1})
    boiler.journal.inspection("inspautumn3aa", "2024-10-10")
    for at, wall_mm in ((AUTUMN, 2.4), ("inspautumn3aa", 2.6)):
        boiler.measure("2.1", wall_mm, at=at)
        assert today(boiler, at).wall_mm == wall_mm


# ------------------------------------------------------------------ reference and loss


def test_the_reference_is_nominal_until_there_is_an_earlier_reading(boiler):
    boiler.measure("2.1", 2.7, at=SPRING)
    boiler.measure("2.1", 2.4)
    first, second = today(boiler, SPRING), today(boiler)
    assert (first.reference_mm, first.loss_percent) == (3.0, pytest.approx(10.0))
    assert second.reference_mm == 2.7
    assert second.loss_percent == pytest.approx(100 * 0.3 / 2.7)
    assert second.worst_loss_percent == pytest.approx(20.0)  # against nominal


def test_the_first_reading_of_several_in_one_inspection_is_the_thickest(boiler):
    for wall_mm in (2.6, 2.9, 2.7):
        boiler.measure("2.1", wall_mm, at=SPRING)
    boiler.measure("2.1", 2.5)
    assert today(boiler).reference_mm == 2.9


def test_a_first_reading_over_nominal_is_the_reference_all_the_same(boiler):
    boiler.measure("2.1", 3.5, at=SPRING)
    boiler.measure("2.1", 2.8)
    assert today(boiler).worst_loss_percent == pytest.approx(20.0)
    assert today(boiler, SPRING).loss_percent == pytest.approx(-100 * 0.5 / 3.0)


def test_loss_percent_is_taken_from_the_reference_wall(boiler):
    boiler.measure("2.1", loss_percent=10, at=SPRING)  # of nominal
    assert today(boiler, SPRING).wall_mm == pytest.approx(2.7)
    boiler.measure("2.1", loss_percent=20)  # of the first reading
    assert today(boiler).wall_mm == pytest.approx(2.16)


def test_loss_percent_without_any_reference_says_nothing_of_the_wall(boiler):
    boiler.measure("2.1", loss_percent=10)
    assert boiler.walls().today == {}


def test_the_nominal_wall_of_the_layout_comes_before_the_boilers():
    boiler = SmallBoiler({2: 1}, sizes={"2.1": {"wall_mm": 2.5}})
    boiler.measure("2.1", 2.0)
    assert today(boiler).reference_mm == 2.5


def test_the_nominal_wall_of_a_replacement_comes_before_the_layouts_if_it_is_known():
    boiler = SmallBoiler({2: 2}, sizes={"2.1": {"wall_mm": 2.5}, "2.2": {"wall_mm": 2.5}})
    stock = {"od_mm": None, "wall_mm": 2.9, "material": None}
    boiler.work("2.1", "replace", at=SPRING, tube=stock)
    boiler.work("2.2", "replace", at=SPRING)
    for key, reference_mm in (("2.1", 2.9), ("2.2", 2.5)):
        boiler.measure(key, 2.0)
        assert walls(boiler).today[hole_of(key)].reference_mm == reference_mm


# ------------------------------------------------------------------ against the retirement wall


@pytest.mark.parametrize(
    ("wall_mm", "accuracy_mm", "verdict"),
    [
        (1.8, 0.0, WallVerdict.ABOVE),
        (1.79, 0.0, WallVerdict.BELOW),
        (1.7, 0.1, WallVerdict.WITHIN_ERROR),
        (1.69, 0.1, WallVerdict.BELOW),
        (1.89, 0.1, WallVerdict.WITHIN_ERROR),
        (1.9, 0.1, WallVerdict.ABOVE),
        (1.1, 0.7, WallVerdict.WITHIN_ERROR),
    ],
)
def test_below_is_below_by_more_than_the_gauges_error(boiler, wall_mm, accuracy_mm, verdict):
    boiler.measure("2.1", wall_mm, accuracy_mm=accuracy_mm)
    assert today(boiler).verdict is verdict
    assert bad(boiler) == ((verdict is WallVerdict.BELOW),) * 2


@given(retirement=st.integers(50, 400), error=st.integers(0, 40), apart=st.integers(-60, 60))
def test_hundredths_are_judged_as_whole_numbers_would_be(retirement, error, apart):
    boiler = SmallBoiler({2: 1})
    wall = retirement + apart
    if wall < 0:
        return
    boiler.measure("2.1", wall / 100, accuracy_mm=error / 100)
    judged = boiler.walls(retirement_mm=retirement / 100).today[HOLE].verdict
    if wall + error < retirement:
        assert judged is WallVerdict.BELOW
    else:
        above = wall - error >= retirement
        assert judged is (WallVerdict.ABOVE if above else WallVerdict.WITHIN_ERROR)


def test_what_is_exactly_at_the_retirement_wall_in_decimals_is_not_below_it_in_binary():
    wall_mm, accuracy_mm, retirement_mm = 0.7, 0.1, 0.8
    assert wall_mm + accuracy_mm < retirement_mm  # the reason for the test
    boiler = SmallBoiler({2: 1})
    boiler.measure("2.1", wall_mm, accuracy_mm=accuracy_mm)
    verdict = boiler.walls(retirement_mm=retirement_mm).today[HOLE].verdict
    assert verdict is WallVerdict.WITHIN_ERROR


def test_without_a_retirement_wall_there_is_no_verdict_and_nothing_is_bad(boiler):
    boiler.measure("2.1", 0.5)
    assert boiler.walls(wall_mm=NOMINAL_MM).today[HOLE].verdict is None
    assert boiler.totals(wall_mm=NOMINAL_MM).bad_now == 0


def test_the_gauges_error_is_the_readings_own_else_the_instruments_else_none():
    boiler = SmallBoiler({2: 3})
    tools = [
        {"name": "gauge 3", "method": "ultrasonic", "accuracy_mm": 0.2, "calibration": ""},
        {"name": "caliper", "method": "caliper", "accuracy_mm": None, "calibration": ""},
    ]
    body = {"inspection": AUTUMN, "date": "2024-10-10", "scope": "full", "instruments": tools}
    boiler.journal.add("inspection", body)
    boiler.measure("2.1", 2.0, instrument="gauge 3")
    boiler.measure("2.2", 2.0, instrument="gauge 3", accuracy_mm=0.05)
    boiler.measure("2.3", 2.0, instrument="caliper")
    errors = [walls(boiler).today[hole_of(key)].accuracy_mm for key in ("2.1", "2.2", "2.3")]
    assert errors == [0.2, 0.05, 0.0]


# ------------------------------------------------------------------ carried below


def test_a_wall_below_last_time_counts_as_carried_bad_until_something_is_done(boiler):
    boiler.measure("2.1", 1.5, at=SPRING)
    assert walls(boiler).below_from_earlier[HOLE].measured_on == "2024-04-10"
    assert bad(boiler) == (True, True)
    boiler.see("2.1", "sound")  # a look is no measurement
    assert bad(boiler) == (True, True)


def test_it_ends_when_the_tube_is_measured_again_above(boiler):
    boiler.measure("2.1", 1.5, at=SPRING)
    boiler.measure("2.1", 2.0)
    assert bad(boiler) == (False, False)
    assert walls(boiler).below_from_earlier == {}


def test_it_does_not_end_by_a_reading_that_is_not_trusted(boiler):
    boiler.measure("2.1", 1.5, at=SPRING)
    boiler.measure("2.1", 2.5, in_rolled_zone=True)
    assert bad(boiler) == (True, True)


@pytest.mark.parametrize("does", ["plug", "replace"])
def test_it_ends_with_work_of_today_as_left_and_not_as_found(boiler, does):
    boiler.measure("2.1", 1.5, at=SPRING)
    boiler.work("2.1", does)
    assert bad(boiler) == (True, False)


@pytest.mark.parametrize("does", ["plug", "replace"])
def test_it_ended_with_work_of_last_time_or_of_the_time_between(boiler, does):
    boiler.measure("2.1", 1.5, at=SPRING)
    boiler.work("2.1", does, at=SPRING)
    assert bad(boiler) == (False, False)
    boiler.measure("2.2", 1.5, at=SPRING)
    boiler.work("2.2", does, at=None, done_on="2024-07")
    tubes = boiler.tubes(wall_mm=NOMINAL_MM, retirement_mm=RETIREMENT_MM)
    assert not tubes["2.2"].left.is_bad


def test_it_comes_back_when_the_plug_was_taken_out_again(boiler):
    boiler.measure("2.1", 1.5, at=SPRING)
    plug = boiler.work("2.1", "plug", at=SPRING)
    boiler.work("2.1", "unplug", at=SPRING, names=[plug])
    assert bad(boiler) == (True, True)


@pytest.mark.parametrize("does", ["clean", "re-roll", "weld", "other"])
def test_it_does_not_end_with_work_that_leaves_the_wall_as_it_is(boiler, does):
    boiler.measure("2.1", 1.5, at=SPRING)
    boiler.work("2.1", does)
    assert bad(boiler) == (True, True)


def test_a_wall_measured_below_today_is_bad_as_left_even_when_the_tube_was_plugged(boiler):
    boiler.measure("2.1", 1.5)
    boiler.work("2.1", "plug")
    assert bad(boiler) == (True, True)


def test_a_wall_within_the_gauges_error_of_the_retirement_wall_does_not_carry(boiler):
    boiler.measure("2.1", 1.7, at=SPRING, accuracy_mm=0.2)
    assert bad(boiler) == (False, False)


# ------------------------------------------------------------------ lives


def test_readings_never_cross_a_life(boiler):
    boiler.measure("2.1", 1.5, at=SPRING)
    boiler.work("2.1", "replace", at=SPRING, tube={"od_mm": None, "wall_mm": 2.6, "material": None})
    boiler.measure("2.1", 2.5)
    wall = today(boiler)
    assert (wall.wall_mm, wall.reference_mm) == (2.5, 2.6)


def test_a_baseline_reading_belongs_to_the_life_as_left(boiler):
    boiler.measure("2.1", 1.5)
    boiler.work("2.1", "replace", tube={"od_mm": None, "wall_mm": 2.6, "material": None})
    boiler.measure("2.1", 2.9, purpose="baseline")
    both = walls(boiler)
    assert both.today[HOLE].wall_mm == 1.5
    assert (both.baseline[HOLE].wall_mm, both.baseline[HOLE].reference_mm) == (2.9, 2.6)
    assert bad(boiler) == (True, False)


def test_a_baseline_is_the_reference_of_the_next_inspection(boiler):
    boiler.work("2.1", "replace", at=SPRING)
    boiler.measure("2.1", 3.2, at=SPRING, purpose="baseline")
    boiler.measure("2.1", 2.8)
    assert today(boiler).reference_mm == 3.2


def test_a_new_tube_that_is_below_the_retirement_wall_is_bad_as_left(boiler):
    boiler.work("2.1", "replace")
    boiler.measure("2.1", 1.5, purpose="baseline")
    assert bad(boiler) == (False, True)


def test_a_planned_reading_of_the_outage_belongs_to_the_old_tube(boiler):
    boiler.work("2.1", "replace")
    boiler.measure("2.1", 1.5)
    assert walls(boiler).baseline == {}
    assert bad(boiler) == (True, False)


def test_a_baseline_without_a_replacement_is_a_reading_of_the_tube_as_it_is(boiler):
    boiler.measure("2.1", 2.9, purpose="baseline", at=SPRING)
    boiler.measure("2.1", 2.7)
    assert today(boiler, SPRING).wall_mm == 2.9
    assert today(boiler).reference_mm == 2.9
