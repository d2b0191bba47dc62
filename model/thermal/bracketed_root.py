"""Where a function crosses zero between two bounds, in few calls, because each is a whole boiler.

Not here: functions without a bracket.
"""

from collections.abc import Callable

_MOST_CALLS = 200


def bracketed_root(
    function: Callable[[float], float], low: float, high: float, *, tolerance: float
) -> float:
    """A place between two bounds with values of different signs where the function is zero.

    False position, where a bound that stays twice has its value halved (the Illinois rule), down
    to a bracket or a step of ``tolerance``.

    Raises: ValueError when both values have one sign, which is a bug of the caller.

    >>> round(bracketed_root(lambda x: x * x - 9.0, 0.0, 10.0, tolerance=1e-9), 6)
    3.0
    """
    at_low, at_high = function(low), function(high)
    if at_low == 0.0:
        return low
    if at_high == 0.0:
        return high
    if (at_low > 0.0) == (at_high > 0.0):
        raise ValueError(f"no change of sign between {low} and {high}")
    kept_low = kept_high = False
    previous = low
    for _ in range(_MOST_CALLS):
        middle = (low * at_high - high * at_low) / (at_high - at_low)
        value = function(middle)
        if value == 0.0 or abs(middle - previous) <= tolerance or abs(high - low) <= tolerance:
            return middle
        previous = middle
        if (value > 0.0) == (at_high > 0.0):
            high, at_high = middle, value
            at_low = at_low / 2.0 if kept_low else at_low
            kept_low, kept_high = True, False
        else:
            low, at_low = middle, value
            at_high = at_high / 2.0 if kept_high else at_high
            kept_low, kept_high = False, True
    raise ValueError(f"no root found between {low} and {high}")
