"""The law of greatest losses against scipy, and what its figures mean."""

import math
import random

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.stats import gumbel_r

from model.errors import OutOfRange
from model.wall.gumbel import (
    GumbelFit,
    chance_above,
    fit_gumbel,
    level_that_all_stay_under,
    worst_of,
)

samples = st.lists(st.floats(-1.0, 5.0).map(lambda x: round(x, 3)), min_size=3, max_size=40)
fits = st.builds(GumbelFit, mu=st.floats(-2.0, 3.0), sigma=st.floats(0.01, 2.0))


def _log_likelihood(fit: GumbelFit, losses: list[float]) -> float:
    return float(gumbel_r.logpdf(losses, loc=fit.mu, scale=fit.sigma).sum())


@given(losses=samples)
def test_no_fit_of_scipy_is_more_likely(losses: list[float]) -> None:
    assume(len(set(losses)) > 2)
    ours = fit_gumbel(losses)
    place, spread = gumbel_r.fit(losses)
    theirs = GumbelFit(mu=float(place), sigma=float(spread))
    assert _log_likelihood(ours, losses) >= _log_likelihood(theirs, losses) - 1e-9


@given(seed=st.integers(0, 10_000), size=st.integers(5, 60))
def test_on_samples_of_the_law_scipy_finds_the_same_numbers(seed: int, size: int) -> None:
    chance = random.Random(seed)
    losses = [0.5 - 0.2 * math.log(-math.log(chance.random())) for _ in range(size)]
    ours = fit_gumbel(losses)
    place, spread = gumbel_r.fit(losses)
    assert ours.mu == pytest.approx(float(place), rel=1e-5, abs=1e-6)
    assert ours.sigma == pytest.approx(float(spread), rel=1e-5)


@given(losses=samples, shift=st.floats(-10.0, 10.0), factor=st.floats(0.01, 100.0))
def test_another_unit_or_zero_moves_the_fit_alike(
    losses: list[float], shift: float, factor: float
) -> None:
    assume(len(set(losses)) > 1)
    plain = fit_gumbel(losses)
    moved = fit_gumbel([shift + factor * loss for loss in losses])
    assert moved.sigma == pytest.approx(factor * plain.sigma, rel=1e-6)
    assert moved.mu == pytest.approx(
        shift + factor * plain.mu, rel=1e-6, abs=1e-6 * moved.sigma + 1e-9
    )


@given(fit=fits, tubes=st.integers(1, 5000), probability=st.floats(0.01, 0.99))
def test_all_stay_under_the_level_with_that_probability(
    fit: GumbelFit, tubes: int, probability: float
) -> None:
    level = level_that_all_stay_under(fit, tubes, probability)
    one_stays_under = float(gumbel_r.cdf(level, loc=fit.mu, scale=fit.sigma))
    assert one_stays_under**tubes == pytest.approx(probability, rel=1e-6)
    assert chance_above(fit, level) == pytest.approx(
        float(gumbel_r.sf(level, loc=fit.mu, scale=fit.sigma)), rel=1e-6
    )


@given(fit=fits, tubes=st.integers(1, 5000))
def test_more_tubes_never_have_a_milder_worst(fit: GumbelFit, tubes: int) -> None:
    assert worst_of(fit, tubes + 1) > worst_of(fit, tubes)
    assert level_that_all_stay_under(fit, tubes, 0.95) > worst_of(fit, tubes)


@pytest.mark.parametrize("losses", [[1e-12, 2e-12, 4e-12], [1e12, 2e12, 4e12], [0, 0, 0, 1e-3]])
def test_very_small_and_large_numbers_fit_too(losses: list[float]) -> None:
    fit = fit_gumbel(losses)
    assert min(losses) <= fit.mu <= max(losses)
    assert 0.0 < fit.sigma < max(losses) - min(losses)


@pytest.mark.parametrize(
    ("losses", "words"),
    [
        ([], "losses is empty, but must be at least two different numbers"),
        ([0.3], "losses is 0.3, but must be at least two different numbers"),
        ([0.3, 0.3], "losses is 0.3, 0.3, but must be at least two different numbers"),
        ([0.3, math.inf], "losses is 0.3, inf, but must be finite numbers"),
        ([0.3, math.nan], "losses is 0.3, nan, but must be finite numbers"),
    ],
)
def test_samples_that_fix_no_law_are_refused(losses: list[float], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        fit_gumbel(losses)


def test_levels_of_no_tube_or_no_probability_are_refused() -> None:
    fit = GumbelFit(mu=0.0, sigma=1.0)
    with pytest.raises(OutOfRange, match="tubes is 0, but must be at least 1"):
        worst_of(fit, 0)
    with pytest.raises(OutOfRange, match=r"probability is 1\.0, but must be above 0 and below 1"):
        level_that_all_stay_under(fit, 10, 1.0)
