"""A plan from what is done to which tube: its joints, words, bill, days and assumptions filled in.

Not here: which plans there are (``options``, ``retube_options``), what work costs (``work_bills``).
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from model.decision.options.work_bills import (
    DAYS_PER_WEEK,
    NEIGHBOURS,
    bill_of_outage,
    is_mean_taken,
    labour_and_days,
    neighbour_re_rolls,
    work_of,
)
from model.decision.plans import MOST_FROM_STOCK, Plan
from model.decision.situation import USUAL_LEAD_WEEKS, PassSituation, Situation

Holes = frozenset[str]
NO_HOLES: Final[Holes] = frozenset()

FROM_STOCK: Final = (
    f"Up to {MOST_FROM_STOCK} single tubes come from stock: no waiting and no freight (ours)."
)
ORDERED: Final = (
    f"More than {MOST_FROM_STOCK} single tubes are ordered: the outage waits for them, and they "
    "take freight (ours)."
)
NEIGHBOURS_WORKED: Final = (
    f"Beside each single tube replaced, {NEIGHBOURS} neighbours are re-rolled at both ends (ours)."
)
CREW_PACE: Final = "Days of work go by hours, at the pace of days_per_100_tubes (ours)."
PLUGS_COME_OUT: Final = (
    "A plugged tube that is replaced takes the hours of any other: its plugs come out with it "
    "(ours)."
)
LEAD_NOT_STATED: Final = (
    f"How long tubes take to come is not stated: {USUAL_LEAD_WEEKS:g} weeks are taken (ours)."
)

_CLOSES: Final = "so that no place around plugs is wider than permitted"


def made_plan(
    situation: Situation,
    draft: Plan,
    *,
    lead: str = "",
    told: Holes = NO_HOLES,
    closing: Holes = NO_HOLES,
    then: str = "",
    assumptions: Sequence[str] = (),
    visits: int = 1,
) -> Plan:
    """The draft with every leaking joint of a tube that stays re-rolled and every open end of a
    plugged one closed, and all that follows.

    ``lead`` is the option's main work in words, ``told`` the single tubes that it speaks of,
    ``then`` what comes after this outage; between them stands what is done to the others.
    ``closing`` are the plugged tubes that are replaced for the sake of the places around them.
    """
    plan = replace(
        draft,
        re_roll=_joints_that_stay(situation, draft),
        close=_open_plugs_that_stay(situation, draft),
    )
    if plan.orders_tubes or plan.is_new_boiler:
        plan = replace(plan, waits_days=DAYS_PER_WEEK * situation.lead_weeks)
    _, days = labour_and_days(work_of(plan, situation), situation, set_ups=0)
    parts = [*([lead] if lead else []), *_rest(situation, plan, told, closing)]
    return replace(
        plan,
        words=_sentence(parts, then),
        days_now=days,
        bill_now=bill_of_outage(plan, situation, visits=visits),
        assumptions=(*_assumptions(situation, plan, days), *assumptions),
    )


def weeks_of_outage(situation: Situation, draft: Plan) -> int:
    """Whole weeks from now until the work is done, waiting for tubes included; at least one."""
    plan = made_plan(situation, draft)
    return max(1, math.ceil((plan.waits_days + plan.days_now) / DAYS_PER_WEEK))


def bad_of(passes: Iterable[PassSituation]) -> Holes:
    return NO_HOLES.union(*(each.bad for each in passes))


def weak_of(passes: Iterable[PassSituation]) -> Holes:
    return NO_HOLES.union(*(each.weak for each in passes))


def stays_of(passes: Iterable[PassSituation]) -> Holes:
    return NO_HOLES.union(*(each.stays for each in passes))


def stays_to_replace(passes: Iterable[PassSituation]) -> Holes:
    """Stay tubes that are bad or behind a plug: plugged they are a question for an engineer."""
    return NO_HOLES.union(*(each.stays & (each.bad | each.plugged) for each in passes))


def said(count: int, noun: str) -> str:
    """A number with its noun.

    >>> said(1, "joint"), said(3, "joint")
    ('1 joint', '3 joints')
    """
    return f"{count} {noun}" + ("" if count == 1 else "s")


def said_list(words: Sequence[str]) -> str:
    """
    >>> said_list(["2"]), said_list(["2", "3", "4"])
    ('2', '2, 3 and 4')
    """
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def said_passes(numbers: Iterable[int]) -> str:
    """
    >>> said_passes([3, 2]), said_passes([4])
    ('passes 2 and 3', 'pass 4')
    """
    names = [str(number) for number in sorted(numbers)]
    return ("pass " if len(names) == 1 else "passes ") + said_list(names)


def _joints_that_stay(situation: Situation, plan: Plan) -> Mapping[str, int]:
    if plan.is_new_boiler:
        return {}
    gone = plan.plug | plan.replace
    return {
        hole: ends
        for each in situation.passes
        if each.pass_ not in plan.retube
        for hole, ends in sorted(each.joint_ends.items())
        if hole not in gone
    }


def _open_plugs_that_stay(situation: Situation, plan: Plan) -> Holes:
    if plan.is_new_boiler:
        return NO_HOLES
    passes = (each for each in situation.passes if each.pass_ not in plan.retube)
    return NO_HOLES.union(*(each.open_plugs for each in passes)) - plan.plug - plan.replace


def _rest(situation: Situation, plan: Plan, told: Holes, closing: Holes) -> Iterator[str]:
    """What is done to single tubes and joints, in words."""
    replace_, named = plan.replace - told - closing, list[str]()
    if replace_:
        named.append(_tubes_in_words(situation, replace_, "not to be plugged"))
    if closing:
        more = " more" if any(replace_ & each.plugged for each in situation.passes) else ""
        named.append(f"{len(closing)}{more} plugged tube{'' if len(closing) == 1 else 's'}")
    if named:
        yield f"replace {said_list(named)}" + (f", {_CLOSES}" if closing else "")
    if plan.plug:
        yield f"plug {_tubes_in_words(situation, plan.plug, 'refer to an engineer')}"
    if plan.close:
        ends = "end" if len(plan.close) == 1 else "ends"
        yield f"close the open {ends} of {said(len(plan.close), 'plugged tube')}"
    if plan.re_roll:
        yield f"re-roll {said(sum(plan.re_roll.values()), 'joint')}"


def _tubes_in_words(situation: Situation, holes: Holes, remark: str) -> str:
    passes = situation.passes
    bad, weak = bad_of(passes), weak_of(passes)
    stays = len(holes & stays_of(passes))
    kinds = (("bad", holes & bad), ("weak", holes & weak), ("plugged", holes - bad - weak))
    if len(holes) == 1:
        (kind,) = (kind for kind, each in kinds if each)
        return f"the {kind} tube" + (f" (a stay tube: {remark})" if stays else "")
    words = f"the {said_list([f'{len(each)} {kind}' for kind, each in kinds if each])} tubes"
    if stays:
        words += f" ({stays} of them {'a stay tube' if stays == 1 else 'stay tubes'}: {remark})"
    return words


def _sentence(parts: Sequence[str], then: str) -> str:
    first = ", ".join(parts) or "do nothing to the tubes now"
    text = first + (f"; {then}" if then else "")
    return text[:1].upper() + text[1:] + "."


def _assumptions(situation: Situation, plan: Plan, days: float) -> Iterator[str]:
    prices = situation.prices
    if plan.replace and not plan.retube:
        yield ORDERED if plan.orders_tubes else FROM_STOCK
    if any(plan.replace & each.plugged for each in situation.passes):
        yield PLUGS_COME_OUT
    if any(neighbour_re_rolls(plan, each) for each in situation.passes):
        yield NEIGHBOURS_WORKED
    renewed = [each for each in situation.passes if plan.renewed_after(each)]
    unclear = [each.pass_ for each in renewed if is_mean_taken(each, prices)]
    if unclear and not plan.is_new_boiler:
        yield (
            f"No hours are given for tube ends as those of {said_passes(unclear)} are made, or it "
            "is not stated how: the mean hours per tube are taken."
        )
    if days:
        yield CREW_PACE
    if plan.waits_days and situation.tube_lead_weeks is None:
        yield LEAD_NOT_STATED
