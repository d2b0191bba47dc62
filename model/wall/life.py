"""How fast a wall is lost, and how long it lasts at that rate: for thinning only.

Not here: which readings are compared (like with like: one end, one place, one life of the tube),
and what wall a tube retires at. Joints and cracks are other hazards and know no rate.
"""

from dataclasses import dataclass
from typing import Final

from model.errors import OutOfRange

LIFE_SOURCE: Final = (
    "API 510, 10th edition, 7.1.1 and 7.2.1 (rates, remaining life), 6.5.1.1 (interval), as copied "
    "at pdfcoffee; the rate with the shorter life: API 570, 7.1.1"
)

LONGEST_INTERVAL_YEARS: Final = 10.0

DAYS_PER_YEAR: Final = 365.25


@dataclass(frozen=True, slots=True, kw_only=True)
class WallLife:
    """Rates and life of one wall.

    The two rates are as measured: below 0 where a wall reads thicker than before, which is scatter.
    ``remaining_life_years`` is None where nothing is lost and the wall is not below retirement.
    """

    long_term_mm_per_year: float
    short_term_mm_per_year: float | None
    """None without a reading between the first and the last."""
    governing_mm_per_year: float
    remaining_life_years: float | None
    thinning_allows_years: float

    @property
    def is_scatter(self) -> bool:
        """Whether a rate came out below zero."""
        short = self.short_term_mm_per_year
        return self.long_term_mm_per_year < 0.0 or (short is not None and short < 0.0)


def loss_rate_mm_per_year(*, earlier_mm: float, later_mm: float, years: float) -> float:
    """Wall lost per year between two readings of one place.

    Source: ``LIFE_SOURCE``. Equation: (t_earlier - t_later) / years.

    Parameters: the two walls [mm] and the time between them [year].

    Returns: rate [mm/year]; below 0 where the later wall reads thicker.

    Raises: OutOfRange unless both walls are at least 0 and the time above 0.

    >>> loss_rate_mm_per_year(earlier_mm=3.0, later_mm=2.0, years=4.0)
    0.25
    """
    for name, value in (("earlier_mm", earlier_mm), ("later_mm", later_mm)):
        if not value >= 0.0:
            raise OutOfRange(name, value, "at least 0")
    if not years > 0.0:
        raise OutOfRange("years", years, "above 0")
    return (earlier_mm - later_mm) / years


def remaining_life_years(
    *, wall_mm: float, retirement_mm: float, rate_mm_per_year: float
) -> float | None:
    """Years until a wall reaches its retirement wall at a rate; None where nothing is lost.

    Source: ``LIFE_SOURCE``. Equation: (t - t_retirement) / rate.

    Parameters: ``wall_mm`` t [mm]; ``retirement_mm`` [mm]; ``rate_mm_per_year`` [mm/year].

    Returns: [year]; 0 where the wall is below retirement already, at any rate.

    Raises: OutOfRange unless no value is below 0.

    >>> remaining_life_years(wall_mm=2.4, retirement_mm=1.9, rate_mm_per_year=0.125)
    4.0
    """
    given = {
        "wall_mm": wall_mm,
        "retirement_mm": retirement_mm,
        "rate_mm_per_year": rate_mm_per_year,
    }
    for name, value in given.items():
        if not value >= 0.0:
            raise OutOfRange(name, value, "at least 0")
    if wall_mm < retirement_mm:
        return 0.0
    if rate_mm_per_year == 0.0:
        return None
    return (wall_mm - retirement_mm) / rate_mm_per_year


def thinning_allows_years(
    *, remaining_years: float | None, legal_years: float | None = None
) -> float:
    """How long thinning alone would let a tube go until it is measured again.

    Source: ``LIFE_SOURCE``. Equation: the least of half the remaining life, 10 years, and the legal
    interval where there is one.

    Parameters: ``remaining_years`` [year], None where nothing is lost; ``legal_years`` [year].

    Returns: [year].

    Raises: OutOfRange for a legal interval that is not above 0.

    Notes: laws on boilers override it; it is an engineering figure.

    >>> thinning_allows_years(remaining_years=9.0)
    4.5
    >>> thinning_allows_years(remaining_years=9.0, legal_years=1.0)
    1.0
    """
    if legal_years is not None and not legal_years > 0.0:
        raise OutOfRange("legal_years", legal_years, "above 0")
    limits = [LONGEST_INTERVAL_YEARS]
    if remaining_years is not None:
        limits.append(remaining_years / 2.0)
    if legal_years is not None:
        limits.append(legal_years)
    return min(limits)


def wall_life(
    *,
    first_mm: float,
    last_mm: float,
    years: float,
    retirement_mm: float,
    previous_mm: float | None = None,
    years_since_previous: float | None = None,
    legal_years: float | None = None,
) -> WallLife:
    """Rates, remaining life and what thinning allows, from two or three readings of one place.

    Source: ``LIFE_SOURCE``.

    Scope: one place of one tube that loses wall evenly; not pits that start somewhere else.

    Equation: long term over all the time, short term since the previous reading; the larger of the
    two governs, and never less than 0.

    Parameters: ``first_mm``, ``previous_mm``, ``last_mm`` walls in order of time [mm]; ``years``
    from first to last, ``years_since_previous`` from previous to last [year]; ``retirement_mm``
    [mm]; ``legal_years`` legal interval [year].

    Returns: ``WallLife``.

    Raises: OutOfRange as the three functions above, and unless the previous reading lies between
    the first and the last.

    Notes: the first *reading* is what counts, not the nominal wall: new tubes ordered by their
    minimum may measure a fifth over nominal.

    >>> life = wall_life(first_mm=3.0, last_mm=2.5, years=5.0, retirement_mm=2.0)
    >>> (life.governing_mm_per_year, life.remaining_life_years, life.thinning_allows_years)
    (0.1, 5.0, 2.5)
    """
    long_term = loss_rate_mm_per_year(earlier_mm=first_mm, later_mm=last_mm, years=years)
    short_term = None
    if previous_mm is not None and years_since_previous is not None:
        if not 0.0 < years_since_previous <= years:
            limit = f"above 0 and at most {years:g}, the time since the first reading"
            raise OutOfRange("years_since_previous", years_since_previous, limit)
        short_term = loss_rate_mm_per_year(
            earlier_mm=previous_mm, later_mm=last_mm, years=years_since_previous
        )
    governing = max(0.0, long_term, long_term if short_term is None else short_term)
    remaining = remaining_life_years(
        wall_mm=last_mm, retirement_mm=retirement_mm, rate_mm_per_year=governing
    )
    return WallLife(
        long_term_mm_per_year=long_term,
        short_term_mm_per_year=short_term,
        governing_mm_per_year=governing,
        remaining_life_years=remaining,
        thinning_allows_years=thinning_allows_years(
            remaining_years=remaining, legal_years=legal_years
        ),
    )
