"""Names become persons: one for a name however it is written, and joined ones are one for ever.

Not here: what it changes for a state (``tests/model/condition``).
"""

import pytest

from model.errors import StoreRefused
from model.store.edits.people import join_persons, load_people, person_for, persons


@pytest.fixture
def known(store):
    """``known(name)``: the person of a name, made if need be."""

    def find(name):
        with store.write() as writer:
            return person_for(writer, store, name)

    return find


def add_person(store, name, person="ppppppppppppp"):
    """A person as another tablet recorded them."""
    with store.write() as writer:
        writer.append("person", {"person": person, "name": name}, by=person)
    return person


def test_a_new_name_makes_a_person_under_their_own_id(store, known):
    person = known("  Ada   Lind ")
    assert persons(store) == {person: "Ada Lind"}
    (record,) = (r for r in load_people(store).live if r.kind == "person")
    assert (record.by, record.boiler, record.body["person"]) == (person, "", person)


@pytest.mark.parametrize("name", ["Ada Lind", "ada lind", "ADA  LIND", " Ada Lind\t", "AdaLind"])
def test_case_and_blanks_make_no_new_person(store, known, name):
    person = known("Ada Lind")
    assert known(name) == person
    assert len(persons(store)) == 1


def test_letters_of_any_alphabet_are_compared_without_case(store, known):
    assert known("Jörg Groß") == known("JÖRG GROSS")


@pytest.mark.parametrize("name", ["", "  ", "\n"])
def test_no_name_is_refused(known, name):
    with pytest.raises(StoreRefused, match="No name was given: say who with --by NAME"):
        known(name)


def test_the_id_of_a_person_is_taken_too(store, known):
    person = known("Ada Lind")
    assert known(person) == person
    assert len(persons(store)) == 1


def test_two_persons_of_one_name_are_refused_with_their_ids(store, known):
    first, second = known("Ada Lind"), add_person(store, "ada lind")
    with pytest.raises(StoreRefused, match="Two persons are called Ada Lind") as refused:
        known("Ada Lind")
    assert first in str(refused.value)
    assert second in str(refused.value)
    assert known(first) == first  # an id tells them apart


def test_joined_persons_are_one_under_either_name_and_either_id(store, known):
    ada, other = known("Ada Lind"), known("A. Lind")
    join_persons(store, other, ada, "Cora")
    one = min(ada, other)
    assert [known(name) for name in ("Ada Lind", "a.lind", ada, other)] == [one] * 4
    assert len(persons(store)) == 2  # and Cora


def test_two_of_one_name_are_no_longer_doubtful_once_joined(store, known):
    first, second = known("Ada Lind"), add_person(store, "Ada Lind")
    join_persons(store, first, second, "Cora")
    assert known("Ada Lind") == min(first, second)


def test_who_joins_may_be_new(store, known):
    join_persons(store, known("Ada"), known("Ben"), "Cora")
    assert "Cora" in persons(store).values()


def test_a_person_cannot_be_joined_with_themselves_with_nobody_or_twice(store, known):
    ada, ben = known("Ada"), known("Ben")
    with pytest.raises(StoreRefused, match=f"{ada} was given twice; two ids are needed"):
        join_persons(store, ada, ada, "Cora")
    with pytest.raises(
        StoreRefused, match="There is no person with the id zzzz; see 'person list'"
    ):
        join_persons(store, ada, "zzzz", "Cora")
    join_persons(store, ada, ben, "Cora")
    with pytest.raises(StoreRefused, match="are one person already"):
        join_persons(store, ben, ada, "Cora")
