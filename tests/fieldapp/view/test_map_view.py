"""The map without its widget: what zooms, what pans, and that nothing marks where it may not."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.view.face_map import build_face_map
from fieldapp.view.gestures import DragCancel, DragEnd, LongPress, Tap, Touch
from fieldapp.view.map_view import MapView, ScreenSizes
from tests.drawn_sheets import face, facts, grid

MAP = build_face_map(grid(10, 12), face(), facts())
DOTS_PER_MM = 160 / 25.4


def new_view(*, marking=False):
    view = MapView(MAP, ScreenSizes(px_per_mm=DOTS_PER_MM))
    view.resize(1280, 800)
    if marking:
        view.zoom_to(0)
    return view


def touch(kind, x, y, seconds, finger=1):
    return Touch(kind=kind, finger=finger, x_px=x, y_px=y, seconds=seconds)


def tap(view, x, y, at=0.0):
    return view.touch(touch("down", x, y, at)) + view.touch(touch("up", x, y, at + 0.05))


def spot(view, index):
    end = MAP.ends[index]
    return view.viewport.to_screen(end.x_mm, end.y_mm)


def test_a_tap_on_tubes_too_small_zooms_in_and_the_next_one_marks_the_same_tube():
    view = new_view()
    assert not view.gate.is_open
    assert tap(view, *spot(view, 40)) == ()
    assert view.gate.is_open
    assert spot(view, 40) == pytest.approx((640.0, 400.0))
    (told,) = tap(view, 640.0, 400.0, at=0.2)
    assert (type(told.gesture), told.index) == (Tap, 40)


def test_a_tap_beside_all_tubes_is_told_without_one():
    view = new_view()
    (told,) = tap(view, *view.viewport.to_screen(0.0, 900.0))
    assert told.index is None


def test_two_quick_taps_beside_the_tubes_show_the_whole_sheet():
    view = new_view(marking=True)
    place = view.viewport.to_screen(MAP.ends[0].x_mm - 100.0, MAP.ends[0].y_mm + 100.0)
    tap(view, *place)
    tap(view, *place, at=0.2)
    assert view.viewport == new_view().viewport
    assert not view.gate.is_open


def test_a_drag_gives_the_row_so_far_and_a_long_press_the_tube():
    view = new_view(marking=True)
    view.zoom_to(15)
    x, y = spot(view, 15)
    told = [
        *view.touch(touch("down", x, y, 0.0)),
        *view.touch(touch("move", x + 80, y + 3, 0.1)),
        *view.touch(touch("up", *spot(view, 17), 0.2)),
    ]
    assert [each.row for each in told] == [(15,), (15, 16), (15, 16, 17)]
    assert {each.index for each in told} == {15}
    assert isinstance(told[-1].gesture, DragEnd)
    view.touch(touch("down", *spot(view, 17), 1.0))
    (pressed,) = view.tick(1.6)
    assert (type(pressed.gesture), pressed.index) == (LongPress, 17)


def test_a_drag_over_tubes_too_small_pans():
    view = new_view()
    before = view.viewport
    x, y = spot(view, 15)
    view.touch(touch("down", x, y, 0.0))
    assert view.touch(touch("move", x + 50, y, 0.1)) == ()
    assert view.viewport.centre_x_mm == pytest.approx(before.centre_x_mm - 50 / before.px_per_mm)


def test_a_tube_under_a_ruler_cannot_be_touched():
    view = MapView(MAP, ScreenSizes(px_per_mm=DOTS_PER_MM, ruler_px=46.0))
    view.resize(1280, 800)
    view.zoom_to(40)
    view.look_at(MAP.ends[40].x_mm + 620.0 / view.viewport.px_per_mm, 0.0, view.viewport.px_per_mm)
    (told,) = tap(view, *spot(view, 40))
    assert told.index is None


def dragged(view, first, *places):
    """What a drag from a tube over some places and up at the last gives."""
    view.touch(touch("down", *spot(view, first), 0.0))
    told = []
    for number, place in enumerate(places):
        told += view.touch(touch("move", *place, 0.1 + 0.1 * number))
    return told + list(view.touch(touch("up", *places[-1], 3.0)))


def test_a_row_drag_ends_at_the_last_tube_wholly_in_sight():
    view = MapView(MAP, ScreenSizes(px_per_mm=DOTS_PER_MM, ruler_px=46.0))
    view.resize(500, 800)
    row = MAP.row_of(40)
    view.zoom_to(row[3])
    x, y = spot(view, row[3])
    ended = dragged(view, row[3], (x + 60, y), (5000.0, y))[-1]
    radius = MAP.ends[0].radius_mm * view.viewport.px_per_mm
    free = [
        index
        for index in row[3:]
        if spot(view, index)[0] + radius <= 500 - 46 and spot(view, index)[0] - radius >= 46
    ]
    assert 2 <= len(free) < len(row) - 3
    assert (type(ended.gesture), ended.row) == (DragEnd, tuple(free))
    # What lies below a strip of keys is not in sight either.
    view.cover(bottom_px=y)
    assert isinstance(dragged(view, row[3], (x + 60, y), (5000.0, y))[-1].gesture, DragCancel)


def test_a_drag_that_never_reaches_a_second_tube_marks_nothing():
    view = new_view(marking=True)
    view.zoom_to(15)
    x, y = spot(view, 15)
    told = dragged(view, 15, (x + 18, y + 2), (x + 18, y + 90))
    assert isinstance(told[-1].gesture, DragCancel)
    assert not any(isinstance(each.gesture, DragEnd) for each in told)


def test_a_drag_away_from_its_row_moves_the_sheet_and_marks_nothing():
    view = new_view(marking=True)
    view.zoom_to(15)
    before = view.viewport
    x, y = spot(view, 15)
    assert dragged(view, 15, (x + 10, y + 30), (x + 300, y + 30)) == []
    assert view.viewport != before


@pytest.mark.parametrize(("share", "is_meant"), [(0.35, True), (0.45, False), (0.55, False)])
def test_a_tap_between_two_tubes_means_neither(share, is_meant):
    view = new_view(marking=True)
    view.zoom_to(15)
    (x0, y0), (x1, y1) = spot(view, 15), spot(view, 16)
    (told,) = tap(view, x0 + share * (x1 - x0), y0 + share * (y1 - y0))
    assert (told.index, told.is_between) == ((15, False) if is_meant else (None, True))


def test_a_tube_whose_middle_is_under_a_ruler_is_not_meant_by_its_visible_edge():
    view = MapView(MAP, ScreenSizes(px_per_mm=DOTS_PER_MM, ruler_px=46.0))
    view.resize(1280, 800)
    view.zoom_to(40)
    scale = view.viewport.px_per_mm
    view.look_at(MAP.ends[40].x_mm + 597.0 / scale, MAP.ends[40].y_mm, scale)
    x, y = spot(view, 40)
    assert x < 46.0
    assert tap(view, 48.0, y)[0].index is None


def test_gloves_need_a_larger_pitch():
    view = new_view(marking=True)
    view.set_least_pitch(15.0)
    assert not view.gate.is_open
    tap(view, *spot(view, 0))
    assert view.gate.is_open
    assert view.pitch_on_screen_mm >= 15.0


def test_a_fitted_sheet_stays_fitted_when_the_tablet_is_turned_and_a_zoomed_one_keeps_its_middle():
    view = new_view()
    view.resize(800, 1280)
    other = MapView(MAP, ScreenSizes(px_per_mm=DOTS_PER_MM))
    other.resize(800, 1280)
    assert view.viewport == other.viewport
    view.zoom_to(40)
    middle = (view.viewport.centre_x_mm, view.viewport.centre_y_mm, view.viewport.px_per_mm)
    view.resize(1280, 800)
    assert (view.viewport.centre_x_mm, view.viewport.centre_y_mm, view.viewport.px_per_mm) == middle


def test_the_place_and_zoom_of_last_time_come_back():
    view = new_view(marking=True)
    left = view.viewport
    again = new_view()
    again.look_at(left.centre_x_mm, left.centre_y_mm, left.px_per_mm)
    assert again.viewport == left
    assert again.gate.is_open


touches = st.tuples(
    st.sampled_from(("down", "move", "up", "cancel", "tick", "wheel")),
    st.integers(1, 3),
    st.floats(0.0, 1280.0),
    st.floats(0.0, 800.0),
    st.floats(0.0, 0.7),
)


@given(st.lists(touches, max_size=60), st.booleans())
@settings(max_examples=200)
def test_no_sequence_loses_the_sheet_or_marks_tubes_too_small(sequence, marking):
    view = new_view(marking=marking)
    now, down, was_open = 0.0, set(), {}
    for kind, finger, x, y, wait in sequence:
        now += wait
        if kind == "tick":
            told = view.tick(now)
        elif kind == "wheel":
            view.zoom_by(0.5 + wait * 2, x, y)
            told = ()
        else:
            if kind == "down":
                was_open[finger] = view.gate.is_open
                down.add(finger)
            told = view.touch(touch(kind, x, y, now, finger))
            if kind in ("up", "cancel"):
                down.discard(finger)
        for each in told:
            assert (
                isinstance(each.gesture, LongPress)
                or each.index is None
                or was_open[finger]
                or (view.gate.is_open)
            )
        shown = view.viewport
        assert MAP.bounds.contains(shown.centre_x_mm, shown.centre_y_mm)
        assert view.limits.smallest_px_per_mm <= shown.px_per_mm <= view.limits.largest_px_per_mm
        assert view.is_touched == bool(down)
