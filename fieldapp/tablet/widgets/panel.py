"""Boxes that hold other widgets: a painted panel, and a list that scrolls. No facts in either."""

from typing import Any

from kivy.graphics import Color, Line, Rectangle
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.scrollview import ScrollView
from kivy.uix.widget import Widget

from fieldapp.tablet.theme import Kit


class Panel(BoxLayout):
    """A painted box; ``framed`` draws its edge."""

    def __init__(
        self, kit: Kit, *, framed: bool = False, raised: bool = True, **settings: Any
    ) -> None:
        settings.setdefault("orientation", "vertical")
        settings.setdefault("spacing", kit.sizes.gap)
        settings.setdefault("padding", kit.sizes.gap)
        super().__init__(**settings)
        with self.canvas.before:
            Color(*(kit.paint.panel if raised else kit.paint.ground))
            self._ground = Rectangle()
            if framed:
                Color(*kit.paint.line)
                self._frame = Line(width=kit.sizes.edge / 2)
        self._framed = framed
        self.bind(pos=self._place, size=self._place)

    def _place(self, *_changed: object) -> None:
        self._ground.pos, self._ground.size = self.pos, self.size
        if self._framed:
            self._frame.rectangle = (*self.pos, *self.size)


class Stack(BoxLayout):
    """Widgets below each other, as tall as all of them together."""

    def __init__(self, kit: Kit, **settings: Any) -> None:
        settings.setdefault("spacing", kit.sizes.gap)
        super().__init__(orientation="vertical", size_hint_y=None, **settings)
        self.bind(minimum_height=self.setter("height"))


class ScrollList(ScrollView):
    """A stack that scrolls; put what it shows in with ``put``."""

    def __init__(self, kit: Kit, **settings: Any) -> None:
        super().__init__(
            do_scroll_x=False,
            bar_width=kit.sizes.mm(1.4),
            bar_color=kit.paint.quiet,
            bar_inactive_color=kit.paint.line,
            scroll_distance=kit.sizes.mm(2.5),
            scroll_timeout=250,
            **settings,
        )
        right = kit.sizes.mm(2.4)
        self._stack = Stack(kit, padding=(0, 0, right, kit.sizes.gap))
        self.add_widget(self._stack)

    def put(self, *widgets: Widget) -> None:
        """Add at the end."""
        for widget in widgets:
            self._stack.add_widget(widget)

    def empty(self) -> None:
        self._stack.clear_widgets()

    @property
    def shown(self) -> list[Widget]:
        """What is in the list, from the top."""
        return list(reversed(self._stack.children))
