"""How one tube end looks: a sign for each state, and small additions that combine with any of them.

The signs come from what a person sees in the bore or does to it, so that they can be guessed:

* sound: a ring with a dot, the bore looked through;
* thinned: hatched, the draughtsman's sign for material that is cut away;
* leaking: a drop in the bore; at the joint the bore is clear and the drop hangs on its edge;
* plugged: a solid disc, nothing passes; a bad plug has lost a wedge;
* split: a broken disc;
* not inspected: an empty thin ring; with the bar of a no-entry sign where a reason was given.

Each is told by shape alone (see the tests, which compare them in grey). Nothing reaches beyond
``EXTENT`` radii, so that neighbours do not touch. No letters inside a mark.
Not here: where a tube is, what a state means, and any drawing surface.
"""

from dataclasses import dataclass
from math import asin, cos, pi, sin, sqrt
from typing import Literal

from fieldapp.drawing.palette import Theme, Tone
from fieldapp.drawing.primitives import Circle, Line, Path, Shape
from model.record.words import State

EXTENT = 1.32
"""How far a mark with everything on it reaches, in radii of its tube."""

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class TubeLook:
    """All that decides how a tube end is drawn; ``state`` None is nobody looked."""

    state: str | None
    carried: bool = False
    disputed: bool = False
    joint_leak: bool = False
    finding: Literal["watch", "act"] | None = None
    filled: bool = False
    stay: bool = False
    plug_bad: bool = False
    replaced: bool = False
    reason: bool = False
    """With ``state`` None: somebody said why nobody looked."""


def mark(look: TubeLook, radius: float, theme: Theme) -> list[Shape]:
    """The shapes of a tube end around (0, 0)."""
    shapes: list[Shape] = []
    if look.stay:
        shapes += _draw_stay(radius, theme)
    if look.filled:
        shapes += _draw_row_ticks(radius, theme)
    if look.carried:
        shapes += _draw_carried_ring(radius, theme)
        shapes += _draw_sign(look, radius * 0.68, theme)
    else:
        shapes += _draw_sign(look, radius, theme)
    if look.finding is not None:
        shapes += _draw_finding(look.finding, radius, theme)
    if look.disputed:
        shapes += _draw_dispute(radius, theme)
    if look.replaced and look.state is not None:
        shapes += _draw_plus(0.76 * radius, 0.76 * radius, radius * 0.40, theme, halo=True)
    return shapes


def hatch(radius: float, spacing: float) -> list[tuple[Point, Point]]:
    """Parallel strokes rising to the right, cut to the circle around (0, 0).

    A chord at distance d from the centre has the half length sqrt(r^2 - d^2).
    """
    strokes: list[tuple[Point, Point]] = []
    count = int((radius * 0.999) / spacing)
    for step in range(-count, count + 1):
        distance = step * spacing
        half = sqrt(radius * radius - distance * distance)
        # Along the stroke is (1, -1), across it (1, 1), both over sqrt(2); y points down.
        middle = distance / sqrt(2)
        reach = half / sqrt(2)
        strokes.append(((middle - reach, middle + reach), (middle + reach, middle - reach)))
    return strokes


def _draw_sign(look: TubeLook, radius: float, theme: Theme) -> list[Shape]:
    if look.state == State.SOUND:
        return _draw_sound(radius, theme.sound, dot=not look.filled)
    if look.state == State.THINNED:
        return _draw_thinned(radius, theme.thinned)
    if look.state == State.LEAKING and look.joint_leak:
        return _draw_joint_leak(radius, theme.leaking, theme)
    if look.state == State.LEAKING:
        return [
            *_draw_ring(radius, theme.leaking, 0.13),
            _build_drop(0, 0.05 * radius, radius * 0.66, theme.leaking.sign),
        ]
    if look.state == State.PLUGGED:
        return _draw_plug(radius, theme, bad=look.plug_bad)
    if look.state == State.SPLIT:
        return _draw_split(radius, theme.split)
    if look.replaced:
        return [*_draw_ring(radius, theme.replaced, 0.15), *_draw_plus(0, 0, radius * 0.62, theme)]
    return _draw_not_inspected(radius, theme.not_inspected, barred=look.reason)


def _draw_not_inspected(radius: float, tone: Tone, *, barred: bool) -> list[Shape]:
    """Empty: what lies below shows through, or on a dark sheet it would be a disc."""
    width, half = 0.09 * radius, 0.66 * radius
    shapes: list[Shape] = [
        Circle(x=0, y=0, radius=radius - width / 2, stroke=tone.ring, stroke_width=width)
    ]
    if barred:
        bar = Line(x1=-half, y1=0, x2=half, y2=0, stroke=tone.sign, stroke_width=0.34 * radius)
        shapes.append(bar)
    return shapes


def _draw_ring(radius: float, tone: Tone, share: float) -> list[Shape]:
    """A disc with an outline that stays inside the radius."""
    width = share * radius
    return [
        Circle(
            x=0,
            y=0,
            radius=radius - width / 2,
            fill=tone.fill,
            stroke=tone.ring,
            stroke_width=width,
        )
    ]


def _draw_sound(radius: float, tone: Tone, *, dot: bool) -> list[Shape]:
    shapes = _draw_ring(radius, tone, 0.15)
    if dot:
        shapes.append(Circle(x=0, y=0, radius=0.24 * radius, fill=tone.sign))
    return shapes


def _draw_thinned(radius: float, tone: Tone) -> list[Shape]:
    inner = 0.94 * radius
    shapes: list[Shape] = [Circle(x=0, y=0, radius=inner, fill=tone.fill)]
    for (x1, y1), (x2, y2) in hatch(inner, 0.42 * radius):
        shapes.append(
            Line(x1=x1, y1=y1, x2=x2, y2=y2, stroke=tone.sign, stroke_width=0.14 * radius)
        )
    width = 0.13 * radius
    shapes.append(Circle(x=0, y=0, radius=radius - width / 2, stroke=tone.ring, stroke_width=width))
    return shapes


def _build_drop(x: float, y: float, size: float, colour: str) -> Path:
    """A hanging drop, ``size`` from its middle to its point; a round belly with a tapered tip."""
    belly = 0.62 * size
    low = y + size - belly
    # The sides touch the belly where the tangents from the tip meet it.
    tip = y - size
    reach = low - tip
    angle = pi / 2 - asin(belly / reach)
    start, stop = -pi / 2 + angle, 3 * pi / 2 - angle
    points: list[Point] = [(x, tip)]
    for step in range(25):
        turn = start + (stop - start) * step / 24
        points.append((x + belly * cos(turn), low + belly * sin(turn)))
    return Path(points=tuple(points), closed=True, fill=colour)


def _draw_joint_leak(radius: float, tone: Tone, theme: Theme) -> list[Shape]:
    """The bore is clear; the joint around it is wet and a drop hangs on its lower edge."""
    outer, bore = 0.09 * radius, 0.13 * radius
    return [
        Circle(
            x=0,
            y=0,
            radius=radius - outer / 2,
            fill=tone.fill,
            stroke=tone.ring,
            stroke_width=outer,
        ),
        Circle(
            x=0,
            y=0,
            radius=0.62 * radius,
            fill=theme.ground,
            stroke=tone.ring,
            stroke_width=bore,
        ),
        _build_drop(0, 0.70 * radius, 0.66 * radius, theme.ground),
        _build_drop(0, 0.74 * radius, 0.50 * radius, tone.sign),
    ]


def _draw_plug(radius: float, theme: Theme, *, bad: bool) -> list[Shape]:
    tone, width = theme.plugged, 0.13 * radius
    disc = Circle(x=0, y=0, radius=radius, fill=tone.fill)
    if tone.ring != tone.fill:  # light around the disc on a dark sheet
        disc = Circle(
            x=0,
            y=0,
            radius=radius - width / 2,
            fill=tone.fill,
            stroke=tone.ring,
            stroke_width=width,
        )
    if not bad:
        return [disc]
    wedge: list[Point] = [(0.0, -0.12 * radius)]
    for step in range(9):
        turn = pi / 2 + (step - 4) / 4 * 0.62
        wedge.append((1.02 * radius * cos(turn), 1.02 * radius * sin(turn)))
    return [
        disc,
        Path(points=tuple(wedge), closed=True, fill=theme.plugged.sign),
        _build_drop(0, 0.66 * radius, 0.34 * radius, theme.act),
    ]


def _draw_split(radius: float, tone: Tone) -> list[Shape]:
    shapes = _draw_ring(radius, tone, 0.13)
    crack = ((-0.16, -1.04), (0.24, -0.26), (-0.24, 0.20), (0.16, 1.04))
    shapes.append(
        Path(
            points=tuple((x * radius, y * radius) for x, y in crack),
            closed=False,
            stroke=tone.sign,
            stroke_width=0.30 * radius,
        )
    )
    return shapes


def _draw_carried_ring(radius: float, theme: Theme) -> list[Shape]:
    """Not confirmed today: the sign stands small inside a broken ring; confirming fills it."""
    width = 0.10 * radius
    middle = radius - width / 2
    piece = 2 * pi * middle / 12
    return [
        Circle(x=0, y=0, radius=radius, fill=theme.ground),
        Circle(
            x=0,
            y=0,
            radius=middle,
            stroke=theme.quiet_ink,
            stroke_width=width,
            dash=(0.6 * piece, 0.4 * piece),
        ),
    ]


def _draw_row_ticks(radius: float, theme: Theme) -> list[Shape]:
    """Filled in along the row, not looked at: ticks that join up with the neighbours' ticks."""
    return [
        Line(
            x1=side * 0.9 * radius,
            y1=0,
            x2=side * EXTENT * radius,
            y2=0,
            stroke=theme.quiet_ink,
            stroke_width=0.20 * radius,
        )
        for side in (-1, 1)
    ]


def _draw_stay(radius: float, theme: Theme) -> list[Shape]:
    """A stay tube holds the sheet: the nut around it."""
    corner = 1.22 * radius
    points = tuple((corner * sin(pi / 3 * step), corner * cos(pi / 3 * step)) for step in range(6))
    return [
        Path(
            points=points,
            closed=True,
            fill=theme.ground,
            stroke=theme.ink,
            stroke_width=0.10 * radius,
        )
    ]


def _draw_finding(grade: Literal["watch", "act"], radius: float, theme: Theme) -> list[Shape]:
    """A warning triangle on the upper right: open to watch, solid to act."""
    x, y = 0.78 * radius, -0.68 * radius
    inside = theme.act if grade == "act" else theme.watch
    inner = 0.46 if grade == "act" else 0.30
    return [
        Path(points=_triangle(x, y, 0.78 * radius), closed=True, fill=theme.ground),
        Path(points=_triangle(x, y, 0.60 * radius), closed=True, fill=theme.ink),
        Path(points=_triangle(x, y, inner * radius), closed=True, fill=inside),
    ]


def _draw_dispute(radius: float, theme: Theme) -> list[Shape]:
    """Two opinions, point against point, on the upper left."""
    x, y = -0.80 * radius, -0.78 * radius
    shapes: list[Shape] = [Circle(x=x, y=y, radius=0.54 * radius, fill=theme.ground)]
    for side in (-1, 1):
        points = (
            (x + side * 0.05 * radius, y),
            (x + side * 0.46 * radius, y - 0.38 * radius),
            (x + side * 0.46 * radius, y + 0.38 * radius),
        )
        shapes.append(
            Path(
                points=points,
                closed=True,
                fill=theme.dispute,
                stroke=theme.ink,
                stroke_width=0.08 * radius,
            )
        )
    return shapes


def _draw_plus(
    x: float, y: float, reach: float, theme: Theme, *, halo: bool = False
) -> list[Shape]:
    shapes: list[Shape] = []
    if halo:
        shapes.append(Circle(x=x, y=y, radius=1.3 * reach, fill=theme.ground))
    width = 0.42 * reach
    for dx, dy in ((reach, 0.0), (0.0, reach)):
        shapes.append(
            Line(
                x1=x - dx,
                y1=y - dy,
                x2=x + dx,
                y2=y + dy,
                stroke=theme.replaced.sign,
                stroke_width=width,
            )
        )
    return shapes


def _triangle(x: float, y: float, reach: float) -> tuple[Point, ...]:
    """An upright triangle with its corners ``reach`` from (x, y)."""
    return tuple(
        (x + reach * sin(2 * pi / 3 * step), y - reach * cos(2 * pi / 3 * step))
        for step in range(3)
    )
