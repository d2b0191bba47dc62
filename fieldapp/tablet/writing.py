"""Lines of words as quads of letters. Not here: which words stand where (labels, rulers)."""

from array import array

from kivy.graphics import Color, InstructionGroup
from kivy.utils import get_color_from_hex

from fieldapp.tablet.glyphs import GlyphAtlas
from fieldapp.tablet.quads import add_quads


class WordsMesh:
    """Words gathered into meshes: the halos below, the letters above."""

    def __init__(self, atlas: GlyphAtlas) -> None:
        self._atlas = atlas
        self._plain = array("f")
        self._halo = array("f")

    def write(self, words: str, x: float, y: float, em: float, *, align: float = 0.5) -> None:
        """A line with its base line at y; ``align`` 0 begins at x, 0.5 is centred, 1 ends there."""
        start = x - align * self._atlas.width(words) * em
        self._atlas.write(words, start, y, em, self._plain, self._halo)

    def canvas(self, ink: str, halo: str | None) -> InstructionGroup:
        """What was written, in a colour, on a halo of another."""
        group = InstructionGroup()
        if halo is not None:
            group.add(Color(*get_color_from_hex(halo)))
            add_quads(group, self._halo, self._atlas.texture)
        group.add(Color(*get_color_from_hex(ink)))
        add_quads(group, self._plain, self._atlas.texture)
        return group
