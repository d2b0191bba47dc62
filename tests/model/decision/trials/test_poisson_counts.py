"""Poisson counts by inversion, against another library."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import poisson

from model.decision.trials.poisson_counts import LARGE_MEAN, poisson_counts

UNIFORMS = st.floats(1e-12, 1.0 - 1e-12)
MEANS = st.one_of(
    st.floats(0.0, 1.0), st.floats(0.0, 60.0), st.floats(LARGE_MEAN - 5, LARGE_MEAN + 5),
    st.floats(0.0, 5000.0),
)  # fmt: skip


@given(cases=st.lists(st.tuples(UNIFORMS, MEANS), min_size=1, max_size=30))
def test_another_library_finds_the_same_counts(cases):
    uniforms, means = np.array(cases).T
    found = poisson_counts(uniforms, means)
    # At the boundary between two counts rounding decides.
    rounding = np.minimum(1e-9 * uniforms, 1e-11)
    assert (poisson.cdf(found, means) >= uniforms - rounding).all()
    assert (poisson.cdf(found - 1, means) < uniforms + rounding).all()


@pytest.mark.parametrize("mean", [0.0, 1e-9, 0.5, 20.0, 199.0, 201.0, 999.0, 5000.0, 80_000.0])
def test_the_search_ends_however_near_to_one_the_chance_is(mean):
    uniforms = np.array([1e-12, 0.5, 1.0 - 1e-12, np.nextafter(1.0, 0.0)])
    counts = poisson_counts(uniforms, np.full(4, mean))
    assert (np.diff(counts) >= 0.0).all()
    assert counts[-1] <= mean + 10 * np.sqrt(mean) + 61


def test_many_at_once_are_the_same_as_in_small_lots():
    chance = np.random.default_rng(4)
    uniforms, means = chance.random(5000), chance.gamma(2.0, 4.0, size=5000)
    whole = poisson_counts(uniforms, means)
    lots = [
        poisson_counts(uniforms[part : part + 100], means[part : part + 100])
        for part in range(0, 5000, 100)
    ]
    assert np.array_equal(whole, np.concatenate(lots))
    assert np.array_equal(whole, poisson.ppf(uniforms, means))


def test_where_more_is_expected_the_same_chance_gives_no_less():
    chance = np.random.default_rng(5)
    uniforms = np.repeat(chance.random(200), 300)
    means = np.tile(np.linspace(0.0, 150.0, 300), 200)
    counts = poisson_counts(uniforms, means).reshape(200, 300)
    assert (np.diff(counts, axis=1) >= 0.0).all()


def test_nothing_expected_gives_nothing():
    assert poisson_counts(np.array([1.0 - 1e-12, 0.5]), np.zeros(2)).tolist() == [0.0, 0.0]


@pytest.mark.parametrize("mean", [0.4, 6.0, 400.0])
def test_mean_and_spread_are_those_of_the_law(mean):
    uniforms = (np.arange(100_000) + 0.5) / 100_000
    counts = poisson_counts(uniforms, np.full(100_000, mean))
    assert counts.mean() == pytest.approx(mean, rel=1e-3)
    assert counts.var() == pytest.approx(mean, rel=1e-2)
