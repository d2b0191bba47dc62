"""Every row of the TOML files beside this one, against the code.

A room adds its rows as a file, and for each new formula an entry in FORMULAS (or another module
with such a mapping, merged here) that takes the row's inputs in the units of the source.
"""

import math
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from model.tubesheet import faces, ligament, sizes, stayed_plate
from model.tubesheet.largest_circles import open_circles
from model.tubesheet.patterns import Pattern, tubes_on_pattern
from model.units import MM2_PER_IN2, inches_from_mm, mm_from_inches, mpa_from_psi, psi_from_mpa
from tests.published import gas_side, wall_and_retube


def _stayed_plate_psi(plate_in: float, pitch_in: float, stress_psi: float) -> float:
    return psi_from_mpa(
        stayed_plate.stayed_plate_pressure_mpa(
            plate_mm=mm_from_inches(plate_in),
            pitch_mm=mm_from_inches(pitch_in),
            stress_mpa=mpa_from_psi(stress_psi),
        )
    )


def _is_enough(pitch_in: float, hole_in: float, plate_in: float | None = None) -> int:
    plate_mm = None if plate_in is None else mm_from_inches(plate_in)
    return int(
        ligament.is_ligament_enough(
            pitch_mm=mm_from_inches(pitch_in), hole_mm=mm_from_inches(hole_in), plate_mm=plate_mm
        )
    )


def _span_of_three_in(pitch_in: float) -> float:
    pitch_mm = mm_from_inches(pitch_in)
    tubes = tubes_on_pattern(
        Pattern(kind="triangular", turn="upright", pitch_mm=pitch_mm),
        pass_=2,
        od_mm=0.7 * pitch_mm,
        shell_diameter_mm=16 * pitch_mm,
    )
    middle = (pitch_mm / 2, pitch_mm / math.sqrt(12))
    by_distance = sorted(tubes, key=lambda tube: math.dist((tube.x_mm, tube.y_mm), middle))
    removed = {tube.key: (tube.x_mm, tube.y_mm) for tube in by_distance[:3]}
    survivors = [(tube.x_mm, tube.y_mm) for tube in by_distance[3:]]
    (circle,) = open_circles(survivors, removed, 8 * pitch_mm)
    return inches_from_mm(circle.span_mm)


FORMULAS: dict[str, Callable[..., float]] = {
    "draught-area-in2": lambda od_in, wall_in: (
        sizes.draught_area_mm2(od_mm=mm_from_inches(od_in), wall_mm=mm_from_inches(wall_in))
        / MM2_PER_IN2
    ),
    "surface-ft2-per-ft": lambda od_in: (
        inches_from_mm(sizes.surface_mm2_per_mm(mm_from_inches(od_in))) / 12.0
    ),
    "ligament-efficiency": lambda pitch_in, hole_in, holes: ligament.ligament_efficiency(
        pitch_mm=mm_from_inches(pitch_in), hole_mm=mm_from_inches(hole_in), holes=holes
    ),
    "indian-minimum-ligament-in": lambda hole_in: inches_from_mm(
        ligament.indian_minimum_ligament_mm(mm_from_inches(hole_in))
    ),
    "indian-alternative-plate-in": lambda hole_in: inches_from_mm(
        ligament.indian_rule(mm_from_inches(hole_in)).alternative_plate_mm
    ),
    "indian-alternative-section-in2": lambda hole_in: (
        ligament.indian_rule(mm_from_inches(hole_in)).alternative_section_mm2 / MM2_PER_IN2
    ),
    "ligament-is-enough": _is_enough,
    "stayed-plate-psi": _stayed_plate_psi,
    "triangle-of-three-span-in": _span_of_three_in,
    "mirrored-column": faces.mirrored_column,
    "mirrored-clock-h": faces.mirrored_clock_h,
    "bwg-wall-in": lambda bwg: inches_from_mm(sizes.bwg_wall_mm(bwg)),
    "nearest-bwg": lambda wall_in: sizes.nearest_bwg(mm_from_inches(wall_in)).bwg,
    "is-bwg-size": lambda wall_in: int(sizes.nearest_bwg(mm_from_inches(wall_in)).is_that_gauge),
    "bore-in": lambda od_in, wall_in: inches_from_mm(
        sizes.bore_mm(od_mm=mm_from_inches(od_in), wall_mm=mm_from_inches(wall_in))
    ),
    **wall_and_retube.FORMULAS,
    **gas_side.FORMULAS,
}

FILES = sorted(Path(__file__).parent.glob("*.toml"))
ROWS = [row for path in FILES for row in tomllib.loads(path.read_text("utf-8"))["row"]]


@pytest.mark.parametrize("row", ROWS, ids=[row["name"] for row in ROWS])
def test_the_code_gives_the_published_value(row: dict[str, Any]) -> None:
    value = FORMULAS[row["formula"]](**row["inputs"])
    assert abs(value - row["expected"]) <= row["tolerance"], row["source"]


def test_every_row_names_its_source_and_why_this_tolerance() -> None:
    assert len(ROWS) > 150
    lacking = [row["name"] for row in ROWS if not (row["source"].strip() and row["why"].strip())]
    assert lacking == []


def test_no_two_rows_have_one_name() -> None:
    names = [row["name"] for row in ROWS]
    assert sorted(names) == sorted(set(names))


def test_no_formula_of_the_mapping_is_without_a_row() -> None:
    assert set(FORMULAS) == {row["formula"] for row in ROWS}
