"""Poisson counts by inversion: the same uniform number gives more where more is expected.

So options meet the same chances. Not here: the uniform numbers (``draws``), the means (``trials``).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Places = NDArray[np.intp]

LARGE_MEAN: Final = 100.0
"""Above it the search does not begin at 0, where the chance is too small for a number."""
_DEVIATIONS = 10.0
_FEW = 1000


def poisson_counts(uniforms: Floats, means: Floats) -> Floats:
    """The smallest count whose chance of no more is at least the uniform number.

    Parameters: ``uniforms`` from 1e-12 to 1 - 1e-12; ``means``, at least 0; one row of each.
    Returns: whole numbers.
    """
    import numpy as np

    first, chance = np.zeros(means.shape), np.exp(-means)
    large = np.flatnonzero(means > LARGE_MEAN)
    if large.size:
        first[large], chance[large] = _far_from_nothing(means[large])
    return _searched(uniforms, means, first, chance)


def _searched(uniform: Floats, mean: Floats, first: Floats, chance: Floats) -> Floats:
    """Counts upward from ``first``, whose chance is given; below it there is as good as none."""
    import numpy as np

    found = first.copy()
    places: Places = np.flatnonzero(uniform > chance)
    state = np.stack((uniform, mean, first, chance, chance))[:, places]
    while places.size > _FEW:
        uniform, mean, count, chance, up_to = state
        count += 1.0
        chance *= mean
        chance /= count
        up_to += chance
        found[places] = count
        more = np.flatnonzero(uniform > up_to)
        places, state = places[more], state[:, more]
    _search_few(found, places, state)
    return found


def _search_few(found: Floats, places: Places, state: Floats) -> None:
    """The same by many counts at once, so that a few large ones do not take many turns."""
    import numpy as np

    step = 4
    while places.size:
        uniform, mean, count, chance, up_to = state
        counts = count + np.arange(1.0, step + 1.0)[:, None]
        chances = np.cumprod(mean / counts, axis=0)
        chances *= chance
        sums = np.cumsum(chances, axis=0)
        sums += up_to
        too_small = (uniform > sums).sum(axis=0)
        found[places] = count + 1.0 + too_small
        more = np.flatnonzero(too_small == step)
        places = places[more]
        state = np.stack((uniform, mean, counts[-1], chances[-1], sums[-1]))[:, more]
        step *= 2


def _far_from_nothing(mean: Floats) -> tuple[Floats, Floats]:
    """A count far below the mean, and its chance."""
    import numpy as np

    count = np.floor(mean - _DEVIATIONS * np.sqrt(mean))
    count = np.maximum(count, 0.0)
    logs = np.concatenate(([0.0], np.cumsum(np.log(np.arange(1.0, count.max() + 1.0)))))
    return count, np.exp(count * np.log(mean) - mean - logs[count.astype(np.intp)])
