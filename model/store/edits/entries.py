"""Entries: observations, readings, work, past events, parts, photos, tests and causes.

An entry equal in content to a live record of the same person is skipped, so that reading one
spreadsheet twice changes nothing; another statement by the same person of the same end supersedes
the earlier one. Not here: making entries from files or taps.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from model.condition.states import FoldedBoiler
from model.errors import StoreRefused
from model.record.canonical import encode_canonical, normalised
from model.record.kinds import complete_body
from model.record.line import Record
from model.store.edits.people import load_people, person_for
from model.store.loading import load_boiler
from model.store.store import Store
from model.store.writer import Writer


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A record to be: its kind, body (missing fields are blank), who says so, when if not now."""

    kind: str
    body: Mapping[str, Any]
    by: str
    """A name, or the id of a person."""
    at: datetime | None = None
    follows: Sequence[str] = ()
    """Ids of the work that this work follows or corrects."""
    after: int | None = None
    """Place in the same list of the work that this work follows."""
    photo: Path | None = None
    """The file of a photo, kept on the shelf if its bytes are those of the body's ``sha256``."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Changed:
    """A statement of an end that its own author replaced."""

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
    with store.write() as writer:
        folded = load_boiler(store, boiler)
        return _Batch(store, writer, folded, entries).record()


class _Batch:
    """One list of entries on its way into the journal."""

    def __init__(
        self, store: Store, writer: Writer, folded: FoldedBoiler, entries: Sequence[Entry]
    ) -> None:
        self._store = store
        self._writer = writer
        self._folded = folded
        self._entries = entries
        self._person_of: dict[str, str] = {}
        self._people = load_people(store)
        self._equals: dict[tuple[str, str, bytes], list[str]] = defaultdict(list)
        self._own: dict[tuple[str, ...], list[Record]] = defaultdict(list)
        # Only what could be equal is encoded: a photo need not be compared with all the marks.
        alike = {(entry.kind, entry.body.get("inspection")) for entry in entries}
        marks = any(entry.kind == "observation" for entry in entries)
        for record in folded.live:
            if (record.kind, record.body.get("inspection")) in alike:
                author = self._people.person_class(record.by)
                self._equals[record.kind, author, _content(record.body)].append(record.id)
            if marks and record.kind == "observation":
                author = self._people.person_class(record.by)
                self._own[self._slot(record.body, author)].append(record)

    def record(self) -> Entered:
        entries = self._entries
        bodies = [normalised(complete_body(entry.kind, entry.body)) for entry in entries]
        people = [self._person(entry.by) for entry in entries]
        # All equals are found first: a record that stands for one row of a file must not be
        # superseded by another row of it.
        ids = [
            self._take_equal(entry.kind, body, person)
            for entry, body, person in zip(entries, bodies, people, strict=True)
        ]
        taken = {each for each in ids if each is not None}
        changed: list[Changed] = []
        for place, entry in enumerate(entries):
            if ids[place] is not None:
                continue
            body, person = bodies[place], people[place]
            before = self._own_before(entry.kind, body, person, taken)
            follows = [*entry.follows, *(record.id for record in before)]
            if entry.after is not None and (earlier := ids[entry.after]) is not None:
                follows.append(earlier)
            ids[place] = self._append(entry, body, person, follows).id
            changed.extend(_change(record, body) for record in before)
        return Entered(added=len(entries) - len(taken), skipped=len(taken), changed=tuple(changed))

    def _person(self, name: str) -> str:
        if name not in self._person_of:
            self._person_of[name] = person_for(self._writer, self._store, name)
        return self._person_of[name]

    def _take_equal(self, kind: str, body: Mapping[str, Any], person: str) -> str | None:
        """An equal live record that stands for this entry; each stands for one only."""
        equals = self._equals[kind, person, _content(body)]
        return equals.pop() if equals else None

    def _own_before(
        self, kind: str, body: Mapping[str, Any], person: str, taken: set[str]
    ) -> list[Record]:
        """What the same person said of the same end before, unless it still stands."""
        if kind != "observation":
            return []
        own = self._own.pop(self._slot(body, person), [])
        return [record for record in own if record.id not in taken]

    def _append(
        self, entry: Entry, body: Mapping[str, Any], person: str, follows: Sequence[str]
    ) -> Record:
        if entry.photo is not None:
            self._keep_photo(entry.photo, body)
        return self._writer.append(
            entry.kind,
            body,
            boiler=self._folded.boiler,
            by=person,
            supersedes=follows,
            at=entry.at,
        )

    def _keep_photo(self, photo: Path, body: Mapping[str, Any]) -> None:
        # On the disk before the record that names it can be committed.
        kept = self._store.photos.add(photo, body["media"])
        if kept != body["sha256"]:
            raise StoreRefused(f"{photo.name} was changed while it was read; add it again.")

    def _slot(self, body: Mapping[str, Any], person: str) -> tuple[str, ...]:
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
