"""Reads a CSV or XLSX file into rows of text under checked column names.

The header is line 1. Not here: what a cell means (``cells``), which columns a file has (its own
reader), the inside of a workbook (``workbook``).
"""

import csv
import io
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum
from pathlib import Path

from fieldapp.errors import IntakeRefused
from fieldapp.intake.cells import first_control
from fieldapp.intake.faults import FaultList, meant, quoted
from fieldapp.intake.files import decode_utf8, read_bytes, shown_name

MAX_BYTES = 50_000_000
MAX_ROWS = 200_000
MAX_COLUMNS = 200
MAX_CELL_CHARACTERS = 2_000

RawRow = tuple[int, Sequence[str]]
"""A line number and its cells, before any check."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """The columns of a file. One that ends in ``_mm`` may be written in inches as ``_in``."""

    required: tuple[str, ...]
    optional: tuple[str, ...]
    words: Mapping[str, type[StrEnum]] = field(default_factory=dict)
    """The closed list of each column that has one."""
    about: Mapping[str, str] = field(default_factory=dict)
    """What stands in a column, where its name does not say it."""

    def names(self) -> tuple[str, ...]:
        """Every name that may stand in the header."""
        own = self.required + self.optional
        return own + tuple(twin for name in own if (twin := inch_twin(name)) is not None)


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A file's columns as they stand, and its rows: (line number, text by column)."""

    columns: tuple[str, ...]
    rows: tuple[tuple[int, dict[str, str]], ...]


def inch_twin(column: str) -> str | None:
    """``wall_in`` for ``wall_mm``; ``None`` for a column that is no length in millimetres."""
    return column.removesuffix("_mm") + "_in" if column.endswith("_mm") else None


def read_table(path: Path, columns: Columns, *, sheet: str | None = None) -> Table:
    """The checked table of a file; ``sheet`` names a workbook's sheet (otherwise its first).

    Raises IntakeRefused with every fault of the header, or else of the rows' shape.
    """
    return _table(raw_rows(path, sheet=sheet), columns, shown_name(path))


def raw_rows(path: Path, *, sheet: str | None = None) -> Iterator[RawRow]:
    """The lines of a file with their cells as text, whatever its columns are called."""
    data = read_bytes(path, MAX_BYTES)
    name = shown_name(path)
    if data[:8] == b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1":
        raise IntakeRefused(
            [f"{name} is an old Excel file or has a password; save it as .xlsx without one."]
        )
    if path.suffix.lower() == ".xlsx" or data[:4] == b"PK\x03\x04":
        # Imported here so that CSV needs no workbook library.
        from fieldapp.intake.workbook import read_workbook

        return read_workbook(data, name, sheet)
    if sheet is not None:
        raise IntakeRefused([f"{name} is not a workbook, so it has no sheet {quoted(sheet)}."])
    return _csv_rows(decode_utf8(data, name), name)


def _csv_rows(text: str, name: str) -> Iterator[RawRow]:
    delimiter = _delimiter(text)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    while True:
        # A quoted cell may run over several lines; the row is named by its first.
        line = reader.line_num + 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise IntakeRefused(
                [f"line {line} of {name} cannot be read as CSV ({error}); check its quotes."]
            ) from None
        yield line, cells


def _delimiter(text: str) -> str:
    header = text.split("\n", 1)[0].split("\r", 1)[0]
    if ";" not in header:
        return ","
    if "," in header:
        raise IntakeRefused(["line 1 mixes commas and semicolons; use commas between columns."])
    return ";"


def _table(raw: Iterator[RawRow], columns: Columns, name: str) -> Table:
    header = next(raw, None)
    if header is None or not any(cell.strip() for cell in header[1]):
        raise IntakeRefused(
            [f"{name}: line 1 is empty; it must name the columns {', '.join(columns.required)}."]
        )
    names = _checked_header(header[1], columns)
    faults = FaultList()
    rows: list[tuple[int, dict[str, str]]] = []
    for line, cells in raw:
        stripped = [cell.strip() for cell in cells]
        if not any(stripped):
            continue
        if len(rows) == MAX_ROWS:
            raise IntakeRefused([f"{name} has more than {MAX_ROWS} rows; split it."])
        rows.append((line, _checked_row(line, stripped, names, faults)))
    faults.refuse_if_any()
    return Table(columns=tuple(column for column in names if column), rows=tuple(rows))


def _checked_header(cells: Sequence[str], columns: Columns) -> list[str]:
    """The column names in lower case; an empty one stands for a column without a name."""
    if len(cells) > MAX_COLUMNS:
        raise IntakeRefused([f"line 1 names {len(cells)} columns; at most {MAX_COLUMNS}."])
    names = [cell.strip().lower() for cell in cells]
    allowed = columns.names()
    faults = FaultList()
    for place, column in enumerate(names):
        if not column:
            continue
        if column not in allowed:
            faults.add(f"line 1: unknown column {quoted(column)}{meant(column, allowed)}")
        elif column in names[:place]:
            faults.add(f"line 1: the column '{column}' stands twice.")
    for column in columns.required + columns.optional:
        twin = inch_twin(column)
        if column in names and twin in names:
            faults.add(f"line 1: both '{column}' and '{twin}' stand; keep one of them.")
        elif column in columns.required and column not in names and twin not in names:
            faults.add(f"line 1: the column '{column}' is missing.")
    faults.refuse_if_any()
    return names


def _checked_row(
    line: int, cells: Sequence[str], names: Sequence[str], faults: FaultList
) -> dict[str, str]:
    if len(cells) != len(names):
        faults.add(
            f"line {line} has {len(cells)} {'cell' if len(cells) == 1 else 'cells'}, "
            f"but line 1 names {len(names)} columns; "
            "put quotes around a cell with a comma in it."
        )
        return {}
    row: dict[str, str] = {}
    for column, cell in zip(names, cells, strict=True):
        if column:
            row[column] = clean_cell(line, column, cell, faults)
        elif cell:
            faults.add(f"line {line}: {quoted(cell)} stands in a column without a name.")
    return row


def clean_cell(line: int, column: str, cell: str, faults: FaultList) -> str:
    """The text of a cell, or a fault and nothing."""
    if cell.isascii() and cell.isprintable() and len(cell) <= MAX_CELL_CHARACTERS:
        return cell
    if len(cell) > MAX_CELL_CHARACTERS:
        faults.add(
            f"line {line}, {column}: {len(cell)} characters are too many; "
            f"at most {MAX_CELL_CHARACTERS}."
        )
        return ""
    if control := first_control(cell):
        faults.add(
            f"line {line}, {column}: holds the control character {control}; type the cell again."
        )
        return ""
    return unicodedata.normalize("NFC", cell.replace("\r\n", "\n").replace("\r", "\n"))
