"""The window: a stack of screens, a line that says what was done, and questions above them.

Not here: what the screens are, and starting the app (``app``).
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

from kivy.clock import Clock
from kivy.core.window import Window
from kivy.uix.floatlayout import FloatLayout

from fieldapp.tablet.framing import SAID_MM
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.screen_list import screen_class
from fieldapp.tablet.services import Answers, Services
from fieldapp.tablet.widgets.banner import Banner
from fieldapp.tablet.widgets.question import Question
from fieldapp.view.outcome import Outcome

REST_S = 0.25


@dataclass(slots=True, kw_only=True)
class _Place:
    """A screen that was gone to. ``widget`` None: to be built when it is shown."""

    name: str
    what: dict[str, Any]
    kept: dict[str, Any] = field(default_factory=dict)
    widget: TabletScreen | None = None


class TabletShell(FloatLayout):
    """Shows the top of the stack. ``services`` is set before the first screen."""

    services: Services

    def __init__(self, **settings: Any) -> None:
        super().__init__(**settings)
        self._stack: list[_Place] = []
        self._banner: Banner | None = None
        self._is_fresh = False
        """Whether it was said in this frame: then it belongs to the screen that comes now."""
        self._questions: list[Question] = []
        self._was_wide: bool | None = None
        self._built_for: tuple[float, float] | None = None
        self.title = ""
        """What the window is called just now."""
        # A frame later: who reads it finds on the screen what it says.
        self._name_window = Clock.create_trigger(lambda _passed: Window.set_title(self.title), 0)
        self._settle_banner = Clock.create_trigger(lambda _passed: self._place_banner(), -1)
        self._grow_stale = Clock.create_trigger(lambda _passed: self._be_stale(), 0)
        self._turn = Clock.create_trigger(self._turned, -1)
        # A window that is pulled about is done once its size rests.
        self._resize = Clock.create_trigger(self._resized, REST_S)
        self.bind(size=self._turn)
        self.bind(size=lambda *_: (self._resize.cancel(), self._resize()))

    # For the services

    def go(self, name: str, what: dict[str, Any]) -> None:
        if self._stack and self._stack[-1].widget is not None:
            self._stack[-1].widget.leave()
            self._stack[-1].widget.covered()
        self._stack.append(_Place(name=name, what=what))
        self._show_top()

    def swap(self, name: str, what: dict[str, Any]) -> None:
        self._drop_top()
        self.go(name, what)

    def start_over(self, path: Sequence[tuple[str, dict[str, Any]]]) -> None:
        while self._stack:
            self._drop_top()
        self._stack = [_Place(name=name, what=what) for name, what in path]
        self._show_top()

    def back(self) -> None:
        if len(self._stack) < 2 or (self.top is not None and self.top.holds_back()):
            return
        self._drop_top()
        top = self._stack[-1]
        was_built = top.widget is not None
        self._show_top()
        if was_built and top.widget is not None:
            top.widget.seen_again()

    def say(self, words: str, undo: Callable[[], object] | None) -> None:
        self._hush()
        if self.top is not None and self.top.says(words):
            return
        self._banner = Banner(self.services.kit, words, self._hush, undo=undo)
        self._is_fresh = True
        self._grow_stale()
        self.add_widget(self._banner)
        self._place_banner()
        self._settle_banner()
        if self._questions:  # a question stays in front
            question = self._questions[-1]
            self.remove_widget(question)
            self.add_widget(question)

    def ask(self, words: str, answers: Answers) -> None:
        question = Question(self.services.kit, words, answers, lambda: self._answered(question))
        self._questions.append(question)
        self.add_widget(question)

    def took(self, outcome: Outcome) -> None:
        for place in self._stack:
            if place.widget is not None:
                place.widget.took(outcome)

    def entitle(self, words: str) -> None:
        self.title = f"{words} - Tubewright" if words else "Tubewright"
        self._name_window()

    def build_again(self) -> None:
        """Another theme, size or boiler: nothing that is built holds any more."""
        for place in self._stack:
            if place.widget is not None:
                place.widget.leave()
            place.widget = None
        self._show_top()

    @property
    def room(self) -> tuple[float, float]:
        return self.width, self.height

    # For tests, and for what the app keeps

    @property
    def path(self) -> list[tuple[str, dict[str, Any]]]:
        """The names of the screens one came along, with what each shows."""
        return [(place.name, place.what) for place in self._stack]

    @property
    def top(self) -> TabletScreen | None:
        return self._stack[-1].widget if self._stack else None

    @property
    def question(self) -> Question | None:
        """What is asked just now."""
        return self._questions[-1] if self._questions else None

    @property
    def said(self) -> str:
        """What the line says just now."""
        return "" if self._banner is None else self._banner.words

    def go_back_or_ask(self) -> bool:
        """The back key of the system; False where it has nothing to do."""
        if self._questions:
            question = self._questions[-1]
            self._answered(question)
            return True
        if len(self._stack) < 2:
            return False
        self.back()
        return True

    def _show_top(self) -> None:
        said = self._banner if self._is_fresh else None
        self._hush()
        self._put_top()
        if said is not None:  # a note kept is said where keeping it leads
            self.say(said.words, said.undo)

    def _put_top(self) -> None:
        for child in list(self.children):
            if isinstance(child, TabletScreen):
                self.remove_widget(child)
        if not self._stack:
            return
        self._was_wide = self.width >= self.height
        self._built_for = (self.width, self.height)
        Window.clearcolor = self.services.kit.paint.ground
        top = self._stack[-1]
        if top.widget is None:
            top.widget = screen_class(top.name)(self.services, top.kept, **top.what)
        if top is self._stack[-1] and top.widget.parent is None:  # building may have gone on
            self.add_widget(top.widget, index=len(self.children))

    def _drop_top(self) -> None:
        if not self._stack:
            return
        place = self._stack.pop()
        if place.widget is not None:
            place.widget.leave()
            place.widget.covered()
            self.remove_widget(place.widget)

    def _answered(self, question: Question) -> None:
        if question in self._questions:
            self._questions.remove(question)
        self.remove_widget(question)

    def _place_banner(self) -> None:
        """Over the title of the screen, which covers neither keys nor tubes."""
        banner, top = self._banner, self.top
        if banner is None:
            return
        least = self.services.kit.sizes.mm(SAID_MM)
        area = None if top is None else top.title_area
        if area is None:
            banner.pos, banner.size = (self.x, self.top_edge - least), (self.width, least)
            return
        title, place = area
        banner.pos, banner.size = (title.x, place.y), (title.width, max(least, place.height))

    @property
    def top_edge(self) -> float:
        return float(self.y + self.height)

    def _be_stale(self) -> None:
        self._is_fresh = False

    def _hush(self) -> None:
        if self._banner is not None:
            self._banner.cancel()
            self.remove_widget(self._banner)
            self._banner = None

    def _turned(self, *_changed: object) -> None:
        """Screens are laid out for one orientation and built anew for the other."""
        is_wide = self.width >= self.height
        if self._stack and self._was_wide is not None and is_wide != self._was_wide:
            self.build_again()

    def _resized(self, *_changed: object) -> None:
        """How many columns of keys there are is decided for one size of the window."""
        if self._stack and self._built_for != (self.width, self.height):
            self.build_again()
