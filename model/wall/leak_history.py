"""Which tubes of a pass were lost to leaks or plugs, when, and how fast more are lost.

Joint leaks are counted apart: they tell nothing of the tubes. Not here: the laws (``leak_process``,
``weibull``).
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from model.condition.boiler_facts import BoilerFacts
from model.condition.states import EndFound, FoldedBoiler, FoldedInspection
from model.condition.tubes import TubeCondition
from model.errors import ModelError
from model.record.fields import last_day
from model.record.line import Record
from model.record.words import Does, End, EventWhat, LeakAt, State
from model.wall.leak_process import (
    TOO_FEW_LEAKS,
    LeakGrowth,
    beta_bounds,
    expected_leaks,
    fit_leak_growth,
    upper_bound_of_mean,
)
from model.wall.life import DAYS_PER_YEAR
from model.wall.tube_life import stands_since_day
from model.wall.weibull import FailedBetween, WeibullFit, fit_weibull

CONFIDENCE = 0.9


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """Tubes that were lost after one day (None: unknown) and not later than another."""

    hole: str | None
    count: int
    after: date | None
    until: date


@dataclass(frozen=True, slots=True, kw_only=True)
class PassLeaks:
    """What the history of one pass says."""

    pass_: int
    since: str | None
    until: str
    lost: int
    """Tubes that leaked, split or were plugged, each once; since the tubes stand, where known."""
    joint_leaks: int
    growth: LeakGrowth | None
    shape_bounds: tuple[float, float] | None
    """Two-sided, 90 %."""
    next_years: float | None
    expected_next: float | None
    upper_bound: float | None
    """With too few losses: the most that the same time again may bring, with 90 %."""
    law: WeibullFit | None
    why_no_growth: str | None
    why_no_law: str | None


def pass_leaks(
    number: int,
    tubes: Sequence[TubeCondition],
    boiler: FoldedBoiler,
    inspection: FoldedInspection,
    facts: BoilerFacts,
    *,
    next_years: float | None,
) -> PassLeaks:
    """The losses of a pass up to an inspection, their growth, and the law of the tubes' lives.

    A loss found at an inspection came at some time since the inspection before. The growth takes
    the middle of that time; the law of lives takes the whole of it.
    """
    today = last_day(inspection.facts.date or "0001-01-01")
    since = _since(tubes, inspection, facts)
    holes = {each.hole for each in tubes}
    losses = [
        loss
        for loss in _losses(number, holes, boiler, inspection)
        if loss.until <= today and (since is None or loss.until > since)
    ]
    lost = sum(loss.count for loss in losses)
    growth, why_no_growth = _growth(losses, lost, since, today)
    law, why_no_law = _law(losses, lost, since, today, len(tubes))
    return PassLeaks(
        pass_=number,
        since=None if since is None else since.isoformat(),
        until=today.isoformat(),
        lost=lost,
        joint_leaks=_joint_leaks(holes, boiler, inspection),
        growth=growth,
        shape_bounds=None if growth is None else beta_bounds(growth, confidence=CONFIDENCE),
        next_years=next_years,
        expected_next=None
        if growth is None or next_years is None
        else expected_leaks(growth, ahead_years=next_years),
        upper_bound=upper_bound_of_mean(leaks=lost, confidence=CONFIDENCE)
        if lost < TOO_FEW_LEAKS
        else None,
        law=law,
        why_no_growth=why_no_growth,
        why_no_law=why_no_law,
    )


def _since(
    tubes: Sequence[TubeCondition], inspection: FoldedInspection, facts: BoilerFacts
) -> date | None:
    """The day from which most tubes of the pass stand."""
    days = Counter(stands_since_day(inspection.carried_in.life(each.hole), facts) for each in tubes)
    return days.most_common(1)[0][0]


def _losses(
    number: int, holes: set[str], boiler: FoldedBoiler, until: FoldedInspection
) -> list[Loss]:
    """Every loss in order of time, each tube once for each of its lives."""
    losses: list[Loss] = []
    counted: set[tuple[str, int]] = set()

    def add(hole: str, life: int, after: date | None, day: date) -> None:
        if (hole, life) not in counted:
            counted.add((hole, life))
            losses.append(Loss(hole=hole, count=1, after=after, until=day))

    gap = [record for record in boiler.gap_work if _takes_out(record)]
    looked: date | None = None
    for each in boiler.inspections:
        if not each.facts.date:
            continue
        day = last_day(each.facts.date)
        for record in gap:
            at = _day_of(record)
            if at is None or at > day or (looked is not None and at <= looked):
                continue
            named = record.body.get("hole")
            if named is not None and (hole := boiler.hole_class(named)) in holes:
                add(hole, each.carried_in.life(hole).number, at, at)
            elif named is None and _is_leak_of(record, number):
                count = record.body.get("count") or 1
                losses.append(Loss(hole=None, count=count, after=at, until=at))
        for hole in sorted(holes):
            if any(_is_lost(each.end_found(hole, end)) for end in End):
                add(hole, each.carried_in.life(hole).number, looked, day)
            elif _is_plugged_today(each, hole):
                add(hole, each.carried_in.life(hole).number, day, day)
        looked = day
        if each is until:
            break
    return losses


def _takes_out(record: Record) -> bool:
    said = record.body.get("what") or record.body.get("does")
    return said in (EventWhat.LEAK, EventWhat.PLUG, Does.PLUG)


def _is_leak_of(record: Record, number: int) -> bool:
    """Leaks known by number only; plugs known so may be of the same tubes and do not count."""
    return record.body.get("what") == EventWhat.LEAK and record.body.get("pass") == number


def _is_plugged_today(inspection: FoldedInspection, hole: str) -> bool:
    """Whether a tube without a leak was plugged in the outage of an inspection."""
    return hole not in inspection.renewed and any(
        inspection.end_left(hole, end).state is State.PLUGGED for end in End
    )


def _day_of(record: Record) -> date | None:
    try:
        return last_day(record.body.get("date") or record.body.get("done_on") or "")
    except ValueError:
        return None


def _is_lost(end: EndFound) -> bool:
    if end.state is State.LEAKING:
        return end.leak_at is not LeakAt.JOINT
    return end.state in (State.SPLIT, State.PLUGGED)


def _joint_leaks(holes: set[str], boiler: FoldedBoiler, until: FoldedInspection) -> int:
    """Tubes found leaking at the joint, each once in each inspection that did not carry it."""
    count = 0
    for each in boiler.inspections:
        count += sum(
            any(
                (found := each.end_found(hole, end)).state is State.LEAKING
                and found.leak_at is LeakAt.JOINT
                and not found.carried
                for end in End
            )
            for hole in holes
        )
        if each is until:
            break
    return count


def _growth(
    losses: Iterable[Loss], lost: int, since: date | None, today: date
) -> tuple[LeakGrowth | None, str | None]:
    if lost < TOO_FEW_LEAKS:
        return None, f"{lost} of at least {TOO_FEW_LEAKS} losses: too little to conclude from."
    if since is None:
        return None, "The day from which the tubes stand is not known."
    years: list[float] = []
    for loss in losses:
        after = since if loss.after is None else max(loss.after, since)
        middle = (_years(since, after) + _years(since, loss.until)) / 2.0
        years += [middle] * loss.count
    try:
        return fit_leak_growth(leak_years=years, until_years=_years(since, today)), None
    except ModelError as refusal:
        return None, str(refusal)


def _law(
    losses: Iterable[Loss], lost: int, since: date | None, today: date, tubes: int
) -> tuple[WeibullFit | None, str | None]:
    if lost < TOO_FEW_LEAKS:
        return None, f"{lost} of at least {TOO_FEW_LEAKS} losses: too little to conclude from."
    if since is None:
        return None, "The day from which the tubes stand is not known."
    exact: list[float] = []
    between: list[FailedBetween] = []
    for loss in losses:
        after = since if loss.after is None else max(loss.after, since)
        if after == loss.until:
            exact += [_years(since, loss.until)] * loss.count
        else:
            between.append(
                FailedBetween(
                    after=_years(since, after), until=_years(since, loss.until), count=loss.count
                )
            )
    running = [_years(since, today)] * max(0, tubes - lost)
    try:
        return fit_weibull(failures=exact, running=running, intervals=between), None
    except ModelError as refusal:
        return None, str(refusal)


def _years(since: date, until: date) -> float:
    return (until - since).days / DAYS_PER_YEAR
