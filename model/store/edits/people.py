"""Persons: found by name, or made when the name is new.

Not here: roles, which are checked at the doors.
"""

from collections.abc import Mapping

from model.condition.classes import classes_of
from model.condition.documents import person_names
from model.condition.liveness import live_records
from model.errors import StoreRefused
from model.record.kinds import understood
from model.store.loading import plain
from model.store.queries import load_shop_records
from model.store.store import Store
from model.store.writer import Writer


def persons(store: Store) -> Mapping[str, str]:
    """Name of every person, by the id of the person's class."""
    readable = [r for r in map(understood, load_shop_records(store)) if r is not None]
    live, _ = live_records(readable)
    classes = classes_of(record for record in live if record.kind == "same")
    names = person_names(live, classes)
    return {person: name for person, name in names.items() if classes.person.name(person) == person}


def person_for(writer: Writer, store: Store, name: str) -> str:
    """The id of the person with this name (case and blanks ignored); a new name makes a person.

    An id of a person is taken too, because two persons may have one name. Raises StoreRefused for
    an empty name, or when two persons have the name.
    """
    if not plain(name):
        raise StoreRefused("No name was given: say who with --by NAME.")
    known = persons(store)
    if name in known:
        return name
    matches = [person for person, called in known.items() if plain(called) == plain(name)]
    if len(matches) > 1:
        raise StoreRefused(
            f"Two persons are called {name} ({', '.join(sorted(matches))}); if they are one, "
            "say so with 'person same ID ID'."
        )
    if matches:
        return matches[0]
    person = writer.mint()
    writer.append("person", {"person": person, "name": " ".join(name.split())}, by=person)
    return person


def join_persons(store: Store, first: str, second: str, by: str) -> None:
    """Record that two persons are the same one."""
    known = persons(store)
    for person in (first, second):
        if person not in known:
            raise StoreRefused(f"There is no person with the id {person}; see 'person list'.")
    if first == second:
        raise StoreRefused(f"{first} was given twice; two ids are needed.")
    with store.write() as writer:
        a, b = sorted((first, second))
        body = {"what": "person", "a": a, "b": b}
        writer.append("same", body, by=person_for(writer, store, by))
