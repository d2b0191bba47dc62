"""Words at the tubes, in blocks that are written when they first come into view.

Not here: at which zoom they appear (``fieldapp.view.labels``).
"""

from kivy.graphics import InstructionGroup

from fieldapp.drawing.palette import Theme
from fieldapp.tablet.glyphs import CAP_HEIGHT, GlyphAtlas
from fieldapp.tablet.writing import WordsMesh
from fieldapp.view.face_map import Block, FaceMap
from fieldapp.view.labels import LabelLevel, LabelSizes, choose_level, label_sizes, label_words
from fieldapp.view.viewport import Bounds

_ABOVE_TUBE = 1.06
"""Where words stand on: just above the ring, in radii."""


class MapLabels:
    """The labels of one face map. ``canvas`` lies in millimetres of the sheet."""

    def __init__(self, face_map: FaceMap, atlas: GlyphAtlas, theme: Theme) -> None:
        self.canvas = InstructionGroup()
        self.level = LabelLevel.NONE
        self._map = face_map
        self._atlas = atlas
        self._theme = theme
        self._sizes: LabelSizes = label_sizes(face_map)
        self._written: dict[Block, InstructionGroup] = {}
        self._drawn: set[Block] = set()
        self._settled: Bounds | None = None

    def look(self, shown: Bounds, screen_mm_per_mm: float) -> bool:
        """Bring the labels in view up to date, one block a call; True when more are to come."""
        level = choose_level(self._sizes, screen_mm_per_mm, self.level)
        if level is not self.level:
            self._clear(level)
        if level is LabelLevel.NONE or (self._settled is not None and self._settled.covers(shown)):
            return False
        # A little more than is shown, so that most pans change nothing.
        wanted = set(self._map.blocks_in(shown.grown(self._map.pitch_mm)))
        for block in self._drawn - wanted:
            self.canvas.remove(self._written[block])
        self._drawn &= wanted
        for block in wanted - self._drawn:
            is_new = block not in self._written
            if is_new:
                self._written[block] = self._write(block)
            self.canvas.add(self._written[block])
            self._drawn.add(block)
            if is_new:
                self._settled = None
                return True
        self._settled = shown.grown(self._map.pitch_mm)
        return False

    def _clear(self, level: LabelLevel) -> None:
        self.canvas.clear()
        self.level = level
        self._written, self._drawn, self._settled = {}, set(), None

    def _write(self, block: Block) -> InstructionGroup:
        em = self._sizes.em_mm(self.level)
        words = WordsMesh(self._atlas)
        for index in block.indexes:
            end = self._map.ends[index]
            base = end.y_mm + _ABOVE_TUBE * end.radius_mm + 0.1 * CAP_HEIGHT * em
            words.write(label_words(end, self.level), end.x_mm, base, em)
        return words.canvas(self._theme.quiet_ink, self._theme.plate)
