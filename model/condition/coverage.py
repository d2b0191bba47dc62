"""Coverage: how many tube ends of the scope were looked at, and how.

Coverage counts ends of the scope; fill-ins are no looks. Not here: percentages of tubes
(``counts``), which are always of the whole layout.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from model.condition.states import InspectionFacts
from model.condition.tubes import TubeCondition
from model.record.words import End, How, Scope


@dataclass(frozen=True, slots=True, kw_only=True)
class Coverage:
    """Counts of ends in scope by how they are known, and of tubes by ends looked at."""

    ends: int
    seen: int
    by_row: int
    filled: int
    paper: int
    not_inspected: int
    tubes_both_ends: int
    tubes_front_only: int
    tubes_rear_only: int
    tubes_no_end: int

    @property
    def tubes_one_end(self) -> int:
        return self.tubes_front_only + self.tubes_rear_only

    @property
    def looked_at(self) -> int:
        return self.seen + self.by_row + self.paper

    @property
    def looked_at_percent(self) -> float | None:
        return 100.0 * self.looked_at / self.ends if self.ends else None


def tubes_in_scope(
    tubes: Iterable[TubeCondition], facts: InspectionFacts
) -> tuple[TubeCondition, ...]:
    """Of all tubes of the boiler those that the inspection was to cover.

    All of them, or those of the passes it names; after a repair those on which work is recorded
    in it, in the inspection before or between them, and where none is, all.
    """
    every = tuple(tubes)
    if facts.scope is Scope.PASSES and facts.passes:
        return tuple(each for each in every if each.tube.pass_ in facts.passes)
    if facts.scope is Scope.AFTER_REPAIR:
        return tuple(each for each in every if each.is_worked_on) or every
    return every


def count_coverage(tubes: Sequence[TubeCondition]) -> Coverage:
    """Coverage of the given tubes, two ends each."""
    hows = Counter(end.how for each in tubes for end in each.ends_found.values())
    looked = Counter(
        (each.ends_found[End.FRONT].is_looked_at, each.ends_found[End.REAR].is_looked_at)
        for each in tubes
    )
    return Coverage(
        ends=2 * len(tubes),
        seen=hows[How.SEEN],
        by_row=hows[How.BY_ROW],
        filled=hows[How.FILLED],
        paper=hows[How.PAPER],
        not_inspected=hows[None],
        tubes_both_ends=looked[True, True],
        tubes_front_only=looked[True, False],
        tubes_rear_only=looked[False, True],
        tubes_no_end=looked[False, False],
    )
