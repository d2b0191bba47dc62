"""Lines over a quantity, each told by its marks and its dashes as well as by colour.

Every line bears its name at its end, so no legend has to be searched. Not here: where the numbers
come from, plots of walls (``wall_charts``).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from fieldapp.drawing.palette import LIGHT, Theme
from fieldapp.drawing.plot_frame import Frame, draw_x_marks, plot_text
from fieldapp.drawing.primitives import Anchor, Circle, Line, Path, Picture, Primitive
from fieldapp.drawing.round_steps import round_marks

_MARK = 0.95
_STEPS = 5
_LABEL_GAP = 3.4
_LABEL_SHARE = 0.13
"""Of the width, kept free to the right of the lines for their names."""
_DASHES = (None, (2.4, 1.2), (0.8, 0.8), (4.0, 1.0))

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class NamedLine:
    """A line through points, from left to right."""

    name: str
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Level:
    """A value that the lines are held against."""

    value: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """How an axis is marked."""

    words: str
    say: Callable[[float], str]
    least_span: float = 0.0
    """The axis spans at least this, so that a small change looks small."""


def build_line_chart(
    lines: Sequence[NamedLine],
    *,
    across: Scale,
    up: Scale,
    level: Level | None = None,
    words: str,
    width_mm: float = 180.0,
    theme: Theme = LIGHT,
) -> Picture:
    """The lines with the level they are held against. At least one line has a point."""
    xs = [x for line in lines for x, _ in line.points]
    ys = [y for line in lines for _, y in line.points]
    if level is not None:
        # A little lower, so that the level does not lie on the axis.
        ys += [level.value, level.value - 0.02 * (max(*ys, level.value) - level.value)]
    y_marks = _marks(ys, up.least_span)
    x_marks = _marks(xs, across.least_span)
    reach = x_marks[-1] - x_marks[0]
    frame = Frame(
        width_mm=width_mm,
        height_mm=76.0,
        x_low=x_marks[0],
        x_high=x_marks[-1] + reach * _LABEL_SHARE / (1.0 - _LABEL_SHARE),
        y_low=y_marks[0],
        y_high=y_marks[-1],
    )
    drawn: list[Primitive] = [
        *_draw_across(frame, across, x_marks, theme),
        *_draw_up(frame, up, y_marks, x_marks[-1], theme),
    ]
    if level is not None:
        drawn += _draw_level(frame, level, lines, x_marks[-1], theme)
    for place, line in enumerate(lines):
        drawn += _draw_line(frame, line, place, theme)
    for place, line in enumerate(lines):
        drawn += [_mark(frame.x(x), frame.y(y), place, theme) for x, y in line.points]
    drawn += _draw_names(frame, lines, theme)
    return Picture(
        width_mm=frame.width_mm,
        height_mm=frame.height_mm,
        ground=theme.ground,
        words=words,
        primitives=tuple(drawn),
    )


def _marks(values: Sequence[float], least_span: float) -> tuple[float, ...]:
    """Round values that hold all of these."""
    low, high = min(values), max(values)
    least = least_span if high > low else least_span or 1.0
    if high - low < least:
        low, high = (low + high - least) / 2.0, (low + high + least) / 2.0
    return round_marks(low, high, _STEPS)


def _draw_across(
    frame: Frame, scale: Scale, marks: Sequence[float], theme: Theme
) -> list[Primitive]:
    bottom, left, right = frame.y(frame.y_low), frame.x(marks[0]), frame.x(marks[-1])
    middle = (left + right) / 2.0
    return [
        Line(x1=left, y1=bottom, x2=right, y2=bottom, stroke=theme.ink, stroke_width=0.3),
        plot_text(middle, frame.height_mm - 2.0, scale.words, theme.ink, Anchor.MIDDLE),
        *draw_x_marks(frame, marks, scale.say, theme),
    ]


def _draw_up(
    frame: Frame, scale: Scale, marks: Sequence[float], x_last: float, theme: Theme
) -> list[Primitive]:
    left, right = frame.x(frame.x_low), frame.x(x_last)
    drawn: list[Primitive] = [
        plot_text(1.0, frame.y(frame.y_high) - 3.4, scale.words, theme.ink),
    ]
    for value in marks:
        y = frame.y(value)
        drawn += [
            Line(x1=left, y1=y, x2=right, y2=y, stroke=theme.faint, stroke_width=0.15),
            plot_text(left - 2.6, y + 0.9, scale.say(value), theme.quiet_ink, Anchor.END),
        ]
    return drawn


def _draw_level(
    frame: Frame, level: Level, lines: Sequence[NamedLine], x_last: float, theme: Theme
) -> list[Primitive]:
    """The level, named on the side where no line begins near it."""
    y, left = frame.y(level.value), frame.x(frame.x_low)
    starts = [frame.y(line.points[0][1]) for line in lines if line.points]
    is_free_above = all(not y - 7.0 < start < y for start in starts)
    return [
        Line(
            x1=left, y1=y, x2=frame.x(x_last), y2=y, stroke=theme.act, stroke_width=0.5,
            dash=(2.0, 1.0),
        ),
        plot_text(left + 1.5, y - 1.0 if is_free_above else y + 3.2, level.words, theme.ink),
    ]  # fmt: skip


def _draw_line(frame: Frame, line: NamedLine, place: int, theme: Theme) -> list[Primitive]:
    colour = _colour(place, theme)
    placed = [(frame.x(x), frame.y(y)) for x, y in line.points]
    return [
        Line(
            x1=x1, y1=y1, x2=x2, y2=y2, stroke=colour, stroke_width=0.5,
            dash=_DASHES[place % len(_DASHES)],
        )
        for (x1, y1), (x2, y2) in pairwise(placed)
    ]  # fmt: skip


def _mark(x: float, y: float, place: int, theme: Theme) -> Primitive:
    """A disc, or an open square, triangle or diamond: the shape names the line without colour."""
    kind, half, colour = place % 4, 1.5 * _MARK, _colour(place, theme)
    if kind == 0:
        return Circle(x=x, y=y, radius=_MARK, fill=colour)
    corners = {
        1: ((x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)),
        2: ((x, y - 1.2 * half), (x + 1.2 * half, y + half), (x - 1.2 * half, y + half)),
        3: ((x, y - 1.3 * half), (x + 1.3 * half, y), (x, y + 1.3 * half), (x - 1.3 * half, y)),
    }[kind]
    return Path(points=corners, closed=True, stroke=colour, stroke_width=0.4)


def _draw_names(frame: Frame, lines: Sequence[NamedLine], theme: Theme) -> list[Primitive]:
    """The names beside the ends, pushed apart where the ends lie close."""
    ends = sorted(
        (frame.y(line.points[-1][1]), frame.x(line.points[-1][0]), place)
        for place, line in enumerate(lines)
        if line.points
    )
    drawn: list[Primitive] = []
    last = -_LABEL_GAP
    # As many as may still have to stand below are left room for above the axis.
    for number, (y, x, place) in enumerate(ends):
        below = len(ends) - 1 - number
        lowest = frame.y(frame.y_low) - below * _LABEL_GAP
        last = max(last + _LABEL_GAP, min(y, lowest))
        drawn.append(plot_text(x + 2.4, last + 0.9, lines[place].name, _colour(place, theme)))
    return drawn


def _colour(place: int, theme: Theme) -> str:
    return (theme.ink, theme.here, theme.quiet_ink, theme.ink)[place % 4]
