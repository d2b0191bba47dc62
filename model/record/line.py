"""A record and its line: the envelope, exactly; its canonical bytes; their hash as the id.

Not here: what each kind's body holds (``model.record.kinds``), where lines are kept
(``model.store``).
"""

import hashlib
import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from model.errors import RecordRefused
from model.record.canonical import decode_canonical, encode_canonical, normalised
from model.record.ids import is_entity_id

ENVELOPE_KEYS = frozenset(
    [
        "at",
        "body",
        "boiler",
        "by",
        "kind",
        "origin",
        "schema",
        "seq",
        "supersedes",
        "utc_offset_min",
    ]
)
MAX_LINE_BYTES = 64 * 1024
MAX_LARGE_LINE_BYTES = 4 * 1024 * 1024
LARGE_KINDS = frozenset(("layout", "same"))
_AT = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\.[0-9]{3}Z")
_ID = re.compile(r"[0-9a-f]{64}")
_KIND = re.compile(r"[a-z][a-z_]{0,31}")
_MAX_OFFSET_MIN = 24 * 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """One record. ``id`` and ``supersedes`` are lower-case hex; ``boiler`` and ``by`` may be ''."""

    id: str
    kind: str
    schema: int
    at: str
    utc_offset_min: int
    boiler: str
    by: str
    origin: str
    seq: int
    supersedes: tuple[str, ...]
    body: Mapping[str, Any]


def line_id(line: bytes) -> str:
    """The id of a line: SHA-256 of its bytes, lower-case hex."""
    return hashlib.sha256(line).hexdigest()


def utc_text(moment: datetime) -> str:
    """An aware moment as an envelope's ``at``: UTC, milliseconds, Z."""
    utc = moment.astimezone(UTC)
    return utc.strftime("%Y-%m-%dT%H:%M:%S.") + f"{utc.microsecond // 1000:03d}Z"


def write_line(
    *,
    kind: str,
    schema: int,
    body: Mapping[str, object],
    at: str,
    utc_offset_min: int,
    boiler: str,
    by: str,
    origin: str,
    seq: int,
    supersedes: Sequence[str] = (),
) -> bytes:
    """The canonical line of a new record. RecordRefused when it breaks the envelope's rules."""
    envelope = {
        "at": at,
        "body": normalised(body),
        "boiler": boiler,
        "by": by,
        "kind": kind,
        "origin": origin,
        "schema": schema,
        "seq": seq,
        "supersedes": sorted(set(supersedes)),
        "utc_offset_min": utc_offset_min,
    }
    line = encode_canonical(envelope)
    _check_envelope(envelope, len(line))
    return line


def read_line(line: bytes) -> Record:
    """The record of a line that came from elsewhere, verified: canonical form, envelope, limits."""
    if len(line) > MAX_LARGE_LINE_BYTES:
        raise RecordRefused(f"A record is {len(line)} bytes long; the limit is 4 MiB.")
    envelope = decode_canonical(line)
    if not isinstance(envelope, dict):
        raise RecordRefused("A record is not a JSON object.")
    _check_envelope(envelope, len(line))
    return _record(envelope, line_id(line))


def read_stored_line(line: str, record_id: str) -> Record:
    """The record of a line that was verified when it was stored; not verified again."""
    return _record(json.loads(line), record_id)


def _record(envelope: Mapping[str, Any], record_id: str) -> Record:
    return Record(
        id=record_id,
        kind=envelope["kind"],
        schema=envelope["schema"],
        at=envelope["at"],
        utc_offset_min=envelope["utc_offset_min"],
        boiler=envelope["boiler"],
        by=envelope["by"],
        origin=envelope["origin"],
        seq=envelope["seq"],
        supersedes=tuple(envelope["supersedes"]),
        body=envelope["body"],
    )


def _check_envelope(envelope: Mapping[str, Any], size: int) -> None:
    if envelope.keys() != ENVELOPE_KEYS:
        odd = sorted(envelope.keys() ^ ENVELOPE_KEYS)
        raise RecordRefused(f"A record's envelope has wrong or missing keys: {', '.join(odd)}.")
    for fault in _envelope_faults(envelope, size):
        raise RecordRefused(fault)


def _envelope_faults(envelope: Mapping[str, Any], size: int) -> list[str]:
    checks = {
        "at is not a UTC time with milliseconds": _is_time(envelope["at"]),
        "body is not an object": isinstance(envelope["body"], Mapping),
        "boiler is neither an id nor empty": _is_id_or_empty(envelope["boiler"]),
        "by is neither an id nor empty": _is_id_or_empty(envelope["by"]),
        "by is empty, which only an origin or a person may have": (
            envelope["by"] != "" or envelope["kind"] in ("origin", "person")
        ),
        "kind is not a word": _matches(_KIND, envelope["kind"]),
        "origin is not an id": is_entity_id(envelope["origin"]),
        "schema is not a whole number from 1": _is_integer(envelope["schema"], 1, 10_000),
        "seq is not a whole number from 1": _is_integer(envelope["seq"], 1, 2**53),
        "supersedes is not a sorted list of record ids": _is_id_list(envelope["supersedes"]),
        "utc_offset_min is not within a day": _is_integer(
            envelope["utc_offset_min"], -_MAX_OFFSET_MIN, _MAX_OFFSET_MIN
        ),
    }
    faults = [f"A record's {what}." for what, holds in checks.items() if not holds]
    limit = MAX_LARGE_LINE_BYTES if envelope["kind"] in LARGE_KINDS else MAX_LINE_BYTES
    if size > limit:
        faults.append(
            f"A {envelope['kind']} record is {size} bytes long; the limit is {limit}. "
            "Shorten the texts or split the entry."
        )
    return faults


def _is_time(value: object) -> bool:
    if not _matches(_AT, value):
        return False
    try:
        datetime.strptime(str(value), "%Y-%m-%dT%H:%M:%S.%fZ")
    except ValueError:
        return False
    return True


def _matches(pattern: re.Pattern[str], value: object) -> bool:
    return isinstance(value, str) and pattern.fullmatch(value) is not None


def _is_id_or_empty(value: object) -> bool:
    return value == "" or is_entity_id(value)


def _is_integer(value: object, low: int, high: int) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and low <= value <= high


def _is_id_list(value: object) -> bool:
    if not isinstance(value, list):
        return False
    return all(_matches(_ID, item) for item in value) and value == sorted(set(value))
