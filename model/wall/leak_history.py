"""Which tubes of a pass were lost to leaks or plugs, when, and how fast more are lost.

Joint leaks are counted apart: they tell nothing of the tubes. Not here: the laws (``leak_process``,
``weibull``).
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from model.condition.boiler_facts import BoilerFacts
from model.condition.states import FoldedBoiler, FoldedInspection
from model.condition.tubes import TubeCondition
from model.errors import ModelError
from model.record.fields import last_day
from model.wall.leak_process import (
    TOO_FEW_LEAKS,
    LeakGrowth,
    beta_bounds,
    expected_leaks,
    fit_leak_growth,
    upper_bound_of_mean,
)
from model.wall.losses import (
    Loss,
    RecordedLosses,
    found_leaking_at_joint,
    losses_since,
    recorded_losses,
    years_between,
)
from model.wall.tube_life import stands_since_day
from model.wall.weibull import FailedBetween, WeibullFit, fit_weibull

CONFIDENCE = 0.9

STEEPEST = 20.0
"""Ours: a shape above it comes of losses that were all noted in one outage, not of age."""

LONGEST_UNRECORDED_YEARS = 2.0
"""Ours: where the record begins later in the life of the tubes, losses before it may be missing,
and a growth fitted to the others would tell how the record grew, not the leaks."""


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
    """With too few losses: the most that as long a time as is on record may bring, with 90 %."""
    years_on_record: float
    """Since the tubes stand, as far as the record reaches back."""
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
    the middle of that time; the law of lives takes the whole of it. Neither is fitted where the
    record does not reach back to the beginning of the tubes.
    """
    today = last_day(inspection.facts.date or "0001-01-01")
    since = _since(tubes, inspection, facts)
    holes = {each.hole for each in tubes}
    losses = losses_since(number, holes, boiler, inspection, since)
    lost = sum(loss.count for loss in losses)
    recorded = recorded_losses(number, holes, boiler, inspection)
    why_neither = _why_neither(lost, since, recorded)
    growth, why_no_growth = None, why_neither
    law, why_no_law = None, why_neither
    if since is not None and why_neither is None:
        growth, why_no_growth = _growth(losses, since, today)
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
        years_on_record=_years_on_record(since, today, recorded),
        law=law,
        why_no_growth=why_no_growth,
        why_no_law=why_no_law,
    )


def unrecorded_years(since: date, recorded: RecordedLosses) -> float:
    """How long tubes stood before their record began; 0 where it reaches back, or nearly so."""
    if not recorded.began:
        return 0.0
    years = years_between(since, last_day(recorded.began))
    return years if years > LONGEST_UNRECORDED_YEARS else 0.0


def _years_on_record(since: date | None, today: date, recorded: RecordedLosses) -> float:
    if since is None:
        return recorded.years
    age_years = max(0.0, years_between(since, today))
    return min(age_years, recorded.years) if recorded.began else age_years


def _since(
    tubes: Sequence[TubeCondition], inspection: FoldedInspection, facts: BoilerFacts
) -> date | None:
    """The day from which most tubes of the pass stand."""
    days = Counter(
        stands_since_day(inspection.carried_in.life(each.hole), facts, each.tube.pass_)
        for each in tubes
    )
    return days.most_common(1)[0][0]


def _joint_leaks(holes: set[str], boiler: FoldedBoiler, until: FoldedInspection) -> int:
    """Tubes found leaking at the joint, each once in each inspection that did not carry it."""
    return sum(found_leaking_at_joint(each, holes) for each in boiler.inspections_up_to(until))


def _why_neither(lost: int, since: date | None, recorded: RecordedLosses) -> str | None:
    if lost < TOO_FEW_LEAKS:
        return f"{lost} of at least {TOO_FEW_LEAKS} losses: too little to conclude from."
    if since is None:
        return "The day from which the tubes stand is not known."
    years = unrecorded_years(since, recorded)
    if years:
        return (
            f"The record of these tubes begins {years:.0f} years after they were put in, so how "
            "losses grow with age cannot be told."
        )
    return None


def _growth(
    losses: Iterable[Loss], since: date, today: date
) -> tuple[LeakGrowth | None, str | None]:
    years: list[float] = []
    for loss in losses:
        after = since if loss.after is None else max(loss.after, since)
        middle = (years_between(since, after) + years_between(since, loss.until)) / 2.0
        years += [middle] * loss.count
    try:
        growth = fit_leak_growth(leak_years=years, until_years=years_between(since, today))
    except ModelError as refusal:
        return None, str(refusal)
    if growth.beta > STEEPEST:
        return None, "Nearly all losses were noted at the end of the time: no growth can be told."
    return growth, None


def _law(
    losses: Iterable[Loss], lost: int, since: date, today: date, tubes: int
) -> tuple[WeibullFit | None, str | None]:
    exact: list[float] = []
    between: list[FailedBetween] = []
    for loss in losses:
        after = since if loss.after is None else max(loss.after, since)
        if after == loss.until:
            exact += [years_between(since, loss.until)] * loss.count
        else:
            between.append(
                FailedBetween(
                    after=years_between(since, after),
                    until=years_between(since, loss.until),
                    count=loss.count,
                )
            )
    running = [years_between(since, today)] * max(0, tubes - lost)
    try:
        return fit_weibull(failures=exact, running=running, intervals=between), None
    except ModelError as refusal:
        return None, str(refusal)
