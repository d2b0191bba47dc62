"""Formulas of steam on the calculation desk: boiler horsepower and saturation.

Not here: the equations themselves (``model.thermal.steam``).
"""

from model.desk.formula import Computed, Formula, Inputs, Parameter
from model.desk.values import number
from model.thermal.steam import boiler_output, saturation_temperature_c


def _boiler_horsepower(inputs: Inputs) -> Computed:
    output = boiler_output(number(inputs, "bhp"))
    return Computed(result={"heat_kw": output.heat_kw, "steam_kg_per_h": output.steam_kg_per_h})


def _saturation(inputs: Inputs) -> Computed:
    temperature_c = saturation_temperature_c(
        pressure_mpa=number(inputs, "pressure_mpa"),
        atmosphere_mpa=number(inputs, "atmosphere_mpa"),
    )
    return Computed(result={"temperature_c": temperature_c})


BOILER_HORSEPOWER = Formula(
    name="boiler-horsepower",
    summary="heat and steam of a number of boiler horsepower",
    source="engineeringtoolbox.com/boiler-capacity-d_1115.html",
    parameters=(Parameter(name="bhp", unit="bhp", help="boiler horsepower", above=0.0),),
    compute=_boiler_horsepower,
    results={
        "heat_kw": "33,475 Btu/h for each",
        "steam_kg_per_h": "34.5 lb/h for each, from and at 212 degF",
    },
    notes=("Other published roundings of the heat run from 33,472 to 33,479 Btu/h.",),
)

SATURATION = Formula(
    name="saturation",
    summary="temperature at which water boils at a gauge pressure",
    source="IAPWS Industrial Formulation 1997 (IF97), region 4, backward equation",
    parameters=(
        Parameter(name="pressure_mpa", symbol="p", unit="MPa", help="gauge pressure"),
        Parameter(
            name="atmosphere_mpa",
            unit="MPa",
            help="absolute pressure of the air around",
            default=0.101325,
            above=0.0,
        ),
    ),
    compute=_saturation,
    results={"temperature_c": "saturation temperature, from 0 degC to the critical point"},
)

FORMULAS = (BOILER_HORSEPOWER, SATURATION)
