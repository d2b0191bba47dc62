"""Projections of tube ends and the force on a plug."""

import math

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import OutOfRange
from model.retube.plugs import plug_load_n
from model.retube.tube_ends import projection_band


@given(wall_mm=st.floats(0.1, 20.0), projection_mm=st.floats(0.0, 30.0))
def test_a_projection_is_within_exactly_when_it_meets_each_limit(
    wall_mm: float, projection_mm: float
) -> None:
    meets = (
        projection_mm >= wall_mm
        and projection_mm >= 3.175
        and projection_mm <= 2 * wall_mm
        and projection_mm <= 6.35
    )
    assert projection_band(wall_mm).holds(projection_mm) == meets


@pytest.mark.parametrize(
    ("wall_mm", "is_empty"),
    [(1.5, True), (1.5875, False), (2.667, False), (6.35, False), (6.4, True)],
)
def test_thin_and_thick_walls_have_no_band(wall_mm: float, is_empty: bool) -> None:
    assert projection_band(wall_mm).is_empty is is_empty


def test_the_band_of_a_sixteenth_is_one_point() -> None:
    band = projection_band(1.5875)
    assert band.minimum_mm == pytest.approx(band.maximum_mm)
    assert band.holds(3.175)
    assert not band.holds(3.2)


def test_an_end_without_a_wall_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"wall_mm is 0\.0, but must be above 0"):
        projection_band(0.0)


@given(bore_in=st.floats(0.5, 4.0), pressure_psi=st.floats(1.0, 500.0))
def test_the_force_on_a_plug_is_that_of_pint_in_other_units(
    bore_in: float, pressure_psi: float
) -> None:
    unit = PINT
    force = (pressure_psi * unit.psi) * math.pi / 4 * (bore_in * unit.inch) ** 2
    ours_n = plug_load_n(bore_mm=bore_in * 25.4, pressure_mpa=pressure_psi * 0.0068947572931683)
    assert ours_n == pytest.approx(force.to("newton").magnitude, rel=1e-9)


PINT = pint.UnitRegistry()


@pytest.mark.parametrize("name", ["bore_mm", "pressure_mpa"])
@pytest.mark.parametrize("value", [0.0, -1.0, float("nan")])
def test_no_plug_or_no_pressure_is_refused(name: str, value: float) -> None:
    inputs = {"bore_mm": 46.0, "pressure_mpa": 1.0, name: value}
    with pytest.raises(OutOfRange, match=f"{name} is {value}, but must be above 0"):
        plug_load_n(**inputs)
