"""What an inspection after a repair is to cover: the tubes on which work is recorded.

Not here: coverage of other inspections (``test_coverage``).
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.condition.fold import fold_boiler
from model.condition.open_inspection import OpenInspection
from tests.model.condition.journal import AUTUMN, BOILER, SPRING
from tests.model.condition.small_boiler import SmallBoiler

WINTER = "inspwinter222"


def look_again(boiler):
    body = {"inspection": WINTER, "date": "2024-12-01", "scope": "after-repair"}
    boiler.journal.add("inspection", body)


@pytest.fixture
def boiler():
    """Pass 2 has six tubes; spring was a full inspection, autumn looks after the repair."""
    return SmallBoiler({2: 6}, scope="after-repair")


def test_the_tubes_worked_on_in_the_inspection_before_are_its_scope(boiler):
    boiler.see_rest(at=SPRING)
    boiler.work("2.1", "plug", at=SPRING)
    boiler.work("2.2", "re-roll", at=SPRING, ends=["rear"])
    boiler.see("2.1", "plugged")
    coverage = boiler.coverage()
    assert (coverage.ends, coverage.seen, coverage.tubes_no_end) == (4, 2, 1)
    assert boiler.coverage(SPRING).ends == 12


def test_work_since_then_and_work_of_its_own_belong_to_it(boiler):
    boiler.work("2.1", "plug", at=SPRING)
    boiler.work("2.2", "weld", at=None, done_on="2024-06-01")
    boiler.work("2.3", "replace")
    assert boiler.coverage().ends == 6


def test_without_any_work_it_covers_the_whole_layout(boiler):
    assert boiler.coverage().ends == 12
    # Work of which no tube is known says nothing about which ones to look at.
    boiler.journal.add(
        "work",
        {"inspection": SPRING, "pass": 2, "count": 2, "does": "plug", "corrects": False},
    )
    assert boiler.coverage().ends == 12


def test_cleaning_is_no_repair(boiler):
    boiler.work("2.1", "clean", at=SPRING)
    boiler.work("2.1", "plug", at=SPRING)
    boiler.work("2.2", "clean", at=SPRING)
    assert boiler.coverage().ends == 2


def test_work_that_was_withdrawn_is_none(boiler):
    boiler.journal.withdraws(boiler.work("2.1", "plug", at=SPRING))
    boiler.work("2.2", "plug", at=SPRING)
    assert boiler.coverage().ends == 2


def test_work_before_the_inspection_before_is_not_looked_at_again():
    boiler = SmallBoiler({2: 6}, scope="full")
    boiler.work("2.1", "plug", at=SPRING)
    look_again(boiler)
    boiler.work("2.2", "plug", at=AUTUMN)
    assert boiler.coverage(WINTER).ends == 2


def test_a_second_look_after_the_repair_covers_the_same_tubes(boiler):
    boiler.work("2.1", "plug", at=SPRING)
    boiler.work("2.2", "plug")
    look_again(boiler)
    assert boiler.coverage(WINTER).ends == 4


WORK = st.lists(
    st.tuples(
        st.sampled_from(["2.1", "2.2", "2.3"]),
        st.sampled_from(["plug", "re-roll", "clean"]),
        st.sampled_from([SPRING, AUTUMN]),
        st.booleans(),
    ),
    max_size=6,
)


@settings(max_examples=60)
@given(WORK, st.integers(0, 12))
def test_an_open_inspection_knows_its_scope_as_work_comes_in(works, known):
    boiler = SmallBoiler({2: 4}, scope="after-repair")
    for key, does, at, is_withdrawn in works:
        record = boiler.work(key, does, at=at)
        if is_withdrawn:
            boiler.journal.withdraws(record)
    boiler.see("2.1", "sound")

    def opened(records):
        folded = fold_boiler(records, BOILER)
        inspection = next(i for i in folded.inspections if i.facts.inspection == AUTUMN)
        return OpenInspection(folded, inspection, records)

    records = boiler.journal.records
    first = 3 + known
    present = opened(records[:first])
    for place in range(first, len(records)):
        if present.can_take(records[place]):
            present.add([records[place]])
        else:
            present = opened(records[: place + 1])
    assert present.tally == opened(records).tally
    assert present.tally.scope.ends == boiler.coverage().ends
