"""Plugged tubes that are replaced so that no place is too wide: which, how many, and in what words.

Not here: open places of any set of plugs (``test_places_after``).
"""

from dataclasses import replace
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import model.decision.options.closing_places as closing_places
from model.condition.boiler_facts import document_facts
from model.condition.clusters import find_clusters
from model.condition.coverage import count_coverage
from model.condition.states import EndFound, EndLeft
from model.decision.gas.gas_side import GasSideFit
from model.decision.limits import CLUSTER, DEFAULT_LIMITS
from model.decision.options.closing_places import closing_tubes, is_too_wide_plugged
from model.decision.options.judged_options import judged_options
from model.decision.options.places_after import PLUGGED, PlacesAfter
from model.record.words import End, How, State
from model.tubesheet.faces import Sheet
from tests.model.condition.test_clusters import FRONT, REAR, grid
from tests.model.decision.situation_cases import a_pass, a_situation

FOUR = {"d4", "d5", "e4", "e5"}
"""In the middle of a square of 7 by 7 tubes 70 mm apart: a circle of 2 * 70 * hypot(1.5, 0.5), or
221.4 mm; with one of them in service again 2 * 70 * sqrt(2) * 5 / 6, or 165.0 mm."""
SHEET = Sheet(key="front", name="front", plate_mm=12.4, stress_mpa=92.4)
"""177 mm are permitted at 1 MPa."""
NOT_FITTED = GasSideFit(boiler=None, why_not="-", pressures=None, plugged={}, remarks=())


def facts(accepted_mm=None, sheets=(SHEET,)):
    limits = {}
    if accepted_mm is not None:
        limits = {"cluster": {"front": {"act_mm": accepted_mm, "basis": "letter of May 3"}}}
    return replace(
        document_facts("b", {}, {"limits": limits}), sheets=sheets, faces=(FRONT, REAR),
        shell_diameter_mm=3000.0, mawp_mpa=1.0,
    )  # fmt: skip


def situation_of(tubes, *, bad=(), weak=(), stays=()):
    def named(keys, number):
        return frozenset(keys) & {e.hole for e in tubes if e.tube.pass_ == number}

    plugged = {e.hole for e in tubes if e.left.state is State.PLUGGED}
    numbers = sorted({e.tube.pass_ for e in tubes})
    return a_situation(
        *(
            replace(
                a_pass(number),
                holes=frozenset(e.hole for e in tubes if e.tube.pass_ == number),
                plugged=named(plugged - set(bad), number), bad=named(bad, number),
                behind_bad_plug=named(plugged & set(bad), number),
                weak=named(weak, number), stays=named(stays, number),
            )
            for number in numbers
        )
    )  # fmt: skip


FACTS = facts()


def closing(plugged, *, facts=FACTS, **named):
    tubes = grid(plugged, stays=named.get("stays", ()))
    return closing_tubes(situation_of(tubes, **named), tubes, PlacesAfter(tubes, facts))


def judged(plugged, *, facts=FACTS, **named):
    tubes = [
        replace(
            each,
            ends_found=dict.fromkeys(End, EndFound(state=each.left.state, how=How.SEEN)),
            ends_left=dict.fromkeys(End, EndLeft(state=each.left.state)),
        )
        for each in grid(plugged, stays=named.get("stays", ()))
    ]
    options = judged_options(
        situation_of(tubes, **named), tubes, facts,
        coverage=count_coverage(()), rules=DEFAULT_LIMITS, clusters=(), fit=NOT_FITTED,
    )  # fmt: skip
    return {each.plan.key: each for each in options}


def wide(plugged, facts, tubes):
    """Judged places too wide, of a search of its own."""
    after = [replace(e, left=PLUGGED) if e.hole in plugged else _open(e) for e in tubes]
    found = find_clusters(
        after, facts.sheets, facts.faces, shell_diameter_mm=facts.shell_diameter_mm, furnaces=(),
        mawp_mpa=facts.mawp_mpa,
    )  # fmt: skip
    return [each for each in found if each.is_wider_than_permitted and not each.is_bare]


def _open(tube):
    return replace(tube, left=replace(tube.left, state=State.SOUND))


# ------------------------------------------------------------------ four plugs in the middle


def test_of_four_plugs_in_the_middle_one_is_enough():
    assert len(closing(FOUR)) == 1
    assert closing(FOUR) < FOUR


def test_a_place_that_is_kept_is_left_alone():
    assert closing(FOUR - {"e5"}) == frozenset()
    assert closing(()) == frozenset()


def test_the_width_that_an_engineer_accepts_is_what_is_permitted():
    assert closing(FOUR, facts=facts(222.0)) == frozenset()
    # Three that remain leave 165.0 mm, two side by side 2 * 70 * hypot(1, 0.5), or 156.5 mm.
    assert len(closing(FOUR, facts=facts(160.0))) == 2


def test_without_a_plate_nothing_is_judged_and_nothing_closed():
    assert closing(FOUR, facts=facts(sheets=(replace(SHEET, plate_mm=None),))) == frozenset()


def test_a_bad_tube_behind_a_plug_is_replaced_anyway_and_may_be_all_it_takes():
    assert closing(FOUR, bad=("d4",)) == frozenset()


def test_a_plugged_stay_tube_is_replaced_anyway_too():
    assert closing(FOUR, stays=("d4",)) == frozenset()


def test_bare_plate_beside_the_tubes_is_closed_by_no_tube():
    assert closing({"a1"}) == frozenset()


def test_two_places_far_apart_take_a_tube_each():
    left, right = {"b2", "b3", "c2", "c3"}, {"e5", "e6", "f5", "f6"}
    found = closing(left | right)
    assert [len(found & each) for each in (left, right)] == [1, 1]


def test_where_more_would_be_needed_than_the_most_none_is_replaced(monkeypatch):
    monkeypatch.setattr(closing_places, "MOST_CLOSING", 1)
    assert closing({"b2", "b3", "c2", "c3", "e5", "e6", "f5", "f6"}) == frozenset()
    assert len(closing(FOUR)) == 1


# ------------------------------------------------------------------ the options


def test_the_options_that_replace_close_the_place_and_say_so():
    options = judged(FOUR, bad=("a4", "g4"), weak=("g7",))
    one, both = options["replace-bad"], options["replace-bad-and-weak"]
    assert one.plan.words == (
        "Replace the 2 bad tubes and 1 plugged tube, so that no place around plugs is wider than "
        "permitted."
    )
    assert both.plan.words == (
        "Replace the 2 bad and 1 weak tubes and 1 plugged tube, so that no place around plugs is "
        "wider than permitted."
    )
    assert (one.plan.bill_now["tube_each"], both.plan.bill_now["tube_each"]) == (3, 4)
    assert any("plugs come out with it" in each for each in one.plan.assumptions)
    assert "is left without a working tube" in options["plug-bad"].ruled_out
    for each in (one, both):
        assert each.ruled_out is None
        (place,) = [limit for limit in each.limits if limit.name == CLUSTER]
        assert place.value == pytest.approx(164.99, abs=0.01)
        percent = [limit.value for limit in each.limits if limit.name == "plugged_percent"]
        assert percent == pytest.approx([100 * 3 / 49])


def test_plugging_what_is_bad_may_be_what_makes_a_place_too_wide():
    def is_too_wide(plugged, *, stays=(), retubed=frozenset(), **named):
        tubes = grid(plugged, stays=stays)
        situation = situation_of(tubes, stays=stays, **named)
        return is_too_wide_plugged(situation, PlacesAfter(tubes, FACTS), retubed)

    three = FOUR - {"e5"}
    assert not is_too_wide(three)
    assert is_too_wide(three, bad=("e5",))
    # A stay tube is replaced, not plugged, and a pass that is retubed has no plugs.
    assert not is_too_wide(three, bad=("e5",), stays=("e5",))
    assert not is_too_wide(three, bad=("e5",), retubed=frozenset({2}))


def test_where_nothing_is_bad_a_plugged_tube_alone_is_replaced():
    options = judged(FOUR)
    assert options["replace-bad"].plan.words == (
        "Replace 1 plugged tube, so that no place around plugs is wider than permitted."
    )
    assert options["replace-bad"].ruled_out is None
    assert options["run-on"].waits_for_engineer
    assert "replace-bad-and-weak" not in options
    assert "replace-bad" not in judged({"d4"})


def test_a_plugged_stay_tube_is_named_beside_those_that_close():
    options = judged({*FOUR, "b2"}, stays=("b2",))
    assert options["replace-bad"].plan.words == (
        "Replace the plugged tube (a stay tube: not to be plugged) and 1 more plugged tube, so "
        "that no place around plugs is wider than permitted."
    )
    assert options["replace-bad"].ruled_out is None


def test_an_engineers_no_is_an_answer():
    options = judged(FOUR, bad=("a4",), facts=facts(200.0))
    assert options["plug-bad"].ruled_out == (
        "Ruled out: a circle of 221 mm around plugs on the front sheet is left without a working "
        "tube or stay; 200 mm is permitted by letter of May 3."
    )
    assert not options["plug-bad"].waits_for_engineer
    assert judged(FOUR, bad=("a4",))["plug-bad"].waits_for_engineer


# ------------------------------------------------------------------ whatever is plugged

TUBES = [*grid((), rows=6, columns=6, y_mm=-300.0), *grid((), pass_=3, rows=5, columns=6, y_mm=220)]
KEYS = sorted(each.hole for each in TUBES)
SHEETS = (SHEET, Sheet(key="rear", name="rear", plate_mm=11.5, stress_mpa=92.4))
BOTH = facts(sheets=SHEETS)


@settings(max_examples=25, deadline=None)
@given(
    st.sets(st.sampled_from(KEYS), max_size=16),
    st.sets(st.sampled_from(KEYS), max_size=3),
    st.sets(st.sampled_from(KEYS), max_size=3),
)
def test_afterwards_no_judged_place_is_too_wide(plugged, bad, stays):
    tubes = [replace(e, left=PLUGGED) if e.hole in plugged else e for e in TUBES]
    found = closing_tubes(
        situation_of(tubes, bad=bad, stays=stays), tubes, PlacesAfter(tubes, BOTH)
    )
    left = plugged - bad - stays
    assert found <= left
    assert not wide(left - found, BOTH, TUBES)
    assert bool(found) == bool(wide(left, BOTH, TUBES))


@settings(max_examples=15, deadline=None)
@given(st.sets(st.sampled_from([k for k in KEYS if k[0] in "bcde" and k[1] in "2345"]), max_size=8))
def test_one_is_taken_where_one_is_enough_and_none_is_needless(plugged):
    tubes = [replace(e, left=PLUGGED) if e.hole in plugged else e for e in TUBES]
    found = closing_tubes(situation_of(tubes), tubes, PlacesAfter(tubes, BOTH))
    assert all(wide(plugged - (found - {each}), BOTH, TUBES) for each in found)
    enough = next(
        few
        for few in range(len(plugged) + 1)
        if any(not wide(plugged - set(each), BOTH, TUBES) for each in combinations(plugged, few))
    )
    assert enough <= len(found) <= enough + (enough > 1)
