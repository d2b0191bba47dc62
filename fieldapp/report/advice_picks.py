"""Which options of an advice are shown where: the best three, what may be chosen, what if nothing.

Not here: any words, any sum.
"""

import math

from fieldapp.report.numbers import ConditionNumbers
from model.condition.stored_figures import stored_years
from model.decision.advice import Advice, OptionMoney, OptionResult
from model.decision.by_condition import FIND_OUT, PLUG_BAD, RE_ROLL, RUN_ON

BEST = 3


def priced_options(advice: Advice) -> tuple[tuple[OptionResult, OptionMoney], ...]:
    """The options that may be chosen and have a price: the one that the words of the advice name
    first, then the cheapest."""
    named = named_option(advice)
    priced = [
        (each, each.money)
        for each in advice.options
        if each.ruled_out is None or (each is named and advice.option == FIND_OUT)
        if each.money is not None
    ]
    priced.sort(
        key=lambda pair: (
            pair[0] is not named,
            pair[1].present_value,
            pair[1].cost_now,
        )
    )
    return tuple(priced)


def best_options(advice: Advice) -> tuple[tuple[OptionResult, OptionMoney], ...]:
    """The option that the words name and the cheapest beside it. Finding out more competes with
    none."""
    return tuple(pair for pair in priced_options(advice) if pair[0].plan.key != FIND_OUT)[:BEST]


def all_priced_options(advice: Advice) -> tuple[tuple[OptionResult, OptionMoney], ...]:
    """Every option that has a price: those that may be chosen, then the others, cheapest first."""
    named = named_option(advice)
    others = [
        (each, each.money)
        for each in advice.options
        if each.ruled_out is not None and each.money is not None
        if each is not named
    ]
    others.sort(key=lambda pair: (pair[1].present_value, pair[1].cost_now))
    return (*priced_options(advice), *others)


def ruled_out_by_reason(advice: Advice) -> tuple[tuple[str, tuple[OptionResult, ...]], ...]:
    """The options that may not be chosen, those of one reason together, in the advice's order."""
    by_reason: dict[str, list[OptionResult]] = {}
    for each in advice.options:
        if each.ruled_out is not None:
            by_reason.setdefault(each.ruled_out, []).append(each)
    return tuple((reason, tuple(options)) for reason, options in by_reason.items())


def advised_option(advice: Advice) -> OptionResult | None:
    """The option advised, where it was worked out."""
    return None if advice.option is None else advice.result(advice.option)


def named_option(advice: Advice) -> OptionResult | None:
    """The option whose work the words of the advice name: the one advised, and where finding out
    more leads, the one of the lowest cost on what is known so far."""
    key = advice.runner_up if advice.option == FIND_OUT else advice.option
    return None if key is None else advice.result(key)


def least_option(advice: Advice) -> OptionResult | None:
    """What is least to do. A leaking or split tube never stays in service: then it is plugged.

    Where even that may not be chosen it is given all the same, with its reason.
    """
    least = [found for key in (RUN_ON, RE_ROLL, PLUG_BAD) if (found := advice.result(key))]
    allowed = [each for each in least if each.ruled_out is None]
    return next(iter(allowed), least[-1] if least else None)


def years_to_next_look(numbers: ConditionNumbers) -> int:
    """Whole years up to the next planned inspection: the owner's interval, else one (ours)."""
    years = stored_years(numbers.facts.settings.get("outage", {}), "interval_years")
    return 1 if years is None else math.ceil(years)


def costs_of(numbers: ConditionNumbers) -> dict[str, object]:
    """The section ``[costs]`` as it is stored."""
    return dict(numbers.facts.settings.get("costs", {}))
