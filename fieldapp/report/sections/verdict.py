"""The first page: the option by condition in words, three numbers with coverage, what is not known.

Not here: the limits behind it (``limits``), and who may decide (``steaming``).
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import (
    Figure,
    Figures,
    Paragraph,
    Piece,
    Points,
    Section,
    Tone,
    Verdict,
)
from fieldapp.report.wording import capital, say_count, say_low_and_high, say_percent
from model.decision.by_condition import FIND_OUT, RUN_ON, bad_and_open
from model.decision.limits import COVERAGE, LimitStatus
from model.record.words import Scope

NOTHING_MISSING = "Nothing that this report would have asked for is missing."


def build_verdict(numbers: ConditionNumbers) -> Section:
    """The verdict and the three numbers."""
    advice = numbers.advice
    pieces: list[Piece] = [
        Verdict(words=advice.words, tone=_tone(advice.option)),
        Points(heading="Why", items=advice.reasons),
        Figures(items=(_bad(numbers), _out_of_service(numbers), _coverage(numbers))),
        Points(
            heading="What is not known",
            items=tuple(capital(each) + "." for each in advice.missing) or (NOTHING_MISSING,),
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
    return Section(key="verdict", heading="In three numbers", pieces=tuple(pieces))


def _tone(option: str | None) -> Tone:
    if option == RUN_ON:
        return Tone.GOOD
    return Tone.WATCH if option in (None, FIND_OUT) else Tone.ACT


def _bad(numbers: ConditionNumbers) -> Figure:
    totals = numbers.totals
    unhandled = len(bad_and_open(numbers.tubes))
    detail = [f"of {say_count(totals.tubes, 'tube')}, as left"]
    if unhandled != totals.bad_now:
        detail.append(f"{unhandled} of them still to be dealt with")
    if totals.joint_leaks_only:
        detail.append(f"beside them {totals.joint_leaks_only} leaking at the joint only")
    return Figure(
        value=str(totals.bad_now),
        words="bad tube" if totals.bad_now == 1 else "bad tubes",
        detail="; ".join(detail),
        tone=Tone.ACT if unhandled else Tone.GOOD,
    )


def _out_of_service(numbers: ConditionNumbers) -> Figure:
    totals = numbers.totals
    return Figure(
        value=say_percent(totals.out_of_service_percent),
        words="out of service if every bad tube is plugged",
        detail=capital(
            say_low_and_high(totals.out_of_service_percent, totals.out_of_service_percent_high)
        )
        + f"; {say_count(totals.plugged, 'tube')} plugged now",
    )


def _coverage(numbers: ConditionNumbers) -> Figure:
    coverage = numbers.coverage
    limit = next(each for each in numbers.limits if each.name == COVERAGE)
    scope = "in scope" if numbers.inspection.facts.scope is not Scope.FULL else "of the boiler"
    return Figure(
        value=say_percent(coverage.looked_at_percent),
        words="of the tube ends were looked at",
        detail=f"{coverage.looked_at} of {coverage.ends} ends {scope}; "
        f"{coverage.filled} filled in, {coverage.not_inspected} not inspected",
        tone=Tone.GOOD if limit.status is LimitStatus.OK else Tone.WATCH,
    )
