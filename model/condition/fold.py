"""The state of a boiler: one pure function of the set of its records.

Needs no order, no clock, no arrival. Give it every record of the boiler's class and every record
under '' (persons, ``same`` of persons); records of other boilers are ignored. Not here: counting
(``model.condition.counts``), loading (``model.store``).
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from model.condition.classes import Classes
from model.condition.documents import (
    doubled_keys,
    first_versions,
    inspection_facts,
    newest,
    person_names,
    tubes_of_retired,
    union_of_layouts,
)
from model.condition.inspection import InspectionRecords, carry_over_gap, fold_inspection
from model.condition.liveness import live_records
from model.condition.states import Carry, FoldedBoiler, FoldedInspection, InspectionFacts
from model.condition.works import Deed, event_deed, followed_by, work_deed
from model.record.kinds import understood
from model.record.line import Record
from model.record.words import EventWhat
from model.tubesheet.layout import Tube

_LATEST = "9999-99-99"
"""Where an inspection stands whose own record has not arrived yet: after every date."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownHistory:
    """The first inspections of a boiler, folded before, so that they need not be folded again."""

    inspections: frozenset[str]
    """Classes of the inspections that ``carry`` covers: all up to the last of them in order."""
    last_date: str
    carry: Carry
    """What the last of them handed on."""


def fold_boiler(
    records: Iterable[Record], boiler: str, known: KnownHistory | None = None
) -> FoldedBoiler:
    """Everything that is known of a boiler, from the set of its records.

    With ``known`` the records inside those inspections may be left out, except those that name a
    record outside them (a correction may move work into an outage), and the result lists only the
    later inspections.
    """
    every = {record.id: record for record in records}
    readable = [read for r in every.values() if (read := understood(r)) is not None]
    live, classes = live_records(readable)
    name = classes.boiler.name(boiler)
    members = frozenset(classes.boiler.joined_with(boiler))
    mine = [record for record in live if record.boiler in members]
    tubes, retired = union_of_layouts(_of_kind(mine, "layout"), classes)
    documents = _of_kind(mine, "boiler")
    settings = _by_section(mine)
    mine_readable = [record for record in readable if record.boiler in members]
    inspections, carried_after, gap_work = _fold_history(
        mine, mine_readable, tubes, classes, known or _NOTHING_KNOWN
    )
    return FoldedBoiler(
        boiler=name,
        members=members,
        document=newest(documents),
        document_versions=tuple(documents),
        settings={section: versions[-1] for section, versions in settings.items()},
        settings_versions={section: tuple(versions) for section, versions in settings.items()},
        tubes=tubes,
        retired=retired,
        retired_tubes=tubes_of_retired(_of_kind(mine_readable, "layout"), retired, classes),
        doubled_keys=doubled_keys(tubes),
        inspections=inspections,
        carried_after=carried_after,
        gap_work=gap_work,
        renamed_holes=classes.hole.renamed(),
        renamed_inspections=classes.inspection.renamed(),
        persons=person_names(live, classes),
        live=tuple(live),
        not_understood=len(every) - len(readable),
    )


_NOTHING_KNOWN = KnownHistory(inspections=frozenset(), last_date="", carry=Carry())


def _of_kind(records: Iterable[Record], kind: str) -> list[Record]:
    return [record for record in records if record.kind == kind]


def _by_section(records: Iterable[Record]) -> Mapping[str, list[Record]]:
    """Live settings by section, ordered by id, so that the last one is the one in use."""
    sections: dict[str, list[Record]] = defaultdict(list)
    for record in _of_kind(records, "settings"):
        sections[record.body["section"]].append(record)
    return sections


def _fold_history(
    live: Sequence[Record],
    readable: Sequence[Record],
    tubes: Sequence[Tube],
    classes: Classes,
    known: KnownHistory,
) -> tuple[tuple[FoldedInspection, ...], Carry, tuple[Record, ...]]:
    """The inspections in order, each with what the one before and the time between handed on."""
    pools = _pools(live, readable, classes)
    ordered = sorted(
        (pool for name, pool in pools.items() if name not in known.inspections),
        key=lambda pool: (pool.facts.date or _LATEST, pool.facts.inspection),
    )
    gap = _gap_deeds(live, readable, tubes, classes)
    carry = known.carry
    folded: list[FoldedInspection] = []
    before = known.last_date
    for pool in ordered:
        date = pool.facts.date or _LATEST
        carry = carry_over_gap(carry, _deeds_between(gap, before, date))
        folded.append(fold_inspection(pool, carry, classes))
        carry = folded[-1].carried_out
        before = date
    carry = carry_over_gap(carry, _deeds_between(gap, before, None))
    gap_work = [
        record
        for record in live
        if record.kind == "event" or (record.kind == "work" and record.body["inspection"] is None)
    ]
    gap_work.sort(key=lambda record: (record.body.get("date") or record.body["done_on"], record.id))
    return tuple(folded), carry, tuple(gap_work)


def _pools(
    live: Sequence[Record], readable: Sequence[Record], classes: Classes
) -> Mapping[str, InspectionRecords]:
    """The records of each inspection class; ``readable`` also brings dead observations and work."""
    by_class: dict[str, list[Record]] = defaultdict(list)
    dead_too: dict[str, list[Record]] = defaultdict(list)
    for records, into in ((live, by_class), (readable, dead_too)):
        for record in records:
            inspection = record.body.get("inspection")
            if inspection is not None and record.kind != "origin":
                into[classes.inspection.name(inspection)].append(record)
    return {
        name: InspectionRecords(
            facts=_facts(name, records, dead_too[name], classes),
            live=tuple(records),
            readable=tuple(dead_too[name]),
        )
        for name, records in by_class.items()
    }


def _facts(
    name: str, records: Sequence[Record], readable: Sequence[Record], classes: Classes
) -> InspectionFacts:
    facts = inspection_facts(
        name,
        frozenset(classes.inspection.joined_with(name)),
        _of_kind(records, "inspection"),
        _of_kind(records, "close"),
        _of_kind(records, "sign_off"),
    )
    # Who put a date right later has not opened the inspection; and one person may have opened both
    # of two joined inspections under an id of each tablet.
    first = first_versions(facts.versions, _of_kind(readable, "inspection"))
    openers = dict.fromkeys(classes.person.name(record.by) for record in first)
    return replace(facts, opened_by=tuple(openers))


def _gap_deeds(
    live: Sequence[Record], readable: Sequence[Record], tubes: Sequence[Tube], classes: Classes
) -> list[tuple[str, Deed]]:
    """Deeds that belong to no inspection, each with its hole: dated work and past events."""
    follows = followed_by(
        (record for record in readable if record.body.get("inspection") is None), classes
    )
    deeds: list[tuple[str, Deed]] = []
    for record in live:
        body = record.body
        if record.kind == "work" and body["inspection"] is None and body["hole"] is not None:
            deed = work_deed(record, follows[record.id], None)
            deeds.append((classes.hole.name(body["hole"]), deed))
        elif record.kind == "event" and (past := event_deed(record)) is not None:
            deeds.extend((hole, past) for hole in _holes_of_event(record, tubes, classes))
    return deeds


def _holes_of_event(record: Record, tubes: Sequence[Tube], classes: Classes) -> list[str]:
    """The holes that a past event names: one tube, or a whole pass or boiler that was retubed."""
    body = record.body
    if body["hole"] is not None:
        return [classes.hole.name(body["hole"])]
    if body["what"] != EventWhat.RETUBED or body["count"] is not None:
        return []
    return [
        tube.hole
        for tube in tubes
        if tube.hole is not None and (body["pass"] is None or tube.pass_ == body["pass"])
    ]


def _deeds_between(
    gap: Iterable[tuple[str, Deed]], after: str, before: str | None
) -> Mapping[str, list[Deed]]:
    """Deeds dated on the earlier inspection's day or later, and before the later one's."""
    chosen: dict[str, list[Deed]] = defaultdict(list)
    for hole, deed in gap:
        if deed.date >= after and (before is None or deed.date < before):
            chosen[hole].append(deed)
    return chosen
