"""The advice in sentences that page and terminal share: years, sums, break-evens, planned work.

Not here: which options are shown (``advice_picks``), the names of options (``option_names``).
"""

from collections.abc import Sequence
from dataclasses import dataclass

from fieldapp.report.wording import capital, say_count, say_list, say_number
from model.decision.advice import Advice, BreakEven, OptionMoney, OptionResult, PlannedWork
from model.decision.by_condition import FIND_OUT
from model.decision.choosing.what_changes import FURTHER_LEAKS, YEARS_TO_REPLACEMENT
from model.decision.limits import CLUSTER, COVERAGE, OUT_OF_SERVICE, LimitResult, LimitStatus
from model.decision.money_words import rounded
from model.decision.options.option_names import option_in_sentence
from model.decision.options.plan_making import said_passes

Priced = Sequence[tuple[OptionResult, OptionMoney]]

_BEYOND = {
    LimitStatus.WATCH: "watch",
    LimitStatus.ACT: "act",
    LimitStatus.REFER: "refer to an engineer",
    LimitStatus.UNKNOWN: "not known",
}


def may_be_chosen_words(each: OptionResult) -> str:
    """Whether an option may be chosen; finding out more comes before the others."""
    if each.ruled_out is not None:
        return "no"
    return "a step before" if each.plan.key == FIND_OUT else "yes"


NOT_COUNTED = "not counted"
"""Where labour and outage of an option were not worked out."""


def say_year(year: int, inspected_on: str | None) -> str:
    """A year after the inspection, by the calendar where the inspection has a date.

    >>> say_year(0, "2026-09-15"), say_year(1, "2026-09-15"), say_year(2, None)
    ('now', '2027', 'year 2')
    """
    if year == 0:
        return "now"
    first = _calendar_year(inspected_on)
    return f"year {year}" if first is None else str(first + year)


def say_years(first: int, last: int, inspected_on: str | None) -> str:
    """One year, or several in a row.

    >>> say_years(6, 10, "2026-09-15"), say_years(6, 7, None), say_years(3, 3, None)
    ('2032-36', 'years 6-7', 'year 3')
    """
    if first == last:
        return say_year(first, inspected_on)
    begun = _calendar_year(inspected_on)
    if begun is None:
        return f"years {first}-{last}"
    return f"{begun + first}-{(begun + last) % 100:02d}"


def _calendar_year(inspected_on: str | None) -> int | None:
    text = (inspected_on or "")[:4]
    return int(text) if len(text) == 4 and text.isdecimal() else None


@dataclass(frozen=True, slots=True, kw_only=True)
class MoneyScale:
    """Sums of one table: by ones, thousands or millions, so that the widest fits its column."""

    currency: str
    divisor: float
    words: str

    def cell(self, value: float) -> str:
        return rounded(value / self.divisor)

    @property
    def unit(self) -> str:
        """What the numbers are in.

        >>> money_scale([20_000_000.0], "USD").unit
        'thousand USD'
        """
        return f"{self.words} {self.currency}".strip() or "money"


def money_scale(values: Sequence[float], currency: str) -> MoneyScale:
    """The scale for sums that stand in columns beside each other."""
    most = max((abs(value) for value in values), default=0.0)
    for divisor, words in ((1e6, "million"), (1e3, "thousand")):
        if most >= divisor * 1e4:
            return MoneyScale(currency=currency, divisor=divisor, words=words)
    return MoneyScale(currency=currency, divisor=1.0, words="")


def scale_of_costs(priced: Priced, currency: str) -> MoneyScale:
    """For what options cost now and over the years, up to the end of its range."""
    return money_scale(
        [value for _, m in priced for value in (m.cost_now, m.present_value, m.p90)], currency
    )


def scale_of_years(priced: Priced, currency: str) -> MoneyScale:
    """For the cash of each year beside the present value."""
    return money_scale(
        [value for _, money in priced for value in (*money.flows, money.present_value)], currency
    )


def say_amount(value: float, unit: str, currency: str) -> str:
    """An input of the advice with its unit; money as money is said.

    >>> say_amount(15432.0, "USD a day", "USD"), say_amount(0.5, "leaks a year", "USD")
    ('15,400 USD a day', '0.5 leaks a year')
    """
    return f"{_input(value, unit, currency)} {unit}".rstrip()


def _input(value: float, unit: str, currency: str) -> str:
    if (currency and unit.startswith(currency)) or abs(value) >= 100.0:
        return rounded(value)
    return f"{value:.3g}"


def no_credit_words(advice: Advice) -> str:
    """That new tubes get no credit, beside what options cost; empty where they do."""
    if not advice.is_by_money or not advice.passes_without_growth:
        return ""
    return (
        f"How leaks of {said_passes(advice.passes_without_growth)} grow with age is not known: new "
        "tubes are taken to leak as old ones do, which speaks against retubing and a new boiler."
    )


def say_break_even(each: BreakEven, currency: str) -> str:
    """From where on another option costs less, or that no value in the range does it."""
    low, high = (_input(value, each.unit, currency) for value in (each.low, each.high))
    turns = [
        f"{_beyond(each, value, word, currency)} {_other(option)} costs less"
        for value, word, option in (
            (each.below, "below", each.below_option),
            (each.above, "above", each.above_option),
        )
        if value is not None
    ]
    name = capital(each.name)
    if not turns:
        return f"{name}: no value between {low} and {high} {each.unit} changes the choice."
    # Leaks are told as times those expected: now is once, which tells nothing.
    now = "" if each.name == FURTHER_LEAKS else f", now {_said(each, each.now, currency)}"
    return f"{name}{now}: {say_list(turns)}."


def _beyond(each: BreakEven, value: float, word: str, currency: str) -> str:
    """From where on; of years the first at which another option is cheapest."""
    if each.name != YEARS_TO_REPLACEMENT:
        return f"{word} {_said(each, value, currency)}"
    more = {"below": "fewer", "above": "more"}[word]
    return f"with {say_count(round(value), 'year')} or {more} left"


def _said(each: BreakEven, value: float, currency: str) -> str:
    if each.name == YEARS_TO_REPLACEMENT:
        return say_count(round(value), "year")
    if each.name == FURTHER_LEAKS:
        return f"{value:.2g} {each.unit}"
    return say_amount(value, each.unit, currency)


def _other(key: str | None) -> str:
    return "another option" if key is None else option_in_sentence(key)


def say_ruled_out(sentence: str) -> str:
    """Why an option may not be chosen, after a colon.

    >>> say_ruled_out("Ruled out: 6 tubes are bad. Also: 3 joints leak.")
    '6 tubes are bad. Also: 3 joints leak.'
    """
    return sentence.removeprefix("Ruled out: ")


def say_planned(planned: PlannedWork | None, inspected_on: str | None) -> str:
    """The next planned work with the year in which it comes, as often as not."""
    if planned is None:
        return "none"
    if planned.year is None:
        return f"{planned.words}: in {100.0 * planned.chance:.0f} % of the trials"
    when = say_planned_year(planned.year, inspected_on)
    often = "" if planned.chance > 0.995 else f" ({100.0 * planned.chance:.0f} % of the trials)"
    return f"{planned.words}: {when}{often}"


def say_planned_year(year: float, inspected_on: str | None) -> str:
    """The year of planned work: a median over trials, rounded up to a whole year."""
    return say_year(max(1, -int(-year // 1)), inspected_on)


def say_limit(each: LimitResult) -> str:
    """Where one limit is judged and how it stands, in a few words."""
    where = "" if each.pass_ is None else f"pass {each.pass_} "
    if each.name == CLUSTER:
        width = "not known" if each.value is None else f"{each.value:.0f} mm"
        return f"{each.sheet} sheet: {width} around plugs"
    value = "not known" if each.value is None else f"{each.value:.1f} %"
    if each.name == COVERAGE:
        return f"{value} of the ends looked at"
    return f"{where}{value} {'out of service' if each.name == OUT_OF_SERVICE else 'plugged'}"


def say_margin(each: LimitResult) -> str:
    """How far a value is from its levels, beyond them or within."""
    if each.value is None:
        return "cannot be judged"
    if each.name == CLUSTER:
        allowed = "not known" if each.act is None else f"{each.act:.0f} mm"
        return f"permitted {allowed}"
    side = "below" if each.name == COVERAGE else "above"
    levels = [
        f"{name} {side} {say_number(level)} %"
        for name, level in (("watch", each.watch), ("act", each.act))
        if level is not None
    ]
    return ", ".join(levels) or "no level set"


def say_limits_after(limits: Sequence[LimitResult]) -> str:
    """The limits that are not kept after an option, worst first; all others are."""
    order = (LimitStatus.ACT, LimitStatus.REFER, LimitStatus.WATCH, LimitStatus.UNKNOWN)
    broken = [each for status in order for each in limits if each.status is status]
    if not broken:
        return "none" if limits else "not worked out"
    return "; ".join(f"{say_limit(each)} ({_BEYOND[each.status]})" for each in broken)


def say_work(result: OptionResult) -> str:
    """Hours of labour and days of outage, as an owner plans them."""
    if is_not_counted(result):
        return f"hours of labour and days of outage that were {NOT_COUNTED}"
    hours = f"{rounded_hours(result.hours)} hours of labour"
    if result.plan.waits_days <= 0.0:
        return f"{hours}, {_days(result.days)} of outage"
    return f"{hours}, {say_until_done(result)}"


def say_until_done(result: OptionResult) -> str:
    """The days until the work is done, and how many of them go by in waiting for tubes."""
    waits = rounded_hours(result.plan.waits_days)
    return f"about {_days(result.days)} until the work is done ({waits} of them waiting for tubes)"


def is_not_counted(result: OptionResult) -> bool:
    """Whether its labour and outage were not worked out."""
    return not result.is_work_counted


def _days(days: float) -> str:
    return f"{rounded_hours(days)} {'day' if round(days, 1) == 1.0 else 'days'}"


def rounded_hours(value: float) -> str:
    """Hours or days: whole, or to the tenth where there are few.

    >>> rounded_hours(341.6), rounded_hours(2.25), rounded_hours(0.03), rounded_hours(0.0)
    ('342', '2.2', 'less than 0.1', '0')
    """
    if 0.0 < value < 0.05:
        return "less than 0.1"
    return f"{value:,.0f}" if value >= 10.0 or value == 0.0 else f"{value:.1f}"
