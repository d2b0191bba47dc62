"""The kinds of records: schema numbers, who may supersede or withdraw, complete and sound bodies.

Not here: the fields themselves (``model.record.bodies``), what a record does to the state of a
tube (``model.condition``).
"""

from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass, replace
from enum import Enum, auto
from functools import cache
from typing import Any

from model.errors import RecordRefused
from model.record.bodies import BODIES
from model.record.fields import Check, object_of
from model.record.line import Record


class Who(Enum):
    """Who may do a thing to a record of a kind."""

    ANYONE = auto()
    NOBODY = auto()
    SAME_PERSON = auto()
    SAME_PERSON_SAME_SLOT = auto()
    SAME_SECTION = auto()
    SAME_PERSON_AS_CORRECTION = auto()
    """The same person, and only by a record that says it corrects; others merely follow."""


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind: its schema number, and who may supersede and withdraw it."""

    name: str
    schema: int
    supersede: Who
    withdraw: Who


KINDS: Mapping[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("person", 1, Who.ANYONE, Who.ANYONE),
        Kind("origin", 1, Who.NOBODY, Who.NOBODY),
        Kind("boiler", 1, Who.ANYONE, Who.ANYONE),
        Kind("layout", 1, Who.ANYONE, Who.ANYONE),
        Kind("settings", 1, Who.SAME_SECTION, Who.ANYONE),
        Kind("inspection", 1, Who.ANYONE, Who.ANYONE),
        Kind("close", 1, Who.NOBODY, Who.ANYONE),
        Kind("observation", 1, Who.SAME_PERSON_SAME_SLOT, Who.SAME_PERSON),
        Kind("reading", 1, Who.SAME_PERSON, Who.SAME_PERSON),
        Kind("part", 1, Who.SAME_PERSON, Who.SAME_PERSON),
        Kind("photo", 1, Who.SAME_PERSON, Who.SAME_PERSON),
        Kind("test_run", 1, Who.SAME_PERSON, Who.SAME_PERSON),
        # A settle covers the opinions it names and never kills them.
        Kind("settle", 1, Who.NOBODY, Who.ANYONE),
        Kind("withdraw", 1, Who.NOBODY, Who.NOBODY),
        Kind("work", 1, Who.SAME_PERSON_AS_CORRECTION, Who.SAME_PERSON),
        Kind("event", 1, Who.ANYONE, Who.ANYONE),
        Kind("cause", 1, Who.ANYONE, Who.ANYONE),
        Kind("same", 1, Who.NOBODY, Who.ANYONE),
        Kind("sign_off", 1, Who.NOBODY, Who.NOBODY),
    )
}


def complete_body(kind: str, given: Mapping[str, Any]) -> dict[str, Any]:
    """The body with every field of its kind; fields not given are null, empty text or empty.

    Raises RecordRefused naming every field that is unknown or breaks its rule.
    """
    unknown = sorted(given.keys() - BODIES[kind].keys())
    if unknown:
        raise RecordRefused(f"A {kind} record has no field {', '.join(unknown)}.")
    # Copied, because the caller may go on filling a list of this body.
    body = {**deepcopy(_blank_body(kind)), **given}
    faults = _body_faults(kind, body)
    if faults:
        raise RecordRefused(f"This {kind} cannot be recorded: {'; '.join(faults)}.")
    return body


def understood(record: Record) -> Record | None:
    """The record with a complete body, or None when this program cannot read it.

    None for an unknown kind, a newer schema or a body that breaks its kind's rules: such a record
    is kept and handed on untouched, but says nothing about a tube. A missing field is blank.
    """
    kind = KINDS.get(record.kind)
    if kind is None or record.schema > kind.schema:
        return None
    body = {**_blank_body(record.kind), **record.body}
    if _body_faults(record.kind, body):
        return None
    return replace(record, body=body)


@cache
def _blank_body(kind: str) -> Mapping[str, Any]:
    return {name: _blank(check) for name, check in BODIES[kind].items()}


def _blank(check: Check) -> Any:
    """What stands for 'nothing said' in a field: the first of these that its rule lets pass."""
    blanks: tuple[Any, ...] = (None, "", [], {}, False)
    return next((blank for blank in blanks if not any(check(blank, ""))), None)


def _body_faults(kind: str, body: Mapping[str, Any]) -> list[str]:
    faults = list(object_of(BODIES[kind])(body, ""))
    return faults or _joint_faults(kind, body)


def _joint_faults(kind: str, body: Mapping[str, Any]) -> list[str]:
    """Rules that tie fields together."""
    if kind == "reading" and (body["wall_mm"] is None) == (body["loss_percent"] is None):
        return ["give either wall_mm or loss_percent"]
    if kind == "work":
        if body["inspection"] is None and body["done_on"] is None:
            return ["name the outage's inspection or the date it was done on"]
        if body["hole"] is None and body["count"] is None:
            return ["name the tube, or the count"]
    if kind == "same" and body["a"] == body["b"]:
        return ["the two ids are the same id"]
    if kind == "observation" and body["state"] != "leaking" and body["leak_at"] is not None:
        return ["leak_at goes with the state leaking only"]
    return []
