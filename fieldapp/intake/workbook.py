"""Reads the rows of an XLSX workbook as text, the way a CSV of the same sheet would hold them.

Refuses formulas: what they last showed is not in the record of whoever wrote them. Not here:
headers and columns (``tables``).
"""

import io
import re
import warnings
import zipfile
from collections.abc import Iterator
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any

from fieldapp.errors import IntakeRefused
from fieldapp.intake.faults import FaultList, quoted

MAX_UNPACKED_BYTES = 200_000_000
MAX_SHARED_TEXT_BYTES = 50_000_000
"""The table of texts is held in memory whole, unlike the sheets."""
MAX_MEMBERS = 2_000
MAX_LINE = 1_048_576
"""The last line a sheet can have."""

_NOT_A_DATE_LETTER = re.compile(r'\[[^\]]*\]|"[^"]*"|\\.')
"""What a number format holds beside its date letters: a language, quoted text, an escape."""


def read_workbook(data: bytes, name: str, sheet: str | None) -> Iterator[tuple[int, list[str]]]:
    """The lines of one sheet, from line 1; every formula and error cell is a fault."""
    try:
        import openpyxl
    except ImportError:
        raise IntakeRefused(
            [
                f"{name} is a workbook, which needs openpyxl: "
                "python3 -m pip install 'tubewright[office]' (or save it as CSV)."
            ]
        ) from None
    _check_size(data, name)
    try:
        with warnings.catch_warnings():
            # openpyxl warns of styles and extensions that do not concern the cells.
            warnings.simplefilter("ignore")
            book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=False)
            rows = _sheet_rows(_sheet(book, name, sheet))
    except IntakeRefused:
        raise
    # A foreign parser on bytes of any origin: whatever it raises, the workbook is broken.
    except Exception:
        raise IntakeRefused(
            [f"{name} cannot be read as an XLSX workbook; save it again."]
        ) from None
    return iter(rows)


def _check_size(data: bytes, name: str) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            members = archive.infolist()
    except (zipfile.BadZipFile, ValueError, NotImplementedError, OSError, EOFError):
        raise IntakeRefused([f"{name} is not an XLSX workbook; save it again as .xlsx."]) from None
    # Reading a member stops at the size that it declares, so the declared size is a true limit.
    unpacked = sum(member.file_size for member in members)
    shared = sum(
        member.file_size for member in members if "sharedstrings" in member.filename.lower()
    )
    if (
        len(members) > MAX_MEMBERS
        or unpacked > MAX_UNPACKED_BYTES
        or shared > MAX_SHARED_TEXT_BYTES
    ):
        raise IntakeRefused(
            [f"{name} unpacks to {unpacked / 1e6:.0f} MB, which is too much; save it as CSV."]
        )


def _sheet(book: Any, name: str, sheet: str | None) -> Any:
    titles = [found.title for found in book.worksheets]
    if not titles:
        raise IntakeRefused([f"{name} has no sheet with cells."])
    if sheet is None:
        return book.worksheets[0]
    if sheet not in titles:
        shown = ", ".join(quoted(title) for title in titles[:20])
        raise IntakeRefused([f"{name} has no sheet {quoted(sheet)}; it has {shown}."])
    return book.worksheets[titles.index(sheet)]


def _sheet_rows(worksheet: Any) -> list[tuple[int, list[str]]]:
    # Some programs declare a wrong extent; without it the cells themselves say.
    worksheet.reset_dimensions()
    faults = FaultList()
    found: list[tuple[int, list[str]]] = []
    width = 0
    for line, cells in enumerate(worksheet.iter_rows(), start=1):
        if line > MAX_LINE:
            raise ValueError("more lines than a sheet can have")
        texts = [_cell_text(cell, faults) for cell in cells]
        while texts and not texts[-1].strip():
            texts.pop()
        if line == 1:
            width = len(texts)
        if texts or line == 1:
            found.append((line, texts + [""] * (width - len(texts))))
    faults.refuse_if_any()
    return found


def _cell_text(cell: Any, faults: FaultList) -> str:
    value = cell.value
    if value is None:
        return ""
    if cell.data_type == "f":
        faults.add(f"cell {cell.coordinate} holds a formula; replace it with its value.")
        return ""
    if cell.data_type == "e":
        faults.add(f"cell {cell.coordinate} holds the error {quoted(value)}; write a value.")
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        # Fifteen digits are what a spreadsheet itself shows of a number.
        return format(Decimal(f"{value:.15g}"), "f")
    if isinstance(value, datetime):
        return _date_text(value, str(cell.number_format))
    if isinstance(value, date | time):
        return value.isoformat()
    return str(value)


def _date_text(value: datetime, number_format: str) -> str:
    """A day, or the month or year alone where the cell shows no more than that."""
    shown = _NOT_A_DATE_LETTER.sub("", number_format).lower()
    if value.time() != time(0):
        return value.isoformat()
    if "y" in shown and "d" not in shown and "h" not in shown:
        return f"{value:%Y-%m}" if "m" in shown else f"{value:%Y}"
    return value.date().isoformat()
