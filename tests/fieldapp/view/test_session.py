"""What each operation of a session does and says, word for word."""

import pytest

from fieldapp.errors import IntakeRefused
from fieldapp.view.moving import Shift, Span
from fieldapp.view.readings import ReadingEntry
from fieldapp.view.session import InspectionSession
from model.condition.boiler_facts import boiler_facts
from model.errors import StoreRefused
from model.record.words import End, How, LeakAt, Reason, State
from model.store.edits.boilers import revise_boiler
from model.store.loading import load_boiler
from model.store.queries import count_records
from tests.fieldapp.view.bench import CARRIED
from tests.fieldapp.view.pictures import picture

SOUND = {"state": "sound"}
LEAKING = {"state": "leaking"}


def test_a_mark_is_committed_and_said(bench, session):
    outcome = session.mark([bench.ref("P2-R03-C02")], SOUND)
    assert outcome.said == "P2 row 3 column 2: sound."
    assert outcome.undo_words == "P2 row 3 column 2: sound"
    assert outcome.changed == {"marks", "coverage", "undo"}
    assert list(outcome.holes) == [bench.tubes["P2-R03-C02"].hole]
    assert outcome.saved == 1
    assert outcome.tally.scope.looked_at == 1
    folded = load_boiler(bench.store, bench.boiler)
    found = folded.inspections[-1].end_found(bench.tubes["P2-R03-C02"].hole, End.FRONT)
    assert (found.state, found.how) == (State.SOUND, How.SEEN)


def test_the_same_mark_again_writes_nothing(bench, session):
    session.mark([bench.ref("P2-R03-C02")], SOUND)
    before = count_records(bench.store)
    outcome = session.mark([bench.ref("P2-R03-C02")], SOUND)
    assert (outcome.said, outcome.changed) == ("Already marked so.", frozenset())
    assert count_records(bench.store) == before


def test_a_leak_is_placed_by_one_more_tap_that_supersedes(bench, session):
    ref = bench.ref("P2-R01-C01")
    session.mark([ref], LEAKING)
    outcome = session.set_leak_place([ref], LeakAt.JOINT)
    assert outcome.said == "P2 row 1 column 1: leaking at the joint."
    assert outcome.tally.joint_leaks == 2  # one is carried
    assert len(session.present.open.live_of(ref.hole, "observation")) == 1
    assert session.undo().said == "Taken back: P2 row 1 column 1: leaking at the joint."
    assert bench.state(session, "P2-R01-C01") is State.LEAKING
    assert session.undo().said == "Taken back: P2 row 1 column 1: leaking."
    assert bench.state(session, "P2-R01-C01") is None


def test_the_place_of_a_leak_that_nobody_marked_is_refused_in_words(bench, session):
    session.mark([bench.ref("P2-R01-C01")], SOUND)
    outcome = session.set_leak_place([bench.ref("P2-R01-C01")], LeakAt.JOINT)
    assert (outcome.said, outcome.changed) == ("You have marked no new leak there.", frozenset())


def test_marking_the_same_state_again_keeps_where_it_leaks(bench, session):
    ref = bench.ref("P2-R01-C01")
    session.mark([ref], {**LEAKING, "leak_at": "joint"})
    assert session.mark([ref], LEAKING).changed == frozenset()
    assert session.condition(ref.hole).ends_found[End.FRONT].leak_at is LeakAt.JOINT


def test_another_state_keeps_findings_and_note_and_drops_the_rest(bench, session):
    ref = bench.ref("P2-R01-C01")
    session.mark([ref], {**LEAKING, "leak_at": "bore", "leak_at_mm": 40})
    assert session.add_finding(ref, {"mechanism": "pitting", "grade": "watch"}).said == (
        "P2 row 1 column 1: pitting, watch."
    )
    assert session.set_note(ref, " soot ").said == "P2 row 1 column 1: note."
    session.mark([ref], SOUND)
    (record,) = session.present.open.live_of(ref.hole, "observation")
    assert (record.body["leak_at"], record.body["leak_at_mm"]) == (None, None)
    assert record.body["note"] == "soot"
    assert [each["mechanism"] for each in record.body["findings"]] == ["pitting"]
    assert session.remove_finding(ref, 0).said == "P2 row 1 column 1: finding taken away."
    assert session.remove_finding(ref, 0).said == "That finding is not yours, or is gone."


def test_a_finding_and_a_note_need_no_state(bench, session):
    ref = bench.ref("P2-R01-C01")
    session.add_finding(ref, {"mechanism": "scale", "thickness_mm": 1.5})
    session.set_note(ref, "soot")
    found = session.condition(ref.hole).ends_found[End.FRONT]
    assert (found.state, found.is_looked_at, len(found.findings)) == (None, False, 1)
    assert session.set_note(ref, "").said == "P2 row 1 column 1: note taken away."
    assert session.set_note(bench.ref("P2-R01-C02"), " ").said == "The note says that already."


def test_a_carried_plug_is_confirmed_with_its_type(bench, session):
    outcome = session.confirm_carried([bench.ref("P2-R02-C02")])
    assert outcome.said == "P2 row 2 column 2: plugged, driven plug confirmed."
    found = session.condition(bench.tubes["P2-R02-C02"].hole).ends_found[End.FRONT]
    assert (found.carried, found.how, str(found.plug.type)) == (False, How.SEEN, "driven")
    assert found.since == "2025-11-20"
    again = session.confirm_carried([bench.ref("P2-R02-C02")])
    assert again.said == "Nothing is carried there from last time: choose a state."


def test_a_carried_joint_leak_is_confirmed_as_such(bench, session):
    outcome = session.confirm_carried([bench.ref("P2-R02-C03")])
    assert outcome.said == "P2 row 2 column 3: leaking at the joint confirmed."


def test_a_drag_marks_by_row_and_leaves_alone_what_is_known_better(bench, session):
    session.mark([bench.ref("P2-R02-C01")], {**LEAKING, "leak_at": "bore"})
    outcome = session.mark_row(bench.row(2, 2), SOUND)
    assert outcome.said == (
        "P2 row 2 column 4: sound. Left alone: P2 row 2 column 1 (leaking, seen) and 2 more; "
        "tap to change."
    )
    found = session.condition(bench.tubes["P2-R02-C04"].hole).ends_found[End.FRONT]
    assert found.how is How.BY_ROW
    assert bench.state(session, "P2-R02-C02") is State.PLUGGED


def test_a_drag_over_carried_plugs_with_the_plug_key_confirms_them(bench, session):
    session.mark_row(bench.row(2, 2)[1:3], {"state": "plugged"})
    found = session.condition(bench.tubes["P2-R02-C02"].hole).ends_found[End.FRONT]
    assert (found.carried, found.how) == (False, How.BY_ROW)


def test_a_drag_is_corrected_by_a_drag_and_never_makes_a_dispute(bench, session):
    session.mark_row(bench.row(2, 1), {"state": "plugged"})
    assert session.mark_row(bench.row(2, 1), SOUND).said == (
        "P2 row 1, 3 ends: sound, 3 were plugged."
    )
    session.switch_person("Ben")
    outcome = session.mark_row(bench.row(2, 1), {"state": "plugged"})
    assert outcome.said == (
        "Nothing to mark there. Left alone: P2 row 1 column 1 (sound, another's mark) and 2 more; "
        "tap to change."
    )
    assert outcome.tally.disputed == 0


def test_a_drag_does_not_lower_how_an_end_is_known(bench, session):
    session.mark([bench.ref("P2-R01-C01")], SOUND)
    session.mark_row(bench.row(2, 1), SOUND)
    found = session.condition(bench.tubes["P2-R01-C01"].hole).ends_found[End.FRONT]
    assert found.how is How.SEEN


def test_a_drag_adds_a_detail_to_what_was_said_singly_and_keeps_how_it_is_known(bench, session):
    session.mark([bench.ref("P2-R01-C01")], LEAKING)
    outcome = session.mark_row(bench.row(2, 1)[:2], {**LEAKING, "leak_at": "joint"})
    assert outcome.said == "P2 row 1, 2 ends: leaking at the joint."
    found = session.condition(bench.tubes["P2-R01-C01"].hole).ends_found[End.FRONT]
    assert (found.leak_at, found.how) == (LeakAt.JOINT, How.SEEN)


def test_a_mark_over_something_graver_says_what_it_was(bench, session):
    outcome = session.mark([bench.ref("P2-R02-C02")], SOUND)
    assert outcome.said == "P2 row 2 column 2: sound, was plugged (driven)."
    assert outcome.remarks == ", was plugged (driven)."
    assert session.mark([bench.ref("P2-R02-C03")], SOUND).said == (
        "P2 row 2 column 3: sound, was leaking at the joint."
    )
    assert session.mark([bench.ref("P2-R03-C01", "rear")], SOUND).said == (
        "P2 row 3 column 1: sound, was thinned."
    )
    assert session.mark([bench.ref("P2-R02-C02")], {"state": "split"}).said == (
        "P2 row 2 column 2: split."
    )


def test_a_mark_that_makes_a_dispute_says_whose_word_it_disputes(bench, session):
    session.mark([bench.ref("P2-R01-C01")], {"state": "thinned"})
    session.switch_person("Ben")
    outcome = session.mark([bench.ref("P2-R01-C01")], SOUND)
    assert outcome.said == "P2 row 1 column 1: sound, disputed: Ada says thinned."
    assert outcome.tally.disputed == 1
    again = session.mark([bench.ref("P2-R01-C01")], {"state": "thinned"})
    assert again.said == "P2 row 1 column 1: thinned."


def test_what_recorded_nothing_changes_no_undo(bench, session):
    assert session.mark([bench.ref("P2-R01-C01")], SOUND).changed >= {"undo"}
    again = session.mark([bench.ref("P2-R01-C01")], SOUND)
    assert (again.said, again.changed) == ("Already marked so.", frozenset())
    assert again.undo_words == "P2 row 1 column 1: sound"  # the key still takes back the first


def test_filling_the_rest_is_planned_in_words_and_skips_looks_and_carried_plugs(bench, session):
    session.mark([bench.ref("P2-R01-C01")], SOUND)
    session.set_not_inspected([bench.ref("P2-R03-C03")], Reason.OBSTRUCTED)
    refs = bench.row(2, 1) + bench.row(2, 2) + bench.row(2, 3)
    plan = session.plan_fill(refs)
    assert plan.question(State.SOUND) == (
        "Fill in 6 ends as sound? They do not count as looked at. Left alone: 1 already looked at; "
        "1 said to be not inspected; 2 with a plug, leak or split carried: look at these."
    )
    outcome = session.fill_rest(refs, State.SOUND)
    assert outcome.said == (
        "6 ends: filled in as sound. Left alone: 1 already looked at; 1 said to be not inspected; "
        "2 with a plug, leak or split carried: look at these."
    )
    assert (outcome.tally.scope.filled, outcome.tally.scope.looked_at) == (6, 1)
    assert bench.state(session, "P2-R02-C02") is State.PLUGGED
    assert session.fill_rest(refs, State.SOUND).said == (
        "Nothing is left to fill in. Left alone: 1 already looked at; 6 already filled in; "
        "1 said to be not inspected; 2 with a plug, leak or split carried: look at these."
    )
    assert session.undo().tally.scope.filled == 0


def test_a_leak_cannot_be_filled_in(bench, session):
    outcome = session.fill_rest(bench.row(2, 1), State.LEAKING)
    assert outcome.said == "Only sound and thinned can be filled in: mark what is leaking."
    assert outcome.changed == frozenset()


def test_not_inspected_leaves_alone_what_was_looked_at_unless_it_is_one_end(bench, session):
    session.mark([bench.ref("P2-R01-C01")], SOUND)
    outcome = session.set_not_inspected(bench.row(2, 1), Reason.NO_ENTRY)
    assert outcome.said == "P2 row 1, 2 ends: not inspected, no entry."
    assert bench.state(session, "P2-R01-C01") is State.SOUND
    session.set_not_inspected([bench.ref("P2-R01-C01")], Reason.NOT_CLEANED)
    found = session.condition(bench.tubes["P2-R01-C01"].hole).ends_found[End.FRONT]
    assert (found.state, found.reason) == (None, Reason.NOT_CLEANED)


def test_undo_and_redo_go_back_and_forth_and_a_new_mark_ends_the_redo(bench, session):
    session.mark([bench.ref("P2-R01-C01")], SOUND)
    session.mark([bench.ref("P2-R01-C01")], {"state": "split"})
    outcome = session.undo()
    assert outcome.said == "Taken back: P2 row 1 column 1: split."
    assert (outcome.undo_words, outcome.redo_words) == (
        "P2 row 1 column 1: sound",
        "P2 row 1 column 1: split",
    )
    assert session.redo().said == "Done again: P2 row 1 column 1: split."
    assert session.redo().said == "There is nothing to do again."
    session.undo()
    session.mark([bench.ref("P2-R01-C02")], SOUND)
    assert session.redo().said == "There is nothing to do again."
    session.undo()
    session.undo()
    assert session.undo().said == "There is nothing to take back."
    assert session.present.open.tally.scope.looked_at == 0


def test_undo_survives_a_restart(bench, session):
    session.mark([bench.ref("P2-R01-C01")], SOUND)
    session.mark_row(bench.row(2, 3), SOUND)
    session.undo()
    again = InspectionSession(bench.store, bench.boiler, bench.inspection, session.person)
    assert again.acts == session.acts
    assert again.look().redo_words == "P2 row 3, 3 ends: sound"
    assert again.undo().said == "Taken back: P2 row 1 column 1: sound."
    third = InspectionSession(bench.store, bench.boiler, bench.inspection, session.person)
    assert third.redo().said == "Done again: P2 row 1 column 1: sound."
    assert third.redo().said == "Done again: P2 row 3, 3 ends: sound."


def test_undo_leaves_alone_what_was_marked_anew_in_another_session(bench, session):
    session.mark(bench.row(2, 1), SOUND)
    bench.session().mark([bench.ref("P2-R01-C02")], {"state": "split"})
    outcome = session.undo()
    assert outcome.said == (
        "Taken back: P2 row 1, 3 ends: sound. 1 end left alone: marked anew since."
    )
    assert bench.state(session, "P2-R01-C02") is State.SPLIT


def test_each_person_takes_back_only_their_own(bench, session):
    session.mark([bench.ref("P2-R01-C01")], SOUND)
    outcome = session.switch_person(" Ben ")
    assert (outcome.said, outcome.undo_words) == ("Ben is inspecting.", None)
    assert session.undo().said == "There is nothing to take back."
    outcome = session.mark([bench.ref("P2-R01-C01")], {"state": "plugged"})
    assert outcome.tally.disputed == 1
    assert outcome.holes[bench.tubes["P2-R01-C01"].hole].found.disputed
    assert session.switch_person("ada").undo_words == "P2 row 1 column 1: sound"


def test_no_name_is_nobody(session):
    with pytest.raises(StoreRefused, match="No name was given"):
        session.switch_person("  ")


def test_marks_one_row_off_move_up_all_at_once(bench, session):
    session.mark(bench.row(2, 3), SOUND)
    session.mark([bench.ref("P2-R03-C02")], {**LEAKING, "leak_at": "bore"})
    session.mark(bench.row(2, 2), {"state": "thinned"})
    span = Span(pass_=2, first_row=3, last_row=3)
    everything = Span(pass_=2, first_row=2, last_row=3)
    assert session.plan_move(span, Shift(rows=-1)).question == (
        "Nothing can be moved. 3 would stand over another mark of yours: P2-R02-C01, P2-R02-C02, "
        "P2-R02-C03. They stay where they are."
    )
    assert session.undo().said.startswith("Taken back: P2 row 2, 4 ends: thinned.")
    session.mark([bench.ref("P2-R02-C01")], {"state": "thinned"})
    assert session.plan_move(everything, Shift(rows=-1)).question == (
        "Move 2 marks? 1 would stand over a leak of last time: P2-R02-C03. 1 would stand over a "
        "plug of last time: P2-R02-C02. They stay where they are."
    )
    outcome = session.move(everything, Shift(rows=-1))
    assert outcome.said == (
        "2 marks moved. 1 would stand over a leak of last time: P2-R02-C03. 1 would stand over a "
        "plug of last time: P2-R02-C02. They stay where they are."
    )
    assert bench.state(session, "P2-R01-C01") is State.THINNED
    assert bench.state(session, "P2-R02-C01") is State.SOUND
    assert bench.state(session, "P2-R02-C02") is State.PLUGGED
    assert bench.state(session, "P2-R03-C02") is State.LEAKING
    assert session.undo().said == "Taken back: 2 marks moved."
    assert bench.state(session, "P2-R02-C01") is State.THINNED


def test_a_mark_that_confirms_what_is_carried_moves_there(bench, session):
    session.mark([bench.ref("P2-R01-C02")], {"state": "plugged"})
    session.mark([bench.ref("P2-R01-C03")], {**LEAKING, "leak_at": "bore"})
    span = Span(pass_=2, first_row=1, last_row=1)
    assert session.plan_move(span, Shift(rows=1)).question == "Move 2 marks?"
    assert session.move(span, Shift(rows=1)).said == "2 marks moved."
    found = session.condition(bench.tubes["P2-R02-C03"].hole).ends_found[End.FRONT]
    assert (found.state, found.leak_at, found.how) == (State.LEAKING, LeakAt.BORE, How.SEEN)


def test_a_mark_behind_one_that_stays_stays_too(bench, session):
    session.mark([bench.ref("P2-R01-C02"), bench.ref("P2-R02-C01")], SOUND)
    session.switch_person("Ben")
    session.mark([bench.ref("P2-R01-C01"), bench.ref("P2-R03-C01")], {"state": "thinned"})
    session.switch_person("Ada")
    session.mark([bench.ref("P2-R01-C01")], {"state": "thinned"})
    plan = session.plan_move(Span(pass_=2, last_row=2), Shift(rows=1))
    assert plan.question == (
        "Nothing can be moved. 1 would stand over a mark of Ben: P2-R03-C01. 1 would stand over a "
        "mark that stays: P2-R02-C01. 1 would stand over a plug of last time: P2-R02-C02. They "
        "stay where they are."
    )
    assert session.move(Span(pass_=2, last_row=2), Shift(rows=1)).changed == frozenset()
    assert bench.state(session, "P2-R03-C01") is State.THINNED


def test_marks_from_the_wrong_end_move_mirrored_to_the_other_end(bench, session):
    since = session.now_text
    session.mark([bench.ref("P2-R02-C01")], {"state": "split"})
    session.move(Span(since=since), Shift(mirrored=True, other_end=True))
    assert bench.state(session, "P2-R02-C01") is None
    assert bench.state(session, "P2-R02-C04", "rear") is State.SPLIT
    (record,) = session.present.open.live_of(bench.tubes["P2-R02-C04"].hole, "observation")
    assert record.body["face"] == "turnaround"


def test_a_move_to_where_no_tube_is_moves_nothing_and_says_which(bench, session):
    session.mark(bench.row(2, 2), SOUND)
    before = count_records(bench.store)
    outcome = session.move(Span(pass_=2), Shift(rows=1))
    assert outcome.said == (
        "Nothing was moved: P2 row 2 column 4 would go to pass 2 row 3 column 4, and there is no "
        "tube."
    )
    assert count_records(bench.store) == before


def test_anothers_marks_stay_and_the_person_is_told_whom_to_ask(bench, session):
    session.mark([bench.ref("P2-R01-C01")], SOUND)
    session.switch_person("Ben")
    span = Span(pass_=2, first_row=1, last_row=1)
    assert session.move(span, Shift(columns=1)).said == (
        "None of these marks is yours: ask Ada to move them."
    )
    session.mark([bench.ref("P2-R01-C02")], SOUND)
    assert session.plan_move(span, Shift(columns=1)).question == (
        "Move 1 mark? 1 mark of Ada would stay: ask Ada to move them."
    )
    session.mark([bench.ref("P2-R01-C03", "rear")], SOUND)
    front = Span(pass_=2, end=End.FRONT)
    assert session.plan_move(front, Shift(columns=1, other_end=True)).replaced == 1


def test_a_move_needs_marks_and_a_direction(session):
    assert session.plan_move(Span(), Shift()).question == (
        "Say where to: rows, columns, mirrored or the other end."
    )
    assert session.move(Span(), Shift(rows=1)).said == "There are no marks there to move."


def test_a_chosen_gesture_alone_can_be_moved(bench, session):
    session.mark([bench.ref("P2-R01-C01")], SOUND)
    session.mark([bench.ref("P2-R02-C01")], SOUND)
    last = session.acts.done[-1].act
    session.move(Span(acts=frozenset((last,))), Shift(rows=1))
    assert bench.state(session, "P2-R01-C01") is State.SOUND
    assert bench.state(session, "P2-R03-C01") is State.SOUND


@pytest.fixture
def measured(make_bench):
    return make_bench(carried=CARRIED, readings=[("P2-R01-C01", 2.6)])


def entry(bench, wall_mm, **more):
    tube = bench.tubes["P2-R01-C01"]
    return ReadingEntry(hole=tube.hole, tube=tube.key, wall_mm=wall_mm, **more)


def test_a_reading_is_recorded_and_its_instrument_remembered(measured):
    session = measured.session()
    assert session.last_reading() is None
    outcome = session.record_reading(entry(measured, 2.41, instrument="UT 1", accuracy_mm=0.1))
    assert (outcome.said, outcome.changed) == (
        "P2 row 1 column 1: wall 2.41 mm.",
        {"readings", "marks", "coverage"},
    )
    assert session.last_reading()["instrument"] == "UT 1"


@pytest.mark.parametrize(
    ("wall_mm", "said"),
    [
        (
            4.2,
            "4.20 mm is more than 1.3 times the nominal 3.00 mm. Keep it? "
            "4.20 mm is 1.60 mm more than on 2025-11-20 (2.60 mm). Keep it?",
        ),
        (3.0, "3.00 mm is 0.40 mm more than on 2025-11-20 (2.60 mm). Keep it?"),
        (0.31, "0.31 mm is thinner than 0.50 mm. Keep it?"),
    ],
)
def test_an_implausible_reading_is_asked_about_and_kept_on_request(measured, wall_mm, said):
    session = measured.session()
    assert session.record_reading(entry(measured, wall_mm)).said == said
    assert session.last_reading() is None
    session.record_reading(entry(measured, wall_mm, confirmed=True))
    assert session.last_reading()["confirmed"] is True


def test_a_reading_is_taken_back_by_its_own_person_only(measured):
    session = measured.session()
    session.record_reading(entry(measured, 2.4))
    hole = measured.tubes["P2-R01-C01"].hole
    (reading,) = session.present.open.live_of(hole, "reading")
    session.switch_person("Ben")
    assert session.take_back_record(reading.id).said == (
        "That reading is Ada's: ask Ada to take it back."
    )
    session.switch_person("Ada")
    assert session.take_back_record(reading.id).said == "The reading is taken back."
    assert session.present.open.live_of(hole, "reading") == ()
    assert session.take_back_record("no such").said == (
        "Only a reading or a photo can be taken back here."
    )


def test_a_wall_below_the_retirement_wall_counts_as_bad_until_measured_plugged_or_replaced(
    make_bench,
):
    bench = make_bench(
        readings=[("P2-R01-C01", 1.6), ("P2-R01-C02", 1.7), ("P2-R01-C03", 2.4)],
        settings={"wall": {"retirement": "stated", "stated_mm": 2.0, "basis": "the engineer"}},
    )
    session = bench.session()
    assert session.look().tally.bad == 2
    outcome = session.record_reading(entry(bench, 2.1, confirmed=True))
    assert outcome.tally.bad == 1
    assert outcome.holes[bench.tubes["P2-R01-C01"].hole].left.bad == ()
    (reading,) = session.present.open.live_of(bench.tubes["P2-R01-C01"].hole, "reading")
    assert session.take_back_record(reading.id).tally.bad == 2
    assert session.mark([bench.ref("P2-R01-C01")], {"state": "plugged"}).tally.bad == 1
    assert session.undo().tally.bad == 2
    third = bench.tubes["P2-R01-C03"]
    below = ReadingEntry(hole=third.hole, tube=third.key, wall_mm=1.9)
    assert session.record_reading(below).tally.bad == 3


def test_a_photo_is_on_the_shelf_and_about_this_end(bench, session):
    outcome = session.add_photo(picture(), "leak.png", bench.ref("P2-R01-C01"), "a leak")
    assert (outcome.said, outcome.changed) == ("P2 row 1 column 1: photo kept.", {"photos"})
    assert [path.suffix for path in bench.store.photos.files()] == [".png"]
    (photo,) = load_boiler(bench.store, bench.boiler).inspections[-1].others
    assert photo.body["about"] == {
        "what": "tube",
        "hole": bench.tubes["P2-R01-C01"].hole,
        "end": "front",
        "key": None,
    }
    assert outcome.saved == 1


def test_what_is_no_picture_is_refused_and_nothing_kept(bench, session):
    with pytest.raises(IntakeRefused, match=r"leak\.png is not a JPEG, PNG or WebP picture"):
        session.add_photo(b"no picture", "leak.png", bench.ref("P2-R01-C01"))
    assert list(bench.store.photos.files()) == []
    assert session.look().saved == 0


def test_a_closed_inspection_still_takes_marks_that_show_as_after_closing(bench, session):
    assert session.close().said == "The inspection is closed."
    outcome = session.mark([bench.ref("P2-R01-C01")], SOUND)
    (tube,) = outcome.holes.values()
    assert tube.after_closing
    with pytest.raises(StoreRefused, match="already closed"):
        session.close()


def test_an_inspection_that_is_not_there_is_refused(bench):
    with pytest.raises(StoreRefused, match="There is no inspection aaaaaaaaaaaaa of this boiler"):
        InspectionSession(bench.store, bench.boiler, "a" * 13, bench.person("Ada"))


def test_a_layout_revised_by_somebody_else_is_taken_in_at_the_next_touch(bench, session):
    kept = [tube for tube in bench.tubes.values() if tube.key != "P3-R02-C02"]
    revise_boiler(bench.store, bench.boiler, "Ben", tubes=kept)
    outcome = session.mark([bench.ref("P2-R01-C01")], SOUND)
    assert "everything" in outcome.changed
    assert outcome.tally.tubes == 13
    assert len(outcome.holes) == 13


def test_the_first_look_has_every_tube(bench, session):
    outcome = session.look()
    assert (len(outcome.holes), outcome.said, outcome.changed) == (14, "", {"everything"})
    assert outcome.tally.plugged == 1
    assert outcome.tally.plugged_percent == pytest.approx(100 / 14)
    assert outcome.tally.scope.carried == 3
    assert boiler_facts(session.present.open.boiler).tag == "LB-7"
