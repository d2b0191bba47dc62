"""What else can be done from the map: the menu, who is inspecting, closing the inspection.

Not here: the map (``screens.map``).
"""

from collections.abc import Callable

from fieldapp.tablet.services import Services
from fieldapp.view.boiler_pages import PersonLine, list_person_lines
from fieldapp.view.key_state import PLUG_ANSWERS, WHICH_PLUG
from model.record.words import PlugType

Does = Callable[[], object]


def ask_menu(services: Services, more: list[tuple[str, Does]]) -> None:
    """The menu; ``more`` comes first."""
    go = services.go
    services.ask(
        "What next?",
        [
            *more,
            ("Crew list", lambda: go("crew")),
            ("Limits", lambda: go("limits")),
            ("Caller and scribe", lambda: go("caller")),
            ("Move marks", lambda: go("move")),
            ("Somebody else inspects", lambda: ask_person(services)),
            ("Settings", lambda: go("settings")),
            ("Close the inspection", lambda: ask_close(services)),
            ("To the boiler's page", services.back),
            ("Nothing", None),
        ],
    )


def ask_person(services: Services) -> None:
    """Who goes on: one of those known, or a new name."""

    def ask(lines: tuple[PersonLine, ...]) -> None:
        services.ask(
            "Who is inspecting?",
            [
                *((line.name, _switching(services, line.person)) for line in lines),
                ("A new name", lambda: services.go("person")),
                ("Go on as before", None),
            ],
        )

    services.ask_store(list_person_lines, ask)


def ask_plug(services: Services, chosen: Callable[[PlugType | None], None]) -> None:
    """Which plug is said of every tube marked plugged from now on."""
    services.ask(WHICH_PLUG, [(words, _choosing(chosen, kind)) for kind, words in PLUG_ANSWERS])


def ask_close(services: Services) -> None:
    def close() -> None:
        services.do(lambda session: session.close(), lambda _outcome: services.back())

    services.ask(
        "Close the inspection? See 'before you leave' first. Late marks are still taken, and show "
        "as made after closing.",
        [
            ("Before you leave", lambda: services.go("leave")),
            ("Close it", close),
            ("Do not", None),
        ],
    )


def _switching(services: Services, person: str) -> Does:
    return lambda: services.switch_person(person)


def _choosing(chosen: Callable[[PlugType | None], None], kind: PlugType | None) -> Does:
    return lambda: chosen(kind)
