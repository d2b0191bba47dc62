"""Poisson counts by inversion: the same uniform number gives more where more is expected.

So options meet the same chances. Not here: the uniform numbers (``draws``), the means (``trials``).
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

LARGE_MEAN: Final = 200.0
"""Above it the search does not begin at 0, where the chance is too small for a number."""
_DEVIATIONS = 10.0
"""So far from the mean there is no chance left, either way,"""
_BEYOND = 60.0
"""and so many counts more where the mean is small."""
_FIRST_COUNTS = 4
"""Looked at for all; few are above."""


def poisson_counts(uniforms: Floats, means: Floats) -> Floats:
    """The smallest count whose chance of no more is at least the uniform number.

    Parameters: ``uniforms`` from 1e-12 to 1 - 1e-12; ``means``, at least 0; one row of each.
    Returns: whole numbers.
    """
    import numpy as np

    chance = np.exp(-means)
    up_to = chance.copy()
    is_more = uniforms > up_to
    found = is_more.astype(np.float64)
    for count in range(1, _FIRST_COUNTS + 1):
        chance *= means
        chance /= count
        up_to += chance
        np.greater(uniforms, up_to, out=is_more)
        found += is_more
    places = is_more.nonzero()[0]
    if places.size:
        found[places] = _search_on(*(x[places] for x in (uniforms, means, chance, up_to)))
    return found


def _search_on(uniform: Floats, mean: Floats, chance: Floats, up_to: Floats) -> Floats:
    """From the first counts on; by many counts at once, so that a few large ones do not take many
    turns."""
    import numpy as np

    found = np.full(uniform.size, float(_FIRST_COUNTS))
    large = (mean > LARGE_MEAN).nonzero()[0]
    if large.size:
        found[large], chance[large] = _far_from_nothing(mean[large])
        up_to[large] = chance[large]
    most = np.ceil(mean + _DEVIATIONS * np.sqrt(mean) + _BEYOND)
    places = np.arange(uniform.size)
    count, step = found.copy(), _FIRST_COUNTS
    while places.size:
        counts = count + np.arange(1.0, step + 1.0)[:, None]
        chances = np.cumprod(mean / counts, axis=0)
        chances *= chance
        sums = np.cumsum(chances, axis=0)
        sums += up_to
        too_small = (uniform > sums).sum(axis=0)
        found[places] = count + 1.0 + too_small
        # Whatever rounding does to the sums, it ends where no more chance is left.
        more = ((too_small == step) & (counts[-1] < most[places])).nonzero()[0]
        places, uniform, mean = places[more], uniform[more], mean[more]
        count, chance, up_to = counts[-1, more], chances[-1, more], sums[-1, more]
        step *= 2
    counted: Floats = np.minimum(found, most)
    return counted


def _far_from_nothing(mean: Floats) -> tuple[Floats, Floats]:
    """A count far below a large mean, and its chance by Stirling's series, whose terms stay small
    where a difference of large logarithms would not be exact."""
    import numpy as np

    count = np.floor(mean - _DEVIATIONS * np.sqrt(mean))
    above = mean - count
    factorial = 1 / (12 * count) - 1 / (360 * count**3) + 1 / (1260 * count**5)
    exponent = count * np.log1p(above / count) - above - factorial
    return count, np.exp(exponent) / np.sqrt(2 * np.pi * count)
