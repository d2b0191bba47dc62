"""Round steps of axes: they hold what they must and are few."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.drawing.round_steps import round_marks, round_step

SIZES = st.floats(min_value=1e-6, max_value=1e15)


@given(SIZES)
def test_a_step_is_1_2_or_5_with_noughts_and_no_more_than_needed(least):
    step = round_step(least)
    assert f"{step:.5e}"[:7] in {"1.00000", "2.00000", "5.00000"}
    assert 1.0 - 1e-8 <= step / least <= 2.5 + 1e-8


@given(st.floats(min_value=-1e9, max_value=1e9), SIZES, st.integers(1, 9))
def test_marks_hold_both_ends_and_stay_few(low, span, most):
    high = low + max(span, abs(low) * 1e-6)
    marks = round_marks(low, high, most)
    slack = 1e-8 * (marks[-1] - marks[0]) + 1e-9 * abs(low)
    assert marks[0] <= low + slack
    assert marks[-1] >= high - slack
    assert 2 <= len(marks) <= most + 3


@pytest.mark.parametrize(
    ("low", "high", "marks"),
    [
        (-30.0, 410.0, (-100.0, 0.0, 100.0, 200.0, 300.0, 400.0, 500.0)),
        (0.0, 1.0, (0.0, 0.2, 0.4, 0.6, 0.8, 1.0)),
        (87.2, 89.9, (87.0, 88.0, 89.0, 90.0)),
    ],
)
def test_marks_of_ranges_worked_out_by_hand(low, high, marks):
    assert round_marks(low, high, 5) == pytest.approx(marks)
