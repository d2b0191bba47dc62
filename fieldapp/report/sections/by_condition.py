"""What the condition alone calls for, before any money: the option and its reasons.

Not here: the option of the lowest cost (``owner_option``), the limits behind it (``limits``).
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Paragraph, Piece, Points, Section
from fieldapp.report.wording import say_count

_BEFORE_MONEY = (
    "This is the option that follows from the condition alone, before any money. It is a decision "
    "aid made from what was entered, not a permission."
)


def build_by_condition(numbers: ConditionNumbers) -> Section:
    """For who does not trust prices: the same limits give this."""
    pieces: list[Piece] = [
        Paragraph(words=f"{numbers.advice.words} {_BEFORE_MONEY}"),
        Points(heading="Why", items=_reasons(numbers)),
    ]
    if numbers.questions:
        pieces.append(Paragraph(words=_open_questions(numbers)))
    return Section(
        key="by-condition", heading="What the condition alone calls for", pieces=tuple(pieces)
    )


def _reasons(numbers: ConditionNumbers) -> tuple[str, ...]:
    """The reasons, and how many more there are."""
    advice = numbers.advice
    if not advice.more_reasons:
        return advice.reasons
    return (*advice.reasons, f"And {advice.more_reasons} more: see the acceptance limits.")


def _open_questions(numbers: ConditionNumbers) -> str:
    """That last time's leaks and splits are not all answered."""
    asked = len(numbers.questions)
    return (
        f"{say_count(asked, 'question')} from last time {'is' if asked == 1 else 'are'} open: see "
        "the carried states."
    )
