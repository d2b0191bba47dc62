"""Keys below each other that fill a column, or scroll where they would be smaller than a finger.

Not here: the keys.
"""

from typing import Any

from kivy.uix.layout import Layout
from kivy.uix.scrollview import ScrollView

from fieldapp.tablet.theme import Kit


class KeyColumn(ScrollView):
    """Shows a layout of keys; ``least`` is the height below which it scrolls."""

    def __init__(self, kit: Kit, keys: Layout, least: float, **settings: Any) -> None:
        super().__init__(
            do_scroll_x=False,
            bar_width=kit.sizes.mm(1.4),
            bar_color=kit.paint.quiet,
            bar_inactive_color=kit.paint.line,
            scroll_distance=kit.sizes.mm(2.5),
            scroll_timeout=250,
            **settings,
        )
        self._keys = keys
        self._least = least
        keys.size_hint_y = None
        self.add_widget(keys)
        self.bind(height=self._grow)
        self._grow()

    def _grow(self, *_changed: object) -> None:
        self._keys.height = max(self.height, self._least)
