"""Where a rising function crosses zero: the one search that the fits of this room need.

Not here: what is searched for. Bisection, because it cannot fail on a function that rises.
"""

from collections.abc import Callable


def rising_root(function: Callable[[float], float], *, low: float, high: float) -> float:
    """The place between two positive bounds where a rising function reaches zero.

    ``low`` is halved and ``high`` doubled until they enclose it; then the bracket is halved until
    two neighbouring numbers are left.

    Raises: OverflowError when no bracket is found within the range of numbers.

    >>> rising_root(lambda x: x * x - 9.0, low=1.0, high=2.0)
    3.0
    """
    while function(high) < 0.0:
        low, high = high, high * 2.0
        if high > 1e300:
            raise OverflowError("the root lies above every number")
    while function(low) > 0.0:
        low, high = low / 2.0, low
        if low < 1e-300:
            raise OverflowError("the root lies below every number")
    while True:
        middle = (low + high) / 2.0
        if middle in (low, high):
            return middle
        if function(middle) < 0.0:
            low = middle
        else:
            high = middle
