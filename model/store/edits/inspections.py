"""Inspections: opened, put right, closed, reopened, joined, signed off.

Not here: what is recorded in them (``entries``).
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from model.condition.documents import newest
from model.condition.states import FoldedBoiler, FoldedInspection
from model.errors import StoreRefused
from model.record.bodies import BODIES
from model.record.canonical import normalised
from model.record.line import Record
from model.record.words import Scope
from model.store.edits.people import person_for
from model.store.loading import load_boiler
from model.store.queries import (
    beyond_gap_ids,
    contiguous_vector,
    inspection_digest,
    record_ids_of_inspection,
)
from model.store.store import Store


@dataclass(frozen=True, slots=True, kw_only=True)
class NewInspection:
    date: str
    scope: Scope
    passes: Sequence[int] = ()
    purpose: str = ""
    opened: Sequence[str] = ()
    cleaned: Sequence[str] = ()
    instruments: Sequence[Mapping[str, Any]] = field(default_factory=tuple)


def open_inspection(store: Store, boiler: str, new: NewInspection, by: str) -> str:
    """A new inspection; gives its id. StoreRefused while another one is open."""
    still_open = [
        each for each in load_boiler(store, boiler).inspections if not each.facts.is_closed
    ]
    if still_open:
        raise StoreRefused(
            f"The inspection of {still_open[0].facts.date} is still open; close it with "
            "'inspection close' before opening another."
        )
    with store.write() as writer:
        inspection = writer.mint()
        body = {
            "inspection": inspection,
            "date": new.date,
            "scope": str(new.scope),
            "passes": sorted(new.passes),
            "purpose": new.purpose,
            "opened": list(new.opened),
            "cleaned": list(new.cleaned),
            "instruments": list(new.instruments),
        }
        writer.append("inspection", body, boiler=boiler, by=person_for(writer, store, by))
    return inspection


def change_inspection(
    store: Store,
    boiler: FoldedBoiler,
    inspection: FoldedInspection,
    given: Mapping[str, Any],
    by: str,
) -> list[str]:
    """Supersede what is recorded of an inspection itself; gives which of the fields changed.

    Anyone may. Of joined inspections each keeps a record of its own, so that they can be told
    apart again.
    """
    members: dict[str, list[Record]] = defaultdict(list)
    for version in inspection.facts.versions:
        members[version.body["inspection"]].append(version)
    if not members:
        raise StoreRefused("The record of this inspection itself has not arrived yet.")
    changed: set[str] = set()
    with store.write() as writer:
        person = person_for(writer, store, by)
        for member, versions in sorted(members.items()):
            used = newest(versions)
            assert used is not None
            before = {name: used.body[name] for name in BODIES["inspection"]}
            after: dict[str, Any] = normalised({**before, **given, "inspection": member})
            differing = {name for name in after if after[name] != before[name]}
            if not differing and len(versions) == 1:
                continue
            changed |= differing
            writer.append(
                "inspection",
                after,
                boiler=boiler.boiler,
                by=person,
                supersedes=[version.id for version in versions],
            )
    return sorted(changed)


def close_inspection(
    store: Store, boiler: FoldedBoiler, inspection: FoldedInspection, by: str
) -> None:
    """Close it; late records are still taken, and show as after closing."""
    facts = inspection.facts
    if facts.is_closed:
        raise StoreRefused(f"The inspection of {facts.date} is already closed.")
    closed = {record.body["inspection"] for record in facts.closes}
    with store.write() as writer:
        person = person_for(writer, store, by)
        seal = seal_of(store, boiler, inspection)
        for member in sorted({r.body["inspection"] for r in facts.versions} - closed):
            body = {"inspection": member, **seal}
            writer.append("close", body, boiler=boiler.boiler, by=person)


def reopen_inspection(
    store: Store, boiler: FoldedBoiler, inspection: FoldedInspection, by: str, why: str
) -> None:
    """Withdraw the closing."""
    closes = [record.id for record in inspection.facts.closes]
    if not closes:
        raise StoreRefused(f"The inspection of {inspection.facts.date} is open.")
    with store.write() as writer:
        person = person_for(writer, store, by)
        writer.append("withdraw", {"why": why}, boiler=boiler.boiler, by=person, supersedes=closes)


def join_inspections(store: Store, boiler: FoldedBoiler, first: str, second: str, by: str) -> None:
    """Record that two inspections of one boiler are one, as when two tablets made each its own."""
    a, b = sorted((boiler.inspection_class(first), boiler.inspection_class(second)))
    known = {each.facts.inspection for each in boiler.inspections}
    for name in (a, b):
        if name not in known:
            raise StoreRefused(f"There is no inspection {name} of this boiler.")
    if a == b:
        raise StoreRefused("The two ids name one inspection already.")
    with store.write() as writer:
        body = {"what": "inspection", "a": a, "b": b}
        writer.append("same", body, boiler=boiler.boiler, by=person_for(writer, store, by))


@dataclass(frozen=True, slots=True, kw_only=True)
class SignOff:
    name: str
    role: str
    certificate: str = ""
    statement: str = ""


def sign_off(
    store: Store, boiler: FoldedBoiler, inspection: FoldedInspection, given: SignOff
) -> None:
    """Add a sign-off that names exactly which records it saw."""
    with store.write() as writer:
        person = person_for(writer, store, given.name)
        body = {
            "inspection": inspection.facts.inspection,
            "name": given.name,
            "role": given.role,
            "certificate": given.certificate,
            "statement": given.statement,
            **seal_of(store, boiler, inspection),
        }
        writer.append("sign_off", body, boiler=boiler.boiler, by=person)


def seal_of(store: Store, boiler: FoldedBoiler, inspection: FoldedInspection) -> dict[str, Any]:
    """What names the records that a closing or a sign-off saw."""
    ids = record_ids_of_inspection(store, boiler.members, inspection.facts.members)
    return {
        "vector": contiguous_vector(store, boiler.members),
        "beyond_gap": beyond_gap_ids(store, boiler.members),
        "digest": inspection_digest(ids),
    }
