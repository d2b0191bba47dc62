"""Growth of leaks: the closed form, its limits, and the chi-square law of its shape."""

import math
import random

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.stats import chi2

from model.errors import OutOfRange
from model.wall.leak_process import (
    LeakGrowth,
    beta_bounds,
    expected_leaks,
    fit_leak_growth,
    upper_bound_of_mean,
)

years = st.lists(st.floats(0.05, 29.0), min_size=1, max_size=40)


@given(leak_years=years, ahead=st.floats(0.0, 20.0))
def test_the_expected_number_is_that_of_the_written_equation(
    leak_years: list[float], ahead: float
) -> None:
    growth = fit_leak_growth(leak_years=leak_years, until_years=30.0)
    written = growth.scale * ((30.0 + ahead) ** growth.beta - 30.0**growth.beta)
    assert expected_leaks(growth, ahead_years=ahead) == pytest.approx(written, rel=1e-6, abs=1e-9)
    assert growth.scale * 30.0**growth.beta == pytest.approx(len(leak_years))


@given(leak_years=years, step=st.floats(0.001, 1.0))
def test_no_other_shape_is_more_likely(leak_years: list[float], step: float) -> None:
    growth = fit_leak_growth(leak_years=leak_years, until_years=30.0)

    def log_likelihood(beta: float) -> float:
        # With the scale at its best for the shape, the expected number is the number seen.
        return math.fsum(math.log(beta) + (beta - 1.0) * math.log(t / 30.0) for t in leak_years)

    assert log_likelihood(growth.beta) >= log_likelihood(growth.beta * (1 + step))
    assert log_likelihood(growth.beta) >= log_likelihood(growth.beta / (1 + step))


def test_evenly_spaced_leaks_hardly_grow_and_late_ones_do() -> None:
    even = fit_leak_growth(leak_years=[float(year) for year in range(1, 30)], until_years=30.0)
    assert even.beta == pytest.approx(1.0, abs=0.1)
    late = fit_leak_growth(leak_years=[26.0, 27.0, 28.0, 29.0], until_years=30.0)
    assert late.beta > 5.0
    assert expected_leaks(late, ahead_years=1.0) > expected_leaks(even, ahead_years=1.0) / 29 * 4


@given(leaks=st.integers(1, 300), confidence=st.floats(0.5, 0.99))
def test_bounds_are_those_of_the_chi_square_law(leaks: int, confidence: float) -> None:
    growth = LeakGrowth(beta=1.7, scale=1.0, leaks=leaks, until_years=10.0)
    low, high = beta_bounds(growth, confidence=confidence)
    tail = (1 - confidence) / 2
    assert low == pytest.approx(1.7 * chi2.ppf(tail, 2 * leaks) / (2 * leaks), rel=1e-9)
    assert high == pytest.approx(1.7 * chi2.ppf(1 - tail, 2 * leaks) / (2 * leaks), rel=1e-9)


@given(leaks=st.integers(0, 50), confidence=st.floats(0.5, 0.99))
def test_the_bound_of_few_leaks_is_the_exact_poisson_bound(leaks: int, confidence: float) -> None:
    bound = upper_bound_of_mean(leaks=leaks, confidence=confidence)
    assert bound == pytest.approx(chi2.ppf(confidence, 2 * leaks + 2) / 2, rel=1e-9)


def test_the_bounds_hold_as_often_as_they_say() -> None:
    # 1,000 invented boilers whose leaks follow the law with shape 2; three standard errors of 90 %.
    chance = random.Random(20261125)
    held = 0
    for _ in range(1000):
        arrivals, total = [], 0.0
        while (total := total - math.log(1.0 - chance.random())) < 12.0:
            arrivals.append(20.0 * (total / 12.0) ** 0.5)
        if arrivals:
            growth = fit_leak_growth(leak_years=arrivals, until_years=20.0)
            low, high = beta_bounds(growth, confidence=0.9)
            held += low <= 2.0 <= high
    assert 871 <= held <= 929


@given(leak_years=years, sooner=st.floats(0.1, 0.99))
def test_earlier_leaks_mean_less_growth(leak_years: list[float], sooner: float) -> None:
    assume(min(leak_years) * sooner > 0.01)
    now = fit_leak_growth(leak_years=leak_years, until_years=30.0)
    earlier = fit_leak_growth(leak_years=[sooner * t for t in leak_years], until_years=30.0)
    assert earlier.beta < now.beta


@pytest.mark.parametrize(
    ("leak_years", "until", "words"),
    [
        ([], 5.0, "leak_years is empty, but must be the time of at least one leak"),
        ([1.0, 6.0], 5.0, "leak_years is 6.0, but must be .* at most the end of the history, 5"),
        ([0.0], 5.0, "leak_years is 0.0, but must be above 0"),
        ([1.0], 0.0, "until_years is 0.0, but must be above 0"),
        ([5.0, 5.0], 5.0, "leak_years is 5.0, but must be before the end"),
    ],
)
def test_histories_that_cannot_be_are_refused(
    leak_years: list[float], until: float, words: str
) -> None:
    with pytest.raises(OutOfRange, match=words):
        fit_leak_growth(leak_years=leak_years, until_years=until)


def test_looking_back_and_confidence_beyond_one_are_refused() -> None:
    growth = LeakGrowth(beta=1.0, scale=1.0, leaks=3, until_years=3.0)
    with pytest.raises(OutOfRange, match=r"ahead_years is -1\.0, but must be at least 0"):
        expected_leaks(growth, ahead_years=-1.0)
    with pytest.raises(OutOfRange, match=r"confidence is 1\.0"):
        beta_bounds(growth, confidence=1.0)
    with pytest.raises(OutOfRange, match="leaks is -1"):
        upper_bound_of_mean(leaks=-1, confidence=0.9)


@pytest.mark.parametrize("until_years", [40.0, 0.5])
def test_leaks_that_all_came_at_the_end_are_refused_and_no_crash(until_years: float) -> None:
    """The history's length to the power of the shape is too large for a number, or too small."""
    with pytest.raises(OutOfRange, match="so near the end of the history"):
        fit_leak_growth(leak_years=[until_years * (1 - 1e-9)], until_years=until_years)


def test_more_leaks_than_can_be_counted_are_refused() -> None:
    growth = LeakGrowth(beta=2000.0, scale=1.0, leaks=1, until_years=1.0)
    with pytest.raises(OutOfRange, match="beyond counting"):
        expected_leaks(growth, ahead_years=1.0)
