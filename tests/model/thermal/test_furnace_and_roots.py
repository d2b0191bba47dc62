"""The furnace's law and the search for roots that the boiler needs."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from model.errors import OutOfRange
from model.thermal.bracketed_root import bracketed_root
from model.thermal.combustion import FUELS, Fuel, burn, latent_loss_percent
from model.thermal.flue_gas import flue_gas_enthalpy_kj_per_kg
from model.thermal.furnace import adiabatic_k, furnace_law_of_exit, furnace_law_of_surface
from model.thermal.gas_table import build_gas_table

BURNT = burn(fuel=Fuel.NATURAL_GAS, oxygen_percent=3.0)
TABLE = build_gas_table(BURNT.gas)
FLAME_K = adiabatic_k(TABLE, fuel=Fuel.NATURAL_GAS, burnt=BURNT, air_c=25.0)


@given(power=st.floats(0.3, 4.0), root=st.floats(0.1, 9.0))
def test_another_solver_finds_the_same_root(power: float, root: float) -> None:
    def miss(x: float) -> float:
        return math.pow(x, power) - math.pow(root, power)

    found = bracketed_root(miss, 0.01, 10.0, tolerance=1e-12)
    assert found == pytest.approx(brentq(miss, 0.01, 10.0), rel=1e-6)


def test_a_root_at_a_bound_is_found_and_no_change_of_sign_is_a_bug() -> None:
    assert bracketed_root(lambda x: x, 0.0, 1.0, tolerance=1e-9) == 0.0
    assert bracketed_root(lambda x: x - 1.0, 0.0, 1.0, tolerance=1e-9) == 1.0
    with pytest.raises(ValueError, match=r"no change of sign between 1\.0 and 2\.0"):
        bracketed_root(lambda x: x, 1.0, 2.0, tolerance=1e-9)


def test_the_flame_has_the_fuels_heat_less_the_latent_heat() -> None:
    data = FUELS[Fuel.NATURAL_GAS]
    rise_kj = flue_gas_enthalpy_kj_per_kg(BURNT.gas, FLAME_K) - flue_gas_enthalpy_kj_per_kg(
        BURNT.gas, 298.15
    )
    lower_kj = data.heating_value_kj_per_kg * (1 - latent_loss_percent(Fuel.NATURAL_GAS) / 100)
    assert BURNT.gas_kg_per_kg * rise_kj == pytest.approx(lower_kj, rel=1e-9)
    # Without dissociation and with no excess air, 2,325 to 2,330 K is the common figure (memory).
    exact = burn(fuel=Fuel.NATURAL_GAS, oxygen_percent=0.0)
    no_excess = build_gas_table(exact.gas)
    assert adiabatic_k(no_excess, fuel=Fuel.NATURAL_GAS, burnt=exact, air_c=25.0) == pytest.approx(
        2328.0, abs=10.0
    )


@given(exit_c=st.floats(500.0, 1300.0), gas_kg_s=st.floats(0.2, 5.0))
def test_a_given_exit_comes_back_and_more_fire_leaves_hotter(
    exit_c: float, gas_kg_s: float
) -> None:
    law = furnace_law_of_exit(TABLE, adiabatic_k=FLAME_K, gas_kg_s=gas_kg_s, exit_c=exit_c)
    assert law.exit_k(gas_kg_s) == pytest.approx(exit_c + 273.15, abs=1e-3)
    assert law.gas_kg_s_at(exit_c + 273.15) == pytest.approx(gas_kg_s, rel=1e-6)
    assert law.exit_k(1.1 * gas_kg_s) > law.exit_k(gas_kg_s) > law.exit_k(0.9 * gas_kg_s)


def test_the_exit_follows_the_power_of_the_flow() -> None:
    law = furnace_law_of_exit(TABLE, adiabatic_k=FLAME_K, gas_kg_s=1.0, exit_c=980.0)
    half_k = law.exit_k(0.5)

    def capacity(gas_kg_s: float, exit_k: float) -> float:
        fall_kj = flue_gas_enthalpy_kj_per_kg(BURNT.gas, FLAME_K) - flue_gas_enthalpy_kj_per_kg(
            BURNT.gas, exit_k
        )
        return gas_kg_s * fall_kj / (FLAME_K - exit_k)

    less = capacity(0.5, half_k) / capacity(1.0, 1253.15)
    assert (FLAME_K / half_k - 1) / (FLAME_K / 1253.15 - 1) == pytest.approx(less**-0.6, rel=1e-6)


@pytest.mark.parametrize("is_mirrored", [False, True])
def test_few_calls_find_a_root_that_false_position_alone_creeps_to(is_mirrored: bool) -> None:
    calls, root = 0, 1e-3 ** (1 / 9)

    def steep(x: float) -> float:
        nonlocal calls
        calls += 1
        return (4.0 - x if is_mirrored else x) ** 9 - 1e-3

    found = bracketed_root(steep, 0.0, 4.0, tolerance=1e-9)
    assert found == pytest.approx(4.0 - root if is_mirrored else root)
    assert calls < 60


def test_an_estimated_furnace_of_usual_load_leaves_gas_as_furnaces_do() -> None:
    # A furnace of 0.9 m by 4 m at 2.5 MW: common practice is about 900 to 1200 degC.
    law = furnace_law_of_surface(TABLE, fuel=Fuel.NATURAL_GAS, adiabatic_k=FLAME_K, surface_m2=11.9)
    assert 900.0 < law.exit_k(1.24) - 273.15 < 1200.0
    larger = furnace_law_of_surface(
        TABLE, fuel=Fuel.NATURAL_GAS, adiabatic_k=FLAME_K, surface_m2=14.0
    )
    assert larger.exit_k(1.24) < law.exit_k(1.24)
    assert law.exit_k(law.highest_gas_kg_s) == pytest.approx(1699.0, abs=1e-3)


def test_a_furnace_that_cannot_be_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"furnace_surface_m2 is 0\.0, but must be above 0"):
        furnace_law_of_surface(TABLE, fuel=Fuel.LIGHT_OIL, adiabatic_k=FLAME_K, surface_m2=0.0)
    for exit_c in (100.0, 1500.0, float("nan")):
        with pytest.raises(OutOfRange, match=r"furnace_exit_c is .* above 227 and at most 1426"):
            furnace_law_of_exit(TABLE, adiabatic_k=FLAME_K, gas_kg_s=1.0, exit_c=exit_c)
    law = furnace_law_of_exit(TABLE, adiabatic_k=FLAME_K, gas_kg_s=1.0, exit_c=600.0)
    with pytest.raises(OutOfRange, match=r"gas_kg_s is 0\.001, but must be enough to leave"):
        law.exit_k(0.001)
