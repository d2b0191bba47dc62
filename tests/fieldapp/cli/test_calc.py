"""``calc``: the desk's formulas by their options."""

import pytest

from fieldapp.cli.calc import _read_parameters
from model.desk.formula import Computed, Formula, Parameter


def test_the_formulas_are_listed_with_their_sources(done):
    listed = done("calc", data=None)
    assert {"ligament", "stayed-plate"} <= {each["name"] for each in listed}
    assert all(each["source"] and each["summary"] for each in listed)


def test_a_formula_is_run_and_says_its_source(done):
    # p = 63.5, d = 50.8: (63.5 - 50.8) / 63.5 = 0.2, and 12.7 mm of metal.
    said = done("calc ligament --pitch-mm 63.5 --hole-mm=50.8", data=None)
    assert sorted(said) == ["inputs", "name", "notes", "result", "source"]
    assert said["inputs"] == {"pitch_mm": 63.5, "hole_mm": 50.8, "holes": 1}
    assert said["result"]["efficiency"] == pytest.approx(0.2)
    assert said["result"]["width_mm"] == pytest.approx(12.7)


def test_the_result_is_told_with_its_source_in_words_too(tubewright):
    said = tubewright("calc ligament --pitch-mm 63.5 --hole-mm 50.8", data=None).out
    assert "width_mm = 12.7 " in said
    assert "\nSource: " in said


def test_help_tells_symbols_units_range_and_source(tubewright):
    said = tubewright("calc ligament --help", data=None)
    assert said.code == 0
    assert "--pitch-mm [mm]: p, " in said.out
    assert "(above 0)" in said.out
    assert "Source:" in said.out


@pytest.mark.parametrize(
    ("words", "names"),
    [
        ("ligament --pitch-mm -5 --hole-mm 3", "--pitch-mm is -5, but must be a number above 0"),
        ("ligament --pitch-mm x --hole-mm 3", "--pitch-mm is x, but must be a number above 0"),
        ("ligament --pitch-mm inf --hole-mm 3", "--pitch-mm is inf"),
        ("ligament --pitch-mm nan --hole-mm 3", "--pitch-mm is nan"),
        ("ligament --pitch-mm 1e999 --hole-mm 3", "--pitch-mm is 1e999"),
        ("stayed-plate --plate-mm 0 --pitch-mm 100 --stress-mpa 90", "--plate-mm is 0"),
        ("gauge --bwg 99", "--bwg is 99"),
        ("required-wall --od-mm 50.8 --pressure-mpa 1 --rule best", "--rule is best"),
        ("hydro-test --mawp-mpa 1 --rule ibr-379", "--case is missing, but must be new or perio"),
        ("hydro-test --mawp-mpa 1 --rule pg-99 --case periodic", "--case is periodic, but must be"),
        ("worst-wall --losses 0.1,inf --tubes 9", "--losses is inf"),
    ],
)
def test_a_value_that_cannot_be_exits_with_1_and_names_it(refused, words, names):
    (sentence,) = refused(f"calc {words}", data=None)
    assert names in sentence


@pytest.mark.parametrize(
    "words",
    [
        "ligaments",
        "ligament",
        "ligament --pitch-mm",
        "ligament --pitch-mm --hole-mm 3",
        "ligament --pitch-mm 60 --hole-mm 50 --hole-mm 51",
        "ligament --pitch-mm 60 --hole-mm 50 --depth-mm 3",
        "ligament 60 50",
        "gauge",
        "gauge --bwg 12 --wall-mm 2.8",
        "stayed-plate --plate-mm 14 --stress-mpa 90",
    ],
)
def test_options_that_mean_nothing_exit_with_2(tubewright, words):
    said = tubewright(f"calc {words}", data=None)
    assert (said.code, said.out) == (2, "")


def test_data_and_json_may_stand_among_the_parameters(done, tubewright):
    said = tubewright("calc ligament --pitch-mm 63.5 --json --hole-mm 50.8 --data b.db", data=None)
    assert said.data["name"] == "ligament"


FLOWS = Formula(
    name="flows",
    summary="a list",
    source="test",
    parameters=(Parameter(name="flows", help="yearly", kind="numbers"),),
    compute=lambda inputs: Computed(result={}),
    results={},
)


@pytest.mark.parametrize("words", [["--flows", "-100,39"], ["--flows=-100,39"]])
def test_a_value_may_begin_with_a_minus(words):
    assert _read_parameters(FLOWS, words) == {"flows": "-100,39"}


def test_flows_may_begin_with_a_minus(done):
    said = done("calc present-value --rate-percent 28.1 --flows -100,39,59,55,20", data=None)
    assert said["inputs"]["flows"] == [-100, 39, 59, 55, 20]
    assert said["result"]["irr_percent"] == pytest.approx(28.095, abs=5e-4)


def test_the_walls_of_other_rules_are_told_in_words_and_in_json(done, tubewright):
    words = "calc required-wall --od-mm 51 --pressure-mpa 1.48 --rule"
    result = done(f"{words} lloyds-table", data=None)["result"]
    assert result["other_rules"] == {"us-historic": pytest.approx(2.433, abs=0.001)}
    assert "other_rules = us-historic 2.43" in tubewright(f"{words} lloyds-table", data=None).out
    assert "other_rules = lloyds-table 3.25" in tubewright(f"{words} us-historic", data=None).out
