"""How uncertain a fit of Gumbel's law is, found by fitting many samples of the law itself.

The estimates are of place and spread, so what they miss by, counted in fitted spreads, depends on
the size of the sample alone. One simulation therefore serves every boiler with as many readings.
Not here: what is forecast with it (``forecast``).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from random import Random
from typing import Final

from model.errors import OutOfRange
from model.wall.fit_test import anderson_darling
from model.wall.gumbel import fit_gumbel

USUAL_SIMULATIONS: Final = 4000
"""Enough that a bound said to hold in 90 % holds in 89 to 91 %."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pivots:
    """Fits to simulated samples of the law with place 0 and spread 1, and their distances."""

    sample_size: int
    places: tuple[float, ...]
    spreads: tuple[float, ...]
    distances: tuple[float, ...]
    """Anderson-Darling statistics, in rising order."""

    def chance_that_all_stay_under(self, spreads_above: float, others: float) -> float:
        """The probability that all of ``others`` further tubes stay under a level.

        The level stands so many fitted spreads above the fitted place. Averaged over what the true
        law may be.
        """
        return math.fsum(
            math.exp(-others * _hazard(place, spread, spreads_above))
            for place, spread in zip(self.places, self.spreads, strict=True)
        ) / len(self.places)

    def share_above(self, spreads_above: float) -> float:
        """The share of further tubes expected above a level, averaged in the same way."""
        # Written out, as it is asked for year by year: with calls it takes three times as long.
        exp, expm1 = math.exp, math.expm1
        both = zip(self.places, self.spreads, strict=True)
        try:
            shares = [expm1(-exp(-place - spread * spreads_above)) for place, spread in both]
        except OverflowError:  # so far below that in some of them no tube stays under it
            shares = [
                expm1(-_hazard(*each, spreads_above))
                for each in zip(self.places, self.spreads, strict=True)
            ]
        return -math.fsum(shares) / len(self.places)

    def level(self, probability: float, others: float) -> float:
        """How many fitted spreads above the fitted place all others stay with a probability."""
        low, high = -50.0, 50.0 + math.log(others)
        while self.chance_that_all_stay_under(high, others) < probability:
            high *= 2.0
        # A millionth of a spread is far below what the simulation can tell.
        while high - low > 1e-6:
            middle = (low + high) / 2.0
            if self.chance_that_all_stay_under(middle, others) < probability:
                low = middle
            else:
                high = middle
        return (low + high) / 2.0

    def chance_of_such_distance(self, distance: float) -> float:
        """The probability that a true sample of the law lies as far from its fit, or farther."""
        farther = sum(each >= distance for each in self.distances)
        return (farther + 1) / (len(self.distances) + 1)


def simulate_pivots(
    *, sample_size: int, chance: Random, simulations: int = USUAL_SIMULATIONS
) -> Pivots:
    """Fit many samples of the law of one size.

    Source: pivotal quantities of a location-scale law, as in parametric prediction limits: from
    memory, not checked against a document; tested by simulation with known truth.

    Scope: samples of Gumbel's law, chosen without looking at them.

    Parameters: ``sample_size`` readings; ``chance`` the generator that every number comes from;
    ``simulations`` how many samples.

    Returns: ``Pivots``.

    Raises: OutOfRange unless there are at least 3 readings and 100 simulations.

    >>> pivots = simulate_pivots(sample_size=10, chance=Random(1), simulations=100)
    >>> len(pivots.places)
    100
    """
    if sample_size < 3:
        raise OutOfRange("sample_size", sample_size, "at least 3")
    if simulations < 100:
        raise OutOfRange("simulations", simulations, "at least 100")
    samples = (_sample(sample_size, chance) for _ in range(simulations))
    fitted = [(sample, fit_gumbel(sample)) for sample in samples]
    return Pivots(
        sample_size=sample_size,
        places=tuple(fit.mu for _, fit in fitted),
        spreads=tuple(fit.sigma for _, fit in fitted),
        distances=tuple(sorted(anderson_darling(sample, fit) for sample, fit in fitted)),
    )


def _sample(size: int, chance: Random) -> Sequence[float]:
    # 1 - random() is never zero, and its logarithm is zero only at 1, one time in 2^53.
    return [-math.log(-math.log(1.0 - chance.random()) or 5e-324) for _ in range(size)]


def _hazard(place: float, spread: float, spreads_above: float) -> float:
    """Expected number of tubes above the level for each further tube, as the truth may be."""
    return math.exp(min(700.0, -(place + spread * spreads_above)))
