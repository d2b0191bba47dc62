"""Which option costs least of those that are not ruled out, and by how much.

Not here: why (``reasons``), what would change it (``break_even``).
"""

from collections.abc import Sequence, Set
from dataclasses import dataclass

from model.decision.advice import OptionMoney, OptionResult, Waits
from model.decision.by_condition import FIND_OUT


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """The cheapest option, the next one, and what would cost less if an engineer allowed it."""

    option: OptionResult
    runner_up: OptionResult | None
    margin: float | None
    if_engineer_allows: OptionResult | None
    """The cheapest of those that a stay question rules out, where it costs less. It may wait for a
    look or a judgement on damage too, but nothing else stands against it."""


def choose(options: Sequence[OptionResult], *, answered: Set[Waits] = frozenset()) -> Choice | None:
    """The option of the lowest present value; where two are equal, the one that costs less now,
    then the one that comes first in their order, which does less.

    Options that wait for nothing but what is ``answered`` are taken as allowed. Finding out more
    first is a step before an option and never competes with one. An option that costs the same in
    every year is no runner-up. None where every option is ruled out or has no price.
    """
    priced = [
        (each, each.money)
        for each in options
        if each.money is not None and each.plan.key != FIND_OUT
    ]
    allowed = sorted(
        (
            (each, money)
            for each, money in priced
            if each.ruled_out is None or (each.waits_for and each.waits_for <= answered)
        ),
        key=_cheap_first,
    )
    if not allowed:
        return None
    best, best_money = allowed[0]
    second = next((pair for pair in allowed[1:] if pair[1].flows != best_money.flows), None)
    asked = [best, *(each for each, _ in priced if Waits.STAY in each.waits_for)]
    if_allowed, _ = min((pair for pair in priced if pair[0] in asked), key=_cheap_first)
    return Choice(
        option=best,
        runner_up=None if second is None else second[0],
        margin=None if second is None else second[1].present_value - best_money.present_value,
        if_engineer_allows=None if if_allowed is best else if_allowed,
    )


def _cheap_first(priced: tuple[OptionResult, OptionMoney]) -> tuple[float, float]:
    _, money = priced
    return (round(money.present_value, 6), money.cost_now)
