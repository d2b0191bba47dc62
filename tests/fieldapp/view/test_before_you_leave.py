"""Each list of what is missing, in words, and when nothing is."""

import pytest

from fieldapp.view import before_you_leave as leave
from fieldapp.view.session_pages import leaving_of, walls_left_open
from model.condition.boiler_facts import boiler_facts
from model.record.words import LeakAt, Reason, State
from model.store.edits.entries import Entry, record_entries
from model.store.loading import load_boiler
from model.wall.governing import inspection_walls
from tests.fieldapp.view.bench import CARRIED

SOUND = {"state": "sound"}
FACES = ((2, "front"), (3, "front"), (2, "rear"), (3, "rear"))


def tubes_of(leaving, key):
    return [(item.tube, None if item.end is None else str(item.end)) for item in leaving.of(key)]


def everything(bench, pass_, end):
    rows = sorted({tube.row for tube in bench.tubes.values() if tube.pass_ == pass_})
    return [ref for row in rows for ref in bench.row(pass_, row, end)]


def test_at_the_start_every_end_is_missing_face_by_face(bench, session):
    leaving = leaving_of(session)
    words = [matter.words for matter in leaving.matters if matter.key == leave.NOT_SEEN]
    assert words == [
        "14 ends not seen at the front smokebox",
        "10 ends not seen at the turnaround chamber",
        "4 ends not seen at the rear smokebox",
    ]
    assert not leaving.is_complete
    assert leaving.words == (
        "Missing: 14 ends not seen at the front smokebox; 10 ends not seen at the turnaround "
        "chamber; 4 ends not seen at the rear smokebox; 1 tube: plugged at one end, the other not "
        "seen; 1 end: leaks and splits of last time not answered."
    )
    carried = next(i for i in leaving.of(leave.NOT_SEEN) if i.tube == "P2-R02-C02")
    assert carried.words == "plugged since 2025-11-20, not confirmed today"


def test_when_everything_is_seen_and_agreed_nothing_is_missing(bench, session):
    for pass_, end in FACES:
        session.mark(everything(bench, pass_, end), SOUND)
    leaving = leaving_of(session)
    assert (leaving.is_complete, leaving.words, leaving.matters) == (
        True,
        "Nothing is missing.",
        (),
    )


def test_a_reason_and_a_fill_in_are_listed_and_hold_nobody_up(bench, session):
    session.set_not_inspected(everything(bench, 3, "rear"), Reason.NO_ENTRY)
    session.fill_rest(everything(bench, 3, "front"), State.SOUND)
    for end in ("front", "rear"):
        session.mark(everything(bench, 2, end), SOUND)
    leaving = leaving_of(session)
    assert [matter.words for matter in leaving.matters] == [
        "4 ends: filled in, not looked at",
        "4 ends not seen at the rear smokebox (4 no entry)",
    ]
    assert leaving.is_complete


def test_plugs_say_whether_the_other_end_was_seen_open(bench, session):
    session.mark([bench.ref("P3-R01-C01")], {"state": "plugged"})
    assert tubes_of(leaving_of(session), leave.PLUGS_UNSEEN) == [
        ("P2-R02-C02", None),
        ("P3-R01-C01", None),
    ]
    session.mark([bench.ref("P3-R01-C01", "rear")], SOUND)
    (item,) = leaving_of(session).of(leave.PLUGS_OPEN)
    assert (item.tube, item.words) == (
        "P3-R01-C01",
        "plugged at the front, the rear end was seen open",
    )


def test_a_leak_of_last_time_is_answered_by_a_look(bench, session):
    assert tubes_of(leaving_of(session), leave.LEFT_OPEN) == [("P2-R02-C03", "front")]
    session.mark([bench.ref("P2-R02-C03")], SOUND)
    assert leaving_of(session).of(leave.LEFT_OPEN) == ()


def test_a_leak_without_a_place_is_missing_until_somebody_says_where(bench, session):
    ref = bench.ref("P2-R01-C01")
    session.mark([ref], {"state": "leaking"})
    assert tubes_of(leaving_of(session), leave.LEAKS_WITHOUT_PLACE) == [("P2-R01-C01", "front")]
    session.set_leak_place([ref], LeakAt.NOT_FOUND)
    assert leaving_of(session).of(leave.LEAKS_WITHOUT_PLACE) == ()
    session.set_leak_place([ref], LeakAt.JOINT)
    assert tubes_of(leaving_of(session), leave.JOINT_LEAKS) == [
        ("P2-R01-C01", "front"),
        ("P2-R02-C03", "front"),
    ]


def test_a_dispute_says_what_was_said(bench, session):
    session.mark([bench.ref("P2-R01-C01")], SOUND)
    session.switch_person("Ben")
    session.mark([bench.ref("P2-R01-C01")], {"state": "split"})
    (item,) = leaving_of(session).of(leave.DISPUTES)
    assert (item.tube, item.words) == ("P2-R01-C01", "split or sound")
    body = {
        "inspection": bench.inspection,
        "hole": bench.tubes["P2-R01-C01"].hole,
        "does": "plug",
    }
    record_entries(bench.store, bench.boiler, [Entry(kind="work", body=body, by="Cyd")])
    assert leaving_of(session).of(leave.DISPUTES) == ()


@pytest.fixture
def thin(make_bench):
    return make_bench(
        carried=CARRIED,
        readings=[("P2-R01-C01", 1.8), ("P2-R01-C02", 1.9), ("P2-R01-C03", 2.6)],
        settings={"wall": {"retirement": "stated", "stated_mm": 2.0, "basis": "the engineer"}},
    )


def test_thin_walls_of_last_time_are_to_be_measured_again(thin):
    session = thin.session()
    items = leaving_of(session).of(leave.WALLS_LEFT_OPEN)
    assert [(item.tube, item.words) for item in items] == [
        ("P2-R01-C01", "1.80 mm on 2025-11-20: measure again"),
        ("P2-R01-C02", "1.90 mm on 2025-11-20: measure again"),
    ]
    body = {
        "inspection": thin.inspection,
        "hole": thin.tubes["P2-R01-C01"].hole,
        "wall_mm": 1.8,
        "side": "unknown",
        "purpose": "suspect",
    }
    record_entries(thin.store, thin.boiler, [Entry(kind="reading", body=body, by="Ada")])
    session.mark([thin.ref("P2-R01-C02")], {"state": "plugged"})
    assert leaving_of(session).of(leave.WALLS_LEFT_OPEN) == ()


def test_thin_walls_are_those_that_the_whole_boiler_gives(thin):
    session = thin.session()
    boiler = load_boiler(thin.store, thin.boiler)
    facts = boiler_facts(boiler)
    whole = inspection_walls(
        boiler,
        boiler.inspections[-1],
        default_wall_mm=facts.wall_mm,
        retirement_mm=facts.retirement_mm,
    )
    assert walls_left_open(session) == whole.below_from_earlier
    assert len(whole.below_from_earlier) == 2


def test_without_a_retirement_wall_no_wall_is_asked_for(make_bench):
    bench = make_bench(readings=[("P2-R01-C01", 0.8)])
    assert walls_left_open(bench.session()) == {}
