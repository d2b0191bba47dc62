"""The tag file ``handover.json``: of which boilers, up to which numbers, and which photos.

Not here: the tag files that every BagIt bag has (``sync.handover.bag``).
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from model.errors import RecordRefused
from model.record.canonical import decode_canonical, encode_canonical
from model.record.fields import Check, entity, list_of, map_of, object_of, sha256, whole
from sync.errors import Unsound
from sync.handover.names import FORMAT, MAX_ENTRIES, is_photo_name
from sync.vector import Reached, Vector

_SEQ = whole(1, 2**53)
_COVERED = map_of(entity, map_of(entity, _SEQ))
_VECTOR = map_of(entity, map_of(entity, object_of({"count": _SEQ, "digest": sha256, "seq": _SEQ})))


def _photo(value: object, name: str) -> Iterator[str]:
    if not isinstance(value, str) or not is_photo_name(value):
        yield f"{name} is not the name of a photo"


_FIELDS: Mapping[str, Check] = {
    "awaited": list_of(_photo, MAX_ENTRIES),
    "boilers": list_of(entity),
    "late": list_of(_photo, MAX_ENTRIES),
    "left_out": _COVERED,
    "vector": _VECTOR,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Head:
    """What a hand-over file says of itself."""

    boilers: tuple[str, ...]
    """The boilers of which it holds records, sorted: one, and those that were joined with it."""
    vector: Vector
    """What its writer held; who has read this file and all before it holds as much."""
    left_out: Mapping[str, Mapping[str, int]]
    """Up to which number of each stream an earlier file is relied on."""
    awaited: tuple[str, ...]
    """Photos that the records of these boilers name and the writer did not have, sorted."""
    late: tuple[str, ...]
    """Photos in this file whose records stand in an earlier one, sorted."""


def render_head(head: Head) -> bytes:
    """The bytes of the tag file: canonical JSON, as a record's line is."""
    return encode_canonical(
        {
            "awaited": list(head.awaited),
            "boilers": list(head.boilers),
            "format": FORMAT,
            "late": list(head.late),
            "left_out": head.left_out,
            "vector": {
                boiler: {
                    origin: {"count": r.count, "digest": r.digest, "seq": r.seq}
                    for origin, r in streams.items()
                }
                for boiler, streams in head.vector.items()
            },
        }
    )


def parse_head(raw: bytes) -> Head:
    """Raises Unsound for what is no head, and NewerFormat for one of a newer program."""
    try:
        value = decode_canonical(raw)
    except RecordRefused as refusal:
        raise Unsound("its handover.json is not canonical JSON") from refusal
    number = value.get("format") if isinstance(value, dict) else None
    if not isinstance(number, int) or isinstance(number, bool) or number < 1:
        raise Unsound("its handover.json has no format number")
    if number > FORMAT:
        raise NewerFormat(f"format {number}, this version reads {FORMAT}")
    faults = [
        fault
        for name, check in _FIELDS.items()
        for fault in check(value.get(name), f"handover.json {name}")
    ]
    if faults:
        raise Unsound(faults[0])
    return _head(value)


class NewerFormat(Unsound):
    """A sound file, perhaps, of a program that is newer than this one."""


def _head(value: Mapping[str, Any]) -> Head:
    boilers = tuple(value["boilers"])
    if not boilers or list(boilers) != sorted(set(boilers)):
        raise Unsound("its handover.json does not name its boilers in order")
    if not set(value["vector"]) | set(value["left_out"]) <= set(boilers):
        raise Unsound("its handover.json counts records of a boiler that it does not name")
    return Head(
        boilers=boilers,
        vector={
            boiler: {origin: Reached(**reached) for origin, reached in streams.items()}
            for boiler, streams in value["vector"].items()
        },
        left_out=value["left_out"],
        awaited=tuple(value["awaited"]),
        late=tuple(value["late"]),
    )
