"""Totals of an inspection: states, bad tubes, percent plugged and out of service.

Percentages are of all tubes of the layout (stay tubes included), per pass and per boiler, never
of the scope. Each has a low figure, from what is known, and a high one: if the unseen are like the
seen. Not here: what counts as bad (``tubes``), what is too much (``model.decision.limits``).
"""

import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from model.condition.tubes import TubeCondition, TubeStatus
from model.record.words import State


@dataclass(frozen=True, slots=True, kw_only=True)
class Totals:
    """Counts of tubes. The five states and ``not_inspected`` add up to ``tubes``."""

    tubes: int
    sound: int
    thinned: int
    leaking: int
    plugged: int
    split: int
    not_inspected: int
    """Nothing known, a tube renewed in this outage included."""
    renewed: int
    """Of those not inspected: replaced in this outage."""
    sound_with_findings: int
    joint_leaks_only: int
    bad_now: int
    out_of_service: int
    carried: int
    disputed: int
    unseen: int
    """Neither end looked at and nothing carried."""
    plugged_percent: float | None
    out_of_service_percent: float | None
    plugged_percent_high: float | None
    """If the unseen are like the seen; None when nobody looked at any tube of a pass."""
    out_of_service_percent_high: float | None
    plugged_area_percent: float | None
    """Of the gas area, where tube sizes differ."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PassTotals:
    """Totals of one pass."""

    pass_: int
    totals: Totals


@dataclass(frozen=True, slots=True, kw_only=True)
class TubeSize:
    """Size of the boiler's tubes, as far as it is known."""

    od_mm: float | None = None
    wall_mm: float | None = None


Status = Callable[[TubeCondition], TubeStatus]
"""Picks the tube as found or as left."""


def as_left(tube: TubeCondition) -> TubeStatus:
    return tube.left


def as_found(tube: TubeCondition) -> TubeStatus:
    return tube.found


def count_passes(
    tubes: Sequence[TubeCondition], status: Status, default: TubeSize | None
) -> tuple[PassTotals, ...]:
    """Totals of every pass, lowest first. ``default`` serves tubes without a size of their own."""
    numbers = sorted({each.tube.pass_ for each in tubes})
    return tuple(
        PassTotals(
            pass_=number,
            totals=_count_pass([t for t in tubes if t.tube.pass_ == number], status, default),
        )
        for number in numbers
    )


def count_boiler(
    tubes: Sequence[TubeCondition], status: Status, default: TubeSize | None
) -> Totals:
    """Totals of the boiler. The high figures add what each pass would add by itself."""
    passes = count_passes(tubes, status, default)
    return _counted(
        tubes,
        status,
        default,
        more_plugged=_sum(p.totals.tubes * _rise(p.totals, "plugged") for p in passes),
        more_out=_sum(p.totals.tubes * _rise(p.totals, "out_of_service") for p in passes),
    )


def _rise(totals: Totals, what: str) -> float:
    """High less low of a pass, as a share of its tubes; NaN where it has no high figure."""
    low = getattr(totals, f"{what}_percent")
    high = getattr(totals, f"{what}_percent_high")
    return math.nan if low is None or high is None else (high - low) / 100.0


def _sum(shares: object) -> float | None:
    total = math.fsum(shares)  # type: ignore[arg-type]
    return None if math.isnan(total) else total


def _count_pass(tubes: Sequence[TubeCondition], status: Status, default: TubeSize | None) -> Totals:
    return _counted(
        tubes,
        status,
        default,
        more_plugged=_if_like_the_seen(tubes, lambda t: status(t).state is State.PLUGGED),
        more_out=_if_like_the_seen(tubes, lambda t: status(t).is_out_of_service),
    )


def _if_like_the_seen(
    tubes: Sequence[TubeCondition], is_counted: Callable[[TubeCondition], bool]
) -> float | None:
    """Further tubes if the unseen are like the seen; None when nobody looked at any.

    An unseen tube that counts already, plugged by the crew or measured too thin, cannot count
    twice: otherwise more than all tubes could be out of service.
    """
    unseen = sum(each.is_unseen and not is_counted(each) for each in tubes)
    if unseen == 0:
        return 0.0
    looked = [each for each in tubes if each.looked_at_ends > 0]
    return unseen * sum(map(is_counted, looked)) / len(looked) if looked else None


def _counted(
    tubes: Sequence[TubeCondition],
    status: Status,
    default: TubeSize | None,
    *,
    more_plugged: float | None,
    more_out: float | None,
) -> Totals:
    statuses = [status(each) for each in tubes]
    states = Counter(each.state for each in statuses)
    out = sum(each.is_out_of_service for each in statuses)
    plugged = states[State.PLUGGED]
    return Totals(
        tubes=len(tubes),
        sound=states[State.SOUND],
        thinned=states[State.THINNED],
        leaking=states[State.LEAKING],
        plugged=plugged,
        split=states[State.SPLIT],
        not_inspected=states[None],
        renewed=sum(t.is_renewed and s.state is None for t, s in zip(tubes, statuses, strict=True)),
        sound_with_findings=sum(
            each.state is State.SOUND and (bool(each.findings) or each.is_measured_thin)
            for each in statuses
        ),
        joint_leaks_only=sum(each.joint_leak_only for each in statuses),
        bad_now=sum(each.is_bad for each in statuses),
        out_of_service=out,
        carried=sum(each.carried for each in statuses),
        disputed=sum(each.disputed for each in statuses),
        unseen=sum(each.is_unseen for each in tubes),
        plugged_percent=_percent(plugged, len(tubes)),
        out_of_service_percent=_percent(out, len(tubes)),
        plugged_percent_high=_percent_with(plugged, more_plugged, len(tubes)),
        out_of_service_percent_high=_percent_with(out, more_out, len(tubes)),
        plugged_area_percent=_area_percent(tubes, statuses, default),
    )


def _percent(part: float, whole: int) -> float | None:
    return 100.0 * part / whole if whole else None


def _percent_with(part: int, more: float | None, whole: int) -> float | None:
    return None if more is None else _percent(part + more, whole)


def _area_percent(
    tubes: Sequence[TubeCondition], statuses: Sequence[TubeStatus], default: TubeSize | None
) -> float | None:
    """Plugged share of the gas area; None when a tube's bore is not known."""
    areas = [bore_mm(each, default) for each in tubes]
    if not areas or any(area is None for area in areas):
        return None
    squares = [bore * bore for bore in areas if bore is not None]
    plugged = math.fsum(
        square
        for square, each in zip(squares, statuses, strict=True)
        if each.state is State.PLUGGED
    )
    return 100.0 * plugged / math.fsum(squares)


def bore_mm(tube: TubeCondition, default: TubeSize | None) -> float | None:
    """The tube's bore [mm]; what the layout does not give of its size is the boiler's."""
    od_mm, wall_mm = tube.tube.od_mm, tube.tube.wall_mm
    if default is not None:
        od_mm = default.od_mm if od_mm is None else od_mm
        wall_mm = default.wall_mm if wall_mm is None else wall_mm
    return None if od_mm is None or wall_mm is None else od_mm - 2.0 * wall_mm
