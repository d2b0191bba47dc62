"""The worst loss among the tubes that nobody measured, with a bound that knows how little is known.

From readings of tubes that were chosen without looking at them. Not here: the choice of readings
that count (planned ones only: suspect tubes are the bad ones), the walls, and the plug-in bound
that ``calc worst-wall`` gives.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from random import Random
from typing import Final

from model.errors import OutOfRange
from model.wall.fit_test import anderson_darling
from model.wall.gumbel import GumbelFit, fit_gumbel, worst_of
from model.wall.pivots import Pivots, simulate_pivots

SMALLEST_SAMPLE: Final = 10
"""Ours: with fewer readings the bound is too wide to help anybody."""

FORECAST_PROBABILITY: Final = 0.9
"""Probability with which the report's bound holds."""

REFUSED_BELOW: Final = 0.05
"""Ours: a sample that the law would give so rarely is taken not to follow it."""

_MOST_READINGS: Final = 500
_SIMULATIONS_OF_A_PLAN: Final = 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class FitTest:
    """The Anderson-Darling statistic, and how often a true sample of the law reaches it."""

    distance: float
    probability: float

    @property
    def sentence(self) -> str:
        """The result as the report prints it."""
        return (
            f"Anderson-Darling test of Gumbel's law: A2 = {self.distance:.3f}, probability "
            f"{self.probability:.3f}"
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class NoForecast:
    """Why there is none."""

    reason: str
    test: FitTest | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class LossLaw:
    """The law that the measured losses follow. Losses in the unit they were given in, mm."""

    fit: GumbelFit
    test: FitTest
    unmeasured: int
    """The tubes it speaks for."""
    pivots: Pivots

    @property
    def sample_size(self) -> int:
        """Readings that the law rests on."""
        return self.pivots.sample_size

    def expected_above(self, loss_mm: float, *, growth: float = 1.0) -> float:
        """Unmeasured tubes expected to have lost more than this.

        ``growth`` is by what factor every loss grows until the moment that is asked about: 1 now,
        1.1 when losses will be a tenth larger. The uncertainty of the fit is averaged in.
        """
        return self.unmeasured * self.pivots.share_above(self._spreads_above(loss_mm, growth))

    def chance_of_none_above(self, loss_mm: float, *, growth: float = 1.0) -> float:
        """The probability that no unmeasured tube has lost more than this; ``growth`` as above."""
        spreads_above = self._spreads_above(loss_mm, growth)
        return self.pivots.chance_that_all_stay_under(spreads_above, self.unmeasured)

    def _spreads_above(self, loss_mm: float, growth: float) -> float:
        if not 0.0 < growth < math.inf:
            raise OutOfRange("growth", growth, "above 0")
        return (loss_mm / growth - self.fit.mu) / self.fit.sigma


@dataclass(frozen=True, slots=True, kw_only=True)
class WorstForecast(LossLaw):
    """What the measured losses say of the worst of the others."""

    worst_measured_mm: float
    most_likely_worst_mm: float
    """The loss that the worst unmeasured tube most probably has."""
    bound_mm: float
    """All unmeasured tubes stay under it with ``FORECAST_PROBABILITY``."""


def forecast_worst(
    losses: Sequence[float], *, tubes: int, chance: Random, pivots: Pivots | None = None
) -> WorstForecast | NoForecast:
    """Forecast the worst loss among the unmeasured tubes of a pass.

    Source: Gumbel's law by maximum likelihood (``gumbel``), its uncertainty by simulation of the
    pivotal quantities (``pivots``); both are tested against simulated boilers with known truth.

    Scope: one greatest loss per measured tube, of tubes alike (one pass) that were chosen without
    looking at them. Thinning only.

    Equation: the bound is mu + sigma k, where k is such that the worst of the others stays under it
    with 90 % when mu and sigma miss the truth as simulated fits miss theirs.

    Parameters: ``losses`` [mm]; ``tubes`` all tubes of the pass, measured or not; ``chance``
    generator; ``pivots`` of that sample size where they are at hand already.

    Returns: ``WorstForecast``, or ``NoForecast`` with its reason: fewer than 10 readings, all
    readings alike, every tube measured, or a sample that does not fit the law (the test's result
    is in the reason).

    Raises: OutOfRange for fewer tubes than readings, or pivots of another sample size.

    >>> forecast_worst([0.1] * 9, tubes=100, chance=Random(1)).reason
    'Only 9 tubes were measured as planned; a forecast needs at least 10.'
    """
    law = loss_law(losses, tubes=tubes, chance=chance, pivots=pivots)
    if isinstance(law, NoForecast):
        return law
    level = law.pivots.level(FORECAST_PROBABILITY, law.unmeasured)
    return WorstForecast(
        fit=law.fit,
        test=law.test,
        unmeasured=law.unmeasured,
        pivots=law.pivots,
        worst_measured_mm=max(losses),
        most_likely_worst_mm=worst_of(law.fit, law.unmeasured),
        bound_mm=law.fit.mu + law.fit.sigma * level,
    )


def loss_law(
    losses: Sequence[float], *, tubes: int, chance: Random, pivots: Pivots | None = None
) -> LossLaw | NoForecast:
    """The law of the losses alone, without the search for the bound that ``forecast_worst`` makes.

    Source, scope, parameters, raises as there. Returns: ``LossLaw``, or ``NoForecast``.
    """
    count = len(losses)
    if tubes < count:
        raise OutOfRange("tubes", tubes, f"at least the number of losses, {count}")
    if pivots is not None and pivots.sample_size != count:
        raise OutOfRange("pivots", pivots.sample_size, f"of {count} readings")
    refusal = _refusal_before_fitting(losses, tubes)
    if refusal is not None:
        return NoForecast(reason=refusal)
    fit = fit_gumbel(losses)
    known = pivots or simulate_pivots(sample_size=count, chance=chance)
    distance = anderson_darling(losses, fit)
    test = FitTest(distance=distance, probability=known.chance_of_such_distance(distance))
    if test.probability < REFUSED_BELOW:
        return NoForecast(
            reason=(
                "The losses do not follow the law that a forecast needs "
                f"({test.sentence}, below {REFUSED_BELOW:g}); look for two kinds of damage or two "
                "regions among the tubes."
            ),
            test=test,
        )
    return LossLaw(fit=fit, test=test, unmeasured=tubes - count, pivots=known)


def readings_for_width(forecast: WorstForecast, *, width_mm: float, chance: Random) -> int | None:
    """About how many readings in all bring the bound within a width of the most likely worst.

    Source, scope as ``forecast_worst``; the fitted spread is taken to stay as it is.

    Parameters: ``forecast`` so far; ``width_mm`` wanted distance between the bound and the most
    likely worst [mm]; ``chance`` generator.

    Returns: readings in all, those at hand included; None where no number up to 500, or short of
    every tube, does it: the worst of many tubes scatters by itself.

    Raises: OutOfRange unless the width is above 0.

    Notes: found by doubling and halving between simulated sizes: a figure for planning, good to
    about a twentieth.
    """
    if not width_mm > 0.0:
        raise OutOfRange("width_mm", width_mm, "above 0")
    if forecast.bound_mm - forecast.most_likely_worst_mm <= width_mm:
        return forecast.sample_size
    # What is left when the law is known exactly: the worst of many tubes scatters by itself.
    if width_mm <= -forecast.fit.sigma * math.log(-math.log(FORECAST_PROBABILITY)):
        return None
    most = min(_MOST_READINGS, forecast.sample_size + forecast.unmeasured - 1)
    low = high = forecast.sample_size
    while _width_mm(forecast, high, chance) > width_mm:
        if high == most:
            return None
        low, high = high, min(2 * high, most)
    while high - low > max(1, low // 20):
        middle = (low + high) // 2
        if _width_mm(forecast, middle, chance) > width_mm:
            low = middle
        else:
            high = middle
    return high


def _width_mm(forecast: WorstForecast, readings: int, chance: Random) -> float:
    pivots = simulate_pivots(
        sample_size=readings, chance=chance, simulations=_SIMULATIONS_OF_A_PLAN
    )
    others = forecast.sample_size + forecast.unmeasured - readings
    return forecast.fit.sigma * (pivots.level(FORECAST_PROBABILITY, others) - math.log(others))


def _refusal_before_fitting(losses: Sequence[float], tubes: int) -> str | None:
    count = len(losses)
    if count < SMALLEST_SAMPLE:
        are = "tube was" if count == 1 else "tubes were"
        return (
            f"Only {count} {are} measured as planned; a forecast needs at least {SMALLEST_SAMPLE}."
        )
    if count == tubes:
        return "Every tube was measured, so there is nothing to forecast."
    if len(set(losses)) < 2:
        return "All losses are alike, so nothing can be said of how they scatter."
    return None
