"""What knowing an uncertain thing is worth, against cases with an answer on paper."""

import numpy as np
import pytest

from model.decision.choosing.worth_of_knowing import ends_of, worth_of_knowing

_TRIALS = 20_000


def test_a_thing_that_flips_the_choice_is_worth_what_paper_says() -> None:
    """One option costs 0, the other u - 1/2 with u uniform: who knows u saves 1/8 on average."""
    chance = np.random.default_rng(1)
    u = chance.random(_TRIALS)
    costs = np.stack([np.zeros(_TRIALS), u - 0.5])

    worth = worth_of_knowing(costs, u, chance=chance)

    # min of the means is 0 or the tiny mean of u - 1/2; the integral of max(0, 1/2 - u) is 1/8.
    assert worth == pytest.approx(0.125, abs=0.005)


def test_a_thing_that_does_not_matter_is_worth_nothing_but_noise() -> None:
    chance = np.random.default_rng(2)
    costs = np.stack([chance.normal(0.0, 1.0, _TRIALS), chance.normal(0.0, 1.0, _TRIALS)])

    worth = worth_of_knowing(costs, chance.random(_TRIALS), chance=chance)

    # A group's mean of 1,000 trials has an error of 0.03; the minimum of two such, 20 times.
    assert worth < 0.015


def test_a_choice_that_knowledge_never_changes_is_worth_nothing() -> None:
    chance = np.random.default_rng(3)
    u = chance.random(_TRIALS)

    assert worth_of_knowing(np.stack([u, u + 5.0]), u, chance=chance) < 1e-3


def test_one_option_or_a_certain_thing_has_no_worth() -> None:
    chance = np.random.default_rng(4)
    u = chance.random(1000)

    assert worth_of_knowing(u[None, :], u, chance=chance) == 0.0
    assert worth_of_knowing(np.stack([u, 1.0 - u]), np.full(1000, 3.0), chance=chance) == 0.0


def test_the_ends_say_the_range_and_the_margin_near_it() -> None:
    u = np.linspace(0.0, 1.0, 10_001)

    ends = ends_of(2.0 * u - 1.0, u)

    assert (ends.low, ends.high) == (pytest.approx(0.1), pytest.approx(0.9))
    assert ends.margin_low == pytest.approx(-0.8, abs=1e-3)
    assert ends.margin_high == pytest.approx(0.8, abs=1e-3)
    assert not ends.is_noise


def test_what_only_chance_moves_is_called_noise() -> None:
    chance = np.random.default_rng(5)

    assert ends_of(chance.normal(0.0, 1.0, _TRIALS), chance.random(_TRIALS)).is_noise
    assert ends_of(chance.normal(0.0, 1.0, _TRIALS), np.ones(_TRIALS)).is_noise
