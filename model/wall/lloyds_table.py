"""The wall of a new fire tube by a classification society's printed table, as data.

Not here: the other rule (``new_tube_rules``). The table is for new tubes, with margin built in: as
a retirement wall it would reject sound tubes.
"""

from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from model.errors import OutOfRange

LLOYDS_SOURCE: Final = (
    "Lloyd's Register Naval Ship Rules Vol 2 Pt 8 Ch 1 s.12 Table 1.12.1, plain tubes under "
    "external pressure, imorules.com/NSR_V2_PT8_CH1_12.html"
)

LLOYDS_OD_MM: Final = (38.0, 44.5, 51.0, 57.0, 63.5, 70.0, 76.0, 82.5, 89.0, 95.0, 102.0)

LLOYDS_PRESSURE_MPA: Final[dict[float, tuple[float | None, ...]]] = {
    2.95: (1.48, 1.24, 1.07, 0.96, 0.86, 0.76, None, None, None, None, None),
    3.25: (2.03, 1.69, 1.48, 1.31, 1.21, 1.10, 0.96, 0.89, 0.82, 0.76, 0.69),
    3.66: (2.66, 2.28, 2.07, 1.79, 1.59, 1.48, 1.31, 1.24, 1.14, 1.03, 0.96),
    4.06: (None, 2.93, 2.55, 2.28, 2.07, 1.89, 1.73, 1.59, 1.48, 1.37, 1.27),
    4.47: (None, None, None, 2.76, 2.48, 2.28, 2.07, 1.93, 1.79, 1.66, 1.59),
    # The stored page prints this row ten times as large (24,1 22,1 ...): a slip of the decimal.
    4.88: (None, None, None, None, None, None, 2.41, 2.21, 2.07, 1.93, 1.79),
    5.38: (None, None, None, None, None, None, None, 2.62, 2.41, 2.28, 2.14),
    5.89: (None, None, None, None, None, None, None, None, None, 2.69, 2.52),
}
"""Design pressure [MPa] by nominal wall [mm], in the order of ``LLOYDS_OD_MM``; None is blank.

Source: ``LLOYDS_SOURCE``.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class LloydsWall:
    """What the table says. ``wall_mm`` is None where it only says "not above ``at_most_mm``"."""

    wall_mm: float | None
    at_most_mm: float | None
    is_interpolated: bool


def lloyds_wall(*, od_mm: float, pressure_mpa: float) -> LloydsWall:
    """Nominal wall of a new plain fire tube by the table.

    Source: ``LLOYDS_SOURCE``.

    Scope: plain tubes under outside pressure, 38 to 102 mm, new.

    Equation: none; the printed rows. Between printed sizes pressures are linear in the diameter,
    and then the wall is linear in pressure.

    Parameters: ``od_mm`` D, outside diameter [mm]; ``pressure_mpa`` P, design pressure [MPa gauge].

    Returns: ``LloydsWall`` [mm]. Below the pressure of the thinnest printed row the wall is None
    and ``at_most_mm`` that row's: the table does not say how much thinner it may be.

    Raises: OutOfRange for a diameter beside the table, or a pressure above its last row.

    Notes: interpolation is ours; the table prints single sizes.

    >>> lloyds_wall(od_mm=51.0, pressure_mpa=1.48).wall_mm
    3.25
    >>> lloyds_wall(od_mm=50.8, pressure_mpa=1.0).at_most_mm
    2.95
    """
    if not pressure_mpa > 0.0:
        raise OutOfRange("pressure_mpa", pressure_mpa, "above 0")
    column = _column(od_mm)
    (thinnest_mm, lowest_mpa), (_, highest_mpa) = column[0], column[-1]
    if pressure_mpa > highest_mpa:
        limit = (
            f"at most {highest_mpa:.6g}, where the Lloyd's table ends for a tube of {od_mm:g} mm"
        )
        raise OutOfRange("pressure_mpa", pressure_mpa, limit)
    if pressure_mpa < lowest_mpa:
        return LloydsWall(wall_mm=None, at_most_mm=thinnest_mm, is_interpolated=False)
    wall_mm = next((wall for wall, row_mpa in column if row_mpa == pressure_mpa), None)
    if wall_mm is None:
        wall_mm = _between(column, pressure_mpa)
        return LloydsWall(wall_mm=wall_mm, at_most_mm=None, is_interpolated=True)
    return LloydsWall(wall_mm=wall_mm, at_most_mm=None, is_interpolated=od_mm not in LLOYDS_OD_MM)


def lloyds_pressure_mpa(*, od_mm: float, wall_mm: float) -> float:
    """Design pressure of a new tube by the table: the inverse of ``lloyds_wall``.

    Source, scope and interpolation as there. Returns: pressure [MPa gauge].

    Raises: OutOfRange for a diameter or a wall beside the printed rows.

    >>> lloyds_pressure_mpa(od_mm=51.0, wall_mm=2.95)
    1.07
    """
    column = _column(od_mm)
    (thinnest_mm, lowest_mpa), (thickest_mm, _) = column[0], column[-1]
    if not thinnest_mm <= wall_mm <= thickest_mm:
        limit = f"{thinnest_mm:g} to {thickest_mm:g}, the rows of the Lloyd's table at {od_mm:g} mm"
        raise OutOfRange("wall_mm", wall_mm, limit)
    for (wall_0, mpa_0), (wall_1, mpa_1) in pairwise(column):
        if wall_0 < wall_mm <= wall_1:
            return mpa_0 + (mpa_1 - mpa_0) * (wall_mm - wall_0) / (wall_1 - wall_0)
    return lowest_mpa


def _column(od_mm: float) -> list[tuple[float, float]]:
    """Wall and pressure of the rows that are printed at a diameter, or on both sides of it."""
    smallest_mm, largest_mm = LLOYDS_OD_MM[0], LLOYDS_OD_MM[-1]
    if not smallest_mm <= od_mm <= largest_mm:
        limit = f"{smallest_mm:g} to {largest_mm:g} for the Lloyd's table"
        raise OutOfRange("od_mm", od_mm, limit)
    right = next(index for index, size_mm in enumerate(LLOYDS_OD_MM) if size_mm >= od_mm)
    left = right if LLOYDS_OD_MM[right] == od_mm else right - 1
    share = 0.0
    if left != right:
        share = (od_mm - LLOYDS_OD_MM[left]) / (LLOYDS_OD_MM[right] - LLOYDS_OD_MM[left])
    column: list[tuple[float, float]] = []
    for wall_mm, pressures in LLOYDS_PRESSURE_MPA.items():
        left_mpa, right_mpa = pressures[left], pressures[right]
        if left_mpa is not None and right_mpa is not None:
            column.append((wall_mm, left_mpa + share * (right_mpa - left_mpa)))
    return column


def _between(column: list[tuple[float, float]], pressure_mpa: float) -> float:
    """The wall, linear in pressure between the two rows that enclose it."""
    for (wall_0, mpa_0), (wall_1, mpa_1) in pairwise(column):
        if mpa_0 < pressure_mpa < mpa_1:
            return wall_0 + (wall_1 - wall_0) * (pressure_mpa - mpa_0) / (mpa_1 - mpa_0)
    raise AssertionError("the caller looks only between the first and the last row")
