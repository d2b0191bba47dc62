"""The first page: the option by condition in words, three numbers with coverage, what is not known.

Not here: the limits behind it (``limits``), and who may decide (``steaming``).
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Paragraph, Piece, Points, Section, Tone, Verdict
from fieldapp.report.sections.owner_found import found_figures
from fieldapp.report.sections.owner_signing import say_who
from fieldapp.report.sections.owner_unknown import NOTHING_MISSING, not_known
from fieldapp.report.wording import capital, say_count
from model.decision.by_condition import FIND_OUT, RUN_ON


def build_verdict(numbers: ConditionNumbers) -> Section:
    """The verdict and the three numbers."""
    advice = numbers.advice
    pieces: list[Piece] = [
        Verdict(words=advice.words, tone=_tone(advice.option)),
        Paragraph(words=say_who(numbers)),
        Points(heading="Why", items=_reasons(numbers)),
        found_figures(numbers),
        Points(
            heading="What is not known",
            items=tuple(capital(each) + "." for each in not_known(numbers)) or (NOTHING_MISSING,),
        ),
    ]
    if numbers.questions:
        pieces.append(
            Paragraph(
                words=f"{say_count(len(numbers.questions), 'question')} from last time "
                f"{'is' if len(numbers.questions) == 1 else 'are'} open: see the carried states."
            )
        )
    pieces.append(
        Paragraph(
            words="This is the option that follows from the condition alone, before any money. "
            "It is a decision aid made from what was entered, not a permission."
        )
    )
    return Section(
        key="verdict", heading="In three numbers", pieces=tuple(pieces), is_on_first_page=True
    )


def _tone(option: str | None) -> Tone:
    if option == RUN_ON:
        return Tone.GOOD
    return Tone.WATCH if option in (None, FIND_OUT) else Tone.ACT


def _reasons(numbers: ConditionNumbers) -> tuple[str, ...]:
    advice = numbers.advice
    if not advice.more_reasons:
        return advice.reasons
    return (*advice.reasons, f"And {advice.more_reasons} more: see the acceptance limits.")
