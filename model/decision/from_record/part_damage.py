"""Damage of what is not a tube that was graded act: no work on tubes mends it.

Not here: sheets whose damage calls for a new sheet (``sheet_renewal``), which option leaves it
(``gates``).
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final

from model.condition.boiler_facts import BoilerFacts
from model.condition.states import FoldedBoiler, FoldedInspection
from model.decision.situation import PartDamage
from model.record.words import Grade, PartWhat

IN_THE_SHEET: Final = frozenset((PartWhat.LIGAMENT, PartWhat.SHEET_AREA))
"""What goes with a tube sheet when that is renewed."""

MAY_DECIDE: Final = frozenset(
    (PartWhat.SHEET_AREA, PartWhat.STAY, PartWhat.FURNACE, PartWhat.CHAMBER)
)
"""Ours: what holds pressure and is no small repair. A ligament, refractory or a handhole is mended
whatever becomes of the tubes; several ligaments of a sheet call for its renewal."""

_NAMES: Final[Mapping[PartWhat, str]] = {
    PartWhat.LIGAMENT: "a ligament",
    PartWhat.SHEET_AREA: "an area of plate",
    PartWhat.STAY: "a stay",
    PartWhat.FURNACE: "the furnace",
    PartWhat.CHAMBER: "the turnaround chamber",
    PartWhat.REFRACTORY: "the refractory",
    PartWhat.WATER_SIDE: "the water side",
    PartWhat.HANDHOLE: "a handhole",
    PartWhat.OTHER: "another part",
}


def grave_damage(inspection: FoldedInspection, facts: BoilerFacts) -> tuple[PartDamage, ...]:
    """Every part that this inspection graded act, in the order of the record's ids."""
    return tuple(_damage(body, facts) for body in _parts(inspection) if body["grade"] == Grade.ACT)


def damage_to_judge(
    boiler: FoldedBoiler, inspection: FoldedInspection, facts: BoilerFacts
) -> tuple[PartDamage, ...]:
    """What must be repaired or accepted before steaming: graded act today, or before and not
    mentioned since, as a leak without a repair goes on counting."""
    before = (
        replace(damage, words=f"{damage.words} ({_since(found)})")
        for damage, found in unanswered_damage(boiler, inspection, facts)
    )
    return (*grave_damage(inspection, facts), *before)


def _since(found: FoldedInspection) -> str:
    when = f"on {found.facts.date}" if found.facts.date else "in an earlier inspection"
    return f"{when}, and not mentioned since"


def unanswered_damage(
    boiler: FoldedBoiler, inspection: FoldedInspection, facts: BoilerFacts
) -> tuple[tuple[PartDamage, FoldedInspection], ...]:
    """What an inspection before graded act, with that inspection, and of which none after it, this
    one included, says anything.

    Any record of the same kind of part on the same sheet is an answer. An inspection that says
    nothing of it, as a leak call does, is none.
    """
    unanswered: dict[tuple[str, str | None], tuple[PartDamage, FoldedInspection]] = {}
    for each in boiler.inspections_up_to(inspection):
        parts = _parts(each)
        for body in parts:
            unanswered.pop(_place(body), None)
        if each is not inspection:
            grave = [body for body in parts if body["grade"] == Grade.ACT]
            unanswered.update({_place(body): (_damage(body, facts), each) for body in grave})
    return tuple(unanswered.values())


def _parts(inspection: FoldedInspection) -> list[Mapping[str, Any]]:
    records = [record for record in inspection.others if record.kind == "part"]
    return [record.body for record in sorted(records, key=lambda record: record.id)]


def _place(body: Mapping[str, Any]) -> tuple[str, str | None]:
    return body["part"], body["where"].get("sheet") or None


def _damage(body: Mapping[str, Any], facts: BoilerFacts) -> PartDamage:
    part, key = _place(body)
    sheet = None if key is None else facts.sheet(key)
    place = "" if key is None else f" of the {key if sheet is None else sheet.name}"
    return PartDamage(
        words=f"{_NAMES[PartWhat(part)]}{place}",
        sheet=key if part in IN_THE_SHEET else None,
        may_decide=part in MAY_DECIDE,
    )
