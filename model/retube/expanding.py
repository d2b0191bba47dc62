"""How far a tube end is rolled into its hole, as a percentage of its wall.

Not here: a target. Published targets disagree (5 to 10, 7 to 8, 12 to 14 %), so there is no default
percentage anywhere; it is a setting with its source.
"""

from typing import Final

from model.errors import OutOfRange
from model.tubesheet.sizes import bore_mm

EXPANDING_SOURCE: Final = (
    "a tool maker's steps A to G, boilertubeexpanders.com/boiler-tooling; scribd 322626766"
)

# Rounding must not turn a joint that just touches into one that does not.
_TOUCHING_MM = 1e-9


def contact_bore_mm(*, hole_mm: float, od_mm: float, wall_mm: float) -> float:
    """Bore of the tube when it just touches its hole, metal to metal.

    Source: ``EXPANDING_SOURCE``.

    Scope: a plain tube end in a round hole of a tube sheet.

    Equation: bore + (hole - OD), with bore = OD - 2 t; the wall is taken as unchanged so far.

    Parameters: ``hole_mm`` [mm]; ``od_mm`` OD [mm]; ``wall_mm`` t [mm].

    Returns: [mm].

    Raises: OutOfRange unless 0 < t < OD / 2 and the hole is not smaller than the tube.

    >>> round(contact_bore_mm(hole_mm=51.0, od_mm=50.0, wall_mm=2.0), 9)
    47.0
    """
    tube_bore_mm = bore_mm(od_mm=od_mm, wall_mm=wall_mm)
    if not hole_mm >= od_mm:
        raise OutOfRange("hole_mm", hole_mm, f"at least the tube's outside diameter, {od_mm:g}")
    return tube_bore_mm + (hole_mm - od_mm)


def expansion_percent(
    *, hole_mm: float, od_mm: float, wall_mm: float, rolled_bore_mm: float
) -> float:
    """Wall reduction of a rolled tube end, from bores that were measured.

    Source: ``EXPANDING_SOURCE``.

    Scope: as ``contact_bore_mm``; measure each joint, averaged bores hide the loose one.

    Equation: (rolled bore - contact bore) / (2 t) x 100.

    Parameters: as ``contact_bore_mm``; ``rolled_bore_mm`` bore after rolling [mm].

    Returns: [%].

    Raises: OutOfRange for a rolled bore below contact (the joint does not touch) or not below the
    hole (no wall would be left).

    Notes: another definition in use divides by the wall before contact was made; figures of the two
    must not be mixed.

    >>> expansion_percent(hole_mm=51.0, od_mm=50.0, wall_mm=2.0, rolled_bore_mm=47.25)
    6.25
    """
    contact_mm = contact_bore_mm(hole_mm=hole_mm, od_mm=od_mm, wall_mm=wall_mm)
    if not rolled_bore_mm >= contact_mm - _TOUCHING_MM:
        limit = f"at least the contact bore, {contact_mm:.4f}: below it the joint is not in contact"
        raise OutOfRange("rolled_bore_mm", rolled_bore_mm, limit)
    if not rolled_bore_mm < hole_mm:
        limit = f"below the hole, {hole_mm:g}, or no wall would be left"
        raise OutOfRange("rolled_bore_mm", rolled_bore_mm, limit)
    return max(0.0, (rolled_bore_mm - contact_mm) / (2.0 * wall_mm) * 100.0)


def target_bore_mm(*, hole_mm: float, od_mm: float, wall_mm: float, target_percent: float) -> float:
    """Bore to roll to for a wanted wall reduction: the inverse of ``expansion_percent``.

    Source and scope as there. Equation: contact bore + 2 t x percent / 100.

    Parameters: as ``contact_bore_mm``; ``target_percent`` wanted wall reduction [%].

    Returns: [mm].

    Raises: OutOfRange unless the percentage is at least 0 and below 100.

    >>> target_bore_mm(hole_mm=51.0, od_mm=50.0, wall_mm=2.0, target_percent=6.25)
    47.25
    """
    contact_mm = contact_bore_mm(hole_mm=hole_mm, od_mm=od_mm, wall_mm=wall_mm)
    if not 0.0 <= target_percent < 100.0:
        raise OutOfRange("target_percent", target_percent, "at least 0 and below 100")
    return contact_mm + 2.0 * wall_mm * target_percent / 100.0
