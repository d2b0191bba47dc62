"""Marks of many ends at once: a drag along a row or a called range, filling the rest, no entry.

Nobody looked at each of these ends by itself, so what somebody saw or what is carried stands.
Not here: what must stand (``guard``), committing (``session``).
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fieldapp.view.guard import held_at, is_said_singly
from fieldapp.view.mark_words import say_count, say_place, say_word
from model.condition.open_inspection import OpenInspection
from model.condition.states import LOOKS
from model.record.words import How, Reason, State
from model.store.edits.acts import EndRef, Step
from model.store.edits.marks import can_fill, own_statement, stating

FILLABLE = frozenset((State.SOUND, State.THINNED))
"""A leak, a split and a plug are marked where they are seen."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FillPlan:
    """What filling the rest would do, for the question before it."""

    fills: tuple[EndRef, ...]
    looked_at: int
    filled_already: int
    with_reason: int
    """Said to be not inspected, with a reason."""
    carried: int
    """A plug, leak or split is carried."""

    def question(self, state: State) -> str:
        """What the person is asked to confirm."""
        if not self.fills:
            return f"Nothing is left to fill in.{self.left_words()}"
        return (
            f"Fill in {say_count(len(self.fills), 'end')} as {state}? "
            f"They do not count as looked at.{self.left_words()}"
        )

    def left_words(self) -> str:
        """What is left alone and why; empty when nothing is."""
        parts = (
            (self.looked_at, "already looked at"),
            (self.filled_already, "already filled in"),
            (self.with_reason, "said to be not inspected"),
            (self.carried, "with a plug, leak or split carried: look at these"),
        )
        left = [f"{count} {why}" for count, why in parts if count]
        return f" Left alone: {'; '.join(left)}." if left else ""


def plan_fill(inspection: OpenInspection, refs: Sequence[EndRef]) -> FillPlan:
    """Which of the ends would be filled in, and how many not and why."""
    counts = {"looked_at": 0, "filled_already": 0, "with_reason": 0, "carried": 0}
    fills: list[EndRef] = []
    for ref in refs:
        found = inspection.end_found(ref.hole, ref.end)
        if can_fill(inspection, ref):
            fills.append(ref)
        elif found.how in LOOKS:
            counts["looked_at"] += 1
        elif found.how is How.FILLED:
            counts["filled_already"] += 1
        elif found.reason is not None:
            counts["with_reason"] += 1
        else:
            counts["carried"] += 1
    return FillPlan(fills=tuple(fills), **counts)


@dataclass(slots=True)
class RowLeft:
    """What a drag or a range left alone, gathered while its steps are decided."""

    ends: list[tuple[EndRef, str]]

    def words(self, inspection: OpenInspection) -> str:
        if not self.ends:
            return ""
        first = inspection.tube(self.ends[0][0].hole)
        place = self.ends[0][0].tube if first is None else say_place(first)
        more = "" if len(self.ends) == 1 else f" and {len(self.ends) - 1} more"
        return f" Left alone: {place} ({self.ends[0][1]}){more}; tap to change."


def row_steps(
    refs: Sequence[EndRef], stated: Mapping[str, Any], person: str, left: RowLeft
) -> Callable[[OpenInspection], list[Step]]:
    """The planner of a drag or a called range: every end but those that hold what must stand."""
    state = State(stated["state"])

    def plan(inspection: OpenInspection) -> list[Step]:
        left.ends.clear()
        steps: list[Step] = []
        for ref in refs:
            held = held_at(inspection, ref, state, person)
            if held is not None:
                left.ends.append((ref, held.words))
                continue
            said = stated
            if is_said_singly(inspection, ref, state, person):
                said = _missing(own_statement(inspection, ref, person), stated)
            step = stating(inspection, ref, said, person) if said else None
            if step is not None:
                steps.append(step)
        return steps

    return plan


def _missing(own: Mapping[str, Any] | None, stated: Mapping[str, Any]) -> Mapping[str, Any]:
    """Details that the person did not give when they looked at this end by itself."""
    own = own or {}
    return {n: value for n, value in stated.items() if value is not None and own.get(n) is None}


def reason_steps(
    refs: Sequence[EndRef], reason: Reason, person: str
) -> Callable[[OpenInspection], list[Step]]:
    """The planner of "not inspected": of several ends only those that nobody looked at."""
    stated = {"state": None, "reason": str(reason), "how": str(How.SEEN)}

    def plan(inspection: OpenInspection) -> list[Step]:
        chosen = [
            ref
            for ref in refs
            if len(refs) == 1 or not inspection.end_found(ref.hole, ref.end).is_looked_at
        ]
        steps = (stating(inspection, ref, stated, person) for ref in chosen)
        return [step for step in steps if step is not None]

    return plan


def say_reason(reason: Reason) -> str:
    return f"not inspected, {say_word(str(reason))}"
