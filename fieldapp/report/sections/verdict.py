"""The first page: the option by condition in words, three numbers with coverage, what is not known.

Not here: the limits behind it (``limits``), and who may decide (``steaming``).
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Paragraph, Piece, Points, Section, Tone, Verdict
from fieldapp.report.sections.by_condition import (
    BEFORE_MONEY,
    open_questions_words,
    reasons_by_condition,
)
from fieldapp.report.sections.owner_found import found_figures
from fieldapp.report.sections.owner_signing import say_who
from fieldapp.report.sections.owner_unknown import NOTHING_MISSING, not_known
from fieldapp.report.wording import capital
from model.decision.by_condition import FIND_OUT, RUN_ON


def build_verdict(numbers: ConditionNumbers) -> Section:
    """The verdict and the three numbers."""
    advice = numbers.advice
    pieces: list[Piece] = [
        Verdict(words=advice.words, tone=_tone(advice.option)),
        Paragraph(words=say_who(numbers)),
        Points(heading="Why", items=reasons_by_condition(numbers)),
        found_figures(numbers),
        Points(
            heading="What is not known",
            items=tuple(capital(each) + "." for each in not_known(numbers)) or (NOTHING_MISSING,),
        ),
    ]
    if numbers.questions:
        pieces.append(Paragraph(words=open_questions_words(numbers)))
    pieces.append(Paragraph(words=BEFORE_MONEY))
    return Section(
        key="verdict", heading="In three numbers", pieces=tuple(pieces), is_on_first_page=True
    )


def _tone(option: str | None) -> Tone:
    if option == RUN_ON:
        return Tone.GOOD
    return Tone.WATCH if option in (None, FIND_OUT) else Tone.ACT
