"""Formulas of the gas side of a boiler, in the units of their sources.

For the rows of ``gas_side.toml`` beside it. Not here: steam (``wall_and_retube``).
"""

import math
from collections.abc import Callable

from model.thermal.combustion import (
    FUELS,
    Fuel,
    burn,
    combustion_efficiency_percent,
    excess_air_percent,
    fuel_saved_gj,
)
from model.thermal.efficiency_table import published_efficiency_percent
from model.thermal.flue_gas import flue_gas_properties
from model.thermal.gas_species import MOLAR_MASS_G_PER_MOL, Gas
from model.thermal.gas_transport import gas_conductivity_w_per_m_k, gas_viscosity_pa_s
from model.thermal.plugging import PluggedPass, plugged_pass
from model.thermal.tube_flow import (
    friction_factor,
    gnielinski_nusselt,
    turbulent_friction_factor,
)
from model.units import KG_PER_LB, KJ_PER_BTU, c_from_f, f_from_c, mm_from_inches

GAS = burn(fuel=Fuel.NATURAL_GAS, oxygen_percent=3.0).gas


def _first_principles(oxygen: float, net_f: float) -> float:
    return combustion_efficiency_percent(
        fuel=Fuel.NATURAL_GAS, oxygen_percent=oxygen, stack_c=25.0 + net_f / 1.8, air_c=25.0
    )


def _co2_kg_per_mmbtu(fuel: str) -> float:
    data = FUELS[Fuel(fuel)]
    kg_per_kg = data.carbon_mol_per_kg * MOLAR_MASS_G_PER_MOL[Gas.CO2] / 1e3
    return kg_per_kg / (data.heating_value_kj_per_kg / (KJ_PER_BTU * 1e6))


def _flue_gas(quantity: str, temperature_k: float) -> float:
    properties = flue_gas_properties(GAS, temperature_k)
    if quantity == "viscosity_1e5_pa_s":
        return properties.viscosity_pa_s * 1e5
    value: float = getattr(properties, quantity)
    return value


def _one_tube(quantity: str) -> float:
    gas, bore_m = flue_gas_properties(GAS, 800.0), mm_from_inches(1.81) / 1e3
    flow_kg_s_m2 = 100.0 * KG_PER_LB / 3600.0 / (math.pi / 4.0 * bore_m**2)
    reynolds = flow_kg_s_m2 * bore_m / gas.viscosity_pa_s
    nusselt = gnielinski_nusselt(reynolds, gas.prandtl)
    film = nusselt * gas.conductivity_w_per_m_k / bore_m
    length_m = mm_from_inches(16.0 * 12.0) / 1e3
    head_pa = flow_kg_s_m2**2 / (2.0 * gas.density_kg_per_m3)
    return {
        "reynolds": reynolds,
        "nusselt": nusselt,
        "film_w_per_m2_k": film,
        "film_btu_per_h_ft2_f": film * 3.6 / KJ_PER_BTU * 0.3048**2 / 1.8,
        "friction_pa_16_ft": friction_factor(reynolds, 0.045e-3 / bore_m)
        * length_m
        / bore_m
        * head_pa,
    }[quantity]


def _pass(
    inlet_f: float, outlet_f: float, saturation_f: float, plugged: int = 0, tubes: int = 100
) -> PluggedPass:
    return plugged_pass(
        tubes=tubes,
        plugged=plugged,
        inlet_c=c_from_f(inlet_f),
        outlet_c=c_from_f(outlet_f),
        saturation_c=c_from_f(saturation_f),
    )


FORMULAS: dict[str, Callable[..., float]] = {
    "excess-air-percent": lambda oxygen: excess_air_percent(
        fuel=Fuel.NATURAL_GAS, oxygen_percent=oxygen
    ),
    "published-efficiency-percent": lambda oxygen, net_f: published_efficiency_percent(
        oxygen_percent=oxygen, net_k=net_f / 1.8
    ),
    "first-principles-percent": _first_principles,
    "fuel-saved": lambda fuel, **percents: fuel_saved_gj(fuel_gj=fuel, **percents),
    "fuel-saved-money": lambda fuel, price, **percents: (
        price * fuel_saved_gj(fuel_gj=fuel, **percents)
    ),
    "co2-kg-per-mmbtu": _co2_kg_per_mmbtu,
    "flue-gas": _flue_gas,
    "gas-viscosity": lambda gas, temperature_k: gas_viscosity_pa_s(Gas(gas), temperature_k),
    "gas-conductivity": lambda gas, temperature_k: gas_conductivity_w_per_m_k(
        Gas(gas), temperature_k
    ),
    "one-tube": _one_tube,
    "smooth-friction-factor": turbulent_friction_factor,
    "pass-ntu": lambda **temperatures: _pass(**temperatures).ntu,
    "pass-surface-m2": lambda capacity_w_per_k, overall_w_per_m2_k, **temperatures: (
        _pass(**temperatures).ntu * capacity_w_per_k / overall_w_per_m2_k
    ),
    "plugged-outlet-f": lambda **given: f_from_c(_pass(**given).outlet_after_c),
    "draft-ratio": lambda plugged: _pass(1800.0, 450.0, 366.0, plugged).draft_ratio,
}
