"""The sign of how a limit stands: told by shape alone, as the marks of tubes are.

A watch and an act have the triangles that findings of these grades have on the map. Not here: how
a limit is judged (``model.decision.limits``), its bar.
"""

from math import cos, pi, sin

from fieldapp.drawing.palette import Theme
from fieldapp.drawing.primitives import Circle, Path, Shape
from model.decision.limits import LimitStatus

_RING = 0.14
_TICK = ((-0.42, 0.02), (-0.10, 0.36), (0.46, -0.36))


def limit_sign(status: LimitStatus, radius: float, theme: Theme) -> list[Shape]:
    """The shapes around (0, 0), y downwards, nothing beyond ``radius``.

    ok: a tick in a ring. watch: an open triangle. act: a solid one. refer: a solid square on its
    point. unknown: an empty broken ring.
    """
    if status is LimitStatus.OK:
        tick = tuple((x * radius, y * radius) for x, y in _TICK)
        return [
            _ring(radius, theme.sound.ring, theme.sound.fill),
            Path(points=tick, closed=False, stroke=theme.sound.sign, stroke_width=0.22 * radius),
        ]
    if status is LimitStatus.UNKNOWN:
        piece = 2 * pi * radius * (1 - _RING / 2) / 10
        return [_ring(radius, theme.quiet_ink, None, dash=(0.6 * piece, 0.4 * piece))]
    corners = 4 if status is LimitStatus.REFER else 3
    inside = theme.watch if status is LimitStatus.WATCH else theme.act
    inner = {LimitStatus.WATCH: 0.50, LimitStatus.ACT: 0.72}.get(status, 0.76)
    # A triangle's middle is above the middle of its height.
    down = 0.0 if corners == 4 else 0.22 * radius
    return [
        Path(points=_corners(corners, reach * radius, down), closed=True, fill=fill)
        for reach, fill in ((1.0, theme.ink), (inner, inside))
    ]


def _ring(
    radius: float, stroke: str, fill: str | None, dash: tuple[float, float] | None = None
) -> Circle:
    width = _RING * radius
    return Circle(
        x=0,
        y=0,
        radius=radius - width / 2,
        fill=fill,
        stroke=stroke,
        stroke_width=width,
        dash=dash,
    )


def _corners(count: int, reach: float, down: float) -> tuple[tuple[float, float], ...]:
    """Corners around a point ``down`` below the middle, the first one above it."""
    turns = (2 * pi * step / count for step in range(count))
    return tuple((reach * sin(turn), down - reach * cos(turn)) for turn in turns)
