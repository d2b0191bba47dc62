"""The leaking joints of a pass for which the boiler was stopped, as far as its record tells.

Not here: the joints that inspections found (``leak_history``), tubes that were lost (``losses``).
"""

from collections.abc import Set
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from model.condition.states import FoldedBoiler, FoldedInspection
from model.record.fields import last_day
from model.record.words import Does, End, EventWhat, Scope, State
from model.wall.losses import day_of, first_look, found_leaking_at_joint

_RE_ROLL = (Does.RE_ROLL, EventWhat.RE_ROLL)
_OTHER_WORK = (
    Does.PLUG, EventWhat.PLUG, Does.REPLACE, EventWhat.REPLACED, EventWhat.RETUBED, EventWhat.LEAK,
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class JointStops:
    """Joints that leaked when the boiler was to run."""

    in_leak_calls: int
    """Tubes found leaking at the joint in leak calls."""
    re_rolled_between: int
    """Days between inspections on which a joint was re-rolled: no inspection found these."""


def joint_stops(
    number: int, holes: Set[str], boiler: FoldedBoiler, until: FoldedInspection
) -> JointStops:
    """The joints of one pass, up to an inspection.

    A joint that was re-rolled between two inspections is taken to have leaked and stopped the
    boiler (ours), with exceptions that do not overstate it: one that the inspection before left
    leaking was known; on a day on which tubes were plugged or replaced it was work along with that;
    of several in a day the others may have been a precaution; and work known by number only, or
    from before the first inspection, does not say that anything leaked.
    """
    looks = boiler.inspections_up_to(until)
    first = first_look(number, boiler, until)
    dated = [each for each in looks if each.facts.date]
    dated = dated[dated.index(first) :] if first in dated else []
    return JointStops(
        in_leak_calls=sum(
            found_leaking_at_joint(each, holes)
            for each in looks
            if each.facts.scope is Scope.LEAK_CALL
        ),
        re_rolled_between=sum(
            len(_days_of_re_rolling(holes, boiler, before, after))
            for before, after in pairwise(dated)
        ),
    )


def _days_of_re_rolling(
    holes: Set[str], boiler: FoldedBoiler, before: FoldedInspection, after: FoldedInspection
) -> set[date]:
    since, until = (last_day(each.facts.date or "") for each in (before, after))
    re_rolled: set[date] = set()
    other_work: set[date] = set()
    for record in boiler.gap_work:
        day = day_of(record)
        if day is None or not since < day < until:
            continue
        what, named = record.body.get("what") or record.body.get("does"), record.body.get("hole")
        if what in _OTHER_WORK:
            other_work.add(day)
        elif what in _RE_ROLL and named is not None:
            hole = boiler.hole_class(named)
            if hole in holes and not _was_left_leaking(before, hole):
                re_rolled.add(day)
    return re_rolled - other_work


def _was_left_leaking(inspection: FoldedInspection, hole: str) -> bool:
    return any(inspection.end_left(hole, end).state is State.LEAKING for end in End)
