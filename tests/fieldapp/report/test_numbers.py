"""The report's numbers: questions, disputes, changes and walls brought together once.

Not here: the counts themselves (``tests/model/condition``).
"""

from datetime import UTC, datetime

import pytest

from fieldapp.report.numbers import build_numbers
from tests.model.condition.journal import BEN, SPRING
from tests.model.condition.small_boiler import SmallBoiler, hole_of

PRINTED = datetime(2024, 10, 11, 8, 0, tzinfo=UTC)


def numbers_of(boiler, **settings):
    body = {
        "boiler": boiler.journal.boiler, "tag": "B-7", "kind": "other",
        "tubes": {"od_mm": 51, "wall_mm": 3},
    }  # fmt: skip
    boiler.journal.add("boiler", body)
    for section, values in settings.items():
        boiler.journal.add("settings", {"section": section, "values": values})
    folded = boiler.folded()
    inspection = boiler.inspection(folded=folded)
    return build_numbers(folded, inspection, printed_at=PRINTED, digest="d" * 64)


@pytest.fixture
def boiler():
    return SmallBoiler({2: 4})


STATED = {"stated_mm": 1.8, "basis": "letter"}


# ------------------------------------------------------------------ walls and thresholds


@pytest.mark.parametrize(("wall_mm", "is_thin"), [(2.4, False), (2.39, True), (2.41, False)])
def test_said_sound_measured_thin_begins_beyond_20_percent(boiler, wall_mm, is_thin):
    """Of 3.0 mm 2.4 is a loss of exactly 20 %, and exactly at a level is not beyond it."""
    boiler.see("2.1", "sound")
    boiler.measure("2.1", wall_mm)
    numbers = numbers_of(boiler)
    assert numbers.tubes[0].is_measured_thin is is_thin
    assert numbers.totals.sound_with_findings == int(is_thin)
    assert numbers.totals.thinned == 0


def test_the_owners_threshold_decides_where_there_is_one(boiler):
    boiler.see("2.1", "sound")
    boiler.measure("2.1", 2.6)
    assert numbers_of(boiler, wall={"note_percent": 10}).totals.sound_with_findings == 1


def test_a_tube_worn_by_the_second_reading_does_not_become_sound_by_it(boiler):
    boiler.measure("2.1", 2.3, at=SPRING)
    boiler.see("2.1", "sound")
    boiler.measure("2.1", 2.3)
    assert numbers_of(boiler).tubes[0].is_measured_thin


def test_without_a_retirement_wall_nothing_is_below_it_and_the_report_says_why(boiler):
    boiler.measure("2.1", 0.5)
    numbers = numbers_of(boiler)
    assert numbers.totals.bad_now == 0
    assert numbers.why_no_retirement_wall.startswith("No retirement wall was stated by the owner's")


def test_a_rule_chosen_for_the_retirement_wall_that_cannot_be_used_is_named(boiler):
    numbers = numbers_of(boiler, wall={"retirement": "us-historic"})
    assert "to be taken from the rule us-historic" in numbers.why_no_retirement_wall


def test_with_a_retirement_wall_a_thin_tube_is_bad_and_there_is_nothing_to_explain(boiler):
    boiler.measure("2.1", 1.5)
    numbers = numbers_of(boiler, wall=STATED)
    assert (numbers.totals.bad_now, numbers.why_no_retirement_wall) == (1, None)


def test_the_wall_of_a_replaced_tube_is_the_baseline_of_the_new_one(boiler):
    boiler.measure("2.1", 1.5)
    boiler.work("2.1", "replace")
    boiler.measure("2.1", 3.1, purpose="baseline")
    numbers = numbers_of(boiler, wall=STATED)
    assert numbers.wall_of(numbers.tubes[0]).wall_mm == 3.1
    assert numbers.wall_of(numbers.tubes[1]) is None


# ------------------------------------------------------------------ questions


@pytest.mark.parametrize("state", ["leaking", "split"])
def test_a_leak_or_split_of_last_time_without_a_repair_opens_as_a_question(boiler, state):
    boiler.see("2.1", state, "rear", at=SPRING)
    (question,) = numbers_of(boiler).questions
    assert (question.tube, question.end) == ("2.1", "rear")
    assert question.words == f"{state} since 2024-04-10: repaired, or still so?"


@pytest.mark.parametrize("state", ["plugged", "thinned"])
def test_a_plug_or_thinning_of_last_time_asks_nothing(boiler, state):
    boiler.see("2.1", state, at=SPRING)
    assert numbers_of(boiler).questions == ()


def test_a_question_is_answered_by_a_look_or_by_work(boiler):
    for key in ("2.1", "2.2", "2.3"):
        boiler.see(key, "leaking", "rear", at=SPRING, leak_at="bore")
    boiler.see("2.1", "leaking", "rear", leak_at="bore")  # still so: no question any more
    boiler.work("2.2", "plug")
    boiler.work("2.3", "replace", at=SPRING)
    assert numbers_of(boiler).questions == ()


def test_a_wall_below_retirement_last_time_without_work_opens_as_a_question(boiler):
    for key in ("2.1", "2.2", "2.3", "2.4"):
        boiler.measure(key, 1.5, at=SPRING)
    boiler.measure("2.2", 1.6)
    boiler.work("2.3", "plug")
    boiler.work("2.4", "replace")
    (question,) = numbers_of(boiler, wall=STATED).questions
    assert question.tube == "2.1"
    assert question.words == (
        "wall 1.50 mm on 2024-04-10, below the retirement wall: measure again."
    )


# ------------------------------------------------------------------ disputes and changes


def test_a_dispute_about_work_is_told_apart_from_one_about_what_was_seen(boiler):
    boiler.see("2.1", "sound", "front")
    boiler.see("2.1", "leaking", "front", by=BEN)
    boiler.work("2.2", "plug", ends=["rear"])
    boiler.work("2.2", "unplug", ends=["rear"], by=BEN)
    disputes = {(d.tube, str(d.end)): (d.governing, d.by_work) for d in numbers_of(boiler).disputes}
    assert disputes == {("2.1", "front"): ("leaking", False), ("2.2", "rear"): ("plugged", True)}


def test_changes_are_from_as_left_last_time_to_as_left_today_where_both_are_known(boiler):
    boiler.see("2.1", "sound", at=SPRING)
    boiler.see("2.1", "leaking", "front")
    boiler.see("2.2", "leaking", at=SPRING)
    boiler.work("2.2", "plug", at=SPRING)
    boiler.see("2.2", "plugged")
    boiler.see("2.3", "sound", at=SPRING)
    boiler.see("2.4", "sound")
    changes = [(c.tube, c.before, c.after) for c in numbers_of(boiler).changes]
    assert changes == [("2.1", "sound", "leaking")]


def test_the_first_inspection_has_no_changes():
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "leaking", at=SPRING)
    folded = boiler.folded()
    first = boiler.inspection(SPRING, folded)
    numbers = build_numbers(folded, first, printed_at=PRINTED, digest="d" * 64)
    assert (numbers.previous, numbers.changes) == (None, ())


# ------------------------------------------------------------------ the rest


def test_coverage_by_pass_is_of_the_scope():
    boiler = SmallBoiler({2: 2, 3: 3}, scope="passes", of_passes=(3,))
    boiler.see_rest()
    numbers = numbers_of(boiler)
    assert [(number, of_pass.ends) for number, of_pass in numbers.coverage_by_pass] == [(3, 6)]
    assert numbers.coverage.ends == 6
    assert numbers.totals.tubes == 5


def test_a_hole_that_is_in_no_layout_is_named_by_its_id(boiler):
    numbers = numbers_of(boiler)
    assert numbers.key_of(hole_of("2.1")) == "2.1"
    assert numbers.key_of("zzzzzzzzzzzzz") == "hole zzzzzzzzzzzzz"


def test_the_report_number_hangs_on_the_records_and_not_on_the_time(boiler):
    assert numbers_of(boiler).report_number == "B-7 2024-10-10 dddddddd"
