"""Reads the cells of one row, putting every fault on one list with its line and column.

A cell that cannot be read counts as empty, so that reading goes on to the next fault. Not here:
what cells mean (``cells``), and rules between cells (each file's own reader).
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import TypeVar

from fieldapp.intake.cells import (
    DECIMAL_PLACES,
    BadCell,
    BadTime,
    Word,
    check_not_future,
    check_range,
    key_lookup,
    number_example,
    parse_clock,
    parse_day,
    parse_instant,
    parse_number,
    parse_partial_date,
    parse_record_start,
    parse_whole,
    parse_word,
    parse_yes_no,
)
from fieldapp.intake.faults import FaultList, nearest, quoted
from fieldapp.intake.tables import inch_twin
from model.units import inches_from_mm, mm_from_inches

Value = TypeVar("Value")
MAX_SUGGESTED = 200
"""Unknown keys for which near ones are searched: each search runs over the whole layout."""


class TubeKeys:
    """The keys of a layout as files may spell them: case ignored, wrong ones with near keys."""

    def __init__(self, keys: Iterable[str]) -> None:
        self._by_folded = key_lookup(keys)
        self._near: dict[str, str] = {}

    def find(self, text: str) -> str:
        """The key as the layout spells it, or BadCell with the nearest keys."""
        found = self._by_folded.get(text.casefold())
        if found is None:
            raise BadCell(f"{quoted(text)} is not in the layout{self._hint(text)}")
        return found

    def _hint(self, text: str) -> str:
        if text not in self._near:
            if len(self._near) >= MAX_SUGGESTED:
                return "."
            found = nearest(text, self._by_folded.values(), most=3)
            self._near[text] = f"; near it: {', '.join(found)}." if found else "."
        return self._near[text]


@dataclass(frozen=True, slots=True, kw_only=True)
class Length:
    """A length in millimetres with the number and unit that stood in the file."""

    mm: float
    entered: float
    unit: str


class Row:
    """One row of a table, read cell by cell. No date in it may be after ``latest``."""

    __slots__ = ("_cells", "_faults", "_latest", "line")

    def __init__(
        self,
        line: int,
        cells: Mapping[str, str],
        faults: FaultList,
        latest: date | None = None,
    ) -> None:
        self.line = line
        self._cells = cells
        self._faults = faults
        self._latest = latest

    def has(self, column: str) -> bool:
        """Whether something stands in the cell, readable or not; a twin in inches counts."""
        twin = inch_twin(column)
        return bool(self._cells.get(column) or (twin and self._cells.get(twin)))

    def fault(self, column: str, rest: str) -> None:
        twin = inch_twin(column)
        if twin is not None and twin in self._cells:
            column = twin
        self._faults.add(f"line {self.line}, {column}: {rest}")

    def text(self, column: str) -> str | None:
        return self._cells.get(column) or None

    def needed_text(self, column: str) -> str | None:
        if not self.has(column):
            self.fault(column, "is empty; write something.")
        return self.text(column)

    def read(self, column: str, parse: Callable[[str], Value]) -> Value | None:
        """What the cell means; ``None`` when it is empty or faulty."""
        text = self.text(column)
        if text is None:
            return None
        try:
            return parse(text)
        except BadCell as error:
            self.fault(column, str(error))
            return None

    def word(self, column: str, words: type[Word], *, needed: bool = False) -> Word | None:
        if needed and not self.has(column):
            allowed = ", ".join(str(word) for word in words)
            self.fault(column, f"is empty; write one of: {allowed}.")
        return self.read(column, lambda text: parse_word(text, words))

    def number(
        self,
        column: str,
        *,
        above: float | None = None,
        least: float | None = None,
        most: float | None = None,
    ) -> float | None:
        def parse(text: str) -> float:
            value = parse_number(text, number_example(column))
            check_range(value, above=above, least=least, most=most)
            return value

        return self.read(column, parse)

    def length(
        self,
        column: str,
        *,
        above: float | None = None,
        least: float | None = None,
        most: float | None = None,
    ) -> Length | None:
        """A length from a ``_mm`` column or its ``_in`` twin; the limits are in millimetres."""
        twin = inch_twin(column)
        if twin is None or not self._cells.get(twin):
            value = self.number(column, above=above, least=least, most=most)
            return None if value is None else Length(mm=value, entered=value, unit="mm")

        def parse(text: str) -> Length:
            inches = parse_number(text, number_example(twin))
            check_range(
                inches, above=_in_inches(above), least=_in_inches(least), most=_in_inches(most)
            )
            millimetres = round(mm_from_inches(inches), DECIMAL_PLACES)
            return Length(mm=millimetres, entered=inches, unit="in")

        return self.read(twin, parse)

    def length_mm(
        self,
        column: str,
        *,
        above: float | None = None,
        least: float | None = None,
        most: float | None = None,
    ) -> float | None:
        length = self.length(column, above=above, least=least, most=most)
        return None if length is None else length.mm

    def whole(self, column: str, *, least: int, most: int, needed: bool = False) -> int | None:
        def parse(text: str) -> int:
            value = parse_whole(text)
            check_range(value, above=None, least=least, most=most)
            return value

        if needed and not self.has(column):
            self.fault(column, "is empty; write a whole number.")
        return self.read(column, parse)

    def day(self, column: str) -> str | None:
        return self.read(column, parse_day)

    def partial_date(self, column: str, *, needed: bool = False) -> str | None:
        if needed and not self.has(column):
            self.fault(column, "is empty; write 2019, 2019-06 or 2019-06-01.")
        return self.read(column, self._past_date)

    def _past_date(self, text: str) -> str:
        found = parse_partial_date(text)
        check_not_future(text, found, self._latest)
        return found

    def instant(self, column: str) -> datetime | None:
        """A date and time that need not be there; what a whole column lacks is told once."""

        def parse(text: str) -> datetime | None:
            try:
                found = parse_instant(text)
            except BadTime as error:
                # A spreadsheet's own dates have no offset, line for line.
                rest = f", {column}: {error}"[:-1] + ", or leave such cells empty."
                self._faults.add_once(f"{column} {error.lacks}", self.line, rest)
                return None
            check_not_future(text, found.date().isoformat(), self._latest)
            return found

        return self.read(column, parse)

    def clock(self, column: str = "clock") -> float | None:
        return self.read(column, parse_clock)

    def yes_no(self, column: str) -> bool | None:
        return self.read(column, parse_yes_no)

    def record_start(self, column: str) -> str | None:
        return self.read(column, parse_record_start)

    def tube(self, keys: TubeKeys, *, needed: bool = False) -> str | None:
        if needed and not self.has("tube"):
            self.fault("tube", "is empty; write the key of a tube.")
        return self.read("tube", keys.find)


def _in_inches(millimetres: float | None) -> float | None:
    return None if millimetres is None else inches_from_mm(millimetres)
