"""Flue gas against independent property libraries, on random gases and temperatures."""

import math
from collections.abc import Callable

import pytest
from chemicals.thermal_conductivity import Wassiljewa_Herning_Zipperer
from chemicals.viscosity import Wilke
from CoolProp import AbstractState
from CoolProp.CoolProp import PropsSI
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from model.errors import OutOfRange
from model.thermal.combustion import Fuel, burn
from model.thermal.flue_gas import (
    FlueGas,
    flue_gas_enthalpy_kj_per_kg,
    flue_gas_properties,
    mixture_conductivity_w_per_m_k,
    mixture_viscosity_pa_s,
)
from model.thermal.gas_species import MOLAR_MASS_G_PER_MOL, Gas
from model.thermal.gas_table import build_gas_table
from model.thermal.gas_transport import gas_conductivity_w_per_m_k, gas_viscosity_pa_s

FLUIDS = {Gas.N2: "Nitrogen", Gas.O2: "Oxygen", Gas.CO2: "CarbonDioxide", Gas.H2O: "Water"}
NEAR_VACUUM_PA = 100.0

gases = st.builds(
    lambda fuel, oxygen: burn(fuel=fuel, oxygen_percent=oxygen).gas,
    st.sampled_from(Fuel),
    st.floats(0.0, 15.0),
)
temperatures_k = st.floats(300.0, 1700.0)

# A second, older set of fits: NASA's program CEA, file trans.inp, coefficients A to D of
# ln(property) = A ln T + B/T + C/T^2 + D in micropoise and microwatt/(cm K), below and above 1000 K
# (for water 1073.2 K).
CEA = {
    (Gas.N2, "viscosity"): (
        (0.62526577, -31.779652, -1640.7983, 1.7454992),
        (0.87395209, 561.52222, -173948.09, -0.39335958),
    ),
    (Gas.N2, "conductivity"): (
        (0.85439436, 105.73224, -12347.848, 0.47793128),
        (0.88407146, 133.57293, -11429.640, 0.24417019),
    ),
    (Gas.O2, "viscosity"): (
        (0.60916180, -52.244847, -599.74009, 2.0410801),
        (0.72216486, 175.50839, -57974.816, 1.0901044),
    ),
    (Gas.O2, "conductivity"): (
        (0.77229167, 6.8463210, -5893.3377, 1.2210365),
        (0.90917351, 291.24182, -79650.171, 0.064851631),
    ),
    (Gas.CO2, "viscosity"): (
        (0.51137258, -229.51321, 13710.678, 2.7075538),
        (0.63978285, -42.637076, -15522.605, 1.6628843),
    ),
    (Gas.CO2, "conductivity"): (
        (0.48056568, -507.86720, 35088.811, 3.6747794),
        (0.69857277, -118.30477, -50688.859, 1.8650551),
    ),
    (Gas.H2O, "viscosity"): (
        (0.50019557, -697.12796, 88163.892, 3.0836508),
        (0.58988538, -537.69814, 54263.513, 2.3386375),
    ),
    (Gas.H2O, "conductivity"): (
        (1.0966389, -555.13429, 106234.08, -0.24664550),
        (0.39367933, -2252.4226, 612174.58, 5.8011317),
    ),
}


def cea(gas: Gas, name: str, temperature_k: float) -> float:
    break_k = 1073.2 if gas is Gas.H2O else 1000.0
    a, b, c, d = CEA[gas, name][0 if temperature_k <= break_k else 1]
    log = a * math.log(temperature_k) + b / temperature_k + c / temperature_k**2 + d
    return math.exp(log) * (1e-7 if name == "viscosity" else 1e-4)


@given(gas=gases, temperature_k=temperatures_k)
@settings(max_examples=60)
def test_a_library_of_mixtures_gives_the_same_heat_capacity_and_density(
    gas: FlueGas, temperature_k: float
) -> None:
    mixture = AbstractState("HEOS", "&".join(FLUIDS[each] for each, _ in gas.parts))
    mixture.set_mole_fractions([fraction for _, fraction in gas.parts])
    cp0 = sum(y * PropsSI("CP0MOLAR", "T", temperature_k, "P", 100.0, FLUIDS[each])
              for each, y in gas.parts)  # fmt: skip
    ours = flue_gas_properties(gas, temperature_k)
    molar_mass_kg = mixture.molar_mass()
    assert ours.molar_mass_g_per_mol == pytest.approx(1e3 * molar_mass_kg, rel=1e-4)
    assert ours.cp_j_per_kg_k == pytest.approx(cp0 / molar_mass_kg, rel=2e-3)
    if temperature_k > 400.0:  # below, water of the judge's mixture condenses
        mixture.specify_phase(_gas_phase())
        mixture.update(_pressure_and_temperature(), 101_325.0, temperature_k)
        assert ours.density_kg_per_m3 == pytest.approx(mixture.rhomass(), rel=2e-3)


def _gas_phase() -> int:
    from CoolProp import iphase_gas

    return iphase_gas


def _pressure_and_temperature() -> int:
    from CoolProp import PT_INPUTS

    return PT_INPUTS


@pytest.mark.parametrize("gas", list(Gas))
@given(temperature_k=temperatures_k)
def test_the_pure_gases_conduct_and_resist_as_in_another_library(
    gas: Gas, temperature_k: float
) -> None:
    at = ("T", temperature_k, "P", NEAR_VACUUM_PA, FLUIDS[gas])
    assert gas_viscosity_pa_s(gas, temperature_k) == pytest.approx(PropsSI("V", *at), rel=1e-3)
    assert gas_conductivity_w_per_m_k(gas, temperature_k) == pytest.approx(
        PropsSI("L", *at), rel=2e-3
    )


@pytest.mark.parametrize("gas", list(Gas))
@given(temperature_k=st.floats(450.0, 1700.0))
def test_an_older_independent_set_of_fits_agrees(gas: Gas, temperature_k: float) -> None:
    assert gas_viscosity_pa_s(gas, temperature_k) == pytest.approx(
        cea(gas, "viscosity", temperature_k), rel=1.5e-2
    )
    assert gas_conductivity_w_per_m_k(gas, temperature_k) == pytest.approx(
        cea(gas, "conductivity", temperature_k), rel=6e-2
    )


@given(gas=gases, temperature_k=temperatures_k)
def test_another_library_mixes_the_same(gas: FlueGas, temperature_k: float) -> None:
    fractions = [fraction for _, fraction in gas.parts]
    masses = [MOLAR_MASS_G_PER_MOL[each] for each, _ in gas.parts]
    viscosities = [gas_viscosity_pa_s(each, temperature_k) for each, _ in gas.parts]
    conductivities = [gas_conductivity_w_per_m_k(each, temperature_k) for each, _ in gas.parts]
    properties = flue_gas_properties(gas, temperature_k)
    cases: list[tuple[float, float, Callable[..., float], list[float]]] = [
        (
            mixture_viscosity_pa_s(fractions, viscosities, masses),
            properties.viscosity_pa_s,
            Wilke,
            viscosities,
        ),
        (
            mixture_conductivity_w_per_m_k(fractions, conductivities, masses),
            properties.conductivity_w_per_m_k,
            Wassiljewa_Herning_Zipperer,
            conductivities,
        ),
    ]
    for mixed, of_gas, judge, pure in cases:
        assert mixed == of_gas
        assert mixed == pytest.approx(judge(fractions, pure, masses), rel=1e-10)


@given(gas=gases, low_k=temperatures_k, high_k=temperatures_k)
@settings(max_examples=40)
def test_enthalpy_is_the_integral_of_the_heat_capacity(
    gas: FlueGas, low_k: float, high_k: float
) -> None:
    integral, _ = quad(
        lambda t: flue_gas_properties(gas, t).cp_j_per_kg_k,
        low_k,
        high_k,
        points=[1000.0] if min(low_k, high_k) < 1000.0 < max(low_k, high_k) else None,
    )
    ours_kj = flue_gas_enthalpy_kj_per_kg(gas, high_k) - flue_gas_enthalpy_kj_per_kg(gas, low_k)
    assert 1e3 * ours_kj == pytest.approx(integral, rel=1e-6, abs=0.05)


@given(gas=gases, temperature_k=temperatures_k)
@settings(max_examples=40)
def test_the_table_of_the_march_gives_what_it_was_made_from(
    gas: FlueGas, temperature_k: float
) -> None:
    table, exact = build_gas_table(gas), flue_gas_properties(gas, temperature_k)
    viscosity_pa_s, conductivity_w_per_m_k = table.transport(temperature_k)
    assert viscosity_pa_s == pytest.approx(exact.viscosity_pa_s, rel=3e-6)
    assert conductivity_w_per_m_k == pytest.approx(exact.conductivity_w_per_m_k, rel=3e-6)
    assert table.cp_j_per_kg_k(temperature_k) == pytest.approx(exact.cp_j_per_kg_k, rel=1e-12)
    assert table.density_kg_per_m3(temperature_k) == pytest.approx(exact.density_kg_per_m3)
    assert table.enthalpy_j_per_kg(temperature_k) == pytest.approx(
        1e3 * flue_gas_enthalpy_kj_per_kg(gas, temperature_k)
    )


@pytest.mark.parametrize("temperature_k", [299.9, 1700.1, float("nan")])
def test_outside_300_to_1700_kelvin_it_refuses(temperature_k: float) -> None:
    gas = burn(fuel=Fuel.NATURAL_GAS, oxygen_percent=3.0).gas
    with pytest.raises(OutOfRange, match=r"temperature_k is .*, but must be 300 to 1700 K"):
        flue_gas_properties(gas, temperature_k)


def test_enthalpy_ends_where_the_polynomials_do() -> None:
    gas = burn(fuel=Fuel.NATURAL_GAS, oxygen_percent=3.0).gas
    with pytest.raises(OutOfRange, match=r"temperature_k is 199\.0, but must be 200 to 6000 K"):
        flue_gas_enthalpy_kj_per_kg(gas, 199.0)
