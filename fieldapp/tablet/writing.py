"""Lines of words as quads of letters. Not here: which words stand where (labels, rulers)."""

from array import array
from collections.abc import Callable

from kivy.graphics import Color, InstructionGroup
from kivy.utils import get_color_from_hex

from fieldapp.tablet.atlas import TexCoords
from fieldapp.tablet.glyphs import Glyph, GlyphAtlas
from fieldapp.tablet.quads import quad_mesh

_MOST_GLYPHS = 16_000
"""A mesh counts its corners in 16 bits."""


class WordsMesh:
    """Words gathered into two meshes: the halo below, the letters above."""

    def __init__(self, atlas: GlyphAtlas) -> None:
        self._atlas = atlas
        self._glyphs: list[tuple[Glyph, float, float, float]] = []

    def write(self, words: str, x: float, y: float, em: float, *, align: float = 0.5) -> None:
        """A line with its base line at y; ``align`` 0 begins at x, 0.5 is centred, 1 ends there."""
        start = x - align * self._atlas.width(words) * em
        for glyph, pen in self._atlas.lay_out(words):
            self._glyphs.append((glyph, start + pen * em, y, em))

    def canvas(self, ink: str, halo: str | None) -> InstructionGroup:
        """What was written, in a colour, on a halo of another."""
        group = InstructionGroup()
        if halo is not None:
            self._add(group, halo, lambda glyph: glyph.halo)
        self._add(group, ink, lambda glyph: glyph.plain)
        return group

    def _add(
        self, group: InstructionGroup, colour: str, picture: Callable[[Glyph], TexCoords]
    ) -> None:
        group.add(Color(*get_color_from_hex(colour)))
        for first in range(0, len(self._glyphs), _MOST_GLYPHS):
            floats = array("f")
            for glyph, x, y, em in self._glyphs[first : first + _MOST_GLYPHS]:
                left, right = x + glyph.left * em, x + glyph.right * em
                bottom, top = y + glyph.bottom * em, y + glyph.top * em
                u0, v0, u1, v1 = picture(glyph)
                floats.extend(
                    (
                        *(left, bottom, u0, v0, right, bottom, u1, v0),
                        *(right, top, u1, v1, left, top, u0, v1),
                    )
                )
            group.add(quad_mesh(floats, self._atlas.texture))
