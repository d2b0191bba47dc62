"""Steam at its boiling point: saturation temperature, and what a boiler horsepower is.

Not here: enthalpies, and the gas side.
"""

import math
from dataclasses import dataclass
from typing import Final

from model.errors import OutOfRange
from model.units import kg_from_lb, kw_from_bhp

ZERO_C_K: Final = 273.15

LOWEST_SATURATION_MPA: Final = 611.213e-6
HIGHEST_SATURATION_MPA: Final = 22.064
"""Absolute pressures between which the equation holds: water at 0 degC to its critical point."""

STEAM_LB_PER_H_PER_BHP: Final = 34.5
"""Steam from and at 212 degF for each boiler horsepower.

Source: engineeringtoolbox.com/boiler-capacity-d_1115.html.
"""

# Coefficients n1 to n10 of region 4 of IAPWS-IF97.
_N1, _N2, _N3, _N4, _N5, _N6, _N7, _N8, _N9, _N10 = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class BoilerOutput:
    """What a number of boiler horsepower is."""

    heat_kw: float
    steam_kg_per_h: float
    """From and at 212 degF (100 degC at standard atmosphere)."""


def saturation_temperature_c(*, pressure_mpa: float, atmosphere_mpa: float = 0.101325) -> float:
    """Temperature at which water boils at a gauge pressure.

    Source: IAPWS, Industrial Formulation 1997 (IF97), region 4, backward equation (Eq. 31), with
    the coefficients as the package ``iapws`` 1.5.5 gives them under that reference.

    Scope: pure water between 0 degC and the critical point; boiler water boils a little hotter.

    Equation: with b = p^0.25, E = b^2 + n3 b + n6, F = n1 b^2 + n4 b + n7,
    G = n2 b^2 + n5 b + n8 and D = 2 G / (-F - sqrt(F^2 - 4 E G)),
    T = (n10 + D - sqrt((n10 + D)^2 - 4 (n9 + n10 D))) / 2.

    Parameters: ``pressure_mpa`` gauge pressure [MPa]; ``atmosphere_mpa`` the pressure of the
    surrounding air [MPa absolute]. p is their sum.

    Returns: temperature [degC].

    Raises: OutOfRange unless the atmosphere is above 0 and the absolute pressure lies between
    0.000611213 and 22.064 MPa.

    Notes: the equation is in K and absolute pressure; only the conversion is ours.

    >>> round(saturation_temperature_c(pressure_mpa=0.0), 2)
    99.97
    """
    if not atmosphere_mpa > 0.0:
        raise OutOfRange("atmosphere_mpa", atmosphere_mpa, "above 0")
    absolute_mpa = pressure_mpa + atmosphere_mpa
    if not LOWEST_SATURATION_MPA <= absolute_mpa <= HIGHEST_SATURATION_MPA:
        low_mpa = LOWEST_SATURATION_MPA - atmosphere_mpa
        high_mpa = HIGHEST_SATURATION_MPA - atmosphere_mpa
        limit = (
            f"{low_mpa:.9g} to {high_mpa:.9g} MPa gauge (0 degC to the critical point, "
            f"over an atmosphere of {atmosphere_mpa:g} MPa)"
        )
        raise OutOfRange("pressure_mpa", pressure_mpa, limit)
    return saturation_temperature_k(absolute_mpa) - ZERO_C_K


def saturation_temperature_k(absolute_mpa: float) -> float:
    """The backward equation itself, unchecked: T [K] at an absolute pressure [MPa].

    Source, equation and range as in ``saturation_temperature_c``.

    >>> round(saturation_temperature_k(10.0), 6)
    584.149488
    """
    b = math.sqrt(math.sqrt(absolute_mpa))
    e = b * b + _N3 * b + _N6
    f = _N1 * b * b + _N4 * b + _N7
    g = _N2 * b * b + _N5 * b + _N8
    d = 2.0 * g / (-f - math.sqrt(f * f - 4.0 * e * g))
    return (_N10 + d - math.sqrt((_N10 + d) ** 2 - 4.0 * (_N9 + _N10 * d))) / 2.0


def boiler_output(output_bhp: float) -> BoilerOutput:
    """Heat and steam of a number of boiler horsepower.

    Source: engineeringtoolbox.com/boiler-capacity-d_1115.html: 33,475 Btu/h and 34.5 lb/h each.

    Scope: the trade's unit of a boiler's size; the steam is from and at 212 degF, so a boiler fed
    with colder water makes less.

    Equation: heat = 33,475 Btu/h x bhp; steam = 34.5 lb/h x bhp.

    Parameters: ``output_bhp`` boiler horsepower [bhp].

    Returns: ``BoilerOutput`` in [kW] and [kg/h].

    Raises: OutOfRange unless above 0.

    Notes: other published roundings of the heat run from 33,472 to 33,479 Btu/h.

    >>> round(boiler_output(100.0).steam_kg_per_h, 1)
    1564.9
    """
    if not output_bhp > 0.0:
        raise OutOfRange("output_bhp", output_bhp, "above 0")
    return BoilerOutput(
        heat_kw=kw_from_bhp(output_bhp),
        steam_kg_per_h=kg_from_lb(STEAM_LB_PER_H_PER_BHP * output_bhp),
    )
