"""Where another option becomes cheapest."""

from collections.abc import Mapping

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.decision.choosing.break_even import cheapest, find_crossing, grid_values


def _lines(value: float) -> Mapping[str, float]:
    """Costs that are straight lines: a is cheapest up to 30, then b up to 70, then c."""
    return {"a": 10.0 + 3.0 * value, "b": 70.0 + 1.0 * value, "c": 140.0}


def test_the_nearest_crossing_is_found_and_says_to_which_option() -> None:
    found = find_crossing(_lines, choice="a", now=5.0, limit=200.0)

    assert found is not None
    assert found.option == "b"
    assert found.value == pytest.approx(30.0, abs=1e-3)


def test_a_crossing_below_the_present_value_is_found() -> None:
    found = find_crossing(_lines, choice="c", now=100.0, limit=0.0)

    assert found is not None
    assert found.option == "b"
    assert found.value == pytest.approx(70.0, abs=1e-3)


def test_no_value_in_range_changes_a_choice_that_is_always_cheapest() -> None:
    assert find_crossing(_lines, choice="a", now=5.0, limit=0.0) is None
    assert find_crossing(_lines, choice="a", now=5.0, limit=29.9) is None


def test_a_tie_keeps_the_choice_or_takes_the_first_which_does_less() -> None:
    assert cheapest({"a": 1.0, "b": 1.0}, "b") == "b"
    assert cheapest({"b": 1.0, "a": 1.0, "c": 2.0}, "c") == "b"


def test_costs_that_are_known_are_not_asked_for_again() -> None:
    asked: list[float] = []

    def costs_at(value: float) -> Mapping[str, float]:
        asked.append(value)
        return _lines(value)

    values = grid_values(5.0, 29.0, 6)
    known = {value: _lines(value) for value in values}

    assert (
        find_crossing(costs_at, choice="a", now=5.0, limit=29.0, grid_points=6, known=known) is None
    )
    assert asked == []


def test_a_range_without_width_has_no_crossing() -> None:
    assert grid_values(5.0, 5.0) == ()
    assert find_crossing(_lines, choice="a", now=5.0, limit=5.0) is None


@given(
    at=st.floats(min_value=1.0, max_value=99.0),
    slope=st.floats(min_value=0.1, max_value=50.0),
)
def test_at_the_crossing_the_two_options_cost_the_same(at: float, slope: float) -> None:
    def costs(value: float) -> Mapping[str, float]:
        return {"steep": slope * (value - at), "flat": 0.0}

    found = find_crossing(costs, choice="steep", now=0.0, limit=100.0)

    assert found is not None
    assert found.value == pytest.approx(at, abs=1e-3)
