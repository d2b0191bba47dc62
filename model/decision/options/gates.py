"""What rules an option out before any money is compared, in a sentence for the owner.

Not here: where limits stand after an option (``limits_after``), which of the others is chosen
(``choice``), and what leads the advice when too little was seen.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from model.condition.states import EndFound
from model.condition.tubes import TubeCondition
from model.decision.advice import GasAfter, Waits
from model.decision.by_condition import FIND_OUT, is_too_wide
from model.decision.limits import CLUSTER, LimitResult
from model.decision.options.every_option import (
    PLUG_BAD_AND_WEAK,
    REDUCED_OUTPUT,
    REPLACE_BAD_AND_WEAK,
)
from model.decision.options.plan_making import NO_HOLES, bad_of, said, said_list, weak_of
from model.decision.plans import Plan
from model.decision.situation import Situation
from model.record.words import End, Reason, State

MOST_SAID: Final = 2
"""Reasons joined in one answer, the weightiest first."""

MOST_NAMED: Final = 3

OUT_OF_REACH: Final = frozenset(
    (Reason.NO_ENTRY, Reason.RETARDER_IN_PLACE, Reason.REFRACTORY, Reason.OBSTRUCTED)
)
"""Reasons for which an end cannot be looked at in this outage as it stands (ours)."""

_ASK: Final = "Ask an engineer first"
_OTHER: Final = {PLUG_BAD_AND_WEAK: "plug-bad", REPLACE_BAD_AND_WEAK: "replace-bad"}


@dataclass(frozen=True, slots=True, kw_only=True)
class RuledOut:
    """Why an option may not be chosen."""

    words: str
    waits_for: frozenset[Waits]
    """Answers that are all that stands against it. Where an engineer has said what is permitted,
    that is the answer."""


def ruled_out(
    plan: Plan,
    situation: Situation,
    *,
    limits: Sequence[LimitResult],
    plugged_stays: Sequence[str],
    gas: GasAfter | None,
    unseen_ends: int,
    is_gas_refused: bool = False,
    open_kw: float | None = None,
) -> RuledOut | None:
    """Why an option may not be chosen; None when it may.

    ``limits`` and ``plugged_stays`` (keys of tubes) are those after the plan, as is ``gas`` (None:
    not computed). ``unseen_ends`` is what ``reachable_unseen_ends`` counts. ``is_gas_refused``:
    the gas side of this boiler is computed, but not with the plugs of the plan. ``open_kw`` is the
    highest output with every tube open: what that does not reach either rules nothing out.
    Finding out more is a step before an option: it is ruled out by a missing price alone.
    """
    gas_of_need = None if situation.is_short_without_plugs(open_kw) else gas
    if plan.key == FIND_OUT:
        return _joined(list(_missing_prices(plan, situation, gas_of_need)), frozenset())
    open_questions = {
        Waits.LOOK: list(_unseen(plan, unseen_ends)),
        Waits.DAMAGE: list(_damage_left(plan, situation)),
        Waits.STAY: list(_stay_questions(plan, limits, plugged_stays)),
    }
    undone = list(_left_undone(plan, situation))
    figures = [
        *_output_faults(plan, situation, gas, is_gas_refused=is_gas_refused, open_kw=open_kw),
        *_missing_prices(plan, situation, gas_of_need),
        *_nothing_of_its_own(plan, situation),
    ]
    is_open = not undone and not figures and not _answered(_too_wide(limits))
    return _joined(
        [*undone, *(words for each in open_questions.values() for words in each), *figures],
        frozenset(waits for waits, said in open_questions.items() if said and is_open),
    )


def _joined(reasons: Sequence[str], waits_for: frozenset[Waits]) -> RuledOut | None:
    """The weightiest reasons in one answer."""
    if not reasons:
        return None
    first, *others = reasons[:MOST_SAID]
    words = " ".join((f"Ruled out: {first}", *(f"Also: {each}" for each in others)))
    return RuledOut(words=words, waits_for=waits_for)


def reachable_unseen_ends(tubes: Iterable[TubeCondition]) -> int:
    """Tube ends that could be looked at in this outage, and that nobody looked at.

    Not counted: an end out of reach, a tube renewed today, and a plug, a leak or a split that is
    carried: that tube is closed or bad anyway. One that was thinned last time is looked at again.
    """
    return sum(
        _is_reachable_unseen(tube.ends_found[end])
        for tube in tubes
        if not tube.is_renewed
        for end in End
        if tube.ends_left[end].state is not State.PLUGGED
    )


def _is_reachable_unseen(end: EndFound) -> bool:
    is_settled = end.carried and end.state is not State.THINNED
    return not end.is_looked_at and not is_settled and end.reason not in OUT_OF_REACH


def _unseen(plan: Plan, unseen_ends: int) -> Iterator[str]:
    """Nobody runs on unseen, by whatever name: with a later retube, or at reduced output."""
    if unseen_ends and plan.does_nothing_now:
        yield (
            f"nobody looked at {said(unseen_ends, 'tube end')} that can be reached today: "
            "look first."
        )


def _damage_left(plan: Plan, situation: Situation) -> Iterator[str]:
    """Doing nothing is no answer to damage that calls for action."""
    left = list(dict.fromkeys(each.words for each in situation.damage if plan.leaves(each)))
    if left and plan.does_nothing_now:
        yield (
            f"damage graded act is recorded of {said_list(left)}, and doing nothing leaves it: "
            "have it judged first."
        )


def _left_undone(plan: Plan, situation: Situation) -> Iterator[str]:
    """A bad tube or a leaking joint never stays in service, and gas needs tubes to pass."""
    if plan.is_new_boiler:
        return
    for each in situation.passes:
        if each.holes and each.holes <= plan.plugged_after(each):
            yield f"no tube of pass {each.pass_} is open after it."
    passes = [each for each in situation.passes if each.pass_ not in plan.retube]
    bad = len(bad_of(passes) - plan.plug - plan.replace)
    if bad:
        yield f"{said(bad, 'tube')} {_is(bad)} bad and must be dealt with before steaming."
    half = NO_HOLES.union(*(each.open_plugs for each in passes)) - plan.replace - plan.close
    if half:
        yield (
            f"{said(len(half), 'plugged tube')} {_is(len(half))} open at the other end: it must be "
            "closed before steaming."
        )
    gone = plan.plug | plan.replace | frozenset(plan.re_roll)
    joints = sum(
        ends for each in passes for hole, ends in each.joint_ends.items() if hole not in gone
    )
    if joints:
        yield f"{said(joints, 'joint')} {'leaks' if joints == 1 else 'leak'} and must be re-rolled."


def _stay_questions(
    plan: Plan, limits: Sequence[LimitResult], plugged_stays: Sequence[str]
) -> Iterator[str]:
    """Where the sheet may not be held; a width is said before a plugged stay tube.

    An engineer who said what is permitted is not asked again.
    """
    if plan.is_new_boiler:
        return
    too_wide = _too_wide(limits)
    answered = _answered(too_wide)
    if too_wide:
        worst, *others = answered + [each for each in too_wide if each not in answered]
        by = "" if worst.permitted_by is None else f" by {worst.permitted_by.rstrip('.')}"
        likewise = f" Likewise on the {said_list([str(e.sheet) for e in others])} sheet"
        yield (
            f"a circle of {worst.value:.0f} mm around plugs on the {worst.sheet} sheet is left "
            f"without a working tube or stay; {worst.act:.0f} mm is permitted{by}."
            + (f"{likewise}{'' if len(others) == 1 else 's'}." if others else "")
            + ("" if answered else f" {_ASK}; the answer goes into [limits] cluster.")
        )
    if plugged_stays:
        count = len(plugged_stays)
        named = f"stay tube{'' if count == 1 else 's'} {said_list(plugged_stays)}"
        which = named if count <= MOST_NAMED else said(count, "stay tube")
        yield f"{which} {_is(count)} plugged after it. {_ASK}."


def _too_wide(limits: Iterable[LimitResult]) -> list[LimitResult]:
    """The sheets with a place wider than permitted, the one farthest beyond first."""
    too_wide = [each for each in limits if each.name == CLUSTER and is_too_wide(each)]
    return sorted(too_wide, key=_times_permitted, reverse=True)


def _answered(too_wide: Iterable[LimitResult]) -> list[LimitResult]:
    """Those of which an engineer has said what is permitted."""
    return [each for each in too_wide if each.permitted_by is not None]


def _times_permitted(limit: LimitResult) -> float:
    return (limit.value or 0.0) / limit.act if limit.act else 0.0


def _output_faults(
    plan: Plan,
    situation: Situation,
    gas: GasAfter | None,
    *,
    is_gas_refused: bool,
    open_kw: float | None,
) -> Iterator[str]:
    """What the fan still reaches, against the mean load and the output needed."""
    limit_kw = None if gas is None else gas.output_limit_kw
    needed_kw, load = situation.needed_output_kw, situation.load_percent
    if plan.is_new_boiler:
        return
    if is_gas_refused:
        yield (
            "so many tubes are plugged after it that its gas side cannot be computed: the draft "
            "loss goes beyond what the model takes (20 kPa)."
        )
    if limit_kw is None or needed_kw is None:
        if plan.key == REDUCED_OUTPUT:
            yield "the highest output after it or the output needed is not known."
        return
    mean_kw = needed_kw * load / 100.0 if load is not None else None
    least_kw = mean_kw or 0.0
    is_by_plugs = open_kw is None or (open_kw > 0.0 and open_kw >= least_kw)
    if is_by_plugs and (limit_kw <= 0.0 or limit_kw < least_kw):
        mean = "" if mean_kw is None else f"; the mean load is {mean_kw:,.0f} kW"
        yield f"the fan cannot draw the gas of more than {limit_kw:,.0f} kW{mean}."
    elif situation.is_short_without_plugs(open_kw):
        if plan.key == REDUCED_OUTPUT:
            yield (
                "with every tube open the fan would not reach the output needed either: what is "
                "short is not for the plugs."
            )
    elif plan.key == REDUCED_OUTPUT:
        if limit_kw >= needed_kw:
            yield (
                f"the fan still reaches {limit_kw:,.0f} kW, and {needed_kw:,.0f} kW is needed: "
                "there is no need to run lower."
            )
    elif limit_kw < needed_kw:
        yield (
            f"the fan reaches {limit_kw:,.0f} kW at most, and {needed_kw:,.0f} kW is needed "
            "(a standby is not counted)."
        )


def _missing_prices(plan: Plan, situation: Situation, gas: GasAfter | None) -> Iterator[str]:
    """Prices that nothing can stand in for."""
    needed = [*situation.prices.missing_own(plan.bill_now)]
    if _falls_short(plan, situation, gas) and not situation.prices.has("capacity_per_mwh"):
        needed.append("capacity_per_mwh")
    if needed:
        yield f"its cost cannot be worked out without {said_list(needed)} in [costs]."


def _falls_short(plan: Plan, situation: Situation, gas: GasAfter | None) -> bool:
    """Whether boiler and standby together reach less than is needed."""
    if plan.is_new_boiler or gas is None or gas.output_limit_kw is None:
        return False
    covered_kw = gas.output_limit_kw + (situation.standby_kw or 0.0)
    return covered_kw < (situation.needed_output_kw or 0.0)


def _nothing_of_its_own(plan: Plan, situation: Situation) -> Iterator[str]:
    same_as, weak = _OTHER.get(plan.key), weak_of(situation.passes)
    if same_as and not weak & (plan.plug | plan.replace):
        why = "only stay tubes are weak" if weak else "no weak tube is known"
        yield f"{why}, so it would be the same as {same_as}."
    years = situation.prices.horizon_years
    if plan.retube_in_year and situation.prices.has("horizon_years"):
        year = min(plan.retube_in_year.values())
        if year > years:
            yield (
                f"its retube falls in year {year}, beyond the {years} looked ahead, so it would be "
                "the same as without it."
            )


def _is(count: int) -> str:
    return "is" if count == 1 else "are"
