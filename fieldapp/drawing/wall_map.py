"""The walls measured in one pass, tube by tube as seen from the front, coloured by their margin.

The wall stands in the tube as a number, so nothing is said by colour alone. Not here: which class a
wall falls into, the plots over numbers (``wall_charts``).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from fieldapp.drawing.palette import LIGHT, Theme
from fieldapp.drawing.primitives import (
    Anchor,
    Circle,
    Group,
    Picture,
    Primitive,
    Text,
)


class Margin(StrEnum):
    """Where a wall stands, in the words of the legend."""

    BELOW = "below the retirement wall"
    WITHIN_ERROR = "within the gauge's error of it"
    CLOSE = "less than 0.5 mm above it"
    AMPLE = "0.5 mm or more above it"
    NOT_JUDGED = "measured, no retirement wall"
    NOT_MEASURED = "not measured"


CLOSE_MM = 0.5
"""Ours: a margin that some years of thinning may use up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WallSpot:
    """One tube of the map: its place from the front [mm] with y up, and its wall."""

    tube: str
    title: str
    row: int
    x_mm: float
    y_mm: float
    radius_mm: float
    margin: Margin
    wall_mm: float | None = None


_EDGE_MM = 9.0
_HIGHEST_MM = 150.0
_LEGEND_MM = 5.0


def build_wall_map(
    spots: Sequence[WallSpot], *, words: str, width_mm: float = 180.0, theme: Theme = LIGHT
) -> Picture:
    """The map of one pass with its legend under it."""
    reach = max(spot.radius_mm for spot in spots)
    left, right = (side(spot.x_mm for spot in spots) for side in (min, max))
    bottom, top = (side(spot.y_mm for spot in spots) for side in (min, max))
    wide, high = right - left + 2 * reach, top - bottom + 2 * reach
    scale = min((width_mm - 2 * _EDGE_MM) / wide, _HIGHEST_MM / high)
    x0 = width_mm / 2 - (left + right) / 2 * scale
    y0 = 2.0 + (top + reach) * scale
    drawn: list[Primitive] = [
        _draw_spot(spot, x0 + spot.x_mm * scale, y0 - spot.y_mm * scale, scale, theme)
        for spot in spots
    ]
    for row in sorted({spot.row for spot in spots}):
        first = min((s for s in spots if s.row == row), key=lambda spot: spot.x_mm)
        drawn.append(
            Text(
                x=x0 + (first.x_mm - first.radius_mm) * scale - 1.5,
                y=y0 - first.y_mm * scale + 0.8,
                size=2.4,
                words=f"R{row:02}",
                fill=theme.quiet_ink,
                anchor=Anchor.END,
            )
        )
    end = 2.0 + high * scale + 4.0
    occurring = {spot.margin for spot in spots}
    legend, rows = _draw_legend([each for each in Margin if each in occurring], end, theme)
    return Picture(
        width_mm=width_mm,
        height_mm=end + rows * _LEGEND_MM + 2.0,
        ground=theme.ground,
        words=words,
        primitives=(*drawn, *legend),
    )


def _draw_spot(spot: WallSpot, x: float, y: float, scale: float, theme: Theme) -> Group:
    radius = spot.radius_mm * scale
    children: list[Circle | Text | Group] = [_disc(spot.margin, x, y, radius, theme)]
    if spot.wall_mm is not None:
        size = min(3.0, radius * 0.85)
        children.append(
            Text(
                x=x,
                y=y + size * 0.36,
                size=size,
                words=f"{spot.wall_mm:.2f}",
                fill=_ink(spot.margin, theme),
                anchor=Anchor.MIDDLE,
                bold=spot.margin is Margin.BELOW,
            )
        )
    return Group(children=tuple(children), tube=spot.tube, title=spot.title)


def _disc(margin: Margin, x: float, y: float, radius: float, theme: Theme) -> Circle:
    """Worse is darker and has the heavier rim, so that a copy without colour tells them apart."""
    fill, stroke, width = {
        Margin.BELOW: (theme.split.fill, theme.split.ring, 0.6),
        Margin.WITHIN_ERROR: (theme.thinned.fill, theme.thinned.ring, 0.5),
        Margin.CLOSE: (theme.leaking.fill, theme.leaking.ring, 0.35),
        Margin.AMPLE: (theme.sound.fill, theme.sound.ring, 0.2),
        Margin.NOT_JUDGED: (theme.ground, theme.ink, 0.3),
        Margin.NOT_MEASURED: (theme.ground, theme.faint, 0.2),
    }[margin]
    return Circle(x=x, y=y, radius=radius, fill=fill, stroke=stroke, stroke_width=width)


def _ink(margin: Margin, theme: Theme) -> str:
    if margin is Margin.BELOW:
        return theme.split.sign
    return theme.thinned.sign if margin is Margin.WITHIN_ERROR else theme.ink


def _draw_legend(
    margins: Sequence[Margin], top: float, theme: Theme
) -> tuple[list[Primitive], int]:
    """Three to a line."""
    drawn: list[Primitive] = []
    for place, margin in enumerate(margins):
        x, y = _EDGE_MM + 2.0 + place % 3 * 56.0, top + place // 3 * _LEGEND_MM
        drawn += [
            _disc(margin, x, y, 1.7, theme),
            Text(x=x + 3.0, y=y + 1.0, size=2.8, words=margin.value, fill=theme.ink),
        ]
    return drawn, (len(margins) + 2) // 3
