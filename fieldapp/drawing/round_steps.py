"""Steps of 1, 2 or 5 with noughts, at which the axes of charts are marked.

Not here: axes (``value_axis``, ``line_chart``).
"""

from math import ceil, floor, log10


def round_marks(low: float, high: float, most: int) -> tuple[float, ...]:
    """Round values from at or below ``low`` to at or above ``high``, in about ``most`` steps.

    >>> round_marks(0.0, 410.0, 5)
    (0.0, 100.0, 200.0, 300.0, 400.0, 500.0)
    """
    step = round_step((high - low) / most)
    first, last = floor(low / step + 1e-9), ceil(high / step - 1e-9)
    return tuple(number * step for number in range(first, last + 1))


def round_step(least: float) -> float:
    """The next round step, at least this.

    >>> round_step(82.0), round_step(0.2), round_step(3.0)
    (100.0, 0.2, 5.0)
    """
    size = 10.0 ** floor(log10(least))
    return next(
        factor * size for factor in (1.0, 2.0, 5.0, 10.0) if factor * size >= least * (1 - 1e-9)
    )
