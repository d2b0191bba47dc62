"""Formulas of retubing on the calculation desk: plugs, expanding, tube ends.

Not here: the equations themselves (``model.retube``), and pressure tests
(``pressure_test_formulas``).
"""

from model.desk.formula import Computed, Formula, Inputs, Parameter
from model.desk.values import number, optional_number
from model.retube.expanding import (
    EXPANDING_SOURCE,
    contact_bore_mm,
    expansion_percent,
    target_bore_mm,
)
from model.retube.plugs import plug_load_n
from model.retube.tube_ends import TUBE_END_SOURCE, projection_band


def _plug_load(inputs: Inputs) -> Computed:
    force_n = plug_load_n(
        bore_mm=number(inputs, "bore_mm"), pressure_mpa=number(inputs, "pressure_mpa")
    )
    return Computed(result={"force_n": force_n})


def _expanding(inputs: Inputs) -> Computed:
    hole_mm, od_mm = number(inputs, "hole_mm"), number(inputs, "od_mm")
    wall_mm = number(inputs, "wall_mm")
    contact_mm = contact_bore_mm(hole_mm=hole_mm, od_mm=od_mm, wall_mm=wall_mm)
    rolled_mm = optional_number(inputs, "rolled_bore_mm")
    if rolled_mm is not None:
        percent = expansion_percent(
            hole_mm=hole_mm, od_mm=od_mm, wall_mm=wall_mm, rolled_bore_mm=rolled_mm
        )
        return Computed(result={"contact_bore_mm": contact_mm, "percent": percent})
    target_mm = target_bore_mm(
        hole_mm=hole_mm,
        od_mm=od_mm,
        wall_mm=wall_mm,
        target_percent=number(inputs, "target_percent"),
    )
    return Computed(result={"contact_bore_mm": contact_mm, "target_bore_mm": target_mm})


def _tube_end(inputs: Inputs) -> Computed:
    band = projection_band(number(inputs, "wall_mm"))
    notes: tuple[str, ...] = ()
    if band.is_empty:
        notes = (
            "The band is empty: an end of this wall cannot meet the rule in a hole without bevel "
            "or recess.",
        )
    return Computed(
        result={
            "minimum_mm": band.minimum_mm,
            "maximum_mm": band.maximum_mm,
            "is_within": band.holds(number(inputs, "projection_mm")),
        },
        notes=notes,
    )


_WALL = Parameter(name="wall_mm", symbol="t", unit="mm", help="wall of the tube", above=0.0)

PLUG_LOAD = Formula(
    name="plug-load",
    summary="force of the water on a plug",
    source=(
        "statics, pressure x area; that water reaches the fire side and pushes on both plugs: "
        "Boiler Operator's Handbook, 2nd edition, p. 220"
    ),
    parameters=(
        Parameter(
            name="bore_mm", symbol="d", unit="mm", help="diameter that the plug closes", above=0.0
        ),
        Parameter(name="pressure_mpa", symbol="P", unit="MPa", help="gauge pressure", above=0.0),
    ),
    compute=_plug_load,
    results={"force_n": "P pi/4 d^2, without the preload of a rod"},
)

EXPANDING = Formula(
    name="expanding",
    summary="wall reduction of a rolled tube end, or the bore to roll to",
    source=EXPANDING_SOURCE,
    parameters=(
        Parameter(name="hole_mm", unit="mm", help="hole in the sheet", above=0.0),
        Parameter(name="od_mm", symbol="OD", unit="mm", help="outside diameter", above=0.0),
        _WALL,
        Parameter(
            name="rolled_bore_mm",
            unit="mm",
            help="bore after rolling",
            is_required=False,
            above=0.0,
        ),
        Parameter(
            name="target_percent",
            unit="%",
            help="wanted wall reduction, in place of the rolled bore",
            is_required=False,
            at_least=0.0,
        ),
    ),
    one_of=(("rolled_bore_mm", "target_percent"),),
    compute=_expanding,
    results={
        "contact_bore_mm": "bore when the tube just touches the hole: OD - 2 t + hole - OD",
        "percent": "(rolled - contact) / (2 t) x 100 (with --rolled-bore-mm)",
        "target_bore_mm": "contact + 2 t x percent / 100 (with --target-percent)",
    },
    notes=(
        "Published targets disagree (5 to 10, 7 to 8, 12 to 14 %), so there is no default; rolling "
        "further than needed loosens the neighbours.",
    ),
)

TUBE_END = Formula(
    name="tube-end",
    summary="how far a fire-tube end may stand out of a sheet without bevel or recess",
    source=TUBE_END_SOURCE,
    parameters=(
        _WALL,
        Parameter(name="projection_mm", unit="mm", help="how far the end stands out", at_least=0.0),
    ),
    compute=_tube_end,
    results={
        "minimum_mm": "max(t, 1/8 in)",
        "maximum_mm": "min(2 t, 1/4 in)",
        "is_within": "whether the projection lies between them",
    },
)

FORMULAS = (PLUG_LOAD, EXPANDING, TUBE_END)
