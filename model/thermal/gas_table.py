"""A flue gas that can be asked quickly, because the march along a tube asks thousands of times.

Not here: what the values are (``flue_gas``); they are read off a table of it, every 20 K, by cubics
through four neighbours, within a millionth.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from model.thermal.flue_gas import (
    ATMOSPHERE_PA,
    HIGHEST_GAS_K,
    LOWEST_GAS_K,
    FlueGas,
    flue_gas_properties,
)
from model.thermal.gas_species import (
    GAS_CONSTANT_J_PER_MOL_K,
    RANGE_BREAK_K,
    enthalpy_over_r,
    heat_capacity_over_r,
)

_STEP_K = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class GasTable:
    """Properties of one flue gas between 300 and 1700 K; temperatures are not checked."""

    gas: FlueGas
    specific_j_per_kg_k: float
    """Gas constant of this gas."""
    below: tuple[float, ...]
    above: tuple[float, ...]
    viscosities_pa_s: tuple[float, ...]
    conductivities_w_per_m_k: tuple[float, ...]

    def cp_j_per_kg_k(self, temperature_k: float) -> float:
        """Heat capacity [J/(kg K)], not read off the table but exact."""
        coefficients = self.below if temperature_k <= RANGE_BREAK_K else self.above
        return self.specific_j_per_kg_k * heat_capacity_over_r(coefficients, temperature_k)

    def enthalpy_j_per_kg(self, temperature_k: float) -> float:
        """Enthalpy [J/kg], exact, up to 6000 K."""
        coefficients = self.below if temperature_k <= RANGE_BREAK_K else self.above
        return self.specific_j_per_kg_k * enthalpy_over_r(coefficients, temperature_k)

    def density_kg_per_m3(self, temperature_k: float) -> float:
        """Density [kg/m3] at 101,325 Pa."""
        return ATMOSPHERE_PA / (self.specific_j_per_kg_k * temperature_k)

    def transport(self, temperature_k: float) -> tuple[float, float]:
        """Viscosity [Pa s] and conductivity [W/(m K)]."""
        place = (temperature_k - LOWEST_GAS_K) / _STEP_K
        last = len(self.viscosities_pa_s) - 3
        before = min(max(int(place), 1), last)
        weights = _cubic_weights(place - before)
        return (
            _weighed(self.viscosities_pa_s, before, weights),
            _weighed(self.conductivities_w_per_m_k, before, weights),
        )


def build_gas_table(gas: FlueGas) -> GasTable:
    """The table of a flue gas.

    >>> air = FlueGas(co2=0.0, h2o=0.0, o2=0.2095, n2=0.7905)
    >>> round(build_gas_table(air).density_kg_per_m3(300.0), 2)
    1.17
    """
    knots = round((HIGHEST_GAS_K - LOWEST_GAS_K) / _STEP_K) + 1
    rows = [flue_gas_properties(gas, LOWEST_GAS_K + i * _STEP_K) for i in range(knots)]
    mixture = gas.nasa9
    return GasTable(
        gas=gas,
        specific_j_per_kg_k=1e3 * GAS_CONSTANT_J_PER_MOL_K / gas.molar_mass_g_per_mol,
        below=mixture.below,
        above=mixture.above,
        viscosities_pa_s=tuple(row.viscosity_pa_s for row in rows),
        conductivities_w_per_m_k=tuple(row.conductivity_w_per_m_k for row in rows),
    )


def _cubic_weights(t: float) -> tuple[float, float, float, float]:
    """Lagrange's weights of the knots at -1, 0, 1 and 2 for a place between 0 and 1."""
    low, high, far = t + 1.0, t - 1.0, t - 2.0
    return (
        -t * high * far / 6.0,
        low * high * far / 2.0,
        -low * t * far / 2.0,
        low * t * high / 6.0,
    )


def _weighed(
    values: Sequence[float], before: int, weights: tuple[float, float, float, float]
) -> float:
    a, b, c, d = weights
    return (
        a * values[before - 1]
        + b * values[before]
        + c * values[before + 1]
        + d * values[before + 2]
    )
