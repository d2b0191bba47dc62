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
from fieldapp.report.wording import (
    capital,
    say_count,
    say_list,
    say_low_and_high,
    say_percent,
)
from model.decision.by_condition import FIND_OUT, RUN_ON, bad_and_open
from model.decision.limits import COVERAGE, OUT_OF_SERVICE, LimitStatus
from model.record.words import Scope

NOTHING_MISSING = "Every tube end in scope was looked at and nobody disagrees."
_LIMIT_TONES = {
    LimitStatus.OK: Tone.GOOD,
    LimitStatus.WATCH: Tone.WATCH,
    LimitStatus.ACT: Tone.ACT,
}


def build_verdict(numbers: ConditionNumbers) -> Section:
    """The verdict and the three numbers."""
    advice = numbers.advice
    pieces: list[Piece] = [
        Verdict(words=advice.words, tone=_tone(advice.option)),
        Paragraph(words=_who(numbers)),
        Points(heading="Why", items=_reasons(numbers)),
        Figures(items=(_bad(numbers), _out_of_service(numbers), _coverage(numbers))),
        Points(
            heading="What is not known",
            items=tuple(capital(each) + "." for each in _not_known(numbers)) or (NOTHING_MISSING,),
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
    """The pass with the greatest share, which is what the limits are about."""
    worst = max(numbers.passes, key=lambda each: each.totals.out_of_service_percent or 0.0)
    totals = worst.totals
    limit = next(
        each for each in numbers.limits if each.name == OUT_OF_SERVICE and each.pass_ == worst.pass_
    )
    level = "" if limit.act is None else f"; limit {limit.act:g} %"
    return Figure(
        value=say_percent(totals.out_of_service_percent),
        words=f"of pass {worst.pass_} out of service if every bad tube is plugged",
        detail=f"{totals.out_of_service} of {say_count(totals.tubes, 'tube')}{level}; boiler "
        + say_low_and_high(
            numbers.totals.out_of_service_percent, numbers.totals.out_of_service_percent_high
        )
        + f", {numbers.totals.plugged} plugged now",
        tone=_LIMIT_TONES.get(limit.status, Tone.WATCH),
    )


def _who(numbers: ConditionNumbers) -> str:
    """Who looked and who signed, and what came in after that."""
    facts = numbers.inspection.facts
    names = say_list(dict.fromkeys(numbers.boiler.name_of(person) for person in facts.opened_by))
    signed = [f"{r.body['name']} ({r.body['role']})" for r in facts.sign_offs]
    words = f"Inspection opened by {names or 'nobody named'}; "
    words += f"signed off by {say_list(signed)}." if signed else "nobody has signed it off."
    late = [each.tube.key for each in numbers.tubes if each.after_sign_off]
    if late:
        words += f" Entered after the sign-off: {say_list(late[:6])}"
        words += "." if len(late) <= 6 else f" and {len(late) - 6} more."
    return words


def _reasons(numbers: ConditionNumbers) -> tuple[str, ...]:
    advice = numbers.advice
    if not advice.more_reasons:
        return advice.reasons
    return (*advice.reasons, f"And {advice.more_reasons} more: see the acceptance limits.")


def _not_known(numbers: ConditionNumbers) -> list[str]:
    """What is missing, what was worked on and not looked at since, what was done later."""
    words = list(numbers.advice.missing)
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
    return words


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
