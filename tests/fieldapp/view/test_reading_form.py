"""The keypad: every key, every question, and the margin while one types."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.view.reading_form import (
    ReadingForm,
    keep_anyway,
    press_backspace,
    press_clear,
    press_digit,
    press_point,
    press_unit,
    say_typed,
)
from fieldapp.view.readings import ReadingEntry
from fieldapp.view.session_pages import reading_form_of
from fieldapp.view.tube_history import WallContext
from model.record.words import End, Purpose, ReadingMethod
from model.store.edits.acts import EndRef

CONTEXT = WallContext(
    nominal_mm=3.0, last_mm=2.6, last_on="2025-11-20", last_accuracy_mm=0.1, retirement_mm=2.0
)
REF = EndRef(hole="h" * 13, tube="P2-R03-C11", end=End.REAR, face="rear")


def form(**more):
    return ReadingForm(ref=REF, **{"is_mirrored": False, "context": CONTEXT, **more})


def typed(text, **more):
    made = form(**more)
    for character in text:
        made = press_point(made) if character == "." else press_digit(made, character)
    return made


def test_digits_point_and_backspace_make_a_wall():
    made = typed("2.45")
    assert (made.typed, made.wall_mm) == ("2.45", 2.45)
    assert press_backspace(made).typed == "2.4"
    assert press_clear(made).wall_mm is None
    assert typed("2..4.").typed == "2.4"
    assert (typed(".5").typed, typed("007").typed) == ("0.5", "7")
    assert typed("123456789").typed == "1234567"
    assert press_digit(form(), "x").typed == ""


def test_inches_are_turned_into_mm_and_both_are_shown():
    made = press_unit(typed("0.100"))
    assert made.wall_mm == pytest.approx(2.54)
    assert say_typed(made) == "0.100 in (2.54 mm)"
    assert say_typed(typed("2.54")) == "2.54 mm (0.100 in)"
    assert say_typed(form()) == "mm"
    assert press_unit(made).unit == "mm"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("2.45", "0.45 mm above the retirement wall of 2.00 mm."),
        ("1.9", "0.10 mm below the retirement wall of 2.00 mm."),
        ("", ""),
    ],
)
def test_the_margin_is_said_as_one_types(text, words):
    assert typed(text).margin_words == words


def test_the_margin_says_when_no_retirement_wall_is_stated():
    context = WallContext(
        nominal_mm=None, last_mm=None, last_on=None, last_accuracy_mm=0.0, retirement_mm=None
    )
    assert typed("1.9", context=context).margin_words == "No retirement wall is stated."
    assert typed("9", context=context).can_keep


@pytest.mark.parametrize(
    ("text", "questions"),
    [
        ("2.45", ()),
        ("2.9", ()),
        ("2.91", ("2.91 mm is 0.31 mm more than on 2025-11-20 (2.60 mm). Keep it?",)),
        ("0.49", ("0.49 mm is thinner than 0.50 mm. Keep it?",)),
        (
            "3.91",
            (
                "3.91 mm is more than 1.3 times the nominal 3.00 mm. Keep it?",
                "3.91 mm is 1.31 mm more than on 2025-11-20 (2.60 mm). Keep it?",
            ),
        ),
    ],
)
def test_an_implausible_wall_is_asked_about(text, questions):
    made = typed(text)
    assert made.questions == questions
    assert made.can_keep is not bool(questions)
    assert keep_anyway(made).can_keep
    assert keep_anyway(made).entry.confirmed


def test_a_coarse_gauge_may_read_more_than_last_time():
    assert typed("3.1", accuracy_mm=0.5).questions == ()


def test_changing_the_digits_asks_again():
    assert not press_digit(keep_anyway(typed("3.9")), "1").confirmed


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("0.0", "A wall is more than 0: a hole through the wall is a split."),
        ("250", "250 mm is more than 25.00 mm: check the point and unit."),
    ],
)
def test_what_cannot_be_a_wall_is_not_kept_at_all(text, fault):
    made = keep_anyway(typed(text))
    assert (made.fault, made.can_keep, made.entry, made.questions) == (fault, False, None, ())


def test_the_clock_is_stored_as_seen_from_the_front():
    assert typed("2.5", is_mirrored=True, clock_seen_h=2.0).entry.clock_h == 10.0
    assert typed("2.5", is_mirrored=False, clock_seen_h=2.0).entry.clock_h == 2.0
    assert typed("2.5", is_mirrored=True, clock_seen_h=12.0).entry.clock_h == 12.0
    assert typed("2.5").entry.clock_h is None


def test_the_loss_is_of_the_wall_as_supplied():
    assert typed("2.4").loss_percent == pytest.approx(20.0)


@given(st.lists(st.sampled_from("0123456789.<uc"), max_size=20))
def test_no_row_of_keys_breaks_the_form(keys):
    made = form()
    presses = {".": press_point, "<": press_backspace, "u": press_unit, "c": press_clear}
    for key in keys:
        made = presses[key](made) if key in presses else press_digit(made, key)
        assert made.typed.count(".") <= 1
        entry = made.entry
        assert entry is None or (0 < entry.wall_mm <= 25.0 and entry.entered_value >= 0)


def test_the_form_opens_with_the_instrument_of_the_last_reading(make_bench):
    bench = make_bench(readings=[("P2-R01-C01", 2.6)])
    session = bench.session()
    ref = bench.ref("P2-R01-C01")
    made = reading_form_of(session, ref, is_mirrored=False)
    assert (made.instrument, made.method) == ("", ReadingMethod.ULTRASONIC)
    assert (made.context.nominal_mm, made.context.last_mm) == (3.0, 2.6)
    session.record_reading(
        ReadingEntry(
            hole=ref.hole,
            tube=ref.tube,
            wall_mm=2.4,
            method=ReadingMethod.CALIPER,
            instrument="caliper 3",
            accuracy_mm=0.05,
        )
    )
    made = reading_form_of(session, ref, is_mirrored=True, purpose=Purpose.SUSPECT, unit="in")
    assert (made.instrument, made.method, made.accuracy_mm) == (
        "caliper 3",
        ReadingMethod.CALIPER,
        0.05,
    )
    assert (made.unit, made.purpose, made.is_mirrored, made.end) == (
        "in",
        Purpose.SUSPECT,
        True,
        End.FRONT,
    )
