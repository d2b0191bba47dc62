"""From a folded boiler and one inspection to what the decision knows of it.

Not here: what follows from it (``options``, ``trials``), and how each figure is found
(``weak_tubes``, ``walls_due``, ``leak_risk``).
"""

from collections.abc import Mapping, Sequence
from typing import Any, Final

from model.condition.boiler_facts import BoilerFacts
from model.condition.states import FoldedBoiler, FoldedInspection
from model.condition.stored_figures import (
    MOST_KW,
    stored_figure,
    stored_lead_weeks,
    stored_years,
)
from model.condition.tubes import TubeCondition
from model.decision.by_condition import bad_and_open
from model.decision.from_record.leak_risk import leak_risks
from model.decision.from_record.part_damage import damage_to_judge
from model.decision.from_record.sheet_renewal import sheets_to_renew
from model.decision.from_record.walls_due import walls_due
from model.decision.from_record.weak_tubes import weak_tubes
from model.decision.limits import OUT_OF_SERVICE, LimitResult
from model.decision.prices import prices_of
from model.decision.situation import LeakRisk, PassSituation, Situation
from model.record.fields import last_day
from model.record.words import LeakAt, State
from model.tubesheet.faces import ends_on_sheet
from model.wall.alike_tubes import PivotsOf
from model.wall.below_ahead import BelowAhead, expected_below
from model.wall.governing import InspectionWalls
from model.wall.leak_history import PassLeaks
from model.wall.losses import years_between
from model.wall.trusted_readings import TrustedReading
from model.wall.tube_life import TubeLife

USUAL_INTERVAL_YEARS: Final = 1.0
"""Ours: between planned outages, where nobody states it."""


def situation_of_record(
    boiler: FoldedBoiler,
    inspection: FoldedInspection,
    facts: BoilerFacts,
    tubes: Sequence[TubeCondition],
    *,
    walls: InspectionWalls,
    lives: Mapping[str, TubeLife],
    leaks: Sequence[PassLeaks],
    limits: Sequence[LimitResult],
    trusted: Mapping[str, Sequence[TrustedReading]],
    below: Mapping[int, BelowAhead],
    horizon_years: int,
) -> Situation:
    """The situation as left by an inspection.

    Parameters: ``facts`` with the retirement wall; ``tubes`` all of the boiler; ``walls``,
    ``lives``, ``leaks``, ``limits``, ``trusted`` of this inspection; ``below`` from ``walls_ahead``
    over ``horizon_years``.
    """
    outage, firing = facts.settings.get("outage", {}), facts.settings.get("firing", {})
    interval_years = interval_of(outage)
    years_to_outage = _years_to_outage(outage.get("next"), inspection.facts.date)
    weak = weak_tubes(tubes, walls=walls, lives=lives, interval_years=interval_years)
    risks = leak_risks(leaks, tubes, boiler, inspection, facts, interval_years=interval_years)
    now = {record.id for record in inspection.readings}
    ends = _ends_by_pass(boiler)
    passes: list[PassSituation] = []
    for number in _numbers(tubes):
        of_pass = [each for each in tubes if each.tube.pass_ == number]
        passes.append(
            _pass(
                number,
                of_pass,
                weak=weak,
                lives=lives,
                below=below[number],
                ends=ends.get(number),
                readings=sum(
                    reading.record in now
                    for each in of_pass
                    for reading in trusted.get(each.hole, ())
                ),
                risk=risks[number],
                horizon_years=horizon_years,
            )
        )
    return Situation(
        passes=tuple(passes),
        prices=prices_of(facts.settings.get("costs", {})),
        years_to_outage=years_to_outage,
        interval_years=interval_years,
        tube_lead_weeks=stored_lead_weeks(outage),
        out_of_service_act={
            each.pass_: each.act
            for each in limits
            if each.name == OUT_OF_SERVICE and each.pass_ is not None
        },
        sheets_to_renew=sheets_to_renew(tubes, boiler, inspection, facts),
        passes_of_sheet=_passes_of_sheet(facts, _numbers(tubes)),
        damage=damage_to_judge(boiler, inspection, facts),
        due_before_outage=_due_before_outage(
            passes, lives, interval_years if years_to_outage is None else years_to_outage
        ),
        needed_output_kw=stored_figure(firing.get("needed_output_kw"), most=MOST_KW),
        standby_kw=stored_figure(firing.get("standby_kw"), most=MOST_KW),
        hours_per_year=stored_figure(firing.get("hours_per_year"), most=8784.0),
        load_percent=stored_figure(firing.get("load_percent"), most=150.0),
        why_weak=weak,
    )


def what_risk_lacks(
    facts: BoilerFacts, *, leaks: Sequence[PassLeaks], below: Mapping[int, BelowAhead]
) -> tuple[str, ...]:
    """What the risk of a situation does not know or does not count, in sentences."""
    by_reason: dict[str, list[int]] = {}
    for number, ahead in below.items():
        for reason in _lacks_of_walls(ahead, facts.retirement_mm):
            by_reason.setdefault(reason, []).append(number)
    for each in leaks:
        if each.growth is None:
            reason = f"leaks are counted at a constant rate, whatever the age. {each.why_no_growth}"
            by_reason.setdefault(reason, []).append(each.pass_)
    said = [f"{_passes(numbers)}: {reason}" for reason, numbers in by_reason.items()]
    if facts.retirement_mm is None:
        said.insert(0, "There is no retirement wall, so no tube is counted as coming to it.")
    return tuple(said)


def walls_ahead(
    inspection: FoldedInspection,
    facts: BoilerFacts,
    tubes: Sequence[TubeCondition],
    *,
    trusted: Mapping[str, Sequence[TrustedReading]],
    pivots_of: PivotsOf,
    horizon_years: int,
) -> dict[int, BelowAhead]:
    """By pass, how many unmeasured tubes are below the retirement wall in each coming year;
    ``pivots_of`` as the forecasts of the report take them."""
    return {
        number: expected_below(
            [each for each in tubes if each.tube.pass_ == number],
            inspection,
            trusted,
            facts,
            years=horizon_years,
            pivots_of=pivots_of,
        )
        for number in _numbers(tubes)
    }


def interval_of(outage: Mapping[str, Any]) -> float:
    """Years between planned outages, ``[outage] interval_years``; one where nobody states it."""
    return stored_years(outage, "interval_years") or USUAL_INTERVAL_YEARS


def _lacks_of_walls(below: BelowAhead, retirement_mm: float | None) -> list[str]:
    if retirement_mm is None:
        return []
    lacks: list[str] = []
    if below.why_short is not None:
        later = " after the first year" if below.expected else ""
        lacks.append(
            f"of {_unmeasured(len(below.holes))} none is counted as coming to the retirement "
            f"wall{later}. {below.why_short}"
        )
    if below.not_alike:
        lacks.append(
            f"of {_unmeasured(below.not_alike)} with another wall, diameter or age than most none "
            "is counted as coming to the retirement wall."
        )
    return lacks


def _pass(
    number: int,
    tubes: Sequence[TubeCondition],
    *,
    weak: Mapping[str, str],
    lives: Mapping[str, TubeLife],
    below: BelowAhead,
    ends: str | None,
    readings: int,
    risk: LeakRisk,
    horizon_years: int,
) -> PassSituation:
    holes = frozenset(each.hole for each in tubes)
    bad = frozenset(each.hole for each in bad_and_open(tubes))
    behind_plugs = frozenset(each.hole for each in tubes if each.left.state is State.PLUGGED)
    plugged = behind_plugs - bad
    weak_here = holes & weak.keys()
    due = walls_due(
        tubes, weak=weak_here, out=bad | plugged, lives=lives, below=below, years=horizon_years
    )
    return PassSituation(
        pass_=number,
        holes=holes,
        ends=ends,
        plugged=plugged,
        bad=bad,
        behind_bad_plug=behind_plugs & bad,
        open_plugs=frozenset(
            each.hole for each in tubes if each.hole in plugged and each.plugged_one_end == "yes"
        ),
        weak=weak_here,
        joint_ends={
            each.hole: count
            for each in tubes
            if each.hole not in bad and (count := _leaking_joints(each))
        },
        stays=frozenset(each.hole for each in tubes if each.tube.kind == "stay"),
        readings=readings,
        unseen=sum(_is_unknown(each) for each in tubes),
        due_weak=due.weak,
        due_other=due.other,
        risk=risk,
    )


def _leaking_joints(tube: TubeCondition) -> int:
    return sum(
        end.state is State.LEAKING and end.leak_at is LeakAt.JOINT
        for end in tube.ends_left.values()
    )


def _is_unknown(tube: TubeCondition) -> bool:
    """Whether nobody looked, and the work of the outage did not settle what is there either."""
    return tube.is_unseen and not tube.is_renewed and tube.left.state is not State.PLUGGED


def _ends_by_pass(boiler: FoldedBoiler) -> dict[int, str]:
    """How the tube ends of each pass are made, as far as the document can be read."""
    tubes = {} if boiler.document is None else boiler.document.body["tubes"]
    said = tubes.get("ends")
    if not isinstance(said, Mapping):
        return {}
    # A record's keys are text; a whole number becomes one when it is stored.
    return {
        int(number): how.strip()
        for number, how in said.items()
        if str(number).isdecimal() and isinstance(how, str) and how.strip()
    }


def _passes_of_sheet(facts: BoilerFacts, numbers: Sequence[int]) -> dict[str, tuple[int, ...]]:
    return {
        sheet: tuple(
            number
            for number in numbers
            if any(shown.pass_ == number for shown in ends_on_sheet(facts.faces, sheet))
        )
        for sheet in dict.fromkeys(face.sheet for face in facts.faces)
    }


def _due_before_outage(
    passes: Sequence[PassSituation], lives: Mapping[str, TubeLife], years: float
) -> frozenset[str]:
    in_service = (hole for each in passes for hole in each.holes - each.plugged - each.bad)
    return frozenset(
        hole
        for hole in in_service
        if (life := lives.get(hole)) is not None
        if life.remaining_life_years is not None and life.remaining_life_years < years
    )


def _years_to_outage(said: Any, date: str | None) -> float | None:
    if not isinstance(said, str) or not date:
        return None
    try:
        years = years_between(last_day(date), last_day(said))
    except ValueError:
        return None
    return years if years > 0.0 else None


def _numbers(tubes: Sequence[TubeCondition]) -> list[int]:
    return sorted({each.tube.pass_ for each in tubes})


def _unmeasured(count: int) -> str:
    return "1 unmeasured tube" if count == 1 else f"{count} unmeasured tubes"


def _passes(numbers: Sequence[int]) -> str:
    *others, last = map(str, numbers)
    return f"Passes {', '.join(others)} and {last}" if others else f"Pass {last}"
