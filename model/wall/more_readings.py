"""How many more planned readings of a pass would bring the forecast's bound to a useful width.

Not here: the forecast (``forecast``), and which tubes to take (``next_tubes``).
"""

from dataclasses import dataclass
from random import Random
from typing import Final

from model.wall.forecast import NoForecast, WorstForecast, readings_for_width

USEFUL_WIDTH_MM: Final = 0.2
"""Ours: from the most likely thinnest wall to the bound; about twice a usual gauge's error."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MoreReadings:
    """What it takes to bring the bound within a width of the most likely thinnest wall."""

    width_mm: float
    """Wanted."""
    width_now_mm: float | None
    """None without a forecast."""
    more: int | None
    """Further planned readings, about; 0 when the bound is close enough, None when none do."""
    why_not: str | None


def more_readings(
    found: WorstForecast | NoForecast, *, chance: Random, width_mm: float = USEFUL_WIDTH_MM
) -> MoreReadings:
    """How many further planned readings bring the bound of a forecast to a width.

    Source, scope and notes: as ``readings_for_width``.

    Parameters: ``found`` the forecast, or why there is none; ``chance`` generator; ``width_mm``
    wanted distance between the bound and the most likely thinnest wall [mm].

    Returns: ``MoreReadings``; without a number it says why.

    Raises: OutOfRange unless the width is above 0.

    >>> more_readings(NoForecast(reason="Too few."), chance=Random(1)).why_not
    'There is no forecast yet whose bound could be brought closer.'
    """
    if isinstance(found, NoForecast):
        return MoreReadings(
            width_mm=width_mm,
            width_now_mm=None,
            more=None,
            why_not="There is no forecast yet whose bound could be brought closer.",
        )
    in_all = readings_for_width(found, width_mm=width_mm, chance=chance)
    return MoreReadings(
        width_mm=width_mm,
        width_now_mm=found.bound_mm - found.most_likely_worst_mm,
        more=None if in_all is None else in_all - found.sample_size,
        why_not=None
        if in_all is not None
        else "No sample that can be planned does it (up to 500 readings, or all tubes but one): "
        "the worst of many tubes scatters by itself.",
    )
