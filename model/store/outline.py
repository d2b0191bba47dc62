"""What there is of a boiler beside its tubes: its document and its inspections, for lists.

Reads no layout and no mark, so that a list of many large boilers opens at once. Not here: states.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from model.condition.fold import fold_boiler
from model.condition.states import InspectionFacts
from model.record.line import Record
from model.store.loading import BoilerName, list_boilers
from model.store.queries import load_shop_records, read_rows
from model.store.store import Store

_HEADS = (
    "SELECT line, id FROM record WHERE boiler = ? AND inspection IS NULL"
    " AND kind IN ('boiler', 'same', 'withdraw') ORDER BY n",
    "SELECT line, id FROM record WHERE boiler = ? AND inspection IS NOT NULL"
    " AND kind IN ('inspection', 'close', 'sign_off') ORDER BY n",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class BoilerOutline:
    """A boiler and its inspections in order of date."""

    name: BoilerName
    kind: str
    body: Mapping[str, Any]
    """Of its document; empty when that has not arrived."""
    inspections: tuple[InspectionFacts, ...]
    persons: Mapping[str, str]

    @property
    def open(self) -> tuple[InspectionFacts, ...]:
        return tuple(each for each in self.inspections if not each.is_closed)


def list_outlines(store: Store) -> list[BoilerOutline]:
    """Every boiler, by tag."""
    shop = load_shop_records(store)
    return [_outline(store, shop, name) for name in list_boilers(store)]


def load_outline(store: Store, name: BoilerName) -> BoilerOutline:
    return _outline(store, load_shop_records(store), name)


def _outline(store: Store, shop: Iterable[Record], name: BoilerName) -> BoilerOutline:
    heads = [
        record
        for member in name.members
        for sql in _HEADS
        for record in read_rows(store, store.rows(sql, (member,)))
    ]
    folded = fold_boiler([*shop, *heads], name.boiler)
    body: Mapping[str, Any] = {} if folded.document is None else folded.document.body
    return BoilerOutline(
        name=name,
        kind=body.get("kind", "other"),
        body=body,
        inspections=tuple(each.facts for each in folded.inspections),
        persons=folded.persons,
    )
