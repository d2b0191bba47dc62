"""Boilers: made from a file, revised, and joined when two records turn out to be one boiler.

Not here: reading files (the callers do), what a layout may be (``model.tubesheet.validate``).
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from model.condition.states import FoldedBoiler
from model.errors import Faults, StoreRefused
from model.record.line import Record
from model.store.edits.people import person_for
from model.store.loading import BoilerName, load_boiler
from model.store.store import Store
from model.store.writer import Writer
from model.tubesheet.lattice import fitted_pitch
from model.tubesheet.layout import Tube
from model.tubesheet.revision import Revision, compare_layouts


@dataclass(frozen=True, slots=True, kw_only=True)
class BoilerDocument:
    """The content of a boiler record and its settings, complete and checked."""

    body: Mapping[str, Any]
    """Fields of the ``boiler`` kind, without the id."""
    settings: Mapping[str, Mapping[str, Any]]
    """Values by section."""


def create_boiler(store: Store, document: BoilerDocument, tubes: Sequence[Tube], by: str) -> str:
    """A new boiler with its layout and settings; gives its id."""
    with store.write() as writer:
        person = person_for(writer, store, by)
        boiler = writer.mint()
        body = {**document.body, "boiler": boiler}
        writer.append("boiler", body, boiler=boiler, by=person)
        holes = [_hole_entry(tube, writer.mint()) for tube in tubes]
        writer.append("layout", {"holes": holes}, boiler=boiler, by=person)
        for section, values in document.settings.items():
            body = {"section": section, "values": values}
            writer.append("settings", body, boiler=boiler, by=person)
    return boiler


def planned_revision(store: Store, boiler: str, tubes: Sequence[Tube]) -> Revision:
    """What a revised layout would keep, rename, revive, add and retire."""
    return _revision(load_boiler(store, boiler), tubes)


def _revision(folded: FoldedBoiler, tubes: Sequence[Tube]) -> Revision:
    return compare_layouts(folded.tubes, tubes, folded.retired_tubes)


def revise_boiler(
    store: Store,
    boiler: str,
    by: str,
    *,
    document: BoilerDocument | None = None,
    tubes: Sequence[Tube] | None = None,
) -> list[str]:
    """Supersede the document, the given sections of settings and the layout, as far as given.

    All in one transaction; gives what changed. Of a layout, matched tubes keep their holes, missing
    ones are retired, and one that stands where a retired one was has its hole and records again.
    """
    folded = load_boiler(store, boiler)
    # Before the transaction: this refuses rows that name foreign holes or stand in one place.
    revision = None if tubes is None else _revision(folded, tubes)
    changed: list[str] = []
    with store.write() as writer:
        person = person_for(writer, store, by)
        if document is not None:
            changed += _revise_document(writer, folded, document, person)
        if revision is not None and _revise_layout(writer, folded, revision, person):
            changed.append("layout")
    return changed


def _revise_document(
    writer: Writer, folded: FoldedBoiler, document: BoilerDocument, person: str
) -> list[str]:
    changed: list[str] = []
    body = {**document.body, "boiler": folded.boiler}
    versions = folded.document_versions
    if len(versions) != 1 or not _same(versions[0].body, body):
        _supersede(writer, "boiler", body, versions, folded.boiler, person)
        changed.append("boiler")
    for section, values in document.settings.items():
        versions = folded.settings_versions.get(section, ())
        if len(versions) == 1 and _same(versions[0].body["values"], values):
            continue
        body = {"section": section, "values": values}
        _supersede(writer, "settings", body, versions, folded.boiler, person)
        changed.append(section)
    return changed


def _revise_layout(writer: Writer, folded: FoldedBoiler, revision: Revision, person: str) -> bool:
    """Whether anything of the layout changed; one that says what stands already is not written."""
    layouts = [record for record in folded.live if record.kind == "layout"]
    is_same = not (revision.new or revision.revived or revision.retired) and set(
        revision.matched
    ) == set(folded.tubes)
    if is_same and len(layouts) == 1:
        return False
    standing = (*revision.matched, *revision.revived)
    holes = [_hole_entry(tube, tube.hole or writer.mint()) for tube in standing]
    holes += [_hole_entry(tube, writer.mint()) for tube in revision.new]
    gone = folded.retired | {t.hole for t in revision.retired if t.hole is not None}
    retired = sorted(gone - {tube.hole for tube in revision.revived})
    body = {"holes": holes, "retired": retired}
    _supersede(writer, "layout", body, layouts, folded.boiler, person)
    return True


def join_boilers(store: Store, first: BoilerName, second: BoilerName, by: str) -> int:
    """Record that two boilers are one; gives how many tubes were matched.

    Tubes are matched by key, and must be of one pass and stand in one place, within a quarter of
    the pitch. Raises Faults when a tube of either matches nothing: the map must be whole before
    anything is joined.
    """
    if first.boiler == second.boiler:
        raise StoreRefused(f"{first.boiler} and {second.boiler} are already one boiler.")
    a, b = sorted((first.boiler, second.boiler))
    holes = _hole_map(load_boiler(store, a), load_boiler(store, b))
    with store.write() as writer:
        body = {"what": "boiler", "a": a, "b": b, "holes": holes}
        writer.append("same", body, boiler=a, by=person_for(writer, store, by))
    return len(holes)


def _hole_map(a: FoldedBoiler, b: FoldedBoiler) -> dict[str, str]:
    """Holes of b to holes of a."""
    pitch = fitted_pitch(a.tubes)
    limit = 0.0 if pitch is None else pitch.pitch_mm / 4.0
    by_key = {tube.key.casefold(): tube for tube in a.tubes}
    holes: dict[str, str] = {}
    faults: list[str] = []
    for tube in b.tubes:
        match = by_key.get(tube.key.casefold())
        is_there = (
            match is not None
            and match.pass_ == tube.pass_
            and math.dist((match.x_mm, match.y_mm), (tube.x_mm, tube.y_mm)) <= limit
        )
        if match is None or match.hole is None or tube.hole is None or not is_there:
            faults.append(
                f"Tube {tube.key} of {b.boiler} has no tube of the same key, pass and place in "
                f"{a.boiler}; make the two layouts agree with 'boiler update' first."
            )
            continue
        holes[tube.hole] = match.hole
    # Whether two boilers can be joined must not hang on which of them has the smaller id.
    keys_of_b = {tube.key.casefold() for tube in b.tubes}
    faults += [
        f"Tube {tube.key} of {a.boiler} has no tube of the same key, pass and place in "
        f"{b.boiler}; make the two layouts agree with 'boiler update' first."
        for tube in a.tubes
        if tube.key.casefold() not in keys_of_b
    ]
    if faults:
        raise Faults(faults[:20])
    return holes


def _supersede(
    writer: Writer,
    kind: str,
    body: Mapping[str, Any],
    versions: Sequence[Record],
    boiler: str,
    person: str,
) -> None:
    supersedes = [record.id for record in versions]
    writer.append(kind, body, boiler=boiler, by=person, supersedes=supersedes)


def _same(old: Mapping[str, Any], new: Mapping[str, Any]) -> bool:
    """Whether nothing changed; a field that is blank in one and missing in the other is equal."""
    names = old.keys() | new.keys()
    return all(_or_none(old.get(name)) == _or_none(new.get(name)) for name in names)


def _or_none(value: Any) -> Any:
    """None for a blank; nought and no are values."""
    return None if value in ("", [], {}) else value


def _hole_entry(tube: Tube, hole: str) -> dict[str, Any]:
    return {
        "hole": hole,
        "tube": tube.key,
        "label": tube.label,
        "pass": tube.pass_,
        "row": tube.row,
        "column": tube.column,
        "x_mm": tube.x_mm,
        "y_mm": tube.y_mm,
        "od_mm": tube.od_mm,
        "wall_mm": tube.wall_mm,
        "length_mm": tube.length_mm,
        "material": tube.material,
        "kind": tube.kind,
    }
