"""Which row numbers stand at the left and right edge of the screen, and which pass they are of.

Not here: drawing them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from fieldapp.view.face_map import RowLine
from fieldapp.view.viewport import Bounds

Side = Literal["left", "right"]


@dataclass(frozen=True, slots=True, kw_only=True)
class RulerEntry:
    """A number at the height of its row, or the name of a pass above its first row."""

    words: str
    y_mm: float
    is_pass: bool = False


def ruler_entries(
    rows: Sequence[RowLine], shown: Bounds, side: Side, least_gap_mm: float
) -> tuple[RulerEntry, ...]:
    """Entries from the top down for the rows on the screen, at least ``least_gap_mm`` apart.

    Where two passes lie side by side, an edge names the rows whose tubes are nearest to it on the
    screen. Rows too close together are numbered in steps: 1, 3, 5 or 1, 6, 11.
    """
    seen = [row for row in rows if _is_in(row, shown)]
    nearest = [row for row in seen if not any(_hides(other, row, shown, side) for other in seen)]
    step = _step(nearest, least_gap_mm)
    entries: list[RulerEntry] = []
    for number, row in enumerate(nearest):
        if number == 0 or nearest[number - 1].pass_number != row.pass_number:
            name = RulerEntry(
                words=f"pass {row.pass_number}", y_mm=row.y_mm + least_gap_mm, is_pass=True
            )
            # The name of a pass is worth more than the last numbers of the pass above it.
            while entries and entries[-1].y_mm - name.y_mm < 0.8 * least_gap_mm:
                entries.pop()
            entries.append(name)
        is_free = not entries or entries[-1].y_mm - row.y_mm >= 0.99 * least_gap_mm
        if (row.row - 1) % step == 0 and is_free:
            entries.append(RulerEntry(words=str(row.row), y_mm=row.y_mm))
    return tuple(entries)


def _is_in(row: RowLine, shown: Bounds) -> bool:
    beside = row.left_mm > shown.right_mm or row.right_mm < shown.left_mm
    return not beside and shown.bottom_mm <= row.y_mm <= shown.top_mm


def _hides(other: RowLine, row: RowLine, shown: Bounds, side: Side) -> bool:
    """Whether another pass's row lies beside this one and nearer to the edge."""
    if other.pass_number == row.pass_number or abs(other.y_mm - row.y_mm) >= row.radius_mm:
        return False
    if side == "left":
        return max(other.left_mm, shown.left_mm) < max(row.left_mm, shown.left_mm)
    return min(other.right_mm, shown.right_mm) > min(row.right_mm, shown.right_mm)


def _step(rows: Sequence[RowLine], least_gap_mm: float) -> int:
    """How many rows to a number: 1, 2, 5, 10, 20, 50."""
    gaps = [
        above.y_mm - below.y_mm
        for above, below in pairwise(rows)
        if above.pass_number == below.pass_number and above.y_mm - below.y_mm > 0.0
    ]
    gap = min(gaps, default=least_gap_mm)
    return next((step for step in (1, 2, 5, 10, 20, 50) if gap * step >= least_gap_mm), 100)
