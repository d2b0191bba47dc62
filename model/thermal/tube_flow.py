"""Friction and heat transfer of a gas that flows through a plain round tube, at one place.

Not here: retarders and ribbed tubes, which these laws do not describe; gas radiation
(``gas_radiation``); and the march along the tube (``tube_pass``).
"""

import math
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

LAMINAR_BELOW: Final = 2300.0
TURBULENT_FROM: Final = 3000.0
HIGHEST_REYNOLDS: Final = 5e6
HIGHEST_RELATIVE_ROUGHNESS: Final = 0.05

_LAMINAR_NUSSELT = 3.66
_LN_10 = math.log(10.0)


class Regime(StrEnum):
    """How the gas flows."""

    LAMINAR = "laminar"
    TRANSITION = "transition"
    TURBULENT = "turbulent"


def regime(reynolds: float) -> Regime:
    """Laminar below 2300, turbulent from 3000, transition between."""
    if reynolds < LAMINAR_BELOW:
        return Regime.LAMINAR
    return Regime.TURBULENT if reynolds >= TURBULENT_FROM else Regime.TRANSITION


@dataclass(frozen=True, slots=True, kw_only=True)
class TubeShape:
    """What the laws of one tube depend on beside the gas."""

    bore_m: float
    length_m: float
    roughness_m: float


def turbulent_friction_factor(reynolds: float, relative_roughness: float = 0.0) -> float:
    """Darcy friction factor of turbulent flow, by Colebrook's equation.

    Source: Colebrook (1939), from memory, not checked against the document; judged by the package
    ``fluids`` 1.3.1. With no roughness it is Prandtl's law of smooth tubes.

    Scope: how much pressure a gas loses along a tube.

    Equation: 1/sqrt(f) = -2 log10(e/3.7 + 2.51/(Re sqrt(f))).

    Parameters: ``reynolds`` Re [-]; ``relative_roughness`` e, roughness over bore [-].

    Returns: f [-].

    Raises: nothing; ``tube_pass`` checks 0 <= e <= 0.05 and Re <= 5e6.

    >>> round(turbulent_friction_factor(9911.0), 5)
    0.03096
    """
    log10 = math.log10
    rough, smooth = relative_roughness / 3.7, 2.51 / reynolds
    twice_smooth = 2.0 * smooth
    # 1/sqrt(f) as Haaland's explicit formula gives it; then Newton's method to the last digits.
    x = -1.8 * log10(6.9 / reynolds + math.pow(rough, 1.11))
    for _ in range(4):
        inside = rough + smooth * x
        miss = x + 2.0 * log10(inside)
        x -= miss / (1.0 + twice_smooth / (_LN_10 * inside))
        if abs(miss) < 1e-12 * x:
            break
    return 1.0 / (x * x)


def friction_factor(reynolds: float, relative_roughness: float = 0.0) -> float:
    """Darcy friction factor at any Reynolds number.

    Source: 64/Re (Hagen and Poiseuille) and ``turbulent_friction_factor``.

    Scope: as there, also for slow flow at part load.

    Equation: 64/Re below 2300; Colebrook from 3000; a straight line in Re between.

    Parameters: ``reynolds`` Re [-]; ``relative_roughness`` e [-].

    Returns: f [-].

    Raises: nothing, as there.

    Notes: the line between 2300 and 3000 is ours; the truth there depends on the inlet.

    >>> friction_factor(1000.0)
    0.064
    """
    if reynolds < LAMINAR_BELOW:
        return 64.0 / reynolds
    if reynolds >= TURBULENT_FROM:
        return turbulent_friction_factor(reynolds, relative_roughness)
    share = _share_turbulent(reynolds)
    turbulent = turbulent_friction_factor(TURBULENT_FROM, relative_roughness)
    return (1.0 - share) * 64.0 / LAMINAR_BELOW + share * turbulent


def gnielinski_nusselt(reynolds: float, prandtl: float) -> float:
    """Nusselt number of turbulent flow in a long smooth tube.

    Source: Gnielinski, Int. Chem. Eng. 16 (1976) 359, as the package ``ht`` 1.2.0 gives it (there
    for 2300 <= Re <= 5e6).

    Scope: heat from gas to a tube's wall; near Re 10,000 it lies about 10 % below the older power
    law of Dittus and Boelter, which boiler flue gas is too slow for.

    Equation: (f/8)(Re - 1000) Pr / (1 + 12.7 sqrt(f/8) (Pr^(2/3) - 1)), f the Darcy factor of a
    smooth tube.

    Parameters: ``reynolds`` Re, ``prandtl`` Pr at bulk temperature [-].

    Returns: Nu [-].

    Raises: nothing; callers use it from Re 3000 to 5e6.

    >>> round(gnielinski_nusselt(9911.0, 0.755), 1)
    30.1
    """
    eighth = turbulent_friction_factor(reynolds) / 8.0
    below = 1.0 + 12.7 * math.sqrt(eighth) * (math.pow(prandtl, 2.0 / 3.0) - 1.0)
    return eighth * (reynolds - 1000.0) * prandtl / below


def laminar_nusselt(reynolds: float, prandtl: float, bore_over_length: float) -> float:
    """Mean Nusselt number of laminar flow in a tube with a wall of one temperature.

    Source: VDI Heat Atlas, chapter on flow through pipes (Gnielinski), from memory, not checked
    against the document; its limit for long tubes, 3.66, is that of the package ``ht``.

    Scope: slow flow at low firing.

    Equation: (3.66^3 + 0.7^3 + (1.615 (Re Pr d/L)^(1/3) - 0.7)^3)^(1/3).

    Parameters: ``reynolds`` Re, ``prandtl`` Pr, ``bore_over_length`` d/L [-].

    Returns: Nu [-].

    Raises: nothing; callers use it up to Re 2300.

    >>> round(laminar_nusselt(1.0, 0.7, 0.001), 2)
    3.66
    """
    entrance = 1.615 * math.pow(reynolds * prandtl * bore_over_length, 1.0 / 3.0) - 0.7
    return math.pow(_LAMINAR_NUSSELT**3 + 0.7**3 + entrance**3, 1.0 / 3.0)


def nusselt(reynolds: float, prandtl: float, bore_over_length: float) -> float:
    """Nusselt number at any Reynolds number, with the help of the entrance.

    Source: ``gnielinski_nusselt`` with the factor 1 + (d/L)^(2/3) of the same author for the
    entrance, and ``laminar_nusselt``.

    Scope: the mean over a tube of this length, used at every place of the march.

    Equation: laminar below Re 2300; Gnielinski x (1 + (d/L)^(2/3)) from 3000; a straight line in
    Re between.

    Parameters: ``reynolds`` Re, ``prandtl`` Pr, ``bore_over_length`` d/L [-].

    Returns: Nu [-].

    Raises: nothing, as there.

    Notes: no correction for the ratio of gas to wall temperature. The line between 2300 and 3000 is
    ours. Between 2300 and about 4100 the number rises faster than Re, so that fewer open tubes
    transfer more heat there; ``plugging_cost`` says so where it may happen.

    >>> round(nusselt(9911.0, 0.755, 0.01), 1)
    31.5
    """
    if reynolds < LAMINAR_BELOW:
        return laminar_nusselt(reynolds, prandtl, bore_over_length)
    entrance = 1.0 + math.pow(bore_over_length, 2.0 / 3.0)
    if reynolds >= TURBULENT_FROM:
        return entrance * gnielinski_nusselt(reynolds, prandtl)
    share = _share_turbulent(reynolds)
    laminar = laminar_nusselt(LAMINAR_BELOW, prandtl, bore_over_length)
    turbulent = entrance * gnielinski_nusselt(TURBULENT_FROM, prandtl)
    return (1.0 - share) * laminar + share * turbulent


def _share_turbulent(reynolds: float) -> float:
    return (reynolds - LAMINAR_BELOW) / (TURBULENT_FROM - LAMINAR_BELOW)
