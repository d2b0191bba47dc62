"""What every screen is: a box that is built anew whenever its theme or orientation changes.

Not here: any one screen (``screens``), which screens there are (``screen_list``).
"""

from typing import Any

from kivy.graphics import Color, Rectangle
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from fieldapp.tablet.services import Services
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.panel import Panel
from fieldapp.tablet.widgets.words import Words
from fieldapp.view.outcome import Outcome


class TabletScreen(BoxLayout):
    """A screen. Write ``build``; override ``took`` where what operations bring is shown.

    What must live through a rotation (typed words, what is chosen) stands in ``kept``; facts never
    do: they are asked of ``services.shown`` or of the database at every build.
    """

    def __init__(self, services: Services, kept: dict[str, Any], **what: Any) -> None:
        """``what`` is what ``services.go`` was given with the screen's name."""
        super().__init__(orientation="vertical", size=services.room)
        self.services = services
        self.kit = services.kit
        self.kept = kept
        self.what = what
        self.title_area: tuple[Widget, Widget] | None = None
        """The title, and what is as high as its place: here stands what is said for a while."""
        with self.canvas.before:
            Color(*self.kit.paint.ground)
            self._ground = Rectangle(pos=self.pos, size=self.size)
        self.bind(pos=self._place, size=self._place)
        self.build()

    @property
    def is_wide(self) -> bool:
        """Landscape."""
        width, height = self.services.room
        return bool(width >= height)

    def build(self) -> None:
        """Put the widgets in."""
        raise NotImplementedError

    def took(self, outcome: Outcome) -> None:
        """An operation was done, here or on a screen above this one."""

    def says(self, words: str) -> bool:
        """Show what was done in a place of the screen's own; False leaves it to the shell."""
        return False

    def seen_again(self) -> None:
        """The screen above was left."""

    def leave(self) -> None:
        """The screen is about to be thrown away or covered; keep what must live."""

    def covered(self) -> None:
        """Another screen is shown instead, after ``leave``."""

    def holds_back(self) -> bool:
        """Asked before going back; True where the screen has asked something instead."""
        return False

    def entitle(self, words: str) -> None:
        """Name the window after what it shows, for who switches windows or cannot see it."""
        self.services.entitle(words)

    def build_bar(self, title: str, *others: Widget, back: bool = True) -> Panel:
        """The bar at the top: a key to go back, the title, further keys."""
        self.entitle(title)
        sizes = self.kit.sizes
        bar = Panel(
            self.kit,
            orientation="horizontal",
            size_hint_y=None,
            height=sizes.key + 2 * sizes.gap,
        )
        if back:
            bar.add_widget(BigKey(self.kit, "Back", self.services.back, size_hint=(None, None)))
        said = Words(self.kit, title, "title", pos_hint={"center_y": 0.5})
        bar.add_widget(said)
        self.title_area = (said, bar)
        for other in others:
            bar.add_widget(other)
        return bar

    def _place(self, *_changed: object) -> None:
        self._ground.pos, self._ground.size = self.pos, self.size
