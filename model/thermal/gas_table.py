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
    GasProperties,
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
    steps: tuple[tuple[float, ...], ...]
    """Of each step, the viscosities of the four knots around it, then their conductivities."""

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
        """Viscosity [Pa s] and conductivity [W/(m K)].

        Written out, as the march asks nothing more often: with calls it takes twice as long.
        """
        place = (temperature_k - LOWEST_GAS_K) / _STEP_K
        step = int(place)
        if not 1 <= step <= len(self.steps):
            step = 1 if step < 1 else len(self.steps)
        # Lagrange's weights of the knots at -1, 0, 1 and 2 for a place between 0 and 1.
        t = place - step
        low, high, far = t + 1.0, t - 1.0, t - 2.0
        a, b = -t * high * far / 6.0, low * high * far / 2.0
        c, d = -low * t * far / 2.0, low * t * high / 6.0
        mu_a, mu_b, mu_c, mu_d, k_a, k_b, k_c, k_d = self.steps[step - 1]
        return (
            a * mu_a + b * mu_b + c * mu_c + d * mu_d,
            a * k_a + b * k_b + c * k_c + d * k_d,
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
        steps=tuple(_values_of(rows[first : first + 4]) for first in range(knots - 3)),
    )


def _values_of(rows: Sequence[GasProperties]) -> tuple[float, ...]:
    return (
        *(row.viscosity_pa_s for row in rows),
        *(row.conductivity_w_per_m_k for row in rows),
    )
