"""``condition.json``: every promised key with its type, sums that add up, one file word for word.

Not here: whether the counts are right (``tests/model/condition``, ``tests/demo_data``).
"""

import dataclasses
import json
import os
import re
from datetime import UTC, datetime
from pathlib import Path

import pytest

from fieldapp.report.condition_json import condition, render_condition_json
from fieldapp.report.deciding import decide
from fieldapp.report.numbers import build_numbers
from model.wall.retirement import RetirementWall
from tests.model.condition.journal import BEN, SPRING
from tests.model.condition.small_boiler import SmallBoiler

GOLDEN = Path(__file__).resolve().parents[2] / "golden" / "report" / "condition.json"
PRINTED = datetime(2024, 10, 11, 8, 0, tzinfo=UTC)

NUMBER = (int, float)
TEXT = (str,)
WHOLE = (int,)
YES_NO = (bool,)
LIST = (list,)


def or_null(types):
    return (*types, type(None))


SIX = ("sound", "thinned", "leaking", "plugged", "split", "not_inspected")
TOTALS = {
    "tubes": WHOLE,
    **dict.fromkeys(SIX, WHOLE),
    "sound_with_findings": WHOLE,
    "joint_leaks_only": WHOLE,
    "bad_now": WHOLE,
    "plugged_percent": or_null(NUMBER),
    "out_of_service_percent": or_null(NUMBER),
    "plugged_percent_high": or_null(NUMBER),
    "out_of_service_percent_high": or_null(NUMBER),
    # Beyond what was promised at first:
    "renewed": WHOLE,
    "out_of_service": WHOLE,
    "carried": WHOLE,
    "disputed": WHOLE,
    "unseen": WHOLE,
    "plugged_area_percent": or_null(NUMBER),
}
COVERAGE_KEYS = (
    "ends",
    "seen",
    "by_row",
    "filled",
    "paper",
    "not_inspected",
    "tubes_both_ends",
    "tubes_one_end",
    "tubes_no_end",
    "tubes_front_only",
    "tubes_rear_only",
)
COVERAGE = dict.fromkeys(COVERAGE_KEYS, WHOLE)
END = {
    "state": or_null(TEXT),
    "how": or_null(TEXT),
    "carried": YES_NO,
    "leak_at": or_null(TEXT),
}
TUBE = {
    "tube": TEXT,
    "pass": WHOLE,
    "state": or_null(TEXT),
    "carried": YES_NO,
    "disputed": YES_NO,
    "ends": (dict,),
    "leak_at": or_null(TEXT),
    "bad_now": YES_NO,
    "plugged_one_end": or_null(TEXT),
    "wall_mm": or_null(NUMBER),
    "wall_loss_percent": or_null(NUMBER),
    "rate_mm_per_year": or_null(NUMBER),
    "remaining_life_years": or_null(NUMBER),
    "as_left": or_null(TEXT),
    "life": (dict,),
    "after_closing": YES_NO,
    "after_sign_off": YES_NO,
}
CLUSTER = {
    "sheet": TEXT,
    "tubes": LIST,
    "span_mm": NUMBER,
    "permitted_mm": or_null(NUMBER),
    "status": TEXT,
    "bare_mm": NUMBER,
    "is_bare": YES_NO,
    "permitted_by": or_null(TEXT),
}
WALL = {
    "retirement": or_null((dict,)),
    "why_not": or_null(TEXT),
    "new_tube_rules": LIST,
    "worst": LIST,
    "repeatability": LIST,
}
MORE_READINGS = {
    "width_mm": NUMBER,
    "width_now_mm": or_null(NUMBER),
    "more": or_null(WHOLE),
    "why_not": or_null(TEXT),
}
PLUGGING = {
    "by_pass": LIST,
    "stack_rise_k": or_null(NUMBER),
    "efficiency_loss_points": or_null(NUMBER),
    "draft_ratio": or_null((*NUMBER, dict, list)),
    "output_limit_kw": or_null(NUMBER),
}
LIMIT = {
    "name": TEXT,
    "value": or_null(NUMBER),
    "watch": or_null(NUMBER),
    "act": or_null(NUMBER),
    "basis": TEXT,
    "status": TEXT,
    "plugs_beside_bare_plate": WHOLE,
}
RECOMMENDATION = {
    "option": or_null(TEXT),
    "reasons": LIST,
    "runner_up": or_null((str, dict)),
    "missing": LIST,
    "options": LIST,
    "changes_if": LIST,
}
TOP = {
    "schema": TEXT,
    "boiler": (dict,),
    "inspection": (dict,),
    "totals": (dict,),
    "passes": LIST,
    "coverage": (dict,),
    "tubes": LIST,
    "clusters": LIST,
    "wall": (dict,),
    "plugging": (dict,),
    "limits": LIST,
    "recommendation": (dict,),
}


def file_of(numbers):
    return render_condition_json(numbers, decide(numbers))


@pytest.fixture(scope="module")
def data(numbers):
    return json.loads(file_of(numbers))


def assert_shape(entry, shape):
    wrong = {
        key: entry.get(key, "missing")
        for key, types in shape.items()
        # In Python a bool is an int; in the file it is none.
        if key not in entry
        or not isinstance(entry[key], types)
        or (isinstance(entry[key], bool) and bool not in types)
    }
    assert wrong == {}


def test_every_promised_key_is_there_with_its_type(data):
    assert data["schema"] == "condition/1"
    assert_shape(data, TOP)
    assert_shape(data["totals"], TOTALS)
    assert_shape(data["totals"]["as_found"], TOTALS)
    assert_shape(data["coverage"], COVERAGE)
    assert_shape(data["wall"], WALL)
    assert_shape(data["wall"]["retirement"], {"mm": NUMBER, "basis": TEXT})
    for each in data["wall"]["worst"]:
        assert_shape(each, {"more_readings": (dict,), "measure_next": LIST})
        assert_shape(each["more_readings"], MORE_READINGS)
        assert each["measure_next"], f"no tube of pass {each['pass']} is named to be measured"
        for named in each["measure_next"]:
            assert_shape(named, {"tube": TEXT, "purpose": TEXT})
    assert_shape(data["plugging"], PLUGGING)
    assert_shape(data["recommendation"], RECOMMENDATION)


@pytest.mark.parametrize(
    ("name", "shape"),
    [
        ("passes", {"pass": WHOLE, **TOTALS, "as_found": (dict,)}),
        ("tubes", TUBE),
        ("clusters", CLUSTER),
        ("limits", LIMIT),
    ],
)
def test_every_entry_of_a_list_has_every_promised_key(data, name, shape):
    assert data[name], f"the boiler of the test has no {name}"
    for entry in data[name]:
        assert_shape(entry, shape)


def test_both_ends_of_every_tube_are_there(data):
    for tube in data["tubes"]:
        assert list(tube["ends"]) == ["front", "rear"]
        for end in tube["ends"].values():
            assert_shape(end, END)
        assert_shape(tube["life"], {"number": WHOLE, "since": or_null(TEXT)})


def test_words_are_those_of_the_closed_lists(data):
    states = {None, *SIX[:5]}
    for tube in data["tubes"]:
        assert {tube["state"], tube["as_left"]} <= states
        assert tube["plugged_one_end"] in (None, "no", "yes", "other_end_not_seen")
        assert tube["leak_at"] in (None, "bore", "ligament", "not-found", "joint")
    assert {each["status"] for each in data["clusters"]} <= {"ok", "refer", "unknown"}
    assert {each["status"] for each in data["limits"]} <= {"ok", "watch", "act", "refer", "unknown"}


def test_the_six_states_add_up_to_the_tubes_everywhere(data):
    blocks = [data["totals"], *data["passes"]]
    blocks += [block["as_found"] for block in blocks]
    for block in blocks:
        assert sum(block[name] for name in SIX) == block["tubes"]


def test_the_passes_and_the_list_of_tubes_add_up_to_the_totals(data):
    whole = [name for name, types in TOTALS.items() if types is WHOLE]
    for name in whole:
        assert sum(block[name] for block in data["passes"]) == data["totals"][name]
    left = [tube["as_left"] or "not_inspected" for tube in data["tubes"]]
    assert {name: left.count(name) for name in SIX} == {name: data["totals"][name] for name in SIX}
    found = [tube["state"] or "not_inspected" for tube in data["tubes"]]
    as_found = data["totals"]["as_found"]
    assert {name: found.count(name) for name in SIX} == {name: as_found[name] for name in SIX}
    assert sum(tube["bad_now"] for tube in data["tubes"]) == data["totals"]["bad_now"]


def test_coverage_adds_up_to_the_ends_and_the_tubes_in_all_and_by_pass(data):
    for block in (data["coverage"], *data["coverage"]["by_pass"]):
        hows = ("seen", "by_row", "filled", "paper", "not_inspected")
        assert sum(block[name] for name in hows) == block["ends"]
        tubes = ("tubes_both_ends", "tubes_one_end", "tubes_no_end")
        assert 2 * sum(block[name] for name in tubes) == block["ends"]


def test_a_tube_is_bad_where_the_story_says_so(data, bad_tubes):
    assert {tube["tube"] for tube in data["tubes"] if tube["bad_now"]} == set(bad_tubes)
    for tube in data["tubes"]:
        assert bool(tube["bad_why"]) is tube["bad_now"]


def test_a_dispute_names_the_opinions_with_their_people(data, what_is_what):
    (dispute,) = data["disputes"]
    assert (dispute["tube"], dispute["governing"]) == (what_is_what["disputed"], "leaking")
    said = {(each["by"], each["state"], each["how"]) for each in dispute["opinions"]}
    assert said == {("Anna Lund", "sound", "seen"), ("Boris Wieck", "leaking", "seen")}


def test_questions_ask_for_what_stands_from_last_time(data, what_is_what):
    (question,) = data["questions"]
    assert (question["tube"], question["end"]) == (what_is_what["carried leak, a question"], "rear")
    assert question["words"] == "leaking since 2022-06-14: repaired, or still so?"


def test_nothing_is_a_code_requirement_and_no_price_was_used(data):
    assert data["recommendation"]["by"].startswith("condition alone. [costs] lacks labour_per_hour")
    for limit in data["limits"]:
        assert limit["basis"], limit
    assert data["recommendation"]["runner_up"] is None
    assert {each["present_value"] for each in data["recommendation"]["options"]} == {None}


def test_without_a_retirement_wall_it_says_why(numbers):
    nothing = RetirementWall(wall_mm=None, why_not="No retirement wall was stated.")
    wall = condition(dataclasses.replace(numbers, retirement=nothing), decide(numbers))["wall"]
    assert wall["retirement"] is None
    assert wall["why_not"] == "No retirement wall was stated."


def test_the_same_data_and_time_give_the_same_bytes(make_numbers, numbers):
    again, _ = make_numbers()
    assert file_of(again) == file_of(numbers)


def test_only_the_printed_time_hangs_on_the_printed_time(numbers):
    later = dataclasses.replace(numbers, printed_at=datetime(2030, 1, 1, tzinfo=UTC))
    one, other = (json.loads(file_of(each)) for each in (numbers, later))
    assert (one.pop("printed_at"), other.pop("printed_at")) == (
        "2026-09-16T10:00:00.000Z", "2030-01-01T00:00:00.000Z",
    )  # fmt: skip
    assert one == other


def test_hostile_text_stays_text(make_numbers, hostile):
    numbers, _ = make_numbers(hostile)
    assert hostile in file_of(numbers).decode("utf-8").replace('\\"', '"')


# ------------------------------------------------------------------ word for word


def small_boiler():
    boiler = SmallBoiler({2: 4, 3: 2}, stays=("2.4",))
    plug = {"type": "driven", "condition": "tight", "vented": None}
    boiler.see("2.1", "plugged", at=SPRING, plug=plug)
    boiler.see("2.1", "sound", "rear")
    boiler.see("2.2", "leaking", "front", leak_at="bore", leak_at_mm=40)
    boiler.see("2.2", "sound", "front", by=BEN)
    boiler.see("2.3", "sound", how="by-row", findings=[
        {"mechanism": "scale", "side": "water", "grade": "watch", "thickness_mm": 1.5, "note": ""}
    ])  # fmt: skip
    boiler.measure("2.3", 2.4, accuracy_mm=0.1)
    boiler.see("3.1", "split", "rear", how="paper")
    boiler.work("3.1", "replace")
    boiler.see("3.2", None, "front", reason="refractory")
    body = {
        "boiler": boiler.journal.boiler, "tag": "B-7", "kind": "dry-back", "mawp_mpa": 1,
        "tubes": {"od_mm": 51, "wall_mm": 3}, "shell": {"diameter_mm": 1400},
        "sheets": [{"key": "front", "name": "front sheet", "plate_mm": 14, "stress_mpa": 90}],
        "faces": [{"key": "f", "name": "front", "sheet": "front", "looks": "rearward",
                   "shows": [{"pass": 2, "end": "front"}, {"pass": 3, "end": "front"}]}],
    }  # fmt: skip
    boiler.journal.add("boiler", body)
    return boiler


def test_the_file_of_a_small_boiler_reads_as_it_did():
    """Set TUBEWRIGHT_WRITE_GOLDEN=1 to write the text anew, and read what changed."""
    boiler = small_boiler()
    folded = boiler.folded()
    inspection = boiler.inspection(folded=folded)
    numbers = build_numbers(folded, inspection, printed_at=PRINTED, digest="d" * 64)
    text = re.sub(r'"[0-9a-f]{64}"', '"<id>"', file_of(numbers).decode("utf-8"))
    if os.environ.get("TUBEWRIGHT_WRITE_GOLDEN") == "1":
        GOLDEN.write_text(text, encoding="utf-8")
    assert text.splitlines() == GOLDEN.read_text(encoding="utf-8").splitlines()
