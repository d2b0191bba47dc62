"""Some tubes of a boiler through all inspections, reading only the records that concern them.

Equal to loading the whole boiler as far as these tubes go. Not here: what is shown of it.
"""

from collections.abc import Collection
from dataclasses import replace

from model.condition.fold import fold_boiler
from model.condition.states import FoldedBoiler
from model.record.line import Record
from model.store.history import read_heads
from model.store.queries import list_inspection_ids, load_shop_records, read_rows
from model.store.store import Store

_OF_HOLE = "SELECT line, id FROM record WHERE hole = ? AND inspection IS NOT NULL ORDER BY n"
# One look into the index for each inspection, instead of reading every entry of the boiler.
_PHOTOS = (
    "SELECT line, id FROM record WHERE boiler = ? AND inspection IS ? AND kind = 'photo'"
    " AND json_extract(line, '$.body.about.hole') IS NOT NULL ORDER BY n"
)
_THIN = (
    "SELECT DISTINCT hole FROM record WHERE boiler = ? AND inspection IS ? AND kind = 'reading'"
    " AND (json_extract(line, '$.body.wall_mm') IS NULL"
    " OR json_extract(line, '$.body.wall_mm') < ?)"
)


def load_holes(store: Store, boiler: FoldedBoiler, holes: Collection[str]) -> FoldedBoiler:
    """The boiler with all its inspections, but of its tubes only those in the holes."""
    wanted = _every_name(boiler, holes)
    heads = [_trimmed(record, wanted) for record in read_heads(store, boiler.members)]
    of_holes = [
        record
        for hole in sorted(wanted)
        for record in read_rows(store, store.rows(_OF_HOLE, (hole,)))
    ]
    photos = [
        record
        for member in sorted(boiler.members)
        for inspection in (None, *list_inspection_ids(store, member))
        for record in read_rows(store, store.rows(_PHOTOS, (member, inspection)))
        if record.body["about"]["hole"] in wanted
    ]
    records = load_shop_records(store) + heads + of_holes + photos
    return fold_boiler(records, boiler.boiler)


def holes_measured_below(store: Store, boiler: FoldedBoiler, wall_mm: float) -> frozenset[str]:
    """Holes with any reading below a wall [mm], or one in percent, dead readings too."""
    rows = [
        row
        for member in sorted(boiler.members)
        for inspection in list_inspection_ids(store, member)
        for row in store.rows(_THIN, (member, inspection, wall_mm))
    ]
    return frozenset(boiler.hole_class(hole) for (hole,) in rows)


def _every_name(boiler: FoldedBoiler, holes: Collection[str]) -> frozenset[str]:
    named = {boiler.hole_class(hole) for hole in holes}
    others = {each for each, name in boiler.renamed_holes.items() if name in named}
    return frozenset(named | others)


def _trimmed(record: Record, holes: Collection[str]) -> Record:
    """A layout with these holes alone; any other record as it is."""
    if record.kind != "layout":
        return record
    kept = [entry for entry in record.body.get("holes", []) if entry.get("hole") in holes]
    return replace(record, body={**record.body, "holes": kept})
