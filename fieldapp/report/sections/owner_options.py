"""Behind the advice: every option in tables: cost, work, risk, limits, gas side, cash by year.

Not here: why one of them is advised (``owner_behind``).
"""

from collections.abc import Iterable, Sequence

from fieldapp.report.advice_picks import all_priced_options
from fieldapp.report.advice_words import (
    NOT_COUNTED,
    is_not_counted,
    may_be_chosen_words,
    rounded_hours,
    say_limits_after,
    say_planned,
    say_year,
    scale_of_costs,
    scale_of_years,
)
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import (
    Cell,
    Column,
    Paragraph,
    Piece,
    Row,
    Section,
    Table,
    Tone,
    columns,
    words,
)
from model.decision.advice import Advice, GasAfter, OptionMoney, OptionResult
from model.decision.limits import LimitResult, LimitStatus
from model.decision.money_words import rounded
from model.decision.options.option_names import option_name

YEARS_A_TABLE = 10
_RULED_OUT = "*"
"""Marks an option in tables too narrow to say it."""
_WORST_FIRST = {
    LimitStatus.ACT: Cell(words="act", tone=Tone.ACT),
    LimitStatus.REFER: Cell(words="refer", tone=Tone.ACT),
    LimitStatus.WATCH: Cell(words="watch", tone=Tone.WATCH),
    LimitStatus.UNKNOWN: Cell(words="not known", tone=Tone.WATCH),
}
_ALL_KEPT = Cell(words="all kept", tone=Tone.GOOD)
RETUNE = "Retune and check carbon monoxide after plugging, whatever these figures say."


def build_owner_options(numbers: ConditionNumbers, advice: Advice) -> Section:
    """What each option is and does, and what it costs as far as that was worked out."""
    pieces: list[Piece] = [_what_they_are(advice)] if advice.options else []
    if all_priced_options(advice):
        pieces += [_costs(numbers, advice), *_by_year(numbers, advice)]
    pieces += [*_limits(advice), *_gas_side(advice)]
    if not pieces:
        pieces = [Paragraph(words="No option was worked out.")]
    return Section(key="options", heading="Every option", pieces=tuple(pieces))


def _what_they_are(advice: Advice) -> Table:
    return Table(
        caption="What each option is",
        columns=(
            Column(heading="option"),
            Column(heading="what is done"),
            Column(heading="labour", unit="hours", is_number=True),
            Column(heading="outage", unit="days", is_number=True),
            Column(heading="key, for commands"),
        ),
        rows=tuple(
            Row(
                cells=(
                    *words(option_name(each.plan.key), each.plan.words),
                    *words(*_work(each)),
                    Cell(words=each.plan.key),
                )
            )
            for each in advice.options
        ),
        if_empty="No option was worked out.",
    )


def _work(each: OptionResult) -> tuple[str, str]:
    if is_not_counted(each):
        return NOT_COUNTED, NOT_COUNTED
    return rounded_hours(each.hours), rounded_hours(each.days)


def _may(each: OptionResult) -> Cell:
    tone = Tone.PLAIN if each.ruled_out is None else Tone.WATCH
    return Cell(words=may_be_chosen_words(each), tone=tone)


def _costs(numbers: ConditionNumbers, advice: Advice) -> Table:
    priced = all_priced_options(advice)
    scale = scale_of_costs(priced, advice.currency)
    date = numbers.inspection.facts.date

    def row(each: OptionResult, money: OptionMoney) -> Row:
        cell = scale.cell
        return Row(
            cells=(
                Cell(words=option_name(each.plan.key)),
                _may(each),
                *words(
                    cell(money.cost_now),
                    cell(money.present_value),
                    cell(money.p10),
                    cell(money.p90),
                    f"{sum(money.leaks):.1f}",
                    f"{money.leaks_p10:.0f}-{money.leaks_p90:.0f}",
                    f"{sum(money.joint_leaks):.1f}",
                    f"{sum(money.forced_outages):.1f}",
                    say_planned(money.planned, date),
                ),
            )
        )

    return Table(
        caption=f"What the options cost and risk over {advice.horizon_years} years",
        columns=(
            Column(heading="option"),
            Column(heading="may it be chosen"),
            Column(heading="now", unit=scale.unit, is_number=True),
            Column(heading="present value", unit=scale.unit, is_number=True),
            Column(heading="10 % of trials below", unit=scale.unit, is_number=True),
            Column(heading="10 % of trials above", unit=scale.unit, is_number=True),
            Column(heading="tubes lost", is_number=True),
            Column(heading="in 8 of 10 trials", is_number=True),
            Column(heading="joints leaking", is_number=True),
            Column(heading="forced outages", is_number=True),
            Column(heading="next planned work"),
        ),
        rows=tuple(row(each, money) for each, money in priced),
        if_empty="No option has a price.",
    )


def _by_year(numbers: ConditionNumbers, advice: Advice) -> list[Piece]:
    """Cash of every year, ten years a table, the present value in the last."""
    priced = all_priced_options(advice)
    scale = scale_of_years(priced, advice.currency)
    date, last_year = numbers.inspection.facts.date, advice.horizon_years
    firsts = [0, *range(YEARS_A_TABLE + 1, last_year + 1, YEARS_A_TABLE)]
    is_any_ruled_out = any(each.ruled_out is not None for each, _ in priced)
    tables: list[Piece] = []
    for first in firsts:
        until = min(last_year, first + YEARS_A_TABLE - (1 if first else 0))
        years, is_last = range(first, until + 1), until == last_year
        tables.append(
            Table(
                caption=f"What is paid in which year, {scale.unit}"
                + ("" if len(firsts) == 1 else f": {say_year(first, date)} to ")
                + ("" if len(firsts) == 1 else say_year(until, date))
                + (f" ({_RULED_OUT} ruled out)" if is_any_ruled_out else ""),
                columns=(
                    Column(heading="option"),
                    *(Column(heading=say_year(year, date), is_number=True) for year in years),
                    *([Column(heading="present value", is_number=True)] if is_last else []),
                ),
                rows=tuple(
                    Row(
                        cells=(
                            Cell(words=_name(each)),
                            *words(*(scale.cell(money.flows[year]) for year in years)),
                            *(words(scale.cell(money.present_value)) if is_last else ()),
                        )
                    )
                    for each, money in priced
                ),
                if_empty="No option has a price.",
            )
        )
    return tables


def _name(each: OptionResult) -> str:
    name = option_name(each.plan.key)
    return name if each.ruled_out is None else f"{_RULED_OUT} {name}"


def _limits(advice: Advice) -> list[Piece]:
    judged = [each for each in advice.options if each.limits]
    if not judged:
        return []
    return [
        Table(
            caption="Acceptance limits after each option",
            columns=columns("option", "at worst", "limits that are not kept"),
            rows=tuple(
                Row(
                    cells=(
                        Cell(words=option_name(each.plan.key)),
                        _at_worst(each.limits),
                        Cell(words=say_limits_after(each.limits)),
                    )
                )
                for each in judged
            ),
            if_empty="No limit was judged.",
        )
    ]


def _at_worst(limits: Sequence[LimitResult]) -> Cell:
    found = {each.status for each in limits}
    return next((cell for status, cell in _WORST_FIRST.items() if status in found), _ALL_KEPT)


def _gas_side(advice: Advice) -> list[Piece]:
    known = [(each, each.gas) for each in advice.options if each.gas is not None]
    if not known:
        return []
    return [
        Table(
            caption="Gas side after each option, against no plugs at all",
            columns=(
                Column(heading="option"),
                Column(heading="stack rise", unit="K", is_number=True),
                Column(heading="efficiency lost", unit="points", is_number=True),
                Column(heading="more fuel", unit="%", is_number=True),
                Column(heading="draft loss", unit="times", is_number=True),
                Column(heading="highest output", unit="kW", is_number=True),
            ),
            rows=tuple(_gas_row(each, gas) for each, gas in known),
            if_empty="The gas side was not worked out.",
        ),
        Paragraph(words=" ".join((*_remarks(gas for _, gas in known), RETUNE))),
    ]


def _remarks(found: Iterable[GasAfter]) -> list[str]:
    """What is said of the highest output, once each."""
    remarks = dict.fromkeys(gas.output_remark.rstrip(".") for gas in found if gas.output_remark)
    return [f"Highest output: {each[:1].lower()}{each[1:]}." for each in remarks]


def _gas_row(each: OptionResult, gas: GasAfter) -> Row:
    limit = gas.output_limit_kw
    return Row(
        cells=words(
            option_name(each.plan.key),
            f"{gas.stack_rise_k:.1f}",
            f"{gas.efficiency_loss_points:.2f}",
            f"{gas.fuel_rise_percent:.2f}",
            f"{gas.draft_ratio:.2f}",
            "not computed" if limit is None else rounded(limit),
        )
    )
