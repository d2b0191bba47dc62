"""Opening a database: making it, refusing what is not ours, setting it so that a tap is safe.

Not here: the tables (``model.store.schema``), changes of an older schema
(``model.store.migrating``).
"""

import time
from contextlib import suppress
from pathlib import Path

from sqlite_utils import Database

from model.errors import StoreRefused
from model.store.engine import (
    CANTOPEN,
    OLDEST_SQLITE,
    READONLY,
    engine,
    has_wal_reset_fix,
    is_busy,
    not_a_database,
    primary_code,
    refusing_when_read,
)
from model.store.migrating import bring_up_to_date, make_schema, schema_number
from model.store.schema import APPLICATION_ID, SCHEMA_VERSION
from model.store.store import Store
from model.store.surroundings import Surroundings

BUSY_SECONDS = 5.0
_SMALLEST = 512  # the smallest page of an SQLite database, and so the smallest database


def open_store(
    path: Path,
    surroundings: Surroundings,
    *,
    create: bool = True,
    read_only: bool = False,
    busy_seconds: float = BUSY_SECONDS,
) -> Store:
    """Open the database at a path, making it when it is not there and ``create`` is set.

    Raises StoreRefused, one sentence, for a missing folder or file, a file that is no database of
    ours or a newer one, a disk that cannot be written, another writer beyond ``busy_seconds``.
    """
    if engine.sqlite_version_info < OLDEST_SQLITE:
        wanted = ".".join(map(str, OLDEST_SQLITE))
        raise StoreRefused(
            f"SQLite {engine.sqlite_version} is too old; {wanted} is needed: pip install pysqlite3."
        )
    _require_place(path, create=create and not read_only)
    with refusing_when_read(path):
        connection = (
            _connect_to_read(path) if read_only else _connect_as(path, "mode=rwc", busy_seconds)
        )
        try:
            _set_up(connection, busy_seconds)
            _require_ours(connection, path, read_only=read_only)
            if not read_only:
                _make_safe(connection, busy_seconds)
                if schema_number(connection) == 0:
                    make_schema(connection)
                bring_up_to_date(connection, path)
                _require_writable(connection, busy_seconds)
            # Plugins would be other people's code inside the record.
            database = Database(connection, execute_plugins=False)
        except BaseException:
            connection.close()
            raise
    return Store(path, database, surroundings, read_only=read_only)


def _require_place(path: Path, *, create: bool) -> None:
    if path.is_dir():
        raise StoreRefused(f"{path} is a folder, not a database; name a file inside it.")
    if path.exists():
        _require_size(path)
    elif not create:
        raise StoreRefused(f"There is no database at {path}; check the path.")
    elif not path.parent.is_dir():
        raise StoreRefused(f"The folder {path.parent} does not exist; make it first.")


def _require_size(path: Path) -> None:
    """SQLite takes a file of one byte for an empty database and writes over it.

    Told by the size alone: closing a file that was opened beside SQLite would drop the locks that
    this process holds on it.
    """
    if 0 < path.stat().st_size < _SMALLEST:
        raise not_a_database(path)


def _connect_to_read(path: Path) -> engine.Connection:
    """Read without writing anything; also from a medium where no log can be made."""
    # First as if to write, because only that takes its log away again when it closes.
    for mode in ("mode=rw", "mode=ro"):
        connection = _connect_as(path, mode)
        try:
            connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()
        except engine.DatabaseError as error:
            connection.close()
            if primary_code(error) not in (CANTOPEN, READONLY):
                raise
        else:
            connection.execute("PRAGMA query_only = ON")
            return connection
    log = path.with_name(f"{path.name}-wal")
    if log.exists() and log.stat().st_size > 0:
        raise StoreRefused(
            f"{path} has changes in {log.name} that cannot be read on a read-only medium; "
            "copy both files into a folder that can be written and open the copy."
        )
    return _connect_as(path, "immutable=1")


def _connect_as(path: Path, mode: str, busy_seconds: float = BUSY_SECONDS) -> engine.Connection:
    return engine.connect(
        f"{path.absolute().as_uri()}?{mode}",
        uri=True,
        timeout=busy_seconds,
        # No hidden transactions: every one is begun by us, or is a single statement.
        isolation_level=None,
    )


def _set_up(connection: engine.Connection, busy_seconds: float) -> None:
    connection.execute(f"PRAGMA busy_timeout = {round(busy_seconds * 1000):d}")
    connection.execute("PRAGMA recursive_triggers = ON")


def _require_ours(connection: engine.Connection, path: Path, *, read_only: bool) -> None:
    (application,) = connection.execute("PRAGMA application_id").fetchone()
    (things,) = connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()
    number = schema_number(connection)
    if application == 0 and number == 0 and things == 0:
        # An empty file: what a kill during the very first opening leaves.
        if read_only:
            raise StoreRefused(f"{path} is empty: nothing has been recorded in it yet.")
        return
    if application != APPLICATION_ID or number < 1:
        raise StoreRefused(
            f"{path} is a database of another program; name another file with --data."
        )
    if number > SCHEMA_VERSION:
        raise StoreRefused(
            f"{path} was written by a newer Tubewright (schema {number}, this one knows "
            f"{SCHEMA_VERSION}); install that version, nothing was changed."
        )
    _require_whole(connection, path)
    if read_only and number < SCHEMA_VERSION:
        raise StoreRefused(
            f"{path} is of an older schema ({number}); open it once where it can be written."
        )


def _require_whole(connection: engine.Connection, path: Path) -> None:
    (tables,) = connection.execute(
        "SELECT count(*) FROM sqlite_schema WHERE type = 'table' AND name IN "
        "('record', 'edge', 'meta')"
    ).fetchone()
    if tables != 3:
        raise StoreRefused(
            f"{path} is damaged: some of its tables are gone; restore it from a backup."
        )


def _make_safe(connection: engine.Connection, busy_seconds: float) -> None:
    """What is committed survives a power cut: the log for a sound SQLite, else a journal file."""
    wanted = "wal" if has_wal_reset_fix(engine.sqlite_version_info) else "delete"
    if _set_journal(connection, wanted, busy_seconds) == "wal":
        connection.execute("PRAGMA synchronous = FULL")
    else:
        # FULL would not sync the folder after the journal is removed, so that a power cut could
        # bring the journal back and undo an acknowledged tap.
        connection.execute("PRAGMA synchronous = EXTRA")
    # On macOS an ordinary fsync leaves data in the disk's own cache.
    connection.execute("PRAGMA fullfsync = ON")
    connection.execute("PRAGMA checkpoint_fullfsync = ON")


def _set_journal(connection: engine.Connection, wanted: str, busy_seconds: float) -> str:
    """The mode that is then in force: a network disk may have no log and says so only this way."""
    # SQLite does not wait for its busy timeout when it changes the mode.
    deadline = time.monotonic() + busy_seconds
    while True:
        try:
            (mode,) = connection.execute("PRAGMA journal_mode").fetchone()
            if mode != wanted:
                (mode,) = connection.execute(f"PRAGMA journal_mode = {wanted}").fetchone()
        except engine.OperationalError as error:
            if not is_busy(error) or time.monotonic() > deadline:
                raise
            time.sleep(0.01)
        else:
            return str(mode)


def _require_writable(connection: engine.Connection, busy_seconds: float) -> None:
    """SQLite opens what cannot be written without a word; say it now, not at the first tap."""
    connection.execute("PRAGMA busy_timeout = 0")
    try:
        connection.execute("BEGIN IMMEDIATE")
        # Of a read-only file SQLite makes that an ordinary BEGIN, also without a word.
        connection.execute("UPDATE meta SET key = key WHERE 0")
    except engine.OperationalError as error:
        if not is_busy(error):  # somebody else is writing, so it can be written
            raise
    finally:
        with suppress(engine.DatabaseError):
            if connection.in_transaction:
                connection.execute("ROLLBACK")
        connection.execute(f"PRAGMA busy_timeout = {round(busy_seconds * 1000):d}")
