"""What a gesture states of one or a few ends, decided when nobody else can write.

Not here: many ends at once (``bulk_marks``), committing (``session``).
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from model.condition.open_inspection import OpenInspection
from model.condition.states import CarriedEnd
from model.record.words import How, LeakAt, State
from model.store.edits.acts import EndRef, Step
from model.store.edits.marks import own_statement, stating

Plan = Callable[[OpenInspection], list[Step]]

_BLANK_FINDING: Mapping[str, Any] = {
    "side": "unknown",
    "at_mm": None,
    "clock_h": None,
    "extent_mm": None,
    "thickness_mm": None,
    "grade": "note",
    "note": "",
}


def stating_each(marks: Sequence[tuple[EndRef, Mapping[str, Any]]], person: str) -> Plan:
    """States what is given with each end; an end that says so already is left out."""

    def plan(inspection: OpenInspection) -> list[Step]:
        steps = (stating(inspection, ref, stated, person) for ref, stated in marks)
        return [step for step in steps if step is not None]

    return plan


def confirming(refs: Sequence[EndRef], person: str) -> Plan:
    """States as seen what each end brings from last time, where nothing was said today."""

    def plan(inspection: OpenInspection) -> list[Step]:
        marks = [
            (ref, _confirmed(carried))
            for ref in refs
            if (carried := inspection.carried(ref.hole, ref.end)) is not None
            and inspection.end_found(ref.hole, ref.end).carried
        ]
        return stating_each(marks, person)(inspection)

    return plan


def placing_leaks(
    refs: Sequence[EndRef], leak_at: LeakAt, leak_at_mm: float | None, person: str
) -> Plan:
    """Says of the person's leaking ends where they leak."""
    stated = {"leak_at": str(leak_at), "leak_at_mm": leak_at_mm}

    def plan(inspection: OpenInspection) -> list[Step]:
        leaking = [
            ref
            for ref in refs
            if (own := own_statement(inspection, ref, person)) is not None
            and own["state"] == State.LEAKING
        ]
        return stating_each([(ref, stated) for ref in leaking], person)(inspection)

    return plan


def adding_finding(ref: EndRef, finding: Mapping[str, Any], person: str) -> Plan:
    def plan(inspection: OpenInspection) -> list[Step]:
        findings = [*_own_findings(inspection, ref, person), {**_BLANK_FINDING, **finding}]
        return stating_each([(ref, {"findings": findings})], person)(inspection)

    return plan


def removing_finding(ref: EndRef, place: int, person: str) -> Plan:
    """Takes out the finding at a place among the person's own; none when it is not there."""

    def plan(inspection: OpenInspection) -> list[Step]:
        own = _own_findings(inspection, ref, person)
        if not 0 <= place < len(own):
            return []
        rest = own[:place] + own[place + 1 :]
        return stating_each([(ref, {"findings": rest})], person)(inspection)

    return plan


def noting(ref: EndRef, note: str, person: str) -> Plan:
    """Sets the person's note; an empty one about an end of which they say nothing is none."""

    def plan(inspection: OpenInspection) -> list[Step]:
        if not note.strip() and own_statement(inspection, ref, person) is None:
            return []
        return stating_each([(ref, {"note": note.strip()})], person)(inspection)

    return plan


def _confirmed(carried: CarriedEnd) -> dict[str, Any]:
    stated: dict[str, Any] = {"state": str(carried.state), "how": str(How.SEEN)}
    if carried.state is State.LEAKING and carried.leak_at is not None:
        stated["leak_at"] = str(carried.leak_at)
    if carried.plug is not None:
        stated["plug"] = {
            "type": carried.plug.type,
            "condition": carried.plug.condition,
            "vented": carried.plug.vented,
        }
    return stated


def _own_findings(inspection: OpenInspection, ref: EndRef, person: str) -> list[Any]:
    own = own_statement(inspection, ref, person)
    return [] if own is None else list(own["findings"])
