"""The touch app: puts window, database thread and screens together, and ends them in order.

Not here: reading the command line (``__main__``), the screens.
"""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from kivy.app import App
from kivy.clock import Clock
from kivy.core.window import Window
from kivy.metrics import Metrics

from fieldapp.tablet.ports.device import device_ports
from fieldapp.tablet.services import Places, Services
from fieldapp.tablet.shell import TabletShell
from fieldapp.tablet.shown import Shown
from fieldapp.tablet.worker import Worker
from fieldapp.view.resume import FILE_NAME, Place, read_place
from fieldapp.view.tablet_settings import load_settings
from model.store.loading import BoilerName, list_boilers
from model.store.store import Store
from model.store.surroundings import Surroundings

BOILERS: tuple[str, dict[str, Any]] = ("boilers", {})


class TubewrightApp(App):
    """The app on one database."""

    title = "Tubewright"

    def __init__(
        self,
        *,
        data: Path,
        open_store: Callable[[], Store],
        surroundings: Surroundings,
        **settings: Any,
    ) -> None:
        """``open_store`` is called on the thread that will own the database."""
        super().__init__(**settings)
        self.shell = TabletShell()
        worker = Worker(open_store, deliver_to_screen, self._refused)
        folder = data.parent
        places = Places(
            data=data,
            settings=folder / "tablet-settings.json",
            resume=folder / FILE_NAME,
            sprites=folder / "tablet-signs",
        )
        self.services = Services(
            shell=self.shell,
            worker=worker,
            places=places,
            surroundings=surroundings,
            settings=load_settings(places.settings),
            system_px_per_mm=Metrics.dpi / 25.4,
            place=read_place(places.resume),
            ports=device_ports(),
        )
        self.shell.services = self.services

    def build(self) -> TabletShell:
        Window.softinput_mode = "below_target"
        Window.bind(on_keyboard=self._key)
        return self.shell

    def on_start(self) -> None:
        self.services.worker.start(self._cannot_open)
        self._open_where_it_was()

    def on_pause(self) -> bool:
        """The system may end a paused app without a word: keep the place at once."""
        if self.shell.top is not None:
            self.shell.top.leave()
        return True

    def on_stop(self) -> None:
        if self.shell.top is not None:
            self.shell.top.leave()
        self.services.worker.close()

    def _open_where_it_was(self) -> None:
        services, place = self.services, self.services.place
        if place.boiler is None:
            services.start_over(BOILERS)
        elif place.inspection is None or place.person is None:
            self._open_boiler(place.boiler)
        else:
            # The database may be another one by now: then there is nothing to go back to.
            services.open_session(
                place.boiler,
                place.inspection,
                place.person,
                lambda shown: self._open_map(shown, place),
                refused=lambda _sentence: services.start_over(BOILERS),
            )

    def _open_boiler(self, boiler: str) -> None:
        def came(names: list[BoilerName]) -> None:
            is_there = any(boiler in name.members for name in names)
            page = ("boiler", {"boiler": boiler})
            self.services.start_over(BOILERS, *([page] if is_there else []))

        self.services.ask_store(list_boilers, came)

    def _open_map(self, shown: Shown, place: Place) -> None:
        page = ("boiler", {"boiler": shown.boiler})
        if place.face is None or shown.facts.face(place.face) is None:
            self.services.start_over(BOILERS, page, ("face", {}))
            return
        shown.face = place.face
        self.services.start_over(BOILERS, page, ("map", {}))

    def _refused(self, sentence: str) -> None:
        self.shell.ask(sentence, [("Understood", None)])

    def _cannot_open(self, sentence: str) -> None:
        self.shell.ask(sentence, [("Close", self.stop)])

    def _key(self, _window: object, key: int, *_more: object) -> bool:
        escape = 27  # the system's back key comes as this one
        return self.shell.go_back_or_ask() if key == escape else False


def deliver_to_screen(what: Callable[[], None]) -> None:
    """Run something on the screen's thread before the next frame is drawn."""
    Clock.schedule_once(lambda _passed: what(), -1)
