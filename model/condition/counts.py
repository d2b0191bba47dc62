"""Totals of an inspection: states, bad tubes, percent plugged and out of service.

Percentages are of all tubes of the layout (stay tubes included), per pass and per boiler, never
of the scope. Each has a low figure, from what is known, and a high one: if the unseen are like the
seen. Not here: what counts as bad (``tubes``), what is too much (``model.decision.limits``).
"""

import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import compress
from operator import not_

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


class TubesToCount:
    """Tubes to be counted in one state after the other.

    What does not change with their state, such as who looked at them, is worked out once.
    """

    def __init__(self, tubes: Sequence[TubeCondition], default: TubeSize | None) -> None:
        """``default`` serves tubes without a size of their own."""
        self._looked_at = [each.looked_at_ends > 0 for each in tubes]
        self._unseen = [
            not is_looked_at and each.is_unseen
            for each, is_looked_at in zip(tubes, self._looked_at, strict=True)
        ]
        self._bore_squares = _bore_squares(tubes, default)

    def as_pass(self, statuses: Sequence[TubeStatus], is_renewed: Sequence[bool]) -> Totals:
        """Totals of tubes of one pass; both lists are in the order of the tubes."""
        return self.counted(
            statuses,
            is_renewed,
            more_plugged=self._if_like_the_seen([s.state is State.PLUGGED for s in statuses]),
            more_out=self._if_like_the_seen([s.is_out_of_service for s in statuses]),
        )

    def counted(
        self,
        statuses: Sequence[TubeStatus],
        is_renewed: Sequence[bool],
        *,
        more_plugged: float | None,
        more_out: float | None,
    ) -> Totals:
        """Totals, where so many tubes more are counted if the unseen are like the seen."""
        states = Counter(each.state for each in statuses)
        out, tubes = sum(each.is_out_of_service for each in statuses), len(statuses)
        plugged = states[State.PLUGGED]
        return Totals(
            tubes=tubes,
            sound=states[State.SOUND],
            thinned=states[State.THINNED],
            leaking=states[State.LEAKING],
            plugged=plugged,
            split=states[State.SPLIT],
            not_inspected=states[None],
            renewed=sum(
                new and each.state is None for new, each in zip(is_renewed, statuses, strict=True)
            ),
            sound_with_findings=sum(
                each.state is State.SOUND and (bool(each.findings) or each.is_measured_thin)
                for each in statuses
            ),
            joint_leaks_only=sum(each.joint_leak_only for each in statuses),
            bad_now=sum(each.is_bad for each in statuses),
            out_of_service=out,
            carried=sum(each.carried for each in statuses),
            disputed=sum(each.disputed for each in statuses),
            unseen=sum(self._unseen),
            plugged_percent=_percent(plugged, tubes),
            out_of_service_percent=_percent(out, tubes),
            plugged_percent_high=_percent_with(plugged, more_plugged, tubes),
            out_of_service_percent_high=_percent_with(out, more_out, tubes),
            plugged_area_percent=self._area_percent(statuses),
        )

    def _if_like_the_seen(self, is_counted: Sequence[bool]) -> float | None:
        """Further tubes if the unseen are like the seen; None when nobody looked at any.

        An unseen tube that counts already, plugged by the crew or measured too thin, cannot count
        twice: otherwise more than all tubes could be out of service.
        """
        unseen = sum(compress(self._unseen, map(not_, is_counted)))
        if unseen == 0:
            return 0.0
        looked = sum(self._looked_at)
        return unseen * sum(compress(is_counted, self._looked_at)) / looked if looked else None

    def _area_percent(self, statuses: Sequence[TubeStatus]) -> float | None:
        """Plugged share of the gas area; None when a tube's bore is not known."""
        if not self._bore_squares:
            return None
        is_plugged = [each.state is State.PLUGGED for each in statuses]
        plugged = math.fsum(compress(self._bore_squares, is_plugged))
        return 100.0 * plugged / math.fsum(self._bore_squares)


def count_passes(
    tubes: Sequence[TubeCondition], status: Status, default: TubeSize | None
) -> tuple[PassTotals, ...]:
    """Totals of every pass, lowest first. ``default`` serves tubes without a size of their own."""
    numbers = sorted({each.tube.pass_ for each in tubes})
    by_pass = {number: [t for t in tubes if t.tube.pass_ == number] for number in numbers}
    return tuple(
        PassTotals(
            pass_=number,
            totals=TubesToCount(here, default).as_pass(
                [status(each) for each in here], [each.is_renewed for each in here]
            ),
        )
        for number, here in by_pass.items()
    )


def count_boiler(
    tubes: Sequence[TubeCondition], status: Status, default: TubeSize | None
) -> Totals:
    """Totals of the boiler. The high figures add what each pass would add by itself."""
    passes = count_passes(tubes, status, default)
    return TubesToCount(tubes, default).counted(
        [status(each) for each in tubes],
        [each.is_renewed for each in tubes],
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


def _percent(part: float, whole: int) -> float | None:
    return 100.0 * part / whole if whole else None


def _percent_with(part: int, more: float | None, whole: int) -> float | None:
    return None if more is None else _percent(part + more, whole)


def _bore_squares(
    tubes: Sequence[TubeCondition], default: TubeSize | None
) -> Sequence[float] | None:
    """None when a tube's bore is not known."""
    bores = [bore_mm(each, default) for each in tubes]
    known = [bore * bore for bore in bores if bore is not None]
    return known if len(known) == len(bores) else None


def bore_mm(tube: TubeCondition, default: TubeSize | None) -> float | None:
    """The tube's bore [mm]; what the layout does not give of its size is the boiler's."""
    od_mm, wall_mm = tube.tube.od_mm, tube.tube.wall_mm
    if default is not None:
        od_mm = default.od_mm if od_mm is None else od_mm
        wall_mm = default.wall_mm if wall_mm is None else wall_mm
    return None if od_mm is None or wall_mm is None else od_mm - 2.0 * wall_mm
