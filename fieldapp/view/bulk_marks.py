"""Marks of many ends at once: what a drag along a row and filling the rest leave alone, and why.

Nobody looked at each of these ends by itself, so what somebody saw or what is carried stands.
Not here: committing (``session``).
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from fieldapp.view.mark_words import say_carried, say_count, say_place, say_word
from model.condition.open_inspection import OpenInspection
from model.condition.states import LOOKS
from model.record.words import How, Reason, State
from model.store.edits.acts import EndRef, Step
from model.store.edits.marks import NO_FILL_OVER, can_fill, own_statement, stating

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
    """What a drag along a row left alone, gathered while its steps are decided."""

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
    """The planner of a drag: marks every end but those of which more is known than a drag says."""

    def plan(inspection: OpenInspection) -> list[Step]:
        left.ends.clear()
        steps: list[Step] = []
        for ref in refs:
            why = _why_left(inspection, ref, State(stated["state"]), person)
            if why is not None:
                left.ends.append((ref, why))
            elif not _known_better(inspection, ref, stated, person):
                step = stating(inspection, ref, stated, person)
                if step is not None:
                    steps.append(step)
        return steps

    return plan


def _why_left(inspection: OpenInspection, ref: EndRef, state: State, person: str) -> str | None:
    """Why a drag does not change an end; None when it does."""
    own = own_statement(inspection, ref, person)
    if own is not None and own["state"] is not None:
        is_single = own["how"] in (How.SEEN, How.PAPER)
        return f"{own['state']}, {own['how']}" if is_single and own["state"] != state else None
    found = inspection.end_found(ref.hole, ref.end)
    if found.is_looked_at and found.state is not state:
        return f"{found.state}, another's mark"
    carried = inspection.carried(ref.hole, ref.end)
    if not found.is_looked_at and carried is not None and carried.state in NO_FILL_OVER:
        return None if carried.state is state else say_carried(carried)
    return None


def _known_better(
    inspection: OpenInspection, ref: EndRef, stated: Mapping[str, Any], person: str
) -> bool:
    """Whether the person said the same already, looking at this end by itself."""
    own = own_statement(inspection, ref, person)
    return (
        own is not None
        and own["state"] is not None
        and own["state"] == stated["state"]
        and own["how"] in (How.SEEN, How.PAPER)
    )


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
