"""The law of greatest losses (Gumbel, maximum form): its fit, and the worst of many tubes.

Not here: bounds that include how uncertain the fit is (``forecast``), and whether the law fits.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from model.errors import OutOfRange

GUMBEL_SOURCE: Final = (
    "Gumbel's law of largest values by maximum likelihood (form of scipy.stats.gumbel_r); worst of "
    "N tubes mu + sigma ln N: from memory, not checked against a document"
)


# Newton needs about six; halving alone would need fifty.
_MOST_STEPS: Final = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class GumbelFit:
    """Place and spread of the fitted law, in the unit of the losses."""

    mu: float
    sigma: float


def fit_gumbel(losses: Sequence[float]) -> GumbelFit:
    """Maximum likelihood fit of Gumbel's law to one greatest loss per tube.

    Source: ``GUMBEL_SOURCE``.

    Scope: each number is the greatest loss found on one tube, and the tubes were chosen without
    looking at them: inspectors measure bad-looking tubes, and such a sample is biased.

    Equation: sigma solves sigma = mean(x) - sum(x exp(-x/sigma)) / sum(exp(-x/sigma)); then
    mu = -sigma ln(mean(exp(-x/sigma))).

    Parameters: ``losses`` x, in one unit.

    Returns: mu and sigma in that unit.

    Raises: OutOfRange unless there are two different finite numbers.

    Notes: the equation has one root, because its sides' difference rises with sigma.

    >>> fit = fit_gumbel([0.31, 0.35, 0.38, 0.40, 0.42, 0.45, 0.47, 0.50, 0.53, 0.56, 0.60, 0.65,
    ...                   0.71, 0.80])
    >>> (round(fit.mu, 6), round(fit.sigma, 6))
    (0.44488, 0.110667)
    """
    if not all(math.isfinite(loss) for loss in losses):
        raise OutOfRange("losses", _listed(losses), "finite numbers")
    if len(set(losses)) < 2:
        raise OutOfRange("losses", _listed(losses), "at least two different numbers")
    least = min(losses)
    width = max(losses) - least
    if math.isinf(width):
        raise OverflowError("the losses are too far apart for a number")
    # Shifted and scaled to 0..1: the exponentials can then neither overflow nor all vanish.
    scaled = [(loss - least) / width for loss in losses]
    sigma = _root_of_the_spread(scaled)
    average = math.fsum(math.exp(-x / sigma) for x in scaled) / len(scaled)
    return GumbelFit(mu=least - width * sigma * math.log(average), sigma=width * sigma)


def _root_of_the_spread(scaled: Sequence[float]) -> float:
    """Newton's steps on the equation for sigma, halving the bracket where one leaves it."""
    mean = math.fsum(scaled) / len(scaled)
    low, high = 0.0, mean
    sigma = mean / 2.0
    for _ in range(_MOST_STEPS):
        weights = [math.exp(-x / sigma) for x in scaled]
        total = math.fsum(weights)
        first = math.fsum(x * w for x, w in zip(scaled, weights, strict=True)) / total
        second = math.fsum(x * x * w for x, w in zip(scaled, weights, strict=True)) / total
        excess = sigma - mean + first
        if excess < 0.0:
            low = sigma
        else:
            high = sigma
        stepped = sigma - excess / (1.0 + (second - first * first) / (sigma * sigma))
        if not low < stepped < high:
            stepped = (low + high) / 2.0
        if abs(stepped - sigma) <= 1e-15 * sigma:
            break
        sigma = stepped
    return sigma


def worst_of(fit: GumbelFit, tubes: float) -> float:
    """The loss that the worst of N tubes most probably has: the mode of the greatest of N.

    Source: ``GUMBEL_SOURCE``. Equation: x = mu + sigma ln N.

    Parameters: ``fit``; ``tubes`` N. Returns: loss, in the unit of the fit.

    Raises: OutOfRange unless N is at least 1.

    >>> worst_of(GumbelFit(mu=0.5, sigma=0.25), 1)
    0.5
    """
    _require_tubes(tubes)
    return fit.mu + fit.sigma * math.log(tubes)


def level_that_all_stay_under(fit: GumbelFit, tubes: float, probability: float) -> float:
    """The loss that all of N tubes stay under with a probability, by the fitted law alone.

    Source: ``GUMBEL_SOURCE``.

    Equation: F(x)^N = p, so x = mu + sigma (ln N - ln(-ln p)).

    Parameters: ``fit``; ``tubes`` N; ``probability`` p. Returns: loss, in the unit of the fit.

    Raises: OutOfRange unless N is at least 1 and p between 0 and 1.

    Notes: a plug-in value. It takes the fit for the truth, so with 10 to 30 readings the worst tube
    exceeds it more often than 1 - p.

    >>> round(level_that_all_stay_under(GumbelFit(mu=0.0, sigma=1.0), 1, 0.95), 4)
    2.9702
    """
    _require_tubes(tubes)
    if not 0.0 < probability < 1.0:
        raise OutOfRange("probability", probability, "above 0 and below 1")
    return fit.mu + fit.sigma * (math.log(tubes) - math.log(-math.log(probability)))


def chance_above(fit: GumbelFit, loss: float) -> float:
    """The probability that one tube has lost more than this: 1 - exp(-exp(-(x - mu) / sigma)).

    >>> round(chance_above(GumbelFit(mu=0.0, sigma=1.0), 0.0), 4)
    0.6321
    """
    exponent = -(loss - fit.mu) / fit.sigma
    return 1.0 if exponent > 700.0 else -math.expm1(-math.exp(exponent))


def _require_tubes(tubes: float) -> None:
    if not tubes >= 1.0:
        raise OutOfRange("tubes", tubes, "at least 1")


def _listed(losses: Sequence[float]) -> str:
    return ", ".join(f"{loss:g}" for loss in losses) or "empty"
