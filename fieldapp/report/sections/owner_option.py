"""The owner's page: the option with the lowest cost on these inputs, and the day to decide by.

Not here: what the others cost (``owner_cash``, ``owner_options``), why (``owner_behind``), the day
(``decide_by``).
"""

from fieldapp.cautions import DECISION
from fieldapp.report.advice_picks import advised_option, all_priced_options
from fieldapp.report.advice_words import is_not_counted, say_ruled_out, say_until_done
from fieldapp.report.decide_by import decide_by_words
from fieldapp.report.in_any_case import in_any_case
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Paragraph, Piece, Section, Tone, Verdict
from fieldapp.report.wording import capital, say_list
from model.decision.advice import Advice, OptionMoney, OptionResult
from model.decision.by_condition import FIND_OUT, RUN_ON
from model.decision.choosing.reasons import differ_now_only, say_share
from model.decision.limits import CLUSTER, LimitStatus
from model.decision.money_words import say_money
from model.decision.options.option_names import option_in_sentence, option_name
from model.record.words import Scope

_NOT_WHOLE = (Scope.LEAK_CALL, Scope.AFTER_REPAIR)
NOT_COMPARED = "This is not a comparison of costs: the cheapest option is not known."
_FEW = 2
"""Reasons on the page itself, where the advice is to look first."""


def build_owner_option(numbers: ConditionNumbers, advice: Advice) -> Section:
    """The option in the largest words of the page, with the Decision caution beside it."""
    still = in_any_case_words(numbers, advice)
    pieces: list[Piece] = [Verdict(words=advice.words, tone=_tone(advice.option, still))]
    when = "" if advice.option is None else decide_by_words(numbers, advice)
    pieces += [
        Paragraph(words=words)
        for words in (
            if_engineer_allows_words(numbers, advice),
            _sentences(numbers, advice),
            when,
            still,
        )
    ]
    pieces.append(Paragraph(heading="Decision", words=DECISION, tone=Tone.WATCH))
    return Section(
        key="verdict",
        heading=option_heading(numbers, advice),
        pieces=tuple(piece for piece in pieces if not _is_silent(piece)),
        is_on_first_page=True,
    )


def option_heading(numbers: ConditionNumbers, advice: Advice) -> str:
    """What kind of advice it is."""
    if advice.option is None or numbers.inspection.facts.scope in _NOT_WHOLE:
        return "No advice on the whole boiler"
    if not advice.is_by_money:
        return "The option by condition alone"
    return (
        "Before money is compared" if advice.option == FIND_OUT else "Lowest cost on these inputs"
    )


def margin_words(advice: Advice) -> str:
    """The runner-up, how much more it costs, and how often the option is cheaper."""
    if advice.option in (None, FIND_OUT) or not advice.is_by_money:
        return ""
    if advice.runner_up is None or advice.margin is None:
        return "No other option may be chosen, so there is no runner-up."
    other = option_name(advice.runner_up)
    if advice.margin < 0.0:
        said = f"{other} would cost {say_money(-advice.margin, advice.currency)} less"
    elif advice.margin == 0.0:
        said = f"{other} costs the same"
    else:
        said = f"Next is {option_in_sentence(advice.runner_up)}, "
        said += f"{say_money(advice.margin, advice.currency)} more"
    if only := _differ_only(advice):
        return f"{said}; the two differ only in {only}, now and not later."
    if advice.share_cheaper is None:
        return f"{said}."
    often = say_share(advice.share_cheaper)
    return f"{said}; {option_in_sentence(advice.option or '')} is {often}."


def _differ_only(advice: Advice) -> str:
    """Items of this outage alone, of which no trial can say anything."""
    mine, other = (advice.result(key or "") for key in (advice.option, advice.runner_up))
    if mine is None or other is None or mine.money is None or other.money is None:
        return ""
    return differ_now_only(mine.money, other.money)


def cost_words(money: OptionMoney, advice: Advice) -> str:
    """What an option costs now and over the years, with its range."""
    now, over, low, high = (
        say_money(value, advice.currency)
        for value in (money.cost_now, money.present_value, money.p10, money.p90)
    )
    return (
        f"{now} now and {over} in all over {advice.horizon_years} years in today's money; in eight "
        f"of ten trials between {low} and {high}."
    )


def if_engineer_allows_words(numbers: ConditionNumbers, advice: Advice) -> str:
    """What to ask first, where an option that a stay question rules out would cost less."""
    cheaper = (
        None if advice.if_engineer_allows is None else advice.result(advice.if_engineer_allows)
    )
    if cheaper is None or cheaper.money is None or advice.if_engineer_allows == advice.option:
        return ""
    now, over = (
        say_money(value, advice.currency)
        for value in (cheaper.money.cost_now, cheaper.money.present_value)
    )
    sheets = dict.fromkeys(
        each.sheet
        for each in cheaper.limits
        if each.name == CLUSTER and each.status is LimitStatus.REFER and each.sheet
    )
    see = f" (map of the {say_list(sheets)})" if sheets else ""
    return (
        f"Before that: ask an engineer whether the plate around the plugs holds{see}. If the "
        f"answer is yes{cheaper.if_answered}, {option_in_sentence(cheaper.plan.key)} costs {now} "
        f"now and {over} in all."
    )


def in_any_case_words(numbers: ConditionNumbers, advice: Advice) -> str:
    """What the option does not mend, in a paragraph."""
    said = " ".join(in_any_case(numbers, advice))
    if not said or advice.option is None:
        return ""
    # A key keeps its capital letter.
    return f"And in any case: {said[:1].lower() if said[1:2].islower() else said[:1]}{said[1:]}"


def _until_done(result: OptionResult | None) -> str:
    """How long it takes, where tubes are awaited."""
    if result is None or is_not_counted(result) or result.plan.waits_days <= 0.0:
        return ""
    return f"{capital(say_until_done(result))}."


def _sentences(numbers: ConditionNumbers, advice: Advice) -> str:
    if advice.option is None:
        return " ".join(advice.reasons)
    first = advice.reasons[:_FEW] if advice.option == FIND_OUT else ()
    if not advice.is_by_money:
        by = (f"By {advice.by}", not_compared_words(numbers, advice), _ruled_out_too(advice))
        return " ".join(filter(None, (*first, *by)))
    if advice.option == FIND_OUT:
        return " ".join(first)
    result = advised_option(advice)
    money = None if result is None else result.money
    cost = "" if money is None else cost_words(money, advice)
    return " ".join(filter(None, (cost, margin_words(advice), _until_done(result))))


def condition_words(numbers: ConditionNumbers, advice: Advice) -> str:
    """The option by condition alone, where money leads elsewhere and the limits hold for both."""
    alone = numbers.advice.option
    if not advice.is_by_money or alone is None or advice.option in (alone, FIND_OUT):
        return ""
    return f"By condition alone, before any money: {option_in_sentence(alone)}."


def not_compared_words(numbers: ConditionNumbers, advice: Advice) -> str:
    """That nothing is known of the cheapest option, where prices are missing."""
    is_whole = numbers.inspection.facts.scope not in _NOT_WHOLE
    if advice.is_by_money or advice.option is None or not is_whole or all_priced_options(advice):
        return ""
    return NOT_COMPARED


def _ruled_out_too(advice: Advice) -> str:
    """By condition alone an option may be named that a gate forbids."""
    result = advised_option(advice)
    if result is None or result.ruled_out is None:
        return ""
    return f"As it stands this option is ruled out too: {say_ruled_out(result.ruled_out)}"


def _tone(option: str | None, still: str) -> Tone:
    """Running on is no good news where something is to be dealt with in any case."""
    if option == RUN_ON:
        return Tone.WATCH if still else Tone.GOOD
    return Tone.WATCH if option in (None, FIND_OUT) else Tone.ACT


def _is_silent(piece: Piece) -> bool:
    return isinstance(piece, Paragraph) and not piece.words
