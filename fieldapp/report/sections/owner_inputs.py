"""Behind the advice: every price with its source, what was assumed, and how to run it again.

Not here: the file itself (``rerun_input``).
"""

from collections import defaultdict

from fieldapp.report.advice_picks import all_priced_options, costs_of
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import (
    Cell,
    Column,
    Facts,
    Piece,
    Points,
    Row,
    Section,
    Table,
    Tone,
)
from fieldapp.report.price_words import price_unit, price_words
from fieldapp.report.rerun_input import FILE_NAME, rerun_commands, what_if_command
from fieldapp.report.wording import say_count, say_list
from model.decision.advice import Advice, OptionResult
from model.decision.options.option_names import option_in_sentence
from model.decision.prices import BY_PRICE, Price, Prices, PriceSource, prices_of

_USED_BESIDE = ("deductible",)


def build_owner_inputs(numbers: ConditionNumbers, advice: Advice) -> Section:
    """The table of prices, and everything taken for granted."""
    prices = prices_of(costs_of(numbers))
    pieces: list[Piece] = [_prices(prices, advice)]
    pieces += _missing(prices, advice)
    assumptions = (*advice.assumptions, *_of_single_options(advice))
    if assumptions:
        pieces.append(Points(heading="Assumptions", items=assumptions))
    pieces.append(Facts(pairs=_how_to_repeat(numbers, advice)))
    return Section(
        key="inputs", heading="Prices and assumptions of the advice", pieces=tuple(pieces)
    )


def _of_single_options(advice: Advice) -> list[str]:
    """What was assumed for some options only, each once with the options it is for."""
    keys: dict[str, list[str]] = defaultdict(list)
    for each in advice.options:
        for assumption in each.plan.assumptions:
            keys[assumption].append(option_in_sentence(each.plan.key))
    return [f"{assumption} (For {say_list(names)}.)" for assumption, names in keys.items()]


def _prices(prices: Prices, advice: Advice) -> Table:
    return Table(
        caption="Every price, and who says so",
        columns=(
            Column(heading="price of"),
            Column(heading="value", is_number=True),
            Column(heading="unit"),
            Column(heading="source"),
            Column(heading="name in [costs]"),
        ),
        rows=tuple(
            _row(price, shown, prices.currency, end)
            for price in sorted(prices.items.values(), key=lambda each: price_words(each.name))
            for shown, end in _values(price, prices)
        ),
        if_empty="No price was given.",
    )


def _values(price: Price, prices: Prices) -> list[tuple[float, str]]:
    """A figure; hours for a tube once for each way in which ends are made."""
    if price.name == "hours_per_tube" and any(prices.tube_hours):
        return [(hours, f" ({end})") for end, hours in prices.tube_hours.items()]
    return [(price.value, "")]


def _row(price: Price, value: float, currency: str, end: str) -> Row:
    source = Cell(
        words=str(price.source),
        tone=Tone.WATCH if price.source is PriceSource.ASSUMED else Tone.PLAIN,
    )
    return Row(
        cells=(
            Cell(words=f"{price_words(price.name)}{end}"),
            Cell(words=_exact(value)),
            Cell(words=price_unit(price.name, currency)),
            source,
            Cell(words=price.name),
        )
    )


def _exact(value: float) -> str:
    """As it was entered, with thousands apart.

    >>> _exact(12000.0), _exact(8.25)
    ('12,000', '8.25')
    """
    text = f"{value:,.4f}"
    return text.rstrip("0").rstrip(".")


def _missing(prices: Prices, advice: Advice) -> list[Piece]:
    said = []
    if not advice.is_by_money and prices.missing_essentials:
        said.append(
            f"Missing, so that nothing is ranked by money: {say_list(prices.missing_essentials)}."
        )
    if prices.counted_as_nothing:
        said.append(
            "Not given and counted as nothing in every option: "
            f"{say_list(prices.counted_as_nothing)}."
        )
    if unused := _unused(prices, advice):
        said.append(f"Given and in no option: {say_list(unused)}.")
    return [Points(heading="Figures missing or not used", items=tuple(said))] if said else []


def _unused(prices: Prices, advice: Advice) -> list[str]:
    """Figures given that no option's bill or later cost holds; bills only tell by money."""
    priced = all_priced_options(advice)
    used = {
        name
        for each, money in priced
        for name, flows in (*money.flows_by_item.items(), *_this_outage(each))
        if any(flows)
    }
    by_price = {name for name in BY_PRICE if priced and name not in used}
    return [name for name in sorted({*_USED_BESIDE, *by_price}) if name in prices.items]


def _this_outage(each: OptionResult) -> list[tuple[str, tuple[float, ...]]]:
    return [(name, (quantity,)) for name, quantity in each.plan.bill_now.items()]


def _how_to_repeat(numbers: ConditionNumbers, advice: Advice) -> tuple[tuple[str, str], ...]:
    update, advise = rerun_commands(numbers.facts.tag)
    what_if = what_if_command(numbers.facts.tag)
    by_money = (
        ("Horizon", say_count(advice.horizon_years, "year")),
        ("Trials", f"{advice.trials:,}"),
        ("Seed of the trials", str(advice.seed)),
    )
    again = (
        f"Change {FILE_NAME}, one of the report's files, then type: {what_if} (stores nothing). "
        f"To keep the figures: {update}, and: {advise}"
    )
    return (*(by_money if advice.is_by_money else ()), ("To run it again", again))
