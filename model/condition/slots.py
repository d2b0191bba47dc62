"""One end in one inspection, as found: opinions, dispute, worst state, how it is known.

Pure. Not here: work done to the end (``model.condition.works``), the tube as a whole.
"""

from collections.abc import Iterable, Sequence
from typing import Any

from model.condition.states import LOOKS, CarriedEnd, EndFound, Finding, Plug
from model.record.line import Record
from model.record.words import (
    Grade,
    How,
    LeakAt,
    PlugCondition,
    PlugType,
    Reason,
    SettledFrom,
    State,
)

_WORST_STATE = {state: rank for rank, state in enumerate(State)}
_BEST_HOW = {how: rank for rank, how in enumerate(How)}
_WORST_LEAK = {place: rank for rank, place in enumerate(LeakAt)}
_WORST_PLUG = {condition: rank for rank, condition in enumerate(PlugCondition)}
_NO_FILL_OVER = frozenset((State.PLUGGED, State.LEAKING, State.SPLIT))


def worst_state(states: Iterable[State]) -> State | None:
    """Split, leaking, plugged, thinned, sound: the first that occurs."""
    return min(states, key=_WORST_STATE.__getitem__, default=None)


def fold_end(
    observations: Sequence[Record],
    settles: Sequence[Record],
    all_observations: Sequence[Record],
    carried: CarriedEnd | None,
    date: str,
) -> EndFound:
    """An end as found.

    Parameters: the live observations and settles of the slot; every observation of the slot,
    dead ones too (to say how a settled state was known); what is carried in; the date of the
    inspection.
    """
    stated = [record for record in observations if record.body["state"] is not None]
    covered = {name for settle in settles for name in settle.supersedes}
    settled = [settle for settle in settles if settle.id not in covered]
    fills_count = _fills_count(stated, settled, carried)
    opinions = [
        record
        for record in stated
        if record.id not in covered and (fills_count or _how(record) != How.FILLED)
    ] + settled
    findings = _findings(observations, date)
    reason = _reason(observations)
    state = worst_state(State(record.body["state"]) for record in opinions)
    if state is None:
        return _not_said(carried, findings, reason, fill_dropped=bool(stated))
    return EndFound(
        state=state,
        disputed=len({record.body["state"] for record in opinions}) > 1,
        settled=bool(settled),
        how=_best_how(stated, settled, all_observations, fills_count),
        leak_at=_leak_at(opinions) if state is State.LEAKING else None,
        leak_at_mm=_leak_at_mm(opinions) if state is State.LEAKING else None,
        plug=_plug(opinions, carried) if state is State.PLUGGED else None,
        since=carried.since if carried is not None and carried.state is state else date,
        # For show alone: in the order of their ids, people would stand in no order at all.
        opinions=tuple(sorted(opinions, key=lambda record: (record.at, record.id))),
        findings=findings,
    )


def _how(record: Record) -> How:
    return How(record.body["how"])


def _fills_count(
    stated: Sequence[Record], settled: Sequence[Record], carried: CarriedEnd | None
) -> bool:
    """A fill-in never argues with a look, nor wipes out a carried plug, leak or split."""
    if settled or any(_how(record) in LOOKS for record in stated):
        return False
    return carried is None or carried.state not in _NO_FILL_OVER


def _not_said(
    carried: CarriedEnd | None,
    findings: tuple[Finding, ...],
    reason: Reason | None,
    *,
    fill_dropped: bool,
) -> EndFound:
    if carried is None:
        return EndFound(findings=findings, reason=reason, fill_dropped=fill_dropped)
    return EndFound(
        state=carried.state,
        carried=True,
        leak_at=carried.leak_at,
        plug=carried.plug,
        since=carried.since,
        findings=findings,
        reason=reason,
        fill_dropped=fill_dropped,
    )


def _best_how(
    stated: Sequence[Record],
    settled: Sequence[Record],
    all_observations: Sequence[Record],
    fills_count: bool,
) -> How:
    """Seen when settled after looking again; otherwise the best of what stands or is covered."""
    if any(settle.body["from"] == SettledFrom.LOOKED_AGAIN for settle in settled):
        return How.SEEN
    hows = {_how(record) for record in stated if fills_count or _how(record) != How.FILLED}
    if not hows:
        named = {name for settle in settled for name in settle.supersedes}
        hows = {
            _how(record)
            for record in all_observations
            if record.id in named and record.body["state"] is not None
        }
    # A settle that weighed nothing was made from documents.
    return min(hows, key=_BEST_HOW.__getitem__, default=How.PAPER)


def _leak_at(opinions: Sequence[Record]) -> LeakAt:
    places = (
        LeakAt(record.body["leak_at"] or LeakAt.NOT_FOUND)
        for record in opinions
        if record.body["state"] == State.LEAKING
    )
    return min(places, key=_WORST_LEAK.__getitem__)


def _leak_at_mm(opinions: Sequence[Record]) -> float | None:
    places = [
        float(record.body["leak_at_mm"])
        for record in opinions
        if record.body["state"] == State.LEAKING and record.body.get("leak_at_mm") is not None
    ]
    return min(places, default=None)


def _plug(opinions: Sequence[Record], carried: CarriedEnd | None) -> Plug | None:
    """The plug as the opinions describe it, the worst condition first.

    What nobody describes today stands as carried: a plug that wept last time and was only
    confirmed today still weeps until somebody says that it is tight.
    """
    said = [
        record.body["plug"]
        for record in opinions
        if record.body["state"] == State.PLUGGED and record.body["plug"] is not None
    ]
    return merged_plug(said, carried.plug if carried is not None else None)


def merged_plug(said: Sequence[dict[str, Any]], before: Plug | None) -> Plug | None:
    """One plug of several descriptions: the worst condition, the first type, not vented if any."""
    conditions = [PlugCondition(p["condition"]) for p in said if p.get("condition") is not None]
    types = sorted(PlugType(p["type"]) for p in said if p.get("type") is not None)
    vents = [bool(p["vented"]) for p in said if p.get("vented") is not None]
    plug = Plug(
        type=types[0] if types else before.type if before else None,
        condition=min(conditions, key=_WORST_PLUG.__getitem__)
        if conditions
        else before.condition
        if before
        else None,
        vented=all(vents) if vents else before.vented if before else None,
    )
    return None if plug == Plug(type=None, condition=None, vented=None) else plug


def _findings(observations: Sequence[Record], date: str) -> tuple[Finding, ...]:
    """Findings count while their observation is live, covered by a settle or not."""
    return tuple(
        Finding(
            record=record.id,
            inspection_date=date,
            mechanism=found["mechanism"],
            side=found["side"],
            grade=Grade(found["grade"]),
            at_mm=found.get("at_mm"),
            clock_h=found.get("clock_h"),
            extent_mm=found.get("extent_mm"),
            thickness_mm=found.get("thickness_mm"),
            note=found.get("note", ""),
        )
        for record in observations
        for found in record.body["findings"]
    )


def _reason(observations: Sequence[Record]) -> Reason | None:
    reasons = sorted(r.body["reason"] for r in observations if r.body["reason"] is not None)
    return Reason(reasons[0]) if reasons else None
