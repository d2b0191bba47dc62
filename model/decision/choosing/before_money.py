"""What must be looked at, measured or judged before money is compared, in sentences.

Not here: what rules an option out (``gates``), the choice (``choice``).
"""

from collections.abc import Iterator, Sequence

from model.condition.coverage import Coverage
from model.decision.advice import Waits
from model.decision.limits import COVERAGE, LimitResult, LimitStatus
from model.decision.plans import Plan
from model.decision.situation import PartDamage, Situation


def look_first(
    situation: Situation,
    *,
    coverage: Coverage,
    limits: Sequence[LimitResult],
    waits_for: frozenset[Waits],
    unseen_ends: int,
) -> tuple[str, ...]:
    """Why finding out more comes before the option of the lowest cost; empty where it does not.

    ``limits`` as left; ``waits_for`` are the answers that this option waits for, ``unseen_ends``
    those that can be reached today.
    """
    return (
        *_too_few_looks(coverage, limits, unseen_ends if Waits.LOOK in waits_for else 0),
        *_no_readings(situation),
        *(damage_words(situation.damage) if Waits.DAMAGE in waits_for else ()),
    )


def look_first_words(waits_for: frozenset[Waits], option: str, *, is_by_money: bool = True) -> str:
    """The advice in words; ``option`` is what the option does that would be advised otherwise."""
    leads = "the lowest cost is" if is_by_money else "the condition leads to"
    if waits_for == {Waits.DAMAGE}:
        return (
            "Have the damaged parts judged first, then decide. "
            f"On the tubes alone, {leads}: {option}"
        )
    return f"Find out more first, then decide. On what is known so far, {leads}: {option}"


def damage_left(situation: Situation, plan: Plan | None) -> tuple[PartDamage, ...]:
    """Damaged parts that a plan does not mend; all of them where there is no plan."""
    return tuple(each for each in situation.damage if plan is None or plan.leaves(each))


def damage_words(damage: Sequence[PartDamage]) -> tuple[str, ...]:
    """One sentence on what calls for action beside the tubes; none where nothing does."""
    if not damage:
        return ()
    *others, last = dict.fromkeys(each.words for each in damage)
    what = f"{', '.join(others)} and {last}" if others else last
    return (
        f"Damage graded act is recorded of {what}: it must be repaired, or accepted by those whose "
        "law it is, before steaming; no work on tubes mends it, and its cost is in no option.",
    )


def _too_few_looks(
    coverage: Coverage, limits: Sequence[LimitResult], unseen_ends: int
) -> Iterator[str]:
    limit = next((each for each in limits if each.name == COVERAGE), None)
    looked_at = f"{coverage.looked_at} of {coverage.ends} tube ends in scope were looked at"
    if limit is not None and limit.status in (LimitStatus.ACT, LimitStatus.UNKNOWN):
        share = "" if limit.value is None else f" ({limit.value:.1f} %)"
        yield f"Look first: {looked_at}{share}, below the limit."
    elif unseen_ends:
        ends = "1 tube end" if unseen_ends == 1 else f"{unseen_ends} tube ends"
        yield (
            f"Look first: nobody looked at {ends} that can be reached today, and what costs least "
            "is to do nothing."
        )


def _no_readings(situation: Situation) -> Iterator[str]:
    bare = [str(each.pass_) for each in situation.passes if not each.readings]
    if bare:
        passes = f"pass{'' if len(bare) == 1 else 'es'} {' and '.join(bare)}"
        yield f"Measure first: no wall of {passes} was measured in this inspection."
