"""Saturation against an independent steam table, boiler horsepower against a unit library."""

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from iapws import IAPWS97

from model.errors import OutOfRange
from model.thermal.steam import boiler_output, saturation_temperature_c, saturation_temperature_k
from model.units import KJ_PER_BTU, lb_from_kg

PINT = pint.UnitRegistry()


# From the triple point up; at its very ends the judge switches to other regions.
@given(absolute_mpa=st.floats(0.00062, 22.0))
def test_an_independent_steam_table_boils_water_at_the_same_temperature(
    absolute_mpa: float,
) -> None:
    judge_k = IAPWS97(P=absolute_mpa, x=0.5).T
    assert saturation_temperature_k(absolute_mpa) == pytest.approx(judge_k, abs=1e-6)


@given(pressure_mpa=st.floats(-0.1, 21.0), more=st.floats(1e-4, 0.9))
def test_more_pressure_boils_hotter(pressure_mpa: float, more: float) -> None:
    cooler_c = saturation_temperature_c(pressure_mpa=pressure_mpa)
    assert saturation_temperature_c(pressure_mpa=pressure_mpa + more) > cooler_c


def test_the_range_ends_where_water_freezes_and_where_it_stops_boiling() -> None:
    assert saturation_temperature_k(611.213e-6) == pytest.approx(273.15, abs=1e-3)
    assert saturation_temperature_k(22.064) == pytest.approx(647.096, abs=1e-3)


def test_a_mountain_boils_cooler() -> None:
    sea_c = saturation_temperature_c(pressure_mpa=0.7)
    assert saturation_temperature_c(pressure_mpa=0.7, atmosphere_mpa=0.08) < sea_c


@pytest.mark.parametrize("pressure_mpa", [-0.1008, 21.963, float("nan")])
def test_beyond_the_range_it_refuses_and_names_both_ends(pressure_mpa: float) -> None:
    with pytest.raises(OutOfRange, match=r"must be -0\.100713787 to 21\.962675 MPa gauge"):
        saturation_temperature_c(pressure_mpa=pressure_mpa)


def test_no_atmosphere_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"atmosphere_mpa is 0\.0, but must be above 0"):
        saturation_temperature_c(pressure_mpa=1.0, atmosphere_mpa=0.0)


@given(output_bhp=st.floats(0.1, 5000.0))
def test_a_unit_library_knows_the_same_boiler_horsepower(output_bhp: float) -> None:
    judge_kw = (output_bhp * PINT.boiler_horsepower).to("kilowatt").magnitude
    assert boiler_output(output_bhp).heat_kw == pytest.approx(judge_kw, rel=1e-4)


def test_the_heat_of_a_boiler_horsepower_is_that_of_its_steam() -> None:
    # 34.5 lb/h at the latent heat of the steam table, within 10 Btu/h of 33,475.
    latent_kj_per_kg = IAPWS97(P=0.101325, x=1).h - IAPWS97(P=0.101325, x=0).h
    output = boiler_output(1.0)
    heat_btu_per_h = output.steam_kg_per_h * latent_kj_per_kg / KJ_PER_BTU
    assert heat_btu_per_h == pytest.approx(output.heat_kw * 3600 / KJ_PER_BTU, abs=10)
    assert lb_from_kg(output.steam_kg_per_h) == pytest.approx(34.5)


@pytest.mark.parametrize("output_bhp", [0.0, -1.0, float("nan")])
def test_no_output_is_refused(output_bhp: float) -> None:
    with pytest.raises(OutOfRange, match=r"output_bhp is .*, but must be above 0"):
        boiler_output(output_bhp)
