"""A line of fixed height that says what was done: nothing below it moves when the words change.

Not here: the line that goes away by itself (``banner``).
"""

from typing import Any

from kivy.clock import Clock
from kivy.graphics import Color, Rectangle
from kivy.properties import StringProperty
from kivy.uix.widget import Widget

from fieldapp.tablet.theme import Kit
from fieldapp.tablet.widgets.fitted_words import fit_words


class SaidLine(Widget):
    """Up to two lines of words; longer ones are written smaller."""

    words = StringProperty("")

    def __init__(self, kit: Kit, **settings: Any) -> None:
        super().__init__(size_hint_y=None, height=kit.sizes.mm(9.4), **settings)
        self._kit = kit
        redraw = Clock.create_trigger(self._draw, -1)
        self.bind(pos=redraw, size=redraw, words=redraw)
        redraw()

    def _draw(self, *_changed: object) -> None:
        paint, sizes = self._kit.paint, self._kit.sizes
        self.canvas.clear()
        with self.canvas:
            Color(*paint.panel)
            Rectangle(pos=self.pos, size=self.size)
            if not self.words:
                return
            picture = fit_words(
                self.words,
                em_px=sizes.body,
                width_px=self.width - 2 * sizes.gap,
                height_px=self.height,
                colour=paint.ink,
                align="left",
            )
            Color(1.0, 1.0, 1.0)
            Rectangle(
                texture=picture,
                pos=(round(self.x + sizes.gap), round(self.center_y - picture.height / 2)),
                size=picture.size,
            )
