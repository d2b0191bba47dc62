"""A backup is one zip file: a copy of the database and the photos beside it.

Reading one back trusts nothing in it: the records are verified one by one and put into a fresh
database, so that nothing but records and photos gets in. Not here: the copy before a schema change
(``model.store.migrating``).
"""

import hashlib
import shutil
import zipfile
from dataclasses import dataclass
from pathlib import Path

from model.errors import RecordRefused, StoreRefused
from model.record.kinds import understood
from model.record.line import read_line
from model.store import identity
from model.store.check import check
from model.store.durable import put_in_place, refusing_file_errors, work_folder
from model.store.engine import engine, refusing
from model.store.opening import open_store
from model.store.packing import ZIP_FAULTS, ZIP_METHODS, pack
from model.store.photos import PhotoShelf, is_photo_name
from model.store.queries import count_records, each_line, list_boiler_ids
from model.store.store import Store
from model.store.streams import photo_lines
from model.store.surroundings import Surroundings

DATABASE_NAME = "tubewright.db"
_PHOTOS = "photos"
_BLOCK = 1024 * 1024


@dataclass(frozen=True, slots=True, kw_only=True)
class BackupDone:
    """What was backed up or restored. ``left_out`` has a sentence for each photo that is not in
    it: damaged, missing, or awaited from elsewhere."""

    records: int
    photos: int
    left_out: tuple[str, ...] = ()


def backup(store: Store, target: Path) -> BackupDone:
    """Write the database and its photos to a new file, whole or not at all.

    Raises StoreRefused when the target exists, cannot be written, or the database is damaged.
    """
    if target.exists():
        raise StoreRefused(f"{target} already exists; give the backup another name.")
    with (
        refusing_file_errors(f"The backup {target} could not be written"),
        work_folder(target.parent) as work,
    ):
        copy = work / DATABASE_NAME
        with refusing(target):
            store.database.conn.execute("VACUUM INTO ?", (str(copy),))
            _mark_as_copy(copy)
        records = _require_sound(copy, store.surroundings)
        missing = _missing_photos(store)
        part = work / "backup.part"
        photos, left_out = _write_zip(part, copy, store.photos)
        put_in_place(part, target)
    return BackupDone(records=records, photos=photos, left_out=(*left_out, *missing))


def restore(file: Path, target: Path, surroundings: Surroundings) -> BackupDone:
    """Make a database at ``target`` from a backup, after verifying all of it; or change nothing.

    The restored database takes a new origin at its next write. Raises StoreRefused when the target
    exists or anything in the backup is not as it should be.
    """
    _require_free(target)
    if not file.is_file():
        raise StoreRefused(f"There is no backup at {file}; check the path.")
    with (
        refusing_file_errors(f"{target} could not be restored from {file}"),
        work_folder(target.parent) as work,
    ):
        photos = PhotoShelf(work / _PHOTOS)
        _unpack(file, work, photos)
        fresh = work / "fresh.db"
        done = _rebuild(work / DATABASE_NAME, fresh, file, surroundings)
        placed: list[Path] = []
        try:
            PhotoShelf(target.parent / _PHOTOS).take_over(photos, placed)
            put_in_place(fresh, target)
        except BaseException:
            for path in placed:
                path.unlink(missing_ok=True)
            raise
    return done


# Writing


def _mark_as_copy(copy: Path) -> None:
    connection = engine.connect(str(copy), isolation_level=None)
    try:
        origin = identity.noted_origin(connection)
        if origin is not None:
            identity.note_origin(connection, origin, identity.NOWHERE)
    finally:
        connection.close()


def _require_sound(copy: Path, surroundings: Surroundings) -> int:
    with open_store(copy, surroundings, read_only=True) as store:
        found = check(store, with_photos=False)
        if found.problems:
            raise StoreRefused(
                "The database is damaged, so no backup was written; keep its files as they are. "
                f"{found.problems[0]}"
            )
        return count_records(store)


def _missing_photos(store: Store) -> list[str]:
    """A sentence for each photo that a record names and the shelf does not hold."""
    named: dict[str, str] = {}
    for _boiler, _origin, _seq, line in photo_lines(store, ["", *list_boiler_ids(store)]):
        readable = understood(read_line(line))
        if readable is not None:
            named[readable.body["sha256"]] = readable.body["media"]
    return [
        f"Photo {sha256} is missing, and so is not in the backup."
        for sha256, media in sorted(named.items())
        if not store.photos.path_of(sha256, media).exists()
    ]


def _write_zip(part: Path, copy: Path, shelf: PhotoShelf) -> tuple[int, list[str]]:
    left_out = shelf.verify()
    photos = 0
    with zipfile.ZipFile(part, "x") as packed:
        pack(packed, copy, DATABASE_NAME, zipfile.ZIP_DEFLATED)
        for path in shelf.files():
            with path.open("rb") as photo:
                sound = hashlib.file_digest(photo, "sha256").hexdigest() == path.stem
            if sound:
                name = f"{_PHOTOS}/{path.parent.name}/{path.name}"
                pack(packed, path, name, zipfile.ZIP_STORED)  # photos do not get smaller
                photos += 1
    return photos, left_out


# Reading


def _require_free(target: Path) -> None:
    taken = [
        path
        for path in (target, *(target.with_name(target.name + end) for end in ("-wal", "-journal")))
        if path.exists()
    ]
    if taken:
        raise StoreRefused(
            f"{taken[0]} already exists, and a restore overwrites nothing; name another file with "
            "--data, or move this one away."
        )


def _unpack(file: Path, work: Path, photos: PhotoShelf) -> None:
    try:
        with zipfile.ZipFile(file) as packed:
            entries = packed.infolist()
            _require_known_names(file, entries)
            _require_room(file, entries, work)
            for entry in entries:
                if entry.filename == DATABASE_NAME:
                    with packed.open(entry) as source, (work / DATABASE_NAME).open("xb") as goal:
                        shutil.copyfileobj(source, goal, _BLOCK)
                else:
                    _unpack_photo(file, packed, entry, work, photos)
    except ZIP_FAULTS as error:
        raise StoreRefused(
            f"{file} is not a sound backup ({error}); nothing was restored. Use another one."
        ) from error


def _require_known_names(file: Path, entries: list[zipfile.ZipInfo]) -> None:
    names = [entry.filename for entry in entries]
    for name in names:
        pieces = name.split("/")
        is_photo = len(pieces) == 3 and pieces[0] == _PHOTOS and is_photo_name(*pieces[1:])
        if name != DATABASE_NAME and not is_photo:
            raise StoreRefused(
                f"{file} is not a Tubewright backup: it holds {name[:100]!r}; nothing was restored."
            )
    if any(entry.compress_type not in ZIP_METHODS for entry in entries):
        raise StoreRefused(f"{file} is not a Tubewright backup: it is packed in a way of its own.")
    if len(set(names)) != len(names) or DATABASE_NAME not in names:
        raise StoreRefused(
            f"{file} is not a Tubewright backup: it must hold {DATABASE_NAME} once, and each photo "
            "once; nothing was restored."
        )


def _require_room(file: Path, entries: list[zipfile.ZipInfo], work: Path) -> None:
    # Twice the database: the copy in the backup and the fresh one.
    wanted = sum(entry.file_size for entry in entries)
    wanted += sum(entry.file_size for entry in entries if entry.filename == DATABASE_NAME)
    if wanted > shutil.disk_usage(work).free:
        raise StoreRefused(
            f"Restoring {file} needs {wanted / 1e6:.0f} MB, more than the disk has free; "
            "nothing was restored."
        )


def _unpack_photo(
    file: Path, packed: zipfile.ZipFile, entry: zipfile.ZipInfo, work: Path, photos: PhotoShelf
) -> None:
    name = Path(entry.filename).name
    loose = work / name
    with packed.open(entry) as source, loose.open("xb") as goal:
        shutil.copyfileobj(source, goal, _BLOCK)
    with loose.open("rb") as photo:
        found = hashlib.file_digest(photo, "sha256").hexdigest()
    if found != loose.stem:
        raise StoreRefused(
            f"{file} is damaged: the photo {name} has other bytes than its name says; nothing was "
            "restored. Use another one."
        )
    place = photos.folder / name[:2] / name
    place.parent.mkdir(parents=True, exist_ok=True)
    loose.rename(place)


def _rebuild(old: Path, fresh: Path, file: Path, surroundings: Surroundings) -> BackupDone:
    """Put every record of the backup's database, verified, into a fresh one."""
    try:
        with open_store(old, surroundings) as source, open_store(fresh, surroundings) as goal:
            problems = check(source, with_photos=False).problems
            if problems:
                raise StoreRefused(problems[0])
            with goal.write() as writer:
                for line in each_line(source):
                    writer.add_line(line)
                if source.origin is not None:
                    identity.note_origin(goal.database.conn, source.origin, identity.NOWHERE)
            photos = sum(1 for _ in source.photos.files())
            return BackupDone(records=count_records(goal), photos=photos)
    except (RecordRefused, StoreRefused) as refusal:
        raise StoreRefused(
            f"{file} is not a sound backup; nothing was restored. {refusal}"
        ) from refusal
