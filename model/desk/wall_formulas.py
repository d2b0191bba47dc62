"""Formulas of a single wall on the calculation desk: required wall, outside pressure, life.

Not here: the equations themselves (``model.wall``), and the statistics of many tubes
(``statistics_formulas``).
"""

import datetime

from model.desk.formula import Computed, Formula, Inputs, Parameter
from model.desk.values import day, number, optional_number, text
from model.errors import ModelError, OutOfRange
from model.wall.external_pressure import (
    EXTERNAL_PRESSURE_SOURCE,
    STEEL_MODULUS_MPA,
    external_pressure,
)
from model.wall.life import DAYS_PER_YEAR, LIFE_SOURCE, WallLife, wall_life
from model.wall.new_tube_rules import RULE_SOURCES, NewTubeRule, required_wall


def _required_wall(inputs: Inputs) -> Computed:
    od_mm, pressure_mpa = number(inputs, "od_mm"), number(inputs, "pressure_mpa")
    allowance_mm = number(inputs, "allowance_mm")
    chosen = NewTubeRule(text(inputs, "rule"))
    required = required_wall(
        od_mm=od_mm, pressure_mpa=pressure_mpa, rule=chosen, allowance_mm=allowance_mm
    )
    notes = [f"{chosen.value}: {RULE_SOURCES[chosen]}.", *required.notes]
    others: dict[str, float | None] = {}
    for rule in NewTubeRule:
        if rule is chosen:
            continue
        try:
            other = required_wall(
                od_mm=od_mm, pressure_mpa=pressure_mpa, rule=rule, allowance_mm=allowance_mm
            )
        except OutOfRange as beyond:
            others[rule.value] = None
            notes.append(f"{rule.value} gives no wall here: {beyond}")
            continue
        others[rule.value] = other.wall_mm
        notes += other.notes
    return Computed(result={"wall_mm": required.wall_mm, "other_rules": others}, notes=tuple(notes))


def _external_pressure(inputs: Inputs) -> Computed:
    elastic = external_pressure(
        od_mm=number(inputs, "od_mm"),
        wall_mm=number(inputs, "wall_mm"),
        yield_mpa=number(inputs, "yield_mpa"),
        modulus_mpa=number(inputs, "modulus_mpa"),
    )
    return Computed(result={"factor_a": elastic.factor_a, "pressure_mpa": elastic.pressure_mpa})


def _wall_life(inputs: Inputs) -> Computed:
    first, last = day(inputs, "first"), day(inputs, "last")
    if not first < last:
        raise OutOfRange("last", last, f"after the first reading, {first}")
    previous_mm = optional_number(inputs, "previous_mm")
    life = wall_life(
        first_mm=number(inputs, "first_mm"),
        last_mm=number(inputs, "last_mm"),
        years=_years(first, last),
        retirement_mm=number(inputs, "retirement_mm"),
        previous_mm=previous_mm,
        years_since_previous=_years_since_previous(inputs, first, last),
        legal_years=optional_number(inputs, "legal_years"),
    )
    return Computed(
        result={
            "long_term_mm_per_year": life.long_term_mm_per_year,
            "short_term_mm_per_year": life.short_term_mm_per_year,
            "governing_mm_per_year": life.governing_mm_per_year,
            "remaining_life_years": life.remaining_life_years,
            "thinning_allows_years": life.thinning_allows_years,
        },
        notes=_life_notes(life),
    )


def _years_since_previous(
    inputs: Inputs, first: datetime.date, last: datetime.date
) -> float | None:
    if ("previous_mm" in inputs) != ("previous" in inputs):
        raise ModelError("--previous-mm and --previous belong together: give both or neither.")
    if "previous" not in inputs:
        return None
    previous = day(inputs, "previous")
    if not first <= previous < last:
        limit = f"from the first reading, {first}, and before the last, {last}"
        raise OutOfRange("previous", previous, limit)
    return _years(previous, last)


def _years(earlier: datetime.date, later: datetime.date) -> float:
    return (later - earlier).days / DAYS_PER_YEAR


def _life_notes(life: WallLife) -> tuple[str, ...]:
    notes: list[str] = []
    if life.is_scatter:
        notes.append("A wall cannot grow: a rate below 0 is scatter of the readings, taken as 0.")
    if life.remaining_life_years is None:
        notes.append("Nothing is lost at this rate, so no remaining life is given.")
    if life.remaining_life_years == 0.0:
        notes.append("The wall is at or below the retirement wall already.")
    return tuple(notes)


_OD = Parameter(name="od_mm", symbol="D", unit="mm", help="outside diameter", above=0.0)

REQUIRED_WALL = Formula(
    name="required-wall",
    summary="wall that a published rule asks of a new fire tube",
    source="; ".join(f"{rule.value}: {source}" for rule, source in RULE_SOURCES.items()),
    parameters=(
        _OD,
        Parameter(name="pressure_mpa", symbol="P", unit="MPa", help="gauge pressure", above=0.0),
        Parameter(
            name="rule",
            kind="choice",
            help="the rule; there is no default",
            choices=tuple(rule.value for rule in NewTubeRule),
        ),
        Parameter(
            name="allowance_mm",
            unit="mm",
            help="added to the wall of the rule",
            default=0.0,
            at_least=0.0,
        ),
    ),
    compute=_required_wall,
    results={
        "wall_mm": "with the allowance; none where the table only says 'no more than' (see notes)",
        "other_rules": "the wall by each other rule, with the same allowance",
    },
    notes=(
        "These rules are for new tubes and are no limits of wear: the retirement wall is stated by "
        "the owner's engineer or inspector.",
    ),
)

EXTERNAL_PRESSURE = Formula(
    name="external-pressure",
    summary="elastic buckling pressure of a long thin tube; refused where yield governs",
    source=EXTERNAL_PRESSURE_SOURCE,
    parameters=(
        _OD,
        Parameter(name="wall_mm", symbol="t", unit="mm", help="wall", above=0.0),
        Parameter(name="yield_mpa", unit="MPa", help="yield strength at temperature", above=0.0),
        Parameter(
            name="modulus_mpa",
            symbol="E",
            unit="MPa",
            help="modulus of elasticity",
            default=STEEL_MODULUS_MPA,
            above=0.0,
        ),
    ),
    compute=_external_pressure,
    results={"factor_a": "1.1 / (D/t)^2", "pressure_mpa": "2 A E / (3 D/t), gauge"},
    notes=("Most boiler tubes yield before they buckle, and for those this equation is unsafe.",),
)

WALL_LIFE = Formula(
    name="wall-life",
    summary="loss per year and remaining life of one wall, for thinning only",
    source=LIFE_SOURCE,
    parameters=(
        Parameter(name="first_mm", unit="mm", help="first reading", above=0.0),
        Parameter(name="first", kind="date", help="its date"),
        Parameter(name="last_mm", unit="mm", help="last reading", at_least=0.0),
        Parameter(name="last", kind="date", help="its date"),
        Parameter(
            name="retirement_mm", unit="mm", help="wall at which the tube retires", above=0.0
        ),
        Parameter(
            name="previous_mm",
            unit="mm",
            help="reading before the last, at the same place",
            is_required=False,
            at_least=0.0,
        ),
        Parameter(name="previous", kind="date", help="its date", is_required=False),
        Parameter(
            name="legal_years",
            unit="year",
            help="interval that the law sets",
            is_required=False,
            above=0.0,
        ),
    ),
    compute=_wall_life,
    results={
        "long_term_mm_per_year": "(first - last) / years; below 0 is scatter",
        "short_term_mm_per_year": "(previous - last) / years; none without a previous reading",
        "governing_mm_per_year": "the larger of the two, not below 0",
        "remaining_life_years": "(last - retirement) / governing; none at rate 0, 0 when below",
        "thinning_allows_years": "the least of half the life, 10 years and the legal interval",
    },
    notes=(
        "For thinning only: joints and cracks are other hazards. A year is 365.25 days. The law's "
        "interval stands above these figures.",
    ),
)

FORMULAS = (REQUIRED_WALL, EXTERNAL_PRESSURE, WALL_LIFE)
