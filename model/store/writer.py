"""Adding records to the journal inside one transaction.

Not here: the transaction itself (``model.store.store``), what people mean by a change
(``model.store.edits``).
"""

import hashlib
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from itertools import islice
from pathlib import Path
from typing import Any

from model.record.ids import mint_id
from model.record.kinds import KINDS, complete_body
from model.record.line import Record, line_id, read_line, read_stored_line, utc_text, write_line
from model.store import identity
from model.store.engine import engine
from model.store.surroundings import Surroundings

_BLOCK = 250  # records looked up and inserted at once
_ID = re.compile(rb"[0-9a-f]{64}")


class Writer:
    """What may be done to the journal while its transaction is open."""

    def __init__(
        self, connection: engine.Connection, path: Path, surroundings: Surroundings
    ) -> None:
        self._connection = connection
        self._path = path
        self._surroundings = surroundings
        self._own_origin: str | None = None

    def mint(self) -> str:
        """A new entity id."""
        return mint_id(self._surroundings.random_bits)

    def append(
        self,
        kind: str,
        body: Mapping[str, Any],
        *,
        boiler: str = "",
        by: str = "",
        supersedes: Sequence[str] = (),
        at: datetime | None = None,
    ) -> Record:
        """Add a new record of this database's origin; missing fields of the body become blank.

        ``at`` is when it was seen, if not now. Raises RecordRefused for a body that breaks its
        kind's rules.
        """
        moment = self._surroundings.clock() if at is None else at
        offset = moment.utcoffset()
        if offset is None:
            raise ValueError(f"{moment.isoformat()} has no offset from UTC")
        complete = complete_body(kind, body)
        origin = self._origin()
        line = write_line(
            kind=kind,
            schema=KINDS[kind].schema,
            body=complete,
            at=utc_text(moment),
            utc_offset_min=int(offset.total_seconds() // 60),
            boiler=boiler,
            by=by,
            origin=origin,
            seq=self._next_seq(boiler, origin),
            supersedes=supersedes,
        )
        record = read_stored_line(line.decode("utf-8"), line_id(line))
        self._insert(line, record)
        return record

    def add_line(self, line: bytes) -> bool:
        """Add a record that came from elsewhere, verified; False when it is already there.

        Raises RecordRefused for a line that is not a canonical record.
        """
        record = read_line(line)
        present = self._connection.execute(
            "SELECT 1 FROM record WHERE id = ?", (bytes.fromhex(record.id),)
        ).fetchone()
        if present is not None:
            return False
        self._insert(line, record)
        return True

    def add_verified(self, lines: Iterable[bytes]) -> int:
        """Add many lines that ``read_line`` has passed already; gives how many were not there.

        They are not verified again, which halves the time; their ids are hashed anew.
        """
        left = iter(lines)
        return sum(self._add_block(block) for block in iter(lambda: list(islice(left, _BLOCK)), []))

    def _add_block(self, lines: Sequence[bytes]) -> int:
        self._require_transaction()
        by_id = {hashlib.sha256(line).digest(): line for line in lines}
        places = ",".join("?" * len(by_id))
        there = self._connection.execute(
            f"SELECT id FROM record WHERE id IN ({places})", tuple(by_id)
        ).fetchall()
        for (raw,) in there:
            del by_id[raw]
        self._connection.executemany(
            "INSERT INTO record(id, line) VALUES(?, ?)",
            [(raw, line.decode("utf-8")) for raw, line in by_id.items()],
        )
        self._connection.executemany("INSERT INTO edge(new, old) VALUES(?, ?)", _edges_of(by_id))
        return len(by_id)

    def _insert(self, line: bytes, record: Record) -> None:
        self._require_transaction()
        new = bytes.fromhex(record.id)
        self._connection.execute(
            "INSERT INTO record(id, line) VALUES(?, ?)", (new, line.decode("utf-8"))
        )
        if record.supersedes:
            self._connection.executemany(
                "INSERT INTO edge(new, old) VALUES(?, ?)",
                [(new, bytes.fromhex(old)) for old in record.supersedes],
            )

    def _require_transaction(self) -> None:
        if not self._connection.in_transaction:
            raise RuntimeError("a record outside the transaction of its writer")

    def _next_seq(self, boiler: str, origin: str) -> int:
        # Inside BEGIN IMMEDIATE nobody else can add one between this look and the insert.
        (last,) = self._connection.execute(
            "SELECT max(seq) FROM record WHERE boiler = ? AND origin = ?", (boiler, origin)
        ).fetchone()
        return 1 if last is None else int(last) + 1

    def _origin(self) -> str:
        if self._own_origin is None:
            noted = identity.noted_origin(self._connection)
            home = identity.is_at_home(self._connection, self._path, self._surroundings)
            if noted is not None and home:
                self._own_origin = noted
            else:
                self._own_origin = self._take_new_origin(cloned_from=noted)
        return self._own_origin

    def _take_new_origin(self, cloned_from: str | None) -> str:
        origin = self._own_origin = self.mint()
        place = identity.place_of(self._path, self._surroundings)
        identity.note_origin(self._connection, origin, place)
        body = {
            "app_version": self._surroundings.app_version,
            "device": self._surroundings.device,
            "cloned_from": cloned_from,
        }
        self.append("origin", body)
        return origin


def _edges_of(by_id: Mapping[bytes, bytes]) -> Iterator[tuple[bytes, bytes]]:
    for raw, line in by_id.items():
        # The last key but one: after its name a canonical line has only these ids and a number.
        _, _, end = line.rpartition(b'"supersedes":')
        for old in _ID.findall(end):
            yield raw, bytes.fromhex(old.decode())
