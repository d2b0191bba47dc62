"""One open database: reading, and writing in whole transactions.

Not here: how it is opened (``model.store.opening``), what is asked of it (``model.store.queries``).
"""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from sqlite_utils import Database

from model.errors import StoreRefused
from model.store import identity
from model.store.engine import engine, refusing, refusing_when_read
from model.store.photos import PhotoShelf
from model.store.surroundings import Surroundings
from model.store.writer import Writer


class Store:
    """An open database. Belongs to the thread that opened it; close it, or use ``with``."""

    def __init__(
        self, path: Path, database: Database, surroundings: Surroundings, *, read_only: bool
    ) -> None:
        self.path = path
        self.database = database
        self.surroundings = surroundings
        self.read_only = read_only
        self.photos = PhotoShelf(path.parent / "photos")

    @property
    def origin(self) -> str | None:
        """The origin this database last wrote as; None before its first write."""
        with refusing_when_read(self.path):
            return identity.noted_origin(self.database.conn)

    def rows(self, sql: str, values: Sequence[Any] = ()) -> list[tuple[Any, ...]]:
        """All rows of a SELECT, inside the open transaction if there is one."""
        with refusing_when_read(self.path):
            return self.database.conn.execute(sql, values).fetchall()

    @contextmanager
    def snapshot(self) -> Iterator[None]:
        """Inside, all reads see the database as of one moment, whoever writes meanwhile."""
        with refusing(self.path):
            self.database.conn.execute("BEGIN")
            try:
                yield
            finally:
                self.database.conn.execute("ROLLBACK")

    @contextmanager
    def write(self) -> Iterator[Writer]:
        """One transaction: committed to the disk when the block ends, undone by any exception."""
        if self.read_only:
            raise StoreRefused(f"{self.path} was opened for reading only, so nothing was written.")
        connection = self.database.conn
        if connection.in_transaction:
            raise RuntimeError("a write inside a write")
        with refusing(self.path):
            # Not deferred: a transaction that read first could never become a writer beside
            # another one, however long it waited.
            connection.execute("BEGIN IMMEDIATE")
            try:
                yield Writer(connection, self.path, self.surroundings)
                connection.execute("COMMIT")
            except BaseException:
                # On a full or failed disk SQLite has undone it already, or does at the next open.
                with suppress(engine.DatabaseError):
                    if connection.in_transaction:
                        connection.execute("ROLLBACK")
                raise

    def close(self) -> None:
        self.database.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()
