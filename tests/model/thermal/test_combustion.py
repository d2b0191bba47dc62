"""Burning: elements are conserved, oxygen comes back, and efficiencies lie where they must."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import OutOfRange
from model.thermal.combustion import (
    FUELS,
    Fuel,
    burn,
    combustion_efficiency_percent,
    excess_air_percent,
    fuel_saved_gj,
    latent_loss_percent,
)
from model.thermal.efficiency_table import (
    EFFICIENCY_PERCENT,
    NET_F,
    published_efficiency_percent,
)
from model.thermal.gas_species import CARBON_G_PER_MOL, MOLAR_MASS_G_PER_MOL, Gas

fuels = st.sampled_from(Fuel)
oxygens = st.floats(0.0, 20.0)


@given(fuel=fuels, oxygen_percent=oxygens)
def test_the_dry_gas_has_the_oxygen_that_was_measured(fuel: Fuel, oxygen_percent: float) -> None:
    gas = burn(fuel=fuel, oxygen_percent=oxygen_percent).gas
    assert 100.0 * gas.o2 / (1.0 - gas.h2o) == pytest.approx(oxygen_percent, abs=1e-9)


@given(fuel=fuels, oxygen_percent=oxygens)
def test_nothing_is_gained_or_lost_in_burning(fuel: Fuel, oxygen_percent: float) -> None:
    burnt, data = burn(fuel=fuel, oxygen_percent=oxygen_percent), FUELS[fuel]
    assert burnt.gas_kg_per_kg == pytest.approx(burnt.air_kg_per_kg + 1.0, rel=1e-12)
    carbon_kg = burnt.gas.co2 * burnt.gas_kg_per_kg / burnt.gas.molar_mass_g_per_mol
    assert carbon_kg * 1e3 == pytest.approx(data.carbon_mol_per_kg, rel=1e-12)
    assert sum(fraction for _, fraction in burnt.gas.parts) == pytest.approx(1.0)
    assert data.carbon_mol_per_kg * CARBON_G_PER_MOL < 1e3


def test_air_without_fuel_left_over_burns_methane_in_ten_volumes() -> None:
    burnt = burn(fuel=Fuel.NATURAL_GAS, oxygen_percent=0.0)
    assert burnt.excess_air_percent == 0.0
    assert burnt.gas.o2 == 0.0
    assert burnt.gas.h2o == pytest.approx(2.0 * burnt.gas.co2)
    # CH4 + 2 O2: 2/0.2095 volumes of air for each of fuel.
    assert burnt.gas.n2 / burnt.gas.co2 == pytest.approx(2.0 * 0.7905 / 0.2095)


@given(fuel=fuels, one=st.floats(0.0, 20.9), more=st.floats(1e-3, 0.04))
def test_more_oxygen_is_more_air_and_less_efficiency(fuel: Fuel, one: float, more: float) -> None:
    assert excess_air_percent(fuel=fuel, oxygen_percent=one + more) > excess_air_percent(
        fuel=fuel, oxygen_percent=one
    )
    worse, better = (
        combustion_efficiency_percent(fuel=fuel, oxygen_percent=each, stack_c=220.0, air_c=20.0)
        for each in (one + more, one)
    )
    assert worse < better


@given(fuel=fuels, stack_c=st.floats(30.0, 1400.0), oxygen_percent=oxygens)
def test_a_cold_stack_loses_the_latent_heat_alone_and_a_hotter_one_more(
    fuel: Fuel, stack_c: float, oxygen_percent: float
) -> None:
    cold = combustion_efficiency_percent(
        fuel=fuel, oxygen_percent=oxygen_percent, stack_c=25.0, air_c=25.0
    )
    assert cold == pytest.approx(100.0 - latent_loss_percent(fuel), rel=1e-12)
    assert (
        combustion_efficiency_percent(
            fuel=fuel, oxygen_percent=oxygen_percent, stack_c=stack_c, air_c=25.0
        )
        < cold
    )


def test_the_higher_heating_value_less_the_latent_heat_is_methanes_lower_one() -> None:
    # 802.6 kJ/mol, a common figure from memory.
    data = FUELS[Fuel.NATURAL_GAS]
    molar_kj = data.heating_value_kj_per_kg / data.carbon_mol_per_kg
    assert molar_kj * (1.0 - latent_loss_percent(Fuel.NATURAL_GAS) / 100.0) == pytest.approx(
        802.6, abs=0.1
    )
    assert MOLAR_MASS_G_PER_MOL[Gas.CO2] == pytest.approx(44.01, abs=0.01)


@given(oxygen_percent=st.floats(2.0, 10.0), net_f=st.floats(200.0, 600.0))
def test_between_cells_the_table_lies_between_them_and_below_first_principles(
    oxygen_percent: float, net_f: float
) -> None:
    value = published_efficiency_percent(oxygen_percent=oxygen_percent, net_k=net_f / 1.8)
    rows = sorted(EFFICIENCY_PERCENT)
    below = max(each for each in rows[:-1] if each <= oxygen_percent)
    column = max(i for i in range(len(NET_F) - 1) if NET_F[i] <= net_f)
    cells = [
        EFFICIENCY_PERCENT[row][at]
        for row in (below, rows[rows.index(below) + 1])
        for at in (column, column + 1)
    ]
    assert min(cells) - 1e-9 <= value <= max(cells) + 1e-9
    first = combustion_efficiency_percent(
        fuel=Fuel.NATURAL_GAS, oxygen_percent=oxygen_percent, stack_c=25.0 + net_f / 1.8
    )
    assert 0.2 < first - value < 0.9


@pytest.mark.parametrize(
    ("oxygen_percent", "net_k", "words"),
    [
        (1.99, 200.0, "oxygen_percent is 1.99, but must be 2 to 10 % for the published table"),
        (10.01, 200.0, "oxygen_percent is 10.01, but must be 2 to 10 %"),
        (3.0, 111.0, r"net_k is 111.0, but must be 111.1 to 333.3 K \(200 to 600 degF\)"),
        (3.0, 333.4, "net_k is 333.4, but must be 111.1 to 333.3 K"),
        (float("nan"), 200.0, "oxygen_percent is nan"),
        (3.0, float("nan"), "net_k is nan"),
    ],
)
def test_outside_the_table_it_refuses(oxygen_percent: float, net_k: float, words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        published_efficiency_percent(oxygen_percent=oxygen_percent, net_k=net_k)


@pytest.mark.parametrize(("net_k", "cell"), [(111.1, 85.2), (333.34, 75.4)])
def test_an_edge_rounded_in_kelvins_is_still_the_edge(net_k: float, cell: float) -> None:
    assert published_efficiency_percent(oxygen_percent=3.0, net_k=net_k) == pytest.approx(
        cell, abs=1e-3
    )


@pytest.mark.parametrize("oxygen_percent", [-0.1, 20.95, 30.0, float("nan")])
def test_oxygen_of_air_or_more_is_no_flue_gas(oxygen_percent: float) -> None:
    with pytest.raises(OutOfRange, match=r"oxygen_percent is .* at least 0 and below 20\.95 %"):
        burn(fuel=Fuel.LIGHT_OIL, oxygen_percent=oxygen_percent)


def test_a_stack_colder_than_its_air_and_arctic_air_are_refused() -> None:
    def efficiency(stack_c: float, air_c: float) -> float:
        return combustion_efficiency_percent(
            fuel=Fuel.NATURAL_GAS, oxygen_percent=3.0, stack_c=stack_c, air_c=air_c
        )

    with pytest.raises(
        OutOfRange, match=r"stack_c is 20\.0, but must be from the air's 25 to 1426"
    ):
        efficiency(20.0, 25.0)
    with pytest.raises(OutOfRange, match=r"air_c is -61\.0, but must be -60 to 400 degC"):
        efficiency(200.0, -61.0)


def test_fuel_saved_refuses_what_no_boiler_has() -> None:
    with pytest.raises(OutOfRange, match=r"to_percent is 101\.0, but must be above 0 and at most"):
        fuel_saved_gj(fuel_gj=1.0, from_percent=80.0, to_percent=101.0)
    with pytest.raises(OutOfRange, match=r"fuel_gj is -1\.0, but must be at least 0"):
        fuel_saved_gj(fuel_gj=-1.0, from_percent=80.0, to_percent=81.0)
