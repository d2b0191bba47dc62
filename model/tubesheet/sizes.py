"""Tube sizes: the gauge table, and what follows from diameter and wall: area, surface, mass.

Not here: what wall a rule asks for. A gauge number alone is ambiguous (a wall of 0.105 in is no
Birmingham gauge but a sheet-steel 12), so only thicknesses are stored anywhere.
"""

import math
from dataclasses import dataclass
from typing import Final

from model.errors import OutOfRange
from model.units import inches_from_mm, mm_from_inches

BWG_SOURCE: Final = "engineeringtoolbox.com, Birmingham Wire Gauge (BWG)"

BWG_WALL_IN: Final[dict[int, float]] = {
    7: 0.180,
    8: 0.165,
    9: 0.148,
    10: 0.134,
    11: 0.120,
    12: 0.109,
    13: 0.095,
    14: 0.083,
    15: 0.072,
    16: 0.065,
    17: 0.058,
    18: 0.049,
    19: 0.042,
    20: 0.035,
}
"""Wall [in] by Birmingham wire gauge. Source: ``BWG_SOURCE``; Holtzapffel's table agrees."""

# Half of the last printed digit of the table: a wall given in mm to two places still matches.
_SAME_GAUGE_MM = mm_from_inches(0.0005)


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeMatch:
    """The gauge nearest to a wall. ``difference_mm`` is the given wall minus the nearest."""

    bwg: int
    wall_mm: float
    difference_mm: float

    @property
    def is_that_gauge(self) -> bool:
        """Whether the wall is that gauge within the rounding of the table."""
        return abs(self.difference_mm) <= _SAME_GAUGE_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class HandbookSize:
    """A row of the handbook's table of boiler tubes, as printed."""

    od_in: float
    draught_area_in2: float
    surface_ft2_per_ft: float


TUBE_SIZES_SOURCE: Final = "Scientific American Reference Book, Boiler Tubes, chestofbooks.com"
TUBE_SIZES: Final = (
    HandbookSize(od_in=2.0, draught_area_in2=2.573, surface_ft2_per_ft=0.5236),
    HandbookSize(od_in=2.5, draught_area_in2=4.083, surface_ft2_per_ft=0.6545),
    HandbookSize(od_in=3.0, draught_area_in2=6.070, surface_ft2_per_ft=0.7854),
    HandbookSize(od_in=4.0, draught_area_in2=10.93, surface_ft2_per_ft=1.0472),
)
"""Draught area and outside surface by outside diameter. Source: ``TUBE_SIZES_SOURCE``."""


def bwg_wall_mm(bwg: int) -> float:
    """Wall [mm] of a Birmingham gauge from 7 to 20.

    Source: ``BWG_SOURCE``. Raises: OutOfRange for a gauge that the table does not hold.

    >>> round(bwg_wall_mm(13), 3)
    2.413
    """
    if bwg not in BWG_WALL_IN:
        raise OutOfRange("bwg", bwg, f"{min(BWG_WALL_IN)} to {max(BWG_WALL_IN)}")
    return mm_from_inches(BWG_WALL_IN[bwg])


def nearest_bwg(wall_mm: float) -> GaugeMatch:
    """The Birmingham gauge nearest to a wall [mm]; of two as near, the thicker.

    Source: ``BWG_SOURCE``. Raises: OutOfRange for a wall more than a tenth beyond the table.

    >>> nearest_bwg(2.413).bwg
    13
    """
    thinnest, thickest = bwg_wall_mm(max(BWG_WALL_IN)), bwg_wall_mm(min(BWG_WALL_IN))
    if not 0.9 * thinnest <= wall_mm <= 1.1 * thickest:
        limit = f"{0.9 * thinnest:.2f} to {1.1 * thickest:.2f} (gauges 20 to 7)"
        raise OutOfRange("wall_mm", wall_mm, limit)
    bwg = min(BWG_WALL_IN, key=lambda number: (abs(bwg_wall_mm(number) - wall_mm), number))
    nearest_mm = bwg_wall_mm(bwg)
    return GaugeMatch(bwg=bwg, wall_mm=nearest_mm, difference_mm=wall_mm - nearest_mm)


def bore_mm(*, od_mm: float, wall_mm: float) -> float:
    """Inside diameter [mm]: OD - 2 t. Raises: OutOfRange unless 0 < t < OD / 2.

    >>> bore_mm(od_mm=50.0, wall_mm=2.0)
    46.0
    """
    if not od_mm > 0.0:
        raise OutOfRange("od_mm", od_mm, "above 0")
    if not 0.0 < wall_mm < od_mm / 2.0:
        raise OutOfRange("wall_mm", wall_mm, f"above 0 and below half the diameter, {od_mm / 2.0}")
    return od_mm - 2.0 * wall_mm


def draught_area_mm2(*, od_mm: float, wall_mm: float) -> float:
    """Free area for gas in one tube [mm2]: pi/4 (OD - 2 t)^2.

    Checked against the 2 in row of ``TUBE_SIZES`` (wall 0.095 in).

    >>> round(draught_area_mm2(od_mm=50.8, wall_mm=2.413), 1)
    1660.0
    """
    return math.pi / 4.0 * bore_mm(od_mm=od_mm, wall_mm=wall_mm) ** 2


def surface_mm2_per_mm(od_mm: float) -> float:
    """Outside surface of one tube for each mm of its length [mm2/mm]: pi OD.

    In feet it is pi OD / 12 square feet a foot, the form of ``TUBE_SIZES``.
    """
    if not od_mm > 0.0:
        raise OutOfRange("od_mm", od_mm, "above 0")
    return math.pi * od_mm


def wall_in(wall_mm: float) -> float:
    """Wall [in] of a wall [mm], as gauge tables print it."""
    return inches_from_mm(wall_mm)


def tube_mass_kg(
    *, od_mm: float, wall_mm: float, length_mm: float, density_kg_per_m3: float = 7850.0
) -> float:
    """Mass of a plain tube.

    Source: geometry. The trade's form, lb/ft = 10.69 (D - t) t with inches, is the same with a
    density of 7,850 kg/m3 (from memory, not checked against a document).

    Scope: the nominal wall; tubes ordered by minimum wall may weigh a fifth more.

    Equation: m = pi (D - t) t L rho.

    Parameters: ``od_mm`` D [mm]; ``wall_mm`` t [mm]; ``length_mm`` L [mm]; ``density_kg_per_m3``
    rho [kg/m3].

    Returns: mass [kg].

    Raises: OutOfRange unless 0 < t < D / 2, and length and density are above 0.

    >>> round(tube_mass_kg(od_mm=50.8, wall_mm=2.413, length_mm=1000.0), 3)
    2.879
    """
    bore_mm(od_mm=od_mm, wall_mm=wall_mm)
    if not length_mm > 0.0:
        raise OutOfRange("length_mm", length_mm, "above 0")
    if not density_kg_per_m3 > 0.0:
        raise OutOfRange("density_kg_per_m3", density_kg_per_m3, "above 0")
    return math.pi * (od_mm - wall_mm) * wall_mm * length_mm * density_kg_per_m3 * 1e-9
