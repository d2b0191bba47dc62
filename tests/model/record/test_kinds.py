"""What each kind's body must hold: refused in one sentence with the field and the value.

Sound bodies come from the golden lines, one of every kind. Not here: what a record does to a
state, and the envelope.
"""

from pathlib import Path

import pytest

from model.errors import RecordRefused
from model.record.bodies import BODIES
from model.record.fields import last_day
from model.record.kinds import KINDS, Who, complete_body, understood
from model.record.line import Record, read_line

GOLDEN = Path(__file__).resolve().parents[2] / "golden" / "record_lines.ndjson"
RECORDS = [read_line(line) for line in GOLDEN.read_bytes().splitlines()]
SOUND = {kind: next(r.body for r in RECORDS if r.kind == kind and r.schema == 1) for kind in BODIES}
LEAK = next(r.body for r in RECORDS if r.kind == "observation" and r.body["state"] == "leaking")
FREE = {("boiler", "identity"), ("boiler", "tubes"), ("boiler", "shell"), ("settings", "values")}
JUNK = (7.25, True, [7.25], {"": 7.25}, "\x00?", "x" * 20_001)


def record_of(kind, body, schema=1):
    return Record(
        id="0" * 64,
        kind=kind,
        schema=schema,
        at="2026-11-25T10:00:00.000Z",
        utc_offset_min=0,
        boiler="",
        by="",
        origin="originorigin2",
        seq=1,
        supersedes=(),
        body=body,
    )


def test_every_kind_has_a_body_and_every_body_a_kind():
    assert BODIES.keys() == KINDS.keys()
    assert {kind.schema for kind in KINDS.values()} == {1}


@pytest.mark.parametrize("kind", KINDS)
def test_a_sound_body_is_complete_and_understood(kind):
    assert complete_body(kind, SOUND[kind]).keys() == BODIES[kind].keys()
    assert understood(record_of(kind, SOUND[kind])) is not None


@pytest.mark.parametrize("kind", KINDS)
def test_a_field_that_the_kind_has_not_is_refused_by_name(kind):
    with pytest.raises(RecordRefused, match=f"A {kind} record has no field colour, through"):
        complete_body(kind, {**SOUND[kind], "through": 1, "colour": "red"})


@pytest.mark.parametrize(("kind", "field"), [(kind, f) for kind in KINDS for f in BODIES[kind]])
def test_no_field_takes_just_anything(kind, field):
    refused = []
    for junk in JUNK:
        try:
            complete_body(kind, {**SOUND[kind], field: junk})
        except RecordRefused as refusal:
            refused.append(str(refusal))
    assert len(refused) >= 4, f"{kind}.{field} took {len(JUNK) - len(refused)} of {len(JUNK)}"
    for sentence in refused:
        assert sentence.startswith(f"This {kind} cannot be recorded: ")
        assert "\n" not in sentence
        assert field in sentence


@pytest.mark.parametrize(("kind", "field"), [(kind, f) for kind in KINDS for f in BODIES[kind]])
def test_junk_in_a_field_of_a_record_from_elsewhere_is_kept_and_says_nothing(kind, field):
    read = [understood(record_of(kind, {**SOUND[kind], field: junk})) for junk in JUNK]
    assert read.count(None) >= 4


WRONG_VALUES = {
    "person": [("person", "ada", "person is not an id"), ("name", " ", "name is empty")],
    "origin": [("cloned_from", "x", "cloned_from is not an id")],
    "boiler": [
        ("tag", "", "tag is empty"),
        ("kind", "wet back", "must be one of: wet-back, dry-back, other"),
        ("year_built", 1799, "must be a whole number from 1800 to 2200"),
        ("year_built", 1987.5, "must be a whole number"),
        ("mawp_mpa", -0.1, "mawp_mpa is -0.1, but must be at least 0 and at most 100"),
        ("sheets", [{"key": "f", "name": ""}], r"sheets\[0\].name is empty"),
        ("faces", [{"key": "f", "name": "F", "sheet": "s", "looks": "up", "shows": []}], "looks"),
        ("sheets", [{"key": "f", "name": "F"}] * 21, "the limit is 20"),
    ],
    "layout": [
        ("holes", [{}], r"holes\[0\].hole is not an id"),
        ("holes", [{**SOUND["layout"]["holes"][0], "tube": "7 a"}], "is not a tube key"),
        ("holes", [{**SOUND["layout"]["holes"][0], "tube": "x" * 33}], "is not a tube key"),
        ("holes", [{**SOUND["layout"]["holes"][0], "pass": 0}], "whole number from 1 to 9"),
        ("holes", [{**SOUND["layout"]["holes"][0], "od_mm": 0}], "od_mm is 0, but must be above 0"),
        ("holes", [{**SOUND["layout"]["holes"][0], "kind": "thick"}], "one of: plain, stay"),
        ("retired", ["gone"], r"retired\[0\] is not an id"),
    ],
    "settings": [
        ("section", "walls", "one of: wall, firing, outage, costs, limits"),
        ("values", {"": 1}, "a key of values is empty"),
    ],
    "inspection": [
        ("date", "2026-11", "is not a day such as 2026-11-25"),
        ("date", "2026-02-30", "is not a day"),
        ("date", "25.11.2026", "is not a day"),
        ("date", None, "date None is not a day"),
        ("scope", "all", "one of: full, passes, leak-call, after-repair"),
        ("passes", [0], r"passes\[0\] is 0"),
        ("passes", [2] * 10, "the limit is 9"),
        ("opened", [""], r"opened\[0\] is empty"),
        ("instruments", [{"name": "g", "calibration": ""}, {"name": ""}], r"instruments\[1\].name"),
    ],
    "close": [
        ("digest", "A" * 64, "digest is not a SHA-256"),
        ("beyond_gap", ["x"], r"beyond_gap\[0\] is not a SHA-256"),
        ("vector", {"x": {}}, "a key of vector is not an id"),
        ("vector", {"boilerboiler2": {"originorigin2": 0}}, "whole number from 1"),
    ],
    "observation": [
        ("tube", "", "is not a tube key"),
        ("end", "back", "one of: front, rear"),
        ("end", None, "end is None, but must be one of"),
        ("state", "ok", "one of: split, leaking, plugged, thinned, sound"),
        ("reason", "tired", "one of: no-entry"),
        ("how", None, "one of: seen, paper, by-row, filled"),
        ("how", "by_row", "one of: seen, paper, by-row, filled"),
        ("found_by", "smell", "one of: eye"),
        ("test_mpa", -1, "test_mpa is -1"),
        ("plug", {"type": "cork"}, "plug.type is 'cork'"),
        ("plug", {"condition": "loose"}, "one of: missing, burned, weeping, tight"),
        ("plug", {"vented": "yes"}, "plug.vented must be true or false"),
        (
            "findings",
            [{"mechanism": "rust", "side": "fire", "grade": "act"}],
            "mechanism is 'rust'",
        ),
        ("findings", [{"mechanism": "bowed", "side": "fire", "grade": "bad"}], "note, watch, act"),
        ("act", "x", "act is not an id"),
    ],
    "reading": [
        ("wall_mm", -0.1, "wall_mm is -0.1"),
        ("wall_mm", float("nan"), "wall_mm is nan"),
        ("clock_h", 0, "clock_h is 0, but must be above 0 and at most 12"),
        ("clock_h", 12.5, "clock_h is 12.5"),
        ("side", "gas", "one of: fire, water, unknown"),
        ("method", "eye", "one of: ultrasonic"),
        ("surface", "dirty", "one of: as-found, cleaned"),
        ("purpose", "worst", "one of: planned, suspect, baseline"),
        ("confirmed", None, "confirmed must be true or false"),
        ("entered", {"value": 2}, "entered.unit must be text"),
        ("entered", {"value": "2", "unit": "mm"}, "entered.value must be a number"),
    ],
    "part": [
        ("part", "chimney", "one of: ligament, sheet-area"),
        ("where", {"holes": ["x"], "text": ""}, r"where.holes\[0\] is not an id"),
        ("remaining_percent", 101, "remaining_percent is 101"),
    ],
    "photo": [
        ("sha256", "x", "sha256 is not a SHA-256"),
        ("bytes", 0, "bytes is 0"),
        ("about", {"what": "cat"}, "about.what is 'cat'"),
        ("media", "", "media is empty"),
    ],
    "test_run": [
        ("pressure_mpa", None, "pressure_mpa must be a number"),
        ("medium", "steam", "one of: water, air, other"),
        ("water_c", 401, "water_c is 401, but must be at least -50 and at most 400"),
    ],
    "settle": [
        ("state", None, "state is None, but must be one of"),
        ("why", "", "why is empty"),
        ("from", "memory", "one of: looked-again, photos, readings"),
    ],
    "withdraw": [("why", "  ", "why is empty")],
    "work": [
        ("does", "reroll", "one of: plug, unplug, re-roll, replace, weld, clean, other"),
        ("ends", ["middle"], r"ends\[0\] is 'middle'"),
        ("ends", ["front", "rear", "front"], "the limit is 2"),
        ("done_on", "spring 2019", "is not a date such as 2019, 2019-06 or 2019-06-01"),
        ("done_on", "2019-13", "is not a date"),
        ("count", 0, "count is 0"),
        ("tube", {"od_mm": 0}, "tube.od_mm is 0"),
        ("corrects", None, "corrects must be true or false"),
    ],
    "event": [
        ("what", "replace", "one of: leak, plug, re-roll, replaced, cleaned, retubed"),
        ("date", None, "is not a date such as 2019"),
        ("date", "2019-6", "is not a date such as 2019"),
        ("pass", 10, "pass is 10"),
    ],
    "cause": [("group", "", "group is empty"), ("side", None, "side is None")],
    "same": [
        ("what", "hole", "one of: boiler, inspection, person"),
        ("holes", {"x": "y"}, "a key of holes is not an id"),
    ],
    "sign_off": [("name", "", "name is empty"), ("role", " ", "role is empty")],
}


@pytest.mark.parametrize(
    ("kind", "field", "value", "sentence"),
    [(kind, *case) for kind, cases in WRONG_VALUES.items() for case in cases],
)
def test_a_wrong_value_is_refused_with_its_field_and_what_is_allowed(kind, field, value, sentence):
    body = {**SOUND[kind], field: value}
    with pytest.raises(RecordRefused, match=sentence):
        complete_body(kind, body)
    assert understood(record_of(kind, body)) is None


def test_wrong_values_are_tried_for_every_kind():
    assert WRONG_VALUES.keys() == KINDS.keys()


NEITHER = {"inspection": None, "done_on": None}
BELONG_TOGETHER = {
    "a reading of nothing": ("reading", {"wall_mm": None, "loss_percent": None}, "either wall_mm"),
    "a reading of both": ("reading", {"wall_mm": 2, "loss_percent": 3}, "either wall_mm or"),
    "work of no time": ("work", NEITHER, "name the outage's inspection or the date"),
    "work on nothing": ("work", {"hole": None, "count": None}, "name the tube, or the count"),
    "one id joined with itself": ("same", {"b": SOUND["same"]["a"]}, "the same id"),
    "a place of a leak without a leak": (
        "observation",
        {"state": "sound", "plug": None, "leak_at": "bore"},
        "leak_at goes with the state leaking only",
    ),
}


@pytest.mark.parametrize(
    ("kind", "changes", "sentence"), BELONG_TOGETHER.values(), ids=BELONG_TOGETHER
)
def test_fields_that_belong_together_are_refused_apart(kind, changes, sentence):
    body = {**SOUND[kind], **changes}
    with pytest.raises(RecordRefused, match=sentence):
        complete_body(kind, body)
    assert understood(record_of(kind, body)) is None


def test_every_fault_of_a_body_is_in_the_one_sentence():
    body = {**LEAK, "end": "back", "how": "guessed", "tube": "7 a"}
    with pytest.raises(RecordRefused, match=r"tube '7 a'.*; end is 'back'.*; how is 'guessed'"):
        complete_body("observation", body)


def test_what_is_not_given_is_blank():
    body = complete_body("person", {"person": "adaadaadaada2", "name": "Ada"})
    assert body == {
        "person": "adaadaadaada2",
        "name": "Ada",
        "company": "",
        "role": "",
        "certificate": "",
    }
    shut = {"inspection": "inspectionab2", "digest": "0" * 64}
    assert complete_body("close", shut)["beyond_gap"] == []


def test_a_blank_list_belongs_to_its_own_body():
    shut = {"inspection": "inspectionab2", "digest": "0" * 64}
    complete_body("close", shut)["beyond_gap"].append("0" * 64)
    assert complete_body("close", shut)["beyond_gap"] == []


def test_a_missing_field_of_a_record_from_elsewhere_is_blank():
    short = {name: value for name, value in LEAK.items() if name not in ("note", "plug", "act")}
    read = understood(record_of("observation", short))
    assert (read.body["note"], read.body["plug"], read.body["act"]) == ("", None, None)


def test_a_further_field_of_a_record_from_elsewhere_stays():
    read = understood(record_of("observation", {**LEAK, "temperature_c": 21}))
    assert read.body["temperature_c"] == 21


@pytest.mark.parametrize(("kind", "schema"), [("gauge_check", 1), ("observation", 2)])
def test_an_unknown_kind_and_a_newer_schema_are_not_understood(kind, schema):
    assert understood(record_of(kind, LEAK, schema)) is None


SAME_PERSON_KINDS = ("reading", "part", "photo", "test_run")


def test_who_may_supersede_and_withdraw_is_as_agreed():
    supersede = {kind.name: kind.supersede for kind in KINDS.values()}
    withdraw = {kind.name: kind.withdraw for kind in KINDS.values()}
    documents = dict.fromkeys(
        ("person", "boiler", "layout", "inspection", "cause", "event"), Who.ANYONE
    )
    own = dict.fromkeys(SAME_PERSON_KINDS, Who.SAME_PERSON)
    never = dict.fromkeys(("origin", "sign_off", "withdraw"), Who.NOBODY)
    joined = dict.fromkeys(("close", "settle", "same"), Who.ANYONE)
    assert supersede == {
        **documents,
        **own,
        **never,
        **dict.fromkeys(joined, Who.NOBODY),
        "settings": Who.SAME_SECTION,
        "observation": Who.SAME_PERSON_SAME_SLOT,
        "work": Who.SAME_PERSON_AS_CORRECTION,
    }
    assert withdraw == {
        **documents,
        **own,
        **never,
        **joined,
        "settings": Who.ANYONE,
        "observation": Who.SAME_PERSON,
        "work": Who.SAME_PERSON,
    }


@pytest.mark.parametrize(
    ("partial", "day"),
    [
        ("2019", "2019-12-31"),
        ("2019-06", "2019-06-30"),
        ("2020-02", "2020-02-29"),
        ("1900-02", "1900-02-28"),
        ("2019-06-01", "2019-06-01"),
    ],
)
def test_a_partial_date_ends_on_its_last_day(partial, day):
    assert last_day(partial).isoformat() == day


@pytest.mark.parametrize(
    "text",
    ["", "19", "2019-6", "2019-00", "2019-13", "2019-02-29", "0000", "0000-05", "2019-06-01 "],
)
def test_what_is_no_date_has_no_last_day(text):
    with pytest.raises(ValueError, match=r"is not a date|no such month|year|day|month"):
        last_day(text)
