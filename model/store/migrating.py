"""Making a schema, and changing an older one after a backup beside the file.

A change and the number that says it was made are one transaction. Not here: the tables themselves
(``model.store.schema``).
"""

from collections.abc import Callable, Mapping
from pathlib import Path

from model.store.durable import sync_file
from model.store.engine import engine
from model.store.schema import SCHEMA_VERSION, STATEMENTS

Change = Callable[[engine.Connection], None]

CHANGES: Mapping[int, Change] = {}
"""What turns a schema of this number into the next. Version 1 is the first."""


def schema_number(connection: engine.Connection) -> int:
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def make_schema(connection: engine.Connection) -> None:
    """Make all tables in one transaction, unless another program just did."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        if schema_number(connection) == 0:
            for statement in STATEMENTS:
                connection.execute(statement)
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def bring_up_to_date(
    connection: engine.Connection,
    path: Path,
    *,
    changes: Mapping[int, Change] = CHANGES,
    target: int = SCHEMA_VERSION,
) -> Path | None:
    """Change an older schema step by step; the backup made before, or None when nothing was due.

    The backup stands beside the file; after an error the file is as it was.
    """
    before = schema_number(connection)
    if before >= target:
        return None
    backup = _free_name(path, before)
    connection.execute("VACUUM INTO ?", (str(backup),))
    sync_file(backup)
    connection.execute("BEGIN IMMEDIATE")
    try:
        # Another program may have done it while the backup was made.
        for number in range(schema_number(connection), target):
            changes[number](connection)
        connection.execute(f"PRAGMA user_version = {target:d}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise
    return backup


def _free_name(path: Path, number: int) -> Path:
    """``boilers.schema-1.db`` beside ``boilers.db``, or with a count if that is taken."""
    stem = f"{path.stem}.schema-{number}"
    name = path.with_name(f"{stem}{path.suffix}")
    count = 1
    while name.exists():
        count += 1
        name = path.with_name(f"{stem}-{count}{path.suffix}")
    return name
