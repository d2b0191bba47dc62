"""The check tube tells a mirrored view, a row off and a wrong face apart."""

import pytest

from fieldapp.view.check_tube import choose_check_tube, judge_check, mirror_image
from tests.fieldapp.view.faces import end_of, face_map


@pytest.mark.parametrize("key", ["front", "turnaround", "rear"])
@pytest.mark.parametrize("turn", range(12))
def test_the_tube_asked_for_is_never_its_own_mirror_image(key, turn):
    face = face_map(key)
    asked = choose_check_tube(face, turn)
    image = mirror_image(face, asked.end)
    assert image.hole != asked.end.hole
    assert image.x_mm == pytest.approx(-asked.end.x_mm)
    assert asked.end.label in asked.words


def test_it_is_named_by_the_sides_of_the_boiler_whichever_way_one_looks():
    asked = choose_check_tube(face_map("rear"))
    assert asked.end.key == "P3-R01-C02"
    assert asked.words == (
        "Put your hand on P3-R01-C02: pass 3, top row, second from the side of the boiler that is "
        "left as seen from the front. Then tap the tube you touch."
    )


def test_it_changes_from_turn_to_turn():
    face = face_map("front")
    assert len({choose_check_tube(face, turn).end.key for turn in range(8)}) > 3


@pytest.fixture
def front():
    return face_map("front")


@pytest.fixture
def asked(front):
    tubes = [choose_check_tube(front, turn) for turn in range(20)]
    return next(each for each in tubes if each.end.key == "P2-R01-C01")


def test_the_right_tube_is_right(front, asked):
    judged = judge_check(front, asked, asked.end)
    assert (judged.is_right, judged.words) == (True, "Right: P2-R01-C01.")


def test_the_mirror_image_says_that_one_may_look_from_the_other_side(front, asked):
    judged = judge_check(front, asked, end_of(front, "P2-R01-C03"))
    assert judged.verdict == "mirrored"
    assert judged.words == (
        "You tapped P2-R01-C03, the mirror image of P2-R01-C01: you may be looking from the other "
        "side. Seen from the front smokebox, looking rearward: not mirrored, column 1 is at the "
        "left."
    )


def test_a_row_off_says_which_way(front, asked):
    judged = judge_check(front, asked, end_of(front, "P2-R02-C01"))
    assert judged.verdict == "row off"
    assert judged.words == (
        "You tapped P2-R02-C01, one row below P2-R01-C01: count the rows again from the top."
    )


@pytest.mark.parametrize("key", ["P2-R02-C04", "P2-R03-C01", "P3-R01-C01"])
def test_any_other_tube_asks_which_face_this_is(front, asked, key):
    judged = judge_check(front, asked, end_of(front, key))
    assert judged.verdict == "other"
    assert judged.words == f"You tapped {key}, not P2-R01-C01: look again which face this is."
