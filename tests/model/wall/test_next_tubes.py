"""The tubes to measure next: never one that was measured, none twice, spread, and near the thin."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import OutOfRange
from model.record.words import Purpose
from model.tubesheet.layout import Tube
from model.wall.next_tubes import MeasuredTube, next_tubes

PITCH_MM = 70.0
ROWS, COLUMNS = 8, 12
SHEET = [
    Tube(
        key=f"R{row:02}-C{column:02}",
        pass_=2,
        row=row,
        column=column,
        x_mm=PITCH_MM * column,
        y_mm=PITCH_MM * row,
    )
    for row in range(1, ROWS + 1)
    for column in range(1, COLUMNS + 1)
]
BY_KEY = {tube.key: tube for tube in SHEET}


def distance_mm(one, other):
    return math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm)


@st.composite
def samples(draw):
    chosen = draw(st.sets(st.sampled_from(SHEET), max_size=30))
    walls = st.floats(0.5, 3.0)
    measured = [MeasuredTube(tube=tube, wall_mm=draw(walls)) for tube in chosen]
    return [tube for tube in SHEET if tube not in chosen], measured


@given(sample=samples(), count=st.integers(0, 20))
def test_each_is_named_once_and_none_was_measured_or_is_out_of_the_choice(sample, count):
    unmeasured, measured = sample
    # Plugged tubes are what the choice leaves out: every seventh of those that nobody measured.
    plugged = {tube.key for tube in unmeasured[::7]}
    named = [
        each.tube
        for each in next_tubes(
            [tube for tube in unmeasured if tube.key not in plugged], measured, count=count
        )
    ]
    assert len(named) == len(set(named)) == count
    assert not set(named) & plugged
    assert not set(named) & {each.tube.key for each in measured}


@given(sample=samples(), shuffle=st.randoms(use_true_random=False))
def test_the_order_in_which_tubes_are_given_changes_nothing(sample, shuffle):
    unmeasured, measured = sample
    before = next_tubes(unmeasured, measured)
    shuffle.shuffle(unmeasured)
    shuffle.shuffle(measured)
    assert next_tubes(unmeasured, measured) == before


@given(sample=samples())
def test_what_is_chosen_for_the_spread_lies_as_far_from_the_rest_as_any_tube_can(sample):
    unmeasured, measured = sample
    taken = [each.tube for each in measured]
    for each in next_tubes(unmeasured, measured):
        if each.purpose is Purpose.PLANNED and taken:
            here = min(distance_mm(BY_KEY[each.tube], other) for other in taken)
            left = [tube for tube in unmeasured if tube not in taken]
            farthest = max(min(distance_mm(tube, other) for other in taken) for tube in left)
            assert here == pytest.approx(farthest)
        taken.append(BY_KEY[each.tube])


@given(sample=samples())
def test_the_walls_move_no_planned_tube_before_the_first_look_at_the_thin(sample):
    unmeasured, measured = sample
    alike = [MeasuredTube(tube=each.tube, wall_mm=2.0) for each in measured]
    assert next_tubes(unmeasured, measured, count=1) == next_tubes(unmeasured, alike, count=1)


def test_every_second_tube_lies_beside_the_thin_one():
    thin = MeasuredTube(tube=BY_KEY["R04-C06"], wall_mm=1.6)
    unmeasured = [tube for tube in SHEET if tube is not thin.tube]
    chosen = next_tubes(unmeasured, [thin], count=8)
    assert [each.purpose for each in chosen] == [Purpose.PLANNED, Purpose.SUSPECT] * 4
    beside = {each.tube for each in chosen if each.purpose is Purpose.SUSPECT}
    assert beside == {"R03-C06", "R05-C06", "R04-C05", "R04-C07"}


def test_with_nothing_measured_the_spread_begins_in_the_middle_and_covers_the_rows():
    chosen = next_tubes(SHEET, [], count=10)
    assert {each.purpose for each in chosen} == {Purpose.PLANNED}
    assert chosen[0].tube == "R04-C06"
    places = [BY_KEY[each.tube] for each in chosen]
    assert len({tube.row for tube in places}) >= 4
    nearest = min(distance_mm(a, b) for a in places for b in places if a is not b)
    assert nearest >= 3 * PITCH_MM


def test_fewer_tubes_than_asked_for_are_all_named():
    assert len(next_tubes(SHEET[:3], [])) == 3
    assert next_tubes([], []) == ()


def test_two_tubes_drawn_on_one_place_do_not_divide_by_nothing():
    twin = replace(SHEET[0], key="twin")
    measured = [MeasuredTube(tube=SHEET[0], wall_mm=2.0)]
    assert {each.tube for each in next_tubes([twin, SHEET[5]], measured)} == {"twin", SHEET[5].key}


def test_a_count_below_nothing_is_refused():
    with pytest.raises(OutOfRange, match="count is -1, but must be 0 or more"):
        next_tubes(SHEET, [], count=-1)
