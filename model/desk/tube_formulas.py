"""Formulas of the plain tube on the calculation desk: gauge.

Not here: the tables themselves (``model.tubesheet.sizes``).
"""

from model.desk.formula import Computed, Formula, Inputs, Parameter
from model.desk.values import number, optional_integer
from model.tubesheet.sizes import bwg_wall_mm, nearest_bwg, wall_in


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

FORMULAS = (GAUGE,)
