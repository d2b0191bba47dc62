"""Pitch and neighbours of a layout."""

import pytest

from model.tubesheet.lattice import closest_pair, fitted_pitch, neighbours
from model.tubesheet.layout import Tube
from model.tubesheet.patterns import Pattern, tubes_on_pattern


def tube(key: str, x_mm: float, y_mm: float) -> Tube:
    return Tube(key=key, pass_=2, row=1, column=1, x_mm=x_mm, y_mm=y_mm)


def test_fewer_than_two_tubes_have_no_pitch() -> None:
    assert fitted_pitch([]) is None
    assert fitted_pitch([tube("a", 0, 0)]) is None
    assert closest_pair([tube("a", 0, 0)]) is None


def test_a_scattered_layout_has_a_pitch_but_no_kind() -> None:
    places = [(0, 0), (50, 0), (60, 70), (130, 15), (200, 160), (260, 140)]
    pitch = fitted_pitch([tube(f"t{n}", *place) for n, place in enumerate(places)])
    assert pitch is not None
    assert pitch.kind == "other"
    assert pitch.smallest_mm == 50.0
    assert pitch.spread_mm > 5.0


def test_two_coincident_tubes_do_not_hang_the_fit() -> None:
    pitch = fitted_pitch([tube("a", 5, 5), tube("b", 5, 5)])
    assert pitch is not None
    assert (pitch.pitch_mm, pitch.kind) == (0.0, "other")


def test_the_closest_pair_is_found() -> None:
    pair = closest_pair([tube("a", 0, 0), tube("b", 100, 0), tube("c", 160, 0)])
    assert pair is not None
    first, second, distance_mm = pair
    assert {first.key, second.key} == {"b", "c"}
    assert distance_mm == 60.0


@pytest.mark.parametrize(("kind", "count"), [("triangular", 6), ("square", 4)])
def test_a_tube_inside_has_all_its_neighbours(kind: str, count: int) -> None:
    pattern = Pattern(kind=kind, turn="upright", pitch_mm=70.0)
    tubes = tubes_on_pattern(pattern, pass_=2, od_mm=50.8, shell_diameter_mm=900.0)
    middle = min(tubes, key=lambda each: abs(each.x_mm) + abs(each.y_mm))
    near = neighbours(tubes, within_mm=1.2 * 70.0)
    assert len(near[middle.key]) == count
    for key, others in near.items():
        assert key not in others
        assert all(key in near[other] for other in others)
