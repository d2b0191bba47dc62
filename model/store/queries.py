"""What is asked of the journal: records, ids, vectors, forks, counts.

Reading only. Not here: what the records mean (``model.condition``).
"""

import hashlib
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from model.errors import StoreRefused
from model.record.line import Record, read_stored_line
from model.store.store import Store

# Jumps from one origin to the next in the index instead of reading every entry.
_ORIGINS = """
WITH RECURSIVE found(origin) AS (
  SELECT min(origin) FROM record WHERE boiler = ?1
  UNION ALL
  SELECT (SELECT min(origin) FROM record WHERE boiler = ?1 AND origin > found.origin)
  FROM found WHERE found.origin IS NOT NULL
)
SELECT origin FROM found WHERE origin IS NOT NULL
"""
# Among distinct numbers from 1 the k-th is k exactly as long as none is missing. (The greatest
# number would not do: what lies beyond a gap would be taken for received and never asked for.)
_CONTIGUOUS = """
SELECT max(seq) FROM (
  SELECT seq, dense_rank() OVER (ORDER BY seq) AS place
  FROM record WHERE boiler = ? AND origin = ?
) WHERE seq = place
"""
_BOILERS = """
WITH RECURSIVE found(boiler) AS (
  SELECT min(boiler) FROM record WHERE boiler > ''
  UNION ALL
  SELECT (SELECT min(boiler) FROM record WHERE boiler > found.boiler)
  FROM found WHERE found.boiler IS NOT NULL
)
SELECT boiler FROM found WHERE boiler IS NOT NULL
"""
_INSPECTIONS = """
WITH RECURSIVE found(inspection) AS (
  SELECT min(inspection) FROM record WHERE boiler = ?1
  UNION ALL
  SELECT (SELECT min(inspection) FROM record WHERE boiler = ?1 AND inspection > found.inspection)
  FROM found WHERE found.inspection IS NOT NULL
)
SELECT inspection FROM found WHERE inspection IS NOT NULL
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fork:
    """Several records with one origin, boiler and number: a tablet was cloned. All count."""

    origin: str
    boiler: str
    seq: int
    ids: tuple[str, ...]


def load_records(store: Store, boilers: Collection[str]) -> list[Record]:
    """All records of the boilers, in the order in which they arrived, boiler by boiler."""
    records: list[Record] = []
    for boiler in _several(boilers):
        rows = store.rows("SELECT line, id FROM record WHERE boiler = ? ORDER BY n", (boiler,))
        records += read_rows(store, rows)
    return records


def load_shop_records(store: Store) -> list[Record]:
    """Records of no boiler: people, origins, what holds for the whole shop."""
    return load_records(store, [""])


def each_line(store: Store) -> Iterator[bytes]:
    """Every line as it is stored, in order of arrival, without holding them all at once."""
    last = -(2**63)
    while rows := store.rows(
        "SELECT n, line FROM record WHERE n > ? ORDER BY n LIMIT 1000", (last,)
    ):
        yield from (line.encode("utf-8") for _n, line in rows)
        last = rows[-1][0]


def find_records_by_prefix(store: Store, hex_prefix: str) -> list[Record]:
    """The records whose id begins so, ordered by id; none for what is no hexadecimal prefix."""
    prefix = hex_prefix.lower()
    if not 1 <= len(prefix) <= 64 or not set(prefix) <= set("0123456789abcdef"):
        return []
    low, high = bytes.fromhex(prefix.ljust(64, "0")), bytes.fromhex(prefix.ljust(64, "f"))
    rows = store.rows(
        "SELECT line, id FROM record WHERE id BETWEEN ? AND ? ORDER BY id", (low, high)
    )
    return read_rows(store, rows)


def list_boiler_ids(store: Store) -> list[str]:
    """The ids of all boilers that any record names."""
    return [boiler for (boiler,) in store.rows(_BOILERS)]


def list_inspection_ids(store: Store, boiler: str) -> list[str]:
    """The ids of all inspections that any record of the boiler names."""
    return [inspection for (inspection,) in store.rows(_INSPECTIONS, (boiler,))]


def record_ids_of_inspection(
    store: Store, boilers: Collection[str], inspections: Collection[str]
) -> list[str]:
    """Sorted ids of all records whose body names one of the inspections."""
    ids: set[str] = set()
    for boiler in _several(boilers):
        for inspection in _several(inspections):
            rows = store.rows(
                "SELECT id FROM record WHERE boiler = ? AND inspection = ?", (boiler, inspection)
            )
            ids.update(raw.hex() for (raw,) in rows)
    return sorted(ids)


def inspection_digest(ids: Iterable[str]) -> str:
    """SHA-256 of the sorted raw 32-byte ids, as hex: equal for equal sets of records."""
    return hashlib.sha256(b"".join(sorted(bytes.fromhex(each) for each in set(ids)))).hexdigest()


def list_origins(store: Store, boiler: str) -> list[str]:
    """The origins that any record of the boiler comes from, sorted."""
    return [origin for (origin,) in store.rows(_ORIGINS, (boiler,))]


def contiguous_vector(store: Store, boilers: Collection[str]) -> dict[str, dict[str, int]]:
    """Per boiler and origin the number up to which nothing is missing; 0 is left out."""
    vector: dict[str, dict[str, int]] = {}
    for boiler in _several(boilers):
        for origin in list_origins(store, boiler):
            ((seq,),) = store.rows(_CONTIGUOUS, (boiler, origin))
            if seq is not None:
                vector.setdefault(boiler, {})[origin] = seq
    return vector


def beyond_gap_ids(store: Store, boilers: Collection[str]) -> list[str]:
    """Sorted ids of the records that are held although some before them are missing."""
    vector = contiguous_vector(store, boilers)
    ids: list[str] = []
    for boiler in _several(boilers):
        for origin in list_origins(store, boiler):
            reached = vector.get(boiler, {}).get(origin, 0)
            rows = store.rows(
                "SELECT id FROM record WHERE boiler = ? AND origin = ? AND seq > ?",
                (boiler, origin, reached),
            )
            ids += [raw.hex() for (raw,) in rows]
    return sorted(ids)


def list_forks(store: Store) -> list[Fork]:
    """All places that more than one record claims."""
    rows = store.rows(
        "SELECT boiler, origin, seq FROM record"
        " GROUP BY boiler, origin, seq HAVING count(*) > 1 ORDER BY boiler, origin, seq"
    )
    return [
        Fork(origin=origin, boiler=boiler, seq=seq, ids=_ids_at(store, boiler, origin, seq))
        for boiler, origin, seq in rows
    ]


def count_records(store: Store, boilers: Collection[str] | None = None) -> int:
    """How many records there are, in all or of the boilers."""
    if boilers is None:
        return int(store.rows("SELECT count(*) FROM record")[0][0])
    return sum(
        int(store.rows("SELECT count(*) FROM record WHERE boiler = ?", (boiler,))[0][0])
        for boiler in _several(boilers)
    )


def read_rows(store: Store, rows: Iterable[tuple[str, bytes]]) -> list[Record]:
    """The records of rows of line and id, as the journal holds them.

    What a disk has changed must not be reported as what people saw: StoreRefused when a line is no
    longer that of its id. Hashing 200,000 lines takes 0.17 s, of 4 s that reading them takes.
    """
    try:
        return [_as_written(line, raw) for line, raw in rows]
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise StoreRefused(
            f"{store.path} is damaged: a record in it is not as it was written; run 'tubewright "
            "check', keep the file, and restore a backup."
        ) from error


def _as_written(line: str, raw: bytes) -> Record:
    if hashlib.sha256(line.encode("utf-8")).digest() != raw:
        raise ValueError(f"the line of {raw.hex()} has another hash")
    return read_stored_line(line, raw.hex())


def _ids_at(store: Store, boiler: str, origin: str, seq: int) -> tuple[str, ...]:
    rows = store.rows(
        "SELECT id FROM record WHERE boiler = ? AND origin = ? AND seq = ? ORDER BY id",
        (boiler, origin, seq),
    )
    return tuple(raw.hex() for (raw,) in rows)


def _several(ids: Collection[str]) -> list[str]:
    if isinstance(ids, str):  # a text is a collection of letters, and would find nothing
        raise TypeError(f"give a list of ids, not the text {ids!r}")
    return sorted(set(ids))
