"""The map and, while something is asked, a strip of keys over that edge which is farther from it.

Not here: the map (``sheet_map``), what is asked (``asking_strip``).
"""

from typing import Any

from kivy.clock import Clock
from kivy.uix.floatlayout import FloatLayout

from fieldapp.tablet.asking_strip import AskingStrip
from fieldapp.tablet.sheet_map import SheetMap
from fieldapp.view.key_state import KeyState


class CoveredMap(FloatLayout):
    """The map never moves when the strip comes or goes."""

    def __init__(self, sheet: SheetMap, strip: AskingStrip, **settings: Any) -> None:
        super().__init__(**settings)
        self._sheet = sheet
        self.strip = strip
        self._state = KeyState()
        sheet.size_hint, sheet.pos_hint = (1.0, 1.0), {"x": 0.0, "y": 0.0}
        self.add_widget(sheet)
        again = Clock.create_trigger(lambda _passed: self._place(), -1)
        self.bind(pos=again, size=again)

    def ask(self, state: KeyState) -> None:
        """Show the strip if this state asks something of a tube, else take it away."""
        self._state = state
        self._place()

    def _place(self) -> None:
        hole = _asked_hole(self._state)
        strip, sheet = self.strip, self._sheet
        if hole is None:
            if strip.parent is not None:
                self.remove_widget(strip)
            sheet.cover(bottom_px=0.0, top_px=0.0)
            return
        strip.fit(self._state, self.width, self.height)
        at_top = self._is_low(hole)
        strip.pos = (self.x, self.top - strip.height if at_top else self.y)
        covered = strip.height
        sheet.cover(bottom_px=0.0 if at_top else covered, top_px=covered if at_top else 0.0)
        if strip.parent is None:
            self.add_widget(strip)

    def _is_low(self, hole: str) -> bool:
        """Whether the tube that is asked about stands in the lower half of the map."""
        face = self._sheet.face_map
        index = None if face is None else face.index_of(hole)
        viewport = self._sheet.viewport
        if face is None or index is None or viewport is None:
            return False
        end = face.ends[index]
        _, y = viewport.to_screen(end.x_mm, end.y_mm)
        return bool(y < self.height / 2)


def _asked_hole(state: KeyState) -> str | None:
    if state.leak_of:
        return state.leak_of[0].hole
    return None if state.plug_of is None else state.plug_of.ref.hole
