"""A page filled from the top: lines, rows, boxes and drawings under one another, as primitives.

Not here: what is written, pixels.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from fieldapp.drawing.palette import LIGHT
from fieldapp.drawing.primitives import (
    Anchor,
    Group,
    Line,
    Picture,
    Primitive,
    Text,
    build_rectangle,
)
from fieldapp.drawing.text_width import TextRuler
from fieldapp.report.shown_text import shown_text

MARGIN_MM = 14.0
FOOT_MM = 6.0


@dataclass(slots=True, kw_only=True)
class Flow:
    """One page, or a column of it; ``y_mm`` is how far it is filled."""

    size_mm: tuple[float, float]
    ruler: TextRuler
    margin_mm: float = MARGIN_MM
    left_mm: float = MARGIN_MM
    """Where the lines begin."""
    y_mm: float = MARGIN_MM
    drawn: list[Primitive] = field(default_factory=list)

    @property
    def width_mm(self) -> float:
        return self.size_mm[0] - self.left_mm - self.margin_mm

    @property
    def room_mm(self) -> float:
        """Height that is left above the foot."""
        return self.size_mm[1] - self.margin_mm - FOOT_MM - self.y_mm

    def wrap(self, words: str, size_mm: float) -> list[str]:
        """The text in lines of the page's width."""
        return self.ruler.wrap(words, size_mm, self.width_mm)

    def gap(self, height_mm: float) -> None:
        self.y_mm += height_mm

    def line(
        self, words: str, size_mm: float, *, bold: bool = False, line_mm: float | None = None
    ) -> None:
        """One line, made smaller where it would not fit."""
        fitted = self._fitted(words, size_mm, self.width_mm, bold=bold)
        self._write(words, self.left_mm, self.y_mm + size_mm, fitted, bold=bold)
        self.y_mm += 1.36 * size_mm if line_mm is None else line_mm

    def row(
        self, cells: Sequence[str], size_mm: float, height_mm: float, *, bold: bool = False
    ) -> None:
        """Cells in equal columns with a hair line under them; all but the first to the right."""
        column_mm = self.width_mm / len(cells)
        base = self.y_mm + 0.5 * height_mm + 0.35 * size_mm
        for at, words in enumerate(cells):
            size = self._fitted(words, size_mm, column_mm - 1.0, bold=bold)
            if at == 0:
                self._write(words, self.left_mm, base, size, bold=bold)
            else:
                right = self.left_mm + (at + 1) * column_mm
                self._write(words, right, base, size, bold=bold, anchor=Anchor.END)
        self.y_mm += height_mm
        self._rule(self.left_mm, self.width_mm, self.y_mm, LIGHT.faint, 0.15)

    def boxes(self, entries: Sequence[tuple[str, str]]) -> None:
        """Large values, each in a box with its words."""
        gap_mm, height_mm = 2.5, 16.5
        width_mm = (self.width_mm - gap_mm * (len(entries) - 1)) / len(entries)
        for at, (value, words) in enumerate(entries):
            x = self.left_mm + at * (width_mm + gap_mm)
            self.drawn.append(
                build_rectangle(
                    x, self.y_mm, width_mm, height_mm, stroke=LIGHT.ink, stroke_width=0.25
                )
            )
            self._write(value, x + 2.0, self.y_mm + 8.6, 7.0, bold=True)
            size = self._fitted(words, 2.8, width_mm - 4.0)
            self._write(words, x + 2.0, self.y_mm + 13.6, size)
        self.y_mm += height_mm + 1.5

    def blanks(self, labels: Sequence[str]) -> None:
        """Lines to be filled in by hand, the first one the longest."""
        gap_mm, height_mm, size_mm = 4.0, 9.5, 2.4
        shares = [1.7, *(1.0 for _ in labels[1:])]
        room_mm = self.width_mm - gap_mm * (len(labels) - 1)
        x = self.left_mm
        for label, share in zip(labels, shares, strict=True):
            width_mm = room_mm * share / sum(shares)
            self._write(label, x, self.y_mm + height_mm - 1.0, size_mm)
            self._rule(x, width_mm, self.y_mm + height_mm, LIGHT.ink, 0.2)
            x += width_mm + gap_mm
        self.y_mm += height_mm

    def place(self, drawing: Group, height_mm: float) -> None:
        """A drawing whose origin is its upper left corner."""
        self.drawn.append(Group(children=(drawing,), dx=self.left_mm, dy=self.y_mm))
        self.y_mm += height_mm

    def foot(self, left: str, right: str) -> None:
        """The last line of the page."""
        base = self.size_mm[1] - self.margin_mm
        size = self._fitted(left, 2.4, self.width_mm - 30.0)
        self._write(left, self.left_mm, base, size)
        self._write(right, self.left_mm + self.width_mm, base, 2.4, anchor=Anchor.END)

    def picture(self, words: str) -> Picture:
        """The finished page."""
        width_mm, height_mm = self.size_mm
        return Picture(
            width_mm=width_mm,
            height_mm=height_mm,
            ground=LIGHT.ground,
            words=shown_text(words),
            primitives=tuple(self.drawn),
        )

    def _fitted(self, words: str, size_mm: float, width_mm: float, *, bold: bool = False) -> float:
        width = self.ruler.width_mm(shown_text(words), size_mm, bold=bold)
        return size_mm if width <= width_mm else size_mm * width_mm / width

    def _write(
        self,
        words: str,
        x: float,
        y: float,
        size_mm: float,
        *,
        bold: bool = False,
        anchor: Anchor = Anchor.START,
    ) -> None:
        self.drawn.append(
            Text(
                x=x,
                y=y,
                size=size_mm,
                words=shown_text(words),
                fill=LIGHT.ink,
                anchor=anchor,
                bold=bold,
            )
        )

    def _rule(self, x: float, width_mm: float, y: float, colour: str, thick_mm: float) -> None:
        self.drawn.append(
            Line(x1=x, y1=y, x2=x + width_mm, y2=y, stroke=colour, stroke_width=thick_mm)
        )
