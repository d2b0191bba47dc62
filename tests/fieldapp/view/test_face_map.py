"""Which tube is under a finger, which row a drag follows, and what is mirrored."""

import random
import time
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.view.face_map import build_face_map
from fieldapp.view.viewport import Bounds
from model.tubesheet.faces import Face, Shown
from tests.drawn_sheets import face, facts, grid

TUBES = grid(5, 7)


def build(tubes=TUBES, a_face=None, **boiler):
    return build_face_map(tubes, a_face or face(), facts(**boiler))


def test_positions_are_as_seen_and_a_mirrored_face_turns_them_around():
    front, rear = build(), build(a_face=face(looks="forward", end="rear"))
    one, other = front.ends[0], rear.ends[0]
    assert (one.key, one.end, one.x_mm, one.column, one.column_seen) == (
        *("P2-R01-C01", "front"),
        *(-210.0, 1, 1),
    )
    assert (other.key, other.end, other.x_mm, other.column, other.column_seen) == (
        *("P2-R01-C01", "rear"),
        *(210.0, 1, 7),
    )
    assert "column 1 is at the right" in rear.words


def test_only_the_ends_of_the_face_can_be_touched_and_the_rest_is_faint():
    both = (*TUBES, *grid(2, 7, pass_number=3, middle=(0.0, 400.0)))
    seen = build(both)
    assert {end.pass_number for end in seen.ends} == {2}
    assert len(seen.others) == 14
    assert seen.nearest(0.0, 435.0) is None


def test_every_tube_is_nearest_to_its_own_centre_and_nothing_is_beside_the_sheet():
    seen = build()
    assert [seen.nearest(end.x_mm, end.y_mm) for end in seen.ends] == list(range(35))
    assert seen.nearest(-210.0 - 34.9, 140.0) == 0
    assert seen.nearest(-210.0 - 35.1, 140.0) is None
    assert seen.nearest(0.0, 900.0) is None


@given(st.floats(-300, 300), st.floats(-250, 250))
def test_the_nearest_tube_is_the_one_found_by_looking_at_all(x, y):
    seen = build()
    away, index = min(
        (((end.x_mm - x) ** 2 + (end.y_mm - y) ** 2) ** 0.5, end.index) for end in seen.ends
    )
    found = seen.nearest(x, y)
    if away > 35.0:
        assert found is None
    else:
        other = seen.ends[found]
        assert ((other.x_mm - x) ** 2 + (other.y_mm - y) ** 2) ** 0.5 == pytest.approx(away)
        assert away == pytest.approx(35.0) or found == index or other.index == found


def test_a_wider_pass_is_touched_at_its_own_pitch():
    wide = grid(1, 3, pitch_mm=120.0, pass_number=3, middle=(0.0, 600.0))
    seen = build((*TUBES, *wide), face(passes=(2, 3)))
    assert seen.pitch_mm == pytest.approx(70.0)
    assert seen.ends[seen.nearest(55.0, 600.0)].key == "P3-R01-C02"
    assert seen.nearest(210.0 + 55.0, 0.0) is None


def test_a_drag_gives_its_own_row_from_the_first_tube_to_the_finger_in_order():
    seen = build()
    first = seen.nearest(0.0, 70.0)
    keys = [seen.ends[index].key for index in seen.row_between(first, 150.0, 75.0)]
    assert keys == ["P2-R02-C04", "P2-R02-C05", "P2-R02-C06"]
    back = [seen.ends[index].key for index in seen.row_between(first, -1000.0, -500.0)]
    assert back == ["P2-R02-C04", "P2-R02-C03", "P2-R02-C02", "P2-R02-C01"]
    assert seen.row_between(first, 5.0, -300.0) == (first,)


def test_a_drag_follows_the_row_as_seen_on_a_mirrored_face():
    seen = build(a_face=face(looks="forward", end="rear"))
    first = seen.nearest(-210.0, 140.0)
    keys = [seen.ends[index].key for index in seen.row_between(first, -60.0, 140.0)]
    assert keys == ["P2-R01-C07", "P2-R01-C06", "P2-R01-C05"]


def test_a_drag_stays_in_its_pass_where_two_passes_lie_side_by_side():
    beside = grid(5, 7, pass_number=3, middle=(490.0, 0.0))
    seen = build((*TUBES, *beside), face(passes=(2, 3)))
    row = seen.row_between(seen.nearest(0.0, 0.0), 700.0, 0.0)
    assert {seen.ends[index].pass_number for index in row} == {2}
    assert seen.ends[row[-1]].key == "P2-R03-C07"


@given(st.integers(0, 34), st.floats(-400, 400), st.floats(-400, 400))
def test_a_drag_never_leaves_its_row_nor_skips_a_tube(first, x, y):
    seen = build()
    row = seen.row_between(first, x, y)
    assert row[0] == first
    assert {seen.ends[index].row for index in row} == {seen.ends[first].row}
    columns = [seen.ends[index].column for index in row]
    steps = {b - a for a, b in pairwise(columns)}
    assert steps in (set(), {1}, {-1})


def test_what_is_visible_is_what_has_a_part_on_the_screen():
    seen = build()
    random.seed(4)
    for _ in range(50):
        x, y, reach = random.uniform(-300, 300), random.uniform(-250, 250), random.uniform(5, 200)
        shown = Bounds(left_mm=x - reach, bottom_mm=y - reach, right_mm=x + reach, top_mm=y + reach)
        by_hand = tuple(
            end.index
            for end in seen.ends
            if abs(end.x_mm - x) <= reach + end.radius_mm
            and abs(end.y_mm - y) <= reach + end.radius_mm
        )
        assert seen.visible(shown) == by_hand


def test_the_bounds_are_the_shell_and_without_one_the_tubes():
    assert build().bounds == Bounds(
        left_mm=-1100.0, bottom_mm=-1100.0, right_mm=1100.0, top_mm=1100.0
    )
    bare = build(shell_mm=None).bounds
    assert bare.right_mm == pytest.approx(210.0 + 25.4)
    assert bare.top_mm == pytest.approx(140.0 + 25.4)


def test_signs_of_neighbours_do_not_touch_however_large_the_tubes_are():
    seen = build(od_mm=69.0)
    assert 2 * 1.32 * seen.ends[0].radius_mm <= 70.0 + 1e-9


def test_a_furnace_is_seen_mirrored_and_not_on_a_wet_backs_rear_sheet():
    front = face()
    rear = Face(
        key="rear", name="rear", sheet="rear", looks="forward", shows=(Shown(pass_=3, end="rear"),)
    )
    chamber = Face(
        key="turn", name="turn", sheet="turn", looks="forward", shows=(Shown(pass_=2, end="rear"),)
    )
    boiler = {
        "kind": "wet-back",
        "furnaces": ((100.0, -500.0, 800.0),),
        "faces": (front, chamber, rear),
    }
    assert [f.x_mm for f in build(a_face=front, **boiler).furnaces] == [100.0]
    assert [f.x_mm for f in build(a_face=chamber, **boiler).furnaces] == [-100.0]
    assert build(a_face=rear, **boiler).furnaces == ()


def test_a_sheet_with_one_tube_or_none_is_no_error():
    lone = build(grid(1, 1))
    assert lone.nearest(20.0, 0.0) == 0
    assert lone.row_between(0, 500.0, 0.0) == (0,)
    empty = build(())
    assert empty.nearest(0.0, 0.0) is None
    assert empty.visible(empty.bounds) == ()


def test_five_thousand_tubes_are_touched_without_a_wait():
    seen = build(grid(71, 71, pitch_mm=40.0), od_mm=28.0, shell_mm=4200.0)
    assert len(seen.ends) == 5041
    started = time.perf_counter()
    for _ in range(200):
        first = seen.nearest(0.0, 0.0)
        seen.row_between(first, 800.0, 10.0)
    assert (time.perf_counter() - started) / 200 < 0.005
