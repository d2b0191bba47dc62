"""How leaks of one boiler come faster or slower: the power-law process, in closed form.

Not here: lifetimes of single tubes (``weibull``), and which leaks are counted (joint leaks are kept
apart from tube leaks by the caller).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from model.errors import OutOfRange
from model.wall.rising_root import rising_root

LEAK_GROWTH_SOURCE: Final = (
    "power-law process (Crow's model of repairable systems), time-truncated maximum likelihood: "
    "from memory, not checked against a document"
)

TOO_FEW_LEAKS: Final = 3
"""Fewer leaks than this say too little about their growth to conclude anything."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LeakGrowth:
    """Expected leaks up to t are scale x t^beta: beta above 1 means that they come faster."""

    beta: float
    scale: float
    leaks: int
    until_years: float


def fit_leak_growth(*, leak_years: Sequence[float], until_years: float) -> LeakGrowth:
    """Shape and scale of the power-law process from the times of leaks.

    Source: ``LEAK_GROWTH_SOURCE``.

    Scope: one boiler (or pass) whose leaking tubes are dealt with and which goes on; times since
    the tubes were new; the history is complete up to its end.

    Equation: beta = n / sum(ln(T / t)); scale = n / T^beta.

    Parameters: ``leak_years`` t, each at most T [year]; ``until_years`` T, end of the history
    [year].

    Returns: ``LeakGrowth``; the scale is in leaks per year^beta.

    Raises: OutOfRange unless T is above 0, there is a leak, every leak is above 0 and at most T,
    and not all of them at T, or so near it that the scale is no number any more.

    >>> growth = fit_leak_growth(leak_years=[1.0, 2.0, 4.0], until_years=4.0)
    >>> round(growth.beta, 4)
    1.4427
    """
    if not 0.0 < until_years < math.inf:
        raise OutOfRange("until_years", until_years, "above 0")
    if not leak_years:
        raise OutOfRange("leak_years", "empty", "the time of at least one leak")
    for year in leak_years:
        if not 0.0 < year <= until_years:
            limit = f"above 0 and at most the end of the history, {until_years:g}"
            raise OutOfRange("leak_years", year, limit)
    logs = math.fsum(math.log(until_years / year) for year in leak_years)
    if logs == 0.0:
        limit = "before the end of the history for at least one leak, or no growth can be told"
        raise OutOfRange("leak_years", until_years, limit)
    beta = len(leak_years) / logs
    try:
        scale = len(leak_years) / until_years**beta
    except (OverflowError, ZeroDivisionError):
        limit = "not all so near the end of the history, or no growth can be told"
        raise OutOfRange("leak_years", until_years, limit) from None
    return LeakGrowth(
        beta=beta,
        scale=scale,
        leaks=len(leak_years),
        until_years=until_years,
    )


def expected_leaks(growth: LeakGrowth, *, ahead_years: float) -> float:
    """Leaks expected in the years after the history's end.

    Source: ``LEAK_GROWTH_SOURCE``. Equation: scale ((T + ahead)^beta - T^beta), written as
    n ((1 + ahead/T)^beta - 1), which is the same with the fitted scale.

    Parameters: ``growth``; ``ahead_years`` [year]. Returns: a number of leaks.

    Raises: OutOfRange unless the time ahead is at least 0, or where the number is beyond counting.

    >>> growth = LeakGrowth(beta=1.0, scale=0.5, leaks=5, until_years=10.0)
    >>> round(expected_leaks(growth, ahead_years=4.0), 9)
    2.0
    """
    if not ahead_years >= 0.0:
        raise OutOfRange("ahead_years", ahead_years, "at least 0")
    grown = growth.beta * math.log1p(ahead_years / growth.until_years)
    try:
        return growth.leaks * math.expm1(grown)
    except OverflowError:
        limit = f"shorter: a shape of {growth.beta:g} foretells leaks beyond counting"
        raise OutOfRange("ahead_years", ahead_years, limit) from None


def beta_bounds(growth: LeakGrowth, *, confidence: float) -> tuple[float, float]:
    """Two-sided confidence bounds of the shape.

    Source: 2 n beta / beta_hat follows the chi-square law with 2 n degrees of freedom:
    from memory, not checked against a document.

    Equation: beta_hat chi2(2 n; (1 -+ c) / 2) / (2 n). With an even number of degrees the law is a
    sum of Poisson terms, so no table is needed.

    Parameters: ``growth``; ``confidence`` c, such as 0.9. Returns: lower and upper bound.

    Raises: OutOfRange unless the confidence lies between 0 and 1.

    >>> low, high = beta_bounds(
    ...     LeakGrowth(beta=1.0, scale=1.0, leaks=5, until_years=5.0), confidence=0.9
    ... )
    >>> (round(low, 3), round(high, 3))
    (0.394, 1.831)
    """
    if not 0.0 < confidence < 1.0:
        raise OutOfRange("confidence", confidence, "above 0 and below 1")
    tail = (1.0 - confidence) / 2.0
    low, high = (_gamma_quantile(growth.leaks, p) for p in (tail, 1.0 - tail))
    return growth.beta * low / growth.leaks, growth.beta * high / growth.leaks


def upper_bound_of_mean(*, leaks: int, confidence: float) -> float:
    """The largest expected number that still gives so few leaks with 1 - confidence.

    Source: Poisson law, one-sided exact bound: from memory, not checked against a document.

    Scope: what can be said of a time with fewer leaks than a growth law needs, even with none.

    Equation: m with P(at most n leaks | m) = 1 - c.

    Parameters: ``leaks`` n seen; ``confidence`` c. Returns: expected number in a time as long.

    Raises: OutOfRange unless n is at least 0 and c between 0 and 1.

    >>> round(upper_bound_of_mean(leaks=0, confidence=0.95), 3)
    2.996
    """
    if leaks < 0:
        raise OutOfRange("leaks", leaks, "at least 0")
    if not 0.0 < confidence < 1.0:
        raise OutOfRange("confidence", confidence, "above 0 and below 1")
    return _gamma_quantile(leaks + 1, confidence)


def _gamma_quantile(shape: int, probability: float) -> float:
    """Half the chi-square quantile of 2 x shape degrees of freedom."""

    def excess(mean: float) -> float:
        # 1 - P(Poisson(mean) < shape), in logarithms so that hundreds of leaks do not underflow.
        below = math.fsum(
            math.exp(k * math.log(mean) - mean - math.lgamma(k + 1)) for k in range(shape)
        )
        return 1.0 - below - probability

    return rising_root(excess, low=shape / 2.0, high=2.0 * shape)
