"""The numbers around a sheet: rows left and right of the rim, columns above the top row.

Not here: what a row is; a tube without row or column simply gets no number.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from fieldapp.drawing.palette import Theme
from fieldapp.drawing.primitives import Anchor, Line, Primitive, Text
from fieldapp.drawing.sheet_view import DrawnTube, SheetPlacing

LARGEST_MM = 2.9
SMALLEST_MM = 1.5


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """One row of one pass as it stands in the picture."""

    pass_number: int | None
    row: int
    y: float
    left: float
    right: float
    radius: float

    def reach(self, side: int) -> float:
        """How far the row reaches toward a side; larger is nearer to the ruler."""
        return -self.left if side < 0 else self.right


def build_row_rulers(
    tubes: Sequence[DrawnTube], placing: SheetPlacing, rim: float, theme: Theme
) -> list[Primitive]:
    """Row numbers on both sides, each with a hair line to the first tube of its row."""
    rows = _list_rows(tubes, placing)
    drawn: list[Primitive] = []
    for side in (-1, 1):
        drawn += _build_ruler(_list_nearest(rows, side), side, placing.middle_x_mm, rim, theme)
    return drawn


def build_column_numbers(
    tubes: Sequence[DrawnTube], placing: SheetPlacing, theme: Theme
) -> list[Primitive]:
    """Column numbers above the top row of each pass, where nothing stands in the way."""
    placed = [(tube, *placing.place(tube.x_mm, tube.y_mm)) for tube in tubes]
    tops: dict[int | None, float] = {}
    for tube, _, y in placed:
        tops[tube.pass_number] = min(y, tops.get(tube.pass_number, y))
    drawn: list[Primitive] = []
    for tube, x, y in placed:
        radius = tube.radius_mm * placing.scale
        size = min(2.6, 0.9 * radius)
        if tube.column is None or size < SMALLEST_MM or y > tops[tube.pass_number] + radius / 2:
            continue
        base = y - 1.45 * radius
        if any(
            abs(other_x - x) < 2 * radius and 0 < y - o < 3.4 * radius for _, other_x, o in placed
        ):
            continue
        drawn.append(
            Text(
                x=x,
                y=base,
                size=size,
                words=str(tube.column),
                fill=theme.quiet_ink,
                anchor=Anchor.MIDDLE,
            )
        )
    return drawn


def _list_rows(tubes: Sequence[DrawnTube], placing: SheetPlacing) -> list[_Row]:
    """All rows, from the top of the picture down."""
    members: dict[tuple[int | None, int], list[tuple[float, float, float]]] = {}
    for tube in tubes:
        if tube.row is not None:
            x, y = placing.place(tube.x_mm, tube.y_mm)
            radius = tube.radius_mm * placing.scale
            members.setdefault((tube.pass_number, tube.row), []).append((x, y, radius))
    rows = [
        _Row(
            pass_number=pass_number,
            row=row,
            y=sum(y for _, y, _ in spots) / len(spots),
            left=min(x - r for x, _, r in spots),
            right=max(x + r for x, _, r in spots),
            radius=max(r for _, _, r in spots),
        )
        for (pass_number, row), spots in members.items()
    ]
    return sorted(rows, key=lambda row: (row.y, row.left))


def _list_nearest(rows: list[_Row], side: int) -> list[_Row]:
    """Where two passes lie beside each other, only the rows next to this ruler."""
    return [
        row
        for row in rows
        if not any(
            other.pass_number != row.pass_number
            and abs(other.y - row.y) < row.radius
            and other.reach(side) > row.reach(side)
            for other in rows
        )
    ]


def _build_ruler(
    rows: list[_Row], side: int, middle: float, rim: float, theme: Theme
) -> list[Primitive]:
    gap = min((below.y - above.y for above, below in pairwise(rows)), default=LARGEST_MM / 0.8)
    step = 1
    while gap * step * 0.85 < SMALLEST_MM and step < len(rows):
        step += 1
    size = min(LARGEST_MM, max(SMALLEST_MM, 0.85 * gap * step))
    edge = middle + side * (rim + 1.2)
    anchor = Anchor.END if side < 0 else Anchor.START
    drawn: list[Primitive] = []
    last_y = float("-inf")
    for number, row in enumerate(rows):
        begins = number == 0 or rows[number - 1].pass_number != row.pass_number
        if begins and row.pass_number is not None:
            word_y = row.y - max(0.5 * gap, 0.5 * size) - 0.6
            if word_y - last_y > 2.6:
                drawn.append(
                    Text(
                        x=edge,
                        y=word_y,
                        size=2.6,
                        words=f"pass {row.pass_number}",
                        fill=theme.ink,
                        anchor=anchor,
                        bold=True,
                    )
                )
        if (row.row - 1) % step == 0:
            drawn += _build_row_number(row, side, edge, size, theme)
            last_y = row.y + 0.35 * size
    return drawn


def _build_row_number(
    row: _Row, side: int, edge: float, size: float, theme: Theme
) -> list[Primitive]:
    tube_edge = row.left if side < 0 else row.right
    return [
        Line(
            x1=edge - side * 0.6,
            y1=row.y,
            x2=tube_edge + side * 0.35 * row.radius,
            y2=row.y,
            stroke=theme.faint,
            stroke_width=0.12,
        ),
        Text(
            x=edge,
            y=row.y + 0.35 * size,
            size=size,
            words=str(row.row),
            fill=theme.quiet_ink,
            anchor=Anchor.END if side < 0 else Anchor.START,
        ),
    ]
