"""From where on another option is cheapest: one input is varied, the others held.

Not here: what the options cost at a value (given as a function), and words.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

Costs = Mapping[str, float]
"""Present value by option."""

GRID_POINTS: Final = 24
"""Steps into which each side of the range is cut before the root is searched in one of them."""

_ROUNDS: Final = 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """The value nearest to the present one from where on another option is cheapest."""

    value: float
    option: str


def find_crossing(
    costs_at: Callable[[float], Costs],
    *,
    choice: str,
    now: float,
    limit: float,
    grid_points: int = GRID_POINTS,
    tolerance: float = 1e-6,
    known: Mapping[float, Costs] | None = None,
) -> Crossing | None:
    """The nearest value between ``now`` and ``limit`` beyond which the choice is not cheapest.

    Source: bisection of the difference between the choice and the cheapest other option.

    Scope: ``limit`` may lie below or above ``now``. The range is cut into equal steps, and the
    first step at whose end another option is cheaper is searched. An option that is cheaper only
    between two grid points, and not at either, is not seen.

    Parameters: ``costs_at`` a value; ``choice`` cheapest at ``now``; ``tolerance`` of the range;
    ``known`` costs at values that were worked out before.

    Returns: ``Crossing``, or None where no grid value has a cheaper option.
    """
    at = dict(known or {})

    def costs(value: float) -> Costs:
        if value not in at:
            at[value] = costs_at(value)
        return at[value]

    last_kept = now
    for value in grid_values(now, limit, grid_points):
        if cheapest(costs(value), choice) != choice:
            return _bisect(costs, choice, last_kept, value, tolerance * abs(limit - now))
        last_kept = value
    return None


def grid_values(now: float, limit: float, grid_points: int = GRID_POINTS) -> Sequence[float]:
    """The values looked at from ``now`` (left out) to ``limit``."""
    if limit == now:
        return ()
    steps = (now + (limit - now) * step / grid_points for step in range(1, grid_points))
    return (*steps, limit)


def cheapest(costs: Costs, choice: str) -> str:
    """The option of the lowest cost; the choice where it is as cheap as any, else the first."""
    least = min(costs.values())
    return choice if costs[choice] <= least else min(costs, key=lambda key: costs[key])


def _bisect(
    costs: Callable[[float], Costs], choice: str, kept: float, lost: float, tolerance: float
) -> Crossing:
    """Between a value that keeps the choice and one that loses it."""
    for _ in range(_ROUNDS):
        if abs(lost - kept) <= tolerance:
            break
        middle = (kept + lost) / 2.0
        if cheapest(costs(middle), choice) == choice:
            kept = middle
        else:
            lost = middle
    return Crossing(value=lost, option=cheapest(costs(lost), choice))
