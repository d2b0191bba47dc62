"""Letters in one texture, for the labels and rulers of the map: many words in one mesh.

A letter comes twice, plain and as a wider halo that keeps words legible over signs. Both are white,
to be coloured where they are drawn. Not here: what is written.
"""

from array import array
from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil

from kivy.graphics.texture import Texture
from PIL import Image, ImageDraw, ImageFont

from fieldapp.drawing.pixels import FontFiles
from fieldapp.tablet.atlas import TexCoords

EM_PX = 34
HALO_PX = 4
_GUTTER_PX = 6
_USUAL = "".join(chr(code) for code in range(32, 127))
CAP_HEIGHT = 0.71
"""Height of a figure or capital, in em (Roboto)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Glyph:
    """One letter: its box around the pen in em, where the pen goes next, and its two pictures."""

    left: float
    bottom: float
    right: float
    top: float
    advance: float
    plain: TexCoords
    halo: TexCoords


class GlyphAtlas:
    """The letters of one font in one texture."""

    def __init__(self, fonts: FontFiles, letters: Iterable[str] = ()) -> None:
        self._font = _load(fonts)
        self._letters = tuple(dict.fromkeys((*_USUAL, *letters)))
        self.glyphs: dict[str, Glyph] = {}
        side = EM_PX + 2 * (HALO_PX + _GUTTER_PX) + EM_PX // 2
        across = ceil((2 * len(self._letters)) ** 0.5)
        self._cell_px = side
        self._side_px = 1 << (across * side - 1).bit_length()
        self.texture = Texture.create(
            size=(self._side_px, self._side_px), colorfmt="rgba", bufferfmt="ubyte", mipmap=True
        )
        self.texture.min_filter = "linear_mipmap_linear"
        self.texture.mag_filter = "linear"
        self.texture.add_reload_observer(self._draw)
        self._draw(self.texture)

    def has(self, letters: Iterable[str]) -> bool:
        return all(letter in self.glyphs for letter in letters)

    def width(self, words: str) -> float:
        """Width of a line in em."""
        return sum(self._glyph(letter).advance for letter in words)

    def write(
        self, words: str, x: float, y: float, em: float, plain: "array[float]", halo: "array[float]"
    ) -> None:
        """Add the quads of a line that begins at x on the base line y to two arrays.

        One loop with nothing called twice: a screen of labels is thousands of quads, written while
        a finger pans.
        """
        for letter in words:
            glyph = self._glyph(letter)
            if letter != " ":
                x0, x1 = x + glyph.left * em, x + glyph.right * em
                y0, y1 = y + glyph.bottom * em, y + glyph.top * em
                u0, v0, u1, v1 = glyph.plain
                plain.extend((x0, y0, u0, v0, x1, y0, u1, v0, x1, y1, u1, v1, x0, y1, u0, v1))
                u0, v0, u1, v1 = glyph.halo
                halo.extend((x0, y0, u0, v0, x1, y0, u1, v0, x1, y1, u1, v1, x0, y1, u0, v1))
            x += glyph.advance * em

    def _glyph(self, letter: str) -> Glyph:
        return self.glyphs.get(letter) or self.glyphs["?"]

    def _draw(self, texture: Texture) -> None:
        size = (self._side_px, self._side_px)
        alpha = Image.new("L", size, 0)
        draw = ImageDraw.Draw(alpha)
        across = self._side_px // self._cell_px
        for number, letter in enumerate(self._letters):
            boxes = []
            for part, halo in enumerate((0, HALO_PX)):
                row, column = divmod(2 * number + part, across)
                pen_x = column * self._cell_px + _GUTTER_PX + HALO_PX + EM_PX // 8
                pen_y = row * self._cell_px + _GUTTER_PX + HALO_PX + EM_PX
                draw.text(
                    (pen_x, pen_y),
                    letter,
                    fill=255,
                    font=self._font,
                    anchor="ls",
                    stroke_width=halo,
                )
                boxes.append((column * self._cell_px, row * self._cell_px))
            self.glyphs[letter] = self._measure(letter, boxes)
        white = Image.new("L", size, 255)
        image = Image.merge("RGBA", (white, white, white, alpha))
        flipped = image.transpose(Image.Transpose.FLIP_TOP_BOTTOM)
        texture.blit_buffer(flipped.tobytes(), colorfmt="rgba", bufferfmt="ubyte")

    def _measure(self, letter: str, cells: list[tuple[int, int]]) -> Glyph:
        pen_x = _GUTTER_PX + HALO_PX + EM_PX // 8
        pen_y = _GUTTER_PX + HALO_PX + EM_PX
        trim = _GUTTER_PX // 2
        plain, halo = (
            (
                (left + trim) / self._side_px,
                1.0 - (top + self._cell_px - trim) / self._side_px,
                (left + self._cell_px - trim) / self._side_px,
                1.0 - (top + trim) / self._side_px,
            )
            for left, top in cells
        )
        return Glyph(
            left=(trim - pen_x) / EM_PX,
            bottom=(pen_y - self._cell_px + trim) / EM_PX,
            right=(self._cell_px - trim - pen_x) / EM_PX,
            top=(pen_y - trim) / EM_PX,
            advance=self._font.getlength(letter) / EM_PX,
            plain=plain,
            halo=halo,
        )


def _load(fonts: FontFiles) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    if fonts.bold is None:
        return ImageFont.load_default(EM_PX)
    # The basic layout engine, because the other one is not in every build of Pillow.
    return ImageFont.truetype(str(fonts.bold), EM_PX, layout_engine=ImageFont.Layout.BASIC)
