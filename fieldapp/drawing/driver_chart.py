"""What matters most: how far each input, alone, moves the margin between two options.

Not here: which inputs, and their numbers (``fieldapp.report.sections``).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fieldapp.drawing.palette import LIGHT, Theme
from fieldapp.drawing.primitives import (
    Anchor,
    Circle,
    Line,
    Picture,
    Primitive,
    Text,
    build_rectangle,
    fit_letters,
)
from fieldapp.drawing.value_axis import (
    LETTERS_MM,
    NARROW_MM,
    ValueAxis,
    build_axis,
    draw_axis,
    draw_plate,
)

_LEFT_MM, _RIGHT_MM, _TOP_MM, _FOOT_MM = 5.0, 5.0, 8.5, 11.0
_ROW_MM = 9.8
_NAME_MM = 3.6
"""From the top of a row to the line on which its name stands."""
_BAR_MM = 3.6
_END_MM = 1.1


@dataclass(frozen=True, slots=True, kw_only=True)
class DriverBar:
    """One input: its name with its range, and the margin at its two ends."""

    name: str
    margin_low: float
    """At the low end of the input's range."""
    margin_high: float


def build_driver_chart(
    bars: Sequence[DriverBar],
    *,
    margin: float,
    say: Callable[[float], str],
    unit: str,
    words: str,
    theme: Theme = LIGHT,
) -> Picture:
    """Widest swing first, as given. Left of 0 the runner-up is cheaper.

    An open ring stands at the low end of the input's range, a filled one at the high end.
    """
    bottom_mm = _TOP_MM + _ROW_MM * len(bars)
    values = [margin, *(each for bar in bars for each in (bar.margin_low, bar.margin_high))]
    axis = build_axis(values, left_mm=_LEFT_MM, right_mm=NARROW_MM - _RIGHT_MM)
    drawn = draw_axis(axis, top_mm=_TOP_MM, bottom_mm=bottom_mm, say=say, unit=unit, theme=theme)
    drawn += _draw_margin(axis, margin, say, theme)
    # One size for all: a larger label would look as if its input mattered more.
    width_mm = axis.right_mm - axis.left_mm
    size_mm = min((fit_letters(bar.name, LETTERS_MM, width_mm) for bar in bars), default=LETTERS_MM)
    for number, bar in enumerate(bars):
        name = Text(
            x=axis.left_mm,
            y=_TOP_MM + _ROW_MM * number + _NAME_MM,
            size=size_mm,
            words=bar.name,
            fill=theme.ink,
        )
        drawn += _draw_bar(axis, bar, name, margin, _TOP_MM + _ROW_MM * number, theme)
    return Picture(
        width_mm=NARROW_MM,
        height_mm=bottom_mm + _FOOT_MM,
        ground=theme.ground,
        words=words,
        primitives=tuple(drawn),
    )


def _draw_margin(
    axis: ValueAxis, margin: float, say: Callable[[float], str], theme: Theme
) -> list[Primitive]:
    """What the margin is today, above its line."""
    x = axis.x(margin)
    is_left = x < (axis.left_mm + axis.right_mm) / 2
    return [
        _margin_line(axis, margin, (_TOP_MM - 2.6, _TOP_MM), theme),
        Text(
            x=x,
            y=_TOP_MM - 3.4,
            size=LETTERS_MM,
            words=f"margin {say(margin)}",
            fill=theme.ink,
            anchor=Anchor.START if is_left else Anchor.END,
        ),
    ]


def _margin_line(
    axis: ValueAxis, margin: float, between_mm: tuple[float, float], theme: Theme
) -> Line:
    x, (top_mm, bottom_mm) = axis.x(margin), between_mm
    return Line(
        x1=x, y1=top_mm, x2=x, y2=bottom_mm, stroke=theme.ink, stroke_width=0.35, dash=(1.4, 0.9)
    )


def _draw_bar(
    axis: ValueAxis, bar: DriverBar, name: Text, margin: float, top_mm: float, theme: Theme
) -> list[Primitive]:
    """The words on their plate, the bar, and across it the line of today's margin."""
    y = top_mm + 4.9 + _BAR_MM / 2
    ends = axis.x(bar.margin_low), axis.x(bar.margin_high)
    left, right = sorted(ends)
    return [
        draw_plate(axis, top_mm=top_mm, base_mm=top_mm + _NAME_MM, theme=theme),
        name,
        build_rectangle(
            left,
            y - _BAR_MM / 2,
            right - left,
            _BAR_MM,
            fill=theme.leaking.fill,
            stroke=theme.leaking.ring,
            stroke_width=0.25,
        ),
        _margin_line(axis, margin, (top_mm + 4.8, top_mm + _ROW_MM), theme),
        Circle(
            x=ends[0], y=y, radius=_END_MM, fill=theme.ground, stroke=theme.ink, stroke_width=0.4
        ),
        Circle(x=ends[1], y=y, radius=_END_MM, fill=theme.ink, stroke=theme.ink, stroke_width=0.4),
    ]
