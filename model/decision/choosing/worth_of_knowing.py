"""What it would be worth to know one uncertain thing before choosing, from the trials.

Not here: what is uncertain (``draws``), what an option costs in a trial (``option_money``), words.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

BINS: Final = 20
"""Into which the trials are sorted by the uncertain thing."""

STANDARD_ERRORS: Final = 4.0
"""Of a difference of two means, up to which it may be chance: with it one in 16,000 is not."""

WORTH_SOURCE: Final = (
    "expected value of partial perfect information, by sorting the trials into equal groups by the "
    "uncertain thing: from memory, not checked against a document"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ends:
    """The uncertain thing at 10 and 90 % of the trials, and the margin near each end."""

    low: float
    high: float
    margin_low: float
    margin_high: float
    is_noise: bool
    """Whether the two margins differ by no more than chance alone makes them differ."""


def worth_of_knowing(
    present_values: "Array", uncertain: "Array", *, chance: "np.random.Generator"
) -> float:
    """How much cheaper, on average, one could choose who knew the uncertain thing.

    Source: ``WORTH_SOURCE``.

    Scope: an upper bound for a measurement, which never tells everything. Chance alone makes the
    groups differ and would look like knowledge, so what shuffled groups give is taken off.

    Equation: min over options of the mean cost, less the mean over groups of the least mean cost
    within the group; never below 0.

    Parameters: ``present_values`` [option, trial], money; ``uncertain`` [trial]; ``chance`` for
    the shuffling.

    Returns: money.
    """
    import numpy as np

    if present_values.shape[0] < 2 or present_values.shape[1] < 2 * BINS:
        return 0.0
    if np.ptp(uncertain) == 0.0:
        return 0.0
    order = np.argsort(uncertain, kind="stable")
    told = _least_by_group(present_values, order)
    shuffled = _least_by_group(present_values, chance.permutation(order))
    return max(0.0, float(shuffled - told))


def ends_of(margins: "Array", uncertain: "Array") -> Ends:
    """The mean margin over the fifth of the trials at each end of the uncertain thing."""
    import numpy as np

    order = np.argsort(uncertain, kind="stable")
    fifth = max(1, len(order) // 5)
    at_low, at_high = margins[order[:fifth]], margins[order[-fifth:]]
    error = float(np.sqrt((at_low.var() + at_high.var()) / fifth))
    swing = float(at_high.mean() - at_low.mean())
    return Ends(
        low=float(np.quantile(uncertain, 0.1)),
        high=float(np.quantile(uncertain, 0.9)),
        margin_low=float(at_low.mean()),
        margin_high=float(at_high.mean()),
        is_noise=bool(np.ptp(uncertain) == 0.0) or abs(swing) <= STANDARD_ERRORS * error,
    )


def _least_by_group(present_values: "Array", order: "NDArray[np.intp]") -> float:
    import numpy as np

    groups = np.array_split(present_values[:, order], BINS, axis=1)
    sizes = [group.shape[1] for group in groups]
    least = [float(group.mean(axis=1).min()) for group in groups]
    return float(np.average(least, weights=sizes))
