"""Firms that give results of their own: each is a person whose company is its name.

Not here: the people of the inspection (``people``).
"""

from model.condition.documents import newest
from model.store.edits.people import load_people, person_for
from model.store.store import Store


def firm_for(store: Store, firm: str, by: str) -> str:
    """The id of the firm's person, made when the name is new; one transaction.

    A person of that name without a company is a firm from now on. Raises StoreRefused for an empty
    name, or when two persons have it.
    """
    people = load_people(store)
    called = people.called(firm)
    versions = [
        record
        for record in people.live
        if record.kind == "person" and people.person_class(record.body["person"]) in called
    ]
    if len(called) == 1 and any(record.body["company"] for record in versions):
        return called.pop()
    with store.write() as writer:
        author = person_for(writer, store, by)
        name = " ".join(firm.split())
        if not called:
            person = writer.mint()
            body = {"person": person, "name": name, "company": name}
            writer.append("person", body, by=author)
            return person
        person = person_for(writer, store, firm)
        best = newest(versions)
        assert best is not None, "a person that is called something has a record"
        writer.append("person", {**best.body, "company": name}, by=author, supersedes=[best.id])
        return person
