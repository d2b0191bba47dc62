"""Formulas of the tube sheet on the calculation desk: ligament and stayed plate.

Not here: the equations themselves (``model.tubesheet``).
"""

from model.desk.formula import Computed, Formula, Inputs, Parameter, ResultValue
from model.desk.values import integer, number, optional_number
from model.tubesheet.ligament import (
    indian_rule,
    is_ligament_enough,
    ligament_efficiency,
    ligament_width_mm,
)
from model.tubesheet.stayed_plate import (
    default_c,
    stayed_plate_pitch_mm,
    stayed_plate_pressure_mpa,
)


def _ligament(inputs: Inputs) -> Computed:
    pitch_mm, hole_mm = number(inputs, "pitch_mm"), number(inputs, "hole_mm")
    plate_mm = optional_number(inputs, "plate_mm")
    efficiency = ligament_efficiency(
        pitch_mm=pitch_mm, hole_mm=hole_mm, holes=integer(inputs, "holes")
    )
    rule = indian_rule(hole_mm)
    result: dict[str, ResultValue] = {
        "efficiency": efficiency,
        "width_mm": ligament_width_mm(pitch_mm=pitch_mm, hole_mm=hole_mm),
        "minimum_mm": rule.minimum_mm,
    }
    notes: list[str] = []
    if plate_mm is None:
        notes.append(
            "Judged by the width alone; give --plate-mm to judge by the alternative as well."
        )
    else:
        result["alternative_plate_mm"] = rule.alternative_plate_mm
        result["alternative_section_mm2"] = rule.alternative_section_mm2
    if integer(inputs, "holes") > 1:
        notes.append("width_mm and is_enough are for one hole at this pitch.")
    is_enough = is_ligament_enough(pitch_mm=pitch_mm, hole_mm=hole_mm, plate_mm=plate_mm)
    result["is_enough"] = is_enough
    if not is_enough:
        notes.append("A narrow ligament is a note; it never refuses a layout.")
    return Computed(result=result, notes=tuple(notes))


def _stayed_plate(inputs: Inputs) -> Computed:
    plate_mm, stress_mpa = number(inputs, "plate_mm"), number(inputs, "stress_mpa")
    given_c = optional_number(inputs, "c")
    c = default_c(plate_mm) if given_c is None else given_c
    pitch_mm = optional_number(inputs, "pitch_mm")
    if pitch_mm is not None:
        pressure_mpa = stayed_plate_pressure_mpa(
            plate_mm=plate_mm, pitch_mm=pitch_mm, stress_mpa=stress_mpa, c=c
        )
        return Computed(result={"pressure_mpa": pressure_mpa, "c": c})
    permitted_mm = stayed_plate_pitch_mm(
        plate_mm=plate_mm,
        pressure_mpa=number(inputs, "pressure_mpa"),
        stress_mpa=stress_mpa,
        c=c,
    )
    return Computed(result={"pitch_mm": permitted_mm, "c": c})


LIGAMENT = Formula(
    name="ligament",
    summary="how much metal is left between tube holes, against the Indian rule",
    source=(
        "Efficiency: Indian Boiler Regulations 1950, Reg. 215 "
        "(dipp.gov.in/boiler_rules_updated/reg215.htm). Minimum and alternative: Reg. 580 "
        "(dpiit.gov.in/sites/default/files/boiler_rules_updated/reg580.htm)."
    ),
    parameters=(
        Parameter(
            name="pitch_mm",
            symbol="p",
            unit="mm",
            help="distance of hole centres, or the length the pattern repeats over",
            above=0.0,
        ),
        Parameter(name="hole_mm", symbol="d", unit="mm", help="diameter of a hole", above=0.0),
        Parameter(
            name="holes",
            symbol="n",
            kind="integer",
            help="holes in that length",
            default=1,
            at_least=1,
        ),
        Parameter(
            name="plate_mm",
            symbol="t",
            unit="mm",
            help="thickness of the plate, for the alternative",
            is_required=False,
            above=0.0,
        ),
    ),
    compute=_ligament,
    results={
        "efficiency": "(p - n d) / p",
        "width_mm": "p - d, for one hole",
        "minimum_mm": "d/8 + 12.7",
        "alternative_plate_mm": "0.125 d + 5.08 (with --plate-mm)",
        "alternative_section_mm2": "0.17 d + 0.025 in2 with d in inches, converted "
        "(with --plate-mm)",
        "is_enough": "whether the width, or else plate and section, meet the rule",
    },
)

STAYED_PLATE = Formula(
    name="stayed-plate",
    summary="pressure a flat stayed plate may carry, or the pitch its stays may have",
    source=(
        "P = t^2 S C / p^2: NBIC Part 2 S2.10.4 proposal NB12-1201 (studylib.net/doc/6759682). "
        "C: PG-46.1 values (powerengineering101.com/how-to-determine-stayed-surface)."
    ),
    parameters=(
        Parameter(name="plate_mm", symbol="t", unit="mm", help="thickness of the plate", above=0.0),
        Parameter(
            name="pitch_mm",
            symbol="p",
            unit="mm",
            help="largest pitch of the stays",
            is_required=False,
            above=0.0,
        ),
        Parameter(
            name="pressure_mpa",
            symbol="P",
            unit="MPa",
            help="gauge pressure, in place of the pitch",
            is_required=False,
            above=0.0,
        ),
        Parameter(
            name="stress_mpa",
            symbol="S",
            unit="MPa",
            help="allowable stress of the plate",
            above=0.0,
        ),
        Parameter(
            name="c",
            symbol="C",
            help="constant; 2.1 up to 11.1125 mm of plate and 2.2 above unless given",
            is_required=False,
            above=0.0,
        ),
    ),
    one_of=(("pitch_mm", "pressure_mpa"),),
    compute=_stayed_plate,
    results={
        "pressure_mpa": "gauge pressure the plate may carry (with --pitch-mm)",
        "pitch_mm": "largest pitch of the stays (with --pressure-mpa)",
        "c": "the constant used",
    },
    notes=(
        "For stays fixed through the plate. That expanded tubes hold a plate as stays do is not "
        "shown by these sources: an engineering flag, not a verdict.",
    ),
)

FORMULAS = (LIGAMENT, STAYED_PLATE)
