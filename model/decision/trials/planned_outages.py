"""In which years planned outages fall.

Not here: what is done in them (``trials``), nor the work of this outage.
"""

import math
from typing import Final

from model.errors import OutOfRange

A_FEW_DAYS: Final = 0.02
"""Years (a week): an outage so little into a year counts with the year before, so that one stated
as "this day next year" falls in year 1 in leap years too. Ours."""

YEARS_WITHOUT_RETUBE: Final = 2
"""At the end of the horizon: nobody retubes for so short a use. Ours."""


def planned_outage_years(
    *, years_to_outage: float | None, interval_years: float, years: int
) -> tuple[int, ...]:
    """The years 1 to ``years``, counted from the inspection, that end with a planned outage.

    The first comes ``years_to_outage`` after the inspection (None: one interval after it), the
    others an interval apart. An outage within a year stands at that year's end; one that is due
    already stands in year 1; several within a year are one. An interval of at most a year therefore
    takes every year from the first outage on, however short it is.

    Raises: OutOfRange unless the interval is above 0.

    >>> planned_outage_years(years_to_outage=0.5, interval_years=2.0, years=6)
    (1, 3, 5)
    """
    if not interval_years > 0.0:
        raise OutOfRange("interval_years", interval_years, "above 0")
    first = interval_years if years_to_outage is None else years_to_outage
    if interval_years <= 1.0:
        return tuple(range(_year_of(first), years + 1))
    found: set[int] = set()
    for number in range(_most(first, interval_years, years)):
        year = _year_of(first + number * interval_years)
        if year <= years:
            found.add(year)
    return tuple(sorted(found))


def _year_of(at: float) -> int:
    return max(1, math.ceil(at - A_FEW_DAYS))


def _most(first: float, interval_years: float, years: int) -> int:
    """As many outages as can begin within the years."""
    return max(0, math.floor((years + 1 - min(first, 0.0)) / interval_years)) + 1
