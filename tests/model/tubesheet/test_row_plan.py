"""Layouts from rows as typed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import Faults
from model.tubesheet.row_plan import PlannedRow, tubes_from_rows
from model.tubesheet.validate import layout_faults


def test_a_centred_row_lies_evenly_on_both_sides() -> None:
    tubes = tubes_from_rows([PlannedRow(pass_=2, y_mm=100.0, count=4, pitch_mm=70.0)], od_mm=50.8)
    assert [tube.x_mm for tube in tubes] == [-105.0, -35.0, 35.0, 105.0]
    assert [tube.key for tube in tubes] == [f"P2-R01-C0{k}" for k in (1, 2, 3, 4)]
    assert {(tube.y_mm, tube.od_mm) for tube in tubes} == {(100.0, 50.8)}


def test_rows_are_numbered_from_the_top_of_their_pass_in_whatever_order_they_come() -> None:
    plan = [
        PlannedRow(pass_=3, y_mm=200.0, count=1, pitch_mm=70.0),
        PlannedRow(pass_=2, y_mm=-200.0, count=1, pitch_mm=70.0),
        PlannedRow(pass_=2, y_mm=-100.0, count=2, pitch_mm=70.0, x_offset_mm=35.0),
    ]
    tubes = tubes_from_rows(plan)
    assert [(tube.key, tube.x_mm, tube.y_mm) for tube in tubes] == [
        ("P2-R01-C01", 0.0, -100.0),
        ("P2-R01-C02", 70.0, -100.0),
        ("P2-R02-C01", 0.0, -200.0),
        ("P3-R01-C01", 0.0, 200.0),
    ]


def test_a_row_that_a_furnace_splits_keeps_one_row_number() -> None:
    plan = [
        PlannedRow(pass_=2, y_mm=0.0, count=2, pitch_mm=70.0, x_offset_mm=-400.0),
        PlannedRow(pass_=2, y_mm=0.0, count=2, pitch_mm=70.0, x_offset_mm=400.0, first_column=3),
    ]
    tubes = tubes_from_rows(plan, od_mm=50.8)
    assert [(tube.row, tube.column) for tube in tubes] == [(1, 1), (1, 2), (1, 3), (1, 4)]
    assert layout_faults(tubes, 1200.0, [], None) == []


@given(
    counts=st.lists(st.integers(1, 30), min_size=1, max_size=12),
    pitch_mm=st.floats(52.0, 100.0),
)
def test_a_plan_gives_every_tube_it_counts_once(counts: list[int], pitch_mm: float) -> None:
    plan = [
        PlannedRow(pass_=2, y_mm=-60.0 * number, count=count, pitch_mm=pitch_mm)
        for number, count in enumerate(counts)
    ]
    tubes = tubes_from_rows(plan, od_mm=50.8)
    assert len(tubes) == sum(counts)
    assert layout_faults(tubes, None, [], None) == []


def test_every_impossible_row_is_named() -> None:
    plan = [
        PlannedRow(pass_=2, y_mm=0.0, count=3, pitch_mm=70.0),
        PlannedRow(pass_=0, y_mm=float("nan"), count=0, pitch_mm=-1.0, first_column=0),
    ]
    with pytest.raises(Faults, match="Row 2 of the plan: the count is 0") as refused:
        tubes_from_rows(plan)
    assert len(refused.value.faults) == 5


def test_an_empty_plan_is_refused() -> None:
    with pytest.raises(Faults, match="row plan is empty"):
        tubes_from_rows([])
