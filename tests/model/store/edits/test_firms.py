"""A firm is a person whose company is its own name."""

import random
from datetime import UTC, datetime

import pytest

from model.errors import StoreRefused
from model.store.edits.firms import firm_for
from model.store.edits.people import join_persons, load_people, person_for
from model.store.opening import open_store
from model.store.surroundings import Surroundings


@pytest.fixture
def store(tmp_path):
    surroundings = Surroundings(
        clock=lambda: datetime(2026, 3, 11, 8, 0, tzinfo=UTC),
        random_bits=random.Random(7),
        device="test",
        app_version="0.0-test",
    )
    with open_store(tmp_path / "b.db", surroundings) as opened:
        yield opened


def person(store, name):
    with store.write() as writer:
        return person_for(writer, store, name)


def records_of(store, id_):
    return [r for r in load_people(store).live if r.kind == "person" and r.body["person"] == id_]


def test_a_new_firm_is_written_by_who_enters_it_and_only_once(store):
    firm = firm_for(store, " Invented  Probes ", "Ada")
    (record,) = records_of(store, firm)
    assert (record.body["name"], record.body["company"]) == ("Invented Probes", "Invented Probes")
    assert load_people(store).names()[record.by] == "Ada"
    assert firm_for(store, "invented probes", "Ben") == firm
    assert "Ben" not in load_people(store).names().values()


def test_a_person_of_that_name_gets_the_company_and_keeps_the_rest(store):
    ada = person(store, "Ada")
    with store.write() as writer:
        body = {"person": ada, "name": "Ada", "role": "inspector"}
        writer.append("person", body, by=ada, supersedes=[records_of(store, ada)[0].id])
    assert firm_for(store, "Ada", "Ben") == ada
    (record,) = records_of(store, ada)
    assert (record.body["company"], record.body["role"]) == ("Ada", "inspector")


def test_joined_persons_are_one_firm(store):
    first, second = person(store, "Probes"), person(store, "Probes Ltd")
    join_persons(store, first, second, "Ada")
    firm = firm_for(store, "Probes", "Ada")
    assert firm == load_people(store).person_class(first)
    assert any(
        record.body["company"] for id_ in (first, second) for record in records_of(store, id_)
    )
    before = len(load_people(store).live)
    firm_for(store, "Probes Ltd", "Ada")
    assert len(load_people(store).live) == before


def test_two_persons_of_one_name_are_refused_and_nothing_is_written(store):
    person(store, "Probes")
    with store.write() as writer:
        twin = writer.mint()
        writer.append("person", {"person": twin, "name": "Probes"}, by=twin)
    before = len(load_people(store).live)
    with pytest.raises(StoreRefused, match="Two persons are called Probes"):
        firm_for(store, "Probes", "Ada")
    assert len(load_people(store).live) == before
