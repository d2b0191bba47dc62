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


Status = Callable[[TubeCondition], TubeStatus]
"""Picks the tube as found or as left."""


def as_left(tube: TubeCondition) -> TubeStatus:
    return tube.left


def as_found(tube: TubeCondition) -> TubeStatus:
    return tube.found


def count_passes(
    tubes: Sequence[TubeCondition], status: Status, default_bore_mm: float | None
) -> tuple[PassTotals, ...]:
    """Totals of every pass, lowest first. ``default_bore_mm`` serves tubes without a size [mm]."""
    numbers = sorted({each.tube.pass_ for each in tubes})
    return tuple(
        PassTotals(
            pass_=number,
            totals=_count_pass(
                [t for t in tubes if t.tube.pass_ == number], status, default_bore_mm
            ),
        )
        for number in numbers
    )


def count_boiler(
    tubes: Sequence[TubeCondition], status: Status, default_bore_mm: float | None
) -> Totals:
    """Totals of the boiler. The high figures add what each pass would add by itself."""
    passes = count_passes(tubes, status, default_bore_mm)
    return _counted(
        tubes,
        status,
        default_bore_mm,
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


def _count_pass(
    tubes: Sequence[TubeCondition], status: Status, default_bore_mm: float | None
) -> Totals:
    looked = [each for each in tubes if each.looked_at_ends > 0]
    unseen = sum(each.is_unseen for each in tubes)
    plugged = sum(status(each).state is State.PLUGGED for each in looked)
    out = sum(status(each).is_out_of_service for each in looked)
    return _counted(
        tubes,
        status,
        default_bore_mm,
        more_plugged=_if_like_the_seen(unseen, plugged, len(looked)),
        more_out=_if_like_the_seen(unseen, out, len(looked)),
    )


def _if_like_the_seen(unseen: int, of_looked: int, looked: int) -> float | None:
    """Further tubes if the unseen are like the seen; None when nobody looked at any."""
    if unseen == 0:
        return 0.0
    return unseen * of_looked / looked if looked else None


def _counted(
    tubes: Sequence[TubeCondition],
    status: Status,
    default_bore_mm: float | None,
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
            s.state is State.SOUND and (bool(s.findings) or t.is_measured_thin)
            for t, s in zip(tubes, statuses, strict=True)
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
        plugged_area_percent=_area_percent(tubes, statuses, default_bore_mm),
    )


def _percent(part: float, whole: int) -> float | None:
    return 100.0 * part / whole if whole else None


def _percent_with(part: int, more: float | None, whole: int) -> float | None:
    return None if more is None else _percent(part + more, whole)


def _area_percent(
    tubes: Sequence[TubeCondition], statuses: Sequence[TubeStatus], default_bore_mm: float | None
) -> float | None:
    """Plugged share of the gas area; None when a tube's bore is not known."""
    areas = [bore_mm(each, default_bore_mm) for each in tubes]
    if not areas or any(area is None for area in areas):
        return None
    squares = [bore * bore for bore in areas if bore is not None]
    plugged = math.fsum(
        square
        for square, each in zip(squares, statuses, strict=True)
        if each.state is State.PLUGGED
    )
    return 100.0 * plugged / math.fsum(squares)


def bore_mm(tube: TubeCondition, default_bore_mm: float | None) -> float | None:
    """The tube's bore from its own size, else the boiler's [mm]."""
    own = tube.tube
    if own.od_mm is None or own.wall_mm is None:
        return default_bore_mm
    return own.od_mm - 2.0 * own.wall_mm
