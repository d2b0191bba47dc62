"""Plugged tubes to replace so that no place around plugs is left wider than permitted.

A tube holds the sheet, a plug does not: where tubes are replaced anyway, a new one in the place of
a plug may be all that a wide place needs. Not here: what an open place is
(``model.condition.clusters``), the options that replace (``every_option``).
"""

import math
from collections.abc import Iterable, Sequence, Set
from typing import Final

from model.condition.clusters import Cluster
from model.condition.tubes import TubeCondition
from model.decision.options.places_after import PlacesAfter
from model.decision.options.plan_making import NO_HOLES, Holes, stays_to_replace
from model.decision.situation import Situation

MOST_CLOSING: Final = 20
"""Ours: where more plugged tubes would be needed, none is replaced."""

MOST_TRIED: Final = 4
"""Ours: of the plugs of one place those nearest to its middle are tried."""

FEW: Final = 12
"""Ours: in a place of more plugs the one nearest to its middle is taken, without a trial."""


def closing_tubes(
    situation: Situation, tubes: Sequence[TubeCondition], places: PlacesAfter
) -> Holes:
    """Plugged tubes that, replaced beside all bad and plugged stay tubes, close every wide place.

    As few as a greedy search finds; empty where no place is too wide, and where more than
    ``MOST_CLOSING`` would be needed.
    """
    plugged = NO_HOLES.union(*(each.plugged for each in situation.passes))
    return _Search(tubes, places, plugged - stays_to_replace(situation.passes)).closing()


def is_too_wide_plugged(
    situation: Situation, places: PlacesAfter, retubed: Set[int] = frozenset()
) -> bool:
    """Whether plugging every bad tube of the passes that are not retubed, but the stay tubes,
    leaves a place wider than permitted."""
    passes = [each for each in situation.passes if each.pass_ not in retubed]
    plugs = NO_HOLES.union(*(each.plugged | each.bad for each in passes))
    return bool(_wide(places.clusters(plugs - stays_to_replace(passes))))


class _Search:
    """The tubes taken so far, each with the place that it was taken for.

    A place is closed by looking near it alone; the whole of every sheet has the last word.
    """

    def __init__(self, tubes: Sequence[TubeCondition], places: PlacesAfter, plugged: Holes) -> None:
        self._places, self._plugged = places, plugged
        self._tubes = {each.tube.key: each for each in tubes}
        self._taken: dict[str, Cluster] = {}

    def closing(self) -> Holes:
        while wide := self._wide_everywhere(frozenset(self._taken)):
            met: set[str] = set()
            for place in sorted(wide, key=lambda each: -each.span_mm):
                if met.isdisjoint(place.tubes):
                    self._close(place)
                met.update(place.tubes)
                if len(self._taken) > MOST_CLOSING:
                    return NO_HOLES
        return self._without_needless()

    def _close(self, place: Cluster) -> None:
        """Take one tube after the other, each the best of those tried, until it is closed."""
        widest: Cluster | None = place
        while widest is not None and len(self._taken) <= MOST_CLOSING:
            left = {
                hole: _wide(self._places.near(widest, self._plugged - {*self._taken, hole}))
                for hole in self._candidates(widest)
            }
            best = min(left, key=lambda hole: _how_bad(left[hole]))
            self._taken[best] = widest
            widest = max(left[best], key=lambda each: each.span_mm, default=None)

    def _candidates(self, place: Cluster) -> list[str]:
        """Holes of plugs of a place, the nearest to its middle first."""
        near = sorted(
            (self._tubes[key] for key in place.tubes),
            key=lambda each: (
                round(math.dist((each.tube.x_mm, each.tube.y_mm), (place.x_mm, place.y_mm)), 3),
                each.tube.key,
            ),
        )
        return [each.hole for each in near[: MOST_TRIED if len(near) <= FEW else 1]]

    def _without_needless(self) -> Holes:
        """The tubes taken but those that later ones made needless."""
        kept = dict(self._taken)
        for hole, place in self._taken.items() if len(kept) > 1 else ():
            others = kept.keys() - {hole}
            if not _wide(self._places.near(place, self._plugged - others)):
                del kept[hole]
        is_right = len(kept) < len(self._taken) and not self._wide_everywhere(frozenset(kept))
        return frozenset(kept if is_right else self._taken)

    def _wide_everywhere(self, closing: Holes) -> list[Cluster]:
        return _wide(self._places.clusters(self._plugged - closing))


def _wide(places: Iterable[Cluster]) -> list[Cluster]:
    """Judged places wider than permitted; a bare one says nothing of its plugs."""
    return [each for each in places if each.is_wider_than_permitted and not each.is_bare]


def _how_bad(wide: Sequence[Cluster]) -> tuple[int, float]:
    """How many plugs stand in places still too wide, and how wide the widest is."""
    plugs = {(each.sheet, key) for each in wide for key in each.tubes}
    return len(plugs), max((each.span_mm for each in wide), default=0.0)
