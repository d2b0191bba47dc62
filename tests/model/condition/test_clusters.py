"""Open places around plugs, with tubes named, on a grid and on the sheets of a wet-back.

Not here: the geometry for any arrangement (``tests/model/tubesheet/test_largest_circles``).
"""

import math

import pytest

from model.condition.clusters import find_clusters, permitted_pitch_mm
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


def clusters(tubes, *, sheets=(), faces=(FRONT,), mawp_mpa=1.0):
    return find_clusters(
        tubes, sheets or (sheet(),), faces,
        shell_diameter_mm=3000.0, furnaces=(), mawp_mpa=mawp_mpa,
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
