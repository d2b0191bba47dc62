"""Where every acceptance limit would stand after each option, judged as the limits of today are.

Not here: the levels (``limits``), which option that rules out (``gates``).
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from model.condition.boiler_facts import BoilerFacts
from model.condition.counts import PassTotals, Totals, TubeSize, TubesToCount
from model.condition.coverage import Coverage
from model.condition.tubes import TubeCondition, TubeStatus
from model.decision.limits import LimitResult, LimitRule, judge_limits
from model.decision.options.places_after import IN_SERVICE, PLUGGED, PlacesAfter
from model.decision.plans import Plan
from model.record.words import State


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitsAfter:
    """Every limit after an option, and the keys of the stay tubes that are then plugged."""

    limits: tuple[LimitResult, ...]
    plugged_stays: tuple[str, ...]


def limits_after(
    plans: Iterable[Plan],
    tubes: Sequence[TubeCondition],
    facts: BoilerFacts,
    *,
    coverage: Coverage,
    rules: Mapping[str, LimitRule],
    places: PlacesAfter,
) -> Mapping[str, LimitsAfter]:
    """By the key of the plan. Options that leave the same plugs share what follows from them.

    ``places`` are those of the same tubes. Coverage stays what it is: work on tubes is no look at
    the others.
    """
    size = TubeSize(od_mm=facts.od_mm, wall_mm=facts.wall_mm)
    numbers = sorted({each.tube.pass_ for each in tubes})
    passes = [_PassAfter([t for t in tubes if t.tube.pass_ == n], n, size) for n in numbers]
    after: dict[str, LimitsAfter] = {}
    for plan in plans:
        states = [each.state(plan) for each in passes]
        plugged = frozenset().union(*(each.plugged for each in states))
        totals = [each.totals for each in states]
        after[plan.key] = LimitsAfter(
            limits=judge_limits(totals, coverage, places.clusters(plugged), rules),
            plugged_stays=tuple(key for each in states for key in each.plugged_stays),
        )
    return after


@dataclass(frozen=True, slots=True, kw_only=True)
class _PassState:
    totals: PassTotals
    plugged: frozenset[str]
    plugged_stays: tuple[str, ...]


class _PassAfter:
    """One pass, counted once for each set of new and plugged tubes."""

    def __init__(self, tubes: Sequence[TubeCondition], number: int, size: TubeSize) -> None:
        self._tubes, self._number = tubes, number
        self._to_count = TubesToCount(tubes, size)
        self._holes = frozenset(each.hole for each in tubes)
        self._counted: dict[tuple[frozenset[str], frozenset[str]], _PassState] = {}

    def state(self, plan: Plan) -> _PassState:
        is_new = plan.is_new_boiler or self._number in plan.retube
        return self._state(
            self._holes if is_new else plan.replace & self._holes,
            frozenset() if is_new else plan.plug & self._holes,
        )

    def _state(self, renewed: frozenset[str], plugged: frozenset[str]) -> _PassState:
        known = self._counted.get((renewed, plugged))
        if known is None:
            left = [_left_after(each, renewed, plugged) for each in self._tubes]
            is_renewed = [each.is_renewed or each.hole in renewed for each in self._tubes]
            totals = self._to_count.as_pass(left, is_renewed)
            if (renewed or plugged) and renewed != self._holes:
                before = self._state(frozenset(), frozenset()).totals.totals
                totals = _unseen_no_better(totals, before)
            out = [t for t, s in zip(self._tubes, left, strict=True) if s.state is State.PLUGGED]
            known = _PassState(
                totals=PassTotals(pass_=self._number, totals=totals),
                plugged=frozenset(each.hole for each in out),
                plugged_stays=tuple(each.tube.key for each in out if each.tube.kind == "stay"),
            )
            self._counted[renewed, plugged] = known
        return known


def _left_after(
    tube: TubeCondition, renewed: frozenset[str], plugged: frozenset[str]
) -> TubeStatus:
    """A tube with its plugs in or a new one in its place.

    Joints are left as they are: no limit asks for them.
    """
    if tube.hole in renewed:
        return IN_SERVICE
    return PLUGGED if tube.hole in plugged else tube.left


def _unseen_no_better(now: Totals, before: Totals) -> Totals:
    """High figures in which the unseen are at least as bad as they were.

    Replacing the bad tubes that were seen makes the seen better than the unseen.
    """
    return replace(
        now,
        plugged_percent_high=_high(
            now.plugged_percent,
            now.plugged_percent_high,
            before.plugged_percent,
            before.plugged_percent_high,
        ),
        out_of_service_percent_high=_high(
            now.out_of_service_percent,
            now.out_of_service_percent_high,
            before.out_of_service_percent,
            before.out_of_service_percent_high,
        ),
    )


def _high(
    low: float | None, high: float | None, low_before: float | None, high_before: float | None
) -> float | None:
    if low is None or high is None or low_before is None or high_before is None:
        return None
    return max(high, min(100.0, low + high_before - low_before))
