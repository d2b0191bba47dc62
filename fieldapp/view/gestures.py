"""What fingers on the map mean: a state machine over plain touch events, without a clock.

Only ``Tap``, ``LongPress`` and the row drag may mark or open anything. Once a second finger is
down nothing of that kind comes before all fingers are up. Not here: which tube is under a finger,
and what a gesture does.
"""

from dataclasses import dataclass, replace
from enum import StrEnum
from math import hypot, isfinite
from typing import Literal


@dataclass(frozen=True, slots=True, kw_only=True)
class Touch:
    """One thing that a finger did, at a place of the map."""

    kind: Literal["down", "move", "up", "cancel"]
    finger: int
    x_px: float
    y_px: float
    seconds: float
    on_tube: bool = False
    """With ``down``: whether a tube is under the finger."""
    may_mark: bool = False
    """With ``down``: whether the tubes are large enough to be marked."""
    row_x: float = 1.0
    row_y: float = 0.0
    """With ``down`` on a tube: the direction of its row on the screen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tap:
    """A short touch, told as soon as the finger is up; the place is where it went down."""

    x_px: float
    y_px: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DoubleTap:
    """The second of two quick taps beside the tubes; the taps themselves were told too."""

    x_px: float
    y_px: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LongPress:
    """A finger held still; told while it is still down."""

    x_px: float
    y_px: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DragBegin:
    """A drag along the row of a tube; the place is where the finger went down on it."""

    x_px: float
    y_px: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DragMove:
    x_px: float
    y_px: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DragEnd:
    x_px: float
    y_px: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DragCancel:
    """The drag became something else: it must leave no trace."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PanBy:
    dx_px: float
    dy_px: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PinchBy:
    """Larger by the factor about a place."""

    factor: float
    x_px: float
    y_px: float


Gesture = (
    Tap | DoubleTap | LongPress | DragBegin | DragMove | DragEnd | DragCancel | PanBy | PinchBy
)
MARKING = (Tap, LongPress, DragBegin, DragMove, DragEnd)
"""The gestures that may change or open something."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GestureSizes:
    """Distances in pixels: give ``dp`` times the density of the screen."""

    slop_px: float = 16.0
    """How far a finger may wander and still be tapping (16 dp)."""
    double_tap_px: float = 48.0
    double_tap_s: float = 0.35
    long_press_s: float = 0.5


class _Mode(StrEnum):
    IDLE = "idle"
    PRESSED = "pressed"
    HELD = "held"
    """After a long press, or when nothing more may come of this finger."""
    PANNING = "panning"
    DRAGGING = "dragging"
    MANY = "many"
    """A second finger was down, and not all are up again."""


class GestureMachine:
    """Turns touch events into gestures. Any order of events is allowed."""

    __slots__ = ("_down", "_fingers", "_last_tap", "_mode", "_sizes")

    def __init__(self, sizes: GestureSizes) -> None:
        self._sizes = sizes
        self._mode = _Mode.IDLE
        self._fingers: dict[int, tuple[float, float]] = {}
        self._down: Touch | None = None
        self._last_tap: Touch | None = None

    @property
    def is_idle(self) -> bool:
        """Whether no finger is down."""
        return not self._fingers

    def feed(self, touch: Touch) -> tuple[Gesture, ...]:
        """The gestures that follow from one event."""
        if not (isfinite(touch.x_px) and isfinite(touch.y_px) and isfinite(touch.seconds)):
            return ()
        if touch.kind == "down":
            return self._press(touch)
        if touch.finger not in self._fingers:
            return ()
        told = self.tick(touch.seconds)
        if touch.kind == "move":
            return told + self._move(touch)
        if touch.kind == "up" and self._mode is _Mode.PRESSED:
            told += self._move(touch)  # a flick may come without a move of its own
        return told + self._lift(touch)

    def tick(self, seconds: float) -> tuple[Gesture, ...]:
        """Time passes: to be called while a finger is down."""
        down = self._down
        if self._mode is not _Mode.PRESSED or down is None:
            return ()
        if seconds - down.seconds < self._sizes.long_press_s:
            return ()
        self._mode = _Mode.HELD
        return (LongPress(x_px=down.x_px, y_px=down.y_px),)

    def _press(self, touch: Touch) -> tuple[Gesture, ...]:
        told: tuple[Gesture, ...] = ()
        if touch.finger in self._fingers:
            # Its lifting was never told: whatever it was doing is off.
            told = self._lift(replace(touch, kind="cancel"))
        others = bool(self._fingers)
        self._fingers[touch.finger] = (touch.x_px, touch.y_px)
        if others:
            cancelled = self._mode is _Mode.DRAGGING
            self._mode, self._down, self._last_tap = _Mode.MANY, None, None
            return (*told, DragCancel()) if cancelled else told
        self._mode, self._down = _Mode.PRESSED, touch
        return told

    def _move(self, touch: Touch) -> tuple[Gesture, ...]:
        if self._mode is _Mode.MANY:
            return self._pinch(touch)
        before = self._fingers[touch.finger]
        self._fingers[touch.finger] = (touch.x_px, touch.y_px)
        if self._mode is _Mode.PANNING:
            return _panned(touch.x_px - before[0], touch.y_px - before[1])
        if self._mode is _Mode.DRAGGING:
            return (DragMove(x_px=touch.x_px, y_px=touch.y_px),)
        if self._mode is _Mode.PRESSED and self._down is not None:
            return self._leave_slop(self._down, touch)
        return ()

    def _leave_slop(self, down: Touch, touch: Touch) -> tuple[Gesture, ...]:
        dx, dy = touch.x_px - down.x_px, touch.y_px - down.y_px
        if hypot(dx, dy) <= self._sizes.slop_px:
            return ()
        self._last_tap = None
        if down.on_tube and down.may_mark and _is_along(down, dx, dy):
            self._mode = _Mode.DRAGGING
            return (
                DragBegin(x_px=down.x_px, y_px=down.y_px),
                DragMove(x_px=touch.x_px, y_px=touch.y_px),
            )
        self._mode = _Mode.PANNING
        return _panned(dx, dy)

    def _pinch(self, touch: Touch) -> tuple[Gesture, ...]:
        x0, y0, spread0 = _gather(self._fingers)
        self._fingers[touch.finger] = (touch.x_px, touch.y_px)
        x1, y1, spread1 = _gather(self._fingers)
        told = _panned(x1 - x0, y1 - y0)
        if spread0 < 1.0 or spread1 < 1.0 or spread0 == spread1:
            return told
        return (*told, PinchBy(factor=spread1 / spread0, x_px=x1, y_px=y1))

    def _lift(self, touch: Touch) -> tuple[Gesture, ...]:
        """A finger is up, or lost to the system."""
        mode, down = self._mode, self._down
        del self._fingers[touch.finger]
        if self._fingers:
            return ()
        self._mode, self._down = _Mode.IDLE, None
        is_lost = touch.kind == "cancel"
        if mode is _Mode.DRAGGING:
            return (DragCancel() if is_lost else DragEnd(x_px=touch.x_px, y_px=touch.y_px),)
        if mode is not _Mode.PRESSED or down is None or is_lost:
            return ()
        tap = Tap(x_px=down.x_px, y_px=down.y_px)
        if self._is_second(down):
            self._last_tap = None
            return (tap, DoubleTap(x_px=down.x_px, y_px=down.y_px))
        self._last_tap = None if down.on_tube else down
        return (tap,)

    def _is_second(self, down: Touch) -> bool:
        first = self._last_tap
        if first is None or down.on_tube:
            return False
        is_quick = 0.0 <= down.seconds - first.seconds <= self._sizes.double_tap_s
        apart = hypot(down.x_px - first.x_px, down.y_px - first.y_px)
        return is_quick and apart <= self._sizes.double_tap_px


class TouchClock:
    """Seconds as fingers feel them: while one is down a frame counts a tenth of a second at most.

    Otherwise a stalled frame would turn a tap, whose lifting waits in the queue, into a long press.
    """

    __slots__ = ("_felt", "_last")

    def __init__(self) -> None:
        self._felt = 0.0
        self._last: float | None = None

    def read(self, now: float, *, is_touched: bool) -> float:
        passed = 0.0 if self._last is None else max(0.0, now - self._last)
        self._last = now
        self._felt += min(passed, 0.1) if is_touched else passed
        return self._felt


def _is_along(down: Touch, dx: float, dy: float) -> bool:
    """Whether a movement is closer to the row than to its right angle: within 45 degrees."""
    along = abs(dx * down.row_x + dy * down.row_y)
    across = abs(dy * down.row_x - dx * down.row_y)
    return along >= across


def _panned(dx_px: float, dy_px: float) -> tuple[Gesture, ...]:
    return (PanBy(dx_px=dx_px, dy_px=dy_px),) if dx_px or dy_px else ()


def _gather(fingers: dict[int, tuple[float, float]]) -> tuple[float, float, float]:
    """Middle of the fingers and their mean distance from it; 0 for a single one."""
    count = len(fingers)
    x = sum(each[0] for each in fingers.values()) / count
    y = sum(each[1] for each in fingers.values()) / count
    return x, y, sum(hypot(each[0] - x, each[1] - y) for each in fingers.values()) / count
