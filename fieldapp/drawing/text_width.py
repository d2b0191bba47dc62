"""How wide a line of text is in the very letters in which it will be drawn, and where it breaks.

Not here: drawing it (``pixels``).
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from fieldapp.drawing.pixels import Font, FontFiles, in_few_letters, load_pen

_PIXELS = 64.0
"""Letters are measured at this size, so that widths scale."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TextRuler:
    """Measures lines in the regular and the bold letters of a font."""

    fonts: FontFiles
    _pens: dict[bool, Font] = field(default_factory=dict)

    def width_mm(self, words: str, size_mm: float, *, bold: bool = False) -> float:
        """Width of one line [mm]."""
        if bold not in self._pens:
            self._pens[bold] = load_pen(self.fonts, _PIXELS, bold)
        shown = words if self.fonts.regular is not None else in_few_letters(words)
        return float(self._pens[bold].getlength(shown)) / _PIXELS * size_mm

    def wrap(self, words: str, size_mm: float, width_mm: float, *, bold: bool = False) -> list[str]:
        """The text in lines that fit; a word wider than a line is broken."""
        lines: list[str] = []
        for paragraph in words.splitlines() or [""]:
            line = ""
            for word in self._words(paragraph, size_mm, width_mm, bold=bold):
                longer = f"{line} {word}" if line else word
                if line and self.width_mm(longer, size_mm, bold=bold) > width_mm:
                    lines.append(line)
                    longer = word
                line = longer
            lines.append(line)
        return lines

    def _words(
        self, paragraph: str, size_mm: float, width_mm: float, *, bold: bool
    ) -> Iterator[str]:
        for word in paragraph.split():
            rest = word
            while self.width_mm(rest, size_mm, bold=bold) > width_mm and len(rest) > 1:
                fits = 1
                while self.width_mm(rest[: fits + 1], size_mm, bold=bold) <= width_mm:
                    fits += 1
                yield rest[:fits]
                rest = rest[fits:]
            yield rest
