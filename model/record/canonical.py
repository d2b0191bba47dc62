"""Canonical JSON: exactly one byte sequence for each value, so that a hash names one content.

Keys sorted by code point, no blanks, text in NFC, strings escaped as RFC 8785 does, numbers plain.
Not here: what a record must contain (``model.record.line``).
"""

import json
import math
import re
import unicodedata
from collections.abc import Mapping
from json.encoder import encode_basestring
from typing import Any

from model.errors import RecordRefused

MAX_DEPTH = 8
MAX_INTEGER = 2**53
DECIMAL_PLACES = 6
_DECIMAL = re.compile(r"-?(?:0|[1-9][0-9]*)\.[0-9]{0,5}[1-9]")


class ExactNumber(float):
    """A decimal as it stood in a line; keeps its text so that encoding gives the same bytes."""

    __slots__ = ("text",)
    text: str


def encode_canonical(value: object) -> bytes:
    """The canonical bytes of a value that is already in canonical form.

    Raises RecordRefused when the value has no canonical form (NaN, text not in NFC, a lone
    surrogate, deeper than 8, an integer beyond 2^53, more than 6 decimal places).
    """
    pieces: list[str] = []
    _encode(value, pieces, 1)
    try:
        return "".join(pieces).encode("utf-8")
    except UnicodeEncodeError:
        raise RecordRefused("A record holds half a character (a lone surrogate).") from None


def normalised(value: object) -> Any:
    """The value in canonical form: text to NFC, decimals rounded to 6 places, whole ones to int."""
    if isinstance(value, str):
        return unicodedata.normalize("NFC", str(value))
    if isinstance(value, float):
        return _rounded(value)
    if isinstance(value, Mapping):
        named = {unicodedata.normalize("NFC", key): item for key, item in value.items()}
        if len(named) != len(value):
            raise RecordRefused("A record holds two keys that are the same text once normalised.")
        return {key: normalised(item) for key, item in named.items()}
    if isinstance(value, list | tuple):
        return [normalised(item) for item in value]
    return value


def decode_canonical(raw: bytes) -> Any:
    """The value of canonical bytes; RecordRefused for any byte sequence that is not canonical."""
    try:
        value = json.loads(
            raw.decode("utf-8"), parse_float=_exact_number, parse_constant=_refuse_constant
        )
    except (ValueError, RecursionError) as error:
        raise RecordRefused(f"A record is not canonical JSON ({error}).") from None
    if encode_canonical(value) != raw:
        raise RecordRefused(
            "A record is not in canonical form (key order, blanks, doubled keys, escapes, numbers)."
        )
    return value


def _rounded(value: float) -> float | int:
    if not math.isfinite(value):
        raise RecordRefused(f"{value} is not a number that can be recorded; write a plain number.")
    rounded = round(float(value), DECIMAL_PLACES)
    return int(rounded) if rounded.is_integer() else rounded


def _exact_number(text: str) -> ExactNumber:
    if not _DECIMAL.fullmatch(text):
        raise ValueError(f"number {text[:40]} is not a plain decimal of at most 6 places")
    number = ExactNumber(text)
    if abs(number) > MAX_INTEGER:
        raise ValueError(f"number {text[:40]} is beyond 2^53")
    number.text = text
    return number


def _refuse_constant(text: str) -> float:
    raise ValueError(f"{text} is not a number")


def _encode(value: object, pieces: list[str], depth: int) -> None:
    if value is None:
        pieces.append("null")
    elif isinstance(value, str):
        pieces.append(_text(value))
    elif isinstance(value, bool):
        pieces.append("true" if value else "false")
    elif isinstance(value, int):
        pieces.append(_integer(value))
    elif isinstance(value, float):
        pieces.append(_decimal(value))
    elif depth > MAX_DEPTH:
        raise RecordRefused(f"A record is nested deeper than {MAX_DEPTH}.")
    elif isinstance(value, Mapping):
        _encode_object(value, pieces, depth)
    elif isinstance(value, list | tuple):
        pieces.append("[")
        for place, item in enumerate(value):
            if place:
                pieces.append(",")
            _encode(item, pieces, depth + 1)
        pieces.append("]")
    else:
        raise RecordRefused(f"A {type(value).__name__} cannot be recorded.")


def _encode_object(value: Mapping[str, object], pieces: list[str], depth: int) -> None:
    pieces.append("{")
    for place, key in enumerate(sorted(value)):
        if place:
            pieces.append(",")
        pieces.append(_text(key))
        pieces.append(":")
        _encode(value[key], pieces, depth + 1)
    pieces.append("}")


def _text(value: str) -> str:
    if not value.isascii() and not unicodedata.is_normalized("NFC", value):
        raise RecordRefused("A record holds text that is not in NFC.")
    return encode_basestring(value)


def _integer(value: int) -> str:
    if abs(value) > MAX_INTEGER:
        raise RecordRefused("A record holds an integer beyond 2^53.")
    return str(int(value))


def _decimal(value: float) -> str:
    if isinstance(value, ExactNumber):
        return value.text
    if not math.isfinite(value) or abs(value) > MAX_INTEGER:
        raise RecordRefused(f"A record holds the number {value}, which cannot be recorded.")
    text = f"{value:.{DECIMAL_PLACES}f}"
    if float(text) != value or value.is_integer():
        raise RecordRefused(f"A record holds the number {value!r}, which is not normalised.")
    return text.rstrip("0")
