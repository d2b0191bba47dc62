"""Lines that a scribe types: what they mean, what is read back, what is refused and how."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.view.caller import hear
from fieldapp.view.face_map import build_face_map
from fieldapp.view.key_state import Confirm, Mark, NotInspected, run_intent
from model.record.words import Reason
from tests.fieldapp.view.faces import face_map

FRONT, TURNAROUND = face_map("front"), face_map("turnaround")


@pytest.mark.parametrize(
    ("line", "keys", "stated"),
    [
        ("row 2, 3, plugged", ["P2-R02-C03"], {"state": "plugged"}),
        (
            "2 1 2-4 plugged",
            ["P2-R02-C01", "P2-R02-C02", "P2-R02-C03", "P2-R02-C04"],
            {"state": "plugged"},
        ),
        ("r3 c1 leaking joint", ["P2-R03-C01"], {"state": "leaking", "leak_at": "joint"}),
        ("R3C1 leaks at the joint", ["P2-R03-C01"], {"state": "leaking", "leak_at": "joint"}),
        ("3 1 leaking, not found", ["P2-R03-C01"], {"state": "leaking", "leak_at": "not-found"}),
        ("Row 1: tubes 1 and 3 thin", ["P2-R01-C01", "P2-R01-C03"], {"state": "thinned"}),
        ("1 1 to 2 ok", ["P2-R01-C01", "P2-R01-C02"], {"state": "sound"}),
        ("1 3 – 2 split", ["P2-R01-C02", "P2-R01-C03"], {"state": "split"}),
        ("row 1 all sound", ["P2-R01-C01", "P2-R01-C02", "P2-R01-C03"], {"state": "sound"}),
        ("pass 3 row 2 1 sound", ["P3-R02-C01"], {"state": "sound"}),
        ("p3 r2 c1 sound.", ["P3-R02-C01"], {"state": "sound"}),
        (
            "1 1 plugged through-rod plug",
            ["P2-R01-C01"],
            {
                "state": "plugged",
                "plug": {"type": "through-rod", "condition": None, "vented": None},
            },
        ),
    ],
)
def test_a_line_means_marks(line, keys, stated):
    heard = hear(line, FRONT, 2)
    assert heard.intent is not None, heard.reply
    assert isinstance(heard.intent, Mark)
    assert [ref.tube for ref in heard.intent.refs] == keys == list(heard.keys)
    assert heard.intent.stated == stated


def test_columns_are_counted_from_the_left_as_the_caller_sees_them():
    heard = hear("row 2, 1, leaking joint", TURNAROUND)
    assert heard.keys == ("P2-R02-C04",)
    assert heard.reply == "Pass 2, row 2, 1st from the left, P2-R02-C04: leaking at the joint."
    assert (heard.intent.refs[0].face, heard.intent.refs[0].end) == ("turnaround", "rear")


@pytest.mark.parametrize(
    "line",
    ["row 2 c4 split", "2 C4 split", "2 column 4 split", "R2C4 split", "p2 r2 c4, split"],
)
def test_a_column_by_name_is_the_column_of_the_key_at_a_mirrored_face_too(line):
    heard = hear(line, TURNAROUND)
    assert heard.keys == ("P2-R02-C04",)
    assert heard.reply == "Pass 2, row 2, 1st from the left, P2-R02-C04: split."


def test_columns_of_the_key_and_tubes_from_the_left_can_be_mixed():
    heard = hear("2 c3-c4 tube 3 plugged", TURNAROUND)
    assert heard.keys == ("P2-R02-C04", "P2-R02-C03", "P2-R02-C02")
    assert heard.reply == (
        "Pass 2, row 2, 3 tubes, 1 to 3 from the left, columns 4 to 2 of the key: plugged."
    )


@pytest.mark.parametrize("line", ["P2-R02-C04 plugged", "p2-r02-c04: PLUGGED", " P2-r02-C04,plug"])
def test_a_full_key_is_taken_whatever_its_case(line):
    heard = hear(line, TURNAROUND)
    assert heard.keys == ("P2-R02-C04",)
    assert heard.reply == "Pass 2, row 2, 1st from the left, P2-R02-C04: plugged."


def test_keys_of_several_rows_are_taken_and_said_row_by_row():
    heard = hear("P2-R01-C01 and P2-R02-C02, P2-R02-C03 plugged", FRONT, 2)
    assert heard.keys == ("P2-R01-C01", "P2-R02-C02", "P2-R02-C03")
    assert heard.reply == (
        "Pass 2, row 1, 1st from the left, P2-R01-C01; pass 2, row 2, 2 tubes, 2, 3 from the left, "
        "columns 2, 3 of the key: plugged."
    )


def test_an_owners_own_key_is_taken_even_if_it_is_a_number():
    face = face_map("front")
    own = {"P2-R01-C01": "7", "P2-R01-C02": "North 2"}
    ends = tuple(replace(end, key=own.get(end.key, end.key)) for end in face.ends)
    face = replace(face, ends=tuple(replace(end, label=end.key) for end in ends))
    assert hear("7 plugged", face, 2).keys == ("7",)
    assert hear("north 2 split", face, 2).keys == ("North 2",)
    assert hear("7 1 plugged", face, 2).reply.startswith("Pass 2 has no row 7")


def test_one_named_tube_may_change_anything_and_several_only_what_nobody_looked_at():
    assert not hear("2 2 sound", FRONT, 2).intent.by_row
    assert not hear("P2-R02-C02 sound", FRONT, 2).intent.by_row
    assert hear("2 2-3 sound", FRONT, 2).intent.by_row
    assert hear("2 all sound", FRONT, 2).intent.by_row
    assert hear("P2-R02-C02 P2-R02-C03 sound", FRONT, 2).intent.by_row


def test_a_called_range_leaves_what_is_graver_and_one_called_tube_says_what_it_was(bench, session):
    facts = session.facts
    face = build_face_map(list(bench.tubes.values()), facts.face("front"), facts)
    outcome = run_intent(session, hear("2 all sound", face, 2).intent)
    assert outcome.said == (
        "P2 row 2, 2 ends: sound. Left alone: P2 row 2 column 2 (plugged since 2025-11-20) and 1 "
        "more; tap to change."
    )
    assert outcome.remarks == (
        ". Left alone: P2 row 2 column 2 (plugged since 2025-11-20) and 1 more; tap to change."
    )
    outcome = run_intent(session, hear("2 c2 sound", face, 2).intent)
    assert outcome.said == "P2 row 2 column 2: sound, was plugged (driven)."


def test_several_tubes_are_read_back_in_runs():
    assert hear("2 1 2 3 plugged driven", FRONT, 2).reply == (
        "Pass 2, row 2, 3 tubes, 1 to 3 from the left, columns 1 to 3 of the key: plugged, driven "
        "plug."
    )
    assert hear("2 4 1 2 sound", FRONT, 2).reply == (
        "Pass 2, row 2, 3 tubes, 1, 2, 4 from the left, columns 1, 2, 4 of the key: sound."
    )


def test_confirming_and_reasons_can_be_called():
    assert isinstance(hear("2 2 confirm", FRONT, 2).intent, Confirm)
    heard = hear("2 2 not inspected, not cleaned", FRONT, 2)
    assert isinstance(heard.intent, NotInspected)
    assert heard.intent.reason is Reason.NOT_CLEANED
    assert heard.reply == (
        "Pass 2, row 2, 2nd from the left, P2-R02-C02: not inspected, not cleaned."
    )
    assert hear("2 2 no entry", FRONT, 2).intent.reason is Reason.NO_ENTRY


@pytest.mark.parametrize(
    ("line", "current", "reply"),
    [
        (
            "",
            2,
            "Nothing was typed. Row, tubes counted from the left as you see them, state: "
            "3 11 14-18 plugged.",
        ),
        ("1 1 sound", None, "Say which pass: passes 2 and 3 are seen from here."),
        ("pass 4 1 1 sound", None, "Pass 4 is not seen from here: passes 2 and 3."),
        ("9 1 sound", 2, "Pass 2 has no row 9: its rows are 1 to 3."),
        ("P3-R01-C09 sound", 2, "P3-R01-C09 is not seen from here."),
        ("1 c7 sound", 2, "Row 1 of pass 2 has no column 7: they are 1 to 3."),
        ("1 7 sound", 2, "Row 1 of pass 2 has no tube 7 from the left: they are 1 to 3."),
        (
            "1 sound",
            2,
            "Say which tubes of row 1. Row, tubes counted from the left as you see them, state: "
            "3 11 14-18 plugged.",
        ),
        (
            "1 1",
            2,
            "Say the state: sound, thinned, leaking, plugged, split, confirm or no entry.",
        ),
        (
            "1 1 wet",
            2,
            "wet is no state: say sound, thinned, leaking, plugged, split, confirm or no entry.",
        ),
        (
            "1 1 leaking chamber",
            2,
            "chamber does not go with leaking: after leaking say joint, bore, ligament or not "
            "found.",
        ),
        (
            "1 1 plugged joint",
            2,
            "joint does not go with plugged: after plugged say driven, through rod, cap or welded.",
        ),
        ("1 1 sound joint", 2, "joint does not go with sound: say it by itself."),
        (
            "plugged 3",
            2,
            "The number of the row is wanted, not plugged. Row, tubes counted from the left as you "
            "see them, state: 3 11 14-18 plugged.",
        ),
    ],
)
def test_what_is_not_understood_is_refused_in_words(line, current, reply):
    heard = hear(line, FRONT, current)
    assert (heard.intent, heard.keys) == (None, ())
    assert heard.reply == reply


@given(st.text(max_size=30) | st.text(alphabet="prc0123456789 -,soundleaking", max_size=30))
def test_any_line_is_understood_or_refused(line):
    heard = hear(line, FRONT, 2)
    assert heard.reply.endswith(".")
    assert (heard.intent is None) == (heard.keys == ())
