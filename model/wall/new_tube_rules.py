"""What wall published rules ask of a new fire tube, which sees its pressure from outside.

Not here: the retirement wall. That is stated by the owner's engineer or inspector; these rules are
for new tubes and differ by a third in wall, so none of them is a limit of wear by itself.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from model.errors import OutOfRange
from model.units import inches_from_mm, mm_from_inches, mpa_from_psi, psi_from_mpa
from model.wall.lloyds_table import LLOYDS_SOURCE, LloydsWall, lloyds_wall

US_HISTORIC_SOURCE: Final = (
    "historic US rule for fire tubes, remembered as par. P-22 of the ASME Power Boiler Code: from "
    "memory, not checked against the document"
)


class NewTubeRule(StrEnum):
    """The rules there are. Neither is a default."""

    US_HISTORIC = "us-historic"
    LLOYDS_TABLE = "lloyds-table"


RULE_SOURCES: Final[Mapping[NewTubeRule, str]] = {
    NewTubeRule.US_HISTORIC: US_HISTORIC_SOURCE,
    NewTubeRule.LLOYDS_TABLE: LLOYDS_SOURCE,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class RequiredWall:
    """The wall that a rule asks of a new tube.

    ``wall_mm`` includes the allowance; None where the rule does not give a number, and then
    ``notes`` say what it does give.
    """

    wall_mm: float | None
    notes: tuple[str, ...] = ()
    at_most_mm: float | None = None
    """Where the rule only says "no more than this", allowance included."""


def required_wall(
    *, od_mm: float, pressure_mpa: float, rule: NewTubeRule, allowance_mm: float = 0.0
) -> RequiredWall:
    """Wall of a new fire tube by a named rule, with an allowance on top.

    Source: ``RULE_SOURCES``.

    Scope: plain tubes with the pressure outside. For information: not a limit of wear.

    Equation: t = t_rule(D, P) + allowance.

    Parameters: ``od_mm`` D [mm]; ``pressure_mpa`` P [MPa gauge]; ``rule``; ``allowance_mm`` [mm].

    Returns: ``RequiredWall`` [mm].

    Raises: OutOfRange unless diameter and pressure are above 0 and the allowance at least 0, where
    the rule's table ends, or where the wall would leave no bore.

    >>> required_wall(od_mm=51.0, pressure_mpa=1.48, rule=NewTubeRule.LLOYDS_TABLE).wall_mm
    3.25
    """
    _require_above_zero("od_mm", od_mm)
    _require_above_zero("pressure_mpa", pressure_mpa)
    if not allowance_mm >= 0.0:
        raise OutOfRange("allowance_mm", allowance_mm, "at least 0")
    if rule is NewTubeRule.US_HISTORIC:
        required = RequiredWall(
            wall_mm=us_historic_wall_mm(od_mm=od_mm, pressure_mpa=pressure_mpa) + allowance_mm
        )
    else:
        table = lloyds_wall(od_mm=od_mm, pressure_mpa=pressure_mpa)
        required = _with_allowance(table, allowance_mm)
    if required.wall_mm is not None and required.wall_mm >= od_mm / 2.0:
        limit = (
            f"small enough to leave a bore: the wall by {rule.value} would be "
            f"{required.wall_mm:.4g} mm, and half the diameter is {od_mm / 2.0:.4g} mm"
        )
        raise OutOfRange("pressure_mpa", pressure_mpa, limit)
    return required


def us_historic_wall_mm(*, od_mm: float, pressure_mpa: float) -> float:
    """Wall of a new fire tube by the historic US rule.

    Source: ``US_HISTORIC_SOURCE``. A gauge ladder in Handbook of Chemical Engineering I (1922) is
    consistent with it.

    Scope: plain steel fire tubes, pressure outside.

    Equation: t = 0.065 + P D / 14,000, with inches and psi.

    Parameters: ``od_mm`` D [mm]; ``pressure_mpa`` P [MPa gauge].

    Returns: wall [mm], without allowance.

    Raises: OutOfRange unless both are above 0.

    >>> round(us_historic_wall_mm(od_mm=50.8, pressure_mpa=1.03421), 4)
    2.1953
    """
    _require_above_zero("od_mm", od_mm)
    _require_above_zero("pressure_mpa", pressure_mpa)
    wall_in = 0.065 + psi_from_mpa(pressure_mpa) * inches_from_mm(od_mm) / 14_000.0
    return mm_from_inches(wall_in)


def us_historic_pressure_mpa(*, od_mm: float, wall_mm: float) -> float:
    """Pressure of a new fire tube by the historic US rule: the inverse of its wall.

    Source and scope as ``us_historic_wall_mm``. Equation: P = 14,000 (t - 0.065) / D.

    Returns: pressure [MPa gauge].

    Raises: OutOfRange unless the wall is above 0.065 in (1.651 mm) and below half the diameter.

    >>> round(us_historic_pressure_mpa(od_mm=50.8, wall_mm=2.413), 3)
    1.448
    """
    _require_above_zero("od_mm", od_mm)
    if not mm_from_inches(0.065) < wall_mm < od_mm / 2.0:
        limit = f"above 1.651 (0.065 in) and below half the diameter, {od_mm / 2.0:g}"
        raise OutOfRange("wall_mm", wall_mm, limit)
    return mpa_from_psi(14_000.0 * (inches_from_mm(wall_mm) - 0.065) / inches_from_mm(od_mm))


def _with_allowance(table: LloydsWall, allowance_mm: float) -> RequiredWall:
    if table.wall_mm is None:
        plus = f" plus the allowance of {allowance_mm:g} mm" if allowance_mm else ""
        note = (
            f"lloyds-table: no more than {table.at_most_mm:g} mm{plus}; the pressure lies below "
            "the thinnest wall that the table prints for this diameter."
        )
        at_most_mm = None if table.at_most_mm is None else table.at_most_mm + allowance_mm
        return RequiredWall(wall_mm=None, notes=(note,), at_most_mm=at_most_mm)
    notes: tuple[str, ...] = ()
    if table.is_interpolated:
        notes = (
            "lloyds-table: interpolated by us between printed sizes; the table itself prints "
            "single walls and diameters.",
        )
    return RequiredWall(wall_mm=table.wall_mm + allowance_mm, notes=notes)


def _require_above_zero(parameter: str, value: float) -> None:
    if not value > 0.0:
        raise OutOfRange(parameter, value, "above 0")
