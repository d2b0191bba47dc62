"""The keys beside the map: the states, or the reasons why ends are not inspected.

Not here: what a key means (``fieldapp.view.key_state``), where the keys stand on the screen.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from kivy.uix.gridlayout import GridLayout
from kivy.uix.widget import Widget

from fieldapp.drawing.marks import TubeLook
from fieldapp.tablet.theme import Kit
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.view.key_state import REASON_ANSWERS, Key, KeyState
from fieldapp.view.mark_words import say_word
from model.record.words import Reason, State

LOOKS: dict[Key, TubeLook] = {
    Key.SOUND: TubeLook(state=State.SOUND),
    Key.THINNED: TubeLook(state=State.THINNED),
    Key.LEAKING: TubeLook(state=State.LEAKING),
    Key.PLUGGED: TubeLook(state=State.PLUGGED),
    Key.SPLIT: TubeLook(state=State.SPLIT),
    Key.NOT_INSPECTED: TubeLook(state=None, reason=True),
    Key.CONFIRM: TubeLook(state=State.PLUGGED, carried=True),
}
SLOTS = 8
"""Places for keys; the answers to any question fit into as many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeysDo:
    """Whom the keys tell."""

    press: Callable[[Key], None]
    answer_reason: Callable[[Reason], None]
    put_away: Callable[[], None]
    """The question is left unanswered."""
    fill: Callable[[], None]


class StateKeys(GridLayout):
    """Eight places for keys."""

    def __init__(self, kit: Kit, do: KeysDo, **settings: Any) -> None:
        super().__init__(spacing=kit.sizes.gap, **settings)
        self._kit = kit
        self._do = do
        self.keys: dict[str, BigKey] = {}
        """By what they say."""

    def show(self, state: KeyState) -> None:
        """The keys that this state calls for."""
        asks_reason = state.key is Key.NOT_INSPECTED and state.reason is None
        wanted = self._reason_keys() if asks_reason else self._state_keys(state)
        self.clear_widgets()
        self.keys = {key.words: key for key in wanted}
        for key in wanted:
            self.add_widget(key)
        for _ in range(SLOTS - len(wanted)):  # or the keys would grow
            self.add_widget(Widget())

    def _state_keys(self, state: KeyState) -> list[BigKey]:
        unders = {
            Key.NOT_INSPECTED: say_word(str(state.reason)) if state.reason else "",
            Key.PLUGGED: say_word(str(state.plug_type)) if state.plug_type else "",
            Key.CONFIRM: "from last time",
        }
        keys = [
            BigKey(
                self._kit,
                str(key),
                _call(self._do.press, key),
                look=look,
                chosen=state.key is key,
                under=unders.get(key, ""),
            )
            for key, look in LOOKS.items()
        ]
        return [*keys, BigKey(self._kit, "fill the rest", self._do.fill)]

    def _reason_keys(self) -> list[BigKey]:
        keys = [
            BigKey(self._kit, words, _call(self._do.answer_reason, reason))
            for reason, words in REASON_ANSWERS
        ]
        return [*keys, BigKey(self._kit, "back", self._do.put_away)]


def _call(what: Callable[[Any], None], word: object) -> Callable[[], None]:
    return lambda: what(word)
