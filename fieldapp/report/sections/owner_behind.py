"""Behind the advice: why, what each option costs with its range, what matters, what changes it.

Not here: the options in tables (``owner_options``), prices and assumptions (``owner_inputs``).
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from fieldapp.drawing.cost_chart import CostBar, build_cost_chart
from fieldapp.drawing.driver_chart import DriverBar, build_driver_chart
from fieldapp.report.advice_picks import named_option, priced_options, ruled_out_by_reason
from fieldapp.report.advice_words import (
    money_scale,
    say_amount,
    say_break_even,
    say_ruled_out,
    scale_of_costs,
)
from fieldapp.report.in_any_case import in_any_case
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Chart, Paragraph, Piece, Points, Section, Tone
from fieldapp.report.sections.owner_option import margin_words
from fieldapp.report.sections.owner_unknown import not_known
from fieldapp.report.wording import capital, say_list
from model.decision.advice import Advice, Driver, Measurement, OptionMoney, OptionResult
from model.decision.choosing.what_matters import THE_RECORD
from model.decision.money_words import rounded, say_money
from model.decision.options.option_names import option_in_sentence, option_name


def build_owner_behind(numbers: ConditionNumbers, advice: Advice) -> Section:
    """The reasons first; then only what was worked out: no chart without money."""
    pieces: list[Piece] = []
    if advice.reasons:
        pieces.append(Points(heading="Why", items=advice.reasons))
    if still := in_any_case(numbers, advice):
        pieces.append(Points(heading="What the option does not mend", items=still))
    if not advice.is_by_money:
        by = Paragraph(heading="Not by money", words=f"By {advice.by}", tone=Tone.WATCH)
        pieces.append(by)
    pieces += _ruled_out(advice)
    pieces += _costs(advice)
    if advice.is_by_money and advice.option is not None:
        pieces += [*_matters(advice), *_changes(advice), *_measurements(advice)]
    if unknown := not_known(numbers, advice):
        pieces.append(Points(heading="All that is not known", items=unknown))
    return Section(key="behind", heading="Behind the advice", pieces=tuple(pieces))


def _costs(advice: Advice) -> list[Piece]:
    priced = priced_options(advice)
    if not priced:
        return []
    scale = scale_of_costs(priced, advice.currency)
    return [
        Chart(
            title=f"What each option costs over {advice.horizon_years} years",
            caption="Present value; a pointer marks the option that the advice names. Left part: "
            "paid in this outage; right part: in later years. The stroke below a bar spans 10 to "
            "90 % of the trials, as do the sums in brackets.",
            build=partial(
                build_cost_chart,
                [_cost_bar(advice, each, money) for each, money in priced],
                say=scale.cell,
                unit=scale.unit,
                words=_costs_in_words(advice, priced),
            ),
            is_narrow=True,
        ),
        *([Paragraph(words=words)] if (words := margin_words(advice)) else []),
    ]


def _cost_bar(advice: Advice, each: OptionResult, money: OptionMoney) -> CostBar:
    return CostBar(
        name=option_name(each.plan.key),
        now=money.cost_now,
        present_value=money.present_value,
        p10=money.p10,
        p90=money.p90,
        is_advised=advice.is_by_money and each is named_option(advice),
    )


def _costs_in_words(advice: Advice, priced: Sequence[tuple[OptionResult, OptionMoney]]) -> str:
    said = [
        f"{option_name(each.plan.key)} {say_money(money.present_value, advice.currency)}, "
        f"{rounded(money.p10)} to {rounded(money.p90)}"
        for each, money in priced
    ]
    return f"Present value of each option, with its range. {'; '.join(said)}."


def _ruled_out(advice: Advice) -> list[Piece]:
    ruled_out = ruled_out_by_reason(advice)
    if not ruled_out:
        return []
    return [
        Points(
            heading="Ruled out, and why",
            items=tuple(
                f"{_names(options)}: {say_ruled_out(reason)}{_would_cost(advice, options)}"
                for reason, options in ruled_out
            ),
        )
    ]


def _names(options: Sequence[OptionResult]) -> str:
    first, *others = options
    return say_list(
        [option_name(first.plan.key), *(option_in_sentence(each.plan.key) for each in others)]
    )


def _would_cost(advice: Advice, options: Sequence[OptionResult]) -> str:
    for each in options:
        if each.money is not None and each.plan.key == advice.if_engineer_allows:
            cost = say_money(each.money.present_value, advice.currency)
            return (
                f" {option_name(each.plan.key)} would cost less, {cost}, if an engineer allows it."
            )
    return ""


def _matters(advice: Advice) -> list[Piece]:
    if not advice.drivers or advice.margin is None or advice.runner_up is None:
        return []
    runner_up = option_in_sentence(advice.runner_up)
    ends = [value for each in advice.drivers for value in (each.margin_low, each.margin_high)]
    scale = money_scale([advice.margin, *ends], advice.currency)
    return [
        Chart(
            title="What matters most",
            caption=f"How far each input, alone, moves the margin to {runner_up}: the open ring is "
            "at the low end of its range, the filled one at the high end. Left of 0 "
            f"{runner_up} is cheaper. In brackets: who says so, or the record of this boiler.",
            build=partial(
                build_driver_chart,
                [_driver_bar(each, advice) for each in advice.drivers],
                margin=advice.margin,
                say=scale.cell,
                unit=scale.unit,
                words=_drivers_in_words(advice),
            ),
            is_narrow=True,
        )
    ]


def _driver_bar(each: Driver, advice: Advice) -> DriverBar:
    return DriverBar(
        name=_driver_words(replace(each, source=short_source(each.source)), advice.currency),
        margin_low=each.margin_low,
        margin_high=each.margin_high,
    )


def short_source(source: str) -> str:
    """Who says so in a word where there is one: a long label makes the letters of all small.

    >>> short_source("the record of this boiler"), short_source("owner")
    ('record', 'owner')
    """
    return "record" if source == THE_RECORD else source


def _driver_words(each: Driver, currency: str) -> str:
    low, high = (say_amount(value, each.unit, currency) for value in (each.low, each.high))
    low = low.removesuffix(each.unit).rstrip()
    source = f" ({each.source})" if each.source else ""
    return f"{capital(each.name)}, {low} to {high}{source}"


def _drivers_in_words(advice: Advice) -> str:
    said = [
        f"{_driver_words(each, advice.currency)}: margin {rounded(each.margin_low)} to "
        f"{rounded(each.margin_high)}"
        for each in advice.drivers
    ]
    return f"What moves the margin between the option and the runner-up. {'; '.join(said)}."


def _changes(advice: Advice) -> list[Piece]:
    if not advice.changes_if:
        return []
    return [
        Points(
            heading="What would change the choice",
            items=tuple(say_break_even(each, advice.currency) for each in advice.changes_if),
        ),
        Paragraph(words="One input is varied at a time, the others stay as they are."),
    ]


def _measurements(advice: Advice) -> list[Piece]:
    if not advice.measure_next:
        return []
    return [
        Points(
            heading="What it would be worth to know before choosing, at most",
            items=tuple(
                f"{capital(each.words).rstrip('.')}: {say_worth(each, advice.currency)}."
                for each in advice.measure_next
            ),
        )
    ]


def say_worth(each: Measurement, currency: str) -> str:
    """What a measurement is worth, said in words where that is nothing."""
    return say_money(each.worth, currency) if round(each.worth, 2) > 0.0 else "nothing"
