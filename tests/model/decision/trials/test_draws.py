"""What chance decides: the laws, and that each has a stream of its own."""

import builtins
import dataclasses

import numpy as np
import pytest
from scipy import stats

from model.decision.prices import BY_PRICE, Price, PriceSource
from model.decision.trials.draws import PRICE_ITEMS, draw
from model.errors import ModelError, OutOfRange
from tests.model.decision.small_situation import a_pass, a_risk, a_situation, some_prices

MANY = 20_000


def drawn(each, **changes):
    given = {"years": 1, "trials": MANY, "seed": 11} | changes
    return draw(a_situation(each), **given)


def follows(sample, law):
    """Kolmogorov-Smirnov; the seed is fixed, so this cannot be unlucky twice."""
    return stats.kstest(sample, law.cdf).pvalue > 0.01


def test_losses_growth_joints_and_the_share_of_the_weak_follow_their_laws():
    risk = a_risk(
        losses=4, shape=1.5, is_growth_known=True, joint_leaks=2, joint_window_years=8.0,
        weak_losses=3, seen_losses=4, stopping_losses=1, losses_when_down=2, stopping_joint_leaks=2,
    )  # fmt: skip
    draws = drawn(a_pass(weak=6, risk=risk))
    assert follows(draws.losses[0], stats.gamma(4.5))
    assert follows(draws.shape[0] / 1.5 * 8, stats.chi2(8))
    assert follows(draws.joint_leaks_per_year[0] * 8.0, stats.gamma(2.5))
    assert follows(draws.weak_share[0], stats.beta(3.5, 1.5))
    assert follows(draws.stopping_share[0], stats.beta(1.5, 2.5))
    assert follows(draws.joint_stopping_share[0], stats.beta(2.5, 0.5))
    assert follows(draws.tube_uniforms[0, 0], stats.uniform())
    assert follows(draws.joint_uniforms[0, 0], stats.uniform())


def test_without_any_record_half_of_them_stop_the_boiler_widely_spread():
    draws = drawn(a_pass(risk=a_risk(stopping_losses=0, losses_when_down=0, joint_leaks=0)))
    for shares in (draws.stopping_share[0], draws.joint_stopping_share[0]):
        assert follows(shares, stats.beta(0.5, 0.5))
        assert np.quantile(shares, (0.1, 0.5, 0.9)) == pytest.approx((0.02, 0.5, 0.98), abs=0.03)


def test_what_stopped_the_boiler_changes_no_other_draw():
    few = drawn(a_pass(risk=a_risk(stopping_losses=0, losses_when_down=5)), trials=50)
    many = drawn(a_pass(risk=a_risk(stopping_losses=5, losses_when_down=0)), trials=50)
    changed = {
        field.name
        for field in dataclasses.fields(few)
        if not np.array_equal(getattr(few, field.name), getattr(many, field.name))
    }
    assert changed == {"stopping_share"}


@pytest.mark.parametrize("risk", [a_risk(losses=4), a_risk(losses=0, is_growth_known=True)])
def test_where_the_growth_is_not_known_the_rate_is_constant(risk):
    assert (drawn(a_pass(risk=risk)).shape == 1.0).all()


def test_nothing_falls_on_weak_tubes_where_there_are_none_and_all_where_there_are_no_others():
    assert (drawn(a_pass(weak=0)).weak_share == 0.0).all()
    assert (drawn(a_pass(tubes=10, plugged=1, bad=1, weak=8)).weak_share == 1.0).all()


def test_a_price_is_spread_by_who_says_it():
    prices = some_prices()
    items = dict(prices.items)
    for name, source in (("labour_per_hour", "quoted"), ("tube_each", "owner")):
        items[name] = Price(name=name, value=5.0, source=PriceSource(source))
    del items["new_boiler"]
    situation = a_situation(prices=dataclasses.replace(prices, items=items))
    factors = draw(situation, years=1, trials=MANY, seed=2).price_factors
    spread = {
        name: (factors[place].min(), factors[place].max()) for place, name in enumerate(PRICE_ITEMS)
    }
    assert set(spread) == set(BY_PRICE)
    assert spread["labour_per_hour"] == (1.0, 1.0)
    assert spread["new_boiler"] == (1.0, 1.0)
    assert spread["tube_each"] == pytest.approx((0.9, 1.1), abs=1e-3)
    assert spread["plug_each"] == pytest.approx((0.7, 1.3), abs=1e-3)
    assert factors.mean(axis=1) == pytest.approx(1.0, abs=0.01)


def test_the_same_seed_gives_the_same_draws_and_another_one_others():
    one, same, other = (drawn(a_pass(), seed=seed, trials=50) for seed in (1, 1, 2))
    for name in ("losses", "stopping_share", "tube_uniforms", "joint_uniforms", "price_factors"):
        assert np.array_equal(getattr(one, name), getattr(same, name))
        assert not np.array_equal(getattr(one, name), getattr(other, name))


def test_tubes_joints_and_prices_meet_chances_of_their_own():
    draws = drawn(a_pass())
    tubes, joints = draws.tube_uniforms[0, 0], draws.joint_uniforms[0, 0]
    for one, other in ((tubes, joints), (tubes, draws.losses[0]), (joints, draws.price_factors[0])):
        assert abs(np.corrcoef(one, other)[0, 1]) < 4 / np.sqrt(MANY)


def test_what_is_known_of_the_joints_changes_nothing_else():
    few, many = (drawn(a_pass(risk=a_risk(seen_losses=seen))) for seen in (0, 3))
    for name in ("losses", "joint_leaks_per_year", "tube_uniforms", "price_factors"):
        assert np.array_equal(getattr(few, name), getattr(many, name))


def test_more_leaks_multiply_the_losses_alone():
    draws, more = drawn(a_pass(), trials=9), drawn(a_pass(), trials=9, leak_factor=2.5)
    assert np.array_equal(more.losses, draws.losses * 2.5)
    assert np.array_equal(draws.with_more_leaks(2.5).losses, more.losses)
    by_trial = draws.with_more_leaks(np.arange(9.0)).losses[0]
    assert np.array_equal(by_trial, draws.losses[0] * np.arange(9.0))
    assert np.array_equal(more.joint_leaks_per_year, draws.joint_leaks_per_year)
    assert np.array_equal(more.stopping_share, draws.stopping_share)


def test_a_part_of_the_draws_is_those_trials():
    draws = drawn(a_pass(), trials=9, years=3)
    part = draws.part(slice(2, 5))
    assert part.trials == 3
    assert np.array_equal(part.losses, draws.losses[:, 2:5])
    assert np.array_equal(part.stopping_share, draws.stopping_share[:, 2:5])
    assert np.array_equal(part.joint_stopping_share, draws.joint_stopping_share[:, 2:5])
    assert np.array_equal(part.tube_uniforms, draws.tube_uniforms[:, :, 2:5])
    assert np.array_equal(part.price_factors, draws.price_factors[:, 2:5])


@pytest.mark.parametrize(
    ("situation", "changes", "words"),
    [
        (a_situation(), {"trials": 0}, "trials is 0, but must be at least 1"),
        (a_situation(), {"years": 0}, "years is 0, but must be at least 1"),
        (
            a_situation(a_pass(3, risk=a_risk(window_years=0.0))),
            {},
            r"window_years of pass 3 is 0\.0, but must be above 0",
        ),
        (
            a_situation(a_pass(2, risk=a_risk(joint_window_years=-1.0))),
            {},
            r"joint_window_years of pass 2 is -1\.0, but must be above 0",
        ),
        (
            dataclasses.replace(a_situation(), passes=()),
            {},
            "passes is empty, but must be at least one pass",
        ),
    ],
)
def test_what_cannot_be_drawn_is_refused(situation, changes, words):
    with pytest.raises(OutOfRange, match=words):
        draw(situation, **({"years": 1, "trials": 1, "seed": 1} | changes))


def test_without_numpy_it_says_what_to_install(monkeypatch):
    whole = builtins.__import__

    def without_numpy(name, *given, **named):
        if name.partition(".")[0] == "numpy":
            raise ImportError(name)
        return whole(name, *given, **named)

    monkeypatch.setattr(builtins, "__import__", without_numpy)
    with pytest.raises(ModelError, match=r"need numpy.*pip install '\.\[office\]'"):
        draw(a_situation(), years=1, trials=1, seed=1)
