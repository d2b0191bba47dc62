"""The retirement wall of a boiler: as stated, or by the rule that its owner chose for that.

Not here: the rules themselves (``new_tube_rules``), and which tubes are below (``governing``).
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

from model.condition.boiler_facts import STATED, THICKEST_WALL_MM, BoilerFacts, boiler_facts
from model.condition.states import FoldedBoiler
from model.condition.stored_figures import shown, stored_figure, stored_text
from model.errors import OutOfRange
from model.tubesheet.layout import Tube
from model.wall.new_tube_rules import RULE_SOURCES, NewTubeRule, RequiredWall, required_wall


@dataclass(frozen=True, slots=True, kw_only=True)
class RetirementWall:
    """The wall with its basis, or None and why there is none."""

    wall_mm: float | None
    basis: str | None = None
    why_not: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NewTubeCheck:
    """What one rule asks of new tubes of one size, and whether the tubes as supplied meet it."""

    rule: NewTubeRule
    od_mm: float | None
    supplied_mm: float | None
    """The nominal wall of the tubes."""
    wall_mm: float | None
    """None where the rule gives no number; ``note`` says why."""
    rejects_as_new: bool | None
    """None where it cannot be told."""
    note: str


def facts_with_retirement(boiler: FoldedBoiler) -> BoilerFacts:
    """The boiler's facts with its retirement wall, wherever the wall comes from.

    Everybody who shows or judges walls takes the facts from here, so that all see one wall.
    """
    facts = boiler_facts(boiler)
    return replace(facts, rule_retirement_mm=retirement_wall(facts, boiler.tubes).wall_mm)


def retirement_wall(facts: BoilerFacts, tubes: Iterable[Tube]) -> RetirementWall:
    """The retirement wall, or the reason why there is none.

    A rule is used only where the owner chose it, at the MAWP and the tubes' outside diameter, and
    the owner's allowance is added. A stated wall is taken as stated.
    """
    settings = facts.settings.get("wall", {})
    chosen = facts.retirement_rule
    basis = stored_text(settings.get("basis"))
    if chosen == STATED:
        if facts.stated_retirement_mm is not None:
            return RetirementWall(wall_mm=facts.stated_retirement_mm, basis=basis)
        return _none(_why_not_stated(settings.get("stated_mm")))
    # Tried by equality, as what is stored need not even be a word.
    rule = next((each for each in NewTubeRule if each == chosen), None)
    if rule is None:
        return _none(
            f"The retirement wall was to be taken from {shown(chosen)}, which is no rule known "
            "here: state a wall with its basis in [wall]."
        )
    return _by_rule(facts, tubes, rule, basis)


def check_new_tubes(facts: BoilerFacts, tubes: Iterable[Tube]) -> tuple[NewTubeCheck, ...]:
    """What each rule asks of new tubes at the MAWP, without allowance: for information only."""
    plain = [tube for tube in tubes if tube.kind == "plain"]
    sizes = {(tube.od_mm or facts.od_mm, tube.wall_mm or facts.wall_mm) for tube in plain}
    ordered = sorted(sizes, key=lambda size: (size[0] or 0.0, size[1] or 0.0))
    return tuple(
        _check(rule, od_mm, supplied_mm, facts.mawp_mpa)
        for rule in NewTubeRule
        for od_mm, supplied_mm in ordered or [(facts.od_mm, facts.wall_mm)]
    )


def _none(why_not: str) -> RetirementWall:
    return RetirementWall(wall_mm=None, why_not=why_not)


def _why_not_stated(stored: object) -> str:
    """Why there is no stated wall: nobody stated one, or what is stored is none."""
    so = "so no tube is counted as below it and no remaining life is given."
    if stored is None:
        return f"No retirement wall was stated by the owner's engineer or inspector, {so}"
    return (
        f"The retirement wall stored in [wall] is {shown(stored)}, which cannot be meant: it must "
        f"be above 0 and at most {THICKEST_WALL_MM:g} mm. It counts as not stated, {so} State a "
        "wall with its basis in [wall]."
    )


def _allowance(stored: Any) -> tuple[float, list[str]]:
    """The owner's allowance [mm], and what to say where the stored one cannot be meant."""
    if stored is None:
        return 0.0, []
    found_mm = stored_figure(stored, most=THICKEST_WALL_MM)
    if found_mm is not None:
        return found_mm, []
    return 0.0, [
        f"The allowance stored in [wall] is {shown(stored)}, which cannot be meant: none is added."
    ]


def _by_rule(
    facts: BoilerFacts, tubes: Iterable[Tube], rule: NewTubeRule, basis: str | None
) -> RetirementWall:
    allowance_mm, odd = _allowance(facts.settings.get("wall", {}).get("allowance_mm"))
    begin = f"The retirement wall was to be taken from the rule {rule.value}, but "
    end = " State a wall with its basis in [wall]."
    if facts.mawp_mpa is None:
        return _none(f"{begin}the boiler has no MAWP.{end}")
    plain = {tube.od_mm or facts.od_mm for tube in tubes if tube.kind == "plain"}
    sizes_mm = sorted(size for size in plain or {facts.od_mm} if size is not None)
    if not sizes_mm or None in plain:
        return _none(f"{begin}the outside diameter of the tubes is not known.{end}")
    if len(sizes_mm) > 1:
        said = ", ".join(f"{size:g}" for size in sizes_mm)
        return _none(
            f"{begin}the tubes have several outside diameters ({said} mm), and the rule asks "
            f"another wall of each.{end}"
        )
    try:
        required = required_wall(
            od_mm=sizes_mm[0], pressure_mpa=facts.mawp_mpa, rule=rule, allowance_mm=allowance_mm
        )
    except OutOfRange as refusal:
        return _none(f"{begin}it gives none: {refusal}{end}")
    if required.wall_mm is None:
        return _none(f"{begin}it gives no number. {' '.join(required.notes)}{end}")
    with_allowance = f" plus an allowance of {allowance_mm:g} mm" if allowance_mm else ""
    said_basis = [
        f"Chosen by the owner: the rule {rule.value} for new plain tubes of {sizes_mm[0]:g} mm at "
        f"the MAWP of {facts.mawp_mpa:g} MPa{with_allowance}. Source: {RULE_SOURCES[rule]}.",
        *required.notes,
        *odd,
        *([basis] if basis else []),
    ]
    return RetirementWall(wall_mm=required.wall_mm, basis=" ".join(said_basis))


def _check(
    rule: NewTubeRule, od_mm: float | None, supplied_mm: float | None, mawp_mpa: float | None
) -> NewTubeCheck:
    source = f"Source: {RULE_SOURCES[rule]}."
    required = RequiredWall(wall_mm=None)
    notes: tuple[str, ...]
    rejects: bool | None = None
    if od_mm is None or mawp_mpa is None:
        missing = "the outside diameter" if od_mm is None else "the MAWP"
        notes = (f"Not worked out: {missing} is not known.",)
    else:
        try:
            required = required_wall(od_mm=od_mm, pressure_mpa=mawp_mpa, rule=rule)
            notes = required.notes
            rejects = _is_rejected(supplied_mm, required)
        except OutOfRange as refusal:
            notes = (f"Not worked out: {refusal}",)
    if rejects:
        notes = ("This rule rejects the tubes as new.", *notes)
    return NewTubeCheck(
        rule=rule,
        od_mm=od_mm,
        supplied_mm=supplied_mm,
        wall_mm=required.wall_mm,
        rejects_as_new=rejects,
        note=" ".join((*notes, source)),
    )


def _is_rejected(supplied_mm: float | None, required: RequiredWall) -> bool | None:
    """None where the wall as supplied is not known, or the rule only says "not more than"."""
    if supplied_mm is None:
        return None
    if required.wall_mm is not None:
        return supplied_mm < required.wall_mm - 1e-9
    is_enough = required.at_most_mm is not None and supplied_mm >= required.at_most_mm
    return False if is_enough else None
