"""The line that says what was done or refused, over the title of a screen: it covers no key.

Not here: the line of the map, which has a place of its own (``said_line``).
"""

from collections.abc import Callable
from typing import Any

from kivy.clock import Clock
from kivy.input.motionevent import MotionEvent

from fieldapp.tablet.theme import Kit
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.panel import Panel
from fieldapp.tablet.widgets.question import both
from fieldapp.tablet.widgets.said_line import SaidLine


class Banner(Panel):
    """For a few seconds, or until it is touched. ``undo`` gives it a key, where it was recorded."""

    SECONDS = 6.0

    def __init__(
        self,
        kit: Kit,
        words: str,
        closed: Callable[[], object],
        *,
        undo: Callable[[], object] | None = None,
        **settings: Any,
    ) -> None:
        super().__init__(
            kit,
            framed=True,
            orientation="horizontal",
            size_hint=(None, None),
            padding=0,
            **settings,
        )
        self.words = words
        self.undo = undo
        self._closed = closed
        said = SaidLine(kit)
        said.size_hint_y = 1.0
        said.words = words
        self.add_widget(said)
        if undo is not None:
            key = BigKey(kit, "Undo", both(closed, undo), size_hint=(None, 1.0))
            key.size_hint_min_y = None  # as high as the line that it stands in
            self.add_widget(key)
        self._leaving = Clock.schedule_once(lambda _passed: closed(), self.SECONDS)

    def cancel(self) -> None:
        """It was taken away: nothing more is to come of it."""
        self._leaving.cancel()

    def on_touch_down(self, touch: MotionEvent) -> bool:
        if super().on_touch_down(touch):
            return True
        if self.collide_point(*touch.pos):
            self._closed()
            return True
        return False
