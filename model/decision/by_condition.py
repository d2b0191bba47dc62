"""The option that follows from the condition alone, before any money, with its reasons.

Not here: prices, risk and present value. The result is a decision aid: what it leads to must be
accepted by the people whose law and licence it is.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from model.condition.counts import Totals
from model.condition.coverage import Coverage
from model.condition.tubes import TubeCondition
from model.decision.limits import (
    CLUSTER,
    COVERAGE,
    OUT_OF_SERVICE,
    PLUGGED,
    LimitResult,
    LimitStatus,
)
from model.record.words import Scope, State

RUN_ON = "run-on"
RE_ROLL = "re-roll"
PLUG_BAD = "plug-bad"
REPLACE_BAD = "replace-bad"
FIND_OUT = "find-out"
MOST_REASONS = 5
PARTIAL = {Scope.LEAK_CALL: "a leak call", Scope.AFTER_REPAIR: "a look after repair"}
"""Scopes that give no advice on the whole boiler, in words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionAdvice:
    """The option by condition. ``option`` is None where the scope allows no advice."""

    option: str | None
    words: str
    reasons: tuple[str, ...]
    more_reasons: int
    """How many reasons of less weight were left out."""
    reasons_beside: tuple[str, ...]
    """All reasons but those of coverage, bad tubes and joints, which the money says its own way."""
    missing: tuple[str, ...]
    """What is not known and would matter."""


def advise_by_condition(
    tubes: Sequence[TubeCondition],
    totals: Totals,
    coverage: Coverage,
    limits: Sequence[LimitResult],
    scope: Scope,
) -> ConditionAdvice:
    """Find out more first; else retube the worst pass beyond its limit; else deal with what is bad.

    A leak call or a look after repair never gives advice on the whole boiler: it deals with what
    was found.
    """
    to_deal_with = bad_and_open(tubes)
    half = sum(each.plugged_one_end == "yes" and each not in to_deal_with for each in tubes)
    missing = _missing(totals, coverage, limits)
    option, words = (
        _partial_look(totals, to_deal_with, half)
        if scope in PARTIAL
        else _option(totals, to_deal_with, half, limits)
    )
    stays = plugged_stays(tubes)
    reasons = _reasons(totals, coverage, limits, to_deal_with, half, stays)
    if scope in PARTIAL:
        reasons.insert(0, f"This was {PARTIAL[scope]}: it says nothing about the whole boiler.")
    return ConditionAdvice(
        option=option,
        words=words,
        reasons=tuple(reasons[:MOST_REASONS]),
        more_reasons=max(0, len(reasons) - MOST_REASONS),
        reasons_beside=(
            *_beyond(limits, LimitStatus.ACT),
            *_of_sheets(limits, stays),
            *_beyond(limits, LimitStatus.WATCH),
        ),
        missing=tuple(missing),
    )


def bad_and_open(tubes: Sequence[TubeCondition]) -> list[TubeCondition]:
    """Bad tubes that something must still be done about.

    A tube that is plugged as left with a sound plug, and whose ends neither leak nor are split,
    has been dealt with, whatever was wrong with it.
    """
    return [each for each in tubes if each.left.is_bad and not _is_dealt_with(each)]


def plugged_stays(tubes: Sequence[TubeCondition]) -> list[str]:
    """Keys of the stay tubes that are plugged as left: always to be referred."""
    return [
        each.tube.key
        for each in tubes
        if each.tube.kind == "stay" and each.left.state is State.PLUGGED
    ]


def is_too_wide(limit: LimitResult) -> bool:
    """Whether the open place itself is wider than permitted, not only with a stay plugged."""
    return limit.value is not None and limit.act is not None and limit.value > limit.act


def _is_dealt_with(tube: TubeCondition) -> bool:
    ends = tube.ends_left.values()
    if tube.left.state is not State.PLUGGED:
        return False
    leaks = any(end.state in (State.LEAKING, State.SPLIT) for end in ends)
    return not leaks and not any(end.plug is not None and end.plug.is_bad for end in ends)


def _option(
    totals: Totals, bad: Sequence[TubeCondition], half: int, limits: Sequence[LimitResult]
) -> tuple[str, str]:
    coverage = next(limit for limit in limits if limit.name == COVERAGE)
    if coverage.status in (LimitStatus.ACT, LimitStatus.UNKNOWN):
        return FIND_OUT, "Find out more first: too few tube ends were looked at."
    beyond = [
        limit
        for limit in limits
        if limit.name in (PLUGGED, OUT_OF_SERVICE) and limit.status is LimitStatus.ACT
    ]
    if beyond:
        worst = max(beyond, key=lambda limit: limit.value or 0.0)
        others = sorted({str(limit.pass_) for limit in beyond} - {str(worst.pass_)})
        too = f" Pass {' and '.join(others)} {'is' if len(others) == 1 else 'are'} beyond too."
        return f"retube-pass-{worst.pass_}", f"Retube pass {worst.pass_}." + (too if others else "")
    return _deal_with(totals, bad, half)


def _partial_look(
    totals: Totals, bad: Sequence[TubeCondition], half: int
) -> tuple[str | None, str]:
    if not bad and not totals.joint_leaks_only and not half:
        return None, "No advice on the whole boiler; nothing bad was recorded."
    return _deal_with(totals, bad, half)


def _deal_with(totals: Totals, bad: Sequence[TubeCondition], half: int) -> tuple[str, str]:
    if any(each.tube.kind == "stay" for each in bad):
        return (
            REPLACE_BAD,
            "Replace the bad tubes: a stay tube is among them, refer before plugging.",
        )
    if bad:
        return PLUG_BAD, "Plug the bad tubes."
    if totals.joint_leaks_only:
        return RE_ROLL, "Re-roll the leaking joints."
    if half:
        return PLUG_BAD, "Close the open ends of tubes that are plugged at one end only."
    return RUN_ON, "Nothing found calls for work on the tubes."


def _reasons(
    totals: Totals,
    coverage: Coverage,
    limits: Sequence[LimitResult],
    bad: Sequence[TubeCondition],
    half: int,
    stays: Sequence[str],
) -> list[str]:
    """In order of weight: too little seen, limits broken, bad tubes, clusters and stays, joints,
    what is only to be watched."""
    reasons = [
        f"{coverage.looked_at} of {coverage.ends} tube ends in scope were looked at"
        + ("." if limit.value is None else f" ({limit.value:.1f} %).")
        for limit in limits
        if limit.name == COVERAGE and limit.status is not LimitStatus.OK
    ]
    reasons += _beyond(limits, LimitStatus.ACT)
    if bad:
        reasons.append(f"{_tubes(len(bad))} bad and must be dealt with before steaming.")
    if half:
        reasons.append(f"{_tubes(half)} plugged at one end with the other open: close it.")
    reasons += _of_sheets(limits, stays)
    if totals.joint_leaks_only:
        joints = totals.joint_leaks_only
        reasons.append(
            f"{joints} tube{'s' if joints > 1 else ''} leak{'' if joints > 1 else 's'} at the "
            "joint only: re-roll, no plug needed."
        )
    reasons += _beyond(limits, LimitStatus.WATCH)
    if reasons:
        return reasons
    is_whole = all(
        limit.status is not LimitStatus.UNKNOWN and not limit.plugs_beside_bare_plate
        for limit in limits
    )
    kept = "every limit is kept" if is_whole else "every limit that could be judged is kept"
    return [f"No tube is bad, no joint leaks, and {kept}."]


def _of_sheets(limits: Sequence[LimitResult], stays: Sequence[str]) -> list[str]:
    """Places wider than permitted, and stay tubes that are plugged."""
    reasons = [
        f"On the {limit.sheet} sheet a circle of {limit.value:.0f} mm around plugs holds no "
        f"working tube or stay; {limit.act:.0f} mm is permitted: refer to an engineer."
        for limit in limits
        if limit.name == CLUSTER and is_too_wide(limit)
    ]
    if stays:
        which = f"Stay tube {stays[0]} is" if len(stays) == 1 else f"{len(stays)} stay tubes are"
        reasons.append(f"{which} plugged: refer to an engineer.")
    return reasons


def _beyond(limits: Sequence[LimitResult], status: LimitStatus) -> list[str]:
    """Percentages beyond their level of this status, the greatest first."""
    beyond = [
        limit
        for limit in limits
        if limit.name in (PLUGGED, OUT_OF_SERVICE) and limit.status is status
    ]
    beyond.sort(key=lambda limit: -(limit.value or 0.0))
    return [
        f"Pass {limit.pass_}: at least {limit.value:.1f} % "
        + ("plugged" if limit.name == PLUGGED else "out of service if every bad is plugged")
        + f", beyond {limit.act if status is LimitStatus.ACT else limit.watch:g} % "
        f"({limit.basis})."
        for limit in beyond
    ]


def _missing(totals: Totals, coverage: Coverage, limits: Sequence[LimitResult]) -> list[str]:
    missing: list[str] = []
    unseen = coverage.not_inspected + coverage.filled
    if unseen:
        missing.append(
            f"{unseen} tube end{'' if unseen == 1 else 's'} in scope that nobody looked at"
        )
    if totals.disputed:
        count = totals.disputed
        missing.append(f"{count} tube{'s' if count > 1 else ''} on which two people disagree")
    if any(limit.name == CLUSTER and limit.status is LimitStatus.UNKNOWN for limit in limits):
        missing.append("plate thickness, stress or MAWP, without which clusters cannot be judged")
    bare = [limit for limit in limits if limit.plugs_beside_bare_plate]
    if bare:
        missing.append(_bare_plate(bare))
    return missing


def _bare_plate(limits: Sequence[LimitResult]) -> str:
    """What is not entered of the sheets on which plugs stand beside bare plate."""
    count = sum(limit.plugs_beside_bare_plate for limit in limits)
    *others, last = (str(limit.sheet) for limit in limits)
    sheets = f"{', '.join(others)} and {last} sheets" if others else f"{last} sheet"
    return (
        f"what holds the {sheets} beside {'their' if others else 'its'} tubes (stays, edges) is "
        f"not entered; {count} plug{'' if count == 1 else 's'} beside bare plate cannot be judged"
    )


def _tubes(count: int) -> str:
    return "1 tube is" if count == 1 else f"{count} tubes are"
