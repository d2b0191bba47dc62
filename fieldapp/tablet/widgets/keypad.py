"""Digits, point and backspace as keys of 20 mm and more. Not here: what is made of them."""

from collections.abc import Callable
from functools import partial

from kivy.uix.gridlayout import GridLayout

from fieldapp.tablet.theme import Kit
from fieldapp.tablet.widgets.big_key import BigKey

BACKSPACE = "⌫"
CLEAR = "clear"
_UPRIGHT = ("7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", BACKSPACE)
_WIDE = ("7", "8", "9", BACKSPACE, "4", "5", "6", "0", "1", "2", "3", ".")


class Keypad(GridLayout):
    """Three keys wide and four tall, or ``wide``: four wide and three tall.

    ``pressed`` is told the digit, ``.`` or ``BACKSPACE``.
    """

    def __init__(self, kit: Kit, pressed: Callable[[str], object], *, wide: bool) -> None:
        super().__init__(cols=4 if wide else 3, spacing=kit.sizes.gap)
        names = _WIDE if wide else _UPRIGHT
        self.keys: dict[str, BigKey] = {}
        for name in names:
            words = "<" if name == BACKSPACE else name
            under = "delete" if name == BACKSPACE else ""
            key = BigKey(kit, words, partial(pressed, name), under=under, large=True)
            self.keys[name] = key
            self.add_widget(key)

    @staticmethod
    def least_size(kit: Kit, *, wide: bool) -> tuple[float, float]:
        """The room it needs."""
        across, down = (4, 3) if wide else (3, 4)
        key, gap = kit.sizes.key, kit.sizes.gap
        return across * key + (across - 1) * gap, down * key + (down - 1) * gap
