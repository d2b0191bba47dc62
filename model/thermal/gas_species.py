"""The four gases of a flue gas: molar mass, heat capacity and enthalpy as ideal gases.

Not here: viscosity and conductivity (``gas_transport``), and mixtures (``flue_gas``).
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

GAS_CONSTANT_J_PER_MOL_K: Final = 8.31446261815324
"""Exact since 2019 (SI, product of two defining constants)."""

CARBON_G_PER_MOL: Final = 12.0107
HYDROGEN_G_PER_MOL: Final = 1.00794
OXYGEN_G_PER_MOL: Final = 15.9994
NITROGEN_G_PER_MOL: Final = 14.0067
"""Atomic masses as in the data below, so that burning conserves mass to the last digit."""

RANGE_BREAK_K: Final = 1000.0
LOWEST_ENTHALPY_K: Final = 200.0
HIGHEST_ENTHALPY_K: Final = 6000.0

NASA9_SOURCE: Final = (
    "McBride, Zehe and Gordon, NASA/TP-2002-211556, nine-coefficient polynomials, as stored copies "
    "of the file thermo.inp of the program CEA give them"
)


class Gas(StrEnum):
    """The gases of a complete combustion in dry air; argon counts as nitrogen."""

    CO2 = "CO2"
    H2O = "H2O"
    O2 = "O2"
    N2 = "N2"


@dataclass(frozen=True, slots=True, kw_only=True)
class Nasa9:
    """Coefficients a1 to a7 and b1 below and above 1000 K; see ``heat_capacity_over_r``."""

    below: tuple[float, ...]
    above: tuple[float, ...]

    def at(self, temperature_k: float) -> tuple[float, ...]:
        """The coefficients of the range that a temperature [K] lies in."""
        return self.below if temperature_k <= RANGE_BREAK_K else self.above


MOLAR_MASS_G_PER_MOL: Final = {
    Gas.CO2: CARBON_G_PER_MOL + 2.0 * OXYGEN_G_PER_MOL,
    Gas.H2O: 2.0 * HYDROGEN_G_PER_MOL + OXYGEN_G_PER_MOL,
    Gas.O2: 2.0 * OXYGEN_G_PER_MOL,
    Gas.N2: 2.0 * NITROGEN_G_PER_MOL,
}

# fmt: off
NASA9: Final = {
    Gas.CO2: Nasa9(
        below=(4.943650540e4, -6.264116010e2, 5.301725240, 2.503813816e-3,
               -2.127308728e-7, -7.689988780e-10, 2.849677801e-13, -4.528198460e4),
        above=(1.176962419e5, -1.788791477e3, 8.291523190, -9.223156780e-5,
               4.863676880e-9, -1.891053312e-12, 6.330036590e-16, -3.908350590e4),
    ),
    Gas.H2O: Nasa9(
        below=(-3.947960830e4, 5.755731020e2, 9.317826530e-1, 7.222712860e-3,
               -7.342557370e-6, 4.955043490e-9, -1.336933246e-12, -3.303974310e4),
        above=(1.034972096e6, -2.412698562e3, 4.646110780, 2.291998307e-3,
               -6.836830480e-7, 9.426468930e-11, -4.822380530e-15, -1.384286509e4),
    ),
    Gas.O2: Nasa9(
        below=(-3.425563420e4, 4.847000970e2, 1.119010961, 4.293889240e-3,
               -6.836300520e-7, -2.023372700e-9, 1.039040018e-12, -3.391454870e3),
        above=(-1.037939022e6, 2.344830282e3, 1.819732036, 1.267847582e-3,
               -2.188067988e-7, 2.053719572e-11, -8.193467050e-16, -1.689010929e4),
    ),
    Gas.N2: Nasa9(
        below=(2.210371497e4, -3.818461820e2, 6.082738360, -8.530914410e-3,
               1.384646189e-5, -9.625793620e-9, 2.519705809e-12, 7.108460860e2),
        above=(5.877124060e5, -2.239249073e3, 6.066949220, -6.139685500e-4,
               1.491806679e-7, -1.923105485e-11, 1.061954386e-15, 1.283210415e4),
    ),
}
# fmt: on


def heat_capacity_over_r(coefficients: tuple[float, ...], temperature_k: float) -> float:
    """Molar heat capacity at constant pressure over the gas constant, by NASA's polynomial.

    Source: ``NASA9_SOURCE``.

    Scope: an ideal gas, or a mixture of ideal gases when its coefficients are the means of its
    gases' by mole fraction, because the polynomial is linear in them.

    Equation: cp/R = a1/T^2 + a2/T + a3 + a4 T + a5 T^2 + a6 T^3 + a7 T^4.

    Parameters: ``coefficients`` a1 to a7 and b1 of the range that T lies in; ``temperature_k``
    T [K].

    Returns: cp/R [-].

    Raises: nothing; the polynomials are meant for 200 to 6000 K, and callers check their own range.

    >>> round(heat_capacity_over_r(NASA9[Gas.N2].below, 300.0), 2)
    3.5
    """
    a1, a2, a3, a4, a5, a6, a7, _ = coefficients
    t = temperature_k
    return (a1 / t + a2) / t + a3 + t * (a4 + t * (a5 + t * (a6 + t * a7)))


def enthalpy_over_r(coefficients: tuple[float, ...], temperature_k: float) -> float:
    """Molar enthalpy over the gas constant [K], the elements at 298.15 K being 0, as NASA has it.

    Source: ``NASA9_SOURCE``.

    Scope: as ``heat_capacity_over_r``, whose integral it is.

    Equation: H/R = -a1/T + a2 ln T + a3 T + a4 T^2/2 + a5 T^3/3 + a6 T^4/4 + a7 T^5/5 + b1.

    Parameters: ``coefficients`` a1 to a7 and b1; ``temperature_k`` T [K].

    Returns: H/R [K].

    Raises: nothing, as above.

    >>> abs(enthalpy_over_r(NASA9[Gas.N2].below, 298.15)) < 0.01
    True
    """
    a1, a2, a3, a4, a5, a6, a7, b1 = coefficients
    t = temperature_k
    series = t * (a3 + t * (a4 / 2.0 + t * (a5 / 3.0 + t * (a6 / 4.0 + t * a7 / 5.0))))
    return series - a1 / t + a2 * math.log(t) + b1
