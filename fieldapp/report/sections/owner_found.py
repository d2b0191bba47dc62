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
    is_too_little = _is_too_little_looked_at(numbers)
    among = "of those looked at, of" if is_too_little else "of"
    detail = [f"{among} {say_count(totals.tubes, 'tube')}, as left"]
    if unhandled != totals.bad_now:
        detail.append(f"{unhandled} of them still to be dealt with")
    if totals.joint_leaks_only:
        detail.append(f"beside them {totals.joint_leaks_only} leaking at the joint only")
    return Figure(
        value=str(totals.bad_now),
        words="bad tube" if totals.bad_now == 1 else "bad tubes",
        detail="; ".join(detail),
        tone=Tone.ACT if unhandled else Tone.WATCH if is_too_little else Tone.GOOD,
    )


def _out_of_service(numbers: ConditionNumbers) -> Figure:
    """The pass with the greatest share, which is what the limits are about."""
    worst = max(numbers.passes, key=lambda each: each.totals.out_of_service_percent or 0.0)
    totals = worst.totals
    limit = next(
        each for each in numbers.limits if each.name == OUT_OF_SERVICE and each.pass_ == worst.pass_
    )
    level = "" if limit.act is None else f"; limit {limit.act:g} %"
    tone = _LIMIT_TONES.get(limit.status, Tone.WATCH)
    among = ""
    if _is_too_little_looked_at(numbers):
        among = ", counting the bad ones of those looked at"
        tone = Tone.WATCH if tone is Tone.GOOD else tone
    return Figure(
        value=say_percent(totals.out_of_service_percent),
        words=f"of pass {worst.pass_} out of service if every bad tube is plugged",
        detail=f"{totals.out_of_service} of its {say_count(totals.tubes, 'tube')}{among}{level}; "
        f"whole boiler: {_whole_boiler(numbers)}, "
        f"{say_count(numbers.totals.plugged, 'tube')} plugged now",
        tone=tone,
    )


def _whole_boiler(numbers: ConditionNumbers) -> str:
    """What is out of service of the whole boiler: a lower bound unless every end was seen."""
    totals = numbers.totals
    if numbers.coverage.looked_at >= 2 * totals.tubes:
        return say_percent(totals.out_of_service_percent)
    return say_low_and_high(totals.out_of_service_percent, totals.out_of_service_percent_high)


def _is_too_little_looked_at(numbers: ConditionNumbers) -> bool:
    """Whether so few ends were looked at that a good number says nothing of the others."""
    limit = next(each for each in numbers.limits if each.name == COVERAGE)
    return limit.status not in (LimitStatus.OK, LimitStatus.WATCH)


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
