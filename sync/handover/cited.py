"""Which records of the whole shop go with a boiler: the people and origins behind its records.

All of them go with every file, so that no file depends on another to say who is who. People whom
the boiler's records do not name stay at home. Not here: the boiler's own records.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from model.record.line import Record
from model.record.words import SameWhat


def cited_records(
    shop: Sequence[Record], people: Iterable[str], origins: Iterable[str]
) -> list[Record]:
    """The shop's records about these people and origins, and what those in turn rest on.

    Sorted by origin, number and id.
    """
    known = _Known(people=set(people), origins=set(origins))
    left = list(shop)
    while True:
        more = [record for record in left if known.is_about(record)]
        if not more:
            break
        for record in more:
            known.add(record)
        left = [record for record in left if record.id not in known.chosen]
    return sorted(known.chosen.values(), key=lambda each: (each.origin, each.seq, each.id))


@dataclass(slots=True, kw_only=True)
class _Known:
    """What is cited so far."""

    people: set[str]
    origins: set[str]
    chosen: dict[str, Record] = field(default_factory=dict)
    superseded: set[str] = field(default_factory=set)

    def is_about(self, record: Record) -> bool:
        if record.id in self.superseded or any(old in self.chosen for old in record.supersedes):
            return True
        if record.kind == "origin":
            return record.origin in self.origins
        return bool(_subjects_of(record) & self.people)

    def add(self, record: Record) -> None:
        self.chosen[record.id] = record
        self.superseded.update(record.supersedes)
        self.people |= _subjects_of(record) | ({record.by} if record.by else set())
        self.origins.add(record.origin)
        if record.kind == "origin":
            self.origins |= _texts(record, "cloned_from")


def _subjects_of(record: Record) -> set[str]:
    """The people whom a record of the shop is about."""
    if record.kind == "person":
        return _texts(record, "person")
    if record.kind == "same" and record.body.get("what") == SameWhat.PERSON:
        return _texts(record, "a", "b")
    return set()


def _texts(record: Record, *fields: str) -> set[str]:
    values = (record.body.get(field) for field in fields)
    return {value for value in values if isinstance(value, str)}
