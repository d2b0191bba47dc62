"""The list of boilers, where the app opens; an empty one offers the demo boiler.

Not here: making a boiler (``row_plan``), one boiler (``boiler``).
"""

from collections.abc import Callable
from pathlib import Path

from fieldapp.cli.context import context_for
from fieldapp.cli.demo import run_steps
from fieldapp.tablet.screen import TabletScreen
from fieldapp.tablet.widgets.big_key import BigKey
from fieldapp.tablet.widgets.panel import ScrollList
from fieldapp.tablet.widgets.words import Words
from fieldapp.view.boiler_pages import DEMO_WORDS, BoilerLine, list_boiler_lines
from model.store.store import Store

MAKING_DEMO = "Making the demo boiler. Everything about it is invented."


class BoilersScreen(TabletScreen):
    """Every boiler with a key."""

    def build(self) -> None:
        kit = self.kit
        wide = kit.sizes.mm(30.0)
        new = BigKey(
            kit, "New boiler", lambda: self.services.go("row plan"), size_hint=(None, None)
        )
        settings = BigKey(
            kit, "Settings", lambda: self.services.go("settings"), size_hint=(None, None)
        )
        new.width = settings.width = min(wide, kit.sizes.mm(22.0))
        self.add_widget(self.build_bar("Boilers", new, settings, back=False))
        self.entitle("Reading the database")
        self.list = ScrollList(kit)
        self.list.put(Words(kit, "Reading the database ...", "quiet"))
        self.add_widget(self.list)
        self.padding = self.spacing = kit.sizes.gap
        self._ask()

    def seen_again(self) -> None:
        self._ask()

    def _ask(self) -> None:
        self.services.forget_place()
        self.services.ask_store(list_boiler_lines, self._show)

    def _show(self, lines: tuple[BoilerLine, ...]) -> None:
        kit, go = self.kit, self.services.go
        self.entitle("Boilers")
        self.list.empty()
        if not lines:
            self.list.put(
                Words(kit, DEMO_WORDS),
                BigKey(
                    kit,
                    "New boiler from rows",
                    lambda: go("row plan"),
                    leads=True,
                    size_hint_y=None,
                ),
                BigKey(
                    kit,
                    "Show the demo boiler",
                    self._make_demo,
                    under="invented, to try things",
                    size_hint_y=None,
                ),
            )
            return
        self.list.put(
            *(
                BigKey(
                    kit,
                    line.tag,
                    _going(go, line.boiler),
                    under=line.words,
                    aligned="left",
                    size_hint_y=None,
                )
                for line in lines
            )
        )

    def _make_demo(self) -> None:
        self.list.empty()
        self.list.put(Words(self.kit, MAKING_DEMO))
        data = self.services.places.data
        self.services.ask_store(_demo_into(data), self._show)


def _going(go: Callable[..., None], boiler: str) -> Callable[[], None]:
    return lambda: go("boiler", boiler=boiler)


def _demo_into(data: Path) -> Callable[[Store], tuple[BoilerLine, ...]]:
    def job(store: Store) -> tuple[BoilerLine, ...]:
        run_steps(context_for(data), data)
        return list_boiler_lines(store)

    return job
