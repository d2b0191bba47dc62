"""One inspection folded: every end as found and as left, and what the next one receives.

Pure. Not here: the order of inspections (``model.condition.fold``), one end's opinions
(``model.condition.slots``).
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from model.condition.classes import Classes
from model.condition.slots import fold_end
from model.condition.states import (
    CarriedEnd,
    Carry,
    EndFound,
    EndKey,
    EndLeft,
    Finding,
    FoldedInspection,
    InspectionFacts,
    Life,
)
from model.condition.works import Deed, end_after, followed_by, life_after, work_deed
from model.record.line import Record
from model.record.words import Does, End, Grade, Scope, State

_CARRIES = frozenset((State.THINNED, State.LEAKING, State.SPLIT, State.PLUGGED))
_OTHER_KINDS = frozenset(("part", "photo", "test_run", "cause"))


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionRecords:
    """The records of one inspection class: live ones, and all that can be read."""

    facts: InspectionFacts
    live: tuple[Record, ...]
    readable: tuple[Record, ...]


def fold_inspection(
    records: InspectionRecords, carried_in: Carry, classes: Classes
) -> FoldedInspection:
    """One inspection, given what is carried into it."""
    facts = records.facts
    found = _ends_found(records, carried_in, classes)
    deeds = _deeds_by_hole(records, classes)
    left = _ends_left(found, deeds)
    lives, renewed = _lives_after(deeds, carried_in)
    worked_on = _worked_on(deeds)
    carried_out = _carry_out(found, left, lives, renewed, carried_in, facts)
    # After a look at the repairs, what was repaired before it is still what was repaired.
    handed_on = worked_on | carried_in.worked_on if _is_after_repair(facts) else worked_on
    return FoldedInspection(
        facts=facts,
        carried_in=carried_in,
        found=found,
        left=left,
        carried_out=replace(carried_out, worked_on=handed_on),
        renewed=renewed,
        worked_on=worked_on | carried_in.worked_on,
        work=tuple(record for record in records.live if record.kind == "work"),
        readings=tuple(record for record in records.live if record.kind == "reading"),
        others=tuple(record for record in records.live if record.kind in _OTHER_KINDS),
        after_closing=_holes_beyond(records.live, facts.closes, classes),
        after_sign_off=_holes_beyond(records.live, facts.sign_offs, classes),
    )


def carry_over_gap(carry: Carry, deeds: Mapping[str, Sequence[Deed]]) -> Carry:
    """What is carried after work that was done between inspections."""
    if not deeds:
        return carry
    ends, lives, acts = dict(carry.ends), dict(carry.lives), dict(carry.act_findings)
    for hole, of_hole in deeds.items():
        life = life_after(of_hole, carry.life(hole))
        if life != carry.life(hole):
            lives[hole] = life
            for end in End:
                acts.pop((hole, end), None)
        for end in End:
            before = carry.ends.get((hole, end))
            after = end_after(of_hole, end, _left_of_carried(before))
            ends.pop((hole, end), None)
            if after.state in _CARRIES and after.state is not None:
                is_same = before is not None and before.state is after.state
                since = after.since or ""
                ends[hole, end] = CarriedEnd(
                    state=after.state,
                    leak_at=after.leak_at,
                    plug=after.plug,
                    since=since,
                    said_on=before.said_on if is_same and before is not None else since,
                )
    worked_on = carry.worked_on | _worked_on(deeds)
    return Carry(ends=ends, lives=lives, act_findings=acts, worked_on=worked_on)


def _worked_on(deeds: Mapping[str, Sequence[Deed]]) -> frozenset[str]:
    """Holes where more was done than cleaning, which comes before a look."""
    return frozenset(
        hole
        for hole, of_hole in deeds.items()
        if any(deed.does is not Does.CLEAN for deed in of_hole)
    )


def _is_after_repair(facts: InspectionFacts) -> bool:
    return facts.scope is Scope.AFTER_REPAIR


def _left_of_carried(carried: CarriedEnd | None) -> EndLeft:
    if carried is None:
        return EndLeft()
    return EndLeft(
        state=carried.state,
        carried=True,
        leak_at=carried.leak_at,
        plug=carried.plug,
        since=carried.since,
    )


def _ends_found(
    records: InspectionRecords, carried_in: Carry, classes: Classes
) -> dict[EndKey, EndFound]:
    date = records.facts.date or ""
    observations = _by_end(records.live, "observation", classes)
    settles = _by_end(records.live, "settle", classes)
    readable = _by_end(records.readable, "observation", classes)
    found: dict[EndKey, EndFound] = {}
    keys = observations.keys() | settles.keys() | carried_in.ends.keys()
    for key in sorted(keys | carried_in.act_findings.keys()):
        seen = fold_end(
            observations.get(key, ()),
            settles.get(key, ()),
            readable.get(key, ()),
            carried_in.ends.get(key),
            date,
        )
        if not seen.is_looked_at:
            # A finding of grade act stands until someone looks at that end again without it.
            earlier = carried_in.act_findings.get(key, ())
            seen = replace(seen, findings=earlier + seen.findings) if earlier else seen
        found[key] = seen
    return found


def _by_end(
    records: Iterable[Record], kind: str, classes: Classes
) -> Mapping[EndKey, list[Record]]:
    ends: dict[EndKey, list[Record]] = defaultdict(list)
    for record in sorted((r for r in records if r.kind == kind), key=lambda r: r.id):
        ends[classes.hole.name(record.body["hole"]), End(record.body["end"])].append(record)
    return ends


def _deeds_by_hole(records: InspectionRecords, classes: Classes) -> Mapping[str, list[Deed]]:
    follows = followed_by(records.readable, classes)
    deeds: dict[str, list[Deed]] = defaultdict(list)
    for record in records.live:
        if record.kind == "work" and record.body["hole"] is not None:
            deed = work_deed(record, follows[record.id], records.facts.date or "")
            deeds[classes.hole.name(record.body["hole"])].append(deed)
    return deeds


def _ends_left(
    found: Mapping[EndKey, EndFound], deeds: Mapping[str, Sequence[Deed]]
) -> dict[EndKey, EndLeft]:
    left = {key: _as_found(end) for key, end in found.items()}
    for hole, of_hole in deeds.items():
        for end in End:
            left[hole, end] = end_after(of_hole, end, left.get((hole, end), EndLeft()))
    return left


def _as_found(end: EndFound) -> EndLeft:
    return EndLeft(
        state=end.state,
        carried=end.carried,
        disputed=end.disputed,
        leak_at=end.leak_at,
        plug=end.plug,
        since=end.since,
    )


def _lives_after(
    deeds: Mapping[str, Sequence[Deed]], carried_in: Carry
) -> tuple[dict[str, Life], frozenset[str]]:
    lives = dict(carried_in.lives)
    renewed: set[str] = set()
    for hole, of_hole in deeds.items():
        life = life_after(of_hole, carried_in.life(hole))
        if life != carried_in.life(hole):
            lives[hole] = life
            renewed.add(hole)
    return lives, frozenset(renewed)


def _carry_out(
    found: Mapping[EndKey, EndFound],
    left: Mapping[EndKey, EndLeft],
    lives: Mapping[str, Life],
    renewed: frozenset[str],
    carried_in: Carry,
    facts: InspectionFacts,
) -> Carry:
    date = facts.date or ""
    ends: dict[EndKey, CarriedEnd] = {}
    for key, end in left.items():
        if end.state is None or end.state not in _CARRIES:
            continue
        before = carried_in.ends.get(key)
        ends[key] = CarriedEnd(
            state=end.state,
            leak_at=end.leak_at,
            plug=end.plug,
            since=end.since or date,
            said_on=before.said_on if end.carried and before is not None else date,
        )
    acts = {
        key: grave
        for key, end in found.items()
        if key[0] not in renewed and (grave := _grave(end.findings))
    }
    return Carry(ends=ends, lives=lives, act_findings=acts)


def _grave(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    return tuple(finding for finding in findings if finding.grade is Grade.ACT)


def _holes_beyond(
    live: Iterable[Record], marks: Sequence[Record], classes: Classes
) -> frozenset[str]:
    """Holes with a live record that none of the closes or sign-offs had before it."""
    if not marks:
        return frozenset()
    return frozenset(
        classes.hole.name(record.body["hole"])
        for record in live
        if record.body.get("hole") is not None
        and not any(_is_within(record, mark) for mark in marks)
    )


def _is_within(record: Record, mark: Record) -> bool:
    known = mark.body["vector"].get(record.boiler, {}).get(record.origin, 0)
    return record.seq <= known or record.id in mark.body["beyond_gap"]
