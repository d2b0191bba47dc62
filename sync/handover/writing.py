"""Writing a hand-over file: streaming, whole or not at all, the same bytes for the same records.

Not here: what goes with a boiler (``cited``, ``sync.vector``), the texts of the tag files (``bag``,
``head``).
"""

import hashlib
import json
import zipfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import islice
from pathlib import Path

from model.record.line import read_stored_line
from model.store.durable import put_in_place, refusing_file_errors
from model.store.loading import joined_members
from model.store.packing import entry_named, pack_stream
from model.store.queries import contiguous_vector, count_records, list_origins
from model.store.store import Store
from model.store.streams import authors_of, each_line_of, photo_lines
from sync.errors import HandoverRefused
from sync.handover.bag import BAGIT_TEXT, BagInfo, render_info, render_manifest
from sync.handover.cited import cited_records
from sync.handover.head import Head, render_head
from sync.handover.names import (
    BAG_INFO,
    BAGIT,
    HEAD,
    MANIFEST,
    MAX_BYTES,
    MAX_ENTRIES,
    MAX_PHOTO_BYTES,
    MAX_RECORDS_BYTES,
    RECORDS,
    TAG_MANIFEST,
    bag_name,
    photo_path,
)
from sync.handover.verifying import read_head
from sync.photo_names import photo_name, place_of
from sync.vector import Reached, covered_by, reached_in

_LINES_AT_ONCE = 250


@dataclass(frozen=True, slots=True, kw_only=True)
class HandoverFacts:
    """What was written."""

    boilers: tuple[str, ...]
    records: int
    photos: int
    photos_awaited: int
    """Photos that the records name and this database does not have."""
    left_out: tuple[str, ...]
    """A sentence for each photo that is here and could not go along."""
    digest: str


def write_handover(
    store: Store, boiler: str, path: Path, *, since: Path | None = None
) -> HandoverFacts:
    """Write everything about a boiler, and those joined with it, to a new file.

    ``since`` names an earlier hand-over file; what its vector covers is left out. Raises
    HandoverRefused or StoreRefused, and then no file is there.
    """
    if path.exists():
        raise HandoverRefused(f"{path} already exists; give the hand-over another name.")
    if not path.parent.is_dir():
        raise HandoverRefused(f"The folder {path.parent} does not exist; make it first.")
    part = path.with_name(f"{path.name}.part")
    with store.snapshot():
        plan = _plan(store, boiler, since)
        with refusing_file_errors(f"The hand-over {path} could not be written"):
            try:
                with zipfile.ZipFile(part, "w") as packed:
                    facts = _fill(_Bag(packed, bag_name(plan.boilers[0])), store, plan)
                put_in_place(part, path)
            except BaseException:
                part.unlink(missing_ok=True)
                raise
    return facts


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plan:
    """What is to go along, before anything is written."""

    boilers: tuple[str, ...]
    covered: Mapping[str, Mapping[str, int]]
    earlier_awaited: frozenset[str]


def _plan(store: Store, boiler: str, since: Path | None) -> _Plan:
    members = joined_members(store, boiler)
    if not count_records(store, members):
        raise HandoverRefused(f"There is no boiler {boiler} in {store.path}.")
    boilers = tuple(sorted(members))
    if since is None:
        return _Plan(boilers=boilers, covered={}, earlier_awaited=frozenset())
    head = read_head(since)
    if not set(head.boilers) & members:
        raise HandoverRefused(
            f"{since} is a hand-over of another boiler ({head.boilers[0]}); name one of this "
            "boiler with --since, or leave it out."
        )
    return _Plan(
        boilers=boilers,
        covered=covered_by(head.vector, store, boilers),
        earlier_awaited=frozenset(head.awaited),
    )


class _Bag:
    """One bag while it is being written."""

    def __init__(self, packed: zipfile.ZipFile, name: str) -> None:
        self._packed = packed
        self._name = name
        self._payload: dict[str, str] = {}
        self._payload_bytes = 0

    def add_records(self, lines: Iterable[tuple[bytes, bytes]]) -> tuple[int, str]:
        """Add the file of the lines; gives their number and the digest of their ids."""
        ids, whole = hashlib.sha256(), hashlib.sha256()
        count, size = 0, 0
        left = iter(lines)
        entry = entry_named(f"{self._name}/{RECORDS}", zipfile.ZIP_DEFLATED)
        with self._packed.open(entry, "w") as goal:
            while page := list(islice(left, _LINES_AT_ONCE)):
                _require_sound(page)
                ids.update(b"".join(raw for raw, _line in page))
                block = b"".join(line + b"\n" for _raw, line in page)
                whole.update(block)
                count += len(page)
                size += len(block)
                if size > MAX_RECORDS_BYTES:
                    raise HandoverRefused(
                        f"The records are more than a hand-over file may hold "
                        f"({MAX_RECORDS_BYTES / 1e9:g} GB); name an earlier one with --since."
                    )
                goal.write(block)
        self._payload[RECORDS] = whole.hexdigest()
        self._payload_bytes += size
        return count, ids.hexdigest()

    def add_photo(self, path: Path) -> bool:
        """Add a photo's file as it is; False, and nothing added, when it is damaged."""
        with path.open("rb") as photo:
            if hashlib.file_digest(photo, "sha256").hexdigest() != path.stem:
                return False
            size = photo.seek(0, 2)
            photo.seek(0)
            place = photo_path(path.name)
            entry = entry_named(f"{self._name}/{place}", zipfile.ZIP_STORED, size)
            pack_stream(self._packed, photo, entry)
        self._payload[place] = path.stem
        self._payload_bytes += size
        return True

    def finish(self, head: Head, records: int, digest: str) -> None:
        """Add the tag files."""
        info = BagInfo(
            boiler=head.boilers[0],
            payload_bytes=self._payload_bytes,
            payload_files=len(self._payload),
            digest=digest,
            photos=len(self._payload) - 1,
            records=records,
        )
        tags = {
            BAGIT: BAGIT_TEXT,
            BAG_INFO: render_info(info),
            HEAD: render_head(head),
            MANIFEST: render_manifest(self._payload),
        }
        for name, text in tags.items():
            self._add_tag(name, text)
        hashes = {name: hashlib.sha256(text).hexdigest() for name, text in tags.items()}
        self._add_tag(TAG_MANIFEST, render_manifest(hashes))

    def _add_tag(self, name: str, text: bytes) -> None:
        self._packed.writestr(entry_named(f"{self._name}/{name}", zipfile.ZIP_DEFLATED), text)


def _fill(bag: _Bag, store: Store, plan: _Plan) -> HandoverFacts:
    going = _Going(store, plan)
    records, digest = bag.add_records(going.each_line())
    photos = _photo_names(store, plan)
    sent, left_out = _add_photos(bag, store, sorted(photos.new | photos.late))
    missing = (photos.new | photos.late) - sent
    missing |= {name for name in photos.sent_before if not _is_held(store, name)}
    head = Head(
        boilers=plan.boilers,
        vector=going.vector,
        left_out=plan.covered,
        awaited=tuple(sorted(missing)),
        late=tuple(sorted(sent & photos.late)),
    )
    bag.finish(head, records, digest)
    return HandoverFacts(
        boilers=plan.boilers,
        records=records,
        photos=len(sent),
        photos_awaited=len(missing),
        left_out=tuple(left_out),
        digest=digest,
    )


class _Going:
    """The lines that go along; ``vector`` is whole once they have all been taken."""

    def __init__(self, store: Store, plan: _Plan) -> None:
        self._store = store
        self._plan = plan
        self.vector: dict[str, dict[str, Reached]] = {}

    def each_line(self) -> Iterator[tuple[bytes, bytes]]:
        """Raw ids and lines, sorted by boiler, origin, number and id."""
        yield from _shop_lines(self._store, self._plan.boilers)
        contiguous = contiguous_vector(self._store, self._plan.boilers)
        for boiler in self._plan.boilers:
            for origin in list_origins(self._store, boiler):
                yield from self._stream(boiler, origin, contiguous.get(boiler, {}).get(origin, 0))

    def _stream(self, boiler: str, origin: str, held_to: int) -> Iterator[tuple[bytes, bytes]]:
        after = self._plan.covered.get(boiler, {}).get(origin, 0)
        ids = hashlib.sha256()
        count = 0
        for seq, raw, line in each_line_of(self._store, boiler, origin, after):
            if seq <= held_to:
                ids.update(raw)
                count += 1
            yield raw, line
        if after:
            reached = reached_in(self._store, boiler, origin, held_to)
        else:  # all of it has just been seen, so that it need not be read again
            reached = Reached(seq=held_to, count=count, digest=ids.hexdigest())
        if held_to:
            self.vector.setdefault(boiler, {})[origin] = reached


def _shop_lines(store: Store, boilers: Sequence[str]) -> Iterator[tuple[bytes, bytes]]:
    people, origins = authors_of(store, boilers)
    lines = {
        raw.hex(): (raw, line)
        for origin in list_origins(store, "")
        for _seq, raw, line in each_line_of(store, "", origin)
    }
    shop = [read_stored_line(line.decode(), id_) for id_, (_raw, line) in lines.items()]
    for record in cited_records(shop, people, origins):
        yield lines[record.id]


def _require_sound(page: Sequence[tuple[bytes, bytes]]) -> None:
    if any(hashlib.sha256(line).digest() != raw for raw, line in page):
        raise HandoverRefused(
            "The database is damaged, so no hand-over was written; run tubewright check, and "
            "restore from a backup."
        )


# Photos


@dataclass(frozen=True, slots=True, kw_only=True)
class _PhotoNames:
    """The photos of the boilers: of new records, late ones of earlier records, and the others."""

    new: set[str]
    late: set[str]
    sent_before: set[str]


def _photo_names(store: Store, plan: _Plan) -> _PhotoNames:
    new: set[str] = set()
    old: set[str] = set()
    for boiler, origin, seq, line in photo_lines(store, plan.boilers):
        name = photo_name(json.loads(line)["body"])
        if name is not None:
            (new if seq > plan.covered.get(boiler, {}).get(origin, 0) else old).add(name)
    late = (old & plan.earlier_awaited) - new
    if len(new | late) > MAX_ENTRIES - len(MAX_BYTES):
        raise HandoverRefused(
            f"{len(new | late)} photos are more than a hand-over file may hold "
            f"({MAX_ENTRIES - len(MAX_BYTES)}); name an earlier one with --since."
        )
    return _PhotoNames(new=new, late=late, sent_before=old - late - new)


def _is_held(store: Store, name: str) -> bool:
    return place_of(store.photos, name).exists()


def _add_photos(bag: _Bag, store: Store, names: Sequence[str]) -> tuple[set[str], list[str]]:
    sent: set[str] = set()
    left_out: list[str] = []
    for name in names:
        path = place_of(store.photos, name)
        if not path.exists():
            continue
        if path.stat().st_size > MAX_PHOTO_BYTES:
            left_out.append(f"Photo {path} is too large for a hand-over; it was left out.")
        elif bag.add_photo(path):
            sent.add(name)
        else:
            left_out.append(f"Photo {path} is damaged; it was left out.")
    return sent, left_out
