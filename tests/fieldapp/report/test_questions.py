"""Questions that today's record leaves open, each with its words."""

from types import SimpleNamespace

import pytest

from fieldapp.report.questions import open_questions
from model.condition.states import CarriedEnd, EndFound, EndLeft
from model.record.words import End, How, LeakAt, State
from model.wall.governing import InspectionWalls
from tests.fieldapp.report.test_deciding import damaged
from tests.fieldapp.report.test_numbers import numbers_of
from tests.model.condition.journal import AUTUMN, SPRING, entity
from tests.model.condition.small_boiler import SmallBoiler

NO_WALLS = InspectionWalls(today={}, baseline={}, below_from_earlier={})


def questions(before, found, left, *, is_renewed=False):
    carried = CarriedEnd(state=before, leak_at=None, plug=None, since="2022", said_on="2022-06-01")
    tube = SimpleNamespace(
        tube=SimpleNamespace(key="A1"),
        hole="h",
        is_renewed=is_renewed,
        left=SimpleNamespace(state=left.state),
        ends_found={End.FRONT: found, End.REAR: EndFound()},
        ends_left={End.FRONT: left, End.REAR: EndLeft()},
    )
    carry = SimpleNamespace(ends={("h", End.FRONT): carried})
    inspection = SimpleNamespace(carried_in=carry)
    return [(q.tube, q.end, q.words) for q in open_questions([tube], inspection, NO_WALLS)]


def test_a_leak_that_nobody_answered_is_asked_about():
    found = EndFound(state=State.LEAKING, carried=True, leak_at=LeakAt.BORE, since="2022")
    left = EndLeft(state=State.LEAKING, carried=True, leak_at=LeakAt.BORE, since="2022")
    assert questions(State.LEAKING, found, left) == [
        ("A1", "front", "leaking since 2022: repaired, or still so?")
    ]


def test_a_plug_that_went_away_without_work_is_asked_about():
    seen = EndFound(state=State.SOUND, how=How.SEEN)
    assert questions(State.PLUGGED, seen, EndLeft(state=State.SOUND)) == [
        (
            "A1",
            "front",
            "plugged since 2022, sound today, and no work recorded between: was it repaired, or "
            "is this another tube?",
        )
    ]


def test_what_is_confirmed_or_renewed_is_not_asked_about():
    again = EndFound(state=State.PLUGGED, how=How.SEEN)
    assert questions(State.PLUGGED, again, EndLeft(state=State.PLUGGED)) == []
    seen = EndFound(state=State.SOUND, how=How.SEEN)
    assert questions(State.PLUGGED, seen, EndLeft(), is_renewed=True) == []


def test_a_fill_in_answers_nothing_and_asks_nothing():
    filled = EndFound(state=State.SOUND, how=How.FILLED)
    assert questions(State.THINNED, filled, EndLeft(state=State.SOUND)) == []


# ------------------------------------------------------------------ parts that are not tubes


def asked(*parts):
    """Questions of a boiler with parts, each with its inspection, kind, sheet and grade."""
    boiler = SmallBoiler({2: 2})
    for at, part, sheet, grade in parts:
        damaged(boiler, part, grade, at=at, sheet=sheet)
    return [(each.tube, each.words) for each in numbers_of(boiler).questions]


def test_a_part_to_act_on_that_nobody_mentions_today_is_asked_about():
    furnace = (None, "the furnace: damage graded act on 2024-04-10; repaired, or still so?")
    assert asked((SPRING, "furnace", None, "act")) == [furnace]
    assert asked((SPRING, "furnace", None, "watch")) == []
    # Whatever is said of it today is an answer, but not what is said of another sheet.
    assert asked((SPRING, "furnace", None, "act"), (AUTUMN, "furnace", None, "note")) == []
    ((_, words),) = asked((SPRING, "ligament", "front", "act"), (AUTUMN, "ligament", "rear", "act"))
    assert words.startswith("a ligament of the front: damage graded act on 2024-04-10")


CALL = entity("inspcall")


@pytest.mark.parametrize("grade", [None, "watch", "act"])
def test_a_part_to_act_on_stays_a_question_until_somebody_mentions_it(grade):
    """An inspection that says nothing of it, as a leak call does, does not make it whole."""
    boiler = damaged(SmallBoiler({2: 2}), at=SPRING)
    boiler.journal.inspection(CALL, "2024-07-01", scope="leak-call")
    if grade is not None:
        damaged(boiler, grade=grade, at=CALL)
    since = {None: "2024-04-10", "act": "2024-07-01"}.get(grade)
    words = f"the furnace: damage graded act on {since}; repaired, or still so?"
    asked = [each.words for each in numbers_of(boiler).questions]
    assert asked == ([words] if since else [])


def test_two_cracks_of_one_sheet_are_one_question():
    cracks = [(SPRING, "ligament", "front", "act")] * 2
    assert len(asked(*cracks)) == 1
