"""``condition.xlsx``: the record as a workbook, numbers as numbers and every text as text.

A text never becomes a formula or a link, whatever it begins with. Not here: what stands in the
sheets (``xlsx_tables``).
"""

import io
from collections.abc import Sequence
from datetime import UTC
from typing import Any

from fieldapp.cautions import CAUTIONS
from fieldapp.errors import FieldAppError
from fieldapp.report.csv_files import Cell
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.shown_text import shown_text
from fieldapp.report.xlsx_tables import Sheet, build_sheets
from model.decision.advice import Advice

LONGEST_TEXT = 32_767
"""Letters that the format allows in a cell."""
_CUT = " (cut here: a cell holds no more)"
_WIDEST = 60
_NARROWEST = 7


def render_xlsx(numbers: ConditionNumbers, advice: Advice) -> bytes:
    """The workbook; the same numbers, advice and time give the same bytes.

    Raises FieldAppError when the library that writes it is not installed.
    """
    xlsxwriter = _library()
    file = io.BytesIO()
    workbook = xlsxwriter.Workbook(
        file,
        {
            "in_memory": True,
            "strings_to_formulas": False,
            "strings_to_urls": False,
            "strings_to_numbers": False,
        },
    )
    workbook.set_properties(
        {
            "title": shown_text(f"Condition report {numbers.report_number}"),
            # The library takes its times without a zone.
            "created": numbers.printed_at.astimezone(UTC).replace(tzinfo=None),
        }
    )
    head = workbook.add_format({"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"})
    body = workbook.add_format({"valign": "top", "text_wrap": True})
    for sheet in build_sheets(numbers, advice):
        _write(workbook.add_worksheet(sheet.name), sheet, head, body)
    _write_cautions(workbook.add_worksheet("cautions"), head, body)
    workbook.close()
    return file.getvalue()


def _write(page: Any, sheet: Sheet, head: Any, body: Any) -> None:
    for column, name in enumerate(sheet.columns):
        page.write_string(0, column, name, head)
        cells = [row[column] for row in sheet.rows]
        page.set_column(column, column, _width(name, cells))
    for number, row in enumerate(sheet.rows, start=1):
        for column, cell in enumerate(row):
            _write_cell(page, number, column, cell, body)
    page.freeze_panes(1, 1)
    page.autofilter(0, 0, max(1, len(sheet.rows)), len(sheet.columns) - 1)
    page.repeat_rows(0)
    page.set_landscape()
    page.fit_to_pages(1, 0)


def _write_cautions(page: Any, head: Any, body: Any) -> None:
    page.set_column(0, 0, 12)
    page.set_column(1, 1, 100)
    for number, (heading, words) in enumerate(CAUTIONS):
        page.write_string(number, 0, heading, head)
        page.write_string(number, 1, words, body)


def _write_cell(page: Any, row: int, column: int, cell: Cell, body: Any) -> None:
    if cell is None or cell == "":
        return
    if isinstance(cell, bool):
        page.write_string(row, column, "yes" if cell else "no", body)
    elif isinstance(cell, int | float):
        page.write_number(row, column, cell, body)
    else:
        page.write_string(row, column, _fitting(str(cell)), body)


def _fitting(text: str) -> str:
    shown = shown_text(text)
    if len(shown) <= LONGEST_TEXT:
        return shown
    return shown[: LONGEST_TEXT - len(_CUT)] + _CUT


def _width(name: str, cells: Sequence[Cell]) -> float:
    """Width of a column in letters: of its header's longest part, or of its cells up to a limit."""
    longest = max((len(_short(cell)) for cell in cells), default=0)
    return min(_WIDEST, max(_NARROWEST, len(name) + 3, longest + 2))


def _short(cell: Cell) -> str:
    if cell is None:
        return ""
    return f"{cell:.4g}" if isinstance(cell, float) else str(cell)


def _library() -> Any:
    try:
        import xlsxwriter
    except ImportError:
        raise FieldAppError(
            "The workbook needs the office libraries: python3 -m pip install 'tubewright[office]'."
        ) from None
    return xlsxwriter
