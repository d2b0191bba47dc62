"""Walls of new tubes by two rules: properties, limits, and that the rules stay apart."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from model.errors import OutOfRange
from model.wall.lloyds_table import (
    LLOYDS_OD_MM,
    LLOYDS_PRESSURE_MPA,
    lloyds_pressure_mpa,
    lloyds_wall,
)
from model.wall.new_tube_rules import (
    NewTubeRule,
    required_wall,
    us_historic_pressure_mpa,
    us_historic_wall_mm,
)

CELLS = [
    (od_mm, wall_mm, pressure_mpa)
    for wall_mm, row in LLOYDS_PRESSURE_MPA.items()
    for od_mm, pressure_mpa in zip(LLOYDS_OD_MM, row, strict=True)
    if pressure_mpa is not None
]
ods_mm = st.floats(38.0, 102.0)
pressures_mpa = st.floats(0.1, 3.0)


@pytest.mark.parametrize(("od_mm", "wall_mm", "pressure_mpa"), CELLS)
def test_every_printed_cell_is_given_back_uninterpolated(
    od_mm: float, wall_mm: float, pressure_mpa: float
) -> None:
    read = lloyds_wall(od_mm=od_mm, pressure_mpa=pressure_mpa)
    assert (read.wall_mm, read.at_most_mm, read.is_interpolated) == (wall_mm, None, False)
    assert lloyds_pressure_mpa(od_mm=od_mm, wall_mm=wall_mm) == pytest.approx(pressure_mpa)


def test_a_thicker_wall_carries_more_and_a_wider_tube_less_in_every_column_and_row() -> None:
    for index in range(len(LLOYDS_OD_MM)):
        column = [row[index] for row in LLOYDS_PRESSURE_MPA.values() if row[index] is not None]
        assert column == sorted(column)
    for row in LLOYDS_PRESSURE_MPA.values():
        printed = [cell for cell in row if cell is not None]
        assert printed == sorted(printed, reverse=True)


def test_the_table_follows_the_line_that_fits_it_within_six_percent() -> None:
    # p OD = 68.5 (t - 2.16) N/mm: a misprinted cell would stand out.
    for od_mm, wall_mm, pressure_mpa in CELLS:
        assert pressure_mpa * od_mm == pytest.approx(68.5 * (wall_mm - 2.16), rel=0.06)


def test_between_printed_sizes_the_wall_is_interpolated_and_says_so() -> None:
    halfway = lloyds_wall(od_mm=51.0, pressure_mpa=(1.07 + 1.48) / 2)
    assert halfway.wall_mm == pytest.approx((2.95 + 3.25) / 2)
    assert halfway.is_interpolated
    between = lloyds_wall(od_mm=(51.0 + 57.0) / 2, pressure_mpa=(1.48 + 1.31) / 2)
    assert between.wall_mm == pytest.approx(3.25)
    assert between.is_interpolated
    required = required_wall(od_mm=51.0, pressure_mpa=1.2, rule=NewTubeRule.LLOYDS_TABLE)
    assert "interpolated by us" in required.notes[0]
    printed = required_wall(od_mm=51.0, pressure_mpa=1.48, rule=NewTubeRule.LLOYDS_TABLE)
    assert printed.notes == ()


def test_below_the_thinnest_row_there_is_no_number_but_a_ceiling() -> None:
    required = required_wall(od_mm=50.8, pressure_mpa=1.034, rule=NewTubeRule.LLOYDS_TABLE)
    assert required.wall_mm is None
    assert "no more than 2.95 mm;" in required.notes[0]
    widest = required_wall(
        od_mm=102.0, pressure_mpa=0.5, rule=NewTubeRule.LLOYDS_TABLE, allowance_mm=0.5
    )
    assert "no more than 3.25 mm plus the allowance of 0.5 mm" in widest.notes[0]


@pytest.mark.parametrize(
    ("od_mm", "pressure_mpa", "words"),
    [
        (37.9, 1.0, "od_mm is 37.9, but must be 38 to 102"),
        (102.1, 1.0, "od_mm is 102.1, but must be 38 to 102"),
        (38.0, 2.67, "pressure_mpa is 2.67, but must be at most 2.66, where the Lloyd's table"),
        (50.8, 0.0, "pressure_mpa is 0.0, but must be above 0"),
    ],
)
def test_beside_the_table_it_refuses(od_mm: float, pressure_mpa: float, words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        lloyds_wall(od_mm=od_mm, pressure_mpa=pressure_mpa)


def test_a_wall_beside_the_rows_has_no_pressure() -> None:
    with pytest.raises(OutOfRange, match=r"wall_mm is 2\.9, but must be 2\.95 to 4\.06"):
        lloyds_pressure_mpa(od_mm=51.0, wall_mm=2.9)


@given(
    od_mm=ods_mm, lower=pressures_mpa, more=st.floats(1.0, 2.0), rule=st.sampled_from(NewTubeRule)
)
def test_more_pressure_never_needs_less_wall(
    od_mm: float, lower: float, more: float, rule: NewTubeRule
) -> None:
    try:
        higher = required_wall(od_mm=od_mm, pressure_mpa=lower * more, rule=rule).wall_mm
    except OutOfRange:
        assume(False)
    low = required_wall(od_mm=od_mm, pressure_mpa=lower, rule=rule).wall_mm
    if low is not None:
        assert higher is not None
        assert higher >= low


@given(od_mm=ods_mm, pressure_mpa=pressures_mpa)
def test_the_table_read_there_and_back_is_the_pressure(od_mm: float, pressure_mpa: float) -> None:
    try:
        wall_mm = lloyds_wall(od_mm=od_mm, pressure_mpa=pressure_mpa).wall_mm
    except OutOfRange:
        assume(False)
    assume(wall_mm is not None)
    assert wall_mm is not None
    back_mpa = lloyds_pressure_mpa(od_mm=od_mm, wall_mm=wall_mm)
    assert math.isclose(back_mpa, pressure_mpa, rel_tol=1e-9)


@given(od_mm=st.floats(20.0, 150.0), pressure_mpa=st.floats(0.01, 5.0))
def test_the_historic_rule_there_and_back_is_the_pressure(
    od_mm: float, pressure_mpa: float
) -> None:
    wall_mm = us_historic_wall_mm(od_mm=od_mm, pressure_mpa=pressure_mpa)
    back_mpa = us_historic_pressure_mpa(od_mm=od_mm, wall_mm=wall_mm)
    assert math.isclose(back_mpa, pressure_mpa, rel_tol=1e-9)


def test_the_allowance_is_added_to_the_rules_wall() -> None:
    bare = required_wall(od_mm=63.5, pressure_mpa=1.6, rule=NewTubeRule.LLOYDS_TABLE).wall_mm
    more = required_wall(
        od_mm=63.5, pressure_mpa=1.6, rule=NewTubeRule.LLOYDS_TABLE, allowance_mm=0.75
    ).wall_mm
    assert bare is not None
    assert more == pytest.approx(bare + 0.75)


def test_the_two_rules_are_never_mixed() -> None:
    us = required_wall(od_mm=51.0, pressure_mpa=1.48, rule=NewTubeRule.US_HISTORIC).wall_mm
    lloyds = required_wall(od_mm=51.0, pressure_mpa=1.48, rule=NewTubeRule.LLOYDS_TABLE).wall_mm
    assert us == pytest.approx(2.433, abs=0.001)
    assert lloyds == 3.25


def test_the_historic_rule_rejects_a_usual_tube_as_new() -> None:
    # 2.5 x 0.105 in at 250 psi: the rule asks for more than such a tube has when it is new.
    assert us_historic_wall_mm(od_mm=63.5, pressure_mpa=250 * 0.00689476) > 0.105 * 25.4


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"od_mm": 0.0}, "od_mm is 0.0, but must be above 0"),
        ({"pressure_mpa": -1.0}, "pressure_mpa is -1.0, but must be above 0"),
        ({"allowance_mm": -0.1}, "allowance_mm is -0.1, but must be at least 0"),
        ({"pressure_mpa": 60.0}, "pressure_mpa is 60.0, but must be small enough to leave a bore"),
    ],
)
def test_nonsense_has_no_required_wall(changed: dict[str, float], words: str) -> None:
    inputs = {"od_mm": 50.8, "pressure_mpa": 1.0, "allowance_mm": 0.0, **changed}
    with pytest.raises(OutOfRange, match=words):
        required_wall(**inputs, rule=NewTubeRule.US_HISTORIC)


@pytest.mark.parametrize("wall_mm", [1.651, 25.4, float("nan")])
def test_the_historic_rule_has_no_pressure_for_a_wall_beside_its_range(wall_mm: float) -> None:
    with pytest.raises(OutOfRange, match=r"wall_mm is .* above 1\.651"):
        us_historic_pressure_mpa(od_mm=50.8, wall_mm=wall_mm)
