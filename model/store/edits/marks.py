"""Marks of the touch map: one gesture is one act, one committed transaction, one step to undo.

Undoing a correction restates what stood before; undoing a first mark withdraws it. Nothing is
deleted. Not here: what a gesture means (the tablet's view), folding
(``model.condition.open_inspection``).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from model.condition.open_inspection import OpenInspection
from model.condition.states import LOOKS
from model.record.canonical import normalised
from model.record.kinds import complete_body
from model.record.line import Record
from model.record.words import End, How, State
from model.store.store import Store
from model.store.writer import Writer

_CONTENT = (
    "state",
    "reason",
    "leak_at",
    "leak_at_mm",
    "found_by",
    "test_mpa",
    "how",
    "plug",
    "findings",
    "note",
)
"""The fields of an observation that a person states; the others say which end, and when."""
_NO_FILL_OVER = frozenset((State.PLUGGED, State.LEAKING, State.SPLIT))


@dataclass(frozen=True, slots=True, kw_only=True)
class EndRef:
    """A tube end as the map shows it."""

    hole: str
    tube: str
    end: End
    face: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """What an act did to one end: a person's own statement before and after; None is none."""

    ref: EndRef
    before: Mapping[str, Any] | None
    after: Mapping[str, Any] | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """One gesture, as done."""

    act: str
    words: str
    """What it did, for the undo key."""
    steps: tuple[Step, ...]

    def reversed_steps(self) -> tuple[Step, ...]:
        return tuple(Step(ref=s.ref, before=s.after, after=s.before) for s in self.steps)


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """A committed act and the records that it made."""

    act: Act
    records: tuple[Record, ...]


def record_marks(
    store: Store,
    inspection: OpenInspection,
    marks: Sequence[tuple[EndRef, Mapping[str, Any]]],
    person: str,
    words: str,
) -> Done | None:
    """Commit the marks of one gesture; None when every end already says just that.

    Each mark is an end and the fields stated (state, leak_at, how, plug, findings, ...).
    """
    steps = []
    for ref, stated in marks:
        before = own_statement(inspection, ref, person)
        after = _content(complete_body("observation", {**_slot(inspection, ref), **stated}))
        if before != after:
            steps.append(Step(ref=ref, before=before, after=after))
    return _commit(store, inspection, tuple(steps), person, words) if steps else None


def undo(store: Store, inspection: OpenInspection, act: Act, person: str) -> Done | None:
    """Take an act back; None when nothing of it stands any more."""
    return _commit(store, inspection, act.reversed_steps(), person, f"undo: {act.words}")


def redo(store: Store, inspection: OpenInspection, act: Act, person: str) -> Done | None:
    """Do an undone act again."""
    return _commit(store, inspection, act.steps, person, act.words)


def move_marks(
    store: Store,
    inspection: OpenInspection,
    moves: Sequence[tuple[EndRef, EndRef]],
    person: str,
    words: str,
) -> Done | None:
    """Move a person's own marks from the first ends to the second: one act, in one transaction.

    What is moved is withdrawn where it was and stated where it belongs. An end that is both a
    source and a target keeps only what was moved to it.
    """
    statements = {source: own_statement(inspection, source, person) for source, _ in moves}
    after: dict[EndRef, Mapping[str, Any] | None] = {source: None for source, _ in moves}
    for source, target in moves:
        if statements[source] is not None:
            after[target] = statements[source]
    steps = tuple(
        Step(ref=ref, before=own_statement(inspection, ref, person), after=stated)
        for ref, stated in after.items()
    )
    return _commit(store, inspection, steps, person, words)


def own_statement(inspection: OpenInspection, ref: EndRef, person: str) -> Mapping[str, Any] | None:
    """What the person says of an end now; None when nothing."""
    own = inspection.own_live(ref.hole, ref.end, person)
    return _content(max(own, key=lambda record: record.id).body) if own else None


def can_fill(inspection: OpenInspection, ref: EndRef) -> bool:
    """Whether a fill-in would say something: nobody looked, nothing graver is carried."""
    found = inspection.end_found(ref.hole, ref.end)
    if found.how in LOOKS or found.how is How.FILLED:
        return False
    return not (found.carried and found.state in _NO_FILL_OVER)


def _commit(
    store: Store,
    inspection: OpenInspection,
    steps: Sequence[Step],
    person: str,
    words: str,
) -> Done | None:
    records: list[Record] = []
    with store.write() as writer:
        act = writer.mint()
        for step in steps:
            record = _apply(writer, inspection, step, person, act)
            if record is not None:
                records.append(record)
    if not records:
        return None
    return Done(act=Act(act=act, words=words, steps=tuple(steps)), records=tuple(records))


def _apply(
    writer: Writer, inspection: OpenInspection, step: Step, person: str, act: str
) -> Record | None:
    own = [record.id for record in inspection.own_live(step.ref.hole, step.ref.end, person)]
    boiler = inspection.boiler.boiler
    if step.after is None:
        if not own:
            return None
        return writer.append(
            "withdraw", {"why": "taken back"}, boiler=boiler, by=person, supersedes=own
        )
    body = {**_slot(inspection, step.ref), **step.after, "act": act}
    return writer.append("observation", body, boiler=boiler, by=person, supersedes=own)


def _slot(inspection: OpenInspection, ref: EndRef) -> dict[str, Any]:
    return {
        "inspection": inspection.facts.inspection,
        "hole": ref.hole,
        "tube": ref.tube,
        "end": str(ref.end),
        "face": ref.face,
        "how": str(How.SEEN),
    }


def _content(body: Mapping[str, Any]) -> Mapping[str, Any]:
    stated: Mapping[str, Any] = normalised({name: body[name] for name in _CONTENT})
    return stated
