"""Open places around plugs, with tubes named, on a grid and on the sheets of a wet-back.

Not here: the geometry for any arrangement (``tests/model/tubesheet/test_largest_circles``).
"""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.condition.clusters import (
    AcceptedWidth,
    accepted_widths,
    find_clusters,
    permitted_pitch_mm,
)
from model.condition.states import Life
from model.condition.tubes import TubeCondition, TubeStatus
from model.record.words import State
from model.tubesheet.faces import Face, Sheet, Shown
from model.tubesheet.layout import Tube

PITCH_MM = 70.0
FRONT = Face(
    key="f", name="front", sheet="front", looks="rearward",
    shows=(Shown(pass_=2, end="front"), Shown(pass_=3, end="front")),
)  # fmt: skip
CHAMBER = Face(
    key="c", name="chamber", sheet="chamber", looks="forward", shows=(Shown(pass_=2, end="rear"),)
)
REAR = Face(
    key="r", name="rear", sheet="rear", looks="forward", shows=(Shown(pass_=3, end="rear"),)
)


def condition(tube, state):
    status = TubeStatus(state=state, carried=False, disputed=False)
    return TubeCondition(
        tube=tube, hole=tube.key, ends_found={}, ends_left={}, found=status, left=status,
        plugged_one_end=None, life=Life(), is_renewed=False, after_closing=False,
        after_sign_off=False,
    )  # fmt: skip


def grid(plugged, *, stays=(), rows=7, columns=7, pass_=2, y_mm=0.0, states=None):
    """A square grid; a tube's key is its column as a letter and its row from below, as in chess."""
    tubes = []
    for column in range(columns):
        for row in range(1, rows + 1):
            key = f"{'abcdefghijkl'[column]}{row}"
            tube = Tube(
                key=key if pass_ == 2 else f"{key}.{pass_}",
                pass_=pass_, row=row, column=column + 1,
                x_mm=(column - (columns - 1) / 2) * PITCH_MM,
                y_mm=y_mm + (row - (rows + 1) / 2) * PITCH_MM,
                kind="stay" if key in stays else "plain",
            )  # fmt: skip
            state = State.PLUGGED if key in plugged else (states or {}).get(key, State.SOUND)
            tubes.append(condition(tube, state))
    return tubes


def sheet(key="front", plate_mm=16.0, stress_mpa=92.4):
    return Sheet(
        key=key, name=key, plate_mm=plate_mm, stress_mpa=stress_mpa, hole_mm=None, material=None
    )


def clusters(tubes, *, sheets=(), faces=(FRONT,), mawp_mpa=1.0, accepted=None):
    return find_clusters(
        tubes, sheets or (sheet(),), faces,
        shell_diameter_mm=3000.0, furnaces=(), mawp_mpa=mawp_mpa, accepted=accepted,
    )  # fmt: skip


def test_without_a_plug_there_is_no_cluster():
    assert clusters(grid(())) == ()


def test_one_plug_opens_a_circle_through_its_eight_neighbours():
    (place,) = clusters(grid({"d4"}))
    # The four nearest bound it: a circle around d4 of one pitch.
    assert place.tubes == ("d4",)
    assert place.span_mm == pytest.approx(2 * PITCH_MM)
    assert (place.x_mm, place.y_mm) == pytest.approx((0.0, 0.0))


def test_three_mutually_adjacent_plugs_are_one_place_and_three_scattered_are_three():
    """FACTS, plugging: three mutually adjacent plugs stand out, three scattered ones do not.

    A rule of our own, flagged only where the span exceeds the permitted pitch.
    """
    together = clusters(grid({"d4", "d5", "e4"}))
    # Seen from d4 the circle goes through e5 at (1, 1), c4 at (-1, 0) and d3 at (0, -1), so its
    # centre is at (1/6, 1/6) and its radius 5/6 of the diagonal.
    assert together[0].tubes == ("d4", "d5", "e4")
    assert together[0].span_mm == pytest.approx(2 * PITCH_MM * math.sqrt(2) * 5 / 6)
    scattered = clusters(grid({"b2", "d6", "f3"}))
    assert sorted(place.tubes for place in scattered) == [("b2",), ("d6",), ("f3",)]
    assert all(place.span_mm == pytest.approx(2 * PITCH_MM) for place in scattered)


def test_four_plugs_of_a_square_leave_a_circle_through_the_eight_around_them():
    (place,) = clusters(grid({"d4", "d5", "e4", "e5"}))
    # Centre between the four; the nearest that stand are 1.5 and 0.5 pitches away.
    assert place.tubes == ("d4", "d5", "e4", "e5")
    assert place.span_mm == pytest.approx(2 * PITCH_MM * math.hypot(1.5, 0.5))


def test_the_flag_is_raised_only_where_the_span_exceeds_the_permitted_pitch():
    tubes = grid({"d4"})
    span_mm = 2 * PITCH_MM
    # P = t2 S C / p2 with C 2.2 for a plate over 11.1 mm: the MAWP at which the pitch is the span.
    at_limit_mpa = 16.0**2 * 92.4 * 2.2 / span_mm**2
    (kept,) = clusters(tubes, mawp_mpa=at_limit_mpa * 0.9999)
    (beyond,) = clusters(tubes, mawp_mpa=at_limit_mpa * 1.0001)
    assert kept.permitted_mm == pytest.approx(span_mm, rel=1e-3)
    assert (kept.status, beyond.status) == ("ok", "refer")


@pytest.mark.parametrize(
    ("plate_mm", "stress_mpa", "mawp_mpa"),
    [(None, 90.0, 1.0), (16.0, None, 1.0), (16.0, 90.0, None)],
)
def test_without_plate_stress_or_mawp_the_permitted_pitch_is_unknown(
    plate_mm, stress_mpa, mawp_mpa
):
    sheets = (sheet(plate_mm=plate_mm, stress_mpa=stress_mpa),)
    (place,) = clusters(grid({"d4"}), sheets=sheets, mawp_mpa=mawp_mpa)
    assert (place.permitted_mm, place.status) == (None, "unknown")
    assert permitted_pitch_mm(sheets[0], mawp_mpa) is None


def test_a_stay_tube_counts_as_holding_like_any_other():
    assert clusters(grid({"d4"}, stays=("d5",))) == clusters(grid({"d4"}))


@pytest.mark.parametrize("plate_mm", [16.0, None])
def test_a_plugged_stay_tube_is_always_referred(plate_mm):
    sheets = (sheet(plate_mm=plate_mm),)
    places = clusters(grid({"b2", "f6"}, stays=("f6",)), sheets=sheets, mawp_mpa=0.1)
    statuses = {place.tubes: place.status for place in places}
    assert statuses == {("b2",): "ok" if plate_mm else "unknown", ("f6",): "refer"}


@pytest.mark.parametrize("state", [State.LEAKING, State.SPLIT, State.THINNED, None])
def test_only_a_plug_takes_a_tube_out_of_what_holds_the_sheet(state):
    assert clusters(grid((), states={"d4": state})) == ()
    beside_a_plug = grid({"d4"}, states={"d5": state, "e4": state})
    assert clusters(beside_a_plug) == clusters(grid({"d4"}))


def test_each_sheet_of_a_wet_back_has_the_plugs_of_the_passes_that_end_in_it():
    second = grid({"d4"}, y_mm=400.0)
    third = grid({"b2"}, pass_=3, y_mm=-400.0)
    sheets = (sheet("front", 16.0), sheet("chamber", 10.0), sheet("rear", None))
    places = clusters(second + third, sheets=sheets, faces=(FRONT, CHAMBER, REAR))
    assert {(place.sheet, place.tubes, place.status) for place in places} == {
        ("front", ("b2.3",), "ok"),
        ("front", ("d4",), "ok"),
        ("chamber", ("d4",), "refer"),
        ("rear", ("b2.3",), "unknown"),
    }
    assert len(places) == 4


def test_a_sheet_that_no_face_looks_at_has_no_cluster():
    assert clusters(grid({"d4"}), sheets=(sheet("other"),)) == ()


# ------------------------------------------------------------------ beside bare plate


def test_a_lone_plug_at_the_edge_is_beside_bare_plate_and_in_a_place_of_its_own():
    """As wide before anybody plugged: only the shell, far away, bounds it above."""
    wide, own = clusters(grid({"d7"}))
    assert (wide.tubes, own.tubes) == (("d7",), ("d7",))
    # The circle through c7, e7 and the shell's top: its centre is at y, its radius 1500 - y.
    y_mm = (1500.0**2 - PITCH_MM**2 - 210.0**2) / (2 * (1500.0 - 210.0))
    assert wide.span_mm == pytest.approx(2 * (1500.0 - y_mm))
    assert wide.bare_mm == pytest.approx(2 * (y_mm - 210.0))
    assert (wide.is_bare, wide.status) == (True, "refer")
    assert (own.span_mm, own.bare_mm) == pytest.approx((2 * PITCH_MM, 0.0))
    assert (own.is_bare, own.status) == (False, "ok")


def test_plugs_between_other_tubes_are_not_beside_bare_plate():
    (place,) = clusters(grid({"d4", "d5", "e4", "e5"}), mawp_mpa=2.0)
    # The centre of the four is half a diagonal from each of them.
    assert place.bare_mm == pytest.approx(PITCH_MM * math.sqrt(2))
    assert (place.is_bare, place.status) == (False, "refer")


@pytest.mark.parametrize(
    "keys", [("a1", "a2", "b1"), ("c7", "d7", "e7"), ("a1",), ("g6", "g7", "f7")]
)
def test_every_plug_beside_bare_plate_lies_in_a_place_that_is_judged_too(keys):
    places = clusters(grid(set(keys)))
    assert any(each.is_bare for each in places)
    judged = [each for each in places if not each.is_bare]
    assert {key for each in judged for key in each.tubes} == set(keys)
    assert all(each.status == "refer" for each in places if each.is_bare)


def test_three_plugs_of_a_corner_are_judged_by_the_circle_about_the_outermost():
    """No circle but those out to the shell goes through three tubes that stand."""
    judged = [each for each in clusters(grid({"a1", "a2", "b1"})) if not each.is_bare]
    assert judged[0].tubes == ("a1", "a2", "b1")
    assert judged[0].span_mm == pytest.approx(2 * PITCH_MM * math.sqrt(2))


def test_without_a_permitted_pitch_nothing_is_beside_bare_plate():
    (place,) = clusters(grid({"d7"}), sheets=(sheet(plate_mm=None),))
    assert (place.is_bare, place.status) == (False, "unknown")
    assert place.bare_mm > 1000.0


KEYS = [f"{column}{row}" for column in "abcdefg" for row in range(1, 8)]


@settings(max_examples=60, deadline=None)
@given(st.sets(st.sampled_from(KEYS), min_size=1, max_size=12), st.floats(2.0, 40.0))
def test_bare_width_is_never_wider_than_the_place_and_bare_places_take_no_plug_away(
    plugged, plate_mm
):
    tubes = grid(plugged)
    places = clusters(tubes, sheets=(sheet(plate_mm=plate_mm),))
    for each in places:
        assert 0.0 <= each.bare_mm <= each.span_mm
        nearest = min(math.hypot(t.tube.x_mm - each.x_mm, t.tube.y_mm - each.y_mm) for t in tubes)
        assert each.bare_mm == pytest.approx(min(2 * nearest, each.span_mm), abs=1e-6)
        assert each.is_bare == (each.bare_mm > each.permitted_mm)
        assert each.status == "refer" or not each.is_bare
    assert {key for each in places if not each.is_bare for key in each.tubes} == plugged


INNER = [f"{column}{row}" for column in "bcdef" for row in range(2, 7)]


@settings(max_examples=40, deadline=None)
@given(st.sets(st.sampled_from(INNER), min_size=1, max_size=12))
def test_inside_the_tubes_the_bare_width_is_about_the_pitch(plugged):
    """No place inside a square lattice is farther from a tube than half a diagonal."""
    for each in clusters(grid(plugged)):
        if math.hypot(each.x_mm, each.y_mm) < 3 * PITCH_MM:
            assert each.bare_mm <= PITCH_MM * math.sqrt(2) + 1e-6


# ------------------------------------------------------------------ what an engineer accepts


def test_an_engineers_answer_takes_the_place_of_the_permitted_pitch_on_its_sheet_alone():
    tubes = grid({"d4", "d5", "e4", "e5"})
    sheets = (sheet("front"), sheet("chamber"))
    accepted = {"chamber": AcceptedWidth(width_mm=240.0, basis="letter of 2026-10-01")}
    front, chamber = clusters(
        tubes, sheets=sheets, faces=(FRONT, CHAMBER), mawp_mpa=2.0, accepted=accepted
    )
    assert front.span_mm == chamber.span_mm == pytest.approx(221.4, abs=0.1)
    assert (front.status, front.permitted_by) == ("refer", None)
    assert (chamber.status, chamber.permitted_mm) == ("ok", 240.0)
    assert chamber.permitted_by == "letter of 2026-10-01"


def test_an_answer_needs_no_plate_and_a_plugged_stay_tube_is_referred_all_the_same():
    accepted = {"front": AcceptedWidth(width_mm=240.0, basis="letter")}
    sheets = (sheet(plate_mm=None, stress_mpa=None),)
    places = clusters(
        grid({"b2", "f6"}, stays=("f6",)), sheets=sheets, mawp_mpa=None, accepted=accepted
    )
    assert {each.tubes: each.status for each in places} == {("b2",): "ok", ("f6",): "refer"}


def test_answers_are_read_from_the_settings():
    stored = {"cluster": {"chamber": {"act_mm": 240, "basis": " letter "}}}
    assert accepted_widths(stored) == {"chamber": AcceptedWidth(width_mm=240.0, basis="letter")}
    assert accepted_widths({}) == {}


@pytest.mark.parametrize(
    "answer",
    [
        None, 240, "240", [], {}, {"act_mm": 240.0}, {"act_mm": 240.0, "basis": " "},
        {"act_mm": 240.0, "basis": 5}, {"act_mm": "240", "basis": "x"}, {"basis": "x"},
        {"act_mm": True, "basis": "x"}, {"act_mm": 0, "basis": "x"}, {"act_mm": -5, "basis": "x"},
        {"act_mm": 10**400, "basis": "x"}, {"act_mm": math.nan, "basis": "x"},
        {"act_mm": {"value": 240}, "basis": "x"},
    ],
)  # fmt: skip
def test_what_is_no_width_with_a_basis_is_no_answer(answer):
    assert accepted_widths({"cluster": {"chamber": answer}}) == {}
    assert accepted_widths({"cluster": answer}) == {}
