"""The map of a face without its widget: where one looks, and what a finger means for a tube.

Pan, pinch, double tap and the zoom of a tap on too small tubes are done here; what concerns a
tube comes out with the tube's number. So nothing can be marked at a zoom that does not allow it.
Not here: any drawing, and what is recorded.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import hypot

from fieldapp.view.face_map import FaceMap
from fieldapp.view.gestures import (
    DoubleTap,
    DragBegin,
    DragCancel,
    DragEnd,
    DragMove,
    Gesture,
    GestureMachine,
    GestureSizes,
    LongPress,
    PanBy,
    PinchBy,
    Tap,
    Touch,
)
from fieldapp.view.viewport import (
    LEAST_PITCH_MM,
    Bounds,
    MarkingGate,
    Viewport,
    ZoomLimits,
    fit_viewport,
    zoom_limits,
)

TIE_SHARE = 0.7
"""From this share of the distance to the second nearest tube on, a finger is between the two."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MapGesture:
    """A gesture that concerns tubes. ``index`` None is a tap that means no tube."""

    gesture: Tap | LongPress | DragBegin | DragMove | DragEnd | DragCancel
    index: int | None
    row: tuple[int, ...] = ()
    """With a drag: the tubes from the first to the one nearest the finger, as far as they are
    wholly in sight."""
    is_between: bool = False
    """With a tap: it was nearly as close to a second tube, so it means none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ScreenSizes:
    """What the screen is like: pixels to a millimetre of glass, and to a dp."""

    px_per_mm: float
    px_per_dp: float = 1.0
    margin_px: float = 0.0
    """Kept free around the fitted sheet."""
    ruler_px: float = 0.0
    """Width of the strips left and right in which no tube can be touched."""


class MapView:
    """Viewport, gate and gestures of one face on one screen."""

    def __init__(
        self, face_map: FaceMap, screen: ScreenSizes, *, least_pitch_mm: float = LEAST_PITCH_MM
    ) -> None:
        self.face_map = face_map
        self.screen = screen
        self._machine = GestureMachine(
            GestureSizes(slop_px=16.0 * screen.px_per_dp, double_tap_px=48.0 * screen.px_per_dp)
        )
        self._drag_from: int | None = None
        self._covered_px = (0.0, 0.0)
        self._fitted = True
        self.gate = MarkingGate(least_mm=least_pitch_mm)
        self.viewport: Viewport
        self.limits: ZoomLimits
        self.resize(1.0, 1.0)

    @property
    def is_touched(self) -> bool:
        return not self._machine.is_idle

    @property
    def is_fitted(self) -> bool:
        """Whether the whole sheet is shown, and will be after the map changes its size."""
        return self._fitted

    @property
    def pitch_on_screen_mm(self) -> float:
        return self.viewport.pitch_on_screen_mm(self.face_map.pitch_mm, self.screen.px_per_mm)

    def resize(self, width_px: float, height_px: float) -> None:
        """The map has another size: what was fitted is fitted again, else the middle stays."""
        fitted = self._fit(width_px, height_px)
        self.limits = zoom_limits(fitted, self.face_map.pitch_mm, self.screen.px_per_mm)
        if self._fitted:
            self._look(fitted)
            self._fitted = True
        else:
            resized = self.viewport.resized(width_px, height_px)
            self._look(replace(resized, px_per_mm=self.limits.keep(resized.px_per_mm)))

    def fit(self) -> None:
        """The whole sheet."""
        self._look(self._fit(self.viewport.width_px, self.viewport.height_px))
        self._fitted = True

    def look_at(self, x_mm: float, y_mm: float, px_per_mm: float) -> None:
        """A place and zoom, as they were when the map was left."""
        self._look(
            replace(
                self.viewport,
                centre_x_mm=x_mm,
                centre_y_mm=y_mm,
                px_per_mm=self.limits.keep(px_per_mm),
            )
        )

    def zoom_to(self, index: int) -> None:
        """A tube into the middle, large enough to be marked."""
        end = self.face_map.ends[index]
        self._zoom_for_marking(*self.viewport.to_screen(end.x_mm, end.y_mm))

    def zoom_by(self, factor: float, x_px: float, y_px: float) -> None:
        self._look(self.viewport.zoomed(factor, x_px, y_px, self.limits))

    def set_least_pitch(self, least_pitch_mm: float) -> None:
        """Another least pitch, as for gloves."""
        self.gate = MarkingGate(least_mm=least_pitch_mm).at(self.pitch_on_screen_mm)

    def cover(self, *, bottom_px: float = 0.0, top_px: float = 0.0) -> None:
        """Strips of keys lie over the lower and upper edge: no drag marks below them."""
        self._covered_px = (bottom_px, top_px)

    def index_at(self, x_px: float, y_px: float) -> int | None:
        """The tube under a place of the screen; one whose middle a ruler covers is not meant."""
        if not self._is_free(x_px):
            return None
        index = self.face_map.nearest(*self.viewport.to_sheet(x_px, y_px))
        if index is None:
            return None
        end = self.face_map.ends[index]
        return index if self._is_free(self.viewport.to_screen(end.x_mm, end.y_mm)[0]) else None

    def is_between(self, x_px: float, y_px: float) -> bool:
        """Whether a place is nearly as close to a second tube as to the nearest."""
        x, y = self.viewport.to_sheet(x_px, y_px)
        around = Bounds(left_mm=x, bottom_mm=y, right_mm=x, top_mm=y)
        near = self.face_map.visible(around.grown(2.0 * self.face_map.pitch_mm))
        ends = [self.face_map.ends[index] for index in near]
        away = sorted(hypot(end.x_mm - x, end.y_mm - y) for end in ends)
        return len(away) > 1 and away[0] > TIE_SHARE * away[1]

    def _is_free(self, x_px: float) -> bool:
        return self.screen.ruler_px <= x_px <= self.viewport.width_px - self.screen.ruler_px

    def _is_in_sight(self, index: int) -> bool:
        """Whether the whole tube can be seen: under no ruler or strip, inside the map's edge."""
        end, view = self.face_map.ends[index], self.viewport
        x, y = view.to_screen(end.x_mm, end.y_mm)
        radius, (bottom, top) = end.radius_mm * view.px_per_mm, self._covered_px
        return (
            self._is_free(x - radius)
            and self._is_free(x + radius)
            and bottom <= y - radius
            and y + radius <= view.height_px - top
        )

    def _in_sight(self, row: tuple[int, ...]) -> tuple[int, ...]:
        """The tubes of a drag up to the first that is not wholly in sight."""
        hidden = (place for place, index in enumerate(row) if not self._is_in_sight(index))
        return row[: next(hidden, len(row))]

    def _row_direction(self, index: int) -> tuple[float, float]:
        """On the screen; level where the tube stands alone."""
        row = self.face_map.row_of(index)
        first, last = self.face_map.ends[row[0]], self.face_map.ends[row[-1]]
        x, y = last.x_mm - first.x_mm, last.y_mm - first.y_mm
        length = hypot(x, y)
        return (x / length, y / length) if length > 0.0 else (1.0, 0.0)

    def touch(self, touch: Touch) -> tuple[MapGesture, ...]:
        """What a finger did; gives what concerns tubes."""
        if touch.kind == "down":
            index = self.index_at(touch.x_px, touch.y_px)
            row_x, row_y = (1.0, 0.0) if index is None else self._row_direction(index)
            touch = replace(
                touch,
                on_tube=index is not None,
                may_mark=self.gate.is_open and not self.is_between(touch.x_px, touch.y_px),
                row_x=row_x,
                row_y=row_y,
            )
        return self._answer_all(self._machine.feed(touch))

    def tick(self, seconds: float) -> tuple[MapGesture, ...]:
        """Time passes while a finger is down."""
        return self._answer_all(self._machine.tick(seconds))

    def _answer_all(self, gestures: Iterable[Gesture]) -> tuple[MapGesture, ...]:
        answers = [self._answer(gesture) for gesture in gestures]
        return tuple(answer for answer in answers if answer is not None)

    def _answer(self, gesture: Gesture) -> MapGesture | None:
        if isinstance(gesture, PanBy):
            self._look(self.viewport.panned(gesture.dx_px, gesture.dy_px))
        elif isinstance(gesture, PinchBy):
            self.zoom_by(gesture.factor, gesture.x_px, gesture.y_px)
        elif isinstance(gesture, DoubleTap):
            self.fit()
        elif isinstance(gesture, Tap):
            return self._tap(gesture)
        elif isinstance(gesture, LongPress):
            index = self.index_at(gesture.x_px, gesture.y_px)
            return None if index is None else MapGesture(gesture=gesture, index=index)
        else:
            return self._drag(gesture)
        return None

    def _tap(self, tap: Tap) -> MapGesture | None:
        index = self.index_at(tap.x_px, tap.y_px)
        if index is not None and not self.gate.is_open:
            self._zoom_for_marking(tap.x_px, tap.y_px)
            return None
        if index is not None and self.is_between(tap.x_px, tap.y_px):
            return MapGesture(gesture=tap, index=None, is_between=True)
        return MapGesture(gesture=tap, index=index)

    def _drag(self, gesture: DragBegin | DragMove | DragEnd | DragCancel) -> MapGesture | None:
        if isinstance(gesture, DragBegin):
            self._drag_from = self.index_at(gesture.x_px, gesture.y_px)
        first = self._drag_from
        if first is None:
            return None
        if isinstance(gesture, DragCancel):
            self._drag_from = None
            return MapGesture(gesture=gesture, index=first)
        place = self.viewport.to_sheet(gesture.x_px, gesture.y_px)
        row = self._in_sight(self.face_map.row_between(first, *place))
        if isinstance(gesture, DragEnd):
            self._drag_from = None
            if len(row) < 2:  # no second tube was reached: nothing was meant
                return MapGesture(gesture=DragCancel(), index=first)
        return MapGesture(gesture=gesture, index=first, row=row)

    def _zoom_for_marking(self, x_px: float, y_px: float) -> None:
        self._look(
            self.viewport.zoomed_for_marking(
                x_px,
                y_px,
                pitch_mm=self.face_map.pitch_mm,
                least_mm=self.gate.least_mm,
                screen_px_per_mm=self.screen.px_per_mm,
                limits=self.limits,
            )
        )

    def _fit(self, width_px: float, height_px: float) -> Viewport:
        margin = min(self.screen.margin_px, width_px / 4, height_px / 4)
        return fit_viewport(self.face_map.bounds, width_px, height_px, margin_px=margin)

    def _look(self, viewport: Viewport) -> None:
        self.viewport = viewport.kept_on(self.face_map.bounds)
        self.gate = self.gate.at(self.pitch_on_screen_mm)
        self._fitted = False
