"""The recommendation as data: the keys that others rely on, and nothing that JSON cannot hold."""

import json
from dataclasses import replace

import pytest

from fieldapp.report.recommendation_json import recommendation
from model.decision.plans import Plan
from tests.fieldapp.report.invented_advice import BY_CONDITION, BY_MONEY, STATES, option

FROZEN = {"option", "reasons", "runner_up", "missing", "options", "changes_if"}
FROZEN_OF_OPTION = {"key", "ruled_out", "cost_now", "present_value", "p10", "p90", "flows"}


@pytest.mark.parametrize("state", STATES)
def test_every_state_has_the_same_keys_and_is_plain_json(state):
    block = recommendation(STATES[state])
    assert json.loads(json.dumps(block, allow_nan=False)) == block
    assert block.keys() == recommendation(BY_MONEY).keys() >= FROZEN
    for each in block["options"]:
        assert each.keys() >= FROZEN_OF_OPTION


def test_by_money_the_numbers_are_those_of_the_advice():
    block = recommendation(BY_MONEY)
    assert (block["option"], block["runner_up"]) == ("retube-pass-2", "plug-then-retube")
    assert (block["margin"], block["share_cheaper"]) == (12_461.0, 0.71)
    assert (block["currency"], block["horizon_years"]) == ("USD", 10)
    assert (block["trials"], block["seed"], block["decide_by"]) == (10_000, 8192, "2027-05-10")
    retube = next(each for each in block["options"] if each["key"] == "retube-pass-2")
    assert retube["ruled_out"] is None
    assert retube["cost_now"] == retube["flows"][0] == 88_420.0
    assert len(retube["flows"]) == len(retube["leaks"]) == len(retube["joint_leaks"]) == 11
    assert retube["forced_outages"] == [0.0, *[0.3] * 10]
    assert sum(flows[3] for flows in retube["flows_by_item"].values()) == pytest.approx(6_140.0)
    assert retube["planned"] == {"words": "retube pass 2", "year": 4.0, "chance": 0.83}
    assert (retube["hours"], retube["days"]) == (371.4, 69.4)
    assert retube["limits_after"][0]["pass"] == 2
    assert retube["limits_after"][3] == {
        "name": "cluster", "pass": None, "sheet": "chamber", "value": 228.0, "high": None,
        "watch": None, "act": 214.0, "basis": "flag", "status": "refer",
        "plugs_beside_bare_plate": 0, "permitted_by": None,
    }  # fmt: skip
    assert retube["gas_after"]["draft_ratio_by_pass"] == {"2": 1.22, "3": 1.02}


def test_what_is_ruled_out_says_why_and_without_a_price_nothing_is_invented():
    options = {each["key"]: each for each in recommendation(BY_MONEY)["options"]}
    assert options["run-on"]["ruled_out"].startswith("Ruled out: 6 tubes are bad")
    assert options["new-boiler"]["present_value"] == 420_000.0
    for name in ("cost_now", "present_value", "p10", "p90", "planned"):
        assert options["rental"][name] is None
    assert options["rental"]["flows"] == options["rental"]["forced_outages"] == []


def test_by_condition_no_option_has_money():
    block = recommendation(BY_CONDITION)
    assert block["is_by_money"] is False
    assert block["by"].startswith("condition alone")
    assert {each["present_value"] for each in block["options"]} == {None}
    assert (block["runner_up"], block["margin"], block["changes_if"]) == (None, None, [])


def test_break_evens_drivers_and_measurements_are_kept_whole():
    block = recommendation(BY_MONEY)
    assert block["changes_if"][1] == {
        "name": "outage cost", "unit": "USD a day", "now": 2200.0, "low": 0.0, "high": 22_000.0,
        "below": None, "below_option": None, "above": 15_432.0, "above_option": "plug-bad",
    }  # fmt: skip
    assert block["drivers"][0]["margin_low"] == -8_200.0
    assert block["measure_next"][0]["worth"] == 6_480.0


def test_the_work_of_an_option_is_told_by_holes_in_a_fixed_order():
    plan = Plan(
        key="x",
        words="",
        plug=frozenset({"b", "a"}),
        retube_in_year={3: 2, 2: 1},
        re_roll={"d": 2, "c": 1},
        renew_sheets=("chamber",),
        bill_now={"tube_each": 3.0},
    )
    advice = replace(BY_MONEY, options=(replace(option("x"), plan=plan),))
    (each,) = recommendation(advice)["options"]
    work = each["work"]
    assert work["plug"] == ["a", "b"]
    assert list(work["re_roll"]) == ["c", "d"]
    assert work["retube_in_year"] == {"2": 1, "3": 2}
    assert work["renew_sheets"] == ["chamber"]
    assert work["bill_now"] == {"tube_each": 3.0}
