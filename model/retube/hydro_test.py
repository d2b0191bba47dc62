"""Pressure tests: what each rule asks of one, and what a holding gauge does and does not show.

Not here: records of tests, and a default rule. The rules differ, so the jurisdiction's is named.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Final

from model.errors import OutOfRange
from model.units import c_from_f


class HydroRule(StrEnum):
    """Rules that are held as data."""

    PG_99 = "pg-99"
    NBIC_REPAIR = "nbic-repair"
    PA_CODE_34 = "pa-code-34"
    CFR_46_FIRETUBE = "cfr-46-firetube"
    IBR_379 = "ibr-379"


class HydroCase(StrEnum):
    """Why a boiler is tested, as far as a rule tells cases apart."""

    NEW = "new"
    REPAIRED = "repaired"
    PERIODIC = "periodic"
    EXTENSIVE_REPAIRS = "extensive-repairs"
    LOCOMOTIVE = "locomotive"


@dataclass(frozen=True, slots=True, kw_only=True)
class PressureTestRule:
    """What one rule asks. None where the rule has no such figure."""

    source: str
    factors: Mapping[HydroCase, float | None]
    """Test pressure over the working pressure, by case; None: agreed with the inspector."""
    ceiling_over_test: float | None = None
    ceiling_over_mawp: float | None = None
    water_min_c: float | None = None
    water_max_c: float | None = None
    hold_minutes: float | None = None
    notes: tuple[str, ...] = field(default=())

    @property
    def is_case_needed(self) -> bool:
        """Whether the test pressure depends on the case."""
        return len(set(self.factors.values())) > 1


TEST_RULES: Final[Mapping[HydroRule, PressureTestRule]] = {
    HydroRule.PG_99: PressureTestRule(
        source="remembered as ASME Section I PG-99: from memory, not checked against the document",
        factors={HydroCase.NEW: 1.5},
        ceiling_over_test=1.06,
        water_min_c=c_from_f(70.0),
        water_max_c=c_from_f(120.0),
        notes=(
            "The water is also not to be colder than the air around; the upper limit is for the "
            "metal while it is examined closely, at the working pressure.",
        ),
    ),
    HydroRule.NBIC_REPAIR: PressureTestRule(
        source="remembered as NBIC Part 3, 4.4: from memory, not checked against the document",
        factors={HydroCase.REPAIRED: None},
        ceiling_over_mawp=1.5,
        hold_minutes=10.0,
        notes=(
            "The pressure of a repair test is agreed with the inspector first: as much as shows "
            "that the repair is tight, and no more. 1.5 times the working pressure can itself "
            "open old joints.",
        ),
    ),
    HydroRule.PA_CODE_34: PressureTestRule(
        source="34 Pa. Code 3a.115 (casetext.com)",
        factors={HydroCase.NEW: 1.5, HydroCase.PERIODIC: 1.5, HydroCase.LOCOMOTIVE: 1.25},
        ceiling_over_test=1.06,
        water_min_c=c_from_f(70.0),
        water_max_c=c_from_f(120.0),
        notes=(
            "The test pressure is the most that the rule allows, in the field 1.5 times and for "
            "locomotives 1.25 times the working pressure; a tightness test of an existing boiler "
            "stays at or below the highest setting of its safety valves.",
            "Safety valves are removed or clamped, never held by screwing down the spring.",
        ),
    ),
    HydroRule.CFR_46_FIRETUBE: PressureTestRule(
        source="46 CFR 61.05-5(b) and 61.05-10(c) (govregs.com, casetext.com)",
        factors={HydroCase.PERIODIC: 1.25, HydroCase.EXTENSIVE_REPAIRS: 1.5},
        water_min_c=c_from_f(70.0),
        water_max_c=c_from_f(100.0),
        notes=(
            "Boilers that cannot be entered or examined are tested as after extensive repairs. "
            "Safety valves are gagged.",
        ),
    ),
    HydroRule.IBR_379: PressureTestRule(
        source=(
            "Indian Boiler Regulations 1950, Reg. 379 "
            "(dpiit.gov.in/sites/default/files/boiler_rules_updated/reg379.htm)"
        ),
        factors={HydroCase.NEW: 1.5, HydroCase.PERIODIC: 1.25},
        ceiling_over_test=1.06,
        water_min_c=20.0,
        water_max_c=50.0,
        hold_minutes=30.0,
        notes=(
            "A new boiler whose parts were all tested at the maker's takes 1.25 times; 1.5 times "
            "is for one with parts that were not.",
            "After the hold the pressure is lowered to the working pressure for examination; the "
            "boiler must stand the test without appreciable leakage for at least ten minutes.",
        ),
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class HydroTest:
    """A pressure test by a rule; None where the rule has no figure."""

    test_mpa: float | None
    ceiling_mpa: float | None
    water_min_c: float | None
    water_max_c: float | None
    hold_minutes: float | None
    source: str
    notes: tuple[str, ...]


def hydro_test(*, mawp_mpa: float, rule: HydroRule, case: HydroCase | None = None) -> HydroTest:
    """Pressure, water and hold of a pressure test by a named rule.

    Source: the rule's own, in ``TEST_RULES``.

    Scope: fire-tube boilers, tested with water.

    Equation: test = factor x MAWP; ceiling = 1.06 x test, or by the rule.

    Parameters: ``mawp_mpa`` maximum allowable working pressure [MPa gauge]; ``rule``; ``case``,
    needed where the rule has more than one factor.

    Returns: ``HydroTest`` with [MPa gauge], [degC], [minutes].

    Raises: OutOfRange unless the pressure is above 0, for a case that the rule does not know, and
    for a missing one that it needs.

    >>> test = hydro_test(mawp_mpa=1.0, rule=HydroRule.IBR_379, case=HydroCase.PERIODIC)
    >>> (test.test_mpa, test.hold_minutes)
    (1.25, 30.0)
    """
    if not mawp_mpa > 0.0:
        raise OutOfRange("mawp_mpa", mawp_mpa, "above 0")
    asked = TEST_RULES[rule]
    factor = _factor(rule, asked, case)
    test_mpa = None if factor is None else factor * mawp_mpa
    ceiling_mpa = None
    if asked.ceiling_over_mawp is not None:
        ceiling_mpa = asked.ceiling_over_mawp * mawp_mpa
    elif asked.ceiling_over_test is not None and test_mpa is not None:
        ceiling_mpa = asked.ceiling_over_test * test_mpa
    return HydroTest(
        test_mpa=test_mpa,
        ceiling_mpa=ceiling_mpa,
        water_min_c=asked.water_min_c,
        water_max_c=asked.water_max_c,
        hold_minutes=asked.hold_minutes,
        source=asked.source,
        notes=asked.notes,
    )


def _factor(rule: HydroRule, asked: PressureTestRule, case: HydroCase | None) -> float | None:
    known = " or ".join(asked.factors)
    if case is None:
        if asked.is_case_needed:
            raise OutOfRange("case", "missing", f"{known} for {rule}, whose test pressures differ")
        return next(iter(asked.factors.values()))
    if case not in asked.factors:
        raise OutOfRange("case", case.value, f"{known} for {rule}")
    return asked.factors[case]
