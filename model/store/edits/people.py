"""Persons: found by name, or made when the name is new.

Not here: roles, which are checked at the doors.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from model.condition.classes import Classes
from model.condition.documents import person_names
from model.condition.liveness import live_records
from model.errors import StoreRefused
from model.record.kinds import understood
from model.record.line import Record
from model.store.loading import plain
from model.store.queries import load_shop_records
from model.store.store import Store
from model.store.writer import Writer


@dataclass(frozen=True, slots=True, kw_only=True)
class People:
    """Every person known to a database, also under names and ids from before they were joined."""

    live: tuple[Record, ...]
    """The live records under no boiler."""
    classes: Classes

    def person_class(self, person: str) -> str:
        """The id that a person goes by."""
        return self.classes.person.name(person)

    def names(self) -> dict[str, str]:
        """Name of every person, by the id of the person's class."""
        named = person_names(self.live, self.classes)
        return {
            person: name for person, name in named.items() if self.person_class(person) == person
        }

    def every_id_of(self, name: str) -> set[str]:
        """Every id of the persons whom a name, or the id of a person, means."""
        named = self.person_class(name)
        meant = {named} if named in self.names() else self.called(name)
        return {each for person in meant for each in self.classes.person.joined_with(person)}

    def called(self, name: str) -> set[str]:
        """Persons who have this name or, joined with another, had it before."""
        return {
            self.person_class(record.body["person"])
            for record in self.live
            if record.kind == "person" and plain(record.body["name"]) == plain(name)
        }


def load_people(store: Store) -> People:
    """The persons of a database."""
    readable = [r for r in map(understood, load_shop_records(store)) if r is not None]
    live, classes = live_records(readable)
    return People(live=tuple(live), classes=classes)


def persons(store: Store) -> Mapping[str, str]:
    """Name of every person, by the id of the person's class."""
    return load_people(store).names()


def person_for(writer: Writer, store: Store, name: str) -> str:
    """The id of the person with this name (case and blanks ignored); a new name makes a person.

    An id of a person is taken too, because two persons may have one name. Raises StoreRefused for
    an empty name, or when two persons have the name.
    """
    if not plain(name):
        raise StoreRefused("No name was given: say who with --by NAME.")
    people = load_people(store)
    if (named := people.person_class(name)) in people.names():
        return named
    matches = sorted(people.called(name))
    if len(matches) > 1:
        raise StoreRefused(
            f"Two persons are called {name} ({', '.join(matches)}); if they are one, "
            "say so with 'person same ID ID'."
        )
    if matches:
        return matches[0]
    person = writer.mint()
    writer.append("person", {"person": person, "name": " ".join(name.split())}, by=person)
    return person


def join_persons(store: Store, first: str, second: str, by: str) -> None:
    """Record that two persons are the same one."""
    people = load_people(store)
    for person in (first, second):
        if people.person_class(person) not in people.names():
            raise StoreRefused(f"There is no person with the id {person}; see 'person list'.")
    if first == second:
        raise StoreRefused(f"{first} was given twice; two ids are needed.")
    a, b = sorted((people.person_class(first), people.person_class(second)))
    if a == b:
        raise StoreRefused(f"{first} and {second} are one person already.")
    with store.write() as writer:
        body = {"what": "person", "a": a, "b": b}
        writer.append("same", body, by=person_for(writer, store, by))
