"""Open places around plugs for many sets of plugs in the same sheets, each place found once.

A place depends on plugs near it alone: two options that differ in a few plugs share all others.
Not here: what a place is (``model.condition.clusters``), which plugs an option leaves.
"""

import math
from collections.abc import Callable, Hashable, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from typing import Final

from model.condition.boiler_facts import BoilerFacts
from model.condition.clusters import (
    Cluster,
    accepted_widths,
    find_clusters,
    permitted_pitch_mm,
)
from model.condition.tubes import TubeCondition, TubeStatus
from model.record.words import State
from model.tubesheet.faces import Sheet, ends_on_sheet

PLUGGED: Final = TubeStatus(state=State.PLUGGED, carried=False, disputed=False)
IN_SERVICE: Final = TubeStatus(state=None, carried=False, disputed=False)

_MARGIN_MM: Final = 1.0
"""Above what the search for circles takes as one place."""


class PlacesAfter:
    """Open places of every sheet, for one set of plugged tubes after the other.

    ``today`` are the places as left, where they were found already; ``find`` does the searching.
    Sheets in which the same tubes end and the same width is permitted have the same places.
    """

    def __init__(
        self,
        tubes: Sequence[TubeCondition],
        facts: BoilerFacts,
        today: Sequence[Cluster] = (),
        find: Callable[..., tuple[Cluster, ...]] = find_clusters,
    ) -> None:
        alike: dict[Hashable, _SheetPlaces] = {}
        self._sheets: list[tuple[str, _SheetPlaces]] = []
        for sheet in facts.sheets:
            kind = _kind_of(sheet, facts)
            if kind not in alike:
                alike[kind] = _SheetPlaces(tubes, sheet, facts, today, find)
            self._sheets.append((sheet.key, alike[kind]))

    def clusters(self, plugged: Set[str]) -> tuple[Cluster, ...]:
        """What ``find_clusters`` gives for these holes, sheet by sheet, widest first."""
        return tuple(
            _in_sheet(key, each) for key, sheet in self._sheets for each in sheet.clusters(plugged)
        )

    def near(self, place: Cluster, plugged: Set[str]) -> tuple[Cluster, ...]:
        """Places that hold plugs of one, on every sheet, searched among the tubes near it alone.

        Quick, and true but where a place reaches farther than its own width beyond ``place``.
        """
        found = {each: each.near(place, plugged) for each in {sheet for _, sheet in self._sheets}}
        return tuple(_in_sheet(key, each) for key, sheet in self._sheets for each in found[sheet])


def _kind_of(sheet: Sheet, facts: BoilerFacts) -> Hashable:
    """What the places of a sheet depend on, beside what all sheets have in common."""
    passes = frozenset(shown.pass_ for shown in ends_on_sheet(facts.faces, sheet.key))
    answer = accepted_widths(facts.settings.get("limits", {})).get(sheet.key)
    return passes, answer, permitted_pitch_mm(sheet, facts.mawp_mpa)


def _in_sheet(key: str, cluster: Cluster) -> Cluster:
    return cluster if cluster.sheet == key else replace(cluster, sheet=key)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Group:
    """Plugs whose places hang together, and that no plug outside them touches."""

    span_mm: Mapping[str, float]
    """By key of the plugged tube: the widest place that holds it."""
    clusters: tuple[Cluster, ...]

    @property
    def keys(self) -> Set[str]:
        return self.span_mm.keys()


class _SheetPlaces:
    """The groups of plugs of one sheet that were met so far.

    Whether plug q is one matters to the places around plug p only if some open circle goes through
    both. Its diameter is at least their distance, and at most that of the widest place around p
    and of the widest around q, which are known. Without a shell the widest is not known (the true
    place may be wider), and only equal sets are shared.
    """

    def __init__(
        self,
        tubes: Sequence[TubeCondition],
        sheet: Sheet,
        facts: BoilerFacts,
        today: Sequence[Cluster],
        find: Callable[..., tuple[Cluster, ...]],
    ) -> None:
        passes = {shown.pass_ for shown in ends_on_sheet(facts.faces, sheet.key)}
        here = [each for each in tubes if each.tube.pass_ in passes]
        self._sheet, self._facts, self._find = sheet, facts, find
        self._accepted = accepted_widths(facts.settings.get("limits", {}))
        self._key_of = {each.hole: each.tube.key for each in here}
        self._at = {each.tube.key: (each.tube.x_mm, each.tube.y_mm) for each in here}
        self._tubes = {each.tube.key: each for each in here}
        self._groups: list[_Group] = []
        self._answers: dict[frozenset[str], tuple[Cluster, ...]] = {}
        plugged = {each.tube.key for each in here if each.left.state is State.PLUGGED}
        found = tuple(each for each in today if each.sheet == sheet.key)
        if found:
            self._groups += self._parted(self._group(plugged, found))

    def clusters(self, plugged: Set[str]) -> tuple[Cluster, ...]:
        keys = frozenset(self._key_of[hole] for hole in plugged if hole in self._key_of)
        if keys not in self._answers:
            found = (each for group in self._groups_of(keys) for each in group.clusters)
            self._answers[keys] = tuple(sorted(found, key=lambda each: -each.span_mm))
        return self._answers[keys]

    def near(self, place: Cluster, plugged: Set[str]) -> tuple[Cluster, ...]:
        keys = {self._key_of[hole] for hole in plugged if hole in self._key_of}
        if keys.isdisjoint(place.tubes):
            return ()
        reach_mm = 1.5 * place.span_mm
        tubes = [
            _with_plug_or_without(self._tubes[key], key in keys)
            for key, at in self._at.items()
            if math.dist(at, (place.x_mm, place.y_mm)) <= reach_mm
        ]
        return tuple(
            each for each in self._found(tubes) if not set(each.tubes).isdisjoint(place.tubes)
        )

    def _groups_of(self, keys: Set[str]) -> list[_Group]:
        """The groups of these plugs: those known, and what a search for the others brings."""
        known = self._known(keys)
        others = set(keys).difference(*(group.keys for group in known))
        if others:
            parts = self._parted(self._search(others))
            self._groups += parts
            known += parts
        return known

    def _known(self, keys: Set[str]) -> list[_Group]:
        """Groups met before that stand as they are beside all the others of these plugs."""
        known: list[_Group] = []
        left = set(keys)
        for group in sorted(self._groups, key=lambda each: -len(each.keys)):
            if group.keys <= left and not any(
                self._touch(group.span_mm, each.span_mm) for each in known
            ):
                known.append(group)
                left -= group.keys
        while True:
            unknown = dict.fromkeys(left, math.inf)
            apart = [group for group in known if not self._touch(group.span_mm, unknown)]
            if len(apart) == len(known):
                return known
            known, left = apart, set(keys).difference(*(group.keys for group in apart))

    def _search(self, keys: Set[str]) -> _Group:
        """One group of these plugs, all other tubes in service."""
        tubes = [_with_plug_or_without(each, key in keys) for key, each in self._tubes.items()]
        return self._group(keys, self._found(tubes))

    def _found(self, tubes: Sequence[TubeCondition]) -> tuple[Cluster, ...]:
        return self._find(
            tubes,
            (self._sheet,),
            self._facts.faces,
            shell_diameter_mm=self._facts.shell_diameter_mm,
            furnaces=self._facts.furnaces,
            mawp_mpa=self._facts.mawp_mpa,
            accepted=self._accepted,
        )

    def _group(self, keys: Set[str], clusters: tuple[Cluster, ...]) -> _Group:
        span_mm = dict.fromkeys(keys, math.inf)
        if self._facts.shell_diameter_mm is not None:
            for cluster in reversed(clusters):
                span_mm.update(dict.fromkeys(cluster.tubes, cluster.span_mm))
        return _Group(span_mm=span_mm, clusters=clusters)

    def _touch(self, one: Mapping[str, float], other: Mapping[str, float]) -> bool:
        """Whether a plug of one group may matter to a plug of another; spans by plug."""
        return any(
            self._may_matter(p, p_span, q, q_span)
            for p, p_span in one.items()
            for q, q_span in other.items()
        )

    def _may_matter(self, p: str, p_span_mm: float, q: str, q_span_mm: float) -> bool:
        return math.dist(self._at[p], self._at[q]) <= min(p_span_mm, q_span_mm) + _MARGIN_MM

    def _parted(self, found: _Group) -> list[_Group]:
        """The group in as many as do not touch each other."""
        parts: list[_Group] = []
        left = dict(found.span_mm)
        while left:
            part, edge = set[str](), [next(iter(left))]
            while edge:
                p = edge.pop()
                part.add(p)
                span = left.pop(p)
                edge += [
                    q
                    for q, other in left.items()
                    if q not in edge and self._may_matter(p, span, q, other)
                ]
            parts.append(
                _Group(
                    span_mm={key: found.span_mm[key] for key in part},
                    clusters=tuple(each for each in found.clusters if part >= set(each.tubes)),
                )
            )
        return parts


def _with_plug_or_without(tube: TubeCondition, is_plugged: bool) -> TubeCondition:
    """The tube itself where it is so already: most are, and a new one for each takes long."""
    if (tube.left.state is State.PLUGGED) is is_plugged:
        return tube
    return replace(tube, left=PLUGGED if is_plugged else IN_SERVICE)
