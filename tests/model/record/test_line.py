"""The envelope and its line: written, read back, and refused when anything is out of place.

Not here: canonical JSON itself, and what a body must hold.
"""

import hashlib
import json
import random
from datetime import UTC, datetime, timedelta, timezone
from unicodedata import normalize

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import RecordRefused
from model.record.canonical import encode_canonical
from model.record.ids import is_entity_id, mint_id
from model.record.line import (
    MAX_LARGE_LINE_BYTES,
    MAX_LINE_BYTES,
    line_id,
    read_line,
    read_stored_line,
    utc_text,
    write_line,
)

OLD, OLDER = "b" * 64, "a" * 64
ENVELOPE = {
    "at": "2026-11-25T10:00:00.000Z",
    "body": {"why": "a slip"},
    "boiler": "boilerboiler2",
    "by": "personperson2",
    "kind": "withdraw",
    "origin": "originorigin2",
    "schema": 1,
    "seq": 7,
    "supersedes": [OLDER, OLD],
    "utc_offset_min": 60,
}


def line_with(**changes):
    return encode_canonical({**ENVELOPE, **changes})


def test_a_line_is_the_canonical_json_of_its_envelope_and_its_id_the_hash():
    line = write_line(**{**ENVELOPE, "supersedes": [OLD, OLDER, OLD]})
    assert line == json.dumps(ENVELOPE, sort_keys=True, separators=(",", ":")).encode()
    record = read_line(line)
    assert record.id == line_id(line) == hashlib.sha256(line).hexdigest()
    assert record.supersedes == (OLDER, OLD)
    assert (record.kind, record.seq, record.body) == ("withdraw", 7, {"why": "a slip"})


keys = st.text(st.characters(exclude_categories=["Cs"])).map(lambda k: normalize("NFC", k))
ids = st.integers(0, 2**32).map(lambda number: mint_id(random.Random(number)))


@given(
    st.dictionaries(keys, st.text("añ∅\x7f\u2028")),
    ids,
    ids,
    st.datetimes(datetime(1970, 1, 1), datetime(9999, 12, 30), timezones=st.just(UTC)),
    st.integers(1, 2**53),
    st.integers(-24 * 60, 24 * 60),
    st.lists(st.binary(min_size=32, max_size=32).map(bytes.hex), max_size=4),
)
def test_what_is_written_is_read_back(body, by, origin, at, seq, offset, supersedes):
    line = write_line(
        kind="gauge_check",
        schema=3,
        body=body,
        at=utc_text(at),
        utc_offset_min=offset,
        boiler="",
        by=by,
        origin=origin,
        seq=seq,
        supersedes=supersedes,
    )
    record = read_line(line)
    assert record == read_stored_line(line.decode(), line_id(line))
    assert (record.by, record.origin, record.seq) == (by, origin, seq)
    assert (record.at, record.utc_offset_min) == (utc_text(at), offset)
    assert record.supersedes == tuple(sorted(set(supersedes)))
    assert len(record.body) == len(body)


def test_a_moment_is_written_in_utc_with_milliseconds():
    moment = datetime(2026, 11, 25, 11, 0, 0, 9_999, timezone(timedelta(hours=1)))
    assert utc_text(moment) == "2026-11-25T10:00:00.009Z"


@pytest.mark.parametrize("key", sorted(ENVELOPE))
def test_a_missing_key_is_refused(key):
    short = {name: value for name, value in ENVELOPE.items() if name != key}
    with pytest.raises(RecordRefused, match=f"wrong or missing keys: {key}"):
        read_line(encode_canonical(short))


def test_a_further_key_is_refused():
    with pytest.raises(RecordRefused, match="wrong or missing keys: note"):
        read_line(line_with(note=""))


WRONG = {
    "at is not a UTC time with milliseconds": (
        ("at", "2026-11-25T10:00:00Z"),
        ("at", "2026-11-25T10:00:00.000+01:00"),
        ("at", "2026-11-25 10:00:00.000Z"),
        ("at", "2026-02-30T10:00:00.000Z"),
        ("at", "2025-02-29T10:00:00.000Z"),
        ("at", "2026-11-25T24:00:00.000Z"),
        ("at", "2026-11-25T23:59:60.000Z"),
        ("at", "2026-13-01T10:00:00.000Z"),
        ("at", "0000-01-01T10:00:00.000Z"),
        ("at", "2026-11-25T10:00:00.000Z\n"),
        ("at", "２026-11-25T10:00:00.000Z"),
        ("at", 0),
    ),
    "body is not an object": (("body", []), ("body", "x"), ("body", None)),
    "boiler is neither an id nor empty": (
        ("boiler", "short"),
        ("boiler", "BOILERBOILER2"),
        ("boiler", "boilerboiler1"),
        ("boiler", "boilerboiler22"),
        ("boiler", "boilerboiler2\n"),
        ("boiler", None),
    ),
    "by is neither an id nor empty": (("by", "Ada"), ("by", None)),
    "by is empty, which only an origin or a person may have": (("by", ""),),
    "kind is not a word": (("kind", ""), ("kind", "Withdraw"), ("kind", "re-roll"), ("kind", None)),
    "origin is not an id": (("origin", ""), ("origin", "tablet one"), ("origin", None)),
    "schema is not a whole number from 1": (
        ("schema", 0),
        ("schema", 1.5),
        ("schema", True),
        ("schema", "1"),
    ),
    "seq is not a whole number from 1": (("seq", 0), ("seq", -1), ("seq", None), ("seq", True)),
    "supersedes is not a sorted list of record ids": (
        ("supersedes", [OLD, OLDER]),
        ("supersedes", [OLD, OLD]),
        ("supersedes", ["B" * 64]),
        ("supersedes", ["b" * 63]),
        ("supersedes", [7]),
        ("supersedes", {}),
        ("supersedes", None),
    ),
    "utc_offset_min is not within a day": (
        ("utc_offset_min", 1441),
        ("utc_offset_min", -1441),
        ("utc_offset_min", 0.5),
        ("utc_offset_min", None),
    ),
}


@pytest.mark.parametrize(
    ("sentence", "key", "value"),
    [(sentence, *case) for sentence, cases in WRONG.items() for case in cases],
)
def test_a_wrong_value_in_the_envelope_is_refused(sentence, key, value):
    with pytest.raises(RecordRefused, match=sentence):
        read_line(line_with(**{key: value}))


@pytest.mark.parametrize("kind", ["origin", "person"])
def test_the_first_records_of_a_database_may_be_by_nobody(kind):
    assert read_line(line_with(kind=kind, by="")).by == ""


@pytest.mark.parametrize("kind", ["observation", "withdraw", "settle", "sign_off"])
def test_any_other_record_by_nobody_is_refused(kind):
    with pytest.raises(RecordRefused, match="by is empty"):
        read_line(line_with(kind=kind, by=""))


@pytest.mark.parametrize("raw", [b"[]", b"1", b'"x"', b"null"])
def test_a_line_that_is_no_object_is_refused(raw):
    with pytest.raises(RecordRefused, match="not a JSON object"):
        read_line(raw)


def test_a_body_may_be_six_deep_below_its_own_braces():
    assert read_line(line_with(body={"a": [[[[[[]]]]]]}))
    with pytest.raises(RecordRefused, match="nested deeper than 8"):
        line_with(body={"a": [[[[[[[]]]]]]]})


def body_for_a_line_of(size, kind):
    empty = len(line_with(kind=kind, body={"note": ""}))
    return {"note": "x" * (size - empty)}


@pytest.mark.parametrize(
    ("kind", "limit"),
    [
        ("observation", MAX_LINE_BYTES),
        ("gauge_check", MAX_LINE_BYTES),
        ("layout", MAX_LARGE_LINE_BYTES),
        ("same", MAX_LARGE_LINE_BYTES),
    ],
)
def test_a_line_may_be_as_long_as_its_kind_allows_and_no_byte_longer(kind, limit):
    longest = line_with(kind=kind, body=body_for_a_line_of(limit, kind))
    assert len(longest) == limit
    assert read_line(longest).kind == kind
    too_long = body_for_a_line_of(limit + 1, kind)
    with pytest.raises(RecordRefused, match=r"the limit is (65536|4 MiB)"):
        read_line(line_with(kind=kind, body=too_long))
    with pytest.raises(RecordRefused, match=f"the limit is {limit}"):
        write_line(**{**ENVELOPE, "kind": kind, "body": too_long})


def test_one_changed_byte_makes_another_id():
    line = line_with()
    assert line_id(line) != line_id(line.replace(b"a slip", b"a slop"))


@given(st.integers(0, 2**64))
def test_a_minted_id_is_an_id(seed):
    assert is_entity_id(mint_id(random.Random(seed)))


@pytest.mark.parametrize("text", ["", "a" * 12, "a" * 14, "A" * 13, "a" * 12 + "1", "é" * 13, None])
def test_other_texts_are_no_ids(text):
    assert not is_entity_id(text)
