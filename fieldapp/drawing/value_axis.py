"""A horizontal axis of values for charts that a phone must show too: round steps, few of them.

Not here: what is drawn along it (``cost_chart``, ``driver_chart``).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fieldapp.drawing.palette import Theme
from fieldapp.drawing.primitives import (
    Anchor,
    Line,
    Path,
    Primitive,
    Text,
    build_rectangle,
    fit_letters,
)
from fieldapp.drawing.round_steps import round_marks

NARROW_MM = 120.0
"""Width of such a chart: letters stay readable when it is shown 360 pixels wide."""
LETTERS_MM = 3.0
_MOST_STEPS = 5
_LINE_MM = 0.35


@dataclass(frozen=True, slots=True, kw_only=True)
class ValueAxis:
    """From a value to its place across the picture."""

    left_mm: float
    right_mm: float
    marks: tuple[float, ...]
    """The values at which the axis is marked, from its low end to its high end."""

    @property
    def low(self) -> float:
        return self.marks[0]

    @property
    def high(self) -> float:
        return self.marks[-1]

    def x(self, value: float) -> float:
        share = (value - self.low) / (self.high - self.low)
        return self.left_mm + share * (self.right_mm - self.left_mm)


def build_axis(values: Sequence[float], *, left_mm: float, right_mm: float) -> ValueAxis:
    """An axis that holds 0 and every value, from mark to mark.

    >>> axis = build_axis([30.0, 410.0], left_mm=0.0, right_mm=100.0)
    >>> axis.marks
    (0.0, 100.0, 200.0, 300.0, 400.0, 500.0)
    """
    low, high = min(0.0, *values), max(0.0, *values)
    if high - low <= 0.0:
        high = 1.0
    return ValueAxis(left_mm=left_mm, right_mm=right_mm, marks=round_marks(low, high, _MOST_STEPS))


def draw_axis(
    axis: ValueAxis,
    *,
    top_mm: float,
    bottom_mm: float,
    say: Callable[[float], str],
    unit: str,
    theme: Theme,
) -> list[Primitive]:
    """Faint upright lines with their values below, the one at 0 in ink, and the unit."""
    # The outer two stand beside their line, not under it: a third of the room is theirs.
    room_mm = 0.64 * (axis.right_mm - axis.left_mm) / max(1, len(axis.marks) - 1)
    longest = max(map(say, axis.marks), key=len)
    size_mm = fit_letters(longest, 0.9 * LETTERS_MM, room_mm)
    drawn: list[Primitive] = []
    for value in axis.marks:
        x = axis.x(value)
        is_zero = value == 0.0
        drawn.append(
            Line(
                x1=x,
                y1=top_mm,
                x2=x,
                y2=bottom_mm,
                stroke=theme.ink if is_zero else theme.faint,
                stroke_width=_LINE_MM if is_zero else 0.2,
            )
        )
        words = say(value)
        drawn.append(
            Text(
                x=x,
                y=bottom_mm + 4.0,
                size=size_mm,
                words=words,
                fill=theme.quiet_ink,
                anchor=_anchor(axis, x, words),
            )
        )
    drawn.append(
        Text(
            x=axis.right_mm,
            y=bottom_mm + 8.0,
            size=0.9 * LETTERS_MM,
            words=unit,
            fill=theme.quiet_ink,
            anchor=Anchor.END,
        )
    )
    return drawn


def draw_plate(axis: ValueAxis, *, top_mm: float, base_mm: float, theme: Theme) -> Path:
    """The ground of words that stand on ``base_mm``: it hides the upright lines behind them."""
    return build_rectangle(
        axis.left_mm - _LINE_MM,
        top_mm,
        axis.right_mm - axis.left_mm + 2 * _LINE_MM,
        base_mm + 1.2 - top_mm,
        fill=theme.ground,
    )


def _anchor(axis: ValueAxis, x: float, words: str) -> Anchor:
    """In the middle under its line, unless that would reach over the edge."""
    half_mm = 0.28 * LETTERS_MM * len(words)
    if x - half_mm < axis.left_mm - 2.0:
        return Anchor.START
    return Anchor.END if x + half_mm > axis.right_mm + 2.0 else Anchor.MIDDLE
