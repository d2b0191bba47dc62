"""Which SQLite is used, what it can be trusted with, and its errors as sentences.

Not here: opening a database (``model.store.opening``).
"""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from model.errors import StoreRefused

if TYPE_CHECKING:
    import sqlite3 as engine
else:
    # The very module that sqlite-utils chose: pysqlite3 with a recent SQLite where it has a wheel,
    # else the one that came with Python.
    from sqlite_utils.utils import sqlite3 as engine

__all__ = [
    "CANTOPEN",
    "OLDEST_SQLITE",
    "READONLY",
    "engine",
    "has_wal_reset_fix",
    "is_busy",
    "not_a_database",
    "primary_code",
    "refusing",
    "refusing_when_read",
]

OLDEST_SQLITE = (3, 38, 0)
"""The first with JSON functions always built in; generated columns need 3.31."""

# SQLite's result codes, from its public list.
BUSY, LOCKED, READONLY, IOERR = 5, 6, 8, 10
CORRUPT, FULL, CANTOPEN, NOT_A_DATABASE = 11, 13, 14, 26
_SENTENCES = {
    BUSY: "{path} is being written by another program; wait until that has finished and try again.",
    LOCKED: "{path} is being written by another program; wait until that is done and try again.",
    READONLY: (
        "{path} cannot be written: the file, its folder or its disk is read-only; change that or"
        " use a copy in another folder."
    ),
    IOERR: (
        "{path} could not be read or written: the disk is full, has failed or was removed; nothing"
        " of this step was stored."
    ),
    CORRUPT: "{path} is damaged; restore it from a backup, and keep the damaged file.",
    FULL: "{path} cannot be written: the disk is full; free some space and do it again; nothing of"
    " this step was stored.",
    CANTOPEN: (
        "{path} cannot be opened: the folder is missing or read-only, or you may not read it; check"
        " the path and the permissions."
    ),
    NOT_A_DATABASE: (
        "{path} is not a Tubewright database; name another file with --data, or move this one away."
    ),
}


def has_wal_reset_fix(version: tuple[int, ...]) -> bool:
    """Whether this SQLite may use a write-ahead log with several connections.

    SQLite 3.7.0 to 3.51.2 can corrupt a database when one connection resets the log beside
    another; fixed in 3.51.3, and in the older lines from 3.50.7 and 3.44.6.
    """
    line = version[:2]
    if line == (3, 50):
        return version >= (3, 50, 7)
    if line == (3, 44):
        return version >= (3, 44, 6)
    return version >= (3, 51, 3)


def primary_code(error: BaseException) -> int | None:
    """SQLite's primary result code of an error, or None when it is not SQLite's."""
    code = getattr(error, "sqlite_errorcode", None)
    return None if code is None else int(code) & 0xFF


def is_busy(error: BaseException) -> bool:
    """Whether another program holds the lock."""
    return primary_code(error) in (BUSY, LOCKED)


@contextmanager
def refusing(path: Path) -> Iterator[None]:
    """Inside, what SQLite cannot do becomes a StoreRefused sentence; bugs keep their traceback."""
    try:
        yield
    except engine.DatabaseError as error:
        sentence = _SENTENCES.get(_code(error) or 0)
        if sentence is None:
            raise
        raise StoreRefused(sentence.format(path=path)) from error


@contextmanager
def refusing_when_read(path: Path) -> Iterator[None]:
    """The same around nothing but reading: a stored text that is not UTF-8 is damage, too."""
    try:
        with refusing(path):
            yield
    except UnicodeDecodeError as error:
        raise StoreRefused(_SENTENCES[CORRUPT].format(path=path)) from error


def _code(error: engine.DatabaseError) -> int | None:
    text = str(error)
    if text == "malformed JSON" or text.startswith("Could not decode to UTF-8"):
        return CORRUPT
    return primary_code(error)


def not_a_database(path: Path) -> StoreRefused:
    return StoreRefused(_SENTENCES[NOT_A_DATABASE].format(path=path))
