"""What a screen may ask of the app: go somewhere, do something in the record, say something.

Not here: the window and the stack of screens (``shell``), the thread behind it (``worker``).
"""

from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any, Protocol, TypeVar

from fieldapp.tablet.ports.ports import Ports
from fieldapp.tablet.shown import Opened, Shown, shown_of
from fieldapp.tablet.theme import Kit, Paint, Sizes
from fieldapp.tablet.worker import Job, Worker, Workplace
from fieldapp.view.outcome import EVERYTHING, UNDO, Outcome
from fieldapp.view.resume import Place, write_place
from fieldapp.view.session import InspectionSession
from fieldapp.view.tablet_settings import TabletSettings, save_settings
from fieldapp.view.themes import TABLET_THEMES
from model.store.store import Store
from model.store.surroundings import Surroundings
from model.wall.retirement import facts_with_retirement

T = TypeVar("T")
Answers = Sequence[tuple[str, Callable[[], object] | None]]


class Shell(Protocol):
    """The window behind the services."""

    def go(self, name: str, what: dict[str, Any]) -> None: ...
    def swap(self, name: str, what: dict[str, Any]) -> None: ...
    def start_over(self, path: Sequence[tuple[str, dict[str, Any]]]) -> None: ...
    def back(self) -> None: ...
    def say(self, words: str, undo: Callable[[], object] | None) -> None: ...
    def ask(self, words: str, answers: Answers) -> None: ...
    def took(self, outcome: Outcome) -> None: ...
    def entitle(self, words: str) -> None: ...
    def build_again(self) -> None: ...

    @property
    def room(self) -> tuple[float, float]: ...


@dataclass(frozen=True, slots=True, kw_only=True)
class Places:
    """Where the app keeps what is not in the database."""

    data: Path
    """The database."""
    settings: Path
    resume: Path
    sprites: Path | None
    """Drawn signs, to be thrown away at will."""


class Services:
    """Handed to every screen. Only to be used on the screen's thread."""

    def __init__(
        self,
        *,
        shell: Shell,
        worker: Worker,
        places: Places,
        surroundings: Surroundings,
        settings: TabletSettings,
        system_px_per_mm: float,
        place: Place | None = None,
        ports: Ports | None = None,
    ) -> None:
        self._shell = shell
        self.worker = worker
        self.places = places
        self.surroundings = surroundings
        self.settings = settings
        self.system_px_per_mm = system_px_per_mm
        """What the system says of the screen; a calibration in the settings stands above it."""
        self.ports = ports or Ports()
        """What the device can do beside the window."""
        self.place = place or Place()
        """Where the app was left, or is."""
        self.shown: Shown | None = None
        """The inspection that is open; None on the screens before one is."""

    # How things look

    @property
    def kit(self) -> Kit:
        """Paint and sizes, for every widget."""
        px_per_mm = self.settings.px_per_mm or self.system_px_per_mm
        paint = Paint(theme=TABLET_THEMES[self.settings.theme])
        return Kit(paint=paint, sizes=Sizes(px_per_mm=px_per_mm))

    @property
    def room(self) -> tuple[float, float]:
        """Width and height of the window in pixels."""
        return self._shell.room

    def change_settings(self, **changed: Any) -> None:
        """Change and keep settings; every screen is built anew."""
        self.settings = replace(self.settings, **changed)
        save_settings(self.settings, self.places.settings)
        self._shell.build_again()

    # Where one is

    def go(self, name: str, **what: Any) -> None:
        """Show a screen above this one."""
        self._shell.go(name, what)

    def swap(self, name: str, **what: Any) -> None:
        """Show a screen instead of this one: going back skips this one."""
        self._shell.swap(name, what)

    def start_over(self, *path: tuple[str, dict[str, Any]]) -> None:
        """Show the last screen of a path, as if one had come along it from the beginning."""
        self._shell.start_over(path)

    def back(self) -> None:
        self._shell.back()

    # What is said and asked

    def say(self, words: str, *, undo: bool = False) -> None:
        """A sentence for a few seconds; ``undo`` gives it a key that takes the last act back."""
        if words:
            self._shell.say(words, self.undo if undo else None)

    def read_aloud(self, words: str) -> None:
        """Read a sentence aloud, where that is wanted and the device can."""
        if self.settings.speaks:
            self.ports.speech.say(words)

    def ask(self, words: str, answers: Answers) -> None:
        """A question that must be answered: what each key says and does (None: nothing)."""
        self._shell.ask(words, answers)

    def entitle(self, words: str) -> None:
        """Name the window after what it shows."""
        self._shell.entitle(words)

    # What is done in the record

    def do(
        self,
        operation: Callable[[InspectionSession], Outcome],
        then: Callable[[Outcome], None] | None = None,
        *,
        undo: bool = False,
    ) -> None:
        """Do something in the open inspection; every screen learns what came, and it is said.

        ``then`` is called after that, and only if it was not refused.
        """

        def came(outcome: Outcome) -> None:
            self.publish(outcome)
            self.read_aloud(outcome.said)
            if outcome.changed:
                self.ports.buzzer.buzz()
            self.say(outcome.said, undo=undo and UNDO in outcome.changed)
            if then is not None:
                then(outcome)

        self.worker.run(lambda place: operation(place.need_session()), came)

    def ask_session(
        self, question: Callable[[InspectionSession], T], then: Callable[[T], None]
    ) -> None:
        """Read something of the open inspection."""
        self.worker.run(lambda place: question(place.need_session()), then)

    def ask_store(self, job: Callable[[Store], T], then: Callable[[T], None]) -> None:
        """Read or write the database, away from any open inspection."""
        self.worker.run(lambda place: job(place.store), then)

    def undo(self) -> None:
        self.do(lambda session: session.undo())

    def redo(self) -> None:
        self.do(lambda session: session.redo())

    def publish(self, outcome: Outcome) -> None:
        """Everything that is shown follows what an operation brought."""
        if self.shown is None:
            return
        if EVERYTHING in outcome.changed:
            self.ask_session(_opened, self._show_anew)
        self.shown.take(outcome)
        self._shell.took(outcome)

    def switch_person(self, person: str) -> None:
        """Go on as somebody else, by id or by name; a new name makes a person."""

        def switch(place: Workplace) -> tuple[Outcome, str, str]:
            session = place.need_session()
            return session.switch_person(person), session.person, session.person_name

        def came(result: tuple[Outcome, str, str]) -> None:
            outcome, now, name = result
            if self.shown is not None:
                self.shown.crew[now] = name
                self.shown.person = now
            self.keep_place(person=now)
            self.publish(outcome)
            self.say(outcome.said)

        self.worker.run(switch, came)

    def open_session(
        self,
        boiler: str,
        inspection: str,
        person: str,
        then: Callable[[Shown], None],
        refused: Callable[[str], None] | None = None,
    ) -> None:
        """Make an inspection the one that is open on the tablet."""

        def came(opened: Opened) -> None:
            self.shown = shown_of(opened)
            self.keep_place(boiler=boiler, inspection=inspection, person=opened.person)
            then(self.shown)

        self.worker.run(_opening(boiler, inspection, person), came, refused)

    def keep_place(self, **changed: Any) -> None:
        """Keep where one is, for an app that was killed; away from the screen's thread."""
        place = replace(self.place, **changed)
        if place != self.place:
            self.place = place
            self.worker.run(lambda _workplace: write_place(self.places.resume, place))

    def forget_place(self) -> None:
        """The app opens at the list of boilers next time."""
        self.keep_place(**asdict(Place()))

    def _show_anew(self, opened: Opened) -> None:
        if self.shown is not None:
            self.shown = shown_of(opened, self.shown.face)
            self._shell.build_again()


def _opening(boiler: str, inspection: str, person: str) -> Job[Opened]:
    def job(place: Workplace) -> Opened:
        place.session = InspectionSession(place.store, boiler, inspection, person)
        return _opened(place.session)

    return job


def _opened(session: InspectionSession) -> Opened:
    inspection = session.present.open
    return Opened(
        facts=facts_with_retirement(inspection.boiler),
        inspection=inspection.facts,
        tubes=tuple(inspection.boiler.tubes),
        person=session.person,
        crew=_crew(session),
        outcome=session.look(),
    )


def _crew(session: InspectionSession) -> dict[str, str]:
    """This person first, then all who marked something, by name."""
    inspection = session.present.open
    own = inspection.person_class(session.person)
    others = {inspection.person_class(record.by) for record in inspection.live_observations()}
    named = sorted((session.present.name_of(each), each) for each in others - {own})
    return {session.person: session.person_name, **{each: name for name, each in named}}
