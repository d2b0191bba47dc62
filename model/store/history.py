"""A boiler with its present inspection alone: closed inspections come from the cache.

The cache is keyed by a digest of what it was folded from: how many records each inspection and
each kind has and the number of the last one, which in a journal that only grows names the set.
Not here: folding (``model.condition.fold``).
"""

import hashlib
from collections.abc import Collection, Sequence

from model.condition.carry_text import known_from_text, known_to_text
from model.condition.fold import KnownHistory, fold_boiler
from model.condition.states import FoldedBoiler
from model.record.line import Record
from model.store.cache import get_cached, put_cached
from model.store.loading import joined_members, load_boiler
from model.store.queries import load_records, load_shop_records, read_rows
from model.store.store import Store

HISTORY_CACHE = "history"
_COUNTS = (
    "SELECT inspection, kind, count(*), max(n) FROM record WHERE boiler = ?"
    " GROUP BY inspection, kind ORDER BY inspection, kind"
)
_WITHDRAWS = (
    "SELECT w.n, old.inspection FROM record w JOIN edge ON edge.new = w.id"
    " LEFT JOIN record old ON old.id = edge.old"
    " WHERE w.boiler = ? AND w.inspection IS NULL AND w.kind = 'withdraw' ORDER BY w.n"
)
_NOT_OF_INSPECTION = (
    "SELECT line, id FROM record WHERE boiler = ? AND inspection IS NULL ORDER BY n"
)
_OF_INSPECTION = "SELECT line, id FROM record WHERE boiler = ? AND inspection = ? ORDER BY n"
_HEADS_OF_INSPECTIONS = (
    "SELECT line, id FROM record WHERE boiler = ? AND inspection IS NOT NULL"
    " AND kind IN ('inspection', 'close', 'sign_off') ORDER BY n"
)


_WORK_ACROSS = (
    "SELECT 1 FROM record w JOIN edge ON edge.new = w.id JOIN record old ON old.id = edge.old"
    " WHERE w.boiler = ? AND w.inspection IS ? AND w.kind = 'work'"
    " AND w.inspection IS NOT old.inspection LIMIT 1"
)
_INSPECTIONS = "SELECT DISTINCT inspection FROM record WHERE boiler = ?"
_OUTLINES = frozenset(("inspection", "close", "sign_off", "same", "withdraw"))
"""The kinds that say which inspections there are, and in which order."""


def load_present(store: Store, boiler: str) -> FoldedBoiler:
    """The boiler with only those inspections that come after the closed ones.

    Equal to ``load_boiler`` in all but the closed inspections, which it leaves out.
    """
    return read_present(store, boiler)[0]


def read_present(store: Store, boiler: str) -> tuple[FoldedBoiler, list[Record]]:
    """What ``load_present`` gives, and the records that were read for it."""
    members = joined_members(store, boiler)
    shop = load_shop_records(store)
    heads = read_heads(store, members)
    closed, later = _split(shop + heads, boiler)
    if not closed or _work_reaches_across(store, members):
        every = shop + load_records(store, members)
        return fold_boiler(every, boiler), every
    digest = _digest(store, members, later)
    known = _cached(store, boiler, digest)
    if known is None:
        known = _fold_closed(store, boiler, closed)
        put_cached(store, HISTORY_CACHE, boiler, digest, known_to_text(known))
    records = shop + heads + _records_of(store, members, later)
    return fold_boiler(records, boiler, known), records


def recompute_history(store: Store, boiler: str) -> str | None:
    """What the cache should hold of a boiler; None when what it holds is out of date anyhow.

    For the check of a database, which compares it with what the cache holds.
    """
    members = joined_members(store, boiler)
    closed, later = _split(load_shop_records(store) + read_heads(store, members), boiler)
    if not closed or _cached(store, boiler, _digest(store, members, later)) is None:
        return None
    return known_to_text(_fold_closed(store, boiler, closed))


def _split(outline: Sequence[Record], boiler: str) -> tuple[list[str], set[str]]:
    """The classes of the first inspections, as far as they are closed; the ids of all others."""
    folded = fold_boiler([record for record in outline if record.kind in _OUTLINES], boiler)
    closed: list[str] = []
    for inspection in folded.inspections:
        if not inspection.facts.is_closed or inspection.facts.date is None:
            break
        closed.append(inspection.facts.inspection)
    rest = folded.inspections[len(closed) :]
    return closed, {member for inspection in rest for member in inspection.facts.members}


def _work_reaches_across(store: Store, members: Collection[str]) -> bool:
    """Whether work of one inspection names work of another, or of none.

    Then what was closed cannot be told apart from the rest, and everything is folded.
    """
    return any(
        store.rows(_WORK_ACROSS, (member, inspection))
        for member in sorted(members)
        for (inspection,) in store.rows(_INSPECTIONS, (member,))
    )


def _cached(store: Store, boiler: str, digest: str) -> KnownHistory | None:
    text = get_cached(store, HISTORY_CACHE, boiler, digest)
    return None if text is None else known_from_text(text)


def _fold_closed(store: Store, boiler: str, closed: Sequence[str]) -> KnownHistory:
    last = load_boiler(store, boiler).inspections[len(closed) - 1]
    return KnownHistory(
        inspections=frozenset(closed),
        last_date=last.facts.date or "",
        carry=last.carried_out,
    )


def read_heads(store: Store, members: Collection[str]) -> list[Record]:
    """Records of no inspection, and those that say what the inspections are."""
    return [
        record
        for member in sorted(members)
        for sql in (_NOT_OF_INSPECTION, _HEADS_OF_INSPECTIONS)
        for record in read_rows(store, store.rows(sql, (member,)))
    ]


def _records_of(
    store: Store, members: Collection[str], inspections: Collection[str]
) -> list[Record]:
    return [
        record
        for member in sorted(members)
        for inspection in sorted(inspections)
        for record in read_rows(store, store.rows(_OF_INSPECTION, (member, inspection)))
    ]


def _digest(store: Store, members: Collection[str], later: Collection[str]) -> str:
    """Names everything but what belongs to the later inspections, their withdrawals included."""
    parts: list[str] = []
    for member in sorted(members):
        for inspection, kind, count, last in store.rows(_COUNTS, (member,)):
            if inspection not in later and (inspection is not None or kind != "withdraw"):
                parts.append(f"{member} {inspection} {kind} {count} {last}")
        for number, target_inspection in store.rows(_WITHDRAWS, (member,)):
            if target_inspection not in later:
                parts.append(f"{member} withdraw {number}")
    ((count, last),) = store.rows("SELECT count(*), max(n) FROM record WHERE boiler = ''")
    parts.append(f"shop {count} {last}")
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()
