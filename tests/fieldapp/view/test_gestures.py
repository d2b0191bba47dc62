"""What fingers mean, as sequences of plain events; and that a pinch never marks."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.view.gestures import (
    MARKING,
    DoubleTap,
    DragBegin,
    DragCancel,
    DragEnd,
    DragMove,
    GestureMachine,
    GestureSizes,
    LongPress,
    PanBy,
    PinchBy,
    Tap,
    Touch,
    TouchClock,
)


def touch(kind, finger, x, y, seconds, **under):
    return Touch(kind=kind, finger=finger, x_px=x, y_px=y, seconds=seconds, **under)


def run(*touches, machine=None):
    machine = machine or GestureMachine(GestureSizes())
    return [gesture for each in touches for gesture in machine.feed(each)]


TUBE = {"on_tube": True, "may_mark": True}


def test_a_tap_on_a_tube_counts_as_soon_as_the_finger_is_up():
    down, up = touch("down", 1, 100, 100, 0.0, **TUBE), touch("up", 1, 103, 96, 0.1)
    assert run(down, up) == [Tap(x_px=100, y_px=100)]


def test_quick_taps_on_tubes_are_all_taps_and_never_a_double_tap():
    taps = []
    for number in range(6):
        taps += [
            touch("down", number, 100, 100, 0.1 * number, **TUBE),
            touch("up", number, 100, 100, 0.1 * number + 0.05),
        ]
    assert run(*taps) == [Tap(x_px=100, y_px=100)] * 6


def test_two_quick_taps_beside_the_tubes_are_a_double_tap_and_a_third_begins_anew():
    taps = []
    for number in range(3):
        taps += [
            touch("down", number, 300, 50, 0.2 * number),
            touch("up", number, 300, 50, 0.2 * number + 0.05),
        ]
    tap, double = Tap(x_px=300, y_px=50), DoubleTap(x_px=300, y_px=50)
    assert run(*taps) == [tap, tap, double, tap]


@pytest.mark.parametrize(("x", "second"), [(300, 0.9), (400, 0.2)], ids=["late", "elsewhere"])
def test_a_late_or_distant_second_tap_is_no_double_tap(x, second):
    taps = run(
        touch("down", 1, 300, 50, 0.0),
        touch("up", 1, 300, 50, 0.05),
        touch("down", 2, x, 50, second),
        touch("up", 2, x, 50, second + 0.05),
    )
    assert [type(each) for each in taps] == [Tap, Tap]


def test_a_finger_held_still_is_a_long_press_told_while_it_is_down_and_then_nothing_more():
    machine = GestureMachine(GestureSizes())
    assert run(touch("down", 1, 100, 100, 0.0, **TUBE), machine=machine) == []
    assert machine.tick(0.49) == ()
    assert machine.tick(0.5) == (LongPress(x_px=100, y_px=100),)
    assert machine.tick(0.9) == ()
    rest = run(touch("move", 1, 300, 100, 1.0), touch("up", 1, 300, 100, 1.1), machine=machine)
    assert rest == []


def test_a_drag_from_a_tube_is_a_row_drag_where_marking_is_allowed():
    told = run(
        touch("down", 1, 100, 100, 0.0, **TUBE),
        touch("move", 1, 110, 100, 0.1),
        touch("move", 1, 120, 101, 0.2),
        touch("move", 1, 200, 103, 0.3),
        touch("up", 1, 210, 104, 0.4),
    )
    assert told == [
        DragBegin(x_px=100, y_px=100),
        DragMove(x_px=120, y_px=101),
        DragMove(x_px=200, y_px=103),
        DragEnd(x_px=210, y_px=104),
    ]


@pytest.mark.parametrize(
    "under", [{}, {"on_tube": True}, {"may_mark": True}], ids=["beside", "too small", "no tube"]
)
def test_any_other_drag_pans_by_as_much_as_the_finger_went(under):
    told = run(
        touch("down", 1, 100, 100, 0.0, **under),
        touch("move", 1, 130, 90, 0.1),
        touch("move", 1, 140, 95, 0.2),
        touch("up", 1, 140, 95, 0.3),
    )
    assert told == [PanBy(dx_px=30, dy_px=-10), PanBy(dx_px=10, dy_px=5)]


def test_a_flick_whose_moves_were_lost_is_still_no_tap():
    told = run(touch("down", 1, 100, 100, 0.0, **TUBE), touch("up", 1, 300, 100, 0.05))
    assert [type(each) for each in told] == [DragBegin, DragMove, DragEnd]


def test_a_second_finger_takes_a_row_drag_back_and_makes_it_a_pinch():
    told = run(
        touch("down", 1, 100, 100, 0.0, **TUBE),
        touch("move", 1, 200, 100, 0.1),
        touch("down", 2, 300, 100, 0.2, **TUBE),
        touch("move", 2, 400, 100, 0.3),
        touch("up", 2, 400, 100, 0.4),
        touch("up", 1, 200, 100, 0.5),
    )
    assert told == [
        DragBegin(x_px=100, y_px=100),
        DragMove(x_px=200, y_px=100),
        DragCancel(),
        PanBy(dx_px=50, dy_px=0),
        PinchBy(factor=2.0, x_px=300, y_px=100),
    ]


def test_the_finger_that_stays_after_a_pinch_pans_and_marks_nothing():
    told = run(
        touch("down", 1, 100, 100, 0.0, **TUBE),
        touch("down", 2, 300, 100, 0.1, **TUBE),
        touch("up", 2, 300, 100, 0.2),
        touch("move", 1, 160, 100, 0.3),
        touch("up", 1, 160, 100, 0.9),
    )
    assert told == [PanBy(dx_px=60, dy_px=0)]


def test_a_drag_that_the_system_takes_away_leaves_no_trace():
    told = run(
        touch("down", 1, 100, 100, 0.0, **TUBE),
        touch("move", 1, 200, 100, 0.1),
        touch("cancel", 1, 200, 100, 0.2),
    )
    assert told[-1] == DragCancel()
    assert run(touch("down", 1, 9, 9, 0.0, **TUBE), touch("cancel", 1, 9, 9, 0.1)) == []


numbers = st.floats(allow_nan=True, allow_infinity=True) | st.floats(0.0, 1000.0)
events = st.builds(
    Touch,
    kind=st.sampled_from(("down", "move", "up", "cancel")),
    finger=st.integers(1, 3),
    x_px=numbers,
    y_px=numbers,
    seconds=st.floats(0.0, 20.0) | numbers,
    on_tube=st.booleans(),
    may_mark=st.booleans(),
)


def fingers_after(down, event):
    """The fingers on the glass as the events say, for events with real numbers."""
    if event.kind == "down":
        return down | {event.finger}
    return down if event.kind == "move" else down - {event.finger}


def is_real(event):
    return all(abs(number) < float("inf") for number in (event.x_px, event.y_px, event.seconds))


@given(st.lists(events, max_size=40))
def test_no_sequence_fails_or_marks_between_a_second_finger_and_the_last_one_up(sequence):
    machine = GestureMachine(GestureSizes())
    down, is_spoiled = set(), False
    for event in sequence:
        if is_real(event):
            # A finger that goes down twice was lifted unseen in between.
            if event.kind == "down" and down == {event.finger}:
                is_spoiled = False
            down = fingers_after(down, event)
            is_spoiled = is_spoiled or len(down) > 1
        told = machine.feed(event)
        if is_spoiled:
            assert not [each for each in told if isinstance(each, MARKING)]
            assert not [each for each in machine.tick(1e9) if isinstance(each, MARKING)]
        assert machine.is_idle == (not down)
        is_spoiled = is_spoiled and bool(down)


@given(st.lists(events, max_size=40))
def test_every_drag_begins_before_it_moves_and_ends_once(sequence):
    machine = GestureMachine(GestureSizes())
    told = [each for event in sequence for each in machine.feed(event)]
    drags = [type(each) for each in told if type(each).__name__.startswith("Drag")]
    after = {
        DragBegin: {DragMove},
        DragMove: {DragMove, DragEnd, DragCancel},
        DragEnd: {DragBegin},
        DragCancel: {DragBegin},
    }
    assert drags[:1] in ([], [DragBegin])
    assert [(one, other) for one, other in pairwise(drags) if other not in after[one]] == []


def test_a_stalled_frame_is_no_long_press():
    clock = TouchClock()
    assert clock.read(10.0, is_touched=False) == 0.0
    assert clock.read(11.0, is_touched=False) == pytest.approx(1.0)
    assert clock.read(14.0, is_touched=True) == pytest.approx(1.1)
    assert clock.read(14.05, is_touched=True) == pytest.approx(1.15)
    assert clock.read(14.0, is_touched=True) == pytest.approx(1.15)


@pytest.mark.parametrize(
    ("row", "dx", "dy", "marks"),
    [
        ((1.0, 0.0), 30, 29, True),
        ((1.0, 0.0), 30, 31, False),
        ((1.0, 0.0), -30, -10, True),
        ((0.0, 1.0), 5, 30, True),
        ((0.0, 1.0), 30, 5, False),
        ((0.6, 0.8), 18, 24, True),
        ((0.6, 0.8), 24, -18, False),
    ],
)
def test_a_drag_that_begins_across_its_row_pans_and_marks_nothing(row, dx, dy, marks):
    told = run(
        touch("down", 1, 100, 100, 0.0, row_x=row[0], row_y=row[1], **TUBE),
        touch("move", 1, 100 + dx, 100 + dy, 0.1),
        touch("up", 1, 100 + 4 * dx, 100, 0.2),
    )
    assert any(isinstance(each, MARKING) for each in told) == marks
    assert isinstance(told[0], PanBy) != marks
