"""Burning natural gas or light oil: air, flue gas, and the heat that leaves through the stack.

Everything is on the higher heating value. Not here: properties of the gas (``flue_gas``), the
published table of efficiencies (``efficiency_table``), and short formulas on the lower heating
value, which must never be mixed with these.
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from model.errors import OutOfRange
from model.thermal.flue_gas import FlueGas, flue_gas_enthalpy_kj_per_kg
from model.thermal.gas_species import (
    CARBON_G_PER_MOL,
    HYDROGEN_G_PER_MOL,
    MOLAR_MASS_G_PER_MOL,
    Gas,
)
from model.thermal.steam import ZERO_C_K

OXYGEN_OF_AIR_PERCENT: Final = 20.95
"""Of dry air by volume; the rest counts as nitrogen."""

LATENT_KJ_PER_MOL: Final = 44.0
"""Heat of evaporation of water at 25 degC."""

REFERENCE_C: Final = 25.0

COMBUSTION_SOURCE: Final = (
    "first principles: complete burning in dry air with 20.95 % oxygen; methane 890.63 kJ/mol "
    "(higher heating value), latent heat 44.0 kJ/mol"
)

_NITROGEN_PER_OXYGEN = (100.0 - OXYGEN_OF_AIR_PERCENT) / OXYGEN_OF_AIR_PERCENT


class Fuel(StrEnum):
    """Fuels of the model, as the settings of a boiler spell them."""

    NATURAL_GAS = "natural gas"
    LIGHT_OIL = "light oil"


@dataclass(frozen=True, slots=True, kw_only=True)
class FuelData:
    """A fuel by what is in one kilogram of it."""

    carbon_mol_per_kg: float
    hydrogen_mol_per_kg: float
    """Atoms, not molecules."""
    heating_value_kj_per_kg: float
    """Higher heating value."""
    source: str


_METHANE_G_PER_MOL = CARBON_G_PER_MOL + 4.0 * HYDROGEN_G_PER_MOL

FUELS: Final = {
    Fuel.NATURAL_GAS: FuelData(
        carbon_mol_per_kg=1e3 / _METHANE_G_PER_MOL,
        hydrogen_mol_per_kg=4e3 / _METHANE_G_PER_MOL,
        heating_value_kj_per_kg=890.63e3 / _METHANE_G_PER_MOL,
        source="natural gas taken as methane, 890.63 kJ/mol",
    ),
    Fuel.LIGHT_OIL: FuelData(
        carbon_mol_per_kg=870.0 / CARBON_G_PER_MOL,
        hydrogen_mol_per_kg=130.0 / HYDROGEN_G_PER_MOL,
        heating_value_kj_per_kg=45_500.0,
        source=(
            "light oil (No. 2) taken as 87 % carbon and 13 % hydrogen by mass with 45.5 MJ/kg, "
            "from memory; its carbon dioxide per heat agrees with 40 CFR 98 Table C-1"
        ),
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Burnt:
    """What comes of burning one kilogram of fuel."""

    excess_air_percent: float
    air_kg_per_kg: float
    """Dry air for each kilogram of fuel."""
    gas_kg_per_kg: float
    """Wet flue gas for each kilogram of fuel."""
    water_mol_per_kg: float
    gas: FlueGas


def excess_air_percent(*, fuel: Fuel, oxygen_percent: float) -> float:
    """Air beyond what burning needs, from the oxygen left in the dry flue gas.

    Source: balance of the elements; for methane it is 89.5 O2/(20.95 - O2), which fits the columns
    of DOE Steam Tip Sheet 4 (January 2006) within 0.2.

    Scope: complete burning without leakage of air behind the burner.

    Equation: with x the dry oxygen fraction, a = 0.2095, r = (1 - a)/a, C atoms of carbon and
    N = C + H/4 oxygen needed: excess = x (C/N + r) / (1 - x/a).

    Parameters: ``fuel``; ``oxygen_percent`` oxygen in the dry gas [% by volume].

    Returns: excess air [%].

    Raises: OutOfRange unless 0 <= oxygen < 20.95 %.

    >>> round(excess_air_percent(fuel=Fuel.NATURAL_GAS, oxygen_percent=3.0), 2)
    14.96
    """
    if not 0.0 <= oxygen_percent < OXYGEN_OF_AIR_PERCENT:
        raise OutOfRange("oxygen_percent", oxygen_percent, "at least 0 and below 20.95 % (air)")
    data = FUELS[fuel]
    need = data.carbon_mol_per_kg + data.hydrogen_mol_per_kg / 4.0
    dry_per_need = data.carbon_mol_per_kg / need + _NITROGEN_PER_OXYGEN
    rest = 1.0 - oxygen_percent / OXYGEN_OF_AIR_PERCENT
    return oxygen_percent * dry_per_need / rest


def burn(*, fuel: Fuel, oxygen_percent: float) -> Burnt:
    """Air and flue gas of one kilogram of fuel, and what the gas consists of.

    Source: balance of the elements.

    Scope: complete burning in dry air; sulphur, soot and carbon monoxide are left out.

    Equation: CO2 = C, H2O = H/2, O2 = e N, N2 = (1 + e) N r, with N, r as in
    ``excess_air_percent`` and e the excess.

    Parameters: ``fuel``; ``oxygen_percent`` oxygen in the dry gas [% by volume].

    Returns: ``Burnt``.

    Raises: OutOfRange unless 0 <= oxygen < 20.95 %.

    >>> burnt = burn(fuel=Fuel.NATURAL_GAS, oxygen_percent=3.0)
    >>> round(burnt.gas_kg_per_kg - burnt.air_kg_per_kg, 9)
    1.0
    """
    data = FUELS[fuel]
    excess_percent = excess_air_percent(fuel=fuel, oxygen_percent=oxygen_percent)
    need = data.carbon_mol_per_kg + data.hydrogen_mol_per_kg / 4.0
    air_oxygen = need * (1.0 + excess_percent / 100.0)
    amounts = {
        Gas.CO2: data.carbon_mol_per_kg,
        Gas.H2O: data.hydrogen_mol_per_kg / 2.0,
        Gas.O2: air_oxygen - need,
        Gas.N2: air_oxygen * _NITROGEN_PER_OXYGEN,
    }
    total = sum(amounts.values())
    air_g = air_oxygen * (
        MOLAR_MASS_G_PER_MOL[Gas.O2] + _NITROGEN_PER_OXYGEN * MOLAR_MASS_G_PER_MOL[Gas.N2]
    )
    return Burnt(
        excess_air_percent=excess_percent,
        air_kg_per_kg=air_g / 1e3,
        gas_kg_per_kg=sum(n * MOLAR_MASS_G_PER_MOL[gas] for gas, n in amounts.items()) / 1e3,
        water_mol_per_kg=amounts[Gas.H2O],
        gas=FlueGas(
            co2=amounts[Gas.CO2] / total,
            h2o=amounts[Gas.H2O] / total,
            o2=amounts[Gas.O2] / total,
            n2=amounts[Gas.N2] / total,
        ),
    )


def latent_loss_percent(fuel: Fuel) -> float:
    """Share of the higher heating value that leaves as water vapour whatever the temperature [%].

    Source: ``COMBUSTION_SOURCE``. Equation: (H/2) x 44.0 kJ/mol / heating value.

    >>> round(latent_loss_percent(Fuel.NATURAL_GAS), 2)
    9.88
    """
    data = FUELS[fuel]
    latent_kj_per_kg = data.hydrogen_mol_per_kg / 2.0 * LATENT_KJ_PER_MOL
    return 100.0 * latent_kj_per_kg / data.heating_value_kj_per_kg


def fuel_saved_gj(*, fuel_gj: float, from_percent: float, to_percent: float) -> float:
    """Fuel saved by a better efficiency at the same output; negative where it is worse.

    Source: US Department of Energy, Steam Tip Sheet 4 (January 2006).

    Scope: a year's fuel, or any other amount, burnt at one efficiency.

    Equation: F (1 - E0/E1).

    Parameters: ``fuel_gj`` F burnt at E0 [GJ]; ``from_percent`` E0, ``to_percent`` E1 [%].

    Returns: fuel saved [GJ].

    Raises: OutOfRange unless the fuel is at least 0 and both efficiencies above 0 and at most 100.

    >>> fuel_saved_gj(fuel_gj=100.0, from_percent=80.0, to_percent=80.0)
    0.0
    """
    if not fuel_gj >= 0.0:
        raise OutOfRange("fuel_gj", fuel_gj, "at least 0")
    for name, value in (("from_percent", from_percent), ("to_percent", to_percent)):
        if not 0.0 < value <= 100.0:
            raise OutOfRange(name, value, "above 0 and at most 100 %")
    return fuel_gj * (1.0 - from_percent / to_percent)


def combustion_efficiency_percent(
    *, fuel: Fuel, oxygen_percent: float, stack_c: float, air_c: float = REFERENCE_C
) -> float:
    """Share of the fuel's heat that does not leave through the stack, from first principles.

    Source: ``COMBUSTION_SOURCE``; heat capacities as in ``gas_species``.

    Scope: what is left of the higher heating value after the hot gas and its water vapour; losses
    through the shell and by blow-down are no part of it.

    Equation: 100 - 100 (g (h(stack) - h(air)) + w L) / HHV, with g gas and w water of one kilogram
    of fuel, h the enthalpy of the gas and L the latent heat.

    Parameters: ``fuel``; ``oxygen_percent`` oxygen in the dry gas [%]; ``stack_c`` flue gas [degC];
    ``air_c`` combustion air [degC].

    Returns: efficiency [% of the higher heating value].

    Raises: OutOfRange unless 0 <= oxygen < 20.95 %, the air lies between -60 and 400 degC and the
    stack from the air's temperature to 1426.85 degC.

    Notes: 0.3 to 0.7 points above the cells of the published table for natural gas. The
    vapour counts as vapour at any stack temperature: no condensing boilers.

    >>> round(combustion_efficiency_percent(
    ...     fuel=Fuel.NATURAL_GAS, oxygen_percent=3.0, stack_c=225.0), 1)
    81.7
    """
    if not -60.0 <= air_c <= 400.0:
        raise OutOfRange("air_c", air_c, "-60 to 400 degC")
    if not air_c <= stack_c <= 1426.85:
        raise OutOfRange("stack_c", stack_c, f"from the air's {air_c:g} to 1426.85 degC")
    data, burnt = FUELS[fuel], burn(fuel=fuel, oxygen_percent=oxygen_percent)
    sensible_kj_per_kg = burnt.gas_kg_per_kg * (
        flue_gas_enthalpy_kj_per_kg(burnt.gas, stack_c + ZERO_C_K)
        - flue_gas_enthalpy_kj_per_kg(burnt.gas, air_c + ZERO_C_K)
    )
    sensible_percent = 100.0 * sensible_kj_per_kg / data.heating_value_kj_per_kg
    return 100.0 - sensible_percent - latent_loss_percent(fuel)
