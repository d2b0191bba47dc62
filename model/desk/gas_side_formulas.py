"""Formulas of the gas side on the calculation desk: combustion, flue gas, one tube pass, plugging.

Not here: the equations themselves (``model.thermal``), and steam (``steam_formulas``).
"""

from model.desk.formula import Computed, Formula, Inputs, Parameter
from model.desk.values import integer, number, text
from model.thermal.combustion import (
    COMBUSTION_SOURCE,
    REFERENCE_C,
    Fuel,
    burn,
    combustion_efficiency_percent,
)
from model.thermal.efficiency_table import (
    EFFICIENCY_TABLE_SOURCE,
    published_efficiency_percent,
)
from model.thermal.flue_gas import FLUE_GAS_SOURCE, flue_gas_properties
from model.thermal.gas_table import build_gas_table
from model.thermal.plugging import PLUGGING_SOURCE, plugged_pass
from model.thermal.tube_flow import Regime
from model.thermal.tube_pass import (
    DEFAULT_ROUGHNESS_MM,
    TUBE_PASS_SOURCE,
    TubePass,
    run_tube_pass,
)


def _combustion_efficiency(inputs: Inputs) -> Computed:
    oxygen_percent, net_k = number(inputs, "oxygen_percent"), number(inputs, "net_k")
    published = published_efficiency_percent(oxygen_percent=oxygen_percent, net_k=net_k)
    first_principles = combustion_efficiency_percent(
        fuel=Fuel.NATURAL_GAS, oxygen_percent=oxygen_percent, stack_c=REFERENCE_C + net_k
    )
    return Computed(
        result={"table_percent": published, "first_principles_percent": first_principles}
    )


def _flue_gas(inputs: Inputs) -> Computed:
    burnt = burn(fuel=Fuel.NATURAL_GAS, oxygen_percent=number(inputs, "oxygen_percent"))
    properties = flue_gas_properties(burnt.gas, number(inputs, "temperature_k"))
    return Computed(
        result={
            "cp_j_per_kg_k": properties.cp_j_per_kg_k,
            "viscosity_pa_s": properties.viscosity_pa_s,
            "conductivity_w_per_m_k": properties.conductivity_w_per_m_k,
            "density_kg_per_m3": properties.density_kg_per_m3,
            "molar_mass_g_per_mol": properties.molar_mass_g_per_mol,
        }
    )


def _tube_pass(inputs: Inputs) -> Computed:
    burnt = burn(fuel=Fuel.NATURAL_GAS, oxygen_percent=number(inputs, "oxygen_percent"))
    tubes = TubePass(
        tubes_open=integer(inputs, "tubes"),
        bore_mm=number(inputs, "bore_mm"),
        length_mm=number(inputs, "length_mm"),
        roughness_mm=number(inputs, "roughness_mm"),
        has_radiation=text(inputs, "radiation") == "yes",
    )
    result = run_tube_pass(
        build_gas_table(burnt.gas),
        tubes,
        gas_kg_s=number(inputs, "gas_kg_s"),
        inlet_c=number(inputs, "inlet_c"),
        wall_c=number(inputs, "wall_c"),
    )
    notes: tuple[str, ...] = ()
    if result.regimes != (Regime.TURBULENT,):
        notes = (
            f"The flow is {' to '.join(result.regimes)} (turbulent from Reynolds 3000, laminar "
            "below 2300): heat and friction between are a straight line of ours, and uncertain.",
        )
    return Computed(
        result={
            "outlet_c": result.outlet_c,
            "heat_kw": result.heat_kw,
            "draft_loss_pa": result.draft_loss_pa,
            "reynolds_in": result.reynolds_in,
            "reynolds_out": result.reynolds_out,
        },
        notes=notes,
    )


def _plugging(inputs: Inputs) -> Computed:
    result = plugged_pass(
        tubes=integer(inputs, "tubes"),
        plugged=integer(inputs, "plugged"),
        inlet_c=number(inputs, "inlet_c"),
        outlet_c=number(inputs, "outlet_c"),
        saturation_c=number(inputs, "saturation_c"),
    )
    return Computed(
        result={
            "ntu": result.ntu,
            "ntu_after": result.ntu_after,
            "outlet_after_c": result.outlet_after_c,
            "rise_k": result.rise_k,
            "draft_ratio": result.draft_ratio,
        }
    )


_OXYGEN = Parameter(
    name="oxygen_percent",
    symbol="O2",
    unit="%",
    help="oxygen in the dry flue gas",
    at_least=0.0,
)

COMBUSTION_EFFICIENCY = Formula(
    name="combustion-efficiency",
    summary="combustion efficiency of natural gas, from a published table and first principles",
    source=f"table: {EFFICIENCY_TABLE_SOURCE}; {COMBUSTION_SOURCE}",
    parameters=(
        _OXYGEN,
        Parameter(
            name="net_k", unit="K", help="flue gas temperature minus combustion air", above=0.0
        ),
    ),
    compute=_combustion_efficiency,
    results={
        "table_percent": "published table, linear in oxygen and in temperature",
        "first_principles_percent": "methane burnt with air of 25 degC",
    },
    notes=(
        "Both on the higher heating value; figures on the lower heating value differ and must not "
        "be mixed with these. First principles lie 0.3 to 0.7 points above the cells of the table.",
    ),
)

FLUE_GAS = Formula(
    name="flue-gas",
    summary="properties of the flue gas of natural gas at atmospheric pressure",
    source=FLUE_GAS_SOURCE,
    parameters=(
        _OXYGEN,
        Parameter(name="temperature_k", symbol="T", unit="K", help="gas temperature, 300 to 1700"),
    ),
    compute=_flue_gas,
    results={
        "cp_j_per_kg_k": "heat capacity at constant pressure",
        "viscosity_pa_s": "viscosity",
        "conductivity_w_per_m_k": "thermal conductivity",
        "density_kg_per_m3": "density at 101,325 Pa",
        "molar_mass_g_per_mol": "mean molar mass of the wet gas",
    },
    notes=("Methane as fuel, burnt completely in dry air.",),
)

TUBE_PASS = Formula(
    name="tube-pass",
    summary="outlet temperature, heat and draft loss of one pass of plain tubes",
    source=f"{TUBE_PASS_SOURCE}; gas: {FLUE_GAS_SOURCE}",
    parameters=(
        Parameter(
            name="gas_kg_s", unit="kg/s", help="flue gas through all tubes together", above=0.0
        ),
        Parameter(name="inlet_c", unit="degC", help="gas entering, up to 1426.85"),
        Parameter(name="wall_c", unit="degC", help="temperature that the gas cools toward"),
        Parameter(name="tubes", kind="integer", help="open tubes", at_least=1),
        Parameter(name="bore_mm", symbol="d", unit="mm", help="inside diameter", above=0.0),
        Parameter(name="length_mm", symbol="L", unit="mm", help="length of a tube", above=0.0),
        Parameter(
            name="oxygen_percent",
            symbol="O2",
            unit="%",
            help="oxygen in the dry flue gas",
            at_least=0.0,
            default=3.0,
        ),
        Parameter(
            name="roughness_mm",
            unit="mm",
            help="roughness, for the friction only",
            at_least=0.0,
            default=DEFAULT_ROUGHNESS_MM,
        ),
        Parameter(
            name="radiation",
            kind="choice",
            choices=("no", "yes"),
            help="whether the radiation of the gas is added",
            default="no",
        ),
    ),
    compute=_tube_pass,
    results={
        "outlet_c": "gas leaving",
        "heat_kw": "heat to the water",
        "draft_loss_pa": "friction, 0.5 velocity heads at inlet and 1.0 at outlet density",
        "reynolds_in": "Reynolds number at the inlet",
        "reynolds_out": "Reynolds number at the outlet",
    },
    notes=("Plain straight tubes; retarders and ribbed tubes are outside the model.",),
)

PLUGGING = Formula(
    name="plugging",
    summary="what plugs do to one pass at a fixed gas flow, by the scaling law",
    source=PLUGGING_SOURCE,
    parameters=(
        Parameter(name="tubes", kind="integer", help="tubes of the pass", at_least=1),
        Parameter(name="plugged", kind="integer", help="of them plugged", at_least=0),
        Parameter(name="inlet_c", symbol="T1", unit="degC", help="gas entering"),
        Parameter(name="outlet_c", symbol="T2", unit="degC", help="gas leaving without plugs"),
        Parameter(name="saturation_c", symbol="Ts", unit="degC", help="boiling water"),
    ),
    compute=_plugging,
    results={
        "ntu": "ln((T1 - Ts)/(T2 - Ts))",
        "ntu_after": "NTU (1 - x)^0.2, x the share plugged",
        "outlet_after_c": "gas leaving after plugging",
        "rise_k": "how much hotter that is",
        "draft_ratio": "(1 - x)^-1.8, friction after over before",
    },
    notes=(
        "For turbulent gas at a fixed flow. Retune the burner and check carbon monoxide after "
        "plugging.",
    ),
)

FORMULAS = (COMBUSTION_EFFICIENCY, FLUE_GAS, TUBE_PASS, PLUGGING)
