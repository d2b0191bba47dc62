"""An open inspection taken in record by record is the inspection folded as a whole."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from model.condition.fold import fold_boiler
from model.condition.open_inspection import OpenInspection
from model.condition.tally import TallyBook
from model.condition.tubes import WallConcerns, tube_conditions
from model.record.words import End, State
from tests.model.condition.journal import ADA, BEN, BOILER, HOLE, SPRING, Journal
from tests.model.condition.record_sets import record_sets

INSPECTION_KINDS = ("observation", "settle", "work", "reading", "withdraw")


def folded(records, inspection):
    boiler = fold_boiler(records, BOILER)
    name = boiler.inspection_class(inspection)
    found = [each for each in boiler.inspections if each.facts.inspection == name]
    return boiler, found[0] if found else None


def opened(records, inspection):
    boiler, found = folded(records, inspection)
    return None if found is None else OpenInspection(boiler, found, records)


@settings(max_examples=150)
@given(
    record_sets(), st.integers(0, 40), st.sampled_from([SPRING, "inspautumn222", "inspa22222222"])
)
def test_taking_records_in_one_by_one_equals_folding_them_all(records, known, inspection):
    so_far = records[:known]
    present = opened(so_far, inspection)
    for record in records[known:]:
        so_far = [*so_far, record]
        is_of_boiler = record.boiler == BOILER or record.boiler == ""
        if present is None or not is_of_boiler or not present.can_take(record):
            present = opened(so_far, inspection)
            continue
        touched = present.add([record])
        boiler, whole = folded(so_far, inspection)
        expected = tube_conditions(boiler, whole, WallConcerns())
        assert present.conditions() == expected
        assert touched <= {each.hole for each in expected}
        assert present.tally == recounted(present)


def recounted(present):
    book = TallyBook()
    for each in present.conditions():
        book.add(each, in_scope=present.is_in_scope(each.tube))
    return book.tally()


def journal():
    made = Journal()
    made.layout({HOLE: ("P2-R01-C01", 2)})
    made.inspection(SPRING, "2026-11-25")
    return made


def test_a_withdrawal_that_comes_before_its_mark_counts_once_the_mark_is_there():
    made = journal()
    mark = made.looks("split")
    withdrawal = made.add("withdraw", {"why": "taken back"}, names=[mark])
    records = [r for r in made.records if r not in (mark, withdrawal)]
    present = opened(records, SPRING)
    assert not present.can_take(withdrawal)
    present.add([withdrawal])
    present.add([mark])
    assert present.condition(HOLE).found.state is None
    assert present.record_count == 2


def test_own_marks_are_those_of_the_person_whatever_their_id():
    made = journal()
    made.looks("sound", by=ADA)
    made.looks("split", by=BEN)
    present = opened(made.records, SPRING)
    (own,) = present.own_live(HOLE, End.FRONT, ADA)
    assert own.body["state"] == "sound"
    assert present.end_found(HOLE, End.FRONT).state is State.SPLIT
    made.add("same", {"what": "person", "a": ADA, "b": BEN}, boiler="")
    assert len(opened(made.records, SPRING).own_live(HOLE, End.FRONT, ADA)) == 2


def test_what_changes_more_than_tubes_seen_today_cannot_be_taken():
    made = journal()
    present = opened(made.records, SPRING)
    layout = made.layout({HOLE: ("A1", 2)})
    other = made.inspection("inspother2222", "2025-01-01")
    past = made.add("work", {"hole": HOLE, "does": "plug", "done_on": "2024-01-01"})
    mark = made.looks("sound")
    assert [present.can_take(r) for r in (layout, other, past, mark)] == [False, False, False, True]


def test_a_record_that_is_not_understood_is_counted_and_says_nothing():
    made = journal()
    odd = made.looks("sound")
    newer = replace(odd, schema=99)
    present = opened(made.records[:-1], SPRING)
    present.add([newer])
    assert (present.condition(HOLE).found.state, present.record_count) == (None, 1)


def test_a_wall_judged_below_makes_its_tube_bad_until_it_is_judged_again():
    made = journal()
    made.looks("sound")
    present = opened(made.records, SPRING)
    assert (present.tally.bad, present.condition(HOLE).left.bad) == (0, ())
    below = WallConcerns(below_found=frozenset((HOLE,)), below_left=frozenset((HOLE,)))
    present.judge_walls([HOLE], below)
    assert present.condition(HOLE).found.bad == ("wall below the retirement wall",)
    assert present.tally.bad == 1
    present.add([made.looks("thinned", by=BEN)])  # a mark changes nothing of the wall
    assert present.tally.bad == 1
    present.judge_walls(["no such hole"], WallConcerns())
    assert present.tally.bad == 1
    present.judge_walls([HOLE], WallConcerns())
    assert (present.tally.bad, present.condition(HOLE).left.bad) == (0, ())


def test_walls_given_at_the_opening_count_from_the_first_look():
    made = journal()
    made.looks("sound")
    boiler, found = folded(made.records, SPRING)
    below = WallConcerns(below_left=frozenset((HOLE,)))
    present = OpenInspection(boiler, found, made.records, below)
    assert present.tally.bad == 1
    assert present.tally == recounted(present)
