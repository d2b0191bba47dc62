"""From what a user types to the boiler meant.

Not here: what is loaded (``tests/model/condition``).
"""

import pytest

from model.errors import StoreRefused
from model.store.edits.boilers import create_boiler, revise_boiler
from model.store.loading import find_boiler, list_boilers, load_boiler
from tests.model.store.edits.one_boiler import CHIEF, document, row


@pytest.fixture
def make(store):
    return lambda tag, **more: create_boiler(store, document(tag, **more), row("a"), CHIEF)


def test_boilers_are_listed_by_tag_with_owner_and_site(store, make):
    make("b-2")
    make("A-1", owner="Another", site="room 9")
    listed = [(each.tag, each.owner, each.site) for each in list_boilers(store)]
    assert listed == [("A-1", "Another", "room 9"), ("b-2", "Fernhill (invented)", "room 2")]


@pytest.mark.parametrize("typed", ["No. 2 boiler", "no.2boiler", " NO. 2  BOILER "])
def test_a_tag_is_found_ignoring_case_and_blanks(store, make, typed):
    boiler = make("No. 2 Boiler")
    make("No. 3 Boiler")
    assert find_boiler(store, typed).boiler == boiler


def test_the_beginning_of_an_id_is_enough_and_three_characters_are_not(store, make):
    boiler = make("B-7")
    assert find_boiler(store, boiler[:4].upper()).boiler == boiler
    with pytest.raises(StoreRefused, match="There is no boiler with the tag or id"):
        find_boiler(store, boiler[:3])


def test_a_tag_comes_before_the_beginning_of_an_id(store, make):
    first = make("B-7")
    second = make(first[:6])
    assert find_boiler(store, first[:6]).boiler == second


def test_an_unknown_tag_names_the_boilers_there_are(store, make):
    with pytest.raises(StoreRefused, match="there is no boiler yet: use 'boiler new'"):
        find_boiler(store, "B-7")
    make("B-7")
    make("B-8")
    with pytest.raises(
        StoreRefused, match="no boiler with the tag or id B-9; the boilers are: B-7, B"
    ):
        find_boiler(store, "B-9")


def test_a_doubled_tag_is_refused_with_the_ids_and_their_sites(store, make):
    ids = [make("B-7", site="room 2"), make("b-7", site="")]
    with pytest.raises(StoreRefused, match="2 boilers have the tag B-7; give one of the ids") as no:
        find_boiler(store, "B-7")
    assert f"{ids[0]} (room 2)" in str(no.value)
    assert f"{ids[1]} (no site)" in str(no.value)


def test_the_list_and_the_tag_follow_the_version_in_use(store, make):
    boiler = make("B-7")
    revise_boiler(store, boiler, CHIEF, document=document("B-70"))
    assert [each.tag for each in list_boilers(store)] == ["B-70"]
    assert find_boiler(store, "B-70").boiler == boiler


def test_a_boiler_of_which_nothing_is_known_is_empty(store):
    folded = load_boiler(store, "zzzzzzzzzzzzz")
    assert (folded.document, folded.tubes, folded.inspections) == (None, (), ())
