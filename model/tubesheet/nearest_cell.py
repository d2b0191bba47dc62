"""The part of a sheet that is nearer to one point than to any other point or to a rim.

The corners of that part are the centres of the circles that touch the point and two more things
(or lie straight across between the point and the shell) without holding any point. Not here: which
circles matter (``largest_circles``).

Seen from the point ``a`` in the direction of a unit vector u, the boundary toward a thing lies at
a distance t with 1/t = k.u + m, where

* toward a point b, at d = b - a:          k = 2 d / |d|^2,            m = 0
* toward the shell, radius R, centre 0:    k = 2 a / (R^2 - |a|^2),    m = 2 R / (R^2 - |a|^2)
* toward a furnace, radius r, at d = c-a:  k = 2 d / (|d|^2 - r^2),    m = 2 r / (|d|^2 - r^2)

(each follows from "as far from a as from the thing", squared once). The boundary of the cell is
the largest 1/t of all, that is the support function of the convex hull of discs of radius m around
k; points are discs of radius 0. So the corners of the cell are the straight edges of that hull:
exact for curved rims, and a plain convex hull where no rim is near.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

Disc = tuple[float, float, float]
Corner = tuple[float, float, float]
"""Centre x, y and radius of a circle that touches the cell's point and others."""

# Relative slack of comparisons: rounding of 64-bit floats after a few products.
_SLACK = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Rim:
    """A round rim: the shell (things lie inside it) or a furnace (things lie outside it)."""

    x: float
    y: float
    radius: float
    is_shell: bool = False

    def distance(self, x: float, y: float) -> float:
        """Distance from a place to the rim; negative on the wrong side of it."""
        from_centre = math.hypot(x - self.x, y - self.y)
        return self.radius - from_centre if self.is_shell else from_centre - self.radius


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """The cell of a point: its corners, and the indexes of the points that bound it."""

    corners: tuple[Corner, ...]
    neighbours: tuple[int, ...]
    reach: float
    """Distance to the farthest corner; infinite when the cell is open to one side."""


def cell_of(
    x: float, y: float, others: Sequence[tuple[int, float, float]], rims: Iterable[Rim]
) -> Cell:
    """Cell of the point (x, y) among other points (index, x, y) and rims."""
    discs: list[Disc] = []
    for _, ox, oy in others:
        dx, dy = ox - x, oy - y
        scale = 2.0 / (dx * dx + dy * dy)
        discs.append((dx * scale, dy * scale, 0.0))
    on_hull = _hull(discs)
    hull = [discs[index] for index in on_hull]
    bounding = [others[index][0] for index in on_hull]
    shell_disc: Disc | None = None
    rim_discs: list[Disc] = []
    for rim in rims:
        disc = _rim_disc(x, y, rim)
        if disc is not None:
            rim_discs.append(disc)
            shell_disc = disc if rim.is_shell else shell_disc
    sticking_out = _sticking_out(hull, rim_discs)
    if sticking_out or len(hull) < 3:
        edges, touched = _edges_of_discs([*hull, *sticking_out])
        bounding = [bounding[index] for index in touched if index < len(bounding)]
        is_closed = shell_disc is not None
    else:
        edges, is_closed = _edges_of_points(hull)
    if shell_disc in sticking_out and shell_disc is not None:
        edges += _widest_toward_shell(shell_disc, [*hull, *sticking_out])
    found = tuple((x + ux / h, y + uy / h, 1.0 / h) for ux, uy, h in edges)
    reach = max((radius for _, _, radius in found), default=math.inf)
    return Cell(corners=found, neighbours=tuple(bounding), reach=reach if is_closed else math.inf)


def _widest_toward_shell(
    shell_disc: Disc, discs: Sequence[Disc]
) -> list[tuple[float, float, float]]:
    """Where only the point and the shell across from it hold a circle: 1/t is least there."""
    kx, ky, m = shell_disc
    length = math.hypot(kx, ky)
    h = m - length
    if length <= _SLACK * m or h <= 0.0:
        return []
    ux, uy = -kx / length, -ky / length
    if any(ux * ox + uy * oy + om > h * (1.0 + _SLACK) for ox, oy, om in discs):
        return []
    return [(ux, uy, h)]


def _rim_disc(x: float, y: float, rim: Rim) -> Disc | None:
    dx, dy = rim.x - x, rim.y - y
    square = dx * dx + dy * dy - rim.radius * rim.radius
    if rim.is_shell:
        dx, dy, square = -dx, -dy, -square
    if square <= 0.0:
        return None
    return 2.0 * dx / square, 2.0 * dy / square, 2.0 * rim.radius / square


def _hull(discs: Sequence[Disc]) -> list[int]:
    """Indexes of the corners of the convex hull, anticlockwise (Andrew's monotone chain)."""
    order = sorted(range(len(discs)), key=lambda index: discs[index])
    if len(order) < 3:
        return order

    def half(indexes: Iterable[int]) -> list[int]:
        chain: list[int] = []
        for index in indexes:
            px, py, _ = discs[index]
            while len(chain) > 1:
                ax, ay, _ = discs[chain[-2]]
                bx, by, _ = discs[chain[-1]]
                if (bx - ax) * (py - ay) - (by - ay) * (px - ax) > 0.0:
                    break
                chain.pop()
            chain.append(index)
        return chain

    return half(order)[:-1] + half(reversed(order))[:-1]


def _edges_of_points(corners: Sequence[Disc]) -> tuple[list[tuple[float, float, float]], bool]:
    """Outward direction and 1/t of each edge; whether the cell is closed on every side."""
    edges: list[tuple[float, float, float]] = []
    is_closed = True
    for (ax, ay, _), ux, uy, length, h in _sides(corners):
        if h > _SLACK * math.hypot(ax, ay):
            edges.append((ux / length, uy / length, h))
        else:
            is_closed = False
    return edges, is_closed


def _sides(corners: Sequence[Disc]) -> Iterator[tuple[Disc, float, float, float, float]]:
    """Each side's first corner, outward normal and its length, and distance from the origin."""
    for index, corner in enumerate(corners):
        ax, ay, _ = corner
        bx, by, _ = corners[(index + 1) % len(corners)]
        ux, uy = by - ay, ax - bx
        length = math.hypot(ux, uy)
        if length != 0.0:
            yield corner, ux, uy, length, (ux * ax + uy * ay) / length


def _sticking_out(corners: Sequence[Disc], rim_discs: Sequence[Disc]) -> list[Disc]:
    """The rim discs that reach beyond the hull of the points."""
    if len(corners) < 3:
        return list(rim_discs)
    out: set[Disc] = set()
    for _, ux, uy, length, h in _sides(corners):
        for disc in rim_discs:
            kx, ky, m = disc
            if (ux * kx + uy * ky) / length + m > h + _SLACK * (abs(h) + m):
                out.add(disc)
    return [disc for disc in rim_discs if disc in out]


def _edges_of_discs(discs: Sequence[Disc]) -> tuple[list[tuple[float, float, float]], list[int]]:
    """Straight edges of the hull of discs, and the indexes of the discs on the hull."""
    edges: list[tuple[float, float, float]] = []
    touched: set[int] = set()
    for first, (ax, ay, am) in enumerate(discs):
        for second in range(first + 1, len(discs)):
            bx, by, bm = discs[second]
            for ux, uy in _common_directions(ax - bx, ay - by, bm - am):
                h = ux * ax + uy * ay + am
                limit = h + _SLACK * (abs(h) + am + math.hypot(ax, ay))
                if h > 0.0 and all(ux * kx + uy * ky + m <= limit for kx, ky, m in discs):
                    edges.append((ux, uy, h))
                    touched.update((first, second))
    if not edges:
        touched.update(range(len(discs)))
    return edges, sorted(touched)


def _common_directions(dx: float, dy: float, dm: float) -> tuple[tuple[float, float], ...]:
    """Unit vectors u with d.u = dm: the outward directions of two discs' common tangents."""
    length = math.hypot(dx, dy)
    if length <= abs(dm) or length == 0.0:
        return ()
    along = dm / length
    across = math.sqrt(max(1.0 - along * along, 0.0))
    nx, ny = dx / length, dy / length
    return (
        (along * nx - across * ny, along * ny + across * nx),
        (along * nx + across * ny, along * ny - across * nx),
    )
