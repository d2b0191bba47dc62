"""The few shapes of which every picture is made, and what both back ends must draw the same.

Units are millimetres of the picture, x to the right and **y down**. Colours are ``#rrggbb``. There
is no opacity: faint tones are mixed in ``palette``, so that paper, screen and a photocopy agree.
Not here: patterns (two common SVG engines draw them empty, so that a hatched tube would print as a
clean one; hatching is made of strokes), curves other than the circle, and any drawing.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum


class Anchor(StrEnum):
    """Which point of a line of text stands at its x."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A circle; a dashed outline begins at three o'clock and runs clockwise."""

    x: float
    y: float
    radius: float
    fill: str | None = None
    stroke: str | None = None
    stroke_width: float = 0.0
    dash: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A straight stroke with flat ends."""

    x1: float
    y1: float
    x2: float
    y2: float
    stroke: str
    stroke_width: float
    dash: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Path:
    """Straight segments through points, joined round; closed or open with flat ends."""

    points: tuple[tuple[float, float], ...]
    closed: bool
    fill: str | None = None
    stroke: str | None = None
    stroke_width: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of text; y is the base line, size the height of the em."""

    x: float
    y: float
    size: float
    words: str
    fill: str
    anchor: Anchor = Anchor.START
    bold: bool = False


Shape = Circle | Line | Path | Text


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Shapes moved by (dx, dy); ``tube`` names the tube they show, ``title`` says it in words."""

    children: "tuple[Shape | Group, ...]"
    dx: float = 0.0
    dy: float = 0.0
    tube: str | None = None
    title: str | None = None


Primitive = Shape | Group


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A finished picture; ``words`` says in a sentence what it shows, for who cannot see it."""

    width_mm: float
    height_mm: float
    ground: str
    words: str
    primitives: tuple[Primitive, ...]


def build_rectangle(
    x: float,
    y: float,
    width: float,
    height: float,
    *,
    fill: str | None = None,
    stroke: str | None = None,
    stroke_width: float = 0.0,
) -> Path:
    """A rectangle from its upper left corner, as a closed path."""
    corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    return Path(points=corners, closed=True, fill=fill, stroke=stroke, stroke_width=stroke_width)


def fit_letters(words: str, size: float, width: float) -> float:
    """The size, or a smaller one at which the words fit the width.

    A letter is taken as 0.56 em wide, a little over the mean of the usual sans-serif letters.
    """
    return min(size, width / (0.56 * max(1, len(words))))


def move(shape: Shape, dx: float, dy: float) -> Shape:
    """The same shape, moved."""
    if isinstance(shape, Line):
        return replace(
            shape, x1=shape.x1 + dx, y1=shape.y1 + dy, x2=shape.x2 + dx, y2=shape.y2 + dy
        )
    if isinstance(shape, Path):
        return replace(shape, points=tuple((x + dx, y + dy) for x, y in shape.points))
    return replace(shape, x=shape.x + dx, y=shape.y + dy)


def flatten(primitives: Sequence[Primitive], dx: float = 0.0, dy: float = 0.0) -> Iterator[Shape]:
    """All shapes in drawing order, with the offsets of their groups applied."""
    for primitive in primitives:
        if isinstance(primitive, Group):
            yield from flatten(primitive.children, dx + primitive.dx, dy + primitive.dy)
        elif dx or dy:
            yield move(primitive, dx, dy)
        else:
            yield primitive
