"""The coming years of every option, many times over: leaks, plugs, retubes, fuel, missing output.

Numbers of events and quantities only. Not here: what chance decides (``draws``), one year of it
(``trial_years``), money (``option_money``).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from model.decision.trials.draws import require_numpy
from model.decision.trials.trial_rules import TrialRules, trial_rules
from model.decision.trials.trial_years import Happening, TrialYears
from model.errors import OutOfRange

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from model.decision.gas.gas_effects import GasEffects
    from model.decision.plans import Plan
    from model.decision.situation import Situation
    from model.decision.trials.draws import Draws

    Floats = NDArray[np.float64]
    Integers = NDArray[np.intp]

LEAK: Final = "leak"
"""A lost tube that stops the boiler."""
JOINT_LEAK: Final = "joint-leak"
"""A leaking joint that stops the boiler."""
PLANNED_PLUG: Final = "planned-plug"
"""A tube that is plugged when the boiler is down anyway: lost, or at the retirement wall."""
PLANNED_RE_ROLL: Final = "planned-re-roll"
"""A leaking joint that is found when the boiler is down anyway."""
FUEL: Final = "fuel_gj"
SHORTFALL: Final = "shortfall_mwh"
_RETUBE: Final = "retube-"
RETUBE_OUTAGE: Final = f"{_RETUBE}outage"
"""An outage after this one in which a pass or several are retubed: what they share is paid once."""
OF_PASSES: Final = (LEAK, JOINT_LEAK, PLANNED_PLUG, PLANNED_RE_ROLL, FUEL)
"""What is added up over the passes."""

TRIALS_AT_ONCE: Final = 2500
"""So many trials' arrays fit into a processor's cache."""


def retube_kind(pass_: int) -> str:
    return f"{_RETUBE}{pass_}"


def is_retube_kind(kind: str) -> bool:
    """Whether this kind counts retubes of a pass, or the outages in which they come."""
    return kind.startswith(_RETUBE)


def kinds_of(situation: Situation) -> tuple[str, ...]:
    """All that is counted, in the order of the arrays."""
    retubes = tuple(retube_kind(each.pass_) for each in situation.passes)
    return (*OF_PASSES, SHORTFALL, RETUBE_OUTAGE, *retubes)


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialCounts:
    """What happened after this outage. Year t stands at index t - 1."""

    keys: tuple[str, ...]
    """Of the options."""
    kinds: tuple[str, ...]
    years: int
    discount_percent: float
    discounted: Floats
    """[option, kind, trial]: numbers of year t by (1 + r)^-t, added up."""
    mean_by_year: Floats
    """[option, year, kind]"""
    leaks: Floats
    """[option, trial]: tubes lost over all years, whether the boiler stops for them or not."""
    lost_tubes: Floats
    """[option, year]: the mean of all tubes lost."""
    leaking_joints: Floats
    """[option, year]: the mean of all joints that leak."""
    first_retube_year: Floats
    """[option, trial]: infinite where none comes."""
    first_retube_pass: Integers
    """[option, trial]: 0 where none comes; of several in one outage the first in order."""

    def mean_of(self, kind: str) -> Floats:
        """[option, year]"""
        return self.mean_by_year[:, :, self.kinds.index(kind)]


def run_trials(
    plans: Sequence[Plan],
    situation: Situation,
    effects: GasEffects | None,
    draws: Draws,
    *,
    years: int,
    discount_percent: float,
    trials_at_once: int = TRIALS_AT_ONCE,
) -> TrialCounts:
    """Runs all options through the same chances.

    In every year, in this order: joints leak and tubes are lost and plugged, of both a share in
    forced outages and the rest when the boiler is down anyway in that year; fuel and missing output
    are taken with half of the year's lost tubes plugged. A planned outage stands at the year's
    end: tubes that came to the retirement wall since the last are plugged; a pass is retubed
    instead if its plugs, with these, exceed its level, or if the plan says so and it was not
    retubed since; then, where the highest output is below the output needed, the pass with the
    largest share plugged is retubed, unless the option runs below it by plan. Output neither is
    missed nor has a pass retubed where the boiler would not reach it with every tube open. In the
    last two years only what the plan says is retubed. A retube planned for a year without a planned
    outage is done all the same. A new boiler goes on as if all tubes were renewed, but misses no
    output and is not retubed for it: the fan that the gas side knows is the old one's.

    Raises: OutOfRange unless there are options, drawn years enough and a rate above -100;
    ModelError where numpy is missing.
    """
    require_numpy()
    import numpy as np

    if not plans:
        raise OutOfRange("plans", "empty", "at least one option")
    if not 1 <= years <= draws.years:
        raise OutOfRange("years", years, f"from 1 to the {draws.years} drawn")
    if not discount_percent > -100.0:
        raise OutOfRange("discount_percent", discount_percent, "above -100")
    kinds = kinds_of(situation)
    shape = (len(plans), draws.trials)
    counts = TrialCounts(
        keys=tuple(plan.key for plan in plans),
        kinds=kinds,
        years=years,
        discount_percent=discount_percent,
        discounted=np.zeros((len(plans), len(kinds), draws.trials)),
        mean_by_year=np.zeros((len(plans), years, len(kinds))),
        leaks=np.zeros(shape),
        lost_tubes=np.zeros((len(plans), years)),
        leaking_joints=np.zeros((len(plans), years)),
        first_retube_year=np.full(shape, np.inf),
        first_retube_pass=np.zeros(shape, dtype=np.intp),
    )
    rules = trial_rules(plans, situation, effects, years=years)
    for first in range(0, draws.trials, trials_at_once):
        _run_part(rules, situation, draws, slice(first, first + trials_at_once), counts)
    for means in (counts.mean_by_year, counts.lost_tubes, counts.leaking_joints):
        means /= draws.trials
    return counts


def _by_kind(happened: Floats, stops: Floats | tuple[Floats, Floats]) -> dict[str, Floats]:
    """Numbers of what happened, parted by whether the boiler stops for it. ``stops`` are the lost
    tubes and the leaking joints for which it does."""
    tubes, joints = stops
    lost, leaking = happened[Happening.LOST_TUBE], happened[Happening.LEAKING_JOINT]
    return {
        LEAK: tubes,
        JOINT_LEAK: joints,
        PLANNED_PLUG: happened[Happening.TUBE_AT_WALL] + (lost - tubes),
        PLANNED_RE_ROLL: leaking - joints,
        FUEL: happened[Happening.FUEL_GJ],
    }


def _run_part(
    rules: TrialRules, situation: Situation, draws: Draws, part: slice, counts: TrialCounts
) -> None:
    """Runs some of the trials and writes what happened at their places."""
    import numpy as np

    run = TrialYears(
        rules,
        situation,
        draws.part(part),
        years=counts.years,
        discount_percent=counts.discount_percent,
    )
    for _ in range(counts.years):
        run.live_one_year()
    start_of = run.starts.start_of
    at, drawn = run.starts.pass_at, draws.part(part)
    lost, joints = run.discounted[Happening.LOST_TUBE], run.discounted[Happening.LEAKING_JOINT]
    # The share is the same in all years.
    stops = (lost * drawn.stopping_share[at], joints * drawn.joint_stopping_share[at])
    for kind, numbers in _by_kind(run.discounted, stops).items():
        place = counts.kinds.index(kind)
        counts.discounted[:, place, part] = numbers[start_of].sum(axis=1)
    sums, stop_sums = run.sums.swapaxes(0, 1), run.stop_sums.swapaxes(0, 1)
    for kind, numbers in _by_kind(sums, stop_sums).items():
        place = counts.kinds.index(kind)
        counts.mean_by_year[:, :, place] += numbers[:, start_of].sum(axis=2).T
    counts.lost_tubes[...] += sums[Happening.LOST_TUBE][:, start_of].sum(axis=2).T
    counts.leaking_joints[...] += sums[Happening.LEAKING_JOINT][:, start_of].sum(axis=2).T
    for number, each in enumerate(situation.passes):
        place = counts.kinds.index(retube_kind(each.pass_))
        starts = start_of[:, number]
        counts.discounted[:, place, part] = run.discounted[Happening.RETUBE, starts]
        counts.mean_by_year[:, :, place] += run.sums[:, Happening.RETUBE, starts].T
    for kind, (discounted, by_year) in {
        SHORTFALL: (run.short_discounted, run.short_sums),
        RETUBE_OUTAGE: (run.outages_discounted, run.outage_sums),
    }.items():
        place = counts.kinds.index(kind)
        counts.discounted[:, place, part] = discounted
        counts.mean_by_year[:, :, place] += by_year.T
    counts.leaks[:, part] = run.leaks[start_of].sum(axis=1)
    years = run.first_retube_year[start_of]
    first = years.min(axis=1)
    numbers = np.array([each.pass_ for each in situation.passes])
    counts.first_retube_year[:, part] = first
    counts.first_retube_pass[:, part] = np.where(np.isinf(first), 0, numbers[years.argmin(axis=1)])
