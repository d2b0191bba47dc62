"""What the card of one tube says, and that it reads no more than that tube."""

import pytest

from fieldapp.view.readings import ReadingEntry
from fieldapp.view.session_pages import card_of
from fieldapp.view.tube_card import build_tube_card
from model.errors import StoreRefused
from model.store.edits.entries import Entry, record_entries
from model.store.loading import load_boiler
from tests.fieldapp.view.bench import CARRIED
from tests.fieldapp.view.pictures import picture

KEY = "P2-R02-C02"


@pytest.fixture
def bench(make_bench):
    return make_bench(
        carried=CARRIED,
        readings=[(KEY, 2.5), ("P2-R01-C01", 2.6)],
        settings={"wall": {"retirement": "stated", "stated_mm": 2.0, "basis": "the engineer"}},
    )


@pytest.fixture
def session(bench):
    session = bench.session()
    ref = bench.ref(KEY)
    session.confirm_carried([ref])
    session.add_finding(ref, {"mechanism": "scale", "side": "water", "grade": "watch"})
    session.set_note(ref, "soot around it")
    session.record_reading(
        ReadingEntry(hole=ref.hole, tube=KEY, wall_mm=1.9, end=ref.end, clock_h=3, at_mm=40)
    )
    session.add_photo(picture(), "plug.png", ref, "the plug")
    session.switch_person("Ben")
    session.mark([ref], {"state": "sound"})
    session.add_finding(ref, {"mechanism": "pitting", "clock_h": 6, "at_mm": 12.5})
    return session


def test_the_card_has_both_ends_and_the_whole_history(bench, session):
    card = card_of(session, bench.tubes[KEY].hole)
    front, rear = card.ends
    assert card.place == "P2 row 2 column 2"
    assert card.facts == "50.8 mm outside, 3 mm wall as supplied"
    assert front.words == "plugged, driven plug, seen; disputed, the worse counts"
    assert sorted(front.opinions) == [("Ada", "plugged"), ("Ben", "sound")]
    assert front.findings == ("scale, water side, watch",)
    assert front.own_findings == ("pitting, at 12.5 mm, 6 o'clock from the front, note",)
    assert front.notes == (("Ada", "soot around it"),)
    assert (rear.words, rear.by, rear.opinions) == ("not inspected", (), ())
    assert card.hazard == "Plugged at one end; the other end was not seen."
    assert [(line.date, line.words) for line in card.history] == [
        (
            "2026-11-25",
            "front plugged, driven plug, seen; disputed, the worse counts; rear not inspected",
        ),
        ("2025-11-20", "front plugged, driven plug, seen; rear not inspected"),
    ]
    assert [(r.date, r.words, r.is_own) for r in card.readings] == [
        ("2026-11-25", "1.90 mm, front end, at 40 mm, 3 o'clock from the front, planned", False),
        ("2025-11-20", "2.50 mm, planned", False),
    ]
    assert [line.margin_mm for line in card.readings] == pytest.approx([-0.1, 0.5])
    (photo,) = card.photos
    assert (photo.caption, photo.media, photo.is_own) == ("the plug", "image/png", False)
    assert card.can_confirm is False


def test_one_tube_alone_gives_the_same_card_as_the_whole_boiler(bench, session):
    whole = load_boiler(bench.store, bench.boiler)
    for key, tube in bench.tubes.items():
        expected = build_tube_card(
            whole, session.facts, bench.inspection, tube.hole, session.person
        )
        assert card_of(session, tube.hole) == expected, key


def test_a_wall_below_the_retirement_wall_is_bad_now_and_says_how_thick_it_is(bench):
    session = bench.session()
    ref = bench.ref("P2-R01-C01")
    assert card_of(session, ref.hole).bad == ()
    session.record_reading(ReadingEntry(hole=ref.hole, tube=ref.tube, wall_mm=1.6))
    assert card_of(session, ref.hole).bad == (
        "wall 1.60 mm, below the retirement wall (gauge's error not stated)",
    )
    stated = ReadingEntry(hole=ref.hole, tube=ref.tube, wall_mm=1.5, accuracy_mm=0.1)
    session.record_reading(stated)
    assert card_of(session, ref.hole).bad == ("wall 1.50 mm, below the retirement wall",)
    assert session.condition(ref.hole).left.bad == ("wall below the retirement wall",)


def test_work_and_a_new_tube_stand_on_the_card(bench, session):
    hole = bench.tubes[KEY].hole
    replaced = {
        "inspection": bench.inspection,
        "hole": hole,
        "does": "replace",
        "done_on": "2026-11-26",
        "tube": {"od_mm": 50.8, "wall_mm": 3.2, "material": "SA-178 A"},
    }
    between = {"hole": hole, "does": "re-roll", "ends": ["front"], "done_on": "2026-02-01"}
    past = {"hole": hole, "what": "leak", "date": "2019"}
    record_entries(
        bench.store,
        bench.boiler,
        [
            Entry(kind="work", body=replaced, by="Cyd"),
            Entry(kind="work", body=between, by="Cyd"),
            Entry(kind="event", body=past, by="Cyd"),
        ],
    )
    card = card_of(session, hole)
    assert [(line.date, line.words) for line in card.work] == [
        ("2026-11-26", "replace"),
        ("2026-02-01", "re-roll, front end"),
        ("2019", "leak"),
    ]
    assert card.facts == "50.8 mm outside, 3.2 mm wall as supplied, replaced 2026-11-26"
    assert card.ends[0].left_words == "nothing known"


def test_what_is_carried_can_be_confirmed_from_the_card(bench, session):
    card = card_of(session, bench.tubes["P2-R02-C03"].hole)
    assert card.can_confirm
    assert card.ends[0].words == "leaking at the joint since 2025-11-20, not confirmed today"


def test_a_tube_that_is_gone_is_said(bench, session):
    with pytest.raises(StoreRefused, match="not in the layout any more"):
        card_of(session, "z" * 13)
