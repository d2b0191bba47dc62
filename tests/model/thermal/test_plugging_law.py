"""The scaling law of plugged tubes: its limits and what it refuses."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import OutOfRange
from model.thermal.plugging import plugged_pass

WORKED = {
    "tubes": 100,
    "plugged": 10,
    "inlet_c": 982.2,
    "outlet_c": 232.2,
    "saturation_c": 185.6,
}


def test_the_worked_pass() -> None:
    result = plugged_pass(**WORKED)
    assert result.ntu == pytest.approx(math.log(796.6 / 46.6))
    assert result.ntu_after == pytest.approx(result.ntu * 0.9**0.2)
    assert result.rise_k == pytest.approx(2.85, abs=0.05)
    assert result.outlet_after_c == pytest.approx(232.2 + result.rise_k)
    assert result.draft_ratio == pytest.approx(1.2088, abs=1e-4)


def test_no_plugs_change_nothing() -> None:
    result = plugged_pass(**{**WORKED, "plugged": 0})
    assert (result.rise_k, result.draft_ratio) == (pytest.approx(0.0, abs=1e-9), 1.0)


@given(tubes=st.integers(2, 2000), data=st.data())
def test_more_plugs_are_hotter_and_harder_to_draw(tubes: int, data: st.DataObject) -> None:
    fewer = data.draw(st.integers(0, tubes - 2))
    more = data.draw(st.integers(fewer + 1, tubes - 1))
    first, second = (
        plugged_pass(**{**WORKED, "tubes": tubes, "plugged": count}) for count in (fewer, more)
    )
    assert second.outlet_after_c > first.outlet_after_c
    assert second.draft_ratio > first.draft_ratio
    assert second.outlet_after_c < WORKED["inlet_c"]


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"plugged": 100}, "plugged is 100, but must be at least 0 and below the number of tubes"),
        ({"plugged": -1}, "plugged is -1, but must be at least 0"),
        ({"tubes": 0}, "tubes is 0, but must be at least 1"),
        ({"outlet_c": 185.6}, r"outlet_c is 185\.6, but must be above the saturation's 185\.6"),
        ({"inlet_c": 232.2}, r"inlet_c is 232\.2, but must be above the outlet's 232\.2 degC"),
        ({"saturation_c": -300.0}, r"saturation_c is -300\.0, but must be above -273\.15 degC"),
        ({"inlet_c": float("inf")}, "inlet_c is inf"),
        ({"outlet_c": float("nan")}, "outlet_c is nan"),
    ],
)
def test_what_no_pass_can_be_is_refused(changed: dict[str, float], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        plugged_pass(**{**WORKED, **changed})
