"""Files that are there whole, or not at all, also after a power cut.

Not here: what the files hold.
"""

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from model.errors import StoreRefused

_WORK = ".part-tubewright-"
_STALE_SECONDS = 24 * 3600


def sync_file(path: Path) -> None:
    """Ask the disk to keep a file's content."""
    handle = os.open(path, os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def sync_folder(folder: Path) -> None:
    """Ask the disk to keep a folder's names; Windows does so by itself and cannot be asked."""
    if os.name == "nt":
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def put_in_place(part: Path, target: Path) -> None:
    """Give a finished file its name in one step, replacing what had it."""
    sync_file(part)
    os.replace(part, target)
    sync_folder(target.parent)


@contextmanager
def refusing_file_errors(what: str) -> Iterator[None]:
    """Inside, what the file system cannot do becomes a StoreRefused sentence."""
    try:
        yield
    except OSError as error:
        raise StoreRefused(
            f"{what}: {error.strerror or error}; nothing of this step was stored."
        ) from error


@contextmanager
def work_folder(parent: Path) -> Iterator[Path]:
    """A folder on the disk of a file to be, gone afterwards.

    What a kill left there goes too, once it is a day older: younger, it may be in use.
    """
    if not parent.is_dir():
        raise StoreRefused(f"The folder {parent} does not exist; make it first.")
    folder = Path(tempfile.mkdtemp(prefix=_WORK, dir=parent))
    try:
        _remove_stale(folder)
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _remove_stale(fresh: Path) -> None:
    now = fresh.stat().st_mtime  # by the clock that dates the others, too
    for other in fresh.parent.glob(f"{_WORK}*"):
        with suppress(OSError):
            if now - other.stat().st_mtime > _STALE_SECONDS:
                shutil.rmtree(other, ignore_errors=True)
