"""One inspection as this database knows it while it is recorded, whoever else writes meanwhile.

Not here: the marks themselves (``model.store.edits.marks``), folding (``model.condition``), which
walls are below the retirement wall (``present_walls``).
"""

from collections.abc import Iterable, Mapping

from model.condition.open_inspection import OpenInspection
from model.condition.states import FoldedBoiler, FoldedInspection
from model.errors import StoreRefused
from model.record.line import Record
from model.store.edits.people import persons
from model.store.history import read_present
from model.store.loading import read_boiler
from model.store.present_walls import PresentWalls
from model.store.queries import read_rows
from model.store.store import Store

_LAST = "SELECT coalesce(max(n), 0) FROM record"
_LATER = "SELECT n, line, id FROM record WHERE n > ? ORDER BY n"


class PresentInspection:
    """An inspection of a boiler, folded, with every record that the database has of it."""

    def __init__(self, store: Store, boiler: str, inspection: str) -> None:
        """Raises StoreRefused when the boiler has no such inspection."""
        self.store = store
        self._boiler = boiler
        self._inspection = inspection
        self._changed: frozenset[str] | None = frozenset()
        self._load()

    def _load(self) -> None:
        # Read first: what comes in while the rest is read is then taken in twice, never not at all.
        ((self._last,),) = self.store.rows(_LAST)
        boiler, self.as_loaded, records = self._read()
        self._walls = PresentWalls(self.store, boiler, self._inspection)
        self.open = OpenInspection(boiler, self.as_loaded, records, self._walls.every())
        self.names: Mapping[str, str] = boiler.persons

    def _read(self) -> tuple[FoldedBoiler, FoldedInspection, list[Record]]:
        # A closed inspection still takes late records, but the present leaves it out.
        for read in (read_present, read_boiler):
            boiler, records = read(self.store, self._boiler)
            wanted = boiler.inspection_class(self._inspection)
            for each in boiler.inspections:
                if each.facts.inspection == wanted:
                    return boiler, each, records
        raise StoreRefused(f"There is no inspection {self._inspection} of this boiler.")

    def catch_up(self) -> None:
        """Take in what others wrote since."""
        rows = self.store.rows(_LATER, (self._last,))
        if not rows:
            return
        later = read_rows(self.store, ((line, raw) for _, line, raw in rows))
        concerning = [r for r in later if r.kind == "same" or self._is_of_this_boiler(r)]
        if not all(map(self.open.can_take, concerning)):
            self._load()
            self._changed = None
            return
        if any(record.kind == "person" for record in concerning):
            self.names = {**self.names, **persons(self.store)}
        self.take(concerning, rows[-1][0])

    def take(self, records: Iterable[Record], last: int) -> None:
        """Take in records that were committed, up to the place ``last`` of the journal."""
        self._last = last
        new = list(records)
        touched = self.open.add(new)
        measured = self._walls.worth_asking(touched, new)
        if measured:
            self.open.judge_walls(measured, self._walls.of(measured))
        if self._changed is not None:
            self._changed |= touched

    def changed_holes(self) -> frozenset[str] | None:
        """Holes that may look different since this was last asked; None when any may."""
        changed, self._changed = self._changed, frozenset()
        return changed

    def last_place(self) -> int:
        """The place of the newest record in the journal, inside a transaction too."""
        ((last,),) = self.store.rows(_LAST)
        return int(last)

    def name_of(self, person: str) -> str:
        return self.names.get(person, "unknown person")

    def _is_of_this_boiler(self, record: Record) -> bool:
        return record.boiler == "" or record.boiler in self.open.boiler.members
