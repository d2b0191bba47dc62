"""Which part of a sheet is on the screen, and when its tubes are large enough to be marked.

Sheet millimetres are as seen at the face (already mirrored where the face is), x to the right and
y up; screen pixels too, from the lower left corner of the map. Not here: tubes, and any drawing.
"""

from dataclasses import dataclass, replace

LEAST_PITCH_MM = 9.0
"""Pitch on the screen from which a finger finds its tube (ours; no published figure)."""
LEAST_PITCH_GLOVE_MM = 15.0
LARGEST_PITCH_MM = 40.0
"""No zoom beyond this pitch on the screen: the sheet would only be lost."""
_OPENS_AT = 1.05
_ZOOMS_TO = 1.25


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """An upright rectangle of the sheet."""

    left_mm: float
    bottom_mm: float
    right_mm: float
    top_mm: float

    @property
    def width_mm(self) -> float:
        return self.right_mm - self.left_mm

    @property
    def height_mm(self) -> float:
        return self.top_mm - self.bottom_mm

    def contains(self, x_mm: float, y_mm: float) -> bool:
        inside_x = self.left_mm <= x_mm <= self.right_mm
        return inside_x and self.bottom_mm <= y_mm <= self.top_mm

    def touches(self, other: "Bounds") -> bool:
        """Whether the two rectangles share a place."""
        beside = self.left_mm > other.right_mm or self.right_mm < other.left_mm
        above = self.bottom_mm > other.top_mm or self.top_mm < other.bottom_mm
        return not (beside or above)

    def covers(self, other: "Bounds") -> bool:
        """Whether the other rectangle lies inside this one."""
        across = self.left_mm <= other.left_mm and other.right_mm <= self.right_mm
        return across and self.bottom_mm <= other.bottom_mm and other.top_mm <= self.top_mm

    def grown(self, by_mm: float) -> "Bounds":
        return Bounds(
            left_mm=self.left_mm - by_mm,
            bottom_mm=self.bottom_mm - by_mm,
            right_mm=self.right_mm + by_mm,
            top_mm=self.top_mm + by_mm,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoomLimits:
    smallest_px_per_mm: float
    largest_px_per_mm: float

    def keep(self, px_per_mm: float) -> float:
        return min(max(px_per_mm, self.smallest_px_per_mm), self.largest_px_per_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Viewport:
    """The part of the sheet on the screen: what is in the middle, and how large."""

    centre_x_mm: float
    centre_y_mm: float
    px_per_mm: float
    width_px: float
    height_px: float

    def to_screen(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        return (
            (x_mm - self.centre_x_mm) * self.px_per_mm + self.width_px / 2,
            (y_mm - self.centre_y_mm) * self.px_per_mm + self.height_px / 2,
        )

    def to_sheet(self, x_px: float, y_px: float) -> tuple[float, float]:
        return (
            (x_px - self.width_px / 2) / self.px_per_mm + self.centre_x_mm,
            (y_px - self.height_px / 2) / self.px_per_mm + self.centre_y_mm,
        )

    @property
    def shown(self) -> Bounds:
        """The part of the sheet on the screen."""
        half_width = self.width_px / self.px_per_mm / 2
        half_height = self.height_px / self.px_per_mm / 2
        return Bounds(
            left_mm=self.centre_x_mm - half_width,
            bottom_mm=self.centre_y_mm - half_height,
            right_mm=self.centre_x_mm + half_width,
            top_mm=self.centre_y_mm + half_height,
        )

    def panned(self, dx_px: float, dy_px: float) -> "Viewport":
        """The sheet moved with the finger."""
        return replace(
            self,
            centre_x_mm=self.centre_x_mm - dx_px / self.px_per_mm,
            centre_y_mm=self.centre_y_mm - dy_px / self.px_per_mm,
        )

    def zoomed(self, factor: float, x_px: float, y_px: float, limits: ZoomLimits) -> "Viewport":
        """Larger by the factor as far as the limits allow; the place at (x, y) stays there."""
        return self._scaled(limits.keep(self.px_per_mm * factor), x_px, y_px)

    def zoomed_for_marking(
        self,
        x_px: float,
        y_px: float,
        *,
        pitch_mm: float,
        least_mm: float,
        screen_px_per_mm: float,
        limits: ZoomLimits,
    ) -> "Viewport":
        """Just large enough to mark, with the touched place in the middle of the screen."""
        wanted = least_mm * _ZOOMS_TO * screen_px_per_mm / pitch_mm
        x_mm, y_mm = self.to_sheet(x_px, y_px)
        return replace(
            self, centre_x_mm=x_mm, centre_y_mm=y_mm, px_per_mm=limits.keep(max(wanted, 0.0))
        )

    def resized(self, width_px: float, height_px: float) -> "Viewport":
        """Another size of the map, with the same place in its middle."""
        return replace(self, width_px=_some(width_px), height_px=_some(height_px))

    def kept_on(self, bounds: Bounds) -> "Viewport":
        """The same, moved so that the middle of the screen stays on the sheet."""
        return replace(
            self,
            centre_x_mm=min(max(self.centre_x_mm, bounds.left_mm), bounds.right_mm),
            centre_y_mm=min(max(self.centre_y_mm, bounds.bottom_mm), bounds.top_mm),
        )

    def pitch_on_screen_mm(self, pitch_mm: float, screen_px_per_mm: float) -> float:
        """The pitch as a ruler laid on the screen would measure it."""
        return pitch_mm * self.px_per_mm / screen_px_per_mm

    def _scaled(self, px_per_mm: float, x_px: float, y_px: float) -> "Viewport":
        x_mm, y_mm = self.to_sheet(x_px, y_px)
        return replace(
            self,
            centre_x_mm=x_mm - (x_px - self.width_px / 2) / px_per_mm,
            centre_y_mm=y_mm - (y_px - self.height_px / 2) / px_per_mm,
            px_per_mm=px_per_mm,
        )


def fit_viewport(
    bounds: Bounds, width_px: float, height_px: float, *, margin_px: float = 0.0
) -> Viewport:
    """All of the bounds in the middle of the screen, with a margin on every side."""
    width, height = _some(width_px), _some(height_px)
    room_x, room_y = _some(width - 2 * margin_px), _some(height - 2 * margin_px)
    scale = min(room_x / max(bounds.width_mm, 1.0), room_y / max(bounds.height_mm, 1.0))
    return Viewport(
        centre_x_mm=(bounds.left_mm + bounds.right_mm) / 2,
        centre_y_mm=(bounds.bottom_mm + bounds.top_mm) / 2,
        px_per_mm=scale,
        width_px=width,
        height_px=height,
    )


def zoom_limits(fitted: Viewport, pitch_mm: float, screen_px_per_mm: float) -> ZoomLimits:
    """From a little smaller than the whole sheet to a pitch wider than a thumb."""
    smallest = 0.7 * fitted.px_per_mm
    largest = LARGEST_PITCH_MM * screen_px_per_mm / pitch_mm
    return ZoomLimits(smallest_px_per_mm=smallest, largest_px_per_mm=max(largest, smallest))


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkingGate:
    """Whether a touch may mark: only when the pitch on the screen is large enough.

    It opens a little above the least pitch and closes below it, so that it does not flutter while
    two fingers rest on the glass.
    """

    least_mm: float = LEAST_PITCH_MM
    is_open: bool = False

    def at(self, pitch_on_screen_mm: float) -> "MarkingGate":
        """The gate after the pitch on the screen has changed."""
        needed = self.least_mm if self.is_open else self.least_mm * _OPENS_AT
        return replace(self, is_open=pitch_on_screen_mm >= needed)


def _some(size_px: float) -> float:
    """A window has no size before it is laid out."""
    return max(size_px, 1.0)
