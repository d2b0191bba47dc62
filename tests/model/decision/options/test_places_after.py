"""Open places of one set of plugs after the other are those that a search of each set gives.

Not here: what an open place is (``tests/model/condition/test_clusters``).
"""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.condition.boiler_facts import document_facts
from model.condition.clusters import accepted_widths, clusters_of, find_clusters
from model.decision.options.places_after import IN_SERVICE, PLUGGED, PlacesAfter
from model.tubesheet.faces import Face, Sheet, Shown
from model.tubesheet.layout import Circle
from tests.model.condition.test_clusters import CHAMBER, FRONT, REAR, grid

TUBES = [*grid((), stays=("c3",), rows=8, columns=9, y_mm=-320.0)]
TUBES += grid((), pass_=3, rows=5, columns=9, y_mm=300.0)
SHEETS = tuple(
    Sheet(key=key, name=key, plate_mm=12.0, stress_mpa=92.4) for key in ("front", "chamber", "rear")
)
KEYS = sorted(each.hole for each in TUBES)
SHELL_MM, FURNACE = 1700.0, Circle(x_mm=420.0, y_mm=80.0, diameter_mm=120.0)


ANSWERS = {"cluster": {"chamber": {"act_mm": 240.0, "basis": "letter"}}}


def facts(shell_mm=SHELL_MM):
    return replace(
        document_facts("b", {}, {"limits": ANSWERS}), sheets=SHEETS, faces=(FRONT, CHAMBER, REAR),
        shell_diameter_mm=shell_mm, furnaces=(FURNACE,), mawp_mpa=1.0,
    )  # fmt: skip


def searched(plugged, shell_mm=SHELL_MM):
    tubes = [replace(each, left=PLUGGED if each.hole in plugged else IN_SERVICE) for each in TUBES]
    return find_clusters(
        tubes, SHEETS, (FRONT, CHAMBER, REAR), shell_diameter_mm=shell_mm, furnaces=(FURNACE,),
        mawp_mpa=1.0, accepted=accepted_widths(ANSWERS),
    )  # fmt: skip


def named(clusters):
    return sorted(
        (
            each.sheet, each.tubes, round(each.span_mm, 3), each.status, round(each.bare_mm, 3),
            each.is_bare, each.permitted_by or "",
        )
        for each in clusters
    )  # fmt: skip


PLUGS = st.sets(st.sampled_from(KEYS), max_size=6)
FEW = st.sets(st.sampled_from(KEYS), min_size=1, max_size=3)


@settings(max_examples=40)
@given(PLUGS, st.lists(FEW, min_size=1, max_size=6), st.booleans())
def test_each_set_of_plugs_gives_what_a_search_of_it_alone_gives(base, changes, is_known):
    """Tubes are plugged and put back in service, a few at a time."""
    tubes = [replace(each, left=PLUGGED if each.hole in base else IN_SERVICE) for each in TUBES]
    places = PlacesAfter(tubes, facts(), searched(base) if is_known else ())
    plugged = base
    for change in [set(), *changes]:
        plugged = plugged ^ change
        assert named(places.clusters(plugged)) == named(searched(plugged))


@settings(max_examples=15)
@given(PLUGS, PLUGS)
def test_without_a_shell_too(base, more):
    places = PlacesAfter(TUBES, facts(None))
    for plugged in (base, base | more, base - more):
        assert named(places.clusters(plugged)) == named(searched(plugged, None))


def test_the_plate_of_these_tests_has_bare_places_and_others():
    """So that the equality above is of both kinds, and of the width that an engineer accepts."""
    found = PlacesAfter(TUBES, facts()).clusters({"f8", "d4", "d5", "e4", "e5"})
    kinds = {(each.sheet, each.is_bare, each.status) for each in found}
    assert {("front", True, "refer"), ("chamber", False, "ok"), ("front", False, "refer")} <= kinds
    assert {each.permitted_by for each in found if each.sheet == "chamber"} == {"letter"}


def test_a_sheet_without_plugs_has_no_place():
    assert PlacesAfter(TUBES, facts()).clusters(frozenset()) == ()


def test_plugs_far_from_what_changed_are_not_searched_again():
    asked = []

    def counting(tubes, sheets, *rest, **more):
        asked.append((sheets[0].key, sorted(t.tube.key for t in tubes if t.left is PLUGGED)))
        return find_clusters(tubes, sheets, *rest, **more)

    places = PlacesAfter(TUBES, facts(), find=counting)
    places.clusters({"b4", "h5"})
    # In the front sheet and in the chamber's.
    assert asked == [("front", ["b4", "h5"]), ("chamber", ["b4", "h5"])]
    asked.clear()
    places.clusters({"b4", "h5"})
    assert asked == []
    places.clusters({"b4"})
    assert asked == []
    places.clusters({"b4", "h5", "e2"})
    assert [keys for _, keys in asked] == [["e2"], ["e2"]]
    asked.clear()
    # Beside h5, which is then another place; b4 is not.
    places.clusters({"b4", "h5", "g5"})
    assert [keys for _, keys in asked] == [["g5", "h5"], ["g5", "h5"]]


def test_near_a_place_a_search_of_the_tubes_around_it_gives_what_one_of_all_gives():
    asked = []

    def counting(tubes, *rest, **more):
        asked.append(len(tubes))
        return find_clusters(tubes, *rest, **more)

    places = PlacesAfter(TUBES, facts(), find=counting)
    # A square of four in each pass, and the place of that of pass 2 with one in service again.
    square, other = {"d4", "d5", "e4", "e5"}, {"d2.3", "d3.3", "e2.3", "e3.3"}
    whole = searched(square | other)
    place = next(each for each in whole if set(each.tubes) == square)
    asked.clear()
    assert named(places.near(place, square | other)) == named(
        each for each in whole if set(each.tubes) & square
    )
    # Within 1.5 * 221 mm of its middle: most of a pass of 72 tubes, and few of the other.
    assert max(asked) < 80 < len(TUBES)
    left = square - {"d4"}
    assert named(places.near(place, left | other)) == named(
        each for each in searched(left | other) if set(each.tubes) & square
    )
    assert places.near(place, other) == ()


ANSWER_FOR_REAR = {"cluster": {"rear": {"act_mm": 240.0, "basis": "letter"}}}
BOTH_REAR = Face(
    key="r", name="rear", sheet="rear", looks="forward",
    shows=(Shown(pass_=2, end="rear"), Shown(pass_=3, end="rear")),
)  # fmt: skip


@pytest.mark.parametrize(
    ("rear_mm", "answers", "searches"),
    [
        (12.0, {}, ["front"]),
        (14.0, {}, ["front", "rear"]),
        (12.0, ANSWER_FOR_REAR, ["front", "rear"]),
    ],
    ids=["alike", "another plate", "an answer for one"],
)
def test_sheets_that_are_alike_are_searched_once(rear_mm, answers, searches):
    asked = []

    def counting(tubes, sheets, *rest, **more):
        asked.append(sheets[0].key)
        return find_clusters(tubes, sheets, *rest, **more)

    sheets = tuple(
        Sheet(key=key, name=key, plate_mm=plate_mm, stress_mpa=92.4)
        for key, plate_mm in (("front", 12.0), ("rear", rear_mm))
    )
    both = replace(facts(), sheets=sheets, faces=(FRONT, BOTH_REAR), settings={"limits": answers})
    plugged = {"d4", "d5", "e4", "e5", "f8"}
    tubes = [replace(each, left=PLUGGED if each.hole in plugged else IN_SERVICE) for each in TUBES]
    whole = clusters_of(tubes, both)
    places = PlacesAfter(TUBES, both, find=counting)
    assert named(places.clusters(plugged)) == named(whole)
    assert asked == searches
    asked.clear()
    place = next(each for each in whole if {"d4", "d5"} <= set(each.tubes))
    near = places.near(place, plugged)
    assert {each.sheet for each in near} == {"front", "rear"}
    assert sorted(asked) == searches
