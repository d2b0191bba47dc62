"""How long the money of all options takes: 1,000 tubes, 8 options, 20 years, 10,000 trials.

The advice as a whole may take two seconds on two cores; what chance decides, the years and the
money are most of it, and are held to that limit here. Run by ``python -m tests.benchmarks`` in a
process of its own. Not here: whether the years are right (``tests/model/decision``).
"""

import random
import resource
import time
from itertools import pairwise

from model.decision.money.option_money import price_options
from model.decision.trials.draws import draw
from model.decision.trials.trial_runs import run_trials
from tests.benchmarks.measuring import Measured, hand_over, median_ms
from tests.model.decision.small_situation import (
    a_pass,
    a_plan,
    a_risk,
    a_situation,
    all_of,
    some_bills,
    some_effects,
)

YEARS, TRIALS, FEW_TRIALS = 20, 10_000, 500
LONGEST_S = 2.0
ROUNDS = 5


def measure(trials=TRIALS, few_trials=FEW_TRIALS, rounds=ROUNDS):
    """Each figure the best of several rounds, the whole the best as a whole."""
    situation, plans, effects = example()
    parts, wholes = [], []
    for _ in range(rounds):
        priced, seconds = work_out(situation, plans, effects, trials)
        parts.append(seconds)
        wholes.append(sum(seconds))
    few = min(sum(work_out(situation, plans, effects, few_trials)[1]) for _ in range(rounds))
    chance = random.Random(1)
    again_ms = median_ms(
        lambda _: priced.quantities.present_values(
            price_factors={"fuel_per_gj": chance.uniform(0.5, 2.0)}, horizon_years=10
        ),
        200,
    )
    drawing, years, money = (min(each) for each in zip(*parts, strict=True))
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024 / 1e6
    what = f"{len(plans)} options, {YEARS} years, {trials} trials"
    return [
        Measured(name="drawing", value=drawing, unit="s"),
        Measured(name="the years", value=years, unit="s", note=what),
        Measured(name="money", value=money, unit="s"),
        Measured(name="all three", value=min(wholes), unit="s", limit=LONGEST_S),
        Measured(name=f"all three with {few_trials} trials", value=few, unit="s"),
        Measured(name="other prices and horizon, without a new run", value=again_ms, unit="ms"),
        Measured(name="most memory", value=memory, unit="MB", limit=400.0),
    ]


def work_out(situation, plans, effects, trials):
    """The priced options, and the seconds of drawing, years and money."""
    times = [time.perf_counter()]
    draws = draw(situation, years=YEARS, trials=trials, seed=1)
    times.append(time.perf_counter())
    counts = run_trials(plans, situation, effects, draws, years=YEARS, discount_percent=7.0)
    times.append(time.perf_counter())
    priced = price_options(plans, counts, some_bills(situation), situation.prices, draws)
    times.append(time.perf_counter())
    return priced, [later - earlier for earlier, later in pairwise(times)]


def example():
    """A boiler whose losses grow, whose walls come due, and whose fan is near its limit."""
    grows = a_risk(losses=9, window_years=12.0, shape=1.8, is_growth_known=True, weak_losses=2,
                   seen_losses=4)  # fmt: skip
    due = {"due_weak": (1.5,) * 10, "due_other": (0.1,) * YEARS}
    situation = a_situation(
        a_pass(2, 400, plugged=8, bad=5, weak=15, risk=grows, **due),
        a_pass(3, 350, plugged=5, bad=4, weak=10, risk=grows, **due),
        a_pass(4, 250, plugged=2, bad=1, weak=4),
        out_of_service_act={2: 10.0, 3: 10.0, 4: 10.0},
        needed_output_kw=5000.0,
        standby_kw=50.0,
        hours_per_year=6000.0,
        load_percent=70.0,
    )
    bad, weak = all_of(situation, "bad"), all_of(situation, "weak")
    plans = (
        a_plan("plug-bad", plug=bad),
        a_plan("plug-bad-and-weak", plug=bad | weak),
        a_plan("plug-then-retube", plug=bad, retube_in_year={2: 2}),
        a_plan("replace-bad", replace=bad),
        a_plan("replace-bad-and-weak", replace=bad | weak),
        a_plan("retube-pass-2", plug=bad, retube=frozenset({2})),
        a_plan("retube-pass-3", plug=bad, retube=frozenset({3})),
        a_plan("retube-all", retube=frozenset({2, 3, 4})),
    )
    return situation, plans, some_effects(2, 3, 4, fan_pa=1260.0)


if __name__ == "__main__":
    hand_over(measure())
