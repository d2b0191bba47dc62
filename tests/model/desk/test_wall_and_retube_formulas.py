"""The desk's formulas of walls, many tubes, retubing, pressure tests, steam and money.

Their numbers are checked in the tests of the rooms they live in and in the published rows; here:
names, keys, notes and refusals as the command line gives them.
"""

import json
import re

import pytest

from model.desk.catalogue import find, formulas, run
from model.errors import ModelError

PITS = ".31,.35,.38,.40,.42,.45,.47,.50,.53,.56,.60,.65,.71,.80"
LIFE = {
    "first_mm": "3.0",
    "first": "2016-06-01",
    "last_mm": "2.2",
    "last": "2024-06-01",
    "retirement_mm": "1.8",
}
PREVIOUS = {"previous_mm": "2.6", "previous": "2022-06-01"}
JOINT = {"hole_mm": "51.587", "od_mm": "50.8", "wall_mm": "3.4036"}
WALL = {"od_mm": "50.8", "pressure_mpa": "1.03421"}
HYDRO = {"mawp_mpa": "1.0"}
HOLD = {"start_mpa": "1.55", "end_mpa": "1.4"}
APPROX = {"rel": 1e-4}

# name, values as typed, result
WORKED = [
    ("boiler-horsepower", {"bhp": "100"}, {"heat_kw": 981.055, "steam_kg_per_h": 1564.894}),
    ("saturation", {"pressure_mpa": "1.034214"}, {"temperature_c": 185.4846}),
    (
        "saturation",
        {"pressure_mpa": "0.9", "atmosphere_mpa": "0.1"},
        {"temperature_c": 453.035632 - 273.15},
    ),
    (
        "tube-weight",
        {"od_mm": "50.8", "wall_mm": "2.413", "length_mm": "304.8"},
        {"mass_kg": 0.877648},
    ),
    (
        "required-wall",
        {**WALL, "rule": "us-historic"},
        {"wall_mm": 2.1953, "other_rules": {"lloyds-table": None}},
    ),
    (
        "required-wall",
        {**WALL, "rule": "us-historic", "allowance_mm": "0.5"},
        {"wall_mm": 2.6953, "other_rules": {"lloyds-table": None}},
    ),
    (
        "required-wall",
        {"od_mm": "51", "pressure_mpa": "1.48", "rule": "lloyds-table", "allowance_mm": "0.5"},
        {"wall_mm": 3.75, "other_rules": {"us-historic": 2.9330}},
    ),
    (
        "external-pressure",
        {"od_mm": "50.8", "wall_mm": "1.27", "yield_mpa": "280"},
        {"factor_a": 0.0006875, "pressure_mpa": 2.29107},
    ),
    ("plug-load", {"bore_mm": "45.974", "pressure_mpa": "1.034214"}, {"force_n": 1716.82}),
    (
        "wall-life",
        {**LIFE, **PREVIOUS, "legal_years": "0.5"},
        {
            "long_term_mm_per_year": 0.1,
            "short_term_mm_per_year": 0.199863,
            "governing_mm_per_year": 0.199863,
            "remaining_life_years": 2.00137,
            "thinning_allows_years": 0.5,
        },
    ),
    (
        "weibull",
        {"failures": "1.2,2.5,3.1,4.0,5.6", "running": "6,6,6,6,6"},
        {"beta": 1.6436, "eta": 7.3964, "log_likelihood": -15.52358},
    ),
    (
        "weibull",
        {"intervals": "0:1x4,1:2x5,2:3x2", "running": "3x95,2x95,1x99"},
        {"beta": 1.3455, "eta": 23.620, "log_likelihood": -54.4147},
    ),
    (
        "worst-wall",
        {"losses": PITS, "tubes": "300"},
        {"mu": 0.44488, "sigma": 0.110667, "worst_mm": 1.0761, "bound95_mm": 1.4048},
    ),
    # beta = 2 / (ln 4 + ln 2); scale = 2 / 4^beta; expected = 2 (2^beta - 1).
    (
        "leak-growth",
        {"leak_years": "1,2", "until": "4", "ahead": "4"},
        {"beta": 0.961797, "scale": 0.527203, "expected": 1.895430},
    ),
    (
        "expanding",
        {**JOINT, "target_percent": "7"},
        {"contact_bore_mm": 44.7798, "target_bore_mm": 45.256},
    ),
    (
        "expanding",
        {**JOINT, "rolled_bore_mm": "45.256304"},
        {"contact_bore_mm": 44.7798, "percent": 7.0},
    ),
    (
        "tube-end",
        {"wall_mm": "2.667", "projection_mm": "3.302"},
        {"minimum_mm": 3.175, "maximum_mm": 5.334, "is_within": True},
    ),
    (
        "hydro-test",
        {**HYDRO, "rule": "ibr-379", "case": "periodic"},
        {
            "test_mpa": 1.25,
            "ceiling_mpa": 1.325,
            "water_min_c": 20.0,
            "water_max_c": 50.0,
            "hold_minutes": 30.0,
        },
    ),
    (
        "hydro-test",
        {**HYDRO, "rule": "nbic-repair", "case": "repaired"},
        {
            "test_mpa": None,
            "ceiling_mpa": 1.5,
            "water_min_c": None,
            "water_max_c": None,
            "hold_minutes": 10.0,
        },
    ),
    (
        "pressure-hold",
        {**HOLD, "minutes": "15"},
        {"drop_percent": 9.677419, "drop_within_rule": True},
    ),
    (
        "pressure-hold",
        {**HOLD, "minutes": "14"},
        {"drop_percent": 9.677419, "drop_within_rule": None},
    ),
    (
        "present-value",
        {"rate_percent": "28.1", "flows": "-100,39,59,55,20"},
        {"npv": -0.00847859, "irr_percent": 28.0948},
    ),
    (
        "present-value",
        {"rate_percent": "0", "flows": "1,2"},
        {"npv": 3.0, "irr_percent": None},
    ),
]


@pytest.mark.parametrize(
    ("name", "raw", "result"), WORKED, ids=[f"{name} {raw}" for name, raw, _ in WORKED]
)
def test_a_formula_gives_its_keys_and_values(
    name: str, raw: dict[str, str], result: dict[str, object]
) -> None:
    outcome = run(name, raw)
    assert list(outcome.result) == list(result)
    for key, value in result.items():
        given = outcome.result[key]
        if isinstance(value, dict):
            assert given == {
                rule: None if wall is None else pytest.approx(wall, **APPROX)
                for rule, wall in value.items()
            }
        elif isinstance(value, float):
            assert given == pytest.approx(value, **APPROX), key
        else:
            assert given is value, key
    assert json.loads(json.dumps(outcome.to_dict(), allow_nan=False))["result"].keys() == {*result}


def test_every_formula_of_the_desk_is_worked_here_or_in_its_own_file() -> None:
    elsewhere = {"gauge", "ligament", "stayed-plate"}
    thermal = {"combustion-efficiency", "flue-gas", "tube-pass", "plugging"}
    assert {each.name for each in formulas()} - elsewhere - thermal == {
        name for name, _, _ in WORKED
    }


def test_every_result_is_explained_by_the_help() -> None:
    for name, _, result in WORKED:
        assert set(result) <= set(find(name).results), name


NOTED = [
    ("required-wall", {**WALL, "rule": "us-historic"}, "from memory, not checked against the docu"),
    ("required-wall", {**WALL, "rule": "us-historic"}, "lloyds-table: no more than 2.95 mm;"),
    ("required-wall", {**WALL, "rule": "lloyds-table"}, "lloyds-table: no more than 2.95 mm;"),
    (
        "required-wall",
        {**WALL, "od_mm": "30", "rule": "us-historic"},
        "lloyds-table gives no wall here: od_mm is 30.0, but must be 38 to 102",
    ),
    (
        "required-wall",
        {"od_mm": "54", "pressure_mpa": "1.5", "rule": "lloyds-table"},
        "interpolated by us between printed sizes",
    ),
    ("wall-life", {**LIFE, "last_mm": "3.1"}, "A wall cannot grow"),
    ("wall-life", {**LIFE, "last_mm": "1.7"}, "at or below the retirement wall already"),
    ("wall-life", LIFE, "For thinning only"),
    ("weibull", {"failures": "3,5", "running": "6"}, "With 2 of 3 or more failures there is too l"),
    ("worst-wall", {"losses": "0.1,0.2,0.4", "tubes": "90"}, "no forecast below 10"),
    ("worst-wall", {"losses": PITS, "tubes": "90"}, "Plug-in values"),
    (
        "leak-growth",
        {"leak_years": "1,2", "until": "4", "ahead": "1"},
        "With 2 of 3 or more leaks there is too little to conclude",
    ),
    ("tube-end", {"wall_mm": "1.5", "projection_mm": "3.2"}, "The band is empty"),
    ("hydro-test", {**HYDRO, "rule": "pg-99"}, "from memory, not checked against the document"),
    ("pressure-hold", {**HOLD, "minutes": "15"}, "A gauge that holds is not a pass"),
    ("pressure-hold", {**HOLD, "minutes": "15"}, "cancelled"),
    ("pressure-hold", {**HOLD, "minutes": "5"}, "Under 15 minutes the rule says nothing"),
    (
        "pressure-hold",
        {"start_mpa": "1", "end_mpa": "0.8", "minutes": "60"},
        "over more than 15 minutes",
    ),
    ("present-value", {"rate_percent": "5", "flows": "1,-2.3,1.32"}, "2 rates bring them to nothi"),
    ("present-value", {"rate_percent": "5", "flows": "1"}, "No rate brings these flows to nothing"),
]


@pytest.mark.parametrize(("name", "raw", "words"), NOTED, ids=[words for _, _, words in NOTED])
def test_what_a_reader_must_know_is_noted(name: str, raw: dict[str, str], words: str) -> None:
    assert words in "\n".join(run(name, raw).notes)


REFUSED = [
    ("boiler-horsepower", {"bhp": "0"}, "--bhp is 0, but must be a number above 0 bhp."),
    ("saturation", {"pressure_mpa": "22"}, "--pressure-mpa is 22.0, but must be -0.100713787 to 2"),
    (
        "tube-weight",
        {"od_mm": "50", "wall_mm": "25", "length_mm": "1"},
        "--wall-mm is 25.0, but must be above 0 and below half the diameter, 25.0.",
    ),
    (
        "required-wall",
        {**WALL, "rule": "en"},
        "--rule is en, but must be one of us-historic, lloyds-table.",
    ),
    ("required-wall", WALL, "--rule is missing; required-wall needs it"),
    (
        "required-wall",
        {**WALL, "rule": "us-historic", "allowance_mm": "-1"},
        "--allowance-mm is -1, but must be a number at least 0 mm.",
    ),
    (
        "required-wall",
        {**WALL, "od_mm": "110", "rule": "lloyds-table"},
        "--od-mm is 110.0, but must be 38 to 102 for the Lloyd's table.",
    ),
    (
        "required-wall",
        {**WALL, "pressure_mpa": "9", "rule": "lloyds-table"},
        "--pressure-mpa is 9.0, but must be at most 2.56",
    ),
    (
        "external-pressure",
        {"od_mm": "50.8", "wall_mm": "2.413", "yield_mpa": "180"},
        "--wall-mm is 2.413, but must be at most 1.03: yield governs, the elastic value is not va",
    ),
    (
        "external-pressure",
        {"od_mm": "50", "wall_mm": "5.1", "yield_mpa": "180"},
        "--wall-mm is 5.1, but must be above 0 and at most a tenth of the diameter, 5.",
    ),
    ("plug-load", {"bore_mm": "-46", "pressure_mpa": "1"}, "--bore-mm is -46, but must be a numb"),
    (
        "wall-life",
        {**LIFE, "first": "1.6.2016"},
        "--first is 1.6.2016, but must be a day of the calendar such as 2026-11-25.",
    ),
    ("wall-life", {**LIFE, "first": "2016-02-30"}, "--first is 2016-02-30, but must be a day"),
    ("wall-life", {**LIFE, "first": "20160601"}, "--first is 20160601, but must be a day"),
    ("wall-life", {**LIFE, "first_mm": "-3"}, "--first-mm is -3, but must be a number above 0 mm"),
    (
        "wall-life",
        {**LIFE, "last": "2016-06-01"},
        "--last is 2016-06-01, but must be after the first reading, 2016-06-01.",
    ),
    ("wall-life", {**LIFE, "previous_mm": "2.6"}, "--previous-mm and --previous belong together"),
    (
        "wall-life",
        {**LIFE, **PREVIOUS, "previous": "2024-06-01"},
        "--previous is 2024-06-01, but must be from the first reading, 2016-06-01, and before",
    ),
    ("wall-life", {**LIFE, "legal_years": "0"}, "--legal-years is 0, but must be a number above"),
    ("weibull", {}, "Weibull's law needs at least one failure, and no failure is given."),
    ("weibull", {"failures": "1,x"}, "--failures is x, but must be numbers with commas"),
    ("weibull", {"failures": "1,2x0"}, "--failures is 2x0, but must be counted 1 to 20,000 times"),
    ("weibull", {"failures": "1,2x99999"}, "--failures is 2x99999, but must be counted 1 to 20,"),
    ("weibull", {"failures": "1,2x-3"}, "--failures is 2x-3, but must be numbers with commas"),
    ("weibull", {"failures": "-1x3"}, "--failures is -1, but must be numbers with commas"),
    ("weibull", {"intervals": "2:1"}, "--intervals is 2:1, but must be FROM:UNTIL or FROM:UNTILx"),
    ("weibull", {"intervals": "1:2x0"}, "--intervals is 1:2x0, but must be FROM:UNTIL"),
    ("weibull", {"intervals": "1:2,"}, "--intervals is empty, but must be FROM:UNTIL"),
    ("weibull", {"intervals": "a:2"}, "--intervals is a:2, but must be FROM:UNTIL"),
    ("weibull", {"intervals": "1:1e999"}, "--intervals is 1:1e999, but must be FROM:UNTIL"),
    ("worst-wall", {"losses": "0.1,0.2", "tubes": "1"}, "--tubes is 1, but must be at least the n"),
    ("worst-wall", {"losses": "0.1", "tubes": "9"}, "--losses is 0.1, but must be at least two"),
    ("worst-wall", {"losses": "0.1,inf", "tubes": "9"}, "--losses is inf, but must be numbers wit"),
    ("worst-wall", {"losses": "3x2,4", "tubes": "9"}, "--losses is 3x2, but must be numbers with"),
    (
        "leak-growth",
        {"leak_years": "1,6", "until": "5", "ahead": "1"},
        "--leak-years is 6.0, but must be above 0 and at most the end of the history, 5.",
    ),
    (
        "leak-growth",
        {"leak_years": "1", "until": "5", "ahead": "-1"},
        "--ahead is -1, but must be a number at least 0 year.",
    ),
    (
        "expanding",
        {**JOINT, "rolled_bore_mm": "44"},
        "--rolled-bore-mm is 44.0, but must be at least the contact bore, 44.7798: below it the j",
    ),
    ("expanding", JOINT, "--rolled-bore-mm and --target-percent are missing; expanding needs exac"),
    ("tube-end", {"wall_mm": "2", "projection_mm": "-1"}, "--projection-mm is -1, but must be a"),
    ("hydro-test", {**HYDRO, "rule": "own"}, "--rule is own, but must be one of pg-99, nbic-rep"),
    ("hydro-test", HYDRO, "--rule is missing; hydro-test needs it"),
    (
        "hydro-test",
        {**HYDRO, "rule": "ibr-379"},
        "--case is missing, but must be new or periodic for ibr-379, whose test pressures differ.",
    ),
    (
        "hydro-test",
        {**HYDRO, "rule": "cfr-46-firetube", "case": "new"},
        "--case is new, but must be periodic or extensive-repairs for cfr-46-firetube.",
    ),
    (
        "pressure-hold",
        {"start_mpa": "1", "end_mpa": "1.1", "minutes": "15"},
        "--end-mpa is 1.1, but must be at least 0 and at most the start, 1: a gauge that rises",
    ),
    ("present-value", {"rate_percent": "-100", "flows": "1"}, "--rate-percent is -100, but must"),
    ("present-value", {"rate_percent": "5", "flows": ""}, "--flows is empty, but must be numbers"),
    (
        "present-value",
        {"rate_percent": "5", "flows": ",".join(["1"] * 201)},
        "--flows is 201 numbers, but must be at most 200.",
    ),
    (
        "present-value",
        {"rate_percent": "1e300", "flows": "1,1,1"},
        "present-value cannot be computed with --rate-percent 1e+300",
    ),
]


@pytest.mark.parametrize(("name", "raw", "words"), REFUSED, ids=[words for _, _, words in REFUSED])
def test_nonsense_is_refused_in_one_sentence(name: str, raw: dict[str, str], words: str) -> None:
    with pytest.raises(ModelError, match=f"^{re.escape(words)}") as refused:
        run(name, raw)
    text = str(refused.value)
    assert text.endswith(".")
    assert "\n" not in text
