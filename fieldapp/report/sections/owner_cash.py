"""The owner's page: cash by year of the best three options, beside their present value.

Not here: the other options by year (``owner_options``).
"""

from fieldapp.report.advice_picks import best_options, costs_of
from fieldapp.report.advice_words import MoneyScale, no_credit_words, say_years, scale_of_years
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import (
    Cell,
    Column,
    Paragraph,
    Piece,
    Row,
    Section,
    Table,
    words,
)
from fieldapp.report.wording import say_number
from model.decision.advice import Advice, OptionMoney
from model.decision.options.option_names import option_name
from model.decision.prices import prices_of

SINGLE_YEARS = 10
"""Up to so many years each has its column."""
_FIRST_YEARS = 5
_NOTHING = Paragraph(words="No cash by year was worked out.")
_BANDS = 5


def build_owner_cash(numbers: ConditionNumbers, advice: Advice) -> Section:
    """The table, or which figures are missing."""
    best = best_options(advice)
    scale = scale_of_years(best, advice.currency)
    return Section(
        key="cash",
        heading=f"Cash by year, {scale.unit}" if best else "Cash by year",
        pieces=_table(numbers, advice, scale) if best else (_NOTHING,),
        is_on_first_page=True,
    )


def year_bands(horizon_years: int) -> tuple[tuple[int, int], ...]:
    """The columns: year 0, each year where there are few, else the first and bands of years.

    >>> year_bands(3)
    ((0, 0), (1, 1), (2, 2), (3, 3))
    >>> year_bands(20)[-2:]
    ((15, 17), (18, 20))
    """
    single = horizon_years if horizon_years <= SINGLE_YEARS else _FIRST_YEARS
    bands = [(year, year) for year in range(single + 1)]
    step = -(-(horizon_years - single) // _BANDS)
    bands += [
        (first, min(first + step - 1, horizon_years))
        for first in (range(single + 1, horizon_years + 1, step) if step else ())
    ]
    return tuple(bands)


def cash_row(
    key: str, money: OptionMoney, bands: tuple[tuple[int, int], ...], scale: MoneyScale
) -> Row:
    """One option: its present value, then what is paid in each column."""
    paid = [scale.cell(sum(money.flows[first : last + 1])) for first, last in bands]
    return Row(
        cells=(
            Cell(words=option_name(key)),
            Cell(words=scale.cell(money.present_value)),
            *words(*paid),
        )
    )


def _table(numbers: ConditionNumbers, advice: Advice, scale: MoneyScale) -> tuple[Piece, ...]:
    bands = year_bands(advice.horizon_years)
    date = numbers.inspection.facts.date
    table = Table(
        caption="What is paid in which year",
        columns=(
            Column(heading="option"),
            Column(heading="present value", is_number=True),
            *(Column(heading=say_years(*band, date), is_number=True) for band in bands),
        ),
        rows=tuple(
            cash_row(each.plan.key, money, bands, scale) for each, money in best_options(advice)
        ),
        if_empty="No option has a price.",
    )
    return table, Paragraph(words=f"{_about(numbers)} {no_credit_words(advice)}".rstrip())


def _about(numbers: ConditionNumbers) -> str:
    rate = prices_of(costs_of(numbers)).items.get("discount_percent")
    at = "" if rate is None else f" at {say_number(rate.value)} % a year"
    return f"Mean over the trials, not discounted; only the present value is{at or ' discounted'}."
