"""``advise``: what the record and its costs lead to, and the inputs to run it again."""

import tomllib

import pytest

from fieldapp.cautions import DECISION, PRESSURE
from fieldapp.report.advice_lines import WIDTH

BLOCK = {
    *("option", "words", "by", "is_by_money", "reasons", "runner_up", "margin", "share_cheaper"),
    *("if_engineer_allows", "decide_by", "missing", "measure_next", "options", "changes_if"),
    *("in_any_case", "gas_side_remarks", "weak"),
    *("drivers", "assumptions", "prices", "currency", "horizon_years", "trials", "seed"),
}


def test_by_money_it_names_the_option_its_reasons_and_the_cautions(priced, tubewright):
    said = tubewright("advise B-1")
    assert said.code == 0, said.err
    lines = said.out.splitlines()
    assert max(map(len, lines)) <= WIDTH
    assert lines[0] == "B-1, inspection of 2026-03-10"
    text = " ".join(said.out.split())
    assert "Lowest cost on these inputs: " in text
    assert (
        "Decide now: the new tubes go in during this outage, as far as the crew has so many" in text
    )
    for heading in ("Why", "Ruled out", "Limits, and how far each is", "What would change it"):
        assert heading in lines
    assert f"Decision. {DECISION}" in text
    assert text.endswith(f"Pressure. {PRESSURE}")


def test_as_json_it_is_the_recommendation_with_the_inspection_and_the_cautions(
    priced, done, inspection
):
    found = done("advise B-1")
    assert found.keys() == BLOCK | {"inspection", "date", "what_if", "caution", "notes"}
    assert (found["what_if"], found["notes"]) == (None, [])
    assert (found["inspection"], found["date"]) == (inspection, "2026-03-10")
    assert found["caution"] == f"Decision. {DECISION}\nPressure. {PRESSURE}"
    assert found["is_by_money"] is True
    allowed = {
        each["key"]: each["present_value"]
        for each in found["options"]
        if each["ruled_out"] is None and each["key"] != "find-out"
    }
    assert found["option"] == min(allowed, key=allowed.get)
    assert found["margin"] == pytest.approx(allowed[found["runner_up"]] - allowed[found["option"]])


def test_the_same_record_gives_the_same_advice(priced, done):
    assert done("advise B-1") == done("advise B-1")


def test_without_costs_it_goes_by_condition_and_names_what_is_missing(looked_at, done, tubewright):
    found = done("advise B-1")
    assert (found["option"], found["is_by_money"]) == ("retube-pass-2", False)
    assert "tube_each" in found["by"]
    assert {each["present_value"] for each in found["options"]} == {None}
    text = " ".join(tubewright("advise B-1").out.split())
    assert "The option by condition alone: Retube pass 2." in text
    assert "What each option costs" not in text


def test_too_little_seen_leads_with_looking_first(boiler, inspection, costs, done):
    done("boiler update B-1 costs.toml --by Ada")
    found = done("advise B-1")
    assert found["option"] == "find-out"
    assert found["reasons"][0].startswith("Look first: 0 of 36 tube ends")


def test_a_leak_call_gives_no_advice_on_the_whole_boiler(boiler, done, write, tubewright):
    done("inspection new B-1 --date 2026-03-10 --inspector Ida --scope leak-call")
    write("o.csv", "tube,state,leak_at,how", "P2-R01-C01,leaking,bore,seen")
    done("observe B-1 o.csv")
    assert "No advice on the whole boiler: Plug the bad tubes." in tubewright("advise B-1").out
    assert done("advise B-1")["options"] == []


def test_the_inputs_are_written_taken_back_and_give_the_same_advice(priced, done, folder):
    before = done("advise B-1 --out mine/../inputs.toml")
    text = (folder / "inputs.toml").read_text(encoding="utf-8")
    assert tomllib.loads(text)["costs"]["tube_each"] == {"value": 118, "source": "assumed"}
    assert done("boiler update B-1 inputs.toml --by Ada")["changed"] == []
    assert done("advise B-1") == before


def test_a_price_changed_in_the_inputs_changes_the_sums(priced, done, folder):
    before = {each["key"]: each["cost_now"] for each in done("advise B-1 --out i.toml")["options"]}
    text = (folder / "i.toml").read_text(encoding="utf-8")
    dearer = text.replace("value = 118", "value = 1118")
    assert dearer != text
    (folder / "i.toml").write_text(dearer, encoding="utf-8")
    assert done("boiler update B-1 i.toml --by Ada")["changed"] == ["costs"]
    after = {each["key"]: each["cost_now"] for each in done("advise B-1")["options"]}
    assert after["retube-pass-2"] - before["retube-pass-2"] == pytest.approx(8 * 1000.0)
    assert after["plug-bad"] == pytest.approx(before["plug-bad"])


def test_where_the_inputs_were_written_is_said(priced, tubewright):
    assert "\nInputs written: i.toml\n" in tubewright("advise B-1 --out i.toml").out


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("advise B-9", "There is no boiler with the tag or id B-9"),
        ("advise B-1 --inspection 2020-01-01", "There is no inspection 2020-01-01"),
        ("advise B-1 --out .", "is a folder; name a file with --out"),
    ],
)
def test_what_cannot_be_advised_on_is_refused_in_a_sentence(looked_at, refused, words, sentence):
    (said,) = refused(words)
    assert sentence in said


def test_a_boiler_that_nobody_inspected_is_refused(boiler, refused):
    (said,) = refused("advise B-1")
    assert said.startswith("There is no inspection of this boiler yet")
