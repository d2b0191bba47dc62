"""The advice in the workbook: a row for each option and for each tube that the option advised works
on, and the recommendation in rows of words.

Not here: writing the file (``xlsx_file``), the other sheets (``xlsx_tables``).
"""

from collections.abc import Iterable, Sequence

from fieldapp.report.advice_words import is_not_counted, may_be_chosen_words
from fieldapp.report.csv_files import Cell
from fieldapp.report.decide_by import decide_by_words
from fieldapp.report.in_any_case import in_any_case
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.option_tubes import WEAK_MEANS, Reason, works_of_option
from fieldapp.report.sections.owner_option import if_engineer_allows_words, option_heading
from fieldapp.report.sections.owner_unknown import not_known
from model.decision.advice import Advice, OptionMoney
from model.decision.options.option_names import option_name


def advice_columns(advice: Advice) -> Sequence[str]:
    """One for each year of the horizon among them; year 0 is this outage."""
    return (
        "option",
        "name",
        "advised",
        "may_be_chosen",
        "ruled_out",
        "currency",
        "cost_now",
        "present_value",
        "present_value_p10",
        "present_value_p90",
        *(f"cost_year_{year}" for year in range(_years(advice))),
        "tubes_lost",
        "joint_leaks",
        "forced_outages",
        "labour_hours",
        "outage_days",
    )


def advice_rows(advice: Advice) -> Iterable[Sequence[Cell]]:
    """The options in the advice's order; what was not worked out stays empty."""
    years = _years(advice)
    for each in advice.options:
        yield (
            each.plan.key,
            option_name(each.plan.key),
            each.plan.key == advice.option,
            may_be_chosen_words(each),
            each.ruled_out,
            advice.currency,
            *_money_cells(each.money, years),
            *((None, None) if is_not_counted(each) else (_tenths(each.hours), _tenths(each.days))),
        )


OPTION_TUBE_COLUMNS = ("tube", "pass", "tubes", "what_is_done", "reason", "why")


def option_tube_rows(numbers: ConditionNumbers, advice: Advice) -> Iterable[Sequence[Cell]]:
    """What the option advised does to which tube; a pass that is retubed has one row."""
    for each in works_of_option(numbers, advice):
        named = each.words if each.tube is None else each.tube.tube.key
        yield (named, each.pass_, each.count, each.does, str(each.reason), each.why)


def about_advice(numbers: ConditionNumbers, advice: Advice) -> Iterable[Sequence[Cell]]:
    """What is advised and why, and the option by condition alone beside it."""
    yield ("recommendation", advice.words)
    yield ("kind of advice", option_heading(numbers, advice))
    yield ("advised by", advice.by)
    if advice.option is not None:
        yield ("when to decide", decide_by_words(numbers, advice))
    if first := if_engineer_allows_words(numbers, advice):
        yield ("ask first", first)
    yield from (("in any case", each) for each in in_any_case(numbers, advice))
    yield from (("reason", reason) for reason in advice.reasons)
    if advice.runner_up is not None:
        yield ("runner-up", option_name(advice.runner_up))
        yield ("margin to the runner-up, present value", advice.margin)
        yield ("share of the trials in which it is cheaper", advice.share_cheaper)
    if any(each.reason is Reason.WEAK for each in works_of_option(numbers, advice)):
        yield ("what weak means", WEAK_MEANS)
    yield ("option by condition alone", numbers.advice.words)
    yield from (("reason by condition alone", reason) for reason in numbers.advice.reasons)
    yield from (("not known", each) for each in not_known(numbers, advice))


def _tenths(value: float) -> float:
    """Hours and days as the report tells them: 79.80000000000001 is the sum of whole tenths."""
    return round(value, 1)


def _years(advice: Advice) -> int:
    """Years that have a cost, this outage included; none where nothing has a price."""
    return max((len(each.money.flows) for each in advice.options if each.money), default=0)


def _money_cells(money: OptionMoney | None, years: int) -> tuple[Cell, ...]:
    if money is None:
        return (None,) * (4 + years + 3)
    return (
        money.cost_now,
        money.present_value,
        money.p10,
        money.p90,
        *money.flows,
        sum(money.leaks),
        sum(money.joint_leaks),
        sum(money.forced_outages),
    )
