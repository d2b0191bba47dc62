"""Tube sheets whose recorded damage calls for renewal.

Not here: which option follows (``options``), damage of tubes and joints (``model.condition``).
"""

from collections.abc import Sequence, Set
from typing import Any, Final

from model.condition.boiler_facts import BoilerFacts
from model.condition.states import FoldedBoiler, FoldedInspection
from model.condition.tubes import TubeCondition
from model.decision.from_record.part_damage import unanswered_damage
from model.record.words import Grade, LeakAt, PartWhat, State
from model.tubesheet.faces import sheet_of

SEVERAL_LIGAMENTS: Final = 3
"""Ours: one cracked ligament is repaired; with several the sheet itself is failing."""


def sheets_to_renew(
    tubes: Sequence[TubeCondition],
    boiler: FoldedBoiler,
    inspection: FoldedInspection,
    facts: BoilerFacts,
) -> tuple[str, ...]:
    """Keys of the sheets with an area graded act, today or before and not mentioned since, or with
    at least three bad ligaments.

    A ligament is bad where a tube end leaks there, seen or carried, or where a ligament is recorded
    with grade act; both at one tube are one ligament. A part that names no sheet counts for none.
    """
    parts = [record.body for record in inspection.others if record.kind == "part"]
    grave = [body for body in parts if body["grade"] == Grade.ACT]
    areas = {_sheet(body) for body in grave if body["part"] == PartWhat.SHEET_AREA}
    before = unanswered_damage(boiler, inspection, facts)
    areas |= {damage.sheet for damage, _ in before if damage.may_decide}
    chosen: list[str] = []
    for sheet in dict.fromkeys(each.key for each in facts.sheets):
        leaking = _leaking_ligaments(tubes, facts, sheet)
        recorded = [
            body
            for body in grave
            if body["part"] == PartWhat.LIGAMENT
            and _sheet(body) == sheet
            and leaking.isdisjoint(map(boiler.hole_class, body["where"].get("holes") or ()))
        ]
        if sheet in areas or len(leaking) + len(recorded) >= SEVERAL_LIGAMENTS:
            chosen.append(sheet)
    return tuple(chosen)


def _sheet(body: Any) -> str | None:
    sheet: str | None = body["where"].get("sheet")
    return sheet


def _leaking_ligaments(tubes: Sequence[TubeCondition], facts: BoilerFacts, sheet: str) -> Set[str]:
    """Holes with an end in this sheet that was found leaking at the ligament."""
    return {
        each.hole
        for each in tubes
        for end, found in each.ends_found.items()
        if found.state is State.LEAKING
        and found.leak_at is LeakAt.LIGAMENT
        and sheet_of(facts.faces, each.tube.pass_, end.value) == sheet
    }
