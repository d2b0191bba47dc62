"""A question over the whole screen that must be answered. Not here: what is asked."""

from collections.abc import Callable, Sequence
from typing import Any

from kivy.clock import Clock
from kivy.graphics import Color, Rectangle
from kivy.input.motionevent import MotionEvent
from kivy.uix.floatlayout import FloatLayout
from kivy.uix.gridlayout import GridLayout

from fieldapp.tablet.theme import Kit
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.panel import Panel, ScrollList
from fieldapp.tablet.widgets.words import Words

Answers = Sequence[tuple[str, Callable[[], object] | None]]
"""What the keys say and what they do; the first is the one that goes on."""
_FEW = 3


class Question(FloatLayout):
    """A question with a key for each answer; nothing below can be touched meanwhile."""

    def __init__(
        self, kit: Kit, words: str, answers: Answers, closed: Callable[[], object], **settings: Any
    ) -> None:
        """``closed`` is called first, whatever was answered."""
        super().__init__(**settings)
        self.words = words
        with self.canvas.before:
            Color(*kit.paint.veil)
            self._veil = Rectangle()
        self._box = Panel(kit, framed=True, raised=False, size_hint=(None, None))
        self._box.padding = kit.sizes.mm(4.0)
        self._said = Words(kit, words, "heading")
        self._said.bold = False
        self._list = ScrollList(kit)
        self._list.put(self._said)
        self._keys = GridLayout(spacing=kit.sizes.gap, size_hint_y=None, rows=1)
        self.keys = [
            BigKey(kit, answer, both(closed, does), leads=place == 0 and len(answers) <= _FEW)
            for place, (answer, does) in enumerate(answers)
        ]
        for key in self.keys:
            self._keys.add_widget(key)
        self._kit = kit
        self._box.add_widget(self._list)
        if len(answers) <= _FEW:
            self._box.add_widget(self._keys)  # always in sight, however long the words
        else:
            self._list.put(self._keys)
        self.add_widget(self._box)
        place_again = Clock.create_trigger(self._place, -1)
        self.bind(pos=place_again, size=place_again)
        self._said.bind(height=place_again)
        place_again()

    def _place(self, *_changed: object) -> None:
        sizes = self._kit.sizes
        self._veil.pos, self._veil.size = self.pos, self.size
        width = min(self.width - sizes.mm(4.0), sizes.mm(130.0))
        inner = width - sizes.mm(11.0)
        count = max(1, len(self.keys))
        across = int((inner + sizes.gap) // (sizes.mm(26.0) + sizes.gap))
        columns = max(1, min(count, across))
        down = -(-count // columns)
        self._keys.rows, self._keys.cols = None, -(-count // down)
        self._keys.height = down * sizes.key + (down - 1) * sizes.gap
        wanted = self._said.height + self._keys.height + sizes.mm(8.0) + 3 * sizes.gap
        self._box.size = (width, min(wanted, self.height - sizes.mm(4.0)))
        self._box.center = self.center

    def on_touch_down(self, touch: MotionEvent) -> bool:
        super().on_touch_down(touch)
        return True  # nothing below is touched while it asks

    def on_touch_move(self, touch: MotionEvent) -> bool:
        super().on_touch_move(touch)
        return True

    def on_touch_up(self, touch: MotionEvent) -> bool:
        super().on_touch_up(touch)
        return True


def both(first: Callable[[], object], second: Callable[[], object] | None) -> Callable[[], None]:
    """One after the other; nothing more where there is no second."""

    def do() -> None:
        first()
        if second is not None:
            second()

    return do
