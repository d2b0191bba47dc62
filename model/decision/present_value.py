"""Yearly flows of money: their value today, and the rate at which they come to nothing.

Not here: what the flows are made of.
"""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from model.errors import OutOfRange

PRESENT_VALUE_SOURCE: Final = (
    "discounting, sum of flow / (1 + r)^t with t from 0; compared with numpy-financial, which "
    "discounts in the same way"
)

# The value at a turning point counts as zero within this part of the largest term.
_NOTHING = 1e-13


def net_present_value(*, rate_percent: float, flows: Sequence[float]) -> float:
    """Value today of yearly flows, the first of them today.

    Source: ``PRESENT_VALUE_SOURCE``. Equation: sum(flow_t / (1 + r)^t), t = 0, 1, 2 ...

    Scope: a yearly rate and a flow at each year's beginning.

    Parameters: ``rate_percent`` r [% a year]; ``flows`` [money], of either sign.

    Returns: [money].

    Raises: OutOfRange unless the rate is above -100 and there is a flow.

    >>> net_present_value(rate_percent=25.0, flows=[-100.0, 50.0, 75.0])
    -12.0
    """
    if not rate_percent > -100.0:
        raise OutOfRange("rate_percent", rate_percent, "above -100")
    if not flows:
        raise OutOfRange("flows", "empty", "at least one flow")
    growth = 1.0 + rate_percent / 100.0
    return math.fsum(flow / growth**year for year, flow in enumerate(flows))


def internal_rates_percent(flows: Sequence[float]) -> tuple[float, ...]:
    """Every rate above -100 % at which the present value of the flows is zero, in rising order.

    Source: ``PRESENT_VALUE_SOURCE``.

    Scope: none where the flows never change sign, one where they change it once; where they change
    it more often there may be several, and then none of them is *the* return of the work.

    Equation: sum(flow_t x^t) = 0 with x = 1 / (1 + r).

    Parameters: ``flows`` [money]. Returns: rates [% a year].

    Notes: roots are enclosed between the turning points of the sum, found in the same way, and the
    bracket is then halved to the last digit. A double root counts once.

    >>> internal_rates_percent([-100.0, 125.0])
    (25.0,)
    >>> internal_rates_percent([100.0, 25.0])
    ()
    """
    terms = list(flows)
    while terms and terms[0] == 0.0:
        terms.pop(0)
    while terms and terms[-1] == 0.0:
        terms.pop()
    if not terms:
        return ()
    # Rates from 0 up have x in (0, 1]; those below have 1/x in (0, 1), with the terms reversed.
    rates = [(1.0 / x - 1.0) * 100.0 for x in _roots_to_one(terms)]
    rates += [(y - 1.0) * 100.0 for y in _roots_to_one(terms[::-1]) if y < 1.0]
    return tuple(sorted(rates))


def nearest_to_zero(rates_percent: Sequence[float]) -> float | None:
    """Of several internal rates the one nearest to zero, as spreadsheets give it; None of none."""
    return min(rates_percent, key=abs, default=None)


def _sign_changes(terms: Sequence[float]) -> int:
    signs = [term > 0.0 for term in terms if term != 0.0]
    return sum(left != right for left, right in pairwise(signs))


def _roots_to_one(terms: Sequence[float]) -> list[float]:
    """Roots of sum(term_k x^k) in (0, 1]."""
    largest = max(abs(term) for term in terms)
    if largest == 0.0:
        return []
    scaled = [term / largest for term in terms]
    # Powers of x in front (and what is too small beside the largest) have no root above 0.
    while scaled[0] == 0.0:
        scaled.pop(0)
    changes = _sign_changes(scaled)
    if changes == 0:
        return []
    turning: list[float] = []
    if changes > 1:
        turning = _roots_to_one([k * term for k, term in enumerate(scaled)][1:])
    places = [0.0, *(x for x in turning if x < 1.0), 1.0]
    values = [_value(scaled, x) for x in places]
    # The end at 0 is outside; only a change of sign after it counts.
    roots = [x for x, value in zip(places, values, strict=True) if x > 0.0 and value == 0.0]
    roots += [
        _bisected(scaled, left, right)
        for left, right, before, after in zip(places, places[1:], values, values[1:], strict=False)
        if before * after < 0.0
    ]
    return sorted(roots)


def _value(terms: Sequence[float], x: float) -> float:
    """The sum at x, and exactly zero where only rounding is left of it."""
    total, size = _sum_and_size(terms, x)
    return 0.0 if abs(total) <= _NOTHING * size else total


def _sum_and_size(terms: Sequence[float], x: float) -> tuple[float, float]:
    total = size = 0.0
    for term in reversed(terms):
        total = total * x + term
        size = size * x + abs(term)
    return total, size


def _bisected(terms: Sequence[float], left: float, right: float) -> float:
    is_rising = _sum_and_size(terms, left)[0] < 0.0
    while True:
        middle = (left + right) / 2.0
        if middle in (left, right):
            return middle
        if (_sum_and_size(terms, middle)[0] < 0.0) == is_rising:
            left = middle
        else:
            right = middle
