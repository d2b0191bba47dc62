"""Row numbers at the left and right edge of the screen, which follow the sheet up and down.

Not here: which rows are numbered (``fieldapp.view.ruler_rows``).
"""

from kivy.graphics import Color, InstructionGroup, PopMatrix, PushMatrix, Rectangle, Translate
from kivy.utils import get_color_from_hex

from fieldapp.drawing.palette import Theme
from fieldapp.tablet.glyphs import CAP_HEIGHT, GlyphAtlas
from fieldapp.tablet.writing import WordsMesh
from fieldapp.view.face_map import FaceMap
from fieldapp.view.ruler_rows import RulerEntry, ruler_entries
from fieldapp.view.viewport import Bounds, Viewport

WIDTH_DP = 46.0
NUMBER_DP = 16.0
PASS_DP = 13.5
GAP_DP = 17.0

Entries = tuple[tuple[RulerEntry, ...], tuple[RulerEntry, ...]]


class MapRulers:
    """Both rulers of one face map. ``canvas`` lies in pixels from the map's lower left corner."""

    def __init__(
        self, face_map: FaceMap, atlas: GlyphAtlas, theme: Theme, px_per_dp: float
    ) -> None:
        self.canvas = InstructionGroup()
        self.entries: Entries = ((), ())
        self._map = face_map
        self._atlas = atlas
        self._theme = theme
        self._dp = px_per_dp
        self._written_for: tuple[Entries, float, float, float] | None = None
        self._origin_px = 0.0
        self._move = Translate(0.0, 0.0)
        self._has_one_pass = len({row.pass_number for row in face_map.rows}) == 1
        self._settled: tuple[float, float, float, Bounds] | None = None

    def look(self, viewport: Viewport) -> None:
        """Follow the viewport; the words are written anew only when other rows come into view."""
        _, origin_px = viewport.to_screen(0.0, 0.0)
        if not self._is_settled(viewport):
            self._choose(viewport)
            state = (self.entries, viewport.px_per_mm, viewport.width_px, viewport.height_px)
            if state != self._written_for:
                self._write(viewport, origin_px)
                self._written_for = state
        self._move.y = origin_px - self._origin_px

    def _is_settled(self, viewport: Viewport) -> bool:
        """Whether the rows chosen last still serve: with one pass, until the view has moved on."""
        if self._settled is None or not self._has_one_pass:
            return False
        scale, width, height, bounds = self._settled
        same = (scale, width, height) == (
            viewport.px_per_mm,
            viewport.width_px,
            viewport.height_px,
        )
        return same and bounds.covers(viewport.shown)

    def _choose(self, viewport: Viewport) -> None:
        shown = viewport.shown
        if self._has_one_pass:
            shown = shown.grown(0.25 * shown.height_mm)
        self._settled = (viewport.px_per_mm, viewport.width_px, viewport.height_px, shown)
        gap_mm = GAP_DP * self._dp / viewport.px_per_mm
        self.entries = (
            ruler_entries(self._map.rows, shown, "left", gap_mm),
            ruler_entries(self._map.rows, shown, "right", gap_mm),
        )

    def _write(self, viewport: Viewport, origin_px: float) -> None:
        self.canvas.clear()
        width = WIDTH_DP * self._dp
        middles = (width / 2, viewport.width_px - width / 2)
        words = WordsMesh(self._atlas)
        for side, middle in zip(self.entries, middles, strict=True):
            for entry in side:
                em = (PASS_DP if entry.is_pass else NUMBER_DP) * self._dp
                y = origin_px + entry.y_mm * viewport.px_per_mm - CAP_HEIGHT * em / 2
                words.write(entry.words, middle, y, em)
        self.canvas.add(Color(*get_color_from_hex(self._theme.ground)[:3], 0.88))
        for left in (0.0, viewport.width_px - width):
            self.canvas.add(Rectangle(pos=(left, 0.0), size=(width, viewport.height_px)))
        self.canvas.add(Color(*get_color_from_hex(self._theme.faint)))
        for left in (width, viewport.width_px - width - 1.0):
            self.canvas.add(Rectangle(pos=(left, 0.0), size=(1.0, viewport.height_px)))
        self.canvas.add(PushMatrix())
        self._move = Translate(0.0, 0.0)
        self._origin_px = origin_px
        self.canvas.add(self._move)
        self.canvas.add(words.canvas(self._theme.ink, None))
        self.canvas.add(PopMatrix())
