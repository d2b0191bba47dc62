"""Running counts of an open inspection: what one tube adds, and what stands when all have added.

Equal to counting everything again. Not here: the report's totals (``counts``) and its coverage
(``coverage``).
"""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from model.condition.tubes import TubeCondition
from model.record.words import End, How, State

EndsOfPass = tuple[int, End]
"""The ends of one pass at one end of the boiler, as a face shows them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EndTally:
    """Ends of one pass at one end of the boiler."""

    ends: int = 0
    looked_at: int = 0
    filled: int = 0
    carried: int = 0
    """Nothing said today; a state is carried."""
    with_reason: int = 0
    """Nothing said today but why nobody looked."""

    def plus(self, other: "EndTally") -> "EndTally":
        return EndTally(
            ends=self.ends + other.ends,
            looked_at=self.looked_at + other.looked_at,
            filled=self.filled + other.filled,
            carried=self.carried + other.carried,
            with_reason=self.with_reason + other.with_reason,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Tally:
    """What is always in view while marking."""

    tubes: int
    """All of the layout; plugged, bad and the others are counted among these."""
    plugged: int
    """As left."""
    bad: int
    """As left, walls below the retirement wall among them."""
    disputed: int
    """As left: a dispute that work has made idle is over."""
    joint_leaks: int
    one_end_plugs: int
    """Plugged at one end, the other seen open or not seen."""
    scope: EndTally
    """Ends of the scope."""
    by_ends: Mapping[EndsOfPass, EndTally]
    """Ends of every pass of the layout."""

    @property
    def plugged_percent(self) -> float | None:
        """Of all tubes of the layout."""
        return 100.0 * self.plugged / self.tubes if self.tubes else None

    @property
    def looked_at_percent(self) -> float | None:
        """Of the ends in scope."""
        return 100.0 * self.scope.looked_at / self.scope.ends if self.scope.ends else None

    def of_face(self, shows: tuple[EndsOfPass, ...]) -> EndTally:
        """Ends that one face shows."""
        total = EndTally()
        for ends in shows:
            total = total.plus(self.by_ends.get(ends, EndTally()))
        return total


class TallyBook:
    """Counts that tubes are added to and taken from."""

    def __init__(self) -> None:
        self._tubes: Counter[str] = Counter()
        self._ends: Counter[tuple[int, End, bool, str]] = Counter()

    def add(self, tube: TubeCondition, *, in_scope: bool) -> None:
        self._tubes.update(_of_tube(tube))
        self._ends.update(_of_ends(tube, in_scope=in_scope))

    def take(self, tube: TubeCondition, *, in_scope: bool) -> None:
        self._tubes.subtract(_of_tube(tube))
        self._ends.subtract(_of_ends(tube, in_scope=in_scope))

    def tally(self) -> Tally:
        by_ends: dict[EndsOfPass, Counter[str]] = {}
        scope: Counter[str] = Counter()
        for (pass_, end, in_scope, what), count in self._ends.items():
            by_ends.setdefault((pass_, end), Counter())[what] += count
            if in_scope:
                scope[what] += count
        return Tally(
            tubes=self._tubes["tubes"],
            plugged=self._tubes["plugged"],
            bad=self._tubes["bad"],
            disputed=self._tubes["disputed"],
            joint_leaks=self._tubes["joint_leaks"],
            one_end_plugs=self._tubes["one_end_plugs"],
            scope=_end_tally(scope),
            by_ends={ends: _end_tally(counts) for ends, counts in by_ends.items()},
        )


def _end_tally(counts: Counter[str]) -> EndTally:
    return EndTally(
        ends=counts["ends"],
        looked_at=counts["looked_at"],
        filled=counts["filled"],
        carried=counts["carried"],
        with_reason=counts["with_reason"],
    )


def _of_tube(tube: TubeCondition) -> Counter[str]:
    return Counter(
        {
            "tubes": 1,
            "plugged": int(tube.left.state is State.PLUGGED),
            "bad": int(tube.left.is_bad),
            "disputed": int(tube.left.disputed),
            "joint_leaks": int(tube.left.joint_leak_only),
            "one_end_plugs": int(tube.plugged_one_end not in (None, "no")),
        }
    )


def _of_ends(tube: TubeCondition, *, in_scope: bool) -> Counter[tuple[int, End, bool, str]]:
    counts: Counter[tuple[int, End, bool, str]] = Counter()
    for end, found in tube.ends_found.items():
        place = (tube.tube.pass_, end, in_scope)
        counts[(*place, "ends")] += 1
        counts[(*place, "looked_at")] += found.is_looked_at
        counts[(*place, "filled")] += found.how is How.FILLED
        counts[(*place, "carried")] += found.carried
        counts[(*place, "with_reason")] += found.how is None and found.reason is not None
    return counts
