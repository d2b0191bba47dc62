"""Benches and sessions for the tests of the view."""

import pytest

from tests.fieldapp.view.bench import CARRIED, Bench


@pytest.fixture
def make_bench(tmp_path):
    """``make_bench(carried=..., readings=..., settings=...)``"""
    made = []

    def make(**more):
        made.append(Bench(tmp_path, **more))
        return made[-1]

    yield make
    for bench in made:
        bench.store.close()


@pytest.fixture
def bench(make_bench):
    """With a plug, a joint leak and a thinned end carried from last year."""
    return make_bench(carried=CARRIED)


@pytest.fixture
def session(bench):
    return bench.session()
