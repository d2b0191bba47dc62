"""Which tubes of a pass to measure next: some spread over it, some beside the thinnest walls.

Not here: how many readings are needed (``more_readings``), and which tubes may be measured at all
(``pass_forecast``).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from model.errors import OutOfRange
from model.record.words import Purpose
from model.tubesheet.layout import Tube

MOST_NAMED: Final = 10
"""Ours: a list that one person can work off before deciding anew."""

_THINNEST_LOOKED_AROUND: Final = 3
"""Ours: the worst region is the neighbourhood of the three thinnest walls."""

_NO_DISTANCE_MM: Final = 1e-6
"""Two tubes drawn on one place must not divide by nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NextTube:
    """A tube to measure, and as what: only a planned reading speaks for tubes nobody measured."""

    tube: str
    """Its key."""
    purpose: Purpose


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasuredTube:
    """A tube that was measured, and its thinnest wall [mm]."""

    tube: Tube
    wall_mm: float


def next_tubes(
    unmeasured: Sequence[Tube], measured: Sequence[MeasuredTube], *, count: int = MOST_NAMED
) -> tuple[NextTube, ...]:
    """Choose tubes to measure next, by turns for the spread and around the thinnest walls.

    Source: farthest-point sampling, common practice; the turns and the weight are ours.

    Scope: one pass. ``unmeasured`` are tubes that stay in service.

    Equation: with d the distance to the nearest tube measured or chosen, and w that to the nearest
    of the three thinnest walls, a turn for the spread takes the greatest d, a turn around the
    thinnest the greatest d / w^2. Without any reading the first is the tube nearest the middle,
    and all are for the spread.

    Parameters: ``unmeasured`` to choose from; ``measured`` tubes with their walls [mm]; ``count``
    how many to name.

    Returns: ``NextTube`` in the order of choice, each once; fewer where fewer are unmeasured. The
    same tubes in any order give the same choice.

    Raises: OutOfRange for a count below 0.

    Notes: a tube chosen for the spread is chosen by its place alone, without looking at any wall,
    so its reading is a planned one. A tube beside a thin one is chosen because it may be bad; its
    reading is a suspect one and must not speak for the others.

    >>> row = [
    ...     Tube(key=f"T{n}", pass_=2, row=1, column=n, x_mm=70.0 * n, y_mm=0.0)
    ...     for n in range(1, 8)
    ... ]
    >>> thin = MeasuredTube(tube=row[1], wall_mm=1.9)
    >>> [(each.tube, str(each.purpose)) for each in next_tubes(row[2:], [thin], count=2)]
    [('T7', 'planned'), ('T3', 'suspect')]
    """
    if count < 0:
        raise OutOfRange("count", count, "0 or more")
    left = sorted(unmeasured, key=lambda tube: tube.key)
    taken = [each.tube for each in measured]
    thin = [
        each.tube
        for each in sorted(measured, key=lambda each: (each.wall_mm, each.tube.key))[
            :_THINNEST_LOOKED_AROUND
        ]
    ]
    chosen: list[NextTube] = []
    while left and len(chosen) < count:
        is_around_thin = bool(thin) and len(chosen) % 2 == 1
        # The first of equals by key, because ``max`` keeps the first and the keys are in order.
        best = (
            max(left, key=lambda tube: _nearest_mm(tube, taken) / _nearest_mm(tube, thin) ** 2)
            if is_around_thin
            else max(left, key=lambda tube: _nearest_mm(tube, taken))
            if taken
            else _in_the_middle(left)
        )
        purpose = Purpose.SUSPECT if is_around_thin else Purpose.PLANNED
        chosen.append(NextTube(tube=best.key, purpose=purpose))
        left.remove(best)
        taken.append(best)
    return tuple(chosen)


def _nearest_mm(tube: Tube, others: Sequence[Tube]) -> float:
    """Rounded, so that tubes at the same pitch are equals whatever the last digit says."""
    nearest_mm = min(math.hypot(tube.x_mm - o.x_mm, tube.y_mm - o.y_mm) for o in others)
    return max(_NO_DISTANCE_MM, round(nearest_mm, 6))


def _in_the_middle(tubes: Sequence[Tube]) -> Tube:
    x_mm = math.fsum(tube.x_mm for tube in tubes) / len(tubes)
    y_mm = math.fsum(tube.y_mm for tube in tubes) / len(tubes)
    return min(tubes, key=lambda t: round(math.hypot(t.x_mm - x_mm, t.y_mm - y_mm), 6))
