"""How many tubes of a pass come to the retirement wall in each coming year.

Measured tubes by their own rate, tubes alike that nobody measured by the forecast of the pass. Not
here: rates (``tube_life``), the forecast (``below_ahead``), leaks (``leak_risk``).
"""

import math
from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass
from itertools import pairwise

from model.condition.tubes import TubeCondition
from model.wall.below_ahead import BelowAhead
from model.wall.tube_life import TubeLife


@dataclass(frozen=True, slots=True, kw_only=True)
class WallsDue:
    """Tubes in service, not bad, expected to come to the retirement wall in year 1, 2, 3 ..."""

    weak: tuple[float, ...]
    other: tuple[float, ...]


def walls_due(
    tubes: Sequence[TubeCondition],
    *,
    weak: Set[str],
    out: Set[str],
    lives: Mapping[str, TubeLife],
    below: BelowAhead,
    years: int,
) -> WallsDue:
    """Weak and other tubes of a pass by the year in which their wall comes to the retirement wall.

    A tube that is there already, known or expected, is due in year 1. Of the unmeasured tubes the
    forecast tells how many, not which: they fall on weak and other ones as these are many.

    Parameters: ``weak``, ``out`` (plugged or bad) holes of the pass; ``lives`` of measured tubes;
    ``below`` the unmeasured tubes ahead; ``years`` how far to go.
    """
    due = {True: [0.0] * years, False: [0.0] * years}
    in_service = [each.hole for each in tubes if each.hole not in out]
    for hole in in_service:
        year = _year_due(lives.get(hole))
        if year is not None and year <= years:
            due[hole in weak][year - 1] += 1.0
    # What is expected of a bad tube is dealt with in this outage.
    spoken_for = [hole for hole in in_service if hole in below.holes]
    by_year = (below.expected[1:] or below.expected)[:years]
    for is_weak, of_years in due.items():
        share = sum((hole in weak) is is_weak for hole in spoken_for) / max(1, len(below.holes))
        for year, (before, after) in enumerate(pairwise((0.0, *by_year))):
            of_years[year] += share * (after - before)
    return WallsDue(weak=tuple(due[True]), other=tuple(due[False]))


def _year_due(life: TubeLife | None) -> int | None:
    if life is None or life.remaining_life_years is None:
        return None
    # A life of three years is due in year 3, whatever the last decimal says.
    return max(1, math.ceil(life.remaining_life_years - 1e-9))
