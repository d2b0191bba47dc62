"""In which years planned outages fall: cases by hand, and outage by outage."""

import math

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from model.decision.trials.planned_outages import planned_outage_years
from model.errors import OutOfRange


@pytest.mark.parametrize(
    ("first", "interval", "years", "expected"),
    [
        (1.0, 1.0, 4, (1, 2, 3, 4)),
        (None, 2.0, 5, (2, 4)),  # the first comes after one interval
        (0.3, 2.0, 6, (1, 3, 5)),  # within a year: at that year's end
        (1.2, 2.0, 6, (2, 4, 6)),
        (0.0, 3.0, 7, (1, 3, 6)),  # due already: in the first year
        (-0.5, 1.0, 3, (1, 2, 3)),
        (-7.2, 5.0, 9, (1, 3, 8)),  # missed long ago: the next ones keep their days
        (0.5, 0.25, 2, (1, 2)),  # several within a year are one
        (366 / 365.25, 1.0, 3, (1, 2, 3)),  # this day next year, in a leap year
        (1.1, 1.0, 3, (2, 3)),
        (9.0, 1.0, 8, ()),  # after the horizon
        (None, 1.0, 0, ()),
    ],
)
def test_outages_fall_into_these_years(first, interval, years, expected):
    found = planned_outage_years(years_to_outage=first, interval_years=interval, years=years)
    assert found == expected


def outage_by_outage(first, interval, years):
    """The days of all outages one after the other, each with the year in which it counts."""
    at, found = interval if first is None else first, set()
    number = 0
    while at + number * interval <= years + 1:
        found.add(max(1, math.ceil(at + number * interval - 0.02)))
        number += 1
    return tuple(sorted(year for year in found if year <= years))


@given(
    first=st.none() | st.floats(-6.0, 30.0),
    interval=st.floats(0.05, 5.0) | st.just(1.0),
    years=st.integers(0, 40),
)
@example(first=0.7, interval=math.nextafter(1.0, 2.0), years=30)
def test_the_years_are_those_of_every_outage_one_after_the_other(first, interval, years):
    # A year apart and to the last digit a week into the year: rounding may lose this sum a year.
    into_year = ((interval if first is None else first) - 0.02) % 1.0
    assume(1e-9 < into_year < 1.0 - 1e-9)
    found = planned_outage_years(years_to_outage=first, interval_years=interval, years=years)
    assert found == outage_by_outage(first, interval, years)


@pytest.mark.parametrize("interval", [1e-5, 1e-12, 1e-300])
def test_an_interval_however_short_takes_every_year_from_the_first_outage_on_at_once(interval):
    def years(first):
        return planned_outage_years(years_to_outage=first, interval_years=interval, years=6)

    assert years(2.5) == (3, 4, 5, 6)
    assert years(None) == years(-40.0) == (1, 2, 3, 4, 5, 6)
    assert years(9.0) == ()


@pytest.mark.parametrize("interval", [0.0, -1.0, float("nan")])
def test_an_interval_that_is_none_is_refused(interval):
    with pytest.raises(OutOfRange, match=f"interval_years is {interval}, but must be above 0"):
        planned_outage_years(years_to_outage=1.0, interval_years=interval, years=5)
