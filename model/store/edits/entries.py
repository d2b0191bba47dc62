"""Entries: observations, readings, work, past events, parts, photos, tests and causes.

An entry equal in content to a live record of the same person is skipped, so that reading one
spreadsheet twice changes nothing; another state by the same person for the same end supersedes
the earlier one. Not here: making entries from files or taps.
"""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from model.condition.states import FoldedBoiler
from model.record.canonical import encode_canonical, normalised
from model.record.kinds import complete_body
from model.record.line import Record
from model.store.edits.people import person_for
from model.store.loading import load_boiler
from model.store.store import Store
from model.store.writer import Writer


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A record to be: its kind, body (missing fields are blank), who says so, when if not now."""

    kind: str
    body: Mapping[str, Any]
    by: str
    """A name."""
    at: datetime | None = None
    follows: Sequence[str] = ()
    """Ids of the work that this work follows or corrects."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """A state that its own author corrected."""

    tube: str
    end: str
    before: str | None
    after: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Entered:
    """What entering did."""

    added: int
    skipped: int
    changed: tuple[Changed, ...]


def record_entries(store: Store, boiler: str, entries: Sequence[Entry]) -> Entered:
    """Record entries in one transaction: all of them, or after an error none."""
    added = skipped = 0
    changed: list[Changed] = []
    with store.write() as writer:
        folded = load_boiler(store, boiler)
        present = _Present(folded)
        for entry in entries:
            person = person_for_entry(writer, store, entry.by, present)
            body = normalised(complete_body(entry.kind, entry.body))
            if present.takes(entry.kind, body, person):
                skipped += 1
                continue
            before = present.own_in_slot(body, person) if entry.kind == "observation" else ()
            writer.append(
                entry.kind,
                body,
                boiler=folded.boiler,
                by=person,
                supersedes=[*entry.follows, *(record.id for record in before)],
                at=entry.at,
            )
            added += 1
            changed.extend(_change(record, body) for record in before)
    return Entered(added=added, skipped=skipped, changed=tuple(changed))


def person_for_entry(writer: Writer, store: Store, name: str, present: "_Present") -> str:
    """The person of a name, looked up once for all entries."""
    if name not in present.person_of:
        present.person_of[name] = person_for(writer, store, name)
    return present.person_of[name]


class _Present:
    """The live records, for finding equals and own earlier statements."""

    def __init__(self, folded: FoldedBoiler) -> None:
        self.person_of: dict[str, str] = {}
        self._folded = folded
        self._contents: Counter[tuple[str, str, bytes]] = Counter()
        self._slots: dict[tuple[str, str, str, str], list[Record]] = defaultdict(list)
        for record in folded.live:
            self._contents[record.kind, record.by, _content(record.body)] += 1
            if record.kind == "observation":
                self._slots[self._slot(record.body, record.by)].append(record)

    def takes(self, kind: str, body: Mapping[str, Any], person: str) -> bool:
        """Whether an equal live record stands for this entry; each stands for one only."""
        content = (kind, person, _content(body))
        if self._contents[content] <= 0:
            return False
        self._contents[content] -= 1
        return True

    def own_in_slot(self, body: Mapping[str, Any], person: str) -> Sequence[Record]:
        return self._slots.pop(self._slot(body, person), [])

    def _slot(self, body: Mapping[str, Any], person: str) -> tuple[str, str, str, str]:
        return (
            self._folded.hole_class(body["hole"]),
            body["end"],
            self._folded.inspection_class(body["inspection"]),
            person,
        )


def _content(body: Mapping[str, Any]) -> bytes:
    """What a record says, without the gesture that it was said with."""
    return encode_canonical(normalised({k: v for k, v in body.items() if k != "act"}))


def _change(before: Record, after: Mapping[str, Any]) -> Changed:
    return Changed(
        tube=after["tube"],
        end=after["end"],
        before=before.body["state"],
        after=after["state"],
    )
