"""A heading with keys below it of which one, or none, is chosen. Not here: what a choice means."""

from collections.abc import Callable, Sequence
from typing import Any, Generic, TypeVar

from kivy.uix.gridlayout import GridLayout

from fieldapp.tablet.theme import Kit
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.panel import Stack
from fieldapp.tablet.widgets.words import Words

T = TypeVar("T")
LEAST_WIDTH_MM = 26.0
"""A key that carries a longer word is not narrower than this."""


class KeyGrid(GridLayout):
    """Keys beside each other, as many as the width holds; as tall as they need."""

    def __init__(
        self, kit: Kit, *keys: BigKey, least_mm: float = LEAST_WIDTH_MM, **settings: Any
    ) -> None:
        super().__init__(spacing=kit.sizes.gap, size_hint_y=None, cols=1, **settings)
        self._least_px = kit.sizes.mm(least_mm)
        self.bind(width=self._arrange, minimum_height=self.setter("height"))
        self.put(*keys)

    def put(self, *keys: BigKey) -> None:
        for key in keys:
            key.size_hint_y = None
            self.add_widget(key)
        self._arrange()

    def _arrange(self, *_changed: object) -> None:
        gap = float(self.spacing[0])
        across = int((self.width + gap) // (self._least_px + gap))
        count = max(1, len(self.children))
        columns = max(1, min(across, count))
        down = -(-count // columns)
        self.cols = -(-count // down)


class Choices(Stack, Generic[T]):
    """One of several. Pressing the chosen one again lets it go where ``may_be_none``."""

    def __init__(
        self,
        kit: Kit,
        heading: str,
        options: Sequence[tuple[T, str]],
        chosen: T | None,
        picked: Callable[[T | None], object],
        *,
        may_be_none: bool = False,
        least_mm: float = LEAST_WIDTH_MM,
    ) -> None:
        super().__init__(kit)
        self._picked = picked
        self._may_be_none = may_be_none
        self._options = tuple(options)
        if heading:
            self.add_widget(Words(kit, heading, "heading"))
        self.keys: dict[T, BigKey] = {
            value: BigKey(kit, words, self._pressing(value), chosen=value == chosen)
            for value, words in options
        }
        self._chosen = chosen
        self.add_widget(KeyGrid(kit, *self.keys.values(), least_mm=least_mm))

    @property
    def chosen(self) -> T | None:
        return self._chosen

    def choose(self, value: T | None) -> None:
        """Show a choice; nobody is told."""
        self._chosen = value
        for each, key in self.keys.items():
            key.chosen = each == value

    def _pressing(self, value: T) -> Callable[[], None]:
        def press() -> None:
            is_off = self._may_be_none and value == self._chosen
            self.choose(None if is_off else value)
            self._picked(self._chosen)

        return press
