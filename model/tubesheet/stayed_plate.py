"""Pressure that a flat plate held by stays may carry, and the pitch it may have.

Not here: where tubes are out of service and how wide the open places are (``largest_circles``).
That a plain expanded tube holds a plate as a stay does is not shown by the source: what is built
on this is an engineering flag, never a verdict.
"""

import math
from typing import Final

from model.errors import OutOfRange
from model.units import mm_from_inches

C_SWITCH_MM: Final = mm_from_inches(7.0 / 16.0)
"""Plate thickness up to which the smaller constant holds, 7/16 in = 11.1125 mm."""


def default_c(plate_mm: float) -> float:
    """Constant C for stays fixed through the plate: 2.1 up to 11.1125 mm, 2.2 above.

    Source: PG-46.1 C values as listed at
    powerengineering101.com/how-to-determine-stayed-surface.
    """
    _require_above_zero("plate_mm", plate_mm)
    return 2.1 if plate_mm <= C_SWITCH_MM + 1e-9 else 2.2


def stayed_plate_pressure_mpa(
    *, plate_mm: float, pitch_mm: float, stress_mpa: float, c: float | None = None
) -> float:
    """Pressure a stayed flat plate may carry.

    Source: formula and table in NBIC Part 2 S2.10.4 proposal NB12-1201,
    studylib.net/doc/6759682; C as in ``default_c``.

    Scope: flat plate with stays at a regular pitch, fixed through the plate.

    Equation: P = t^2 S C / p^2.

    Parameters: ``plate_mm`` t [mm]; ``pitch_mm`` p, largest pitch of the stays [mm];
    ``stress_mpa`` S, allowable stress [MPa]; ``c`` C, taken by thickness unless given.

    Returns: pressure [MPa gauge].

    Raises: OutOfRange unless every given value is above 0.

    Notes: the source's table is in inches and psi; the equation keeps its form in any units.

    >>> stayed_plate_pressure_mpa(plate_mm=10.0, pitch_mm=100.0, stress_mpa=100.0)
    2.1
    """
    chosen_c = _checked_c(plate_mm, stress_mpa, c)
    _require_above_zero("pitch_mm", pitch_mm)
    return plate_mm**2 * stress_mpa * chosen_c / pitch_mm**2


def stayed_plate_pitch_mm(
    *, plate_mm: float, pressure_mpa: float, stress_mpa: float, c: float | None = None
) -> float:
    """Largest pitch of the stays at a pressure: the inverse of ``stayed_plate_pressure_mpa``.

    Source, scope, parameters and limits as there. Equation: p = t sqrt(S C / P).

    Returns: pitch [mm].

    >>> round(stayed_plate_pitch_mm(plate_mm=10.0, pressure_mpa=2.1, stress_mpa=100.0), 9)
    100.0
    """
    chosen_c = _checked_c(plate_mm, stress_mpa, c)
    _require_above_zero("pressure_mpa", pressure_mpa)
    return plate_mm * math.sqrt(stress_mpa * chosen_c / pressure_mpa)


def _checked_c(plate_mm: float, stress_mpa: float, c: float | None) -> float:
    _require_above_zero("plate_mm", plate_mm)
    _require_above_zero("stress_mpa", stress_mpa)
    if c is None:
        return default_c(plate_mm)
    _require_above_zero("c", c)
    return c


def _require_above_zero(parameter: str, value: float) -> None:
    if not value > 0.0:
        raise OutOfRange(parameter, value, "above 0")
