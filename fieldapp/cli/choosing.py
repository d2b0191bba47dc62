"""Which boiler, inspection and person a command means, from what was typed.

Not here: finding a boiler by its tag or id (``model.store.loading``).
"""

from collections.abc import Sequence

from fieldapp.cli.refusals import Refused
from model.condition.states import FoldedBoiler, FoldedInspection, InspectionFacts
from model.store.loading import find_boiler, load_boiler
from model.store.store import Store

_SHORTEST_ID = 4


def chosen_boiler(store: Store, tag: str) -> FoldedBoiler:
    """The folded boiler with this tag or id."""
    return load_boiler(store, find_boiler(store, tag).boiler)


def open_inspection(boiler: FoldedBoiler, wanted: str | None) -> FoldedInspection:
    """The inspection named, else the only open one: what is written goes there."""
    if wanted is not None:
        return named_inspection(boiler, wanted)
    found = only_open(boiler)
    if found is None:
        raise Refused(
            "No inspection is open; open one with 'inspection new', or name a closed one with "
            "--inspection."
        )
    return found


def open_or_latest(boiler: FoldedBoiler, wanted: str | None) -> FoldedInspection:
    """The inspection named, else the only open one, else the latest."""
    if wanted is not None:
        return named_inspection(boiler, wanted)
    found = only_open(boiler)
    if found is not None:
        return found
    if not boiler.inspections:
        raise Refused("There is no inspection of this boiler yet; open one with 'inspection new'.")
    return boiler.inspections[-1]


def only_open(boiler: FoldedBoiler) -> FoldedInspection | None:
    """The open inspection; None when none is. Several are refused."""
    found = [each for each in boiler.inspections if not each.facts.is_closed]
    if len(found) > 1:
        raise Refused(
            f"{len(found)} inspections are open; name one with --inspection: {_listed(found)}."
        )
    return found[0] if found else None


def named_inspection(boiler: FoldedBoiler, wanted: str) -> FoldedInspection:
    """The inspection of this day, or whose id begins so."""
    text = wanted.strip().lower()
    found = [each for each in boiler.inspections if text in _days(each.facts)] or [
        each
        for each in boiler.inspections
        if len(text) >= _SHORTEST_ID and any(id_.startswith(text) for id_ in each.facts.members)
    ]
    if len(found) == 1:
        return found[0]
    if found:
        raise Refused(
            f"{len(found)} inspections fit --inspection {wanted}; name one by its id: "
            f"{_listed(found)}."
        )
    known = f"there are {_listed(boiler.inspections)}" if boiler.inspections else "there is none"
    raise Refused(f"There is no inspection {wanted} of this boiler; {known}.")


def _days(facts: InspectionFacts) -> set[str]:
    """Joined inspections may have been dated differently; each of the days will do."""
    return {str(version.body["date"]) for version in facts.versions}


def _listed(inspections: Sequence[FoldedInspection]) -> str:
    return ", ".join(f"{each.facts.date} ({each.facts.inspection})" for each in inspections)


def opener_of(boiler: FoldedBoiler, facts: InspectionFacts) -> str | None:
    """The name of who opened the inspection; None when nobody did, or several did."""
    found = {boiler.name_of(person) for person in facts.opened_by}
    return found.pop() if len(found) == 1 else None


def speaker_of(given: str | None, inspection: FoldedInspection | None, boiler: FoldedBoiler) -> str:
    """Who says what is written: who is named with ``--by``, else who opened the inspection."""
    return Speaking(given, inspection, boiler)(None)


class Speaking:
    """From the inspector of a row to who says it: ``--by``, else the row's, else the opener."""

    def __init__(
        self, given: str | None, inspection: FoldedInspection | None, boiler: FoldedBoiler
    ) -> None:
        self._given = given
        self._opener = None if inspection is None else opener_of(boiler, inspection.facts)

    def __call__(self, inspector: str | None) -> str:
        name = self._given or inspector or self._opener
        if name is None or not name.strip():
            raise Refused("Nobody is named: say who with --by NAME.")
        return name
