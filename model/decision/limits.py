"""Acceptance limits as data, and where an inspection stands against each.

No published code limits percent plugged: the figures are common practice or ours, and say so; an
owner overrides them. Not here: what to do about it (``by_condition``).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from model.condition.clusters import Cluster
from model.condition.counts import PassTotals
from model.condition.coverage import Coverage
from model.condition.stored_figures import stored_figure, stored_text


class LimitStatus(StrEnum):
    OK = "ok"
    WATCH = "watch"
    ACT = "act"
    REFER = "refer"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitRule:
    """One acceptance limit. ``watch`` and ``act`` are in the unit of the value."""

    name: str
    watch: float | None
    act: float | None
    basis: str
    is_floor: bool = False
    """Whether less is worse."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LimitResult:
    """Where one value stands. ``high`` is the value if the unseen are like the seen."""

    name: str
    value: float | None
    high: float | None
    watch: float | None
    act: float | None
    basis: str
    status: LimitStatus
    pass_: int | None = None
    sheet: str | None = None
    permitted_by: str | None = None
    """Of a sheet: whose answer ``act`` is; None where it follows from plate, stress and MAWP."""
    plugs_beside_bare_plate: int = 0
    """Of a sheet: plugs that also lie in places that are not judged (``Cluster.is_bare``)."""


PLUGGED = "plugged_percent"
OUT_OF_SERVICE = "out_of_service_percent"
COVERAGE = "coverage_percent"
CLUSTER = "cluster"

_STAY = "a plugged stay tube is always referred to an engineer"
_COMMON = "common practice; no published code limit was found"
DEFAULT_LIMITS: Mapping[str, LimitRule] = {
    rule.name: rule
    for rule in (
        LimitRule(name=PLUGGED, watch=5.0, act=10.0, basis=_COMMON),
        LimitRule(name=OUT_OF_SERVICE, watch=5.0, act=10.0, basis=_COMMON),
        LimitRule(name=COVERAGE, watch=95.0, act=80.0, basis="ours", is_floor=True),
        LimitRule(
            name=CLUSTER,
            watch=None,
            act=None,
            basis="stayed flat plate, P = t2 S C / p2: an engineering flag, refer to an engineer",
        ),
    )
}


def limits_with_overrides(overrides: Mapping[str, Mapping[str, object]]) -> Mapping[str, LimitRule]:
    """The limits in force: the defaults, with the owner's ``{watch, act, basis}`` where given.

    What is given for open places is by sheet: ``model.condition.clusters.accepted_widths``.
    """
    rules = dict(DEFAULT_LIMITS)
    for name, given in overrides.items():
        if name not in rules or name == CLUSTER or not isinstance(given, Mapping):
            continue
        rules[name] = _overridden(rules[name], given)
    return rules


def _overridden(rule: LimitRule, given: Mapping[str, object]) -> LimitRule:
    """A limit as the owner gives it; a level that cannot be meant is as built in.

    A watch that is reached only beyond act would say nothing, and act is the stricter of the two:
    act stands, and watch is drawn to it.
    """
    levels = [stored_figure(given.get(name), most=100.0) for name in ("watch", "act")]
    if levels == [None, None]:
        return rule  # the owner's basis is of no level of ours
    watch, act = (
        usual if level is None else level
        for level, usual in zip(levels, (rule.watch, rule.act), strict=True)
    )
    basis = stored_text(given.get("basis")) or "owner, no basis given"
    if is_watch_beyond_act(rule, watch=watch, act=act):
        if levels[0] is not None:
            basis += f"; watch would be {watch:g}, which lies beyond act, and counts as act"
        watch = act
    return replace(rule, watch=watch, act=act, basis=basis)


def is_watch_beyond_act(rule: LimitRule, *, watch: float | None, act: float | None) -> bool:
    """Whether act comes before watch: then nobody would be warned."""
    if watch is None or act is None:
        return False
    return watch < act if rule.is_floor else watch > act


def judge_limits(
    passes: Sequence[PassTotals],
    coverage: Coverage,
    clusters: Sequence[Cluster],
    rules: Mapping[str, LimitRule],
) -> tuple[LimitResult, ...]:
    """Every limit: percent plugged and out of service per pass, coverage, clusters per sheet."""
    results: list[LimitResult] = []
    for name in (PLUGGED, OUT_OF_SERVICE):
        for each in passes:
            value, high = getattr(each.totals, name), getattr(each.totals, f"{name}_high")
            judged = _judged(rules[name], value, high, pass_=each.pass_)
            # A pass at which nobody looked is not known to keep what is counted from looks.
            is_blind = judged.status is LimitStatus.OK and high is None
            results.append(replace(judged, status=LimitStatus.UNKNOWN) if is_blind else judged)
    results.append(_judged(rules[COVERAGE], coverage.looked_at_percent, None))
    results.extend(_cluster_results(clusters, rules[CLUSTER]))
    return tuple(results)


def _judged(
    rule: LimitRule, value: float | None, high: float | None, *, pass_: int | None = None
) -> LimitResult:
    return LimitResult(
        name=rule.name,
        value=value,
        high=high,
        watch=rule.watch,
        act=rule.act,
        basis=rule.basis,
        status=limit_status(rule, value),
        pass_=pass_,
    )


def limit_status(rule: LimitRule, value: float | None) -> LimitStatus:
    """Beyond act, beyond watch, or ok; a value exactly at a level is not beyond it."""
    if value is None:
        return LimitStatus.UNKNOWN
    for level, status in ((rule.act, LimitStatus.ACT), (rule.watch, LimitStatus.WATCH)):
        if level is not None and (value < level if rule.is_floor else value > level):
            return status
    return LimitStatus.OK


def place_judged(clusters: Sequence[Cluster], sheet: str) -> Cluster:
    """The open place of a sheet that its limit is about: the widest of those to be referred.

    A place with a plugged stay tube is referred at any width, so it comes before wider ones that
    are kept. A bare place says nothing of its plugs, each of which lies in another place too.
    """
    judged = [each for each in clusters if each.sheet == sheet and not each.is_bare]
    return min(judged, key=lambda each: (each.status != "refer", -each.span_mm))


def _cluster_results(clusters: Sequence[Cluster], rule: LimitRule) -> list[LimitResult]:
    """Of each sheet the weightiest open place, against what is permitted there."""
    sheets = dict.fromkeys(each.sheet for each in clusters if not each.is_bare)
    return [_place_result(clusters, sheet, rule) for sheet in sheets]


def _place_result(clusters: Sequence[Cluster], sheet: str, rule: LimitRule) -> LimitResult:
    place = place_judged(clusters, sheet)
    is_about_stay = place.status == "refer" and not place.is_wider_than_permitted
    beside = (each.tubes for each in clusters if each.sheet == sheet and each.is_bare)
    return LimitResult(
        name=CLUSTER,
        value=place.span_mm,
        high=None,
        watch=None,
        act=place.permitted_mm,
        basis=_STAY if is_about_stay else place.permitted_by or rule.basis,
        status=LimitStatus(place.status),
        sheet=sheet,
        permitted_by=place.permitted_by,
        plugs_beside_bare_plate=len(set().union(*beside)),
    )
