"""How likely one tube of a pass is lost in each coming year, in each trial.

Common to all options: an option only changes how many tubes of each sort there are. Not here: how
many are lost then (``trials``).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from model.decision.trials.draws import weak_and_others

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from model.decision.situation import PassSituation, Situation
    from model.decision.trials.draws import Draws

    Floats = NDArray[np.float64]

# Exponents are kept below this, or a power overflows; with any number of losses the rate has long
# reached one tube per tube and year there.
_LARGEST_EXPONENT = 600.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LossRates:
    """Expected losses per tube and year: arrays [year, pass, trial], at most 1."""

    weak: Floats
    """Of a tube that was weak at the inspection."""
    others: Floats
    """Of another tube that was in service at the inspection."""
    new: Floats
    """Of a renewed tube, by its own year: [0] is its first."""


def loss_rates(situation: Situation, draws: Draws, *, years: int) -> LossRates:
    """Rates of all passes over so many years.

    Equation, growth known: an old tube loses (m / tubes) ((T + t)^s - (T + t - 1)^s) / T^s in year
    t, a new one (m / tubes) (a^s - (a - 1)^s) / T^s in its year a, with T the time of the record;
    growth not known: both m / (tubes T). What the old tubes in service at the inspection lose
    together falls by the share phi on the weak ones, the rest on the others. No cohort loses more
    than it has: what the weak ones cannot lose falls on the others.
    """
    import numpy as np

    weak, others, new = (np.empty((years, *draws.losses.shape)) for _ in range(3))
    for row, each in enumerate(situation.passes):
        old, new[:, row] = _per_tube(each, draws.losses[row], draws.shape[row], years)
        weak[:, row], others[:, row] = _split(each, old, draws.weak_share[row])
    return LossRates(weak=weak, others=others, new=new)


def _per_tube(
    each: PassSituation, losses: Floats, shape: Floats, years: int
) -> tuple[Floats, Floats]:
    """Of an old tube by year, and of a new one by its own year: [year, trial]."""
    import numpy as np

    window = each.risk.window_years
    per_tube = losses / each.tubes
    if not each.risk.is_growth_known:
        flat = np.broadcast_to(np.minimum(per_tube / window, 1.0), (years, losses.size))
        return flat, flat
    after = np.arange(years + 1)
    shape = np.minimum(shape, _LARGEST_EXPONENT / np.log1p(years / window))
    old = np.exp(np.log1p(after / window)[:, None] * shape)
    new = np.zeros((years + 1, losses.size))
    new[1:] = np.exp(np.log(after[1:] / window)[:, None] * shape)
    return np.diff(old, axis=0) * per_tube, np.minimum(np.diff(new, axis=0) * per_tube, 1.0)


def _split(each: PassSituation, old: Floats, weak_share: Floats) -> tuple[Floats, Floats]:
    """Rates of a weak tube and of another."""
    import numpy as np

    weak, others = weak_and_others(each)
    if weak == 0:
        flat = np.minimum(old, 1.0)
        return flat, flat
    together = old * (weak + max(others, 0))
    of_weak = np.minimum(together * weak_share, weak)
    of_others = np.minimum((together - of_weak) / others, 1.0) if others > 0 else 0.0 * of_weak
    return of_weak / weak, of_others
