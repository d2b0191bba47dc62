"""Heat that water vapour and carbon dioxide radiate to the wall of a tube.

Not here: luminous flames and soot, which radiate in the furnace, not in a tube.
"""

import math
from dataclasses import dataclass
from typing import Final

from model.thermal.flue_gas import FlueGas

STEFAN_BOLTZMANN_W_PER_M2_K4: Final = 5.670374419e-8
WALL_EMISSIVITY: Final = 0.8
"""Of an oxidised or sooty tube, common practice."""
LOWEST_RADIATING_K: Final = 600.0

GAS_RADIATION_SOURCE: Final = (
    "weighted sum of grey gases: Smith, Shen and Friedman, J. Heat Transfer 104 (1982) 602, as a "
    "stored open radiation code gives its coefficients"
)

# Water vapour over carbon dioxide: absorption [1/(atm m)] and the weights' coefficients in 1/K^n.
_GREY_GASES = {
    1: (
        (0.4303, (5.150e-1, -2.303e-4, 9.779e-8, -1.494e-11)),
        (7.055, (7.749e-2, 3.399e-4, -2.297e-7, 3.770e-11)),
        (178.1, (1.907e-1, -1.824e-4, 5.608e-8, -5.122e-12)),
    ),
    2: (
        (0.4201, (6.508e-1, -5.551e-4, 3.029e-7, -5.353e-11)),
        (6.516, (-2.504e-2, 6.112e-4, -3.882e-7, 6.528e-11)),
        (131.9, (2.718e-1, -3.118e-4, 1.221e-7, -1.612e-11)),
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class RadiatingGas:
    """A gas in a tube: for each grey gas its weight's coefficients, times its opacity."""

    terms: tuple[tuple[float, float, float, float], ...]

    def emissivity(self, temperature_k: float) -> float:
        """Emissivity [-] at a gas temperature [K]; below 600 K that at 600 K."""
        t = max(temperature_k, LOWEST_RADIATING_K)
        found = 0.0
        for b0, b1, b2, b3 in self.terms:
            found += b0 + t * (b1 + t * (b2 + t * b3))
        return found

    def coefficient_w_per_m2_k(self, gas_k: float, wall_k: float) -> float:
        """Radiated heat over the difference of temperatures; see ``radiating_gas``."""
        exchange = (WALL_EMISSIVITY + 1.0) / 2.0 * self.emissivity(gas_k)
        return (
            STEFAN_BOLTZMANN_W_PER_M2_K4
            * exchange
            * (gas_k * gas_k + wall_k * wall_k)
            * (gas_k + wall_k)
        )


def radiating_gas(gas: FlueGas, bore_m: float) -> RadiatingGas:
    """The radiation of a flue gas inside a tube, ready to be asked at any temperature.

    Source: ``GAS_RADIATION_SOURCE``.

    Scope: adds to convection in the first tube pass, where the gas is hot; in small bores the gas
    layer is thin and the share is modest.

    Equation: emissivity = sum a_i(T) (1 - exp(-k_i p s)), a_i = b0 + b1 T + b2 T^2 + b3 T^3, p the
    pressure of H2O and CO2 together [atm], s = 0.95 d the mean length of rays; heat
    q = sigma e (e_w + 1)/2 (T^4 - Tw^4) with e_w = 0.8.

    Parameters: ``gas`` its composition; ``bore_m`` d [m].

    Returns: ``RadiatingGas``.

    Raises: nothing.

    Notes: coefficients for H2O:CO2 = 2 (natural gas), for 1 where it is below 1.5 (oil). The source
    holds for 600 to 2400 K; below 600 K the emissivity at 600 K is taken, where radiation is small.
    The gas is taken to absorb as it emits.

    >>> hot = radiating_gas(FlueGas(co2=0.0835, h2o=0.167, o2=0.025, n2=0.7245), 0.046)
    >>> 0.05 < hot.emissivity(1200.0) < 0.10
    True
    """
    ratio = 2 if gas.h2o >= 1.5 * gas.co2 else 1
    path_atm_m = (gas.h2o + gas.co2) * 0.95 * bore_m
    terms = []
    for absorption, (b0, b1, b2, b3) in _GREY_GASES[ratio]:
        opacity = -math.expm1(-absorption * path_atm_m)
        terms.append((b0 * opacity, b1 * opacity, b2 * opacity, b3 * opacity))
    return RadiatingGas(terms=tuple(terms))
