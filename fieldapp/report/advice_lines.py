"""The advice as plain lines for a terminal of 100 columns.

Not here: the sentences that the page says too (``advice_words``, ``sections.owner_option``).
"""

import textwrap
from collections.abc import Iterable, Iterator, Sequence

from fieldapp.report.advice_picks import (
    advised_option,
    all_priced_options,
    named_option,
    ruled_out_by_reason,
)
from fieldapp.report.advice_words import (
    MoneyScale,
    no_credit_words,
    say_break_even,
    say_limit,
    say_margin,
    say_ruled_out,
    say_work,
    scale_of_costs,
)
from fieldapp.report.certificate import certificate_words
from fieldapp.report.decide_by import decide_by_words
from fieldapp.report.gas_side_words import gas_side_remarks
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.option_tubes import THE_TUBES_OF_THE_OPTION, option_tube_lines
from fieldapp.report.sections.owner_option import (
    condition_words,
    cost_words,
    if_engineer_allows_words,
    in_any_case_words,
    margin_words,
    not_compared_words,
    option_heading,
)
from fieldapp.report.sections.owner_unknown import helps_most_words, not_known
from fieldapp.report.wording import say_count
from model.decision.advice import Advice, OptionResult
from model.decision.by_condition import FIND_OUT
from model.decision.limits import LimitResult

WIDTH = 100
_INDENT = "  "


def advice_lines(numbers: ConditionNumbers, advice: Advice) -> list[str]:
    """What is advised and why, its tubes, the options, the gas side, the limits, what would change
    it, what is missing."""
    lines = [f"{numbers.facts.tag}, inspection of {numbers.inspection.facts.date or 'no date'}", ""]
    lines += _lead(numbers, advice)
    lines += _listed("Why", advice.reasons)
    lines += _listed(THE_TUBES_OF_THE_OPTION, option_tube_lines(numbers, advice))
    lines += _options(advice)
    gas = gas_side_remarks(numbers)
    lines += _listed("The gas side", gas)
    lines += _listed(
        "Ruled out",
        (
            f"{', '.join(each.plan.key for each in options)}: {say_ruled_out(reason)}"
            for reason, options in ruled_out_by_reason(advice)
        ),
    )
    lines += _limits(numbers, advice)
    lines += _listed(
        "What would change it",
        (say_break_even(each, advice.currency) for each in advice.changes_if),
    )
    helps_most = [helps_most_words(advice)] if advice.is_by_money else []
    # Why the gas side is not computed stands above already.
    unknown = [each for each in not_known(numbers, advice) if each not in gas]
    return lines + _listed("What is not known", (*helps_most, *unknown))


def _lead(numbers: ConditionNumbers, advice: Advice) -> list[str]:
    """The option with its cost, the runner-up, the day to decide by."""
    lines = wrapped(f"{option_heading(numbers, advice)}: {advice.words}")
    result = advised_option(advice)
    said = [if_engineer_allows_words(numbers, advice)]
    if not advice.is_by_money:
        said += [f"By {advice.by}", not_compared_words(numbers, advice)]
    elif result is not None and advice.option != FIND_OUT:
        if result.money is not None:
            said.append(f"Costs {cost_words(result.money, advice)}")
        said.append(f"Takes {say_work(result)}.")
    if result is not None and result.ruled_out is not None:
        said.append(f"As it stands it is ruled out: {say_ruled_out(result.ruled_out)}")
    said.append(margin_words(advice))
    said.append(condition_words(numbers, advice))
    if advice.option is not None:
        said += [decide_by_words(numbers, advice), in_any_case_words(numbers, advice)]
    said.append(certificate_words(numbers, advice))
    return [*lines, *(line for words in filter(None, said) for line in wrapped(words))]


def _options(advice: Advice) -> list[str]:
    """Every option that has a price, in columns; the one advised has a pointer."""
    priced = all_priced_options(advice)
    if not priced:
        return []
    scale, named = scale_of_costs(priced, advice.currency), named_option(advice)
    rows: list[tuple[str, ...]] = [
        ("option", "now", "present value", "10 to 90 % of trials", "tubes lost", "outages", "")
    ]
    rows += [
        (
            f"{'>' if each is named else ' '} {each.plan.key}",
            *_sums(scale, money.cost_now, money.present_value),
            " to ".join(_sums(scale, money.p10, money.p90)),
            f"{sum(money.leaks):.1f}",
            f"{sum(money.forced_outages):.1f}",
            _standing(each),
        )
        for each, money in priced
    ]
    return [
        "",
        f"What each option costs, {scale.unit}, and the forced outages, over "
        f"{say_count(advice.horizon_years, 'year')}",
        *in_columns(rows),
        *wrapped(no_credit_words(advice)),
    ]


def _standing(each: OptionResult) -> str:
    """Whether an option competes with the others."""
    if each.ruled_out is not None:
        return "ruled out"
    return "a step" if each.plan.key == FIND_OUT else ""


def _sums(scale: MoneyScale, *values: float) -> tuple[str, ...]:
    return tuple(scale.cell(value) for value in values)


def _limits(numbers: ConditionNumbers, advice: Advice) -> list[str]:
    """Where the limits stand today and after the option advised, and how far each is."""
    result = named_option(advice)
    after = {} if result is None else {_which(each): each for each in result.limits}
    rows = [("limit today", "status", "levels", "after the option" if after else "")]
    for each in numbers.limits:
        then = after.get(_which(each))
        rows.append(
            (
                f"  {say_limit(each)}",
                str(each.status),
                say_margin(each),
                "" if then is None else f"{_short(then)} ({then.status})",
            )
        )
    return ["", "Limits, and how far each is", *in_columns(rows, numbers_from=9)]


def _which(each: LimitResult) -> tuple[str, int | None, str | None]:
    return each.name, each.pass_, each.sheet


def _short(each: LimitResult) -> str:
    if each.value is None:
        return "not known"
    return f"{each.value:.0f} mm" if each.sheet is not None else f"{each.value:.1f} %"


def _listed(heading: str, items: Iterable[str]) -> list[str]:
    """A heading with its items, each begun by a dash; nothing where there is none."""
    lines = [line for item in items for line in wrapped(item, first="- ")]
    return ["", heading, *lines] if lines else []


def wrapped(words: str, *, first: str = "") -> list[str]:
    """Words in lines of the terminal's width."""
    return textwrap.wrap(
        words,
        WIDTH,
        initial_indent=first,
        subsequent_indent=_INDENT if first else "",
        break_on_hyphens=False,
    )


def in_columns(rows: Sequence[Sequence[str]], *, numbers_from: int = 1) -> Iterator[str]:
    """Rows in columns as wide as their widest cell, numbers at the right."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for row in rows:
        cells = [
            cell.rjust(width) if place >= numbers_from else cell.ljust(width)
            for place, (cell, width) in enumerate(zip(row, widths, strict=True))
        ]
        yield "  ".join(cells).rstrip()
