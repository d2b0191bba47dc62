"""Which records are live: a record is dead once another names it and was allowed to.

Not recursive: a dead record still kills what it named, and nothing revives. A ``settle`` covers
the opinions it names and kills nothing. Not here: the table of who may do what
(``model.record.kinds``).
"""

from collections.abc import Iterable, Mapping

from model.condition.classes import Classes, classes_of
from model.record.kinds import KINDS, Who
from model.record.line import Record


def live_records(records: Iterable[Record]) -> tuple[list[Record], Classes]:
    """The live ones of a set of understood records, ordered by id, and the classes they make.

    ``same`` records come first: whether one is live depends on no class (anyone may withdraw
    it), and who is the same person then decides about the rest.
    """
    by_id = {record.id: record for record in records}
    killers = [r for r in by_id.values() if r.supersedes and r.kind != "settle"]
    dead_sames = {
        target
        for killer in killers
        for target in killer.supersedes
        if killer.kind == "withdraw" and target in by_id and by_id[target].kind == "same"
    }
    classes = classes_of(r for r in by_id.values() if r.kind == "same" and r.id not in dead_sames)
    dead = dead_sames | _killed(by_id, killers, classes)
    return [by_id[name] for name in sorted(by_id) if name not in dead], classes


def live_among(records: Iterable[Record], classes: Classes) -> list[Record]:
    """The live ones of records that are no ``same``, ordered by id, where the classes are known.

    For a few records at a time: nothing is worked out about the rest of the boiler.
    """
    by_id = {record.id: record for record in records}
    killers = [r for r in by_id.values() if r.supersedes and r.kind != "settle"]
    dead = _killed(by_id, killers, classes)
    return [by_id[name] for name in sorted(by_id) if name not in dead]


def _killed(by_id: Mapping[str, Record], killers: Iterable[Record], classes: Classes) -> set[str]:
    return {
        target
        for killer in killers
        for target in killer.supersedes
        if target in by_id and may_kill(killer, by_id[target], classes)
    }


def may_kill(killer: Record, target: Record, classes: Classes) -> bool:
    """Whether the table allows this record to take that one out of the count."""
    kind = KINDS[target.kind]
    if killer.kind == "withdraw":
        rule = kind.withdraw
    elif killer.kind == target.kind:
        rule = kind.supersede
    else:
        return False
    match rule:
        case Who.ANYONE:
            return True
        case Who.NOBODY:
            return False
        case Who.SAME_PERSON:
            return _same_person(killer, target, classes)
        case Who.SAME_PERSON_SAME_SLOT:
            same_slot = slot_of(killer, classes) == slot_of(target, classes)
            return same_slot and _same_person(killer, target, classes)
        case Who.SAME_PERSON_AS_CORRECTION:
            return bool(killer.body["corrects"]) and _same_person(killer, target, classes)
        case Who.SAME_SECTION:
            return bool(killer.body["section"] == target.body["section"])


def slot_of(record: Record, classes: Classes) -> tuple[str, str, str]:
    """The slot of an observation or settle: hole class, end, inspection class."""
    body = record.body
    return (
        classes.hole.name(body["hole"]),
        body["end"],
        classes.inspection.name(body["inspection"]),
    )


def _same_person(killer: Record, target: Record, classes: Classes) -> bool:
    return classes.person.name(killer.by) == classes.person.name(target.by)
