"""Documents of a boiler: which version counts, and the union of its layouts.

With several live versions the one with the greatest id is used until somebody supersedes them
all; the others are shown. Holes are the union over all live layouts. Not here: states.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from model.condition.classes import Classes
from model.condition.states import InspectionFacts
from model.record.line import Record
from model.record.words import Scope
from model.tubesheet.layout import Tube


def newest(versions: Sequence[Record]) -> Record | None:
    """The version that counts: the greatest id. Clocks never decide."""
    return max(versions, key=lambda record: record.id, default=None)


def union_of_layouts(
    layouts: Iterable[Record], classes: Classes
) -> tuple[tuple[Tube, ...], frozenset[str]]:
    """The tubes of all live layouts and the retired holes, which are in no layout any more.

    Where two layouts describe one hole, the one with the greatest id is used.
    """
    tubes: dict[str, Tube] = {}
    retired: set[str] = set()
    for record in sorted(layouts, key=lambda layout: layout.id):
        retired.update(classes.hole.name(hole) for hole in record.body["retired"])
        for entry in record.body["holes"]:
            hole = classes.hole.name(entry["hole"])
            tubes[hole] = _tube(entry, hole)
    standing = [tube for hole, tube in tubes.items() if hole not in retired]
    standing.sort(key=lambda tube: (tube.pass_, tube.row, tube.column, tube.key, tube.hole or ""))
    return tuple(standing), frozenset(retired)


def tubes_of_retired(
    layouts: Iterable[Record], retired: frozenset[str], classes: Classes
) -> tuple[Tube, ...]:
    """The tubes of retired holes, from the last of all layouts, dead ones too, that had them."""
    found: dict[str, Tube] = {}
    for record in _in_order_of_revision(layouts) if retired else ():
        for entry in record.body["holes"]:
            hole = classes.hole.name(entry["hole"])
            if hole in retired:
                found[hole] = _tube(entry, hole)
    return tuple(found[hole] for hole in sorted(found))


def first_versions(live: Iterable[Record], every: Iterable[Record]) -> list[Record]:
    """The records from which live ones came by revision, ordered by id; an unrevised one itself."""
    by_id = {record.id: record for record in every}
    pending = [record.id for record in live]
    reached: set[str] = set()
    while pending:
        name = pending.pop()
        if name not in reached:
            reached.add(name)
            pending += [target for target in by_id[name].supersedes if target in by_id]
    return [
        by_id[name]
        for name in sorted(reached)
        if not any(target in by_id for target in by_id[name].supersedes)
    ]


def _in_order_of_revision(records: Iterable[Record]) -> list[Record]:
    """What supersedes another record stands after it; where that says nothing, the id decides."""
    by_id = {record.id: record for record in records}
    generation: dict[str, int] = {}
    for start in by_id:
        pending = [start]
        while pending:
            before = [t for t in by_id[pending[-1]].supersedes if t in by_id]
            unknown = [target for target in before if target not in generation]
            if unknown:
                pending += unknown
            else:
                latest = max((generation[target] for target in before), default=0)
                generation[pending.pop()] = latest + 1
    return sorted(by_id.values(), key=lambda record: (generation[record.id], record.id))


def doubled_keys(tubes: Iterable[Tube]) -> Mapping[str, tuple[str, ...]]:
    """Keys that two layouts gave to different holes, with these holes; a key is refused then."""
    holes: dict[str, list[str]] = defaultdict(list)
    for tube in tubes:
        assert tube.hole is not None
        holes[tube.key.upper()].append(tube.hole)
    return {key: tuple(names) for key, names in holes.items() if len(names) > 1}


def person_names(live: Iterable[Record], classes: Classes) -> Mapping[str, str]:
    """The name of every person id: of its own record, else of another of its class."""
    records = [record for record in live if record.kind == "person"]
    by_class: dict[str, list[Record]] = defaultdict(list)
    for record in records:
        by_class[classes.person.name(record.body["person"])].append(record)
    names: dict[str, str] = {}
    for versions in by_class.values():
        best = newest(versions)
        assert best is not None
        for version in versions:
            for member in classes.person.joined_with(version.body["person"]):
                names[member] = best.body["name"]
    return names


def inspection_facts(
    name: str,
    members: frozenset[str],
    versions: Sequence[Record],
    closes: Sequence[Record],
    sign_offs: Sequence[Record],
) -> InspectionFacts:
    """What is said of an inspection; joined ones pool what was opened, cleaned and used."""
    used = newest(versions)
    ordered = sorted(versions, key=lambda record: record.id)
    return InspectionFacts(
        inspection=name,
        members=members,
        date=min((record.body["date"] for record in versions), default=None),
        scope=_widest([Scope(record.body["scope"]) for record in versions]),
        passes=frozenset(number for record in versions for number in record.body["passes"]),
        purpose=used.body["purpose"] if used is not None else "",
        opened=_pooled(ordered, "opened"),
        cleaned=_pooled(ordered, "cleaned"),
        instruments=_tools(ordered),
        opened_by=tuple(dict.fromkeys(record.by for record in ordered)),
        versions=tuple(ordered),
        closes=tuple(sorted(closes, key=lambda record: record.id)),
        sign_offs=tuple(sorted(sign_offs, key=lambda record: record.id)),
    )


def _widest(scopes: Sequence[Scope]) -> Scope:
    """Joined inspections cover what the widest of them was to cover."""
    order = tuple(Scope)
    return min(scopes, key=order.index, default=Scope.FULL)


def _tools(versions: Sequence[Record]) -> tuple[Mapping[str, object], ...]:
    """Every instrument once; joined inspections may have listed the same one alike."""
    tools: list[Mapping[str, object]] = []
    for record in versions:
        tools += [tool for tool in record.body["instruments"] if tool not in tools]
    return tuple(tools)


def _pooled(versions: Sequence[Record], name: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(item for record in versions for item in record.body[name]))


def _tube(entry: Mapping[str, Any], hole: str) -> Tube:
    return Tube(
        hole=hole,
        key=entry["tube"],
        pass_=entry["pass"],
        row=entry["row"],
        column=entry["column"],
        x_mm=entry["x_mm"],
        y_mm=entry["y_mm"],
        od_mm=entry.get("od_mm"),
        wall_mm=entry.get("wall_mm"),
        length_mm=entry.get("length_mm"),
        material=entry.get("material"),
        kind=entry["kind"],
        label=entry.get("label"),
    )
