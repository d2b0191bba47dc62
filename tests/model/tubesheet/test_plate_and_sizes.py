"""Ligament, stayed plate and tube sizes beyond the published rows."""

import math

import pytest
from fluids.piping import gauge_from_t, t_from_gauge
from hypothesis import given
from hypothesis import strategies as st

from model.errors import OutOfRange
from model.tubesheet import ligament, sizes
from model.tubesheet.stayed_plate import (
    C_SWITCH_MM,
    default_c,
    stayed_plate_pitch_mm,
    stayed_plate_pressure_mpa,
)

sizes_mm = st.floats(1.0, 100.0)


@given(plate_mm=sizes_mm, pitch_mm=st.floats(10.0, 2000.0), stress_mpa=st.floats(10.0, 300.0))
def test_the_pitch_permitted_at_the_permitted_pressure_is_the_pitch(
    plate_mm: float, pitch_mm: float, stress_mpa: float
) -> None:
    pressure_mpa = stayed_plate_pressure_mpa(
        plate_mm=plate_mm, pitch_mm=pitch_mm, stress_mpa=stress_mpa
    )
    back_mm = stayed_plate_pitch_mm(
        plate_mm=plate_mm, pressure_mpa=pressure_mpa, stress_mpa=stress_mpa
    )
    assert math.isclose(back_mm, pitch_mm, rel_tol=1e-12)


@given(plate_mm=sizes_mm, thinner=st.floats(0.1, 0.999), pitch_mm=st.floats(10.0, 2000.0))
def test_a_thinner_plate_never_carries_more(
    plate_mm: float, thinner: float, pitch_mm: float
) -> None:
    def pressure_mpa(thickness_mm: float) -> float:
        return stayed_plate_pressure_mpa(plate_mm=thickness_mm, pitch_mm=pitch_mm, stress_mpa=95.0)

    assert pressure_mpa(plate_mm * thinner) < pressure_mpa(plate_mm)


def test_the_constant_changes_above_seven_sixteenths_of_an_inch() -> None:
    assert pytest.approx(11.1125) == C_SWITCH_MM
    assert (default_c(11.1125), default_c(11.113)) == (2.1, 2.2)


def test_a_given_constant_is_used() -> None:
    pressure_mpa = stayed_plate_pressure_mpa(plate_mm=10.0, pitch_mm=100.0, stress_mpa=100.0, c=2.5)
    assert pressure_mpa == 2.5


@pytest.mark.parametrize("name", ["plate_mm", "pitch_mm", "stress_mpa", "c"])
@pytest.mark.parametrize("value", [0.0, -1.0, float("nan")])
def test_a_stayed_plate_of_nothing_is_refused(name: str, value: float) -> None:
    inputs = {"plate_mm": 12.0, "pitch_mm": 100.0, "stress_mpa": 95.0, "c": 2.1, name: value}
    with pytest.raises(OutOfRange, match=f"{name} is {value}, but must be above 0"):
        stayed_plate_pressure_mpa(**inputs)


def test_a_pressure_of_nothing_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"pressure_mpa is 0\.0"):
        stayed_plate_pitch_mm(plate_mm=12.0, pressure_mpa=0.0, stress_mpa=95.0)


@pytest.mark.parametrize(
    ("inputs", "words"),
    [
        ({"pitch_mm": 0.0, "hole_mm": 50.0}, "pitch_mm is 0.0"),
        ({"pitch_mm": 70.0, "hole_mm": -1.0}, "hole_mm is -1.0"),
        ({"pitch_mm": 70.0, "hole_mm": 70.0}, "hole_mm is 70.0"),
        ({"pitch_mm": 70.0, "hole_mm": 40.0, "holes": 2}, "hole_mm is 40.0.* 35.0"),
        ({"pitch_mm": 70.0, "hole_mm": 40.0, "holes": 0}, "holes is 0"),
    ],
)
def test_holes_that_leave_no_metal_are_refused(inputs: dict[str, float], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        ligament.ligament_efficiency(**inputs)


@given(hole_mm=st.floats(10.0, 110.0), pitch_mm=st.floats(120.0, 300.0), plate_mm=sizes_mm)
def test_a_plate_can_only_help_a_ligament(hole_mm: float, pitch_mm: float, plate_mm: float) -> None:
    alone = ligament.is_ligament_enough(pitch_mm=pitch_mm, hole_mm=hole_mm)
    helped = ligament.is_ligament_enough(pitch_mm=pitch_mm, hole_mm=hole_mm, plate_mm=plate_mm)
    assert helped or not alone


@pytest.mark.parametrize("bwg", sorted(sizes.BWG_WALL_IN))
def test_gauges_agree_with_an_independent_table(bwg: int) -> None:
    assert sizes.BWG_WALL_IN[bwg] == pytest.approx(t_from_gauge(bwg, SI=False, schedule="BWG"))
    match = sizes.nearest_bwg(sizes.bwg_wall_mm(bwg))
    assert (match.bwg, match.difference_mm, match.is_that_gauge) == (bwg, 0.0, True)


def test_a_sheet_gauge_is_told_from_the_nearest_tube_gauge() -> None:
    match = sizes.nearest_bwg(0.105 * 25.4)
    assert match.bwg == gauge_from_t(0.105, SI=False, schedule="BWG") == 12
    assert match.difference_mm == pytest.approx(-0.004 * 25.4)
    assert not match.is_that_gauge


@pytest.mark.parametrize("wall_mm", [0.0, 0.5, 6.0, float("nan")])
def test_a_wall_far_from_every_gauge_is_refused(wall_mm: float) -> None:
    with pytest.raises(OutOfRange, match=r"wall_mm is .*0\.80 to 5\.03"):
        sizes.nearest_bwg(wall_mm)


def test_a_gauge_that_the_table_lacks_is_refused() -> None:
    with pytest.raises(OutOfRange, match="bwg is 21, but must be 7 to 20"):
        sizes.bwg_wall_mm(21)


@pytest.mark.parametrize(("od_mm", "wall_mm"), [(0.0, 1.0), (50.0, 25.0), (50.0, -1.0)])
def test_a_tube_without_a_bore_is_refused(od_mm: float, wall_mm: float) -> None:
    with pytest.raises(OutOfRange, match="_mm is "):
        sizes.bore_mm(od_mm=od_mm, wall_mm=wall_mm)


def test_handbook_surfaces_are_the_circumference() -> None:
    for row in sizes.TUBE_SIZES:
        surface_ft = sizes.surface_mm2_per_mm(row.od_in * 25.4) / 25.4 / 12
        assert surface_ft == pytest.approx(row.surface_ft2_per_ft, abs=1e-4)


@given(wall_mm=st.floats(0.5, 6.0), thinner=st.floats(0.1, 0.999), length_mm=st.floats(1.0, 9000.0))
def test_a_tube_weighs_what_a_rod_weighs_less_its_bore(
    wall_mm: float, thinner: float, length_mm: float
) -> None:
    def mass_kg(thickness_mm: float) -> float:
        return sizes.tube_mass_kg(od_mm=50.8, wall_mm=thickness_mm, length_mm=length_mm)

    section_mm2 = math.pi / 4 * (50.8**2 - (50.8 - 2 * wall_mm) ** 2)
    assert mass_kg(wall_mm) == pytest.approx(section_mm2 * length_mm * 7850e-9)
    assert mass_kg(wall_mm * thinner) < mass_kg(wall_mm)


@pytest.mark.parametrize("name", ["length_mm", "density_kg_per_m3"])
def test_a_tube_without_length_or_density_has_no_mass(name: str) -> None:
    inputs = {"od_mm": 50.8, "wall_mm": 2.4, "length_mm": 100.0, name: 0.0}
    with pytest.raises(OutOfRange, match=rf"{name} is 0\.0, but must be above 0"):
        sizes.tube_mass_kg(**inputs)
