"""How hot the gas leaves the furnace: estimated from its surface, and carried to other firings.

Not here: flames, chambers and refractory one by one; the whole furnace is one law.
"""

import math
from dataclasses import dataclass
from typing import Final

from model.errors import OutOfRange
from model.thermal.bracketed_root import bracketed_root
from model.thermal.combustion import FUELS, Burnt, Fuel, latent_loss_percent
from model.thermal.flue_gas import HIGHEST_GAS_K
from model.thermal.gas_radiation import STEFAN_BOLTZMANN_W_PER_M2_K4
from model.thermal.gas_table import GasTable
from model.thermal.steam import ZERO_C_K

FURNACE_SOURCE: Final = (
    "normative method for boiler furnaces (Gurvich), from memory, not checked against the document"
)

_EXPONENT = 0.6
# Burner at one end; walls a little fouled; a flame that hardly shines (gas) or shines (oil).
_FLAME_PLACE = 0.54
_WALL_SHARE = 0.65
_FLAME_EMISSIVITY = {Fuel.NATURAL_GAS: 0.5, Fuel.LIGHT_OIL: 0.6}
_LOWEST_EXIT_K = 500.0


@dataclass(frozen=True, slots=True, kw_only=True)
class FurnaceLaw:
    """One furnace: ``Ta/Te = 1 + (S/C)^0.6`` with C the gas's heat capacity flow from Ta to Te."""

    table: GasTable
    adiabatic_k: float
    """Ta: the gas if the furnace took no heat [K]."""
    strength_w_per_k: float
    """S: how strongly the furnace draws heat [W/K]."""

    def exit_k(self, gas_kg_s: float) -> float:
        """Te: the gas at the furnace's exit [K] at a gas flow [kg/s]."""

        def miss(exit_k: float) -> float:
            capacity = self._capacity_w_per_k(gas_kg_s, exit_k)
            drawn = math.pow(self.strength_w_per_k / capacity, _EXPONENT)
            return exit_k * (1.0 + drawn) - self.adiabatic_k

        high_k = self.adiabatic_k - 1.0
        if miss(_LOWEST_EXIT_K) > 0.0:
            raise OutOfRange("gas_kg_s", gas_kg_s, "enough to leave the furnace above 227 degC")
        return bracketed_root(miss, _LOWEST_EXIT_K, high_k, tolerance=1e-7)

    def gas_kg_s_at(self, exit_k: float) -> float:
        """The gas flow [kg/s] at which the gas leaves at a temperature [K]."""
        capacity = self.strength_w_per_k / math.pow(self.adiabatic_k / exit_k - 1.0, 1 / _EXPONENT)
        return capacity / self._capacity_w_per_k(1.0, exit_k)

    @property
    def highest_gas_kg_s(self) -> float:
        """The gas flow [kg/s] beyond which the tubes' gas properties end (1700 K)."""
        if self.adiabatic_k <= HIGHEST_GAS_K:
            return math.inf
        return self.gas_kg_s_at(HIGHEST_GAS_K - 1.0)

    def _capacity_w_per_k(self, gas_kg_s: float, exit_k: float) -> float:
        return gas_kg_s * _mean_cp(self.table, self.adiabatic_k, exit_k)


def _mean_cp(table: GasTable, hot_k: float, cold_k: float) -> float:
    fall = table.enthalpy_j_per_kg(hot_k) - table.enthalpy_j_per_kg(cold_k)
    return fall / (hot_k - cold_k)


def adiabatic_k(table: GasTable, *, fuel: Fuel, burnt: Burnt, air_c: float) -> float:
    """Temperature of the burnt gas if none of its heat were taken.

    Source: first principles, heat of the fuel less the latent heat into the gas.

    Scope: the upper end of the furnace's law, no flame temperature that could be measured.

    Equation: g (h(Ta) - h(air)) = HHV (1 - latent share).

    Parameters: ``table`` and ``burnt`` of one gas; ``fuel``; ``air_c`` [degC].

    Returns: Ta [K].

    Raises: nothing beyond what burning refuses.

    Notes: without dissociation, so 60 to 100 K high near no excess air.
    """
    data = FUELS[fuel]
    lower_j_per_kg = 1e3 * data.heating_value_kj_per_kg * (1.0 - latent_loss_percent(fuel) / 100.0)
    wanted = lower_j_per_kg / burnt.gas_kg_per_kg + table.enthalpy_j_per_kg(air_c + ZERO_C_K)
    return bracketed_root(
        lambda t: table.enthalpy_j_per_kg(t) - wanted, air_c + ZERO_C_K, 3500.0, tolerance=1e-7
    )


def furnace_law_of_exit(
    table: GasTable, *, adiabatic_k: float, gas_kg_s: float, exit_c: float
) -> FurnaceLaw:
    """The law of a furnace whose exit temperature is known at one firing.

    Source: ``FURNACE_SOURCE`` for the form; its strength is fitted to the given exit.

    Scope: to carry a measured or stated furnace exit to other firings.

    Equation: S = C (Ta/Te - 1)^(1/0.6).

    Parameters: ``table``; ``adiabatic_k`` Ta [K]; ``gas_kg_s``; ``exit_c`` [degC].

    Returns: ``FurnaceLaw``.

    Raises: OutOfRange unless the exit lies from 227 to 1426 degC and below Ta.
    """
    highest_c = min(HIGHEST_GAS_K, adiabatic_k) - 1.0 - ZERO_C_K
    if not _LOWEST_EXIT_K - ZERO_C_K < exit_c <= highest_c:
        raise OutOfRange("furnace_exit_c", exit_c, f"above 227 and at most {highest_c:.0f} degC")
    exit_k = exit_c + ZERO_C_K
    capacity_w_per_k = gas_kg_s * _mean_cp(table, adiabatic_k, exit_k)
    strength = capacity_w_per_k * (adiabatic_k / exit_k - 1.0) ** (1 / _EXPONENT)
    return FurnaceLaw(table=table, adiabatic_k=adiabatic_k, strength_w_per_k=strength)


def furnace_law_of_surface(
    table: GasTable, *, fuel: Fuel, adiabatic_k: float, surface_m2: float
) -> FurnaceLaw:
    """The law of a furnace of which only the cooled surface is known: an estimate.

    Source: ``FURNACE_SOURCE``.

    Scope: where nobody measured the furnace's exit. Expect 100 K of error; the stack then still
    agrees with its measurement, because the fouling is fitted after it.

    Equation: S = M^(1/0.6) sigma psi F a Ta^3, with M = 0.54 (burner at the end), psi = 0.65 and a
    = 0.5 for gas, 0.6 for oil.

    Parameters: ``table``; ``fuel``; ``adiabatic_k`` Ta [K]; ``surface_m2`` F [m2].

    Returns: ``FurnaceLaw``.

    Raises: OutOfRange unless the surface is above 0.

    Notes: made for large water-tube furnaces; its use for furnace tubes is ours.
    """
    if not 0.0 < surface_m2 < math.inf:
        raise OutOfRange("furnace_surface_m2", surface_m2, "above 0")
    strength = (
        _FLAME_PLACE ** (1 / _EXPONENT)
        * STEFAN_BOLTZMANN_W_PER_M2_K4
        * _WALL_SHARE
        * surface_m2
        * _FLAME_EMISSIVITY[fuel]
        * adiabatic_k**3
    )
    return FurnaceLaw(table=table, adiabatic_k=adiabatic_k, strength_w_per_k=strength)
