"""The year in which walls come to the retirement wall: measured tubes, and shares of the others.

Not here: the forecast itself (``tests/model/wall/test_below_ahead``).
"""

import pytest

from model.decision.from_record.walls_due import walls_due
from model.wall.below_ahead import BelowAhead
from model.wall.tube_life import TubeLife
from tests.model.condition.small_boiler import SmallBoiler
from tests.model.decision.recorded import holes

NOBODY = BelowAhead(holes=frozenset(), not_alike=0, expected=(0.0,) * 6, why_short=None)


def lasting(years):
    return TubeLife(
        wall_mm=2.0,
        long_term_mm_per_year=None,
        short_term_mm_per_year=None,
        governing_mm_per_year=None,
        since=None,
        remaining_life_years=years,
        thinning_allows_years=None,
    )


def due(lives=(), *, weak=(), out=(), below=NOBODY, years=5):
    tubes = list(SmallBoiler({2: 10}).tubes().values())
    lives = {hole: lasting(years) for key, years in dict(lives).items() for hole in holes(key)}
    found = walls_due(
        tubes, weak=holes(*weak), out=holes(*out), lives=lives, below=below, years=years
    )
    return found.weak, found.other


@pytest.mark.parametrize(
    ("lasts_years", "year"),
    [(0.0, 1), (0.2, 1), (1.0, 1), (1.01, 2), (3.0000000001, 3), (5.0, 5), (5.1, None)],
)
def test_a_measured_tube_is_due_in_the_year_in_which_its_life_ends(lasts_years, year):
    weak, other = due({"2.1": lasts_years}, weak=["2.1"])
    assert weak == tuple(float(number == year) for number in range(1, 6))
    assert other == (0.0,) * 5


def test_tubes_that_lose_nothing_and_tubes_out_of_service_are_never_due():
    assert due({"2.1": None, "2.2": 0.5}, out=["2.2"]) == ((0.0,) * 5, (0.0,) * 5)


def below(*expected, keys=("2.1", "2.2", "2.3", "2.4")):
    return BelowAhead(holes=holes(*keys), not_alike=0, expected=expected, why_short=None)


def test_unmeasured_tubes_are_due_as_they_come_those_there_already_in_the_first_year():
    _, other = due(below=below(0.2, 0.3, 0.5, 1.0, 1.0, 1.5))
    assert other == pytest.approx((0.3, 0.2, 0.5, 0.0, 0.5))


def test_where_only_now_is_known_only_the_first_year_is():
    assert due(below=below(0.2))[1] == pytest.approx((0.2, 0.0, 0.0, 0.0, 0.0))
    assert due(below=below())[1] == (0.0,) * 5


def test_they_fall_on_weak_and_other_tubes_by_number_and_those_of_bad_ones_are_gone():
    weak, other = due(below=below(0.0, 0.4), weak=["2.1", "2.9"], out=["2.2"])
    assert (weak[0], other[0]) == (pytest.approx(0.1), pytest.approx(0.2))


def test_measured_and_unmeasured_tubes_add_up():
    _, other = due({"2.9": 1.5}, below=below(0.1, 0.2, 0.4, 0.4, 0.4, 0.4))
    assert other == pytest.approx((0.2, 1.2, 0.0, 0.0, 0.0))


def test_nothing_is_due_in_no_years():
    assert due({"2.1": 0.0}, below=below(0.2), years=0) == ((), ())
