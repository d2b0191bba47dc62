"""The largest open places of a tube sheet where tubes no longer hold it.

A flat sheet is held by its tubes and stays, its rim and the furnaces. Where tubes are out of
service the widest unheld place is a circle through the centres of what still holds. Not here: which
tubes count as out of service, and what pitch is permitted (``stayed_plate``).
"""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from model.errors import ModelError
from model.tubesheet.layout import Circle
from model.tubesheet.nearest_cell import Cell, Corner, Rim, cell_of
from model.tubesheet.point_grid import Point, PointGrid, usual_spacing

# Coordinates in files are rounded, so a tube on a circle's edge may seem to lie this far inside.
_EDGE_MM = 0.2
# Circles whose centres and radii agree to this are one: corners shared by many cells.
_SAME_MM = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenCircle:
    """An open place: centre, diameter, and the keys of the removed tubes inside, sorted."""

    x_mm: float
    y_mm: float
    span_mm: float
    removed: tuple[str, ...]


def open_circles(
    survivors: Sequence[Point],
    removed: Mapping[str, Point],
    shell_radius_mm: float | None,
    furnaces: Sequence[Circle] = (),
    stands_for_none: Callable[[OpenCircle], bool] | None = None,
) -> list[OpenCircle]:
    """The maximal open circles that hold a removed tube's centre, widest first.

    A circle is open when no survivor's centre lies inside it and it stays inside the shell and
    outside the furnaces; it is bounded when it cannot grow without moving off what it touches.
    Of the bounded ones (``bounded_circles``) those are left out whose removed tubes all lie in
    another that is at least as wide: three neighbouring plugs are one place, not four. A circle
    that ``stands_for_none`` takes the place only of others of its own kind.

    Every removed tube is in at least one circle, and the widest that holds it is always listed.
    Where no bounded circle holds a tube, or only one narrower than the circle around the tube's
    own centre up to the nearest thing that holds, that one stands for it. It happens beside the
    rim, and at the edge of the tubes when no shell is given, where the true place may be wider; and
    beside those that stand for none.

    Raises: ModelError when a centre lies outside the shell or inside a furnace.
    """
    is_apart = stands_for_none or _never
    kept: list[OpenCircle] = []
    holding: dict[str, list[tuple[set[str], bool]]] = {}
    for circle in bounded_circles(survivors, removed, shell_radius_mm, furnaces, is_apart):
        keys, stands_apart = set(circle.removed), is_apart(circle)
        if any(
            keys <= wider and (stands_apart or not wider_stands_apart)
            for wider, wider_stands_apart in holding.get(circle.removed[0], ())
        ):
            continue
        kept.append(circle)
        for key in keys:
            holding.setdefault(key, []).append((keys, stands_apart))
    return kept


def bounded_circles(
    survivors: Sequence[Point],
    removed: Mapping[str, Point],
    shell_radius_mm: float | None,
    furnaces: Sequence[Circle] = (),
    stands_for_none: Callable[[OpenCircle], bool] | None = None,
) -> list[OpenCircle]:
    """Every bounded open circle that holds a removed tube's centre, widest first.

    Its centre is a corner of the Voronoi diagram of survivors, shell and furnaces, or lies straight
    across between one of them and the shell. With stand-ins, and raises, as ``open_circles``.
    """
    rims = _rims(shell_radius_mm, furnaces)
    _refuse_misplaced([*survivors, *removed.values()], rims)
    if not removed or not (survivors or rims):
        return []
    search = _Search(survivors, rims)
    neighbours = {
        neighbour
        for x_mm, y_mm in removed.values()
        for neighbour in search.cell(x_mm, y_mm).neighbours
    }
    corners: list[Corner] = []
    for index in sorted(neighbours):
        corners.extend(search.cell(*survivors[index], itself=index).corners)
    corners.extend(corner for corner in _rim_corners(rims) if search.is_open(corner))
    if shell_radius_mm is None:
        corners = _within_tubes(corners, [*survivors, *removed.values()])
    return _holding(_distinct(corners), removed, search, stands_for_none or _never)


class _Search:
    """Survivors and rims, to be asked for cells and clearances."""

    def __init__(self, survivors: Sequence[Point], rims: Sequence[Rim]) -> None:
        self.survivors = survivors
        self.rims = rims
        self.spacing = usual_spacing(survivors)
        self.grid = PointGrid(survivors, self.spacing)

    def cell(self, x: float, y: float, itself: int | None = None) -> Cell:
        """Cell of a place among the survivors, looking only as far as it has to."""
        look = 2.5 * self.spacing
        while True:
            near = [index for index, _ in self.grid.within(x, y, look) if index != itself]
            others = [(index, *self.survivors[index]) for index in near]
            cell = cell_of(x, y, others, self.rims)
            if 2.0 * cell.reach <= look or len(near) + (itself is not None) == len(self.survivors):
                return cell
            look *= 2.0

    def clearance(self, x: float, y: float) -> float:
        """Distance to the nearest survivor or rim."""
        nearest = min((rim.distance(x, y) for rim in self.rims), default=math.inf)
        look = self.spacing
        while self.survivors:
            distances = [distance for _, distance in self.grid.within(x, y, look)]
            if distances:
                return min(nearest, *distances)
            if look > nearest:
                break
            look *= 2.0
        return nearest

    def is_open(self, corner: Corner) -> bool:
        x, y, radius = corner
        return self.clearance(x, y) >= radius - _SAME_MM


def _never(_: OpenCircle) -> bool:
    return False


def _rims(shell_radius_mm: float | None, furnaces: Sequence[Circle]) -> list[Rim]:
    rims = [
        Rim(x=furnace.x_mm, y=furnace.y_mm, radius=furnace.diameter_mm / 2.0)
        for furnace in furnaces
    ]
    if shell_radius_mm is not None:
        rims.append(Rim(x=0.0, y=0.0, radius=shell_radius_mm, is_shell=True))
    return rims


def _refuse_misplaced(points: Sequence[Point], rims: Sequence[Rim]) -> None:
    for x_mm, y_mm in points:
        for rim in rims:
            if not rim.distance(x_mm, y_mm) > 0.0:
                where = "outside the shell" if rim.is_shell else "inside a furnace"
                raise ModelError(
                    f"A tube centre at ({x_mm:.1f}, {y_mm:.1f}) mm lies {where}; correct the "
                    "layout, the shell's diameter or the furnaces."
                )


def _within_tubes(corners: Sequence[Corner], points: Sequence[Point]) -> list[Corner]:
    """Corners inside the box around all tubes: without a shell nothing is known beyond it."""
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    bottom, top = min(y for _, y in points), max(y for _, y in points)
    return [
        (x, y, radius)
        for x, y, radius in corners
        if left - _EDGE_MM <= x <= right + _EDGE_MM and bottom - _EDGE_MM <= y <= top + _EDGE_MM
    ]


def _distinct(corners: Sequence[Corner]) -> list[Corner]:
    """Corners with those that several cells share only once."""
    seen: dict[tuple[int, int], list[Corner]] = {}
    distinct: list[Corner] = []
    for corner in corners:
        x, y, radius = corner
        column, row = math.floor(x / _SAME_MM), math.floor(y / _SAME_MM)
        near = (
            other
            for dx in (-1, 0, 1)
            for dy in (-1, 0, 1)
            for other in seen.get((column + dx, row + dy), ())
        )
        if any(
            math.hypot(other[0] - x, other[1] - y) <= _SAME_MM
            and abs(other[2] - radius) <= _SAME_MM
            for other in near
        ):
            continue
        seen.setdefault((column, row), []).append(corner)
        distinct.append(corner)
    return distinct


def _holding(
    corners: Sequence[Corner],
    removed: Mapping[str, Point],
    search: _Search,
    stands_for_none: Callable[[OpenCircle], bool],
) -> list[OpenCircle]:
    """Circles with the removed tubes inside, and stand-ins where ``open_circles`` says so."""
    keys = sorted(removed)
    points = [removed[key] for key in keys]
    grid = PointGrid(points, max(usual_spacing(points), search.spacing))
    circles: list[OpenCircle] = []
    barely: dict[str, Corner] = {}
    for corner in sorted(corners, key=_widest_first):
        x, y, radius = corner
        depths = [(keys[index], radius - far) for index, far in grid.within(x, y, radius)]
        held = [key for key, depth in depths if depth > _EDGE_MM]
        if held:
            circles.append(_open_circle(corner, held))
        for key, depth in depths:
            if depth > 0.0:
                barely.setdefault(key, corner)
    barely_only = barely.keys() - set[str]().union(*(circle.removed for circle in circles))
    circles += [_open_circle(barely[key], [key]) for key in keys if key in barely_only]
    widest: dict[str, float] = {}
    for circle in circles:
        if not stands_for_none(circle):
            for key in circle.removed:
                widest.setdefault(key, circle.span_mm / 2.0)
    for key in keys:
        if key in barely_only and key in widest:
            continue
        around = _around(removed[key], search)
        if around[2] > widest.get(key, 0.0) + _SAME_MM:
            near = grid.within(*around)
            held = [keys[i] for i, far in near if around[2] - far > _EDGE_MM]
            circles.append(_open_circle(around, held))
    return sorted(circles, key=lambda c: _widest_first((c.x_mm, c.y_mm, c.span_mm)))


def _open_circle(corner: Corner, removed: Sequence[str]) -> OpenCircle:
    x, y, radius = corner
    return OpenCircle(x_mm=x, y_mm=y, span_mm=2.0 * radius, removed=tuple(sorted(removed)))


def _around(point: Point, search: _Search) -> Corner:
    return (*point, search.clearance(*point))


def _widest_first(corner: Corner) -> tuple[float, float, float]:
    """Order that rounding does not upset: by width, then from the top, then from the left."""
    x, y, width = corner
    return (-round(width, 3), -round(y, 3), round(x, 3))


def _rim_corners(rims: Sequence[Rim]) -> Iterator[Corner]:
    """Circles bounded by rims alone: the shell, shell and furnace, or three rims."""
    shells = [rim for rim in rims if rim.is_shell]
    for shell in shells:
        yield shell.x, shell.y, shell.radius
        for furnace in rims:
            apart = math.hypot(furnace.x - shell.x, furnace.y - shell.y)
            if not furnace.is_shell and apart > 0.0:
                gap = (shell.radius + apart - furnace.radius) / 2.0
                along = shell.radius - gap
                ux, uy = (shell.x - furnace.x) / apart, (shell.y - furnace.y) / apart
                yield shell.x + ux * along, shell.y + uy * along, gap
    for first in range(len(rims)):
        for second in range(first + 1, len(rims)):
            for third in range(second + 1, len(rims)):
                yield from _touching_three(rims[first], rims[second], rims[third])


def _touching_three(first: Rim, second: Rim, third: Rim) -> Iterator[Corner]:
    """Circles that touch three rims: from |p - c| = w + s, with s = radius (shell: -radius).

    Differences of the squared equations are linear in p and w; what is left is a quadratic in w.
    """
    ax, ay, s0 = first.x, first.y, _signed(first)
    rows = []
    for rim in (second, third):
        dx, dy, s = rim.x - ax, rim.y - ay, _signed(rim)
        rows.append((dx, dy, s - s0, (dx * dx + dy * dy - s * s + s0 * s0) / 2.0))
    (a1, b1, c1, d1), (a2, b2, c2, d2) = rows
    determinant = a1 * b2 - a2 * b1
    if abs(determinant) <= 1e-9 * (abs(a1 * b2) + abs(a2 * b1)):
        return
    # p - a = (px + qx w, py + qy w), from a x + b y = d - c w (w counted from the rim).
    px, qx = (d1 * b2 - d2 * b1) / determinant, (c2 * b1 - c1 * b2) / determinant
    py, qy = (a1 * d2 - a2 * d1) / determinant, (a2 * c1 - a1 * c2) / determinant
    square, half, rest = (
        qx * qx + qy * qy - 1.0,
        px * qx + py * qy - s0,
        px * px + py * py - s0 * s0,
    )
    for width in _roots(square, half, rest):
        if width > 0.0:
            yield ax + px + qx * width, ay + py + qy * width, width


def _signed(rim: Rim) -> float:
    return -rim.radius if rim.is_shell else rim.radius


def _roots(square: float, half: float, rest: float) -> tuple[float, ...]:
    """Real roots of square w^2 + 2 half w + rest = 0."""
    if abs(square) < 1e-12:
        return () if half == 0.0 else (-rest / (2.0 * half),)
    inner = half * half - square * rest
    if inner < 0.0:
        return ()
    root = math.sqrt(inner)
    return ((-half + root) / square, (-half - root) / square)
