"""How wide the columns of a printed table are, so that every word fits and long texts get the room.

Not here: drawing a table.
"""

from collections.abc import Sequence

from fieldapp.report.line_breaks import widest_word_em, width_em
from fieldapp.report.pieces import Cell, Column, Table

_GAP_EM = 1.1
"""Between two columns."""
_SIGN_EM = 1.9
_LONGEST_EM = 36.0
"""A text longer than this is worth no more room: it wraps anyway."""


def column_widths(table: Table, room_em: float) -> list[float]:
    """Width of each column, in sum the room there is [em].

    Every column gets its widest word, or less in proportion where even that is too much; what is
    left is shared by how much more the columns could use.
    """
    needs = [
        _needs(column, [row.cells[index] for row in table.rows])
        for index, column in enumerate(table.columns)
    ]
    least, best = [need[0] for need in needs], [need[1] for need in needs]
    if sum(least) >= room_em:
        return [each * room_em / sum(least) for each in least]
    spare = room_em - sum(least)
    wished = [high - low for low, high in zip(least, best, strict=True)]
    if sum(wished) <= spare:
        return [each * room_em / sum(best) for each in best]
    return [low + spare * wish / sum(wished) for low, wish in zip(least, wished, strict=True)]


def _needs(column: Column, cells: Sequence[Cell]) -> tuple[float, float]:
    heading = max(widest_word_em(column.heading), width_em(column.unit or ""))
    least = max([heading, *(_sign_em(cell) + widest_word_em(cell.words) for cell in cells)])
    best = max([least, *(_sign_em(cell) + width_em(cell.words) for cell in cells)])
    return least + _GAP_EM, min(best, max(least, _LONGEST_EM)) + _GAP_EM


def _sign_em(cell: Cell) -> float:
    return 0.0 if cell.look is None else _SIGN_EM
