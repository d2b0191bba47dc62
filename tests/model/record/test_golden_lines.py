"""Lines that were written before the first release are read for ever, and say the same.

When this fails, old hand-over files can no longer be read: change the code, never the files. Not
here: how the lines were made (``tests/golden/make_record_lines.py``).
"""

import json
from collections import Counter
from pathlib import Path

import pytest

from model.record.bodies import BODIES
from model.record.canonical import encode_canonical
from model.record.kinds import KINDS, understood
from model.record.line import read_line, read_stored_line
from model.record.words import Does, EventWhat, How, SameWhat, SettingsSection, State
from tests.golden.fold_summary import summary_of
from tests.model.condition.against_the_judge import disagreements

GOLDEN = Path(__file__).resolve().parents[2] / "golden"


@pytest.fixture(scope="module")
def lines():
    return (GOLDEN / "record_lines.ndjson").read_bytes().splitlines()


@pytest.fixture(scope="module")
def records(lines):
    return [read_line(line) for line in lines]


@pytest.fixture(scope="module")
def summary():
    return json.loads((GOLDEN / "record_lines.fold.json").read_text(encoding="utf-8"))


def test_every_line_verifies_and_has_its_old_id(records):
    expected = (GOLDEN / "record_lines.sha256").read_text(encoding="ascii").split()
    assert [record.id for record in records] == expected
    assert len(set(expected)) == len(expected) >= 60


def test_a_stored_line_reads_the_same_as_a_received_one(lines, records):
    for line, record in zip(lines, records, strict=True):
        assert read_stored_line(line.decode(), record.id) == record


def test_a_record_gives_its_own_bytes_again(lines, records):
    for line, record in zip(lines, records, strict=True):
        envelope = {
            name: getattr(record, name)
            for name in ("at", "body", "boiler", "by", "kind", "origin", "schema", "seq")
        }
        more = {"supersedes": record.supersedes, "utc_offset_min": record.utc_offset_min}
        assert encode_canonical({**envelope, **more}) == line


def test_every_kind_and_every_variant_is_there(records):
    said = Counter(record.kind for record in records)
    assert said.keys() >= KINDS.keys()
    of = {kind: [r.body for r in records if r.kind == kind] for kind in said}
    assert {body["does"] for body in of["work"]} == set(Does)
    assert {body["what"] for body in of["event"]} == set(EventWhat)
    assert {body["what"] for body in of["same"]} == set(SameWhat)
    assert {body["section"] for body in of["settings"]} == set(SettingsSection)
    assert {body["state"] for body in of["observation"]} == {*State, None}
    assert {body["how"] for body in of["observation"]} == set(How)


def test_every_line_of_this_schema_is_understood_and_complete(records):
    for record in records:
        if record.kind not in KINDS or record.schema > KINDS[record.kind].schema:
            continue
        read = understood(record)
        assert read is not None, f"{record.kind} {record.seq} is not understood any more"
        assert read.body.keys() >= BODIES[record.kind].keys()
        assert record.body.items() <= read.body.items()


def test_what_this_program_did_not_understand_then_is_still_kept(records):
    assert [r.kind for r in records if understood(r) is None] == ["expanding", "observation"]


def test_the_lines_fold_to_what_they_folded_to_then(lines, summary):
    assert summary_of(lines, summary["boiler"]) == summary


def test_the_lines_fold_to_the_same_from_last_to_first_and_twice(lines, summary):
    assert summary_of([*reversed(lines), *lines], summary["boiler"]) == summary


def test_the_judge_agrees(records, summary):
    assert disagreements(records, boiler=summary["boiler"]) == []
