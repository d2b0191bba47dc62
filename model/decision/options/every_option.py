"""The options that a situation allows, as plans: what each does now and later, in a fixed order.

Every option deals with the bad tubes and the leaking joints, except those that show what it means
not to: they are listed with the others, and ``gates`` rules them out. Not here: options that
retube (``retube_options``), what they come to (``trials``).
"""

from collections.abc import Callable, Iterable, Iterator, Set
from typing import Final

from model.decision.by_condition import FIND_OUT, PLUG_BAD, RE_ROLL, REPLACE_BAD, RUN_ON
from model.decision.options.plan_making import (
    NO_HOLES,
    Holes,
    bad_of,
    made_plan,
    said,
    stays_of,
    stays_to_replace,
    weak_of,
)
from model.decision.options.retube_options import (
    passes_of_sheets,
    plug_then_retube,
    renewed_sheets,
    rental,
    retubed_boiler,
    retubed_pass,
    worst_passes,
)
from model.decision.plans import Plan
from model.decision.situation import PassSituation, Situation

PLUG_BAD_AND_WEAK: Final = "plug-bad-and-weak"
REPLACE_BAD_AND_WEAK: Final = "replace-bad-and-weak"
REDUCED_OUTPUT: Final = "reduced-output"
NEW_BOILER: Final = "new-boiler"

WEAK_STAYS_REMAIN: Final = (
    "Weak stay tubes stay in service: a plugged stay tube is always referred to an engineer."
)
SAMPLE_VISIT: Final = (
    "One more set-up and one more inspector's fee; what the samples show may change the advice."
)
NO_LEAVE_TO_STEAM: Final = (
    "What rules out plugging the bad tubes rules out steaming until the answer is known too."
)
EXCHANGE_NOT_STATED: Final = (
    "How long the boiler is missing while it is replaced is stated by nobody: it is taken to come "
    "no sooner than tubes (ours), and no day of exchange is counted."
)


def plans_of(
    situation: Situation,
    *,
    closing: Holes = NO_HOLES,
    is_too_wide_beside: Callable[[Set[int]], bool] = lambda retubed: False,
) -> tuple[Plan, ...]:
    """Every option that makes sense to show, those to be ruled out among them.

    ``closing`` are plugged tubes that the options which replace the bad ones replace too, so that
    no place around plugs is wider than permitted (``closing_tubes``). ``is_too_wide_beside``: with
    these passes retubed, whether plugging the bad tubes of the others leaves such a place; then
    they are replaced, for tubes come anyway.

    Left out is what would do nothing of its own: plugging or replacing where there is nothing to
    plug or replace, re-rolling where no joint leaks, retubing all of a boiler with one pass, a
    sheet that no finding calls to renew.
    """

    def beside(retubed: Iterable[int]) -> Holes | None:
        return closing if is_too_wide_beside(frozenset(retubed)) else None

    return tuple(_plans(situation, closing, beside))


def _plans(
    situation: Situation, closing: Holes, beside: Callable[[Iterable[int]], Holes | None]
) -> Iterator[Plan]:
    passes = situation.passes
    bad, weak, stays = bad_of(passes), weak_of(passes), stays_to_replace(passes)
    yield Plan(key=RUN_ON, words="Run on: nothing is done to the tubes in this outage.")
    if any(each.joint_ends for each in passes):
        yield made_plan(situation, Plan(key=RE_ROLL, words=""))
    if bad or any(each.open_plugs for each in passes):
        yield made_plan(situation, Plan(key=PLUG_BAD, words="", plug=bad))
    if bad or weak - stays_of(passes):
        yield _plug_bad_and_weak(situation)
    if passes:
        yield plug_then_retube(situation)
    if bad or stays or closing:
        draft = Plan(key=REPLACE_BAD, words="", replace=bad | stays | closing)
        yield made_plan(situation, draft, closing=closing)
    if bad or weak or stays:
        draft = Plan(key=REPLACE_BAD_AND_WEAK, words="", replace=bad | weak | stays | closing)
        yield made_plan(situation, draft, closing=closing)
    yield from (
        retubed_pass(situation, each.pass_, closing=beside((each.pass_,))) for each in passes
    )
    if len(passes) > 1:
        yield retubed_boiler(situation)
    if situation.sheets_to_renew:
        yield renewed_sheets(situation, closing=beside(passes_of_sheets(situation)))
    yield made_plan(
        situation,
        Plan(key=REDUCED_OUTPUT, words="", plug=bad, runs_below_need=True),
        then="then run below the output needed",
    )
    yield _new_boiler(situation)
    if passes:
        yield rental(situation, closing=beside(worst_passes(situation)))
    if any(each.holes for each in passes):
        yield _find_out(situation, frozenset(filter(None, map(_sample_of, passes))))


def _plug_bad_and_weak(situation: Situation) -> Plan:
    """Nobody plugs a stay tube that may stay in service."""
    bad, weak, stays = (named(situation.passes) for named in (bad_of, weak_of, stays_of))
    return made_plan(
        situation,
        Plan(key=PLUG_BAD_AND_WEAK, words="", plug=bad | (weak - stays)),
        assumptions=(WEAK_STAYS_REMAIN,) if weak & stays else (),
    )


def _new_boiler(situation: Situation) -> Plan:
    return made_plan(
        situation,
        Plan(key=NEW_BOILER, words="", is_new_boiler=True),
        lead="replace the boiler",
        assumptions=(EXCHANGE_NOT_STATED,),
    )


def _find_out(situation: Situation, samples: Holes) -> Plan:
    """Plug what is bad, and pull tubes to learn more. Stay tubes are replaced: tubes are there.

    Where no tube can be pulled there is still this first step to advise.
    """
    stays = stays_to_replace(situation.passes)
    return made_plan(
        situation,
        Plan(
            key=FIND_OUT,
            words="",
            plug=bad_of(situation.passes) - stays,
            replace=samples | stays,
        ),
        lead=(
            "find out more first: pull one tube of each pass and put a new one in its place "
            f"({said(len(samples), 'tube')})"
            if samples
            else "find out more first: look at every tube end that can be reached"
        ),
        told=samples,
        assumptions=(SAMPLE_VISIT, NO_LEAVE_TO_STEAM),
        visits=2,
    )


def _sample_of(each: PassSituation) -> str | None:
    """The tube of a pass to pull: a weak one if there is any, and no stay tube if it can be."""
    in_service = each.holes - each.plugged - each.bad
    choices = (
        (each.weak & in_service) - each.stays,
        in_service - each.stays - frozenset(each.joint_ends),
        in_service,
    )
    return next((min(holes) for holes in choices if holes), None)
