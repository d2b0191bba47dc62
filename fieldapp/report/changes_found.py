"""What differs: opinions on an end, a tube from last time, what later work changed or cleared.

Not here: the words for it (``sections``).
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from model.condition.states import FoldedBoiler, FoldedInspection
from model.condition.tubes import TubeCondition, WallConcerns, tube_conditions
from model.record.fields import last_day
from model.record.line import Record
from model.record.words import End, State


@dataclass(frozen=True, slots=True, kw_only=True)
class Dispute:
    """An end on which live opinions differ."""

    tube: str
    hole: str
    end: End
    opinions: tuple[Record, ...]
    governing: State | None
    by_work: bool
    """Whether the work of the crew is in dispute, not what was seen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """A tube whose state is another than as left by the inspection before."""

    tube: str
    before: State | None
    after: State | None


def find_disputes(tubes: Sequence[TubeCondition]) -> list[Dispute]:
    """Every end on which live opinions or the works of the crew differ."""
    disputes: list[Dispute] = []
    for each in tubes:
        for end in End:
            found, left = each.ends_found[end], each.ends_left[end]
            if found.disputed or left.disputed:
                disputes.append(
                    Dispute(
                        tube=each.tube.key,
                        hole=each.hole,
                        end=end,
                        opinions=found.opinions,
                        governing=found.state if found.disputed else left.state,
                        by_work=not found.disputed,
                    )
                )
    return disputes


def find_changes(
    tubes: Sequence[TubeCondition], boiler: FoldedBoiler, previous: FoldedInspection | None
) -> list[Change]:
    """Tubes whose state is known today and last time, and another."""
    if previous is None:
        return []
    before: Mapping[str, State | None] = {
        each.hole: each.left.state for each in tube_conditions(boiler, previous, WallConcerns())
    }
    return [
        Change(tube=each.tube.key, before=before[each.hole], after=each.left.state)
        for each in tubes
        if each.left.state is not None
        and before[each.hole] is not None
        and before[each.hole] is not each.left.state
    ]


def find_cleared(tubes: Sequence[TubeCondition]) -> Iterator[tuple[str, End, str]]:
    """Ends that work left unknown and nobody looked at since: tube, end, what was done."""
    for each in tubes:
        for end in End:
            found, left = each.ends_found[end], each.ends_left[end]
            if left.state is None and (each.is_renewed or found.state is not None):
                yield each.tube.key, end, "replaced" if each.is_renewed else "worked on"


def find_later_work(boiler: FoldedBoiler, inspection: FoldedInspection) -> tuple[Record, ...]:
    """Gap work from this inspection's day up to the next inspection, or all of it if none."""
    date = inspection.facts.date or ""
    later = [each.facts.date or "" for each in boiler.inspections if (each.facts.date or "") > date]
    until = min(later, default="9999-99-99")
    return tuple(
        record
        for record in boiler.gap_work
        if date <= last_day(record.body.get("date") or record.body["done_on"]).isoformat() < until
    )
