"""From the journal to a folded boiler, and from what a user types to the boiler meant.

Not here: folding itself (``model.condition.fold``), writing (``model.store.edits``).
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from model.condition.classes import Joined
from model.condition.documents import newest
from model.condition.fold import fold_boiler
from model.condition.liveness import live_records
from model.condition.states import FoldedBoiler
from model.errors import StoreRefused
from model.record.kinds import understood
from model.record.line import Record
from model.record.words import SameWhat
from model.store.queries import list_boiler_ids, load_records, load_shop_records, read_rows
from model.store.store import Store


@dataclass(frozen=True, slots=True, kw_only=True)
class BoilerName:
    """A boiler as a list shows it."""

    boiler: str
    members: tuple[str, ...]
    tag: str
    owner: str
    site: str


def load_boiler(store: Store, boiler: str) -> FoldedBoiler:
    """Everything known of a boiler and of those joined with it."""
    return read_boiler(store, boiler)[0]


def read_boiler(store: Store, boiler: str) -> tuple[FoldedBoiler, list[Record]]:
    """What ``load_boiler`` gives, and the records that were read for it."""
    members = joined_members(store, boiler)
    records = load_shop_records(store) + load_records(store, members)
    return fold_boiler(records, boiler), records


def joined_members(store: Store, boiler: str) -> set[str]:
    """The ids of every boiler joined with this one, itself included."""
    return _joined_boilers(_boiler_documents(store)).joined_with(boiler)


def list_boilers(store: Store) -> list[BoilerName]:
    """Every boiler that has a live record of itself, by tag."""
    live = _boiler_documents(store)
    joined = _joined_boilers(live)
    versions: dict[str, list[Record]] = defaultdict(list)
    for record in live:
        if record.kind == "boiler":
            versions[joined.name(record.body["boiler"])].append(record)
    names = [_boiler_name(name, of_one, joined) for name, of_one in versions.items()]
    return sorted(names, key=lambda each: (each.tag.casefold(), each.boiler))


def find_boiler(store: Store, tag: str) -> BoilerName:
    """The boiler with this tag (ignoring case and blanks) or whose id begins so.

    Raises StoreRefused when there is none, or several: then with their ids.
    """
    wanted = plain(tag)
    boilers = list_boilers(store)
    matches = [each for each in boilers if plain(each.tag) == wanted] or [
        each
        for each in boilers
        if len(wanted) >= 4 and any(member.startswith(wanted) for member in each.members)
    ]
    if len(matches) == 1:
        return matches[0]
    if matches:
        ids = ", ".join(f"{each.boiler} ({each.site or 'no site'})" for each in matches)
        raise StoreRefused(
            f"{len(matches)} boilers have the tag {tag}; give one of the ids: {ids}."
        )
    known = ", ".join(each.tag for each in boilers[:8])
    hint = f"the boilers are: {known}" if known else "there is no boiler yet: use 'boiler new'"
    raise StoreRefused(f"There is no boiler with the tag or id {tag}; {hint}.")


def plain(text: str) -> str:
    """A name for comparing: case and blanks ignored."""
    return "".join(text.split()).casefold()


_DOCUMENTS = (
    "SELECT line, id FROM record WHERE boiler = ? AND inspection IS NULL"
    " AND kind IN ('boiler', 'same', 'withdraw')"
)


def _boiler_documents(store: Store) -> list[Record]:
    """The live ``boiler`` and ``same`` records of every boiler, without loading anything else."""
    records = [
        known
        for boiler in list_boiler_ids(store)
        for record in read_rows(store, store.rows(_DOCUMENTS, (boiler,)))
        if (known := understood(record)) is not None
    ]
    live, _ = live_records(records)
    return live


def _joined_boilers(live: Sequence[Record]) -> Joined:
    return Joined(
        (record.body["a"], record.body["b"])
        for record in live
        if record.kind == "same" and record.body["what"] == SameWhat.BOILER
    )


def _boiler_name(name: str, versions: Sequence[Record], joined: Joined) -> BoilerName:
    used = newest(versions)
    assert used is not None
    body: Mapping[str, str] = used.body
    return BoilerName(
        boiler=name,
        members=tuple(sorted(joined.joined_with(name))),
        tag=body["tag"],
        owner=body["owner"],
        site=body["site"],
    )
