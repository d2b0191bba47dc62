"""What must be looked at, measured or judged before money is compared, in sentences.

Not here: what rules an option out (``gates``), the choice (``choice``).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from model.condition.coverage import Coverage
from model.decision.advice import Waits
from model.decision.limits import COVERAGE, LimitResult, LimitStatus
from model.decision.options.plan_making import said, said_list, said_passes
from model.decision.plans import Plan
from model.decision.situation import PartDamage, Situation


@dataclass(frozen=True, slots=True, kw_only=True)
class First:
    """What comes before money, in sentences; nothing mostly."""

    look: tuple[str, ...] = ()
    """At tube ends and walls."""
    damage: tuple[str, ...] = ()
    """Parts to be judged."""

    @property
    def reasons(self) -> tuple[str, ...]:
        return (*self.look, *self.damage)


def look_first(
    situation: Situation,
    *,
    coverage: Coverage,
    limits: Sequence[LimitResult],
    plan: Plan | None,
    waits_for: frozenset[Waits],
    unseen_ends: int,
) -> First:
    """Why finding out more comes before the option that would be advised otherwise.

    ``limits`` as left; ``plan`` and ``waits_for`` are what that option does (None: not worked out)
    and the answers that it waits for; ``unseen_ends`` those that can be reached today. Damage
    leads where nothing else would be done, and where it may decide what becomes of the boiler.
    """
    left = situation.damage if plan is None else damage_left(situation, plan)
    is_grave = any(each.may_decide or each.sheet in situation.sheets_to_renew for each in left)
    return First(
        look=(
            *_too_few_looks(coverage, limits, unseen_ends if Waits.LOOK in waits_for else 0),
            *_no_readings(situation),
        ),
        damage=damage_words(left) if is_grave or Waits.DAMAGE in waits_for else (),
    )


def look_first_words(first: First, option: str, *, is_by_money: bool = True) -> str:
    """The advice in words; ``option`` is what the option does that would be advised otherwise."""
    leads = "the lowest cost is" if is_by_money else "the condition leads to"
    if not first.look:
        return (
            "Have the damaged parts judged first, then decide. "
            f"On the tubes alone, {leads}: {option}"
        )
    return f"Find out more first, then decide. On what is known so far, {leads}: {option}"


def damage_left(situation: Situation, plan: Plan) -> tuple[PartDamage, ...]:
    """Damaged parts that a plan does not mend."""
    return tuple(each for each in situation.damage if plan.leaves(each))


def damage_words(damage: Sequence[PartDamage]) -> tuple[str, ...]:
    """One sentence on what calls for action beside the tubes; none where nothing does."""
    if not damage:
        return ()
    what = said_list(list(dict.fromkeys(each.words for each in damage)))
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
        yield (
            f"Look first: nobody looked at {said(unseen_ends, 'tube end')} that can be reached "
            "today, and otherwise nothing would be done."
        )


def _no_readings(situation: Situation) -> Iterator[str]:
    bare = [each.pass_ for each in situation.passes if not each.readings]
    if bare:
        yield f"Measure first: no wall of {said_passes(bare)} was measured in this inspection."
