"""The calculation desk: running formulas on typed values, and refusing nonsense in one sentence."""

import json
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.desk.catalogue import find, formulas, run
from model.errors import ModelError

LIGAMENT = {"pitch_mm": "69.85", "hole_mm": "51.587"}
PLATE = {"plate_mm": "12.7", "stress_mpa": "95.15"}


def test_the_list_is_sorted_and_every_formula_says_what_it_is_and_where_from() -> None:
    names = [formula.name for formula in formulas()]
    assert names == sorted(set(names))
    assert {"gauge", "ligament", "stayed-plate"} <= set(names)
    for formula in formulas():
        assert formula.summary
        assert formula.source
        assert find(formula.name) is formula
        lines = formula.help_lines()
        for parameter in formula.parameters:
            named = re.compile(rf" *{parameter.option}( \[|:)")
            assert sum(named.match(line) is not None for line in lines) == 1
        assert f"Source: {formula.source}" in lines


def test_help_gives_symbol_unit_range_and_default() -> None:
    lines = find("ligament").help_lines()
    assert any(line.startswith("  --pitch-mm [mm]: p,") and "above 0" in line for line in lines)
    assert any("--holes" in line and "at least 1; default 1" in line for line in lines)
    assert any("--plate-mm" in line and "may be left out" in line for line in lines)
    assert any("exactly one of" in line for line in find("stayed-plate").help_lines())


def test_ligament_without_a_plate_is_judged_by_its_width() -> None:
    outcome = run("ligament", LIGAMENT)
    assert outcome.inputs == {"pitch_mm": 69.85, "hole_mm": 51.587, "holes": 1}
    assert outcome.result == {
        "efficiency": pytest.approx(0.261461, abs=1e-6),
        "width_mm": pytest.approx(18.263),
        "minimum_mm": pytest.approx(51.587 / 8 + 12.7),
        "is_enough": False,
    }
    assert any("--plate-mm" in note for note in outcome.notes)


def test_ligament_with_a_plate_passes_by_the_alternative() -> None:
    result = run("ligament", {**LIGAMENT, "plate_mm": "14.2875"}).result
    assert result["alternative_plate_mm"] == pytest.approx(0.125 * 51.587 + 5.08)
    assert result["alternative_section_mm2"] == pytest.approx(
        (0.17 * 51.587 / 25.4 + 0.025) * 645.16
    )
    assert result["is_enough"] is True


def test_several_holes_lower_the_efficiency_and_leave_the_width() -> None:
    outcome = run("ligament", {"pitch-mm": "304.8", "--hole-mm": "83.337", "holes": "2"})
    assert outcome.result["efficiency"] == pytest.approx(0.453, abs=0.001)
    assert outcome.result["width_mm"] == pytest.approx(304.8 - 83.337)
    assert any("one hole" in note for note in outcome.notes)


def test_stayed_plate_runs_both_ways() -> None:
    there = run("stayed-plate", {**PLATE, "pitch_mm": "180"}).result
    assert there["c"] == 2.2
    assert set(there) == {"pressure_mpa", "c"}
    back = run("stayed-plate", {**PLATE, "pressure_mpa": repr(there["pressure_mpa"])}).result
    assert back == {"pitch_mm": pytest.approx(180.0), "c": 2.2}
    assert run("stayed-plate", {**PLATE, "pitch_mm": "180", "c": "2.5"}).result["c"] == 2.5


def test_a_gauge_gives_its_wall_and_a_wall_its_nearest_gauge() -> None:
    assert run("gauge", {"bwg": "13"}).result == {
        "wall_mm": pytest.approx(2.413),
        "wall_in": pytest.approx(0.095),
    }
    exact = run("gauge", {"wall_mm": "2.413"})
    assert (exact.result["nearest_bwg"], exact.notes) == (13, ())
    odd = run("gauge", {"wall_mm": "2.667"})
    assert odd.result["nearest_bwg"] == 12
    assert odd.result["difference_mm"] == pytest.approx(2.667 - 2.7686)
    assert odd.notes[0].startswith("A wall of 2.667 mm (0.105 in) is no Birmingham gauge")


def test_an_outcome_is_plain_json() -> None:
    outcome = run("stayed-plate", {**PLATE, "pitch_mm": "180"})
    read = json.loads(json.dumps(outcome.to_dict(), allow_nan=False))
    assert list(read) == ["name", "inputs", "result", "source", "notes"]
    assert read["inputs"] == {"plate_mm": 12.7, "stress_mpa": 95.15, "pitch_mm": 180.0}


REFUSED = [
    ("ligament", {**LIGAMENT, "pitch_mm": "abc"}, "--pitch-mm is abc, but must be a number above"),
    ("ligament", {**LIGAMENT, "pitch_mm": "69,85"}, "--pitch-mm is 69,85, but must be a number"),
    ("ligament", {**LIGAMENT, "pitch_mm": "nan"}, "--pitch-mm is nan, but must be a number"),
    ("ligament", {**LIGAMENT, "pitch_mm": "inf"}, "--pitch-mm is inf, but must be a number"),
    ("ligament", {**LIGAMENT, "pitch_mm": "-inf"}, "--pitch-mm is -inf"),
    ("ligament", {**LIGAMENT, "pitch_mm": "1e999"}, "--pitch-mm is 1e999, but must be a number"),
    ("ligament", {**LIGAMENT, "pitch_mm": "6_9"}, "--pitch-mm is 6_9"),
    ("ligament", {**LIGAMENT, "pitch_mm": " "}, "--pitch-mm is empty, but must be a number"),
    (
        "ligament",
        {**LIGAMENT, "pitch_mm": "-70"},
        "--pitch-mm is -70, but must be a number above 0",
    ),
    ("ligament", {**LIGAMENT, "hole_mm": "0"}, "--hole-mm is 0, but must be a number above 0 mm."),
    ("ligament", {**LIGAMENT, "hole_mm": "69.85"}, "--hole-mm is 69.85, but must be below the pi"),
    ("ligament", {**LIGAMENT, "holes": "1.5"}, "--holes is 1.5, but must be a whole number at lea"),
    ("ligament", {**LIGAMENT, "holes": "0"}, "--holes is 0, but must be a whole number at least 1"),
    ("ligament", {**LIGAMENT, "holes": "2"}, "--hole-mm is 51.587, but must be below the pitch o"),
    ("ligament", {"pitch_mm": "70"}, "--hole-mm is missing; ligament needs it"),
    ("ligament", {**LIGAMENT, "bore_mm": "1"}, "ligament has no --bore-mm; its parameters are"),
    ("stayed-plate", PLATE, "--pitch-mm and --pressure-mpa are missing; stayed-plate needs exact"),
    (
        "stayed-plate",
        {**PLATE, "pitch_mm": "180", "pressure_mpa": "1"},
        "--pitch-mm and --pressure-mpa exclude each other;",
    ),
    ("stayed-plate", {**PLATE, "pitch_mm": "1e-200"}, "stayed-plate cannot be computed with --pl"),
    ("gauge", {"bwg": "21"}, "--bwg is 21, but must be a whole number at least 7 and at most 20."),
    ("gauge", {"wall_mm": "50"}, "--wall-mm is 50.0, but must be 0.80 to 5.03"),
    (
        "lasagne",
        {},
        "There is no formula lasagne; the formulas are boiler-horsepower, combustion-e",
    ),
]


@pytest.mark.parametrize(("name", "raw", "words"), REFUSED, ids=[words for _, _, words in REFUSED])
def test_nonsense_is_refused_in_one_sentence_that_names_it(
    name: str, raw: dict[str, str], words: str
) -> None:
    with pytest.raises(ModelError, match=f"^{re.escape(words)}") as refused:
        run(name, raw)
    text = str(refused.value)
    assert text.endswith(".")
    assert "\n" not in text


TYPED = ["1", "2.5", "70", "1e300", "1e-300", "0", "-1", "2,3x4,5", "1:2x3,0:1", "2020-02-29"]


@given(
    name=st.sampled_from([formula.name for formula in formulas()]),
    text=st.one_of(st.text(max_size=12), st.floats().map(repr), st.integers().map(str)),
    data=st.data(),
)
def test_whatever_is_typed_gives_finite_numbers_or_one_sentence(
    name: str, text: str, data: st.DataObject
) -> None:
    parameters = find(name).parameters
    chosen = data.draw(st.lists(st.sampled_from(parameters), unique=True))
    typed = st.sampled_from([text, *TYPED])
    raw = {
        each.name: data.draw(st.sampled_from(each.choices) if each.choices else typed)
        for each in chosen
    }
    try:
        printed = json.dumps(run(name, raw).to_dict(), allow_nan=False)
    except ModelError as refused:
        printed = str(refused)
    assert printed.strip()
