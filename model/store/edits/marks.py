"""Marks of the touch map: one gesture is one act, one committed transaction, one step to undo.

Undoing a correction restates what stood before; undoing a first mark withdraws it. Nothing is
deleted. Not here: what a gesture means (the tablet's view), folding
(``model.condition.open_inspection``), the order of acts (``acts``).
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from model.condition.open_inspection import OpenInspection
from model.condition.states import LOOKS
from model.record.canonical import normalised
from model.record.kinds import complete_body
from model.record.line import Record
from model.record.words import End, How, State
from model.store.edits.acts import (
    CONTENT,
    Act,
    EndRef,
    Statement,
    Step,
    content_of,
    counterpart,
    why_with_act,
)
from model.store.present import PresentInspection
from model.store.writer import Writer

NO_FILL_OVER = frozenset((State.PLUGGED, State.LEAKING, State.SPLIT))
"""Carried states that a fill-in says nothing about."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """A committed act and its records."""

    act: Act
    records: tuple[Record, ...]
    left_alone: int = 0
    """Steps of an undo or redo that were not taken: the end was stated anew since."""


Planner = Callable[[OpenInspection], Sequence[Step]]
"""Decides the steps inside the transaction, when nobody else can write."""


def commit_steps(present: PresentInspection, plan: Planner, person: str) -> Done | None:
    """Commit one act whose steps are decided once nobody else can write; None without steps."""
    return _commit(present, plan, person, act_id=None, why="taken back")


def undo(present: PresentInspection, act: Act, person: str) -> Done | None:
    """Take an act back, where its statements still stand; None when none does."""
    steps = [Step(ref=s.ref, before=s.after, after=s.before) for s in act.steps]
    return _repeat(present, steps, person, counterpart(act.act), "taken back")


def redo(present: PresentInspection, act: Act, person: str) -> Done | None:
    """Do an undone act again, where what stood before it still stands; None when it does not."""
    return _repeat(present, act.steps, person, act.act, "done again")


def move_marks(
    present: PresentInspection, moves: Sequence[tuple[EndRef, EndRef]], person: str
) -> Done | None:
    """Move a person's own marks from the first ends to the second: one act, in one transaction.

    What is moved is withdrawn where it was and stated where it belongs. An end that is both a
    source and a target keeps only what was moved to it.
    """
    return _commit(
        present,
        lambda inspection: _moving(inspection, moves, person),
        person,
        act_id=None,
        why="moved",
    )


def own_statement(inspection: OpenInspection, ref: EndRef, person: str) -> Statement | None:
    """What the person says of an end now; None when nothing."""
    own = inspection.own_live(ref.hole, ref.end, person)
    return content_of(max(own, key=lambda record: record.id)) if own else None


def stating(
    inspection: OpenInspection, ref: EndRef, stated: Mapping[str, Any], person: str
) -> Step | None:
    """The step that makes the person state this of an end; None when they say just that."""
    before = own_statement(inspection, ref, person)
    after = _stated_over(inspection, ref, before, stated)
    return None if before == after else Step(ref=ref, before=before, after=after)


def can_fill(inspection: OpenInspection, ref: EndRef) -> bool:
    """Whether a fill-in would say something new: nobody looked, nothing graver is carried."""
    found = inspection.end_found(ref.hole, ref.end)
    if found.how in LOOKS or found.how is How.FILLED or found.reason is not None:
        return False
    carried = inspection.carried(ref.hole, ref.end)
    return carried is None or carried.state not in NO_FILL_OVER


def _stated_over(
    inspection: OpenInspection,
    ref: EndRef,
    before: Statement | None,
    stated: Mapping[str, Any],
) -> Statement:
    kept: dict[str, Any] = {}
    if before is not None:
        same_state = "state" not in stated or before["state"] == stated["state"]
        kept = dict(before) if same_state else {n: before[n] for n in ("findings", "note")}
        if stated.get("state") is not None:
            kept.pop("reason", None)
    body = complete_body("observation", {**_slot(inspection, ref), **kept, **stated})
    after: Statement = normalised({name: body[name] for name in CONTENT})
    return after


def _moving(
    inspection: OpenInspection, moves: Sequence[tuple[EndRef, EndRef]], person: str
) -> list[Step]:
    after: dict[tuple[str, End], tuple[EndRef, Statement | None]] = {}
    statements = [(target, own_statement(inspection, source, person)) for source, target in moves]
    for source, _ in moves:
        after[source.hole, source.end] = (source, None)
    for target, statement in statements:
        if statement is not None:
            after[target.hole, target.end] = (target, statement)
    steps = [
        Step(ref=ref, before=own_statement(inspection, ref, person), after=statement)
        for ref, statement in after.values()
    ]
    return [step for step in steps if step.before != step.after]


def _repeat(
    present: PresentInspection, steps: Sequence[Step], person: str, act_id: str, why: str
) -> Done | None:
    return _commit(
        present,
        lambda inspection: [
            step for step in steps if own_statement(inspection, step.ref, person) == step.before
        ],
        person,
        act_id=act_id,
        why=why,
        wanted=len(steps),
    )


def _commit(
    present: PresentInspection,
    plan: Planner,
    person: str,
    *,
    act_id: str | None,
    why: str,
    wanted: int | None = None,
) -> Done | None:
    with present.store.write() as writer:
        present.catch_up()
        steps = tuple(plan(present.open))
        act = Act(act=act_id or writer.mint(), steps=steps)
        records = tuple(_apply(writer, present.open, step, person, act.act, why) for step in steps)
        last = present.last_place()
    present.take(records, last)
    if not records:
        return None
    return Done(
        act=act,
        records=records,
        left_alone=0 if wanted is None else wanted - len(steps),
    )


def _apply(
    writer: Writer, inspection: OpenInspection, step: Step, person: str, act: str, why: str
) -> Record:
    own = [record.id for record in inspection.own_live(step.ref.hole, step.ref.end, person)]
    boiler = inspection.boiler.boiler
    if step.after is None:
        body = {"why": why_with_act(why, act)}
        return writer.append("withdraw", body, boiler=boiler, by=person, supersedes=own)
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
