"""Expanding: from percent to bore and back, and the joints that are none."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import OutOfRange
from model.retube.expanding import contact_bore_mm, expansion_percent, target_bore_mm

JOINT = {"hole_mm": 51.587, "od_mm": 50.8, "wall_mm": 3.4036}
joints = st.builds(
    lambda od_mm, share, clearance_mm: {
        "hole_mm": od_mm + clearance_mm,
        "od_mm": od_mm,
        "wall_mm": od_mm * share,
    },
    od_mm=st.floats(20.0, 110.0),
    share=st.floats(0.02, 0.2),
    clearance_mm=st.floats(0.0, 1.5),
)


@given(joint=joints, percent=st.floats(0.0, 99.0))
def test_a_target_rolled_to_has_that_percent(joint: dict[str, float], percent: float) -> None:
    bore_mm = target_bore_mm(**joint, target_percent=percent)
    assert expansion_percent(**joint, rolled_bore_mm=bore_mm) == pytest.approx(percent, abs=1e-7)


@given(joint=joints, percent=st.floats(0.0, 90.0), more=st.floats(0.1, 9.0))
def test_rolling_further_thins_more(joint: dict[str, float], percent: float, more: float) -> None:
    less_mm = target_bore_mm(**joint, target_percent=percent)
    more_mm = target_bore_mm(**joint, target_percent=percent + more)
    assert contact_bore_mm(**joint) <= less_mm < more_mm < joint["hole_mm"]


def test_a_joint_that_just_touches_is_at_nought_percent() -> None:
    assert expansion_percent(**JOINT, rolled_bore_mm=contact_bore_mm(**JOINT)) == 0.0


def test_a_bore_below_contact_is_no_joint_and_never_a_negative_percent() -> None:
    with pytest.raises(OutOfRange, match=r"contact bore, 44\.7798: .* joint is not in contact"):
        expansion_percent(**JOINT, rolled_bore_mm=44.7)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"hole_mm": 50.7}, "hole_mm is 50.7, but must be at least the tube's .*, 50.8"),
        ({"wall_mm": 25.4}, "wall_mm is 25.4"),
        ({"wall_mm": 0.0}, "wall_mm is 0.0"),
        ({"od_mm": -1.0}, "od_mm is -1.0"),
        ({"rolled_bore_mm": 51.587}, "rolled_bore_mm is 51.587, but must be below the hole"),
    ],
)
def test_sizes_that_cannot_be_are_refused(changed: dict[str, float], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        expansion_percent(**{**JOINT, "rolled_bore_mm": 45.0, **changed})


@pytest.mark.parametrize("percent", [-0.1, 100.0, float("nan")])
def test_a_target_beyond_the_wall_is_refused(percent: float) -> None:
    with pytest.raises(OutOfRange, match=r"target_percent is .*, but must be at least 0 and below"):
        target_bore_mm(**JOINT, target_percent=percent)
