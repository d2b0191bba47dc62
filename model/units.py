"""Conversions between SI inside and the units people use at the edges.

Not here: formatting and choosing units for a user; reading numbers out of text.
"""

from typing import Final

MM_PER_INCH: Final = 25.4
"""Exact: the international inch (yard and pound agreement of 1959)."""

KG_PER_LB: Final = 0.45359237
"""Exact: the international avoirdupois pound (same agreement)."""

STANDARD_GRAVITY_M_PER_S2: Final = 9.80665
"""Exact by definition (CGPM 1901): makes a pound of mass a pound of force."""

MPA_PER_PSI: Final = KG_PER_LB * STANDARD_GRAVITY_M_PER_S2 / MM_PER_INCH**2
"""0.006894757...: one pound of force on one square inch, in N/mm2, from the three above."""

KJ_PER_BTU: Final = 1.05505585262
"""Exact: the International Table British thermal unit (ISO 31-4)."""

BTU_PER_H_PER_BHP: Final = 33_475.0
"""Boiler horsepower as heat. Source: engineeringtoolbox.com/boiler-capacity-d_1115.html.

Other published roundings run from 33,472 to 33,479; they differ by 0.02 % at most.
"""

KW_PER_BHP: Final = BTU_PER_H_PER_BHP * KJ_PER_BTU / 3600.0

MM2_PER_IN2: Final = MM_PER_INCH**2


def mm_from_inches(length_in: float) -> float:
    """Length [mm] of a length [in]."""
    return length_in * MM_PER_INCH


def inches_from_mm(length_mm: float) -> float:
    """Length [in] of a length [mm]."""
    return length_mm / MM_PER_INCH


def mm2_from_square_inches(area_in2: float) -> float:
    """Area [mm2] of an area [in2]."""
    return area_in2 * MM2_PER_IN2


def mpa_from_psi(pressure_psi: float) -> float:
    """Pressure or stress [MPa] of a pressure or stress [psi]; gauge stays gauge."""
    return pressure_psi * MPA_PER_PSI


def psi_from_mpa(pressure_mpa: float) -> float:
    """Pressure or stress [psi] of a pressure or stress [MPa]; gauge stays gauge."""
    return pressure_mpa / MPA_PER_PSI


def c_from_f(temperature_f: float) -> float:
    """Temperature [degC] of a temperature [degF]; for a point on the scale, not a difference."""
    return (temperature_f - 32.0) / 1.8


def f_from_c(temperature_c: float) -> float:
    """Temperature [degF] of a temperature [degC]; for a point on the scale, not a difference."""
    return temperature_c * 1.8 + 32.0


def kw_from_bhp(output_bhp: float) -> float:
    """Heat [kW] of boiler horsepower [bhp]."""
    return output_bhp * KW_PER_BHP


def bhp_from_kw(output_kw: float) -> float:
    """Boiler horsepower [bhp] of heat [kW]."""
    return output_kw / KW_PER_BHP


def kg_from_lb(mass_lb: float) -> float:
    """Mass [kg] of a mass [lb]."""
    return mass_lb * KG_PER_LB


def lb_from_kg(mass_kg: float) -> float:
    """Mass [lb] of a mass [kg]."""
    return mass_kg / KG_PER_LB
