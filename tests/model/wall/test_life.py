"""Rates and remaining life: a thinner wall never lives longer."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import OutOfRange
from model.wall.life import remaining_life_years, thinning_allows_years, wall_life

walls_mm = st.floats(0.5, 6.0)


def test_the_faster_of_the_two_rates_governs() -> None:
    # 8 years: 0.8 mm; the last 2 of them: 0.4 mm.
    life = wall_life(
        first_mm=3.0,
        previous_mm=2.6,
        last_mm=2.2,
        years=8.0,
        years_since_previous=2.0,
        retirement_mm=1.8,
    )
    assert life.long_term_mm_per_year == pytest.approx(0.1)
    assert life.short_term_mm_per_year == pytest.approx(0.2)
    assert life.governing_mm_per_year == life.short_term_mm_per_year
    assert life.remaining_life_years == pytest.approx(2.0)
    assert life.thinning_allows_years == pytest.approx(1.0)
    assert not life.is_scatter


def test_a_slow_last_stretch_does_not_lengthen_life() -> None:
    life = wall_life(
        first_mm=3.0,
        previous_mm=2.2,
        last_mm=2.2,
        years=8.0,
        years_since_previous=2.0,
        retirement_mm=1.8,
    )
    assert life.short_term_mm_per_year == 0.0
    assert life.governing_mm_per_year == life.long_term_mm_per_year


def test_a_wall_that_reads_thicker_is_scatter_and_loses_nothing() -> None:
    life = wall_life(first_mm=2.4, last_mm=2.5, years=4.0, retirement_mm=1.8)
    assert life.long_term_mm_per_year == pytest.approx(-0.025)
    assert life.short_term_mm_per_year is None
    assert life.governing_mm_per_year == 0.0
    assert life.remaining_life_years is None
    assert life.thinning_allows_years == 10.0
    assert life.is_scatter


def test_below_the_retirement_wall_no_life_is_left_at_any_rate() -> None:
    for first_mm in (2.0, 1.5):
        life = wall_life(first_mm=first_mm, last_mm=1.5, years=4.0, retirement_mm=1.8)
        assert (life.remaining_life_years, life.thinning_allows_years) == (0.0, 0.0)


@pytest.mark.parametrize(
    ("remaining", "legal", "allowed"),
    [(30.0, None, 10.0), (8.0, None, 4.0), (8.0, 1.0, 1.0), (None, 2.0, 2.0), (None, None, 10.0)],
)
def test_thinning_allows_the_least_of_half_life_ten_years_and_the_law(
    remaining: float | None, legal: float | None, allowed: float
) -> None:
    assert thinning_allows_years(remaining_years=remaining, legal_years=legal) == allowed


@given(
    first_mm=walls_mm,
    last_mm=walls_mm,
    thinner_mm=st.floats(0.0, 0.5),
    years=st.floats(0.1, 40.0),
    retirement_mm=walls_mm,
)
def test_a_thinner_wall_never_lives_longer(
    first_mm: float, last_mm: float, thinner_mm: float, years: float, retirement_mm: float
) -> None:
    def life_years(wall_mm: float) -> float:
        life = wall_life(
            first_mm=first_mm, last_mm=wall_mm, years=years, retirement_mm=retirement_mm
        )
        remaining = life.remaining_life_years
        return float("inf") if remaining is None else remaining

    assert life_years(last_mm - thinner_mm) <= life_years(last_mm) * (1 + 1e-12)


@given(wall_mm=walls_mm, rate=st.floats(0.001, 2.0), retirement_mm=walls_mm)
def test_the_wall_left_after_the_remaining_life_is_the_retirement_wall(
    wall_mm: float, rate: float, retirement_mm: float
) -> None:
    years = remaining_life_years(
        wall_mm=wall_mm, retirement_mm=retirement_mm, rate_mm_per_year=rate
    )
    assert years is not None
    assert wall_mm - rate * years == pytest.approx(min(wall_mm, retirement_mm))


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"first_mm": -0.1}, "earlier_mm is -0.1, but must be at least 0"),
        ({"last_mm": -0.1}, "later_mm is -0.1, but must be at least 0"),
        ({"years": 0.0}, "years is 0.0, but must be above 0"),
        ({"retirement_mm": -1.0}, "retirement_mm is -1.0, but must be at least 0"),
        ({"years_since_previous": 9.0}, "years_since_previous is 9.0, .* at most 8, the time"),
        ({"years_since_previous": 0.0}, "years_since_previous is 0.0, but must be above 0"),
        ({"legal_years": 0.0}, "legal_years is 0.0, but must be above 0"),
    ],
)
def test_readings_that_cannot_be_are_refused(changed: dict[str, float], words: str) -> None:
    inputs = {
        "first_mm": 3.0,
        "last_mm": 2.5,
        "previous_mm": 2.6,
        "years": 8.0,
        "years_since_previous": 2.0,
        "retirement_mm": 1.8,
        **changed,
    }
    with pytest.raises(OutOfRange, match=words):
        wall_life(**inputs)
