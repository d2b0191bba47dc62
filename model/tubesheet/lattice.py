"""The regular lattice behind a layout: its pitch, its kind, and who neighbours whom.

Not here: making a layout from a lattice (``patterns``), and what the pitch means for the strength
of a sheet (``ligament``).
"""

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from model.tubesheet.layout import Tube
from model.tubesheet.point_grid import PointGrid, usual_spacing

LatticeKind = Literal["triangular", "square", "other"]

# A tube counts as standing next to another up to this multiple of the pitch: beyond 1, so that a
# drilled pattern may be a little off, and below the diagonal of a square (1.414).
_NEXT_TO = 1.25
_ANGLE_SLACK_DEG = 8.0
_CLEAR_MAJORITY = 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Pitch:
    """Pitch fitted to a layout. ``spread_mm`` is largest minus smallest nearest distance."""

    pitch_mm: float
    kind: LatticeKind
    smallest_mm: float
    spread_mm: float


def nearest_distances_mm(tubes: Sequence[Tube]) -> tuple[float, ...]:
    """Distance [mm] from each tube's centre to the nearest other one; empty for fewer than two."""
    if len(tubes) < 2:
        return ()
    points = [(tube.x_mm, tube.y_mm) for tube in tubes]
    spacing = usual_spacing(points)
    grid = PointGrid(points, spacing)
    return tuple(_nearest_mm(grid, points, index, spacing) for index in range(len(points)))


def fitted_pitch(tubes: Sequence[Tube]) -> Pitch | None:
    """Pitch of a layout: the median distance between nearest centres.

    None for fewer than two tubes. The kind is ``other`` unless a clear majority of the angles
    between neighbours is near 60 degrees (triangular) or 90 degrees (square).
    """
    distances = nearest_distances_mm(tubes)
    if not distances:
        return None
    pitch_mm = statistics.median(distances)
    return Pitch(
        pitch_mm=pitch_mm,
        kind=_lattice_kind(tubes, pitch_mm),
        smallest_mm=min(distances),
        spread_mm=max(distances) - min(distances),
    )


def neighbours(tubes: Sequence[Tube], within_mm: float) -> dict[str, tuple[str, ...]]:
    """Keys of the tubes whose centres lie within a distance of each tube's, nearest first."""
    points = [(tube.x_mm, tube.y_mm) for tube in tubes]
    grid = PointGrid(points, max(within_mm, 1e-9))
    found: dict[str, tuple[str, ...]] = {}
    for index, tube in enumerate(tubes):
        near = sorted(
            (distance, other)
            for other, distance in grid.within(tube.x_mm, tube.y_mm, within_mm)
            if other != index
        )
        found[tube.key] = tuple(tubes[other].key for _, other in near)
    return found


def _nearest_mm(
    grid: PointGrid, points: Sequence[tuple[float, float]], index: int, spacing: float
) -> float:
    x, y = points[index]
    reach = spacing * 1.5
    while True:
        found = [distance for other, distance in grid.within(x, y, reach) if other != index]
        if found:
            return min(found)
        reach *= 2.0


def _lattice_kind(tubes: Sequence[Tube], pitch_mm: float) -> LatticeKind:
    points = [(tube.x_mm, tube.y_mm) for tube in tubes]
    if pitch_mm <= 0.0:
        return "other"
    grid = PointGrid(points, pitch_mm)
    angles: list[float] = []
    for index, (x, y) in enumerate(points):
        bearings = sorted(
            math.degrees(math.atan2(points[other][1] - y, points[other][0] - x))
            for other, _ in grid.within(x, y, pitch_mm * _NEXT_TO)
            if other != index
        )
        if len(bearings) > 1:
            turned = [*bearings[1:], bearings[0] + 360.0]
            angles.extend(b - a for a, b in zip(bearings, turned, strict=True))
    return _kind_of_angles([angle for angle in angles if angle < 135.0])


def _kind_of_angles(angles: Sequence[float]) -> LatticeKind:
    if not angles:
        return "other"
    kinds: tuple[tuple[LatticeKind, float], ...] = (("triangular", 60.0), ("square", 90.0))
    for kind, expected in kinds:
        near = sum(abs(angle - expected) <= _ANGLE_SLACK_DEG for angle in angles)
        if near >= _CLEAR_MAJORITY * len(angles):
            return kind
    return "other"


def closest_pair(tubes: Sequence[Tube]) -> tuple[Tube, Tube, float] | None:
    """The two tubes whose centres are nearest each other, and their distance [mm]."""
    distances = nearest_distances_mm(tubes)
    if not distances:
        return None
    smallest = min(distances)
    first = tubes[distances.index(smallest)]
    points = [(tube.x_mm, tube.y_mm) for tube in tubes]
    near = PointGrid(points, max(smallest, 1e-9)).within(first.x_mm, first.y_mm, smallest)
    return next(
        (first, tubes[index], distance) for index, distance in near if tubes[index] is not first
    )
