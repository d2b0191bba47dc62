"""A strip over the map's edge that asks for more of what was just marked; it may be ignored.

It stands apart from the state keys, so that a finger on its way to the next state answers nothing.
Not here: what an answer means (``fieldapp.view.key_state``).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from kivy.graphics import Color, Line, Rectangle
from kivy.input.motionevent import MotionEvent
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.gridlayout import GridLayout
from kivy.uix.widget import Widget

from fieldapp.drawing.marks import TubeLook
from fieldapp.tablet.theme import Kit
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.fitted_words import fit_words
from fieldapp.view.key_state import LEAK_ANSWERS, PLUG_CONDITIONS, PLUG_TYPES, KeyState
from model.record.words import LeakAt, PlugCondition, PlugType, State

ACROSS = 4
"""Keys beside each other; each question has as many answers."""
HEAD_MM = 6.6
MOST_SHARE = 0.42
"""Of the map that the strip may take, so that at one edge or the other it hides no tube in the
middle. Where it would take more, a second row of keys waits and the head is left out: the line
above the map asks the same."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StripDoes:
    """Whom the strip tells."""

    place_leak: Callable[[LeakAt], None]
    describe_plug: Callable[[PlugType | PlugCondition], None]
    put_away: Callable[[], None]


class AskingStrip(BoxLayout):
    """The question and its keys. ``fit`` it to the map before it is shown."""

    def __init__(self, kit: Kit, do: StripDoes, **settings: Any) -> None:
        super().__init__(orientation="vertical", size_hint=(None, None), **settings)
        self._kit = kit
        self._do = do
        self.keys: dict[str, BigKey] = {}
        """By what they say."""
        with self.canvas.before:
            Color(*kit.paint.chosen_ground)
            self._ground = Rectangle()
            Color(*kit.paint.chosen)
            self._frame = Line(width=max(1.0, kit.sizes.mm(0.4)))
        self.bind(pos=self._place, size=self._place)

    def fit(self, state: KeyState, width: float, height: float) -> None:
        """Ask what this state asks, within a map of this size."""
        sizes = self._kit.sizes
        head, key = sizes.mm(HEAD_MM), sizes.key
        groups = self._groups(state)
        across, gap = self._spacing(width)
        rows_each = -(-ACROSS // across)
        if head + len(groups) * rows_each * (key + gap) > MOST_SHARE * height:
            groups = groups[:1]  # the other is asked when this one is answered
        rows = rows_each * len(groups)
        if head + rows * (key + gap) > MOST_SHARE * height:
            head = 0.0
        grid = GridLayout(
            cols=across,
            spacing=gap,
            padding=(gap, 0 if head else gap / 2, gap, gap if head else gap / 2),
        )
        wanted = [each for group in groups for each in group]
        for each in wanted:
            grid.add_widget(each)
        self.keys = {each.words: each for each in wanted}
        self.clear_widgets()
        if head:
            words = f"{state.question} Touch here to leave it."
            self.add_widget(_Head(self._kit, words, self._do.put_away, head))
        self.add_widget(grid)
        self.size = (width, head + rows * (key + gap))

    def on_touch_down(self, touch: MotionEvent) -> bool:
        super().on_touch_down(touch)
        # What lies below is covered: a finger between two keys marks no tube.
        return bool(self.collide_point(*touch.pos))

    def _spacing(self, width: float) -> tuple[int, float]:
        """Keys beside each other and the gap between them: never smaller keys."""
        sizes = self._kit.sizes
        across = ACROSS
        while across > 1 and across * sizes.key > width:
            across //= 2
        return across, max(0.0, min(sizes.gap, (width - across * sizes.key) // (across + 1)))

    def _groups(self, state: KeyState) -> list[list[BigKey]]:
        if state.leak_of:
            return [[self._leak_key(place, words) for place, words in LEAK_ANSWERS]]
        asked = state.plug_of
        groups: list[list[BigKey]] = []
        if asked is not None and asked.asks_condition:
            groups.append(self._plug_keys(PLUG_CONDITIONS))
        if asked is not None and asked.asks_type:
            groups.append(self._plug_keys(PLUG_TYPES))
        return groups

    def _leak_key(self, place: LeakAt, words: str) -> BigKey:
        looks = {
            LeakAt.JOINT: TubeLook(state=State.LEAKING, joint_leak=True),
            LeakAt.BORE: TubeLook(state=State.LEAKING),
        }
        return BigKey(self._kit, words, _call(self._do.place_leak, place), look=looks.get(place))

    def _plug_keys(self, answers: Sequence[tuple[PlugType | PlugCondition, str]]) -> list[BigKey]:
        return [
            BigKey(self._kit, words, _call(self._do.describe_plug, answer))
            for answer, words in answers
        ]

    def _place(self, *_changed: object) -> None:
        self._ground.pos, self._ground.size = self.pos, self.size
        self._frame.rectangle = (*self.pos, *self.size)


class _Head(ButtonBehavior, Widget):
    """The question; a touch puts it away."""

    def __init__(self, kit: Kit, words: str, pressed: Callable[[], None], height: float) -> None:
        super().__init__(size_hint_y=None, height=height)
        self.words = words
        self._kit = kit
        self._pressed = pressed
        self.bind(pos=self._draw, size=self._draw)

    def on_release(self) -> None:
        self._pressed()

    def _draw(self, *_changed: object) -> None:
        sizes, paint = self._kit.sizes, self._kit.paint
        picture = fit_words(
            self.words,
            em_px=sizes.body,
            width_px=self.width - 4 * sizes.gap,
            height_px=self.height,
            colour=paint.ink,
            bold=True,
            align="left",
        )
        self.canvas.clear()
        with self.canvas:
            Color(1.0, 1.0, 1.0)
            left = round(self.x + 2 * sizes.gap)
            bottom = round(self.center_y - picture.height / 2)
            Rectangle(texture=picture, pos=(left, bottom), size=picture.size)


def _call(what: Callable[[Any], None], word: object) -> Callable[[], None]:
    return lambda: what(word)
