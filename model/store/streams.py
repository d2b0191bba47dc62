"""What is held of a stream: the records of one boiler that come from one origin.

A stream is numbered from 1 without a gap where it was made; another database may hold parts of it.
Reading only. Not here: the other questions to the journal (``model.store.queries``).
"""

import hashlib
from collections.abc import Collection, Iterator
from dataclasses import dataclass

from model.store.queries import list_origins
from model.store.store import Store

_PAGE = 250
_LINES = (
    "SELECT seq, id, line FROM record WHERE boiler = ?1 AND origin = ?2"
    " AND seq >= ?3 AND (seq, id) > (?3, ?4) ORDER BY seq, id LIMIT ?5"
)
_IDS = "SELECT id FROM record WHERE boiler = ? AND origin = ? AND seq <= ? ORDER BY seq, id"
_MISSING = """
SELECT before + 1, seq - 1 FROM (
  SELECT seq, lag(seq, 1, 0) OVER (ORDER BY seq) AS before
  FROM record WHERE boiler = ? AND origin = ?
) WHERE seq > before + 1
"""
# The kind is looked up in the index alone; SQLite by itself would parse every line for it.
_PHOTOS = """
SELECT origin, seq, line FROM record WHERE n IN (
  SELECT n FROM record INDEXED BY record_by_inspection WHERE boiler = ? AND kind = 'photo'
) ORDER BY origin, seq, id
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """Numbers of a stream that are awaited, from ``first`` to ``last``."""

    boiler: str
    origin: str
    first: int
    last: int


def each_line_of(
    store: Store, boiler: str, origin: str, after: int = 0
) -> Iterator[tuple[int, bytes, bytes]]:
    """Number, raw id and line of the records with a greater number, sorted so, page by page."""
    seq, raw = after, b"\xff" * 33  # beyond every id of that number
    while rows := store.rows(_LINES, (boiler, origin, seq, raw, _PAGE)):
        for number, each, line in rows:
            yield number, each, line.encode("utf-8")
        seq, raw, _line = rows[-1]


def count_and_digest(store: Store, boiler: str, origin: str, up_to: int) -> tuple[int, str]:
    """How many records of a stream are held up to a number, and one hash of all their ids.

    The digest is the SHA-256 of the raw ids, by number and id, as hex: equal for equal records.
    """
    ids = [raw for (raw,) in store.rows(_IDS, (boiler, origin, up_to))]
    return len(ids), hashlib.sha256(b"".join(ids)).hexdigest()


def list_gaps(store: Store, boiler: str, origin: str, up_to: int = 0) -> list[Gap]:
    """What is missing of a stream before its last number here, or up to a number it is known by."""
    ranges = store.rows(_MISSING, (boiler, origin))
    ((last,),) = store.rows(
        "SELECT coalesce(max(seq), 0) FROM record WHERE boiler = ? AND origin = ?", (boiler, origin)
    )
    if last < up_to:
        ranges.append((last + 1, up_to))
    return [Gap(boiler=boiler, origin=origin, first=low, last=high) for low, high in ranges]


def photo_lines(store: Store, boilers: Collection[str]) -> Iterator[tuple[str, str, int, bytes]]:
    """Every record of kind photo: its boiler, origin, number and line."""
    for boiler in sorted(set(boilers)):
        for origin, seq, line in store.rows(_PHOTOS, (boiler,)):
            yield boiler, origin, seq, line.encode("utf-8")


def authors_of(store: Store, boilers: Collection[str]) -> tuple[set[str], set[str]]:
    """The persons by whom, and the origins from which, any record of the boilers is."""
    people: set[str] = set()
    origins: set[str] = set()
    for boiler in set(boilers):
        rows = store.rows("SELECT DISTINCT by_person FROM record WHERE boiler = ?", (boiler,))
        people.update(person for (person,) in rows)
        origins.update(list_origins(store, boiler))
    return people, origins
