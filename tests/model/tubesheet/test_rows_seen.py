"""Columns as a person at a face counts them, and back."""

from hypothesis import given
from hypothesis import strategies as st

from model.tubesheet.faces import Face
from model.tubesheet.layout import Tube
from model.tubesheet.rows_seen import columns_as_seen

FRONT = Face(key="f", name="front", sheet="s", looks="rearward", shows=())
REAR = Face(key="r", name="rear", sheet="s", looks="forward", shows=())


def row(columns, number=1):
    return [
        Tube(key=f"R{number}C{n}", pass_=2, row=number, column=n, x_mm=n * 70.0, y_mm=0.0)
        for n in columns
    ]


def test_column_2_of_9_is_column_8_from_the_rear():
    assert columns_as_seen(row(range(1, 10)), REAR)["R1C2"] == 8


def test_a_row_that_begins_at_3_keeps_its_numbers():
    assert columns_as_seen(row(range(3, 6)), REAR) == {"R1C3": 5, "R1C4": 4, "R1C5": 3}


def test_from_the_front_columns_are_those_of_the_layout():
    assert columns_as_seen(row((1, 2, 5)), FRONT) == {"R1C1": 1, "R1C2": 2, "R1C5": 5}


@given(st.sets(st.integers(1, 40), min_size=1))
def test_twice_mirrored_is_as_it_was(columns):
    seen = columns_as_seen(row(columns), REAR)
    back = columns_as_seen(row(seen.values()), REAR)
    assert {f"R1C{back[f'R1C{seen[key]}']}" for key in seen} == set(seen)
