"""Whether the database is sound: every record verified again, everything derived compared.

A problem is damage, a photo that was added here and is gone too. What a sound database may also
hold (records and photos awaited from elsewhere, forks) is a note. Not here: mending; a damaged
database is restored from a backup.
"""

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from model.errors import RecordRefused, StoreRefused
from model.record.kinds import understood
from model.record.line import read_line
from model.store.cache import get_cached
from model.store.engine import engine, has_wal_reset_fix
from model.store.migrating import schema_number
from model.store.queries import contiguous_vector, list_boiler_ids, list_forks
from model.store.schema import STATEMENTS
from model.store.store import Store

Recompute = Callable[[str], str | None]
"""From a cache key to what should stand there now, or None when it cannot be told."""

_SHOWN = 20
_BLOCK = 1_000


@dataclass(slots=True, kw_only=True)
class CheckResult:
    """``problems`` is damage, ``notes`` is what to know, ``facts`` are figures by name."""

    problems: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    facts: dict[str, Any] = field(default_factory=dict)


@dataclass(slots=True, kw_only=True)
class _Seen:
    """What one pass over the journal gathers."""

    edges: set[tuple[bytes, bytes]] = field(default_factory=set)
    photos: dict[str, str] = field(default_factory=dict)
    own_photos: set[str] = field(default_factory=set)
    """Of the photos, those that this database itself recorded."""
    kinds: Counter[str] = field(default_factory=Counter)
    not_understood: Counter[str] = field(default_factory=Counter)
    damaged: int = 0


def check(
    store: Store, recompute: Mapping[str, Recompute] | None = None, *, with_photos: bool = True
) -> CheckResult:
    """Look at everything; changes nothing.

    ``recompute`` gives, by cache name, a way to compute anew what the cache keeps. Without photos
    the shelf is left out: a copy of a database has none beside it.
    """
    result = CheckResult()
    seen = _Seen()
    parts: tuple[Callable[[], None], ...] = (
        lambda: _check_pages(store, result),
        lambda: _check_schema(store, result),
        lambda: _check_records(store, seen, result),
        lambda: _check_edges(store, seen, result),
        lambda: _check_numbers(store, result),
        *((lambda: _check_photos(store, seen, result),) if with_photos else ()),
        # From damaged records nothing can be computed anew.
        lambda: _check_cache(store, {} if seen.damaged else recompute or {}, result),
    )
    with store.snapshot():
        for part in parts:
            # A part that cannot be read at all is a finding like others, and the rest is looked at.
            try:
                part()
            except StoreRefused as refusal:
                result.problems.append(str(refusal))
            except engine.DatabaseError as error:
                result.problems.append(f"{store.path} is damaged: {error}.")
    result.problems = list(dict.fromkeys(result.problems))
    return result


def _check_pages(store: Store, result: CheckResult) -> None:
    found = [str(text) for (text,) in store.rows(f"PRAGMA integrity_check({_SHOWN})")]
    if found != ["ok"]:
        result.problems += [f"SQLite finds damage: {text}." for text in found]


def _check_schema(store: Store, result: CheckResult) -> None:
    with_text = store.rows("SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL")
    wanted = {_squeezed(text) for text in STATEMENTS if text.lstrip().startswith("CREATE")}
    present = {_squeezed(sql) for _type, _name, sql in with_text}
    for sql in sorted(wanted - present):
        result.problems.append(f"The database lacks a part of its schema: {sql[:60]}...")
    result.notes += [
        f"The database has a {kind} that is not Tubewright's: {name}."
        for kind, name, sql in with_text
        if _squeezed(sql) not in wanted
    ]
    journal = str(store.rows("PRAGMA journal_mode")[0][0])
    result.facts |= {
        "path": str(store.path),
        "schema": schema_number(store.database.conn),
        "origin": store.origin,
        "sqlite": engine.sqlite_version,
        "journal": journal,
    }
    if not has_wal_reset_fix(engine.sqlite_version_info):
        result.notes.append(
            f"SQLite {engine.sqlite_version} may corrupt a database with a write-ahead log, so a "
            "rollback journal is used, which is slower (pip install pysqlite3 brings a newer one)."
        )


def _check_records(store: Store, seen: _Seen, result: CheckResult) -> None:
    last = -(2**63)
    while rows := store.rows(
        "SELECT n, id, line FROM record WHERE n > ? ORDER BY n LIMIT ?", (last, _BLOCK)
    ):
        for n, raw, line in rows:
            _check_record(n, raw, line, store.origin, seen, result)
        last = rows[-1][0]
    result.facts |= {
        "records": seen.kinds.total(),
        "kinds": dict(sorted(seen.kinds.items())),
        "not_understood": seen.not_understood.total(),
        "boilers": len(list_boiler_ids(store)),
    }
    result.notes += [
        f"{count} of kind {kind} cannot be read by this version: kept and handed on untouched."
        for kind, count in sorted(seen.not_understood.items())
    ]


def _check_record(
    n: int, raw: object, line: object, own: str | None, seen: _Seen, result: CheckResult
) -> None:
    try:
        if not isinstance(raw, bytes) or not isinstance(line, str):
            raise RecordRefused("A record is not stored as bytes and text.")
        record = read_line(line.encode("utf-8", "surrogatepass"))
    except RecordRefused as refusal:
        seen.damaged += 1
        result.problems.append(f"Record number {n} is damaged: {refusal}")
        return
    if record.id != raw.hex():
        seen.damaged += 1
        result.problems.append(f"Record number {n} is damaged: its text is not that of its id.")
        return
    seen.kinds[record.kind] += 1
    seen.edges.update((raw, bytes.fromhex(old)) for old in record.supersedes)
    readable = understood(record)
    if readable is None:
        seen.not_understood[record.kind] += 1
    elif readable.kind == "photo":
        seen.photos[readable.body["sha256"]] = readable.body["media"]
        if readable.origin == own:
            seen.own_photos.add(readable.body["sha256"])


def _check_edges(store: Store, seen: _Seen, result: CheckResult) -> None:
    if seen.damaged:
        return  # which edges a damaged record had cannot be told
    kept = {(new, old) for new, old in store.rows("SELECT new, old FROM edge")}
    if kept != seen.edges:
        result.problems.append(
            f"The table of which record names which differs from the records: "
            f"{len(seen.edges - kept)} missing, {len(kept - seen.edges)} too many."
        )


def _check_numbers(store: Store, result: CheckResult) -> None:
    own = store.origin
    gaps = []
    boilers = ["", *list_boiler_ids(store)]
    vector = contiguous_vector(store, boilers)
    for boiler, origin, greatest in store.rows(
        "SELECT boiler, origin, max(seq) FROM record GROUP BY boiler, origin"
    ):
        reached = vector.get(boiler, {}).get(origin, 0)
        if reached == greatest or (boiler == "" and origin != own):
            # Of another database's people only those come over whom a boiler's records name.
            continue
        where = f"boiler {boiler}" if boiler else "the shop's records"
        text = f"of {where} from origin {origin} something is missing after number {reached}"
        if origin == own:
            result.problems.append(f"Records were lost: {text}.")
        else:
            gaps.append(text)
    forks = list_forks(store)
    result.notes += [f"Awaited: {text} (held up to a later number)." for text in gaps]
    result.notes += [
        f"Fork: {len(fork.ids)} records from origin {fork.origin} claim number {fork.seq} "
        f"of {f'boiler {fork.boiler}' if fork.boiler else 'the shop'}: a tablet was cloned; "
        "all of them count."
        for fork in forks
    ]
    result.facts |= {"gaps": len(gaps), "forks": len(forks)}


def _check_photos(store: Store, seen: _Seen, result: CheckResult) -> None:
    result.problems += store.photos.verify()
    missing = [
        (sha256, path)
        for sha256, media in sorted(seen.photos.items())
        if not (path := store.photos.path_of(sha256, media)).exists()
    ]
    # A photo comes before its record, so one that was added here has been on this shelf.
    result.problems += [
        f"Photo {sha256} was added here, and its file is gone; put it back as {path}."
        for sha256, path in missing
        if sha256 in seen.own_photos
    ]
    awaited = [sha256 for sha256, _path in missing if sha256 not in seen.own_photos]
    result.notes += [f"Photo awaited: {sha256} is named by a record." for sha256 in awaited]
    result.facts |= {"photos": len(seen.photos), "photos_awaited": len(awaited)}


def _check_cache(store: Store, recompute: Mapping[str, Recompute], result: CheckResult) -> None:
    rows = store.rows("SELECT name, key, lower(hex(digest)) FROM cache ORDER BY name, key")
    compared = 0
    for name, key, digest in rows:
        kept = get_cached(store, name, key, digest)
        if kept is None:
            result.notes.append(f"The cache's {name} of {key} is damaged; it is not used.")
            continue
        wanted = recompute[name](key) if name in recompute else None
        if wanted is not None:
            compared += 1
            if wanted != kept:
                result.problems.append(f"The cache's {name} of {key} differs from a new one.")
    result.facts |= {"cached": len(rows), "cache_compared": compared}


def _squeezed(sql: str) -> str:
    return " ".join(sql.split())
