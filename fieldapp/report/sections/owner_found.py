"""The owner's page: what was found, in three numbers with coverage.

Not here: which tubes (``bad_tubes``), the limits behind the numbers (``limits``).
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Figure, Figures, Section, Tone
from fieldapp.report.wording import say_count, say_low_and_high, say_percent
from model.decision.advice import Advice
from model.decision.by_condition import bad_and_open
from model.decision.limits import COVERAGE, OUT_OF_SERVICE, LimitStatus
from model.record.words import Scope

_LIMIT_TONES = {
    LimitStatus.OK: Tone.GOOD,
    LimitStatus.WATCH: Tone.WATCH,
    LimitStatus.ACT: Tone.ACT,
}


def build_owner_found(numbers: ConditionNumbers, advice: Advice) -> Section:
    """Bad tubes, what is out of service, and how much was looked at."""
    return Section(
        key="found",
        heading="What was found",
        pieces=(found_figures(numbers),),
        is_on_first_page=True,
    )


def found_figures(numbers: ConditionNumbers) -> Figures:
    """The three numbers."""
    return Figures(items=(_bad(numbers), _out_of_service(numbers), _coverage(numbers)))


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
