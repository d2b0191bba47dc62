"""Formulas of the plain tube on the calculation desk: gauge and weight.

Not here: the tables themselves (``model.tubesheet.sizes``).
"""

from model.desk.formula import Computed, Formula, Inputs, Parameter
from model.desk.values import number, optional_integer
from model.tubesheet.sizes import bwg_wall_mm, nearest_bwg, tube_mass_kg, wall_in


def _gauge(inputs: Inputs) -> Computed:
    bwg = optional_integer(inputs, "bwg")
    if bwg is not None:
        wall_mm = bwg_wall_mm(bwg)
        return Computed(result={"wall_mm": wall_mm, "wall_in": wall_in(wall_mm)})
    wall_mm = number(inputs, "wall_mm")
    match = nearest_bwg(wall_mm)
    notes: tuple[str, ...] = ()
    if not match.is_that_gauge:
        notes = (
            f"A wall of {wall_mm:g} mm ({wall_in(wall_mm):.3f} in) is no Birmingham gauge; the "
            f"nearest, {match.bwg}, is {match.wall_mm:.3f} mm. Gauge numbers of sheet steel are "
            "another list: order by thickness, not by gauge.",
        )
    return Computed(
        result={
            "wall_mm": wall_mm,
            "wall_in": wall_in(wall_mm),
            "nearest_bwg": match.bwg,
            "nearest_mm": match.wall_mm,
            "difference_mm": match.difference_mm,
        },
        notes=notes,
    )


def _tube_weight(inputs: Inputs) -> Computed:
    mass_kg = tube_mass_kg(
        od_mm=number(inputs, "od_mm"),
        wall_mm=number(inputs, "wall_mm"),
        length_mm=number(inputs, "length_mm"),
        density_kg_per_m3=number(inputs, "density_kg_per_m3"),
    )
    return Computed(result={"mass_kg": mass_kg})


GAUGE = Formula(
    name="gauge",
    summary="wall of a Birmingham gauge (BWG), or the gauge nearest to a wall",
    source="engineeringtoolbox.com, Birmingham Wire Gauge; Holtzapffel's table agrees.",
    parameters=(
        Parameter(
            name="bwg",
            kind="integer",
            help="gauge number",
            is_required=False,
            at_least=7,
            at_most=20,
        ),
        Parameter(
            name="wall_mm",
            symbol="t",
            unit="mm",
            help="wall thickness",
            is_required=False,
            above=0.0,
        ),
    ),
    one_of=(("bwg", "wall_mm"),),
    compute=_gauge,
    results={
        "wall_mm": "wall",
        "wall_in": "the same in inches",
        "nearest_bwg": "nearest gauge (with --wall-mm)",
        "nearest_mm": "wall of that gauge (with --wall-mm)",
        "difference_mm": "given wall minus nearest (with --wall-mm)",
    },
)

TUBE_WEIGHT = Formula(
    name="tube-weight",
    summary="mass of a plain tube",
    source="geometry: pi (D - t) t L rho",
    parameters=(
        Parameter(name="od_mm", symbol="D", unit="mm", help="outside diameter", above=0.0),
        Parameter(name="wall_mm", symbol="t", unit="mm", help="wall", above=0.0),
        Parameter(name="length_mm", symbol="L", unit="mm", help="length", above=0.0),
        Parameter(
            name="density_kg_per_m3",
            symbol="rho",
            unit="kg/m3",
            help="density; steel unless given",
            default=7850.0,
            above=0.0,
        ),
    ),
    compute=_tube_weight,
    results={"mass_kg": "mass at the given wall; tubes ordered by minimum wall weigh more"},
)

FORMULAS = (GAUGE, TUBE_WEIGHT)
