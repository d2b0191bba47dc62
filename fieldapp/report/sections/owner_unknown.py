"""The owner's page: what is not known, and which measurement would help most.

Not here: which ends nobody looked at (``coverage``).
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Points, Section
from fieldapp.report.wording import capital, say_count, say_list
from model.decision.advice import Advice
from model.decision.by_condition import FIND_OUT
from model.decision.money_words import say_money

NOTHING_MISSING = "Every tube end in scope was looked at and nobody disagrees."
MOST_POINTS = 3


def build_owner_unknown(numbers: ConditionNumbers, advice: Advice) -> Section:
    """A few points, and first of all the measurement that helps most."""
    unknown = not_known(numbers, advice)
    points = list(unknown[:MOST_POINTS]) or [NOTHING_MISSING]
    if len(unknown) > MOST_POINTS:
        points.append(f"And {len(unknown) - MOST_POINTS} more: see behind the advice.")
    return Section(
        key="unknown",
        heading="What is not known",
        pieces=(Points(items=(*filter(None, (helps_most_words(advice),)), *points)),),
        is_on_first_page=True,
        is_half_width=True,
    )


def helps_most_words(advice: Advice) -> str:
    """The measurement that is worth most, and at most how much."""
    if not advice.measure_next:
        if advice.option == FIND_OUT:
            return ""  # what to look at, measure or have judged first leads the advice
        if advice.is_by_money:
            return "No single measurement is likely to change the option."
        return "Which measurement would help most was not worked out."
    first = advice.measure_next[0]
    worth = say_money(first.worth, advice.currency)
    if round(first.worth, 2) <= 0.0:
        return f"Would help most: {first.words}; but on these inputs it would change nothing."
    return f"Would help most: {first.words}. To know it before choosing is worth {worth} at most."


def not_known(numbers: ConditionNumbers, advice: Advice) -> tuple[str, ...]:
    """In sentences, each once: what the advice and the record lack, what was worked on and not
    looked at since, what was done later."""
    words = [*advice.missing, *numbers.advice.missing]
    if numbers.cleared:
        tubes = dict.fromkeys(tube for tube, _, _ in numbers.cleared)
        words.append(
            f"{say_count(len(numbers.cleared), 'tube end')} re-rolled, unplugged or replaced and "
            f"not looked at since ({say_list(list(tubes)[:6])}"
            + (")" if len(tubes) <= 6 else f" and {len(tubes) - 6} more)")
        )
    if numbers.later_work:
        words.append(
            f"{say_count(len(numbers.later_work), 'piece')} of work recorded after this "
            "inspection, which these figures leave out"
        )
    return tuple(dict.fromkeys(f"{_capital(each).rstrip('.')}." for each in words))


def _capital(words: str) -> str:
    """A name of ``[costs]`` keeps its small letter, as it is written in the file."""
    return words if "_" in words.partition(" ")[0] else capital(words)
