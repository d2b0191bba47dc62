"""Whether losses look like a sample of Gumbel's law: the Anderson-Darling statistic.

Not here: how large a statistic is too large. With fitted parameters that depends on the size of the
sample, and is found by simulation (``pivots``).
"""

import math
from collections.abc import Sequence

from model.errors import OutOfRange
from model.wall.gumbel import GumbelFit

# Farther out than this the law's tail is smaller than any number; its logarithm still is not.
_FAR = 700.0


def anderson_darling(losses: Sequence[float], fit: GumbelFit) -> float:
    """Anderson-Darling distance between a sample and the law fitted to it.

    Source: Anderson and Darling's statistic: from memory, not checked against a document;
    scipy.stats.anderson gives the same number.

    Equation: A2 = -n - sum((2 i - 1) (ln F_i + ln(1 - F_(n+1-i)))) / n, F_i the law at the i-th
    smallest loss.

    Scope: weighs the tails more than the middle, which is where the forecast looks.

    Parameters: ``losses`` in any order; ``fit`` the law fitted to them.

    Returns: A2 [no unit]; 0 would be a perfect likeness.

    Raises: OutOfRange for an empty sample.

    >>> round(anderson_darling([0.0], GumbelFit(mu=0.0, sigma=1.0)), 4)
    0.4587
    """
    count = len(losses)
    if count == 0:
        raise OutOfRange("losses", "empty", "at least one number")
    hazards = [
        math.exp(min(_FAR, (fit.mu - loss) / fit.sigma)) for loss in sorted(losses, reverse=True)
    ]
    # Largest loss first: hazards rise. ln F = -h, ln(1 - F) = ln(1 - exp(-h)).
    total = math.fsum(
        (2 * (count - index) - 1) * -hazard + (2 * index + 1) * _log_above(hazard)
        for index, hazard in enumerate(hazards)
    )
    return -count - total / count


def _log_above(hazard: float) -> float:
    """ln(1 - exp(-h)), which for the tiniest h is ln h."""
    return math.log(-math.expm1(-hazard)) if hazard > 0.0 else -_FAR
