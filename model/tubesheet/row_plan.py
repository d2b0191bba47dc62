"""A layout from rows as someone counts them in front of the boiler: so many tubes at this height.

Not here: patterns that fill a shell by themselves (``patterns``); faults of the resulting layout
(``validate``).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from model.errors import Faults
from model.tubesheet.layout import Tube, default_key

# Two planned rows of a pass at the same height are parts of one row, as beside a furnace.
_SAME_HEIGHT_MM = 1.0
_MOST_IN_A_ROW = 500


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedRow:
    """A row of evenly spaced tubes.

    ``x_offset_mm`` moves the middle of the row from the centre line of the shell; 0 is centred.
    ``first_column`` numbers the leftmost tube, for a row that a furnace splits in two.
    """

    pass_: int
    y_mm: float
    count: int
    pitch_mm: float
    x_offset_mm: float = 0.0
    first_column: int = 1


def tubes_from_rows(
    rows: Sequence[PlannedRow],
    *,
    od_mm: float | None = None,
    wall_mm: float | None = None,
    length_mm: float | None = None,
    material: str | None = None,
) -> tuple[Tube, ...]:
    """Tubes of a row plan; rows are numbered from the top within their pass.

    Raises: Faults with one sentence for each row that cannot be.
    """
    faults = [fault for number, row in enumerate(rows, start=1) for fault in _faults(number, row)]
    if not rows:
        faults.append("The row plan is empty; give at least one row.")
    if faults:
        raise Faults(faults)
    tubes: list[Tube] = []
    for row_number, row in _numbered(rows):
        left_mm = row.x_offset_mm - row.pitch_mm * (row.count - 1) / 2.0
        for place in range(row.count):
            column = row.first_column + place
            tubes.append(
                Tube(
                    key=default_key(row.pass_, row_number, column),
                    pass_=row.pass_,
                    row=row_number,
                    column=column,
                    x_mm=left_mm + place * row.pitch_mm,
                    y_mm=row.y_mm,
                    od_mm=od_mm,
                    wall_mm=wall_mm,
                    length_mm=length_mm,
                    material=material,
                )
            )
    return tuple(tubes)


def _faults(number: int, row: PlannedRow) -> list[str]:
    where = f"Row {number} of the plan"
    faults = [
        f"{where}: {name} is {value}, but must be a number."
        for name, value in (("y", row.y_mm), ("the offset", row.x_offset_mm))
        if not math.isfinite(value)
    ]
    if row.pass_ < 1:
        faults.append(f"{where}: the pass is {row.pass_}, but must be 1 or more.")
    if not 1 <= row.count <= _MOST_IN_A_ROW:
        faults.append(f"{where}: the count is {row.count}, but must be 1 to {_MOST_IN_A_ROW}.")
    if not (math.isfinite(row.pitch_mm) and row.pitch_mm > 0.0):
        faults.append(f"{where}: the pitch is {row.pitch_mm}, but must be a number above 0.")
    if row.first_column < 1:
        faults.append(f"{where}: the first column is {row.first_column}, but must be 1 or more.")
    return faults


def _numbered(rows: Sequence[PlannedRow]) -> list[tuple[int, PlannedRow]]:
    """Rows with their number from the top of their pass, top and left first."""
    ordered = sorted(rows, key=lambda row: (row.pass_, -row.y_mm, row.first_column))
    numbered: list[tuple[int, PlannedRow]] = []
    number, before = 0, None
    for row in ordered:
        if before is None or before.pass_ != row.pass_:
            number = 1
        elif before.y_mm - row.y_mm > _SAME_HEIGHT_MM:
            number += 1
        numbered.append((number, row))
        before = row
    return numbered
