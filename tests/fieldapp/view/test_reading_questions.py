"""A wall that grew, or went faster than its pass, at one place: asked about while one types."""

from dataclasses import replace

import pytest

from fieldapp.view.reading_form import ReadingForm, keep_anyway, press_digit, press_point
from fieldapp.view.readings import ReadingEntry
from fieldapp.view.tube_history import WallContext
from model.record.words import End, Scope
from model.store.edits.acts import EndRef
from model.store.edits.entries import Entry, record_entries
from model.store.edits.inspections import NewInspection, close_inspection, open_inspection
from model.store.loading import load_boiler
from model.wall.trusted_readings import TrustedReading


def earlier(wall_mm, **more):
    given = {
        "hole": "h" * 13,
        "life": 0,
        "order": 0,
        "date": "2025-11-25",
        "accuracy_mm": 0.05,
        "purpose": "planned",
        "end": "front",
        "at_mm": 150.0,
        "record": f"{wall_mm}",
    }
    return TrustedReading(wall_mm=wall_mm, **given | more)


def typed(text, *readings, usual=0.05, **more):
    """The form with a wall typed; today is a year after the readings."""
    context = WallContext(
        nominal_mm=3.0,
        last_mm=2.0,
        last_on="2025-11-25",
        last_accuracy_mm=0.0,
        retirement_mm=None,
        today="2026-11-25",
        earlier=readings,
        pass_rate_mm_per_year=usual,
    )
    ref = EndRef(hole="h" * 13, tube="P2-R03-C11", end=End.FRONT, face="front")
    place = {"end": End.FRONT, "at_mm": 150.0, "accuracy_mm": 0.05}
    form = ReadingForm(ref=ref, is_mirrored=False, context=context, **place | more)
    for character in text:
        form = press_point(form) if character == "." else press_digit(form, character)
    return form


def test_growth_at_the_same_place_is_asked_about_and_kept_on_request():
    form = typed("2.71", earlier(2.6))
    assert form.questions == (
        "2.71 mm is 0.11 mm more than at this place on 2025-11-25 (2.60 mm). Measure again, or "
        "keep it?",
    )
    assert not form.can_keep
    assert keep_anyway(form).can_keep
    assert keep_anyway(form).entry.confirmed


@pytest.mark.parametrize(
    ("text", "more"),
    [
        ("2.70", {}),  # no more than 0.1 mm
        ("2.8", {"accuracy_mm": 0.15}),  # no more than both gauges may be wrong: 0.15 + 0.05
        ("2.60", {}),
    ],
)
def test_growth_within_the_gauges_errors_or_a_tenth_is_let_pass(text, more):
    assert typed(text, earlier(2.6), **more).questions == ()


@pytest.mark.parametrize(
    ("place", "more"),
    [
        ({"end": "rear"}, {}),
        ({"at_mm": 201.0}, {}),
        ({"at_mm": None}, {}),
        ({}, {"at_mm": None}),
        ({}, {"in_rolled_zone": True}),
    ],
)
def test_another_place_is_not_compared(place, more):
    """Then the thinnest wall of last time is asked about as before, by more than 0.3 mm."""
    (question,) = typed("2.75", earlier(2.6, **place), **more).questions
    assert question == "2.75 mm is 0.75 mm more than on 2025-11-25 (2.00 mm). Keep it?"


def test_of_several_readings_the_last_and_nearest_is_compared():
    old = earlier(2.9, order=0)
    far, near = earlier(2.7, order=1, at_mm=190.0), earlier(2.5, order=1, at_mm=160.0)
    (question,) = typed("2.62", old, far, near).questions
    assert "0.12 mm more" in question
    assert "(2.50 mm)" in question


@pytest.mark.parametrize(
    ("text", "usual", "is_asked"),
    [
        ("2.44", 0.05, True),  # 0.16 a year is more than 3 x 0.05
        ("2.46", 0.05, False),
        ("2.48", 0.0, True),  # beyond 0.1, and nobody else loses anything
        ("2.51", 0.0, False),  # 0.09 is not beyond 0.1
        ("2.0", None, False),  # no family to be out of
        ("2.3", 0.15, False),
    ],
)
def test_a_rate_out_of_family_is_asked_about(text, usual, is_asked):
    form = typed(text, earlier(2.6), usual=usual)
    assert bool(form.questions) is is_asked
    assert form.can_keep is not is_asked


def test_the_question_says_the_rate_and_what_is_usual():
    assert typed("2.2", earlier(2.6)).questions == (
        "2.20 mm is 0.40 mm less than at this place on 2025-11-25 (2.60 mm): 0.40 mm a year, "
        "where half of the tubes measured in the pass lose no more than 0.05 mm. Measure again, or "
        "keep it?",
    )


def test_a_loss_within_the_gauges_errors_is_no_rate():
    assert typed("2.4", earlier(2.6, accuracy_mm=0.15)).questions == ()


def test_without_days_in_order_there_is_no_rate():
    form = typed("2.2", earlier(2.6))
    for today in (None, "2025-11-25", "2020"):
        assert replace(form, context=replace(form.context, today=today)).questions == ()


def _past(bench, date, walls, **place):
    given = NewInspection(date=date, scope=Scope.FULL)
    inspection = open_inspection(bench.store, bench.boiler, given, "Ada")
    entries = [
        Entry(
            kind="reading",
            body={
                "inspection": inspection,
                "hole": bench.tubes[key].hole,
                "wall_mm": wall_mm,
                "side": "unknown",
                "purpose": "planned",
                "end": "front",
                "at_mm": 150.0,
                **place,
            },
            by="Ada",
        )
        for key, wall_mm in walls.items()
    ]
    record_entries(bench.store, bench.boiler, entries)
    _close(bench, inspection)


def _close(bench, inspection):
    folded = load_boiler(bench.store, bench.boiler)
    done = next(e for e in folded.inspections if e.facts.inspection == inspection)
    close_inspection(bench.store, folded, done, "Ada")


def test_the_session_knows_the_usual_rate_of_the_pass_from_earlier_inspections(make_bench):
    bench = make_bench()
    _close(bench, bench.inspection)
    pass_2 = sorted(key for key in bench.tubes if key.startswith("P2"))[:5]
    pass_3 = sorted(key for key in bench.tubes if key.startswith("P3"))
    _past(bench, "2022-11-25", dict.fromkeys([*pass_2, *pass_3], 2.9))
    # Over three years: 0.03 twice, 0.06 twice, 0.3 once; the middle one is 0.02 mm a year.
    losses = (0.03, 0.03, 0.06, 0.06, 0.3)
    walls = {key: 2.9 - loss for key, loss in zip(pass_2, losses, strict=True)}
    _past(bench, "2025-11-25", {**walls, **dict.fromkeys(pass_3, 2.0)})
    today = NewInspection(date="2026-11-26", scope=Scope.FULL)
    bench.inspection = open_inspection(bench.store, bench.boiler, today, "Ada")
    session = bench.session()
    context = session.wall_context(bench.tubes[pass_2[0]].hole)
    assert context.pass_rate_mm_per_year == pytest.approx(0.02, rel=0.01)
    assert [each.wall_mm for each in context.earlier] == pytest.approx([2.9, 2.87])
    # Pass 3 has four tubes, too few to be a family.
    assert session.wall_context(bench.tubes[pass_3[0]].hole).pass_rate_mm_per_year is None
    entry = ReadingEntry(
        hole=bench.tubes[pass_2[0]].hole, tube=pass_2[0], wall_mm=2.6, end=End.FRONT, at_mm=150.0
    )
    said = session.record_reading(entry).said
    assert "2.60 mm is 0.27 mm less than at this place" in said
    assert session.record_reading(replace(entry, confirmed=True)).said.endswith("wall 2.60 mm.")
