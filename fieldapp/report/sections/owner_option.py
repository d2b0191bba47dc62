"""The owner's page: the option with the lowest cost on these inputs, and the day to decide by.

Not here: what the others cost (``owner_cash``, ``owner_options``), why (``owner_behind``), the day
(``decide_by``).
"""

from fieldapp.cautions import DECISION
from fieldapp.report.advice_picks import advised_option
from fieldapp.report.advice_words import say_ruled_out
from fieldapp.report.decide_by import decide_by_words
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Paragraph, Piece, Section, Tone, Verdict
from model.decision.advice import Advice, OptionMoney
from model.decision.by_condition import FIND_OUT, RUN_ON
from model.decision.money_words import say_money
from model.decision.options.option_names import option_in_sentence, option_name
from model.record.words import Scope

_NOT_WHOLE = (Scope.LEAK_CALL, Scope.AFTER_REPAIR)
_FEW = 2
"""Reasons on the page itself, where the advice is to look first."""


def build_owner_option(numbers: ConditionNumbers, advice: Advice) -> Section:
    """The option in the largest words of the page, with the Decision caution beside it."""
    pieces: list[Piece] = [Verdict(words=advice.words, tone=_tone(advice.option))]
    when = "" if advice.option is None else decide_by_words(numbers, advice)
    pieces += [Paragraph(words=words) for words in (_sentences(advice), when)]
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
    if advice.share_cheaper is None:
        return f"{said}."
    return (
        f"{said}; {option_in_sentence(advice.option or '')} is cheaper in "
        f"{100.0 * advice.share_cheaper:.0f} % of the trials."
    )


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


def if_engineer_allows_words(advice: Advice) -> str:
    """Whether an option that only a stay question rules out would cost less."""
    if advice.if_engineer_allows is None or advice.if_engineer_allows == advice.option:
        return ""
    return (
        f"{option_name(advice.if_engineer_allows)} would cost less, if an engineer allows it: see "
        "the reasons."
    )


def _sentences(advice: Advice) -> str:
    if advice.option is None:
        return " ".join(advice.reasons)
    if not advice.is_by_money:
        return " ".join(filter(None, (f"By {advice.by}", _ruled_out_too(advice))))
    result = advised_option(advice)
    money = None if result is None else result.money
    if advice.option == FIND_OUT:
        now = "" if money is None else f"It costs {say_money(money.cost_now, advice.currency)} now."
        return " ".join(filter(None, (*advice.reasons[:_FEW], now)))
    cost = "" if money is None else cost_words(money, advice)
    return " ".join(filter(None, (cost, margin_words(advice), if_engineer_allows_words(advice))))


def _ruled_out_too(advice: Advice) -> str:
    """By condition alone an option may be named that a gate forbids."""
    result = advised_option(advice)
    if result is None or result.ruled_out is None:
        return ""
    return f"As it stands this option is ruled out too: {say_ruled_out(result.ruled_out)}"


def _tone(option: str | None) -> Tone:
    if option == RUN_ON:
        return Tone.GOOD
    return Tone.WATCH if option in (None, FIND_OUT) else Tone.ACT


def _is_silent(piece: Piece) -> bool:
    return isinstance(piece, Paragraph) and not piece.words
