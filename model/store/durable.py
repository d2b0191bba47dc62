"""Files that are there whole, or not at all, also after a power cut.

Not here: what the files hold.
"""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from model.errors import StoreRefused


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
