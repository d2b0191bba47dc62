"""Settling a dispute, and withdrawing a record.

Not here: what is disputed (``model.condition``).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from model.condition.states import FoldedBoiler, FoldedInspection
from model.errors import StoreRefused
from model.record.kinds import KINDS, Who, understood
from model.record.line import Record
from model.record.words import End, LeakAt, SettledFrom, State
from model.store.edits.people import load_people, person_for
from model.store.loading import load_boiler
from model.store.queries import find_records_by_prefix
from model.store.store import Store


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What a settler says of one end."""

    state: State
    leak_at: LeakAt | None
    plug: Mapping[str, Any] | None
    why: str
    source: SettledFrom


def settle(
    store: Store,
    boiler: FoldedBoiler,
    inspection: FoldedInspection,
    hole: str,
    ends: Sequence[End],
    verdict: Verdict,
    by: str,
) -> int:
    """Settle ends of one tube, weighing every opinion on them; gives how many were weighed."""
    weighed = 0
    with store.write() as writer:
        person = person_for(writer, store, by)
        for end in ends:
            opinions = [record.id for record in inspection.end_found(hole, end).opinions]
            body = {
                "inspection": inspection.facts.inspection,
                "hole": hole,
                "end": str(end),
                "state": str(verdict.state),
                "leak_at": verdict.leak_at,
                "plug": verdict.plug,
                "why": verdict.why,
                "from": str(verdict.source),
            }
            writer.append("settle", body, boiler=boiler.boiler, by=person, supersedes=opinions)
            weighed += len(opinions)
    return weighed


def withdraw(store: Store, id_prefix: str, by: str, why: str) -> Record:
    """Withdraw one record by its id or the beginning of it; gives the record withdrawn.

    Raises StoreRefused when the id fits none or several, or when this person may not.
    """
    found = find_records_by_prefix(store, id_prefix)
    if len(found) != 1 or len(id_prefix) < 4:
        how_many = {0: "No record begins", 1: "1 record begins"}.get(
            len(found), f"{len(found)} records begin"
        )
        raise StoreRefused(
            f"{how_many} with {id_prefix}; give at least 4 characters that fit one record."
        )
    target = found[0]
    with store.write() as writer:
        person = person_for(writer, store, by)
        _refuse_if_not_allowed(store, target, person)
        writer.append(
            "withdraw", {"why": why}, boiler=target.boiler, by=person, supersedes=[target.id]
        )
    return target


def _refuse_if_not_allowed(store: Store, target: Record, person: str) -> None:
    people = load_people(store)
    live = load_boiler(store, target.boiler).live if target.boiler else people.live
    if understood(target) is not None and all(record.id != target.id for record in live):
        raise StoreRefused(f"Record {target.id[:12]} was superseded or withdrawn already.")
    author = people.names().get(people.person_class(target.by), "an unknown person")
    rule = KINDS[target.kind].withdraw if target.kind in KINDS else Who.NOBODY
    what = target.kind.replace("_", "-")
    if rule is Who.NOBODY:
        raise StoreRefused(f"A {what} cannot be withdrawn; add a new record that says what holds.")
    if rule is Who.SAME_PERSON and people.person_class(target.by) != person:
        raise StoreRefused(
            f"This {what} was made by {author}, and only they may withdraw it; record your own "
            "view, and settle the dispute."
        )
