"""Finding the points near a place without looking at all of them.

Not here: what the points are.
"""

import math
from collections.abc import Iterator, Sequence

Point = tuple[float, float]


class PointGrid:
    """Points sorted into square cells, to be asked by place and distance."""

    __slots__ = ("_cell", "_cells", "_points")

    def __init__(self, points: Sequence[Point], cell: float) -> None:
        self._points = points
        self._cell = cell
        self._cells: dict[tuple[int, int], list[int]] = {}
        for index, (x, y) in enumerate(points):
            place = (math.floor(x / cell), math.floor(y / cell))
            self._cells.setdefault(place, []).append(index)

    def within(self, x: float, y: float, distance: float) -> Iterator[tuple[int, float]]:
        """Index and distance of every point not farther than ``distance`` from a place."""
        cell, cells, points = self._cell, self._cells, self._points
        first_row, last_row = math.floor((y - distance) / cell), math.floor((y + distance) / cell)
        first, last = math.floor((x - distance) / cell), math.floor((x + distance) / cell)
        if (last_row - first_row + 1) * (last - first + 1) > len(cells):
            chosen: Iterator[list[int]] = iter(list(cells.values()))
        else:
            chosen = (
                cells[(column, row)]
                for row in range(first_row, last_row + 1)
                for column in range(first, last + 1)
                if (column, row) in cells
            )
        for members in chosen:
            for index in members:
                px, py = points[index]
                found = math.hypot(px - x, py - y)
                if found <= distance:
                    yield index, found


def usual_spacing(points: Sequence[Point]) -> float:
    """A cell size that suits the points: the side of a square that holds about one of them."""
    if len(points) < 2:
        return 1.0
    width = max(x for x, _ in points) - min(x for x, _ in points)
    height = max(y for _, y in points) - min(y for _, y in points)
    longest = max(width, height)
    if longest == 0.0:
        return 1.0
    return math.sqrt(max(width * height, longest * longest / len(points)) / len(points))
