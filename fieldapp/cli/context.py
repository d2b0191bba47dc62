"""Where a command works: its database, the folder of its files, clock and chance.

Not here: what is read from the arguments (``dispatch``).
"""

from __future__ import annotations

import os
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, timedelta
from pathlib import Path
from typing import TYPE_CHECKING

from fieldapp.cli.refusals import Refused

if TYPE_CHECKING:
    from model.store.store import Store
    from model.store.surroundings import Surroundings

DATABASE_NAME = "tubewright.db"


@dataclass(frozen=True, slots=True, kw_only=True)
class Context:
    """The outside of a command."""

    data: Path
    """The database."""
    named_data: Path | None
    """The database, where this very command line names one with ``--data``."""
    makes_folder: bool
    """Whether the folder of the database is ours to make: the one in the user's data folder."""
    folder: Path
    """Where relative file names begin."""
    surroundings: Surroundings
    progress: Callable[[str], None] = field(default=lambda words: None)
    """Told what is being done, where somebody waits for it."""

    def latest_day(self) -> date:
        """The last day that can be meant: one beyond it is a slip of the pen, such as 2062.

        Not tomorrow: the clock of a tablet whose battery died may stand decades behind, and a
        clock that is wrong must not keep anybody from recording today.
        """
        return self.surroundings.clock().date() + timedelta(days=30 * 365)

    def is_ahead(self, day: str) -> bool:
        """Whether a day is after tomorrow by this machine's clock."""
        return day > (self.surroundings.clock().date() + timedelta(days=1)).isoformat()

    def file(self, name: str) -> Path:
        """The path of a file that the command line names."""
        return self.folder / name

    def open(self) -> Store:
        """The database for writing; it must be there."""
        self._require()
        return self._open(create=False, read_only=False)

    def open_to_read(self) -> Store:
        """The database for reading only, also from a medium that cannot be written."""
        self._require()
        return self._open(create=False, read_only=True)

    def open_or_make(self) -> Store:
        """The database for writing, made when it is not there."""
        self.make_folder()
        return self._open(create=True, read_only=False)

    def make_folder(self) -> None:
        """Make the folder in the user's data folder; a folder that a user names must be there."""
        if not self.makes_folder:
            return
        try:
            self.data.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise Refused(
                f"The folder {self.data.parent} cannot be made ({error.strerror}); name a database "
                "with --data."
            ) from None

    def _require(self) -> None:
        if not os.path.exists(self.data):  # False also where we may not look
            raise Refused(
                f"There is no database at {self.data}; name one with --data, or make a boiler with "
                "'boiler new'."
            )

    def _open(self, *, create: bool, read_only: bool) -> Store:
        # Imported here so that --help and calc need no database library.
        from model.store.opening import open_store

        try:
            return open_store(self.data, self.surroundings, create=create, read_only=read_only)
        except OSError as error:
            raise Refused(f"{self.data} cannot be opened ({error.strerror or error}).") from None


def context_for(data: Path | None) -> Context:
    """Where one works with this database, or with None in one's own data folder."""
    from model.store.surroundings import real_surroundings

    return Context(
        data=default_data() if data is None else data,
        named_data=data,
        makes_folder=data is None,
        folder=Path(),
        surroundings=real_surroundings(),
    )


def default_data() -> Path:
    """The database of who names none."""
    import platformdirs

    return platformdirs.user_data_path("tubewright", appauthor=False) / DATABASE_NAME
