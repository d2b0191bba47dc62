"""Taking in a hand-over file: verified whole, then photos, then all records in one transaction.

Not here: the verifying (``verifying``), what is awaited afterwards (``sync.merge``).
"""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from model.store.durable import refusing_file_errors, work_folder
from model.store.loading import joined_members
from model.store.queries import Fork
from model.store.store import Store
from model.store.streams import Gap
from sync.handover.verifying import Staged, stage
from sync.merge import awaited_photos, forks_of, gaps_of


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadResult:
    """What a hand-over brought, and what is still missing of its boilers."""

    boilers: tuple[str, ...]
    records_added: int
    already_there: int
    photos_added: int
    photos_awaited: tuple[str, ...]
    """Names of photos that records name and that are not here yet."""
    gaps: tuple[Gap, ...]
    """Records that exist elsewhere and are awaited: an earlier file has not been read."""
    forks: tuple[Fork, ...]
    not_understood: int
    """Records of the file that only a newer version can read: kept and handed on untouched."""
    signed: bool
    """Whether it came with a signature, which this version cannot check."""


def read_handover(store: Store, path: Path) -> ReadResult:
    """Add what a hand-over file holds and is not there yet; all of it, or nothing.

    Raises HandoverRefused for a file that is not sound, StoreRefused for a database or disk that
    cannot be written.
    """
    with verified_handover(path, store.path.parent) as staged:
        return take_in(store, staged)


@contextmanager
def verified_handover(path: Path, folder: Path) -> Iterator[Staged]:
    """A hand-over file, verified and unpacked beside the database that it goes into.

    ``folder`` is that database's; the database itself may not be there yet.
    """
    with work_folder(folder) as work:
        yield stage(path, work)


def take_in(store: Store, staged: Staged) -> ReadResult:
    """Add verified photos and records to a database in the same folder."""
    placed: list[Path] = []
    try:
        with refusing_file_errors(f"the photos could not be put into {store.photos.folder}"):
            # Before their records, so that no committed record waits for what had arrived.
            store.photos.take_over(staged.photos, placed)
        with staged.records.open("rb") as lines, store.write() as writer:
            added = writer.add_verified(line.rstrip(b"\n") for line in lines)
    except BaseException:
        for photo in placed:
            photo.unlink(missing_ok=True)
        raise
    return _result(store, staged, added, len(placed))


def _result(store: Store, staged: Staged, added: int, photos: int) -> ReadResult:
    boilers = set(staged.head.boilers)
    for boiler in staged.head.boilers:
        boilers |= joined_members(store, boiler)
    return ReadResult(
        boilers=staged.head.boilers,
        records_added=added,
        already_there=staged.count - added,
        photos_added=photos,
        photos_awaited=tuple(awaited_photos(store, boilers)),
        gaps=tuple(gaps_of(store, boilers, staged.head.vector)),
        forks=tuple(forks_of(store, boilers)),
        not_understood=staged.not_understood,
        signed=staged.signed,
    )
