"""The metal between two tube holes: how much is left and how much a rule asks for.

Not here: which tubes of a layout stand closest (``lattice``). A thin ligament is a note on a
layout, never a reason to refuse it: the boiler stands as it was built.
"""

from dataclasses import dataclass

from model.errors import OutOfRange
from model.units import inches_from_mm, mm2_from_square_inches, mm_from_inches


@dataclass(frozen=True, slots=True, kw_only=True)
class LigamentRule:
    """What the Indian rule asks for a hole, and the alternative of the same regulation."""

    minimum_mm: float
    alternative_plate_mm: float
    alternative_section_mm2: float


def ligament_efficiency(*, pitch_mm: float, hole_mm: float, holes: int = 1) -> float:
    """Share of the plate that is left between tube holes.

    Source: Indian Boiler Regulations 1950, Reg. 215,
    dipp.gov.in/boiler_rules_updated/reg215.htm, with three worked examples.

    Scope: a line of equal holes; for unequal pitch take the length over which the pattern repeats
    as the pitch, and the number of holes in it.

    Equation: (p - n d) / p.

    Parameters: ``pitch_mm`` p [mm]; ``hole_mm`` d [mm]; ``holes`` n.

    Returns: efficiency, above 0 and below 1.

    Raises: OutOfRange unless pitch and hole are above 0, holes is at least 1, and the holes
    together are narrower than the pitch.

    >>> ligament_efficiency(pitch_mm=80.0, hole_mm=60.0)
    0.25
    """
    _require_above_zero("pitch_mm", pitch_mm)
    _require_above_zero("hole_mm", hole_mm)
    if holes < 1:
        raise OutOfRange("holes", holes, "at least 1")
    if holes * hole_mm >= pitch_mm:
        raise OutOfRange("hole_mm", hole_mm, f"below the pitch over the holes, {pitch_mm / holes}")
    return (pitch_mm - holes * hole_mm) / pitch_mm


def ligament_width_mm(*, pitch_mm: float, hole_mm: float) -> float:
    """Width [mm] of the metal between two neighbouring holes: p - d.

    >>> ligament_width_mm(pitch_mm=80.0, hole_mm=60.0)
    20.0
    """
    _require_above_zero("pitch_mm", pitch_mm)
    _require_above_zero("hole_mm", hole_mm)
    if hole_mm >= pitch_mm:
        raise OutOfRange("hole_mm", hole_mm, f"below the pitch, {pitch_mm}")
    return pitch_mm - hole_mm


def indian_minimum_ligament_mm(hole_mm: float) -> float:
    """Least ligament by the Indian rule.

    Source: Indian Boiler Regulations 1950, Reg. 580,
    dpiit.gov.in/sites/default/files/boiler_rules_updated/reg580.htm.

    Scope: fire-tube tube plates drilled for expanded tubes.

    Equation, in inches: D / 8 + 1/2; so in mm: D / 8 + 12.7.

    Parameters: ``hole_mm`` D, diameter of the hole [mm].

    Returns: least width of the metal [mm].

    Raises: OutOfRange unless the hole is above 0.

    >>> round(indian_minimum_ligament_mm(80.0), 6)
    22.7
    """
    _require_above_zero("hole_mm", hole_mm)
    return hole_mm / 8.0 + mm_from_inches(0.5)


def indian_rule(hole_mm: float) -> LigamentRule:
    """The Indian minimum with its alternative by thickness and section.

    Source: Indian Boiler Regulations 1950, Reg. 580 (as above): "alternatively, the thickness and
    cross-section".

    Scope: as ``indian_minimum_ligament_mm``; both parts of the alternative must hold.

    Equation, D in inches: plate at least 0.125 D + 0.2 in, section of the metal between two holes
    at least 0.17 D + 0.025 in2.

    Parameters: ``hole_mm`` D, diameter of the hole [mm].

    Returns: the three limits [mm, mm, mm2].

    Raises: OutOfRange unless the hole is above 0.

    >>> round(indian_rule(80.0).alternative_plate_mm, 6)
    15.08
    """
    hole_in = inches_from_mm(hole_mm)
    return LigamentRule(
        minimum_mm=indian_minimum_ligament_mm(hole_mm),
        alternative_plate_mm=mm_from_inches(0.125 * hole_in + 0.2),
        alternative_section_mm2=mm2_from_square_inches(0.17 * hole_in + 0.025),
    )


def is_ligament_enough(*, pitch_mm: float, hole_mm: float, plate_mm: float | None = None) -> bool:
    """Whether a ligament meets the Indian rule by its width, or by plate and section.

    Without a plate thickness only the width is judged.

    >>> is_ligament_enough(pitch_mm=100.0, hole_mm=60.0)
    True
    """
    width_mm = ligament_width_mm(pitch_mm=pitch_mm, hole_mm=hole_mm)
    rule = indian_rule(hole_mm)
    if width_mm >= rule.minimum_mm:
        return True
    if plate_mm is None:
        return False
    _require_above_zero("plate_mm", plate_mm)
    section_mm2 = plate_mm * width_mm
    return plate_mm >= rule.alternative_plate_mm and section_mm2 >= rule.alternative_section_mm2


def _require_above_zero(parameter: str, value: float) -> None:
    if not value > 0.0:
        raise OutOfRange(parameter, value, "above 0")
