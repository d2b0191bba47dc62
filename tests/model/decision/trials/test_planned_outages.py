"""In which years planned outages fall: cases by hand."""

import pytest

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


@pytest.mark.parametrize("interval", [0.0, -1.0, float("nan")])
def test_an_interval_that_is_none_is_refused(interval):
    with pytest.raises(OutOfRange, match=f"interval_years is {interval}, but must be above 0"):
        planned_outage_years(years_to_outage=1.0, interval_years=interval, years=5)
