"""The rectangle of a plot, its letters and the marks below it, as all plots have them.

Not here: what is drawn inside (``wall_charts``, ``line_chart``).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fieldapp.drawing.palette import Theme
from fieldapp.drawing.primitives import Anchor, Line, Primitive, Text

LETTERS_MM = 2.6
LEFT_MM, RIGHT_MM, TOP_MM, BOTTOM_MM = 16.0, 6.0, 8.0, 11.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """The rectangle of a plot, and what its edges stand for."""

    width_mm: float
    height_mm: float
    x_low: float
    x_high: float
    y_low: float
    y_high: float

    def x(self, value: float) -> float:
        share = (value - self.x_low) / (self.x_high - self.x_low)
        return LEFT_MM + share * (self.width_mm - LEFT_MM - RIGHT_MM)

    def y(self, value: float) -> float:
        share = (value - self.y_low) / (self.y_high - self.y_low)
        return self.height_mm - BOTTOM_MM - share * (self.height_mm - BOTTOM_MM - TOP_MM)


def draw_x_marks(
    frame: Frame, values: Sequence[float], say: Callable[[float], str], theme: Theme
) -> list[Primitive]:
    bottom = frame.height_mm - BOTTOM_MM
    drawn: list[Primitive] = []
    for value in values:
        x = frame.x(value)
        drawn += [
            Line(x1=x, y1=bottom, x2=x, y2=bottom + 1.0, stroke=theme.ink, stroke_width=0.2),
            plot_text(x, bottom + 4.0, say(value), theme.quiet_ink, Anchor.MIDDLE),
        ]
    return drawn


def plot_text(x: float, y: float, words: str, fill: str, anchor: Anchor = Anchor.START) -> Text:
    return Text(x=x, y=y, size=LETTERS_MM, words=words, fill=fill, anchor=anchor)
