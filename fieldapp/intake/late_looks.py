"""Rows that say what an end looks like after the work on it, in the inspection that found it.

They would overwrite what was *found*; a look after the work belongs into an inspection of its own.
Pure. Not here: what is found and left (``model.condition``).
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from typing import Any

from fieldapp.intake.known_tubes import KnownTubes
from fieldapp.intake.observations import ObservationRow
from model.condition.states import FoldedBoiler, FoldedInspection
from model.record.words import Does, End

PersonIds = Callable[[str], Iterable[str]]
"""From a name, or a person's id, to the ids that it stands for."""


class LateLooks:
    """Asks about rows that change what was found at an end on which work is recorded."""

    def __init__(
        self,
        boiler: FoldedBoiler,
        inspection: FoldedInspection,
        tubes: KnownTubes,
        *,
        speaker: Callable[[str | None], str],
        person_ids: PersonIds,
    ) -> None:
        self._inspection = inspection
        self._tubes = tubes
        self._speaker = speaker
        self._person_ids = person_ids
        self._worked_on = {
            (boiler.hole_class(record.body["hole"]), end)
            for record in inspection.work
            if record.body["hole"] is not None
            for end in _ends_of(record.body)
        }
        self._said: dict[tuple[str, End], list[tuple[str, str | None]]] = defaultdict(list)
        """Who said what of each end in this inspection."""
        for record in boiler.live if self._worked_on else ():
            body = record.body
            if (
                record.kind == "observation"
                and boiler.inspection_class(body["inspection"]) == inspection.facts.inspection
            ):
                end = (boiler.hole_class(body["hole"]), End(body["end"]))
                self._said[end].append((record.by, body["state"]))

    def questions(self, row: ObservationRow) -> list[str]:
        """What to ask about a row; nothing where it changes nothing."""
        if not self._worked_on or not row.ends:
            return []
        hole = self._tubes.hole(row.tube)
        changed = {
            end: found
            for end in row.ends
            if (hole, end) in self._worked_on and (found := self._contradicted(row, hole, end))
        }
        if not changed:
            return []
        now = "not inspected" if row.state is None else f"'{row.state}'"
        ends = " and ".join(changed)
        found = " and ".join(f"'{state}'" for state in dict.fromkeys(changed.values()))
        return [
            f"line {row.line}, state: {now} changes what was found at the {ends} of {row.tube}, "
            f"{found}, where work is recorded since; a look after the work belongs into an "
            "inspection of scope after-repair ('inspection new ... --scope after-repair'); correct "
            "the row, or confirm it."
        ]

    def _contradicted(self, row: ObservationRow, hole: str, end: End) -> str | None:
        """The state that the row would replace, or that somebody else's look contradicts."""
        by = set(self._person_ids(self._speaker(row.inspector)))
        own = [state for person, state in self._said.get((hole, end), ()) if person in by]
        if own:
            before = [state for state in own if state is not None]
            return None if not before or row.state in before else before[0]
        if row.state is None:
            return None
        opinions = [r.body["state"] for r in self._inspection.end_found(hole, end).opinions]
        return next((str(state) for state in opinions if state != row.state), None)


def _ends_of(work: Mapping[str, Any]) -> Iterable[End]:
    """The ends that a piece of work changed; cleaning comes before a look and changes none."""
    if work["does"] == Does.CLEAN:
        return ()
    if work["does"] == Does.REPLACE or not work["ends"]:
        return tuple(End)
    return tuple(End(end) for end in work["ends"])
