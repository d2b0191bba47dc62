"""The desk's formulas of the gas side: keys, notes and refusals as the command line gives them.

Their numbers are checked in ``tests/model/thermal`` and in the published rows.
"""

import json
import re

import pytest

from model.desk.catalogue import find, run
from model.errors import ModelError

EFFICIENCY = {"oxygen_percent": "4", "net_k": "194.44444"}
GAS = {"oxygen_percent": "3", "temperature_k": "800"}
PASS = {
    "gas_kg_s": "1.26",
    "inlet_c": "980",
    "wall_c": "186",
    "tubes": "100",
    "bore_mm": "45.97",
    "length_mm": "4877",
}
PLUGGING = {
    "tubes": "100",
    "plugged": "10",
    "inlet_c": "982.2",
    "outlet_c": "232.2",
    "saturation_c": "185.6",
}

# name, values as typed, some results, tolerance
WORKED = [
    ("combustion-efficiency", EFFICIENCY, {"table_percent": 81.2}, 1e-5),
    (
        "flue-gas",
        GAS,
        {
            "cp_j_per_kg_k": 1237.6,
            "viscosity_pa_s": 3.521e-5,
            "conductivity_w_per_m_k": 0.0577,
            "density_kg_per_m3": 0.4232,
            "molar_mass_g_per_mol": 27.78,
        },
        2e-3,
    ),
    (
        "plugging",
        PLUGGING,
        {
            "ntu": 2.8387,
            "ntu_after": 2.7795,
            "outlet_after_c": 235.04,
            "rise_k": 2.84,
            "draft_ratio": 1.2088,
        },
        2e-3,
    ),
]


@pytest.mark.parametrize(("name", "raw", "result", "rel"), WORKED, ids=[row[0] for row in WORKED])
def test_a_formula_gives_its_values(
    name: str, raw: dict[str, str], result: dict[str, float], rel: float
) -> None:
    given = run(name, raw).result
    for key, value in result.items():
        assert given[key] == pytest.approx(value, rel=rel), key


@pytest.mark.parametrize(
    ("name", "raw", "keys"),
    [
        ("combustion-efficiency", EFFICIENCY, ["table_percent", "first_principles_percent"]),
        ("flue-gas", GAS, list(WORKED[1][2])),
        (
            "tube-pass",
            PASS,
            ["outlet_c", "heat_kw", "draft_loss_pa", "reynolds_in", "reynolds_out"],
        ),
        ("plugging", PLUGGING, list(WORKED[2][2])),
    ],
)
def test_the_keys_are_these_in_this_order_and_explained(
    name: str, raw: dict[str, str], keys: list[str]
) -> None:
    outcome = run(name, raw)
    assert list(outcome.result) == keys
    assert list(find(name).results) == keys
    assert json.loads(json.dumps(outcome.to_dict(), allow_nan=False))["result"].keys() == {*keys}


def test_a_tube_pass_has_its_defaults_and_the_options_act() -> None:
    plain = run("tube-pass", PASS)
    spelled = {**PASS, "oxygen_percent": "3", "roughness_mm": "0.045", "radiation": "no"}
    assert run("tube-pass", spelled).result == plain.result
    assert plain.inputs["radiation"] == "no"
    outlet_c = plain.result["outlet_c"]
    assert isinstance(outlet_c, float)
    radiating = run("tube-pass", {**PASS, "radiation": "yes"}).result["outlet_c"]
    assert isinstance(radiating, float)
    assert radiating < outlet_c
    assert run("tube-pass", {**PASS, "roughness_mm": "0.2"}).result["outlet_c"] == outlet_c


def test_slow_flow_is_said() -> None:
    assert not any("turbulent from" in note for note in run("tube-pass", PASS).notes)
    slow = run("tube-pass", {**PASS, "gas_kg_s": "0.4"})
    assert any("The flow is laminar to transition to turbulent" in each for each in slow.notes)


REFUSED = [
    ("combustion-efficiency", {**EFFICIENCY, "oxygen_percent": "1"}, "--oxygen-percent is 1.0, bu"),
    (
        "combustion-efficiency",
        {**EFFICIENCY, "net_k": "400"},
        "--net-k is 400.0, but must be 111.1",
    ),
    (
        "combustion-efficiency",
        {**EFFICIENCY, "net_k": "-5"},
        "--net-k is -5, but must be a number a",
    ),
    ("flue-gas", {**GAS, "oxygen_percent": "20.95"}, "--oxygen-percent is 20.95, but must be a"),
    ("flue-gas", {**GAS, "temperature_k": "299"}, "--temperature-k is 299.0, but must be 30"),
    ("flue-gas", {**GAS, "temperature_k": "inf"}, "--temperature-k is inf, but must be a nu"),
    ("tube-pass", {**PASS, "tubes": "0"}, "--tubes is 0, but must be a whole number"),
    ("tube-pass", {**PASS, "tubes": "1.5"}, "--tubes is 1.5, but must be a whole numb"),
    ("tube-pass", {**PASS, "gas_kg_s": "0"}, "--gas-kg-s is 0, but must be a number ab"),
    ("tube-pass", {**PASS, "gas_kg_s": "1e300"}, "--gas-kg-s is 1e+300, but must be low en"),
    ("tube-pass", {**PASS, "inlet_c": "150"}, "--inlet-c is 150.0, but must be above th"),
    ("tube-pass", {**PASS, "inlet_c": "1600"}, "--inlet-c is 1600.0, but must be above t"),
    ("tube-pass", {**PASS, "wall_c": "0"}, "--wall-c is 0.0, but must be 26.85 to 14"),
    ("tube-pass", {**PASS, "bore_mm": "5000"}, "--bore-mm is 5000.0, but must be above 0"),
    ("tube-pass", {**PASS, "roughness_mm": "4"}, "--roughness-mm is 4.0, but must be 0 to"),
    ("tube-pass", {**PASS, "radiation": "maybe"}, "--radiation is maybe, but must be one of"),
    ("plugging", {**PLUGGING, "plugged": "101"}, "--plugged is 101, but must be at least 0"),
    ("plugging", {**PLUGGING, "plugged": "100"}, "--plugged is 100, but must be at least 0"),
    ("plugging", {**PLUGGING, "plugged": "-1"}, "--plugged is -1, but must be a whole num"),
    ("plugging", {**PLUGGING, "outlet_c": "180"}, "--outlet-c is 180.0, but must be above t"),
    ("plugging", {**PLUGGING, "inlet_c": "200"}, "--inlet-c is 200.0, but must be above th"),
]


@pytest.mark.parametrize(("name", "raw", "words"), REFUSED, ids=[words for _, _, words in REFUSED])
def test_nonsense_is_refused_in_one_sentence(name: str, raw: dict[str, str], words: str) -> None:
    with pytest.raises(ModelError, match=f"^{re.escape(words)}") as refused:
        run(name, raw)
    text = str(refused.value)
    assert text.endswith(".")
    assert "\n" not in text
