"""Reads ``layout.csv``: where every tube is, as seen from the front.

Finds doubled keys and holes, because only here are the lines known. Not here: overlapping tubes,
tubes outside the shell and the other faults of a layout as a whole (``model.tubesheet.validate``).
"""

from dataclasses import dataclass
from pathlib import Path

from fieldapp.errors import IntakeRefused
from fieldapp.intake.cells import BadCell
from fieldapp.intake.faults import FaultList, quoted
from fieldapp.intake.files import shown_name
from fieldapp.intake.rows import Row
from fieldapp.intake.tables import Columns, read_table
from model.record.ids import is_entity_id
from model.record.words import TubeKind
from model.tubesheet.layout import KEY_RULE, Tube, is_key

COLUMNS = Columns(
    required=("tube", "pass", "row", "column", "x_mm", "y_mm"),
    optional=("od_mm", "wall_mm", "length_mm", "material", "kind", "label", "hole"),
)
_FARTHEST_MM = 50_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutFile:
    """The tubes in the order of the file, and the line of each for faults found later."""

    tubes: tuple[Tube, ...]
    lines: tuple[int, ...]


def read_layout(path: Path, *, sheet: str | None = None) -> LayoutFile:
    """The tubes of a CSV or XLSX file. IntakeRefused names every fault."""
    table = read_table(path, COLUMNS, sheet=sheet)
    if not table.rows:
        raise IntakeRefused([f"{shown_name(path)} has no tubes; write one tube a line."])
    faults = FaultList()
    tubes: list[Tube] = []
    lines: list[int] = []
    key_lines: dict[str, int] = {}
    hole_lines: dict[str, int] = {}
    for line, cells in table.rows:
        row = Row(line, cells, faults)
        tube = _tube(row)
        _check_first(row, "tube", (row.text("tube") or "").casefold(), key_lines)
        _check_first(row, "hole", row.text("hole") or "", hole_lines)
        if tube is not None:
            tubes.append(tube)
            lines.append(line)
    faults.refuse_if_any()
    return LayoutFile(tubes=tuple(tubes), lines=tuple(lines))


def _tube(row: Row) -> Tube | None:
    """The tube of one row; ``None`` when a cell that every tube needs is faulty."""
    if not row.has("tube"):
        row.fault("tube", "is empty; write the key of the tube.")
    key = row.read("tube", _key)
    pass_ = row.whole("pass", least=1, most=9, needed=True)
    row_number = row.whole("row", least=1, most=10_000, needed=True)
    column = row.whole("column", least=1, most=10_000, needed=True)
    x_mm = _place(row, "x_mm")
    y_mm = _place(row, "y_mm")
    od_mm = row.length_mm("od_mm", above=0, most=1_000)
    wall_mm = row.length_mm("wall_mm", above=0, most=100)
    length_mm = row.length_mm("length_mm", above=0, most=_FARTHEST_MM)
    kind = row.word("kind", TubeKind)
    hole = row.read("hole", _hole)
    if od_mm is not None and wall_mm is not None and wall_mm * 2 >= od_mm:
        row.fault("wall_mm", f"{wall_mm:g} mm leaves no bore in a tube of {od_mm:g} mm.")
    if (
        key is None
        or pass_ is None
        or row_number is None
        or column is None
        or x_mm is None
        or y_mm is None
    ):
        return None
    return Tube(
        key=key,
        pass_=pass_,
        row=row_number,
        column=column,
        x_mm=x_mm,
        y_mm=y_mm,
        hole=hole,
        od_mm=od_mm,
        wall_mm=wall_mm,
        length_mm=length_mm,
        material=row.text("material"),
        kind="stay" if kind is TubeKind.STAY else "plain",
        label=row.text("label"),
    )


def _place(row: Row, column: str) -> float | None:
    if not row.has(column):
        row.fault(column, "is empty; write where the tube is.")
    return row.length_mm(column, least=-_FARTHEST_MM, most=_FARTHEST_MM)


def _key(text: str) -> str:
    if not is_key(text):
        raise BadCell(f"{quoted(text)} is not a tube key: {KEY_RULE}.")
    return text


def _hole(text: str) -> str:
    if not is_entity_id(text):
        raise BadCell(f"{quoted(text)} is not the id of a hole; leave it as it was exported.")
    return text


def _check_first(row: Row, column: str, value: str, lines: dict[str, int]) -> None:
    if value and value in lines:
        row.fault(column, f"{quoted(row.text(column))} stands already in line {lines[value]}.")
    elif value:
        lines[value] = row.line
