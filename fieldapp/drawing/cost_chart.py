"""Options by what they cost: a bar for the present value, a stroke for its range.

Not here: which options, and their numbers (``fieldapp.report.sections``).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fieldapp.drawing.palette import LIGHT, Theme
from fieldapp.drawing.primitives import (
    Anchor,
    Line,
    Path,
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

_LEFT_MM, _RIGHT_MM, _TOP_MM, _FOOT_MM = 5.0, 5.0, 3.0, 11.0
_ROW_MM = 11.2
_BAR_MM = 4.0
_RANGE_SHARE = 0.42
"""Of the width, for the numbers at the right of a line."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CostBar:
    """One option."""

    name: str
    now: float
    present_value: float
    p10: float
    p90: float
    is_advised: bool


def build_cost_chart(
    bars: Sequence[CostBar],
    *,
    say: Callable[[float], str],
    unit: str,
    words: str,
    theme: Theme = LIGHT,
) -> Picture:
    """The options in the order given; the advised one has a pointer and bold letters."""
    bottom_mm = _TOP_MM + _ROW_MM * len(bars)
    values = [each for bar in bars for each in (bar.present_value, bar.now, bar.p10, bar.p90)]
    axis = build_axis(values, left_mm=_LEFT_MM, right_mm=NARROW_MM - _RIGHT_MM)
    drawn = draw_axis(axis, top_mm=_TOP_MM, bottom_mm=bottom_mm, say=say, unit=unit, theme=theme)
    for number, bar in enumerate(bars):
        drawn += _draw_bar(axis, bar, _TOP_MM + _ROW_MM * number, say, theme)
    return Picture(
        width_mm=NARROW_MM,
        height_mm=bottom_mm + _FOOT_MM,
        ground=theme.ground,
        words=words,
        primitives=tuple(drawn),
    )


def _draw_bar(
    axis: ValueAxis, bar: CostBar, top_mm: float, say: Callable[[float], str], theme: Theme
) -> list[Primitive]:
    upper_mm = top_mm + 5.2
    drawn = _draw_words(axis, bar, top_mm + 3.8, say, theme)
    for start, end, tone in (
        (0.0, bar.present_value, theme.leaking),
        (0.0, min(bar.now, bar.present_value), theme.plugged),
    ):
        left, right = sorted((axis.x(start), axis.x(end)))
        if right - left > 0.05:
            drawn.append(
                build_rectangle(
                    left,
                    upper_mm,
                    right - left,
                    _BAR_MM,
                    fill=tone.fill,
                    stroke=tone.ring,
                    stroke_width=0.25,
                )
            )
    y, low, high = upper_mm + _BAR_MM + 1.2, axis.x(bar.p10), axis.x(bar.p90)
    drawn += [
        Line(x1=x1, y1=y1, x2=x2, y2=y2, stroke=theme.ink, stroke_width=0.4)
        for x1, y1, x2, y2 in (
            (low, y, high, y),
            (low, y - 0.8, low, y + 0.8),
            (high, y - 0.8, high, y + 0.8),
        )
    ]
    return drawn


def _draw_words(
    axis: ValueAxis, bar: CostBar, y_mm: float, say: Callable[[float], str], theme: Theme
) -> list[Primitive]:
    """The name at the left, the sums at the right, on plates that hide the lines behind them."""
    width_mm = axis.right_mm - axis.left_mm
    sums = f"{say(bar.present_value)} ({say(bar.p10)} to {say(bar.p90)})"
    left_mm = axis.left_mm + (3.6 if bar.is_advised else 0.0)
    name_mm = (1.0 - _RANGE_SHARE) * width_mm - (left_mm - axis.left_mm) - 1.0
    drawn: list[Primitive] = [
        draw_plate(axis, top_mm=y_mm - LETTERS_MM - 0.8, base_mm=y_mm, theme=theme),
        Text(
            x=left_mm,
            y=y_mm,
            size=fit_letters(bar.name, LETTERS_MM, name_mm),
            words=bar.name,
            fill=theme.ink,
            bold=bar.is_advised,
        ),
        Text(
            x=axis.right_mm,
            y=y_mm,
            size=fit_letters(sums, LETTERS_MM, _RANGE_SHARE * width_mm),
            words=sums,
            fill=theme.ink,
            anchor=Anchor.END,
        ),
    ]
    if bar.is_advised:
        x, y = axis.left_mm, y_mm - 1.05
        tips = ((x, y - 1.3), (x + 2.4, y), (x, y + 1.3))
        drawn.append(Path(points=tips, closed=True, fill=theme.ink))
    return drawn
