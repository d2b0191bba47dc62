"""Plots of walls: how many tubes have which wall, and how the walls went over the years.

Made of strokes and plain fills only. Not here: the map (``wall_map``), where the numbers come from.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

from fieldapp.drawing.palette import LIGHT, Theme
from fieldapp.drawing.plot_frame import (
    BOTTOM_MM,
    LEFT_MM,
    RIGHT_MM,
    TOP_MM,
    Frame,
    draw_x_marks,
    plot_text,
)
from fieldapp.drawing.primitives import (
    Anchor,
    Circle,
    Line,
    Path,
    Picture,
    Primitive,
    build_rectangle,
)

BIN_MM = 0.1


@dataclass(frozen=True, slots=True, kw_only=True)
class TubeTrend:
    """One tube at one place: its walls by year, and where its own rate leads, if it has one."""

    points: tuple[tuple[float, float], ...]
    leads_to: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WorstBound:
    """The wall that all unmeasured tubes keep with 90 %, at a moment in years."""

    year: float
    wall_mm: float


def build_wall_histogram(
    walls_mm: Sequence[float],
    *,
    retirement_mm: float | None,
    words: str,
    width_mm: float = 180.0,
    theme: Theme = LIGHT,
) -> Picture:
    """How many tubes have which wall, with the retirement wall drawn."""
    # A hundredth of a bin keeps 2.7 out of the bin below it, where binary would put it.
    counts = Counter(floor(wall / BIN_MM + 0.01) for wall in walls_mm)
    shown = [*counts, *([] if retirement_mm is None else [floor(retirement_mm / BIN_MM + 0.01)])]
    most = max(counts.values())
    frame = Frame(
        width_mm=width_mm,
        height_mm=56.0,
        x_low=(min(shown) - 1) * BIN_MM,
        x_high=(max(shown) + 2) * BIN_MM,
        y_low=0.0,
        y_high=float(most),
    )
    drawn: list[Primitive] = _draw_axes(frame, "wall, mm", "tubes", theme)
    for number, count in sorted(counts.items()):
        low, high = frame.x(number * BIN_MM), frame.x((number + 1) * BIN_MM)
        is_below = retirement_mm is not None and (number + 1) * BIN_MM <= retirement_mm + 1e-9
        tone = theme.split if is_below else theme.sound
        drawn += [
            build_rectangle(
                low + 0.3,
                frame.y(count),
                high - low - 0.6,
                frame.y(0.0) - frame.y(count),
                fill=tone.fill,
                stroke=tone.ring,
                stroke_width=0.25,
            ),
            plot_text((low + high) / 2, frame.y(count) - 0.8, str(count), theme.ink, Anchor.MIDDLE),
        ]
    drawn += draw_x_marks(frame, _steps(frame.x_low, frame.x_high, 0.2), "{:.1f}".format, theme)
    if retirement_mm is not None:
        x = frame.x(retirement_mm)
        drawn += [
            Line(
                x1=x, y1=TOP_MM - 3, x2=x, y2=frame.y(0), stroke=theme.act, stroke_width=0.5,
                dash=(2.0, 1.0),
            ),
            plot_text(x + 1.2, TOP_MM - 1.2, f"retirement wall {retirement_mm:.2f} mm", theme.ink),
        ]  # fmt: skip
    return _picture(frame, drawn, words, theme)


def build_wall_trend(
    trends: Sequence[TubeTrend],
    *,
    retirement_mm: float | None,
    next_outage: float | None,
    bounds: Sequence[WorstBound] = (),
    words: str,
    width_mm: float = 180.0,
    theme: Theme = LIGHT,
) -> Picture:
    """Each tube's walls by year; broken lines lead to the next outage at its own rate."""
    points = [point for trend in trends for point in _all_points(trend)]
    points += [(bound.year, bound.wall_mm) for bound in bounds]
    years = [year for year, _ in points] + ([] if next_outage is None else [next_outage])
    walls = [wall for _, wall in points] + ([] if retirement_mm is None else [retirement_mm])
    frame = Frame(
        width_mm=width_mm,
        height_mm=72.0,
        x_low=floor(min(years) - 0.2),
        x_high=ceil(max(years) + 0.2),
        y_low=max(0.0, floor(min(walls) * 5 - 0.5) / 5),
        y_high=ceil(max(walls) * 5 + 0.5) / 5,
    )
    drawn: list[Primitive] = _draw_axes(frame, "year", "wall, mm", theme)
    drawn += _draw_y_marks(frame, theme)
    spread = max(1.0, ceil((frame.x_high - frame.x_low) / 12))
    drawn += draw_x_marks(frame, _steps(frame.x_low, frame.x_high, spread), "{:.0f}".format, theme)
    if retirement_mm is not None:
        drawn += _draw_level(frame, retirement_mm, theme)
    if next_outage is not None:
        drawn += _draw_outage(frame, next_outage, theme)
    for trend in trends:
        drawn += _draw_trend(frame, trend, theme)
    for bound in bounds:
        drawn += _draw_bound(frame, bound, theme)
    return _picture(frame, drawn, words, theme)


def _all_points(trend: TubeTrend) -> tuple[tuple[float, float], ...]:
    return trend.points if trend.leads_to is None else (*trend.points, trend.leads_to)


def _draw_trend(frame: Frame, trend: TubeTrend, theme: Theme) -> list[Primitive]:
    placed = tuple((frame.x(year), frame.y(wall)) for year, wall in trend.points)
    drawn: list[Primitive] = []
    if len(placed) > 1:
        drawn.append(Path(points=placed, closed=False, stroke=theme.quiet_ink, stroke_width=0.25))
    if trend.leads_to is not None:
        (x1, y1), (year, wall) = placed[-1], trend.leads_to
        drawn.append(
            Line(
                x1=x1, y1=y1, x2=frame.x(year), y2=frame.y(wall), stroke=theme.quiet_ink,
                stroke_width=0.2, dash=(1.2, 0.8),
            )
        )  # fmt: skip
    drawn += [Circle(x=x, y=y, radius=0.7, fill=theme.ink) for x, y in placed]
    return drawn


def _draw_bound(frame: Frame, bound: WorstBound, theme: Theme) -> list[Primitive]:
    """A diamond on its tip: the shape says what it is without the colour."""
    x, y, half = frame.x(bound.year), frame.y(bound.wall_mm), 1.5
    tips = ((x, y - half), (x + half, y), (x, y + half), (x - half, y))
    return [
        Path(points=tips, closed=True, fill=theme.ground, stroke=theme.act, stroke_width=0.5),
        plot_text(x - 2.2, y + 1.0, f"{bound.wall_mm:.2f}", theme.ink, Anchor.END),
    ]


def _draw_level(frame: Frame, retirement_mm: float, theme: Theme) -> list[Primitive]:
    y = frame.y(retirement_mm)
    return [
        Line(
            x1=LEFT_MM, y1=y, x2=frame.width_mm - RIGHT_MM, y2=y, stroke=theme.act,
            stroke_width=0.5, dash=(2.0, 1.0),
        ),
        plot_text(LEFT_MM + 1.5, y - 1.0, f"retirement wall {retirement_mm:.2f} mm", theme.ink),
    ]  # fmt: skip


def _draw_outage(frame: Frame, year: float, theme: Theme) -> list[Primitive]:
    x = frame.x(year)
    return [
        Line(
            x1=x, y1=TOP_MM - 2, x2=x, y2=frame.height_mm - BOTTOM_MM, stroke=theme.quiet_ink,
            stroke_width=0.25, dash=(0.8, 0.8),
        ),
        plot_text(x, TOP_MM - 3.0, "next outage", theme.ink, Anchor.MIDDLE),
    ]  # fmt: skip


def _draw_axes(frame: Frame, below: str, beside: str, theme: Theme) -> list[Primitive]:
    bottom, right = frame.height_mm - BOTTOM_MM, frame.width_mm - RIGHT_MM
    return [
        Line(x1=LEFT_MM, y1=bottom, x2=right, y2=bottom, stroke=theme.ink, stroke_width=0.3),
        Line(x1=LEFT_MM, y1=TOP_MM, x2=LEFT_MM, y2=bottom, stroke=theme.ink, stroke_width=0.3),
        plot_text((LEFT_MM + right) / 2, frame.height_mm - 2.0, below, theme.ink, Anchor.MIDDLE),
        plot_text(LEFT_MM, TOP_MM - 2.0, beside, theme.ink, Anchor.END),
    ]


def _draw_y_marks(frame: Frame, theme: Theme) -> list[Primitive]:
    drawn: list[Primitive] = []
    step = 0.2 if frame.y_high - frame.y_low <= 2.0 else 0.5
    for value in _steps(frame.y_low, frame.y_high, step):
        y = frame.y(value)
        drawn += [
            Line(x1=LEFT_MM - 1.0, y1=y, x2=LEFT_MM, y2=y, stroke=theme.ink, stroke_width=0.2),
            plot_text(LEFT_MM - 1.8, y + 0.9, f"{value:.1f}", theme.quiet_ink, Anchor.END),
        ]
    return drawn


def _steps(low: float, high: float, step: float) -> list[float]:
    first = ceil(low / step - 1e-6)
    return [number * step for number in range(first, floor(high / step + 1e-6) + 1)]


def _picture(frame: Frame, drawn: Sequence[Primitive], words: str, theme: Theme) -> Picture:
    return Picture(
        width_mm=frame.width_mm,
        height_mm=frame.height_mm,
        ground=theme.ground,
        words=words,
        primitives=tuple(drawn),
    )
