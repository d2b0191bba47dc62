"""The elastic pressure at which a long tube buckles inward, and where that is no answer.

Not here: the charts of allowable stress, which are licensed and not held. Most boiler tubes yield
long before they buckle: for them this file only refuses.
"""

import math
from dataclasses import dataclass
from typing import Final

from model.errors import OutOfRange

STEEL_MODULUS_MPA: Final = 199_948.0
"""Modulus of elasticity of carbon steel, 29,000,000 psi."""

LEAST_RATIO: Final = 10.0
"""Diameter over wall from which the long-tube factor holds."""

EXTERNAL_PRESSURE_SOURCE: Final = (
    "chart method for outside pressure, remembered as ASME UG-28 and PG-28.3, long tubes, elastic "
    "branch: from memory, not checked against the document"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ElasticPressure:
    """Factor A of the chart method and the pressure that follows from it."""

    factor_a: float
    pressure_mpa: float


def external_factor_a(*, od_mm: float, wall_mm: float) -> float:
    """Factor A of a long tube.

    Source: ``EXTERNAL_PRESSURE_SOURCE``. Equation: A = 1.1 / (D/t)^2.

    Parameters: ``od_mm`` D [mm]; ``wall_mm`` t [mm].

    Returns: A [strain, no unit].

    Raises: OutOfRange unless D/t is at least 10.

    >>> round(external_factor_a(od_mm=50.0, wall_mm=2.5), 9)
    0.00275
    """
    ratio = _ratio(od_mm, wall_mm)
    return 1.1 / ratio**2


def elastic_pressure_mpa(
    *, od_mm: float, wall_mm: float, modulus_mpa: float = STEEL_MODULUS_MPA
) -> float:
    """Pressure of the elastic branch alone, with no look at the yield: for checks by hand.

    Source: ``EXTERNAL_PRESSURE_SOURCE``. Equation: P = 2 A E / (3 D/t).

    Parameters: as ``external_factor_a``; ``modulus_mpa`` E [MPa].

    Returns: pressure [MPa gauge].

    Raises: OutOfRange unless D/t is at least 10 and E above 0.

    Notes: unsafe by itself for boiler tubes; ``external_pressure`` refuses those.

    >>> round(elastic_pressure_mpa(od_mm=50.8, wall_mm=1.27), 3)
    2.291
    """
    if not modulus_mpa > 0.0:
        raise OutOfRange("modulus_mpa", modulus_mpa, "above 0")
    factor_a = external_factor_a(od_mm=od_mm, wall_mm=wall_mm)
    return 2.0 * factor_a * modulus_mpa / (3.0 * _ratio(od_mm, wall_mm))


def external_pressure(
    *, od_mm: float, wall_mm: float, yield_mpa: float, modulus_mpa: float = STEEL_MODULUS_MPA
) -> ElasticPressure:
    """Elastic outside pressure of a long tube, where elastic buckling is what governs.

    Source: ``EXTERNAL_PRESSURE_SOURCE``.

    Scope: long thin tubes. A boiler tube of 2 in by 0.095 in would get 2,279 psi by this equation,
    at nearly three times the yield of tube steel: such tubes are refused.

    Equation: A = 1.1 / (D/t)^2; P = 2 A E / (3 D/t).

    Parameters: ``od_mm`` D [mm]; ``wall_mm`` t [mm]; ``yield_mpa`` yield strength at temperature
    [MPa]; ``modulus_mpa`` E [MPa].

    Returns: ``ElasticPressure``: A [no unit], pressure [MPa gauge].

    Raises: OutOfRange unless D/t is at least 10 and A E at most half the yield.

    Notes: the limit of half the yield is ours: above it the charts leave the elastic line.

    >>> round(external_pressure(od_mm=50.8, wall_mm=0.9, yield_mpa=180.0).pressure_mpa, 3)
    0.815
    """
    if not yield_mpa > 0.0:
        raise OutOfRange("yield_mpa", yield_mpa, "above 0")
    pressure_mpa = elastic_pressure_mpa(od_mm=od_mm, wall_mm=wall_mm, modulus_mpa=modulus_mpa)
    factor_a = external_factor_a(od_mm=od_mm, wall_mm=wall_mm)
    if factor_a * modulus_mpa > yield_mpa / 2.0:
        at_most_mm = od_mm * math.sqrt(yield_mpa / (2.2 * modulus_mpa))
        limit = (
            f"at most {at_most_mm:.3g}: yield governs, the elastic value is not valid "
            f"(A E is {factor_a * modulus_mpa:.4g} MPa, half the yield {yield_mpa / 2.0:.4g} MPa)"
        )
        raise OutOfRange("wall_mm", wall_mm, limit)
    return ElasticPressure(factor_a=factor_a, pressure_mpa=pressure_mpa)


def _ratio(od_mm: float, wall_mm: float) -> float:
    if not od_mm > 0.0:
        raise OutOfRange("od_mm", od_mm, "above 0")
    # A hair of rounding must not refuse a tube of exactly ten.
    if not 0.0 < wall_mm <= od_mm / LEAST_RATIO * (1.0 + 1e-12):
        limit = f"above 0 and at most a tenth of the diameter, {od_mm / LEAST_RATIO:g}"
        raise OutOfRange("wall_mm", wall_mm, limit)
    return od_mm / wall_mm
