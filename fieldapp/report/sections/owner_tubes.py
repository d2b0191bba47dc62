"""The tubes of the option: which tube is plugged, replaced or re-rolled, by its key, and why.

Not here: the grouping (``option_tubes``), where a bad tube was found bad (``bad_tubes``).
"""

from fieldapp.drawing.looks import tube_look
from fieldapp.report.advice_picks import named_option
from fieldapp.report.advice_words import say_ruled_out
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.option_tubes import (
    THE_TUBES_OF_THE_OPTION,
    WEAK_MEANS,
    Reason,
    TubeWork,
    weak_that_stay,
    works_of_option,
)
from fieldapp.report.pieces import Cell, Paragraph, Piece, Row, Section, Table, Tone, columns, words
from fieldapp.report.tube_words import say_tube
from fieldapp.report.wording import capital
from model.decision.advice import Advice


def build_owner_tubes(numbers: ConditionNumbers, advice: Advice) -> Section:
    """One table; nothing where no option is advised or it does nothing to tubes now."""
    works = works_of_option(numbers, advice)
    pieces: list[Piece] = []
    if works:
        stays = weak_that_stay(numbers, advice)
        is_weak_named = bool(stays) or any(each.reason is Reason.WEAK for each in works)
        if ruled_out := _ruled_out(advice):
            pieces.append(Paragraph(heading="Not yet", words=ruled_out, tone=Tone.WATCH))
        pieces.append(
            Table(
                caption="What is done in this outage to which tube",
                columns=columns("tube", "what is done", "why"),
                rows=tuple(_row(each) for each in works),
                if_empty="",
            )
        )
        if stays:
            keys = ", ".join(say_tube(each.tube) for each in stays)
            pieces.append(Paragraph(words=f"Weak, and left in service by this option: {keys}."))
        if is_weak_named:
            pieces.append(Paragraph(words=WEAK_MEANS))
    return Section(key="option-tubes", heading=THE_TUBES_OF_THE_OPTION, pieces=tuple(pieces))


def _row(work: TubeWork) -> Row:
    look = None if work.tube is None else tube_look(work.tube)
    return Row(
        cells=(
            Cell(words=work.words if work.tube else capital(work.words), look=look),
            *words(work.does, capital(work.why)),
        ),
        tube=None if work.tube is None else work.tube.tube.key,
    )


def _ruled_out(advice: Advice) -> str:
    """Why the work may not be ordered as it stands."""
    result = named_option(advice)
    if result is None or result.ruled_out is None:
        return ""
    return f"As it stands this option is ruled out: {say_ruled_out(result.ruled_out)}"
