"""Canonical JSON: one byte sequence for each value, and every other sequence is refused.

Not here: the envelope around a body.
"""

import json
import math
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import RecordRefused
from model.record.canonical import (
    MAX_DEPTH,
    MAX_INTEGER,
    decode_canonical,
    encode_canonical,
    normalised,
)

texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12).map(
    lambda text: unicodedata.normalize("NFC", text)
)
decimals = st.integers(-(10**12), 10**12).map(lambda millionths: normalised(millionths / 10**6))
scalars = st.none() | st.booleans() | texts | st.integers(-MAX_INTEGER, MAX_INTEGER) | decimals
values = st.recursive(
    scalars,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(texts, inner, max_size=4),
    max_leaves=12,
)


def depth(value):
    inner = value.values() if isinstance(value, dict) else value
    if not isinstance(value, dict | list):
        return 0
    return 1 + max((depth(item) for item in inner), default=0)


@given(values.filter(lambda value: depth(value) <= MAX_DEPTH))
def test_every_allowed_value_comes_back_from_its_bytes_and_has_only_these(value):
    raw = encode_canonical(value)
    assert decode_canonical(raw) == value
    assert encode_canonical(decode_canonical(raw)) == raw
    assert json.loads(raw) == value  # any other JSON reader reads the same


@given(values.filter(lambda value: depth(value) <= MAX_DEPTH))
def test_what_is_canonical_needs_no_normalising(value):
    assert encode_canonical(normalised(value)) == encode_canonical(value)


@given(
    st.binary(max_size=60) | st.text(max_size=40).map(lambda text: text.encode("utf-8", "ignore"))
)
def test_any_bytes_are_read_back_exactly_or_refused(raw):
    try:
        value = decode_canonical(raw)
    except RecordRefused:
        return
    assert encode_canonical(value) == raw


@given(st.floats(-1e9, 1e9))
def test_a_number_is_normalised_to_six_places_and_then_stays(number):
    once = normalised(number)
    assert abs(once - number) <= 0.51e-6
    assert normalised(once) == once
    assert decode_canonical(encode_canonical(once)) == once


CANONICAL = {
    "an empty object": (b"{}", {}),
    "keys in order": (b'{"a":1,"b":[true,false,null]}', {"a": 1, "b": [True, False, None]}),
    "a decimal": (b"0.123456", 0.123456),
    "a small decimal": (b"0.000001", 0.000001),
    "a negative decimal": (b"-0.5", -0.5),
    "the greatest integer": (b"9007199254740992", 2**53),
    "short escapes": (b'"\\b\\t\\n\\f\\r\\"\\\\"', '\b\t\n\f\r"\\'),
    "other controls in lower-case hex": (b'"\\u0000\\u001f"', "\x00\x1f"),
    "a slash as it is": (b'"a/b"', "a/b"),
    "delete as it is": (b'"\x7f"', "\x7f"),
    "a line separator as it is": ('"\u2028\u2029"'.encode(), "\u2028\u2029"),
    "a character beyond 16 bits as it is": ('"\U0001f525"'.encode(), "\U0001f525"),
}


@pytest.mark.parametrize(("raw", "value"), CANONICAL.values(), ids=CANONICAL)
def test_canonical_bytes_are_read_and_written(raw, value):
    assert decode_canonical(raw) == value
    assert encode_canonical(value) == raw


def test_keys_stand_by_code_point_and_not_by_utf_16():
    # In UTF-16 the flame begins with D83D, which is less than FB01; by code point it is greater.
    ligature, flame = "\ufb01", "\U0001f525"
    assert encode_canonical({flame: 1, ligature: 2}) == f'{{"{ligature}":2,"{flame}":1}}'.encode()
    with pytest.raises(RecordRefused, match="not in canonical form"):
        decode_canonical(f'{{"{flame}":1,"{ligature}":2}}'.encode())


FORM = "not in canonical form"
JSON = "not canonical JSON"
NOT_CANONICAL = {
    "a blank after a colon": (b'{"a": 1}', FORM),
    "a blank at the end": (b'{"a":1} ', FORM),
    "a line end": (b'{"a":1}\n', FORM),
    "keys out of order": (b'{"b":1,"a":2}', FORM),
    "a doubled key": (b'{"a":1,"a":1}', FORM),
    "NaN": (b"NaN", "NaN is not a number"),
    "infinity": (b"Infinity", "Infinity is not a number"),
    "negative infinity": (b"-Infinity", "-Infinity is not a number"),
    "an exponent": (b"1e3", "1e3 is not a plain decimal"),
    "a capital exponent": (b"1E-3", "1E-3 is not a plain decimal"),
    "a whole number as a decimal": (b"1.0", "1.0 is not a plain decimal"),
    "a trailing zero": (b"0.50", "0.50 is not a plain decimal"),
    "negative zero": (b"-0", FORM),
    "negative zero as a decimal": (b"-0.0", "-0.0 is not a plain decimal"),
    "seven places": (b"0.1234567", "0.1234567 is not a plain decimal"),
    "an integer beyond 2^53": (b"9007199254740993", r"integer beyond 2\^53"),
    "a negative integer beyond 2^53": (b"-9007199254740993", r"integer beyond 2\^53"),
    "a decimal beyond 2^53": (b"9007199254740995.5", r"beyond 2\^53"),
    "an integer of 5000 digits": (b"9" * 5000, "A record"),
    "a leading zero": (b"01", JSON),
    "a plus sign": (b"+1", JSON),
    "a lone surrogate": (b'"\\ud800"', "lone surrogate"),
    "a surrogate in UTF-8": (b'"\xed\xa0\x80"', JSON),
    "a pair of surrogates as escapes": (b'"\\ud83d\\udd25"', FORM),
    "text that is not in NFC": ('"e\u0301"'.encode(), "not in NFC"),
    "a key that is not in NFC": ('{"e\u0301":1}'.encode(), "not in NFC"),
    "a byte order mark": (b"\xef\xbb\xbf{}", JSON),
    "UTF-16": ("{}".encode("utf-16"), JSON),
    "an escaped letter": (b'"\\u0041"', FORM),
    "an escaped slash": (b'"\\/"', FORM),
    "an escaped delete": (b'"\\u007f"', FORM),
    "an escaped line separator": (b'"\\u2028"', FORM),
    "a long escape where a short one is": (b'"\\u000a"', FORM),
    "an escape in capital hex": (b'"\\u001F"', FORM),
    "a control character as it is": (b'"\x01"', JSON),
    "nine deep": (b"[" * 9 + b"]" * 9, "nested deeper than 8"),
    "so deep that a reader would fall over": (b"[" * 100_000 + b"]" * 100_000, "A record"),
    "nothing": (b"", JSON),
    "two values": (b"{}{}", JSON),
    "a comment": (b"{}//", JSON),
    "single quotes": (b"{'a':1}", JSON),
    "a comma at the end": (b"[1,]", JSON),
    "broken UTF-8": (b'"\xff"', JSON),
}


@pytest.mark.parametrize(("raw", "sentence"), NOT_CANONICAL.values(), ids=NOT_CANONICAL)
def test_anything_that_is_not_canonical_is_refused(raw, sentence):
    with pytest.raises(RecordRefused, match=sentence):
        decode_canonical(raw)


def test_eight_deep_is_read():
    assert decode_canonical(b"[" * 8 + b"]" * 8) == [[[[[[[[]]]]]]]]


CANNOT_BE_WRITTEN = {
    "not a number": (math.nan, "cannot be recorded"),
    "infinity": (math.inf, "cannot be recorded"),
    "a whole decimal": (1.0, "not normalised"),
    "too many places": (0.1234567, "not normalised"),
    "an integer beyond 2^53": (2**53 + 1, r"beyond 2\^53"),
    "half a character": ("\ud800", "lone surrogate"),
    "text that is not in NFC": ("e\u0301", "not in NFC"),
    "nine deep": ([[[[[[[[[]]]]]]]]], "nested deeper than 8"),
    "a set": ({1}, "A set cannot be recorded"),
    "bytes": (b"x", "A bytes cannot be recorded"),
}


@pytest.mark.parametrize(("value", "sentence"), CANNOT_BE_WRITTEN.values(), ids=CANNOT_BE_WRITTEN)
def test_what_has_no_canonical_form_is_not_written(value, sentence):
    with pytest.raises(RecordRefused, match=sentence):
        encode_canonical(value)


@pytest.mark.parametrize(
    ("given_value", "recorded"),
    [
        (2.0, 2),
        (-0.0, 0),
        (0.12345649, 0.123456),
        (1e-9, 0),
        ("e\u0301", "\u00e9"),
        ({"e\u0301": (1.0, 2.5)}, {"\u00e9": [1, 2.5]}),
        (True, True),
        (None, None),
    ],
)
def test_what_people_give_is_normalised(given_value, recorded):
    value = normalised(given_value)
    assert value == recorded
    assert type(value) is type(recorded)


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_not_normalised(number):
    with pytest.raises(RecordRefused, match="write a plain number"):
        normalised({"wall_mm": number})


def test_two_keys_that_become_one_are_refused_and_neither_is_lost():
    with pytest.raises(RecordRefused, match="two keys that are the same text"):
        normalised({"e\u0301": 1, "\u00e9": 2})
