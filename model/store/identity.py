"""Which origin a database writes as, and whether its file is a copy of another.

Records are numbered per origin, so two files must never write as the same one. A database notes
where it lies (machine, disk, file number); one that finds itself elsewhere is a copy. A copy laid
over the very file it came from cannot be told: forks that follow are listed by ``check``.

Not here: the origin record (``model.store.writer``).
"""

import os
from pathlib import Path

from model.record.ids import is_entity_id
from model.store.engine import engine
from model.store.surroundings import Surroundings

_ORIGIN = "origin"
_PLACE = "place"
NOWHERE = ""
"""The place of a backup's copy: whoever opens it is elsewhere."""


def noted_origin(connection: engine.Connection) -> str | None:
    """The origin this file last wrote as; None before the first write."""
    value = _meta(connection, _ORIGIN)
    return value if is_entity_id(value) else None


def is_at_home(connection: engine.Connection, path: Path, surroundings: Surroundings) -> bool:
    """Whether the file lies where its origin was noted."""
    return _meta(connection, _PLACE) == place_of(path, surroundings)


def note_origin(connection: engine.Connection, origin: str, place: str) -> None:
    connection.executemany(
        "INSERT INTO meta(key, value) VALUES(?, ?)"
        " ON CONFLICT(key) DO UPDATE SET value = excluded.value",
        [(_ORIGIN, origin), (_PLACE, place)],
    )


def place_of(path: Path, surroundings: Surroundings) -> str:
    """Where a file lies, as one text."""
    found = os.stat(path)
    return f"{surroundings.device}\n{found.st_dev}:{found.st_ino}"


def _meta(connection: engine.Connection, key: str) -> str | None:
    row = connection.execute("SELECT value FROM meta WHERE key = ?", (key,)).fetchone()
    return None if row is None else str(row[0])
