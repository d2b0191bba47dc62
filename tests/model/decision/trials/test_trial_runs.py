"""The trials against a second reckoning, and what must hold of them whatever chance decides."""

import dataclasses

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import chi2

from model.decision.trials.draws import draw
from model.decision.trials.trial_runs import run_trials
from model.errors import OutOfRange
from tests.model.decision.one_trial import live
from tests.model.decision.random_boilers import Boiler, boilers
from tests.model.decision.small_situation import (
    a_pass,
    a_plan,
    a_risk,
    a_situation,
    all_of,
    some_effects,
)

RATE = 7.5
SEEDS = st.integers(0, 2**32)


def run(boiler, draws, *, years=None, **changes):
    given = {"years": years or draws.years, "discount_percent": RATE} | changes
    return run_trials(boiler.plans, boiler.situation, boiler.effects, draws, **given)


def assert_as_reckoned(boiler, draws, counts):
    """Every trial of every option, every kind, every year."""
    trials = range(draws.trials)
    for option, plan in enumerate(boiler.plans):
        judged = [
            live(plan, boiler.situation, boiler.effects, draws, trial, counts.years)
            for trial in trials
        ]
        for place, kind in enumerate(counts.kinds):
            expected = [each.discounted(kind, RATE) for each in judged]
            assert counts.discounted[option, place] == pytest.approx(expected, rel=1e-9, abs=1e-9)
            by_year = [
                sum(each.in_year(kind, year) for each in judged) / draws.trials
                for year in range(1, counts.years + 1)
            ]
            found = counts.mean_by_year[option, :, place]
            assert found == pytest.approx(by_year, rel=1e-9, abs=1e-9)
        for raw, found in (("lost", counts.lost_tubes), ("joints", counts.leaking_joints)):
            by_year = [
                sum(each.in_year(raw, year) for each in judged) / draws.trials
                for year in range(1, counts.years + 1)
            ]
            assert found[option] == pytest.approx(by_year, rel=1e-9, abs=1e-9)
        assert counts.leaks[option] == pytest.approx([each.total("lost") for each in judged])
        first = [min((year for year, _ in each.retubes), default=np.inf) for each in judged]
        assert counts.first_retube_year[option] == pytest.approx(first)
        passes = [
            min((pass_ for year, pass_ in each.retubes if year == at), default=0)
            for each, at in zip(judged, first, strict=True)
        ]
        assert counts.first_retube_pass[option].tolist() == passes


@given(boiler=boilers(), seed=SEEDS, years=st.integers(1, 9))
@settings(max_examples=200)
def test_every_trial_of_every_option_is_as_reckoned_by_hand(boiler, seed, years):
    draws = draw(boiler.situation, years=9, trials=4, seed=seed, leak_factor=2.0)
    assert_as_reckoned(boiler, draws, run(boiler, draws, years=years, trials_at_once=3))


def test_where_everything_happens_it_is_as_reckoned_by_hand():
    """Leaks, planned plugs, retubes as planned, beyond a level and for output, missing output."""
    situation = a_situation(
        a_pass(2, 40, plugged=2, bad=2, weak=8, due_weak=(2.0, 1.0), due_other=(0.0, 0.3)),
        a_pass(3, 30, plugged=1, bad=1, risk=a_risk(losses=9, is_growth_known=True, shape=2.0)),
        out_of_service_act={2: 25.0, 3: None},
        needed_output_kw=5000.0,
        standby_kw=1.0,
        hours_per_year=6000.0,
        load_percent=60.0,
    )
    bad = all_of(situation, "bad")
    plans = (
        a_plan("plug-then-retube", plug=bad, retube_in_year={3: 4}),
        a_plan("plug-bad", plug=bad),
        a_plan("retube-all", retube=frozenset({2, 3})),
    )
    boiler = Boiler(situation=situation, plans=plans, effects=some_effects(2, 3, fan_pa=1060.0))
    draws = draw(situation, years=12, trials=40, seed=1, leak_factor=1.5)
    counts = run(boiler, draws)
    assert_as_reckoned(boiler, draws, counts)
    assert (counts.mean_by_year[0].sum(axis=0) > 0.0).all(), "something never happens"
    retubes = counts.mean_of("retube-3")
    assert retubes[0, 3] > 0.0
    assert retubes[1].sum() > 0.0


@given(boiler=boilers(), seed=SEEDS, at_once=st.integers(1, 30))
@settings(max_examples=30)
def test_how_many_trials_are_run_at_once_changes_nothing(boiler, seed, at_once):
    draws = draw(boiler.situation, years=6, trials=20, seed=seed)
    whole, parts = run(boiler, draws), run(boiler, draws, trials_at_once=at_once)
    assert np.array_equal(whole.discounted, parts.discounted)
    assert np.array_equal(whole.first_retube_year, parts.first_retube_year)
    assert parts.mean_by_year == pytest.approx(whole.mean_by_year, rel=1e-12)


@given(boiler=boilers(), seed=SEEDS)
@settings(max_examples=30)
def test_the_same_seed_gives_the_same_result_and_an_option_does_not_hang_on_the_others(
    boiler, seed
):
    draws = [draw(boiler.situation, years=5, trials=12, seed=seed) for _ in range(2)]
    whole, again = (run(boiler, each) for each in draws)
    assert np.array_equal(whole.discounted, again.discounted)
    for option, plan in enumerate(boiler.plans):
        alone = run(dataclasses.replace(boiler, plans=(plan,)), draws[0])
        assert np.array_equal(alone.discounted[0], whole.discounted[option])


@given(boiler=boilers(with_levels=False, with_output=False), seed=SEEDS)
@settings(max_examples=50)
def test_a_longer_horizon_leaves_the_years_before_as_they_were(boiler, seed):
    draws = draw(boiler.situation, years=8, trials=10, seed=seed)
    short = draw(boiler.situation, years=3, trials=10, seed=seed)
    long_run, short_run = run(boiler, draws), run(boiler, short)
    assert np.array_equal(long_run.mean_by_year[:, :3], short_run.mean_by_year)


@given(boiler=boilers(with_levels=False, with_output=False), seed=SEEDS)
@settings(max_examples=50)
def test_no_more_tubes_are_lost_than_there_are(boiler, seed):
    situation = boiler.situation
    draws = draw(situation, years=9, trials=10, seed=seed, leak_factor=30.0)
    plan = a_plan(plug=all_of(situation, "bad"))
    counts = run_trials((plan,), situation, None, draws, years=9, discount_percent=0.0)
    lost = counts.discounted[0, counts.kinds.index("leak")]
    lost = lost + counts.discounted[0, counts.kinds.index("planned-plug")]
    in_service = sum(each.tubes - len(each.plugged) - len(each.bad) for each in situation.passes)
    assert (lost <= in_service + 1e-9).all()


def mean_and_error(numbers):
    return numbers.mean(), numbers.std(ddof=1) / np.sqrt(numbers.size)


def first_year_leaks(situation, plan, trials=40_000):
    draws = draw(situation, years=1, trials=trials, seed=20)
    counts = run_trials((plan,), situation, None, draws, years=1, discount_percent=0.0)
    return mean_and_error(counts.leaks[0])


def test_at_a_constant_rate_the_first_years_leaks_have_the_gamma_poisson_mean():
    each = a_pass(2, 200, plugged=10, risk=a_risk(losses=3, window_years=7.0))
    mean, error = first_year_leaks(a_situation(each), a_plan())
    # Gamma(3.5) losses in 7 years, of 200 tubes; 190 are left.
    assert mean == pytest.approx(3.5 / 7.0 * 190 / 200, abs=4 * error)
    assert error < 0.01


@pytest.mark.parametrize("is_renewed", [False, True])
def test_where_losses_grow_the_first_year_has_its_mean_and_new_tubes_start_anew(is_renewed):
    losses, window, shape, tubes = 4, 12.0, 2.2, 300
    risk = a_risk(losses=losses, window_years=window, shape=shape, is_growth_known=True)
    plan = a_plan("retube-all", retube=frozenset({2})) if is_renewed else a_plan()
    mean, error = first_year_leaks(a_situation(a_pass(2, tubes, risk=risk)), plan)
    # The growth's law by a fine sum over its quantiles, by another library.
    middles = (np.arange(200_000) + 0.5) / 200_000
    shapes = shape * chi2.ppf(middles, 2 * losses) / (2 * losses)
    ages = (0.0, 1.0) if is_renewed else (window, window + 1.0)
    grown = (ages[1] / window) ** shapes - (ages[0] / window) ** shapes
    assert mean == pytest.approx((losses + 0.5) * grown.mean(), abs=4 * error)
    assert mean > 0.0


def test_a_pass_retubed_later_starts_anew_then():
    risk = a_risk(losses=20, window_years=20.0, shape=3.0, is_growth_known=True)
    situation = a_situation(a_pass(2, 300, risk=risk))
    draws = draw(situation, years=10, trials=4000, seed=3)
    plans = (a_plan("now", retube=frozenset({2})), a_plan("later", retube_in_year={2: 5}))
    counts = run_trials(plans, situation, None, draws, years=10, discount_percent=0.0)
    now, later = counts.lost_tubes
    # In years 6 to 10 the tubes put in at the end of year 5 are as old as those put in now were in
    # years 1 to 5; chance differs.
    assert later[5:].sum() == pytest.approx(now[:5].sum(), rel=0.15, abs=0.02)
    assert later[:5].sum() > 5 * now[:5].sum()
    assert (counts.first_retube_year[1] == 5.0).all()
    assert (counts.first_retube_pass[1] == 2).all()


def test_tubes_at_the_retirement_wall_are_plugged_at_the_next_planned_outage():
    each = a_pass(2, 50, weak=4, due_weak=(1.0, 1.0, 1.0, 1.0), due_other=(0.0, 0.0, 0.0, 4.6))
    situation = a_situation(each, years_to_outage=2.0, interval_years=2.0)
    draws = draw(situation, years=4, trials=3, seed=1, leak_factor=0.0)
    plans = (a_plan(), a_plan("weak", plug=each.weak), a_plan("new", replace=each.weak))
    counts = run_trials(plans, situation, None, draws, years=4, discount_percent=0.0)
    planned = counts.mean_of("planned-plug")
    assert planned[0] == pytest.approx((0.0, 2.0, 0.0, 2.0 + 4.6))
    assert planned[1] == pytest.approx((0.0, 0.0, 0.0, 4.6))
    assert planned[2] == pytest.approx((0.0, 0.0, 0.0, 4.6))


def test_a_pass_exactly_at_its_level_stands_and_beyond_it_is_retubed():
    def years_of(due):
        each = a_pass(2, 50, plugged=3, due_other=due)
        situation = a_situation(each, out_of_service_act={2: 10.0})
        draws = draw(situation, years=4, trials=2, seed=1, leak_factor=0.0)
        counts = run_trials((a_plan(),), situation, None, draws, years=4, discount_percent=0.0)
        return counts.mean_of("retube-2")[0].tolist(), counts.mean_of("planned-plug")[0].tolist()

    assert years_of((1.0, 1.0)) == ([0.0] * 4, pytest.approx([1.0, 1.0, 0.0, 0.0]))
    # What is retubed need not be plugged first.
    assert years_of((1.0, 1.1)) == ([0.0, 1.0, 0.0, 0.0], pytest.approx([1.0, 0.0, 0.0, 0.0]))
    # Nobody retubes for the last two years.
    assert years_of((1.0, 0.0, 1.1)) == ([0.0] * 4, pytest.approx([1.0, 0.0, 1.1, 0.0]))


def test_fuel_is_taken_with_half_of_the_years_lost_tubes_plugged():
    situation = a_situation(a_pass(2, 100, risk=a_risk(losses=30)), years_to_outage=5.0)
    draws = draw(situation, years=2, trials=50, seed=5)
    effects = some_effects(2, bent=0.0)
    counts = run_trials((a_plan(),), situation, effects, draws, years=2, discount_percent=0.0)
    leaks, fuel = counts.lost_tubes[0], counts.mean_of("fuel_gj")[0]
    # 0.05 % more fuel for every percent plugged, of 50,000 GJ.
    assert fuel == pytest.approx(25.0 * np.array([leaks[0] / 2, leaks[0] + leaks[1] / 2]))
    assert leaks[0] > 1.0


def test_of_several_passes_the_worst_is_retubed_where_output_is_missing():
    situation = a_situation(
        a_pass(2, 50, plugged=10),
        a_pass(3, 50, plugged=5),
        needed_output_kw=5100.0,
        hours_per_year=1000.0,
        load_percent=50.0,
    )
    draws = draw(situation, years=4, trials=2, seed=1, leak_factor=0.0)
    effects = some_effects(2, 3, fan_pa=1020.0)
    counts = run_trials((a_plan(),), situation, effects, draws, years=4, discount_percent=0.0)
    assert counts.mean_of("retube-2")[0].tolist() == [1.0, 0.0, 0.0, 0.0]
    assert counts.mean_of("retube-3")[0].tolist() == [0.0, 1.0, 0.0, 0.0]
    first, second, *_ = counts.mean_of("shortfall_mwh")[0]
    pascal = 200.0 / 0.8**1.8 + 200.0 / 0.9**1.8
    short_kw = 5100.0 - 5000.0 * 0.98 * np.sqrt(1000.0 / (500.0 + pascal))
    assert first == pytest.approx(short_kw * 500.0 / 1000.0)
    assert 0.0 < second < first


@pytest.mark.parametrize(
    ("needed_kw", "retubes"),
    # With every tube open it reaches 5000 x 0.98 x sqrt(1000 / 900) = 5,165 kW.
    [(5100.0, [1.0, 0.0, 0.0, 0.0]), (5164.9, [1.0, 0.0, 0.0, 0.0]), (5165.1, [0.0] * 4)],
)
def test_a_pass_is_retubed_for_output_only_where_new_tubes_would_reach_it(needed_kw, retubes):
    situation = a_situation(
        a_pass(2, 50, plugged=10),
        a_pass(3, 50),
        needed_output_kw=needed_kw,
        hours_per_year=1000.0,
        load_percent=50.0,
    )
    draws = draw(situation, years=4, trials=2, seed=1, leak_factor=0.0)
    effects = some_effects(2, 3, fan_pa=1020.0)
    counts = run_trials((a_plan(),), situation, effects, draws, years=4, discount_percent=0.0)
    assert counts.mean_of("retube-2")[0].tolist() == retubes
    short = counts.mean_of("shortfall_mwh")[0]
    # Nor is it missed where no plug is to blame.
    assert (short[0] > 0.0) == (sum(retubes) > 0.0)
    assert (short[1] < short[0]) == (retubes[0] == 1.0)


def test_an_option_that_runs_below_the_need_by_plan_is_not_retubed_for_it_and_pays():
    situation = a_situation(
        a_pass(2, 50, plugged=10),
        needed_output_kw=5100.0,
        hours_per_year=1000.0,
        load_percent=50.0,
    )
    draws = draw(situation, years=4, trials=2, seed=1, leak_factor=0.0)
    plans = (a_plan(), a_plan("reduced-output", runs_below_need=True))
    effects = some_effects(2, fan_pa=800.0)
    counts = run_trials(plans, situation, effects, draws, years=4, discount_percent=0.0)
    assert counts.mean_of("retube-2").tolist() == [[1.0, 0.0, 0.0, 0.0], [0.0] * 4]
    short = counts.mean_of("shortfall_mwh")
    assert short[0].tolist() == [short[1, 0], 0.0, 0.0, 0.0]
    assert short[1].tolist() == [short[0, 0]] * 4
    assert short[0, 0] > 0.0


def test_a_new_boiler_is_neither_short_of_output_by_the_old_fan_nor_retubed_for_it():
    """Tubes renewed in the old boiler leak as often, and its fan does not reach what is needed."""
    situation = a_situation(
        a_pass(2, 50, risk=a_risk(losses=20)),
        needed_output_kw=5390.0,
        hours_per_year=1000.0,
        load_percent=50.0,
    )
    draws = draw(situation, years=8, trials=50, seed=1)
    # Without any plug it reaches 5,399 kW.
    plans = (
        a_plan("new-boiler", is_new_boiler=True),
        a_plan("retube-all", retube=frozenset({2})),
    )
    effects = some_effects(2, fan_pa=870.0)
    counts = run_trials(plans, situation, effects, draws, years=8, discount_percent=0.0)
    short, retubes = counts.mean_of("shortfall_mwh"), counts.mean_of("retube-2")
    assert short[0].sum() == retubes[0].sum() == 0.0
    assert min(short[1].sum(), retubes[1].sum()) > 0.0
    # Until the first retube the tubes of both leak alike and plugs take the same fuel.
    for kind in ("leak", "fuel_gj"):
        first = counts.mean_of(kind)[:, 0]
        assert first[0] == first[1] > 0.0


def test_passes_retubed_at_one_outage_by_plan_by_level_and_for_output_are_one_outage():
    situation = a_situation(
        a_pass(2, 50, plugged=4),
        a_pass(3, 50, plugged=6),
        a_pass(4, 50, plugged=9),
        out_of_service_act={3: 10.0},
        needed_output_kw=5160.0,
    )
    draws = draw(situation, years=5, trials=3, seed=1, leak_factor=0.0)
    plans = (
        a_plan("run-on"),
        a_plan("later", retube_in_year={2: 1}),
        a_plan("apart", retube_in_year={2: 3}),
        a_plan("retube-all", retube=frozenset({2, 3, 4})),
    )
    # With pass 2 or 3 plugged as they are 5,160 kW are not reached; with all open 5,165 kW are.
    effects = some_effects(2, 3, 4, fan_pa=1242.0)
    counts = run_trials(plans, situation, effects, draws, years=5, discount_percent=0.0)
    of_passes = [counts.mean_of(f"retube-{number}").tolist() for number in (2, 3, 4)]
    for option, (years_of_passes, outages) in enumerate(
        [
            # One pass is retubed for output at each outage, the worst first.
            ([(0, 1, 0, 0, 0), (1, 0, 0, 0, 0), (1, 0, 0, 0, 0)], (1, 1, 0, 0, 0)),
            ([(1, 0, 0, 0, 0), (1, 0, 0, 0, 0), (1, 0, 0, 0, 0)], (1, 0, 0, 0, 0)),
            ([(0, 1, 0, 0, 0), (1, 0, 0, 0, 0), (1, 0, 0, 0, 0)], (1, 1, 0, 0, 0)),
            ([(0,) * 5] * 3, (0,) * 5),
        ]
    ):
        assert [tuple(each[option]) for each in of_passes] == years_of_passes
        assert tuple(counts.mean_of("retube-outage")[option]) == outages
        place = counts.kinds.index("retube-outage")
        assert counts.discounted[option, place].tolist() == [sum(outages)] * 3


def test_without_a_gas_side_there_is_neither_fuel_nor_missing_output():
    situation = a_situation(a_pass(plugged=5), needed_output_kw=9e9, hours_per_year=1.0)
    draws = draw(situation, years=3, trials=5, seed=1)
    counts = run_trials((a_plan(),), situation, None, draws, years=3, discount_percent=0.0)
    assert counts.mean_of("fuel_gj").sum() == counts.mean_of("shortfall_mwh").sum() == 0.0


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"years": 4}, "years is 4, but must be from 1 to the 3 drawn"),
        ({"years": 0}, "years is 0, but must be from 1 to the 3 drawn"),
        ({"discount_percent": -100.0}, r"discount_percent is -100.0, but must be above -100"),
        ({"plans": ()}, "plans is empty, but must be at least one option"),
    ],
)
def test_what_cannot_be_run_is_refused(changes, words):
    situation = a_situation()
    draws = draw(situation, years=3, trials=2, seed=1)
    given = {"plans": (a_plan(),), "years": 3, "discount_percent": 5.0} | changes
    plans = given.pop("plans")
    with pytest.raises(OutOfRange, match=words):
        run_trials(plans, situation, None, draws, **given)
