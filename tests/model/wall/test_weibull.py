"""Weibull's law against lifelines, and data that leave its shape open."""

import math
import random
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from lifelines import WeibullFitter

from model.errors import ModelError, OutOfRange
from model.wall.weibull import FailedBetween, fit_weibull

times = st.floats(0.1, 40.0).map(lambda time: round(time, 2))


def _lifetimes(seed: int, size: int, beta: float) -> list[float]:
    chance = random.Random(seed)
    return [20.0 * (-math.log(1.0 - chance.random())) ** (1.0 / beta) for _ in range(size)]


# lifelines takes a third of a second for a fit.
@settings(max_examples=15)
@given(seed=st.integers(0, 10_000), size=st.integers(8, 60), beta=st.floats(0.7, 4.0))
def test_lifelines_fits_failed_and_running_tubes_the_same(
    seed: int, size: int, beta: float
) -> None:
    lives = _lifetimes(seed, size, beta)
    failures = [life for life in lives if life < 18.0]
    running = [18.0] * (size - len(failures))
    assume(len(failures) >= 3)
    ours = fit_weibull(failures=failures, running=running)
    judge = WeibullFitter().fit(failures + running, [1] * len(failures) + [0] * len(running))
    assert ours.log_likelihood >= judge.log_likelihood_ - 1e-9
    assert ours.log_likelihood == pytest.approx(judge.log_likelihood_, abs=1e-6)
    assert ours.eta == pytest.approx(judge.lambda_, rel=1e-3)
    assert ours.beta == pytest.approx(judge.rho_, rel=1e-3)


@settings(max_examples=10)
@given(seed=st.integers(0, 10_000), size=st.integers(20, 80), beta=st.floats(1.0, 3.0))
def test_lifelines_fits_tubes_that_failed_between_looks_the_same(
    seed: int, size: int, beta: float
) -> None:
    looks = [0.0, 6.0, 12.0, 18.0, 24.0]
    lives = _lifetimes(seed, size, beta)
    intervals = [
        FailedBetween(after=after, until=until, count=count)
        for after, until in pairwise(looks)
        if (count := sum(after < life <= until for life in lives))
    ]
    running = [looks[-1]] * sum(life > looks[-1] for life in lives)
    assume(len(intervals) >= 2)
    ours = fit_weibull(running=running, intervals=intervals)
    after = [each.after for each in intervals for _ in range(each.count)] + running
    until = [each.until for each in intervals for _ in range(each.count)]
    judge = WeibullFitter().fit_interval_censoring(after, until + [math.inf] * len(running))
    assert ours.log_likelihood >= judge.log_likelihood_ - 1e-6
    assert ours.eta == pytest.approx(judge.lambda_, rel=2e-3)
    assert ours.beta == pytest.approx(judge.rho_, rel=2e-3)


@given(
    failures=st.lists(times, min_size=2, max_size=20),
    running=st.lists(times, max_size=20),
    factor=st.floats(0.001, 1000.0),
)
def test_another_unit_of_time_scales_eta_alone(
    failures: list[float], running: list[float], factor: float
) -> None:
    assume(len(set(failures)) > 1)
    years = fit_weibull(failures=failures, running=running)
    other = fit_weibull(
        failures=[factor * time for time in failures], running=[factor * time for time in running]
    )
    assert other.beta == pytest.approx(years.beta, rel=1e-6)
    assert other.eta == pytest.approx(factor * years.eta, rel=1e-6)


@given(failures=st.lists(times, min_size=2, max_size=20), running=st.lists(times, max_size=20))
def test_the_fit_meets_the_equation_of_its_own_maximum(
    failures: list[float], running: list[float]
) -> None:
    assume(len(set(failures)) > 1)
    fit = fit_weibull(failures=failures, running=running)
    # With right-censored data eta^beta is the mean of t^beta over the failures.
    total = math.fsum((time / fit.eta) ** fit.beta for time in failures + running)
    assert total == pytest.approx(len(failures), rel=1e-6)


def test_a_narrow_interval_is_as_good_as_a_date() -> None:
    failures = [1.2, 2.5, 3.1, 4.0, 5.6]
    exact = fit_weibull(failures=failures, running=[6.0] * 5)
    narrow = fit_weibull(
        running=[6.0] * 5,
        intervals=[FailedBetween(after=time - 1e-4, until=time + 1e-4) for time in failures],
    )
    assert narrow.beta == pytest.approx(exact.beta, rel=1e-5)
    assert narrow.eta == pytest.approx(exact.eta, rel=1e-5)


def test_counted_tubes_are_as_many_tubes() -> None:
    one_by_one = fit_weibull(
        running=[3.0] * 4,
        intervals=[FailedBetween(after=1.0, until=2.0)] * 3
        + [FailedBetween(after=0.0, until=1.0)] * 2,
    )
    counted = fit_weibull(
        running=[3.0] * 4,
        intervals=[
            FailedBetween(after=0.0, until=1.0, count=2),
            FailedBetween(after=1.0, until=2.0, count=3),
        ],
    )
    assert counted.beta == pytest.approx(one_by_one.beta)
    assert counted.log_likelihood == pytest.approx(one_by_one.log_likelihood)


@given(failures=st.lists(times, min_size=2, max_size=20), longer=st.floats(1.0, 3.0))
def test_tubes_that_run_on_never_shorten_the_expected_life(
    failures: list[float], longer: float
) -> None:
    assume(len(set(failures)) > 1)
    latest = max(failures)
    shorter = fit_weibull(failures=failures, running=[latest] * 3)
    later = fit_weibull(failures=failures, running=[latest * longer] * 3)
    assert later.eta >= shorter.eta * (1 - 1e-9)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({}, "needs at least one failure, and no failure is given"),
        ({"running": [3.0]}, "needs at least one failure"),
        ({"failures": [5.0]}, r"could all have failed at one moment \(5\)"),
        ({"failures": [5.0, 5.0]}, r"could all have failed at one moment \(5\)"),
        ({"failures": [5.0], "running": [3.0]}, r"could all have failed at one moment \(5\)"),
        (
            {"intervals": [FailedBetween(after=1.0, until=3.0, count=9)], "running": [1.0]},
            r"could all have failed at one moment \(3\)",
        ),
        (
            {"intervals": [FailedBetween(after=0.0, until=1.0, count=4)], "running": [9.0] * 90},
            "leave the shape beta open",
        ),
    ],
)
def test_data_that_leave_the_shape_open_are_refused(data: dict[str, object], words: str) -> None:
    with pytest.raises(ModelError, match=words):
        fit_weibull(**data)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        ({"failures": [0.0, 1.0]}, "failures is 0.0, but must be above 0"),
        ({"failures": [1.0, 2.0], "running": [-1.0]}, "running is -1.0, but must be above 0"),
        ({"failures": [1.0, math.inf]}, "failures is inf, but must be above 0"),
        (
            {"intervals": [FailedBetween(after=2.0, until=1.0)]},
            "intervals is 2:1x1, but must be from at least 0 to a later time",
        ),
        (
            {"intervals": [FailedBetween(after=1.0, until=2.0, count=0)]},
            "intervals is 1:2x0, but must be of at least 1 tube",
        ),
    ],
)
def test_times_that_cannot_be_are_refused(data: dict[str, object], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        fit_weibull(**data)


def test_times_that_are_far_apart_are_fitted_without_running_out_of_numbers() -> None:
    fit = fit_weibull(failures=[1e-300, 1e300], running=[1.0])
    assert 0.001 < fit.beta < 0.01
    assert math.isfinite(fit.eta)
