"""What the keys make of touches; the words on and under them."""

import pytest

from fieldapp.view.key_state import (
    LEAK_ANSWERS,
    PLUG_ANSWERS,
    PLUG_CONDITIONS,
    PLUG_TYPES,
    REASON_ANSWERS,
    Confirm,
    DescribePlug,
    Key,
    KeyState,
    Mark,
    NotInspected,
    PlaceLeak,
    PlugAsked,
    Say,
    after_undo,
    answer_leak,
    answer_plug,
    ask_plug,
    choose_plug_type,
    choose_reason,
    drag_row,
    let_question_fall,
    press_key,
    run_intent,
    tap_tube,
)
from model.record.words import End, LeakAt, PlugCondition, PlugType, Reason, State
from model.store.edits.acts import EndRef

REF = EndRef(hole="h" * 13, tube="P2-R03-C11", end=End.FRONT, face="front")
OTHER = EndRef(hole="g" * 13, tube="P2-R03-C12", end=End.FRONT, face="front")


def chosen(key, **more):
    return KeyState(key=key, **more)


def test_without_a_key_a_tap_says_what_to_do():
    turn = tap_tube(KeyState(), REF)
    assert turn.intents == (Say(words="Choose a state, then tap the tubes."),)


@pytest.mark.parametrize("key", [Key.SOUND, Key.THINNED, Key.PLUGGED, Key.SPLIT])
def test_a_state_key_marks_what_is_tapped(key):
    turn = tap_tube(press_key(KeyState(), key).state, REF)
    assert turn.intents == (Mark(refs=(REF,), stated={"state": str(key)}),)
    assert turn.state == chosen(key, plug_of=PlugAsked(ref=REF) if key is Key.PLUGGED else None)


def test_a_key_pressed_again_is_let_go():
    assert press_key(chosen(Key.SOUND), Key.SOUND).state == KeyState()
    assert press_key(chosen(Key.SOUND), Key.SPLIT).state == chosen(Key.SPLIT)


def test_a_leak_is_marked_at_once_and_then_asked_where():
    turn = tap_tube(chosen(Key.LEAKING), REF)
    assert turn.intents == (Mark(refs=(REF,), stated={"state": "leaking"}),)
    assert turn.state.question == "Where does it leak?"
    answered = answer_leak(turn.state, LeakAt.JOINT)
    assert answered.intents == (PlaceLeak(refs=(REF,), leak_at=LeakAt.JOINT),)
    assert answered.state == chosen(Key.LEAKING)


def test_the_next_leak_is_asked_about_alone():
    first = tap_tube(chosen(Key.LEAKING), REF).state
    assert tap_tube(first, OTHER).state.leak_of == (OTHER,)


@pytest.mark.parametrize(
    "move",
    [
        lambda state: press_key(state, Key.SOUND).state,
        lambda state: let_question_fall(state).state,
        after_undo,
    ],
)
def test_the_question_falls_with_another_key_with_undo_or_on_request(move):
    asked = tap_tube(chosen(Key.LEAKING), REF).state
    assert move(asked).question is None


def test_an_answer_without_a_question_says_so():
    assert answer_leak(KeyState(), LeakAt.BORE).intents == (Say(words="Mark a leak first."),)


def test_a_drag_marks_by_row_and_over_one_tube_it_is_a_tap():
    assert drag_row(chosen(Key.SOUND), [REF, OTHER]).intents == (
        Mark(refs=(REF, OTHER), stated={"state": "sound"}, by_row=True),
    )
    assert drag_row(chosen(Key.SOUND), [REF]).intents == (
        Mark(refs=(REF,), stated={"state": "sound"}),
    )
    assert drag_row(chosen(Key.SOUND), []).intents == ()


def test_the_plug_chosen_goes_with_every_plug():
    state = choose_plug_type(chosen(Key.PLUGGED), PlugType.THROUGH_ROD).state
    (mark,) = tap_tube(state, REF).intents
    assert mark.stated == {
        "state": "plugged",
        "plug": {"type": "through-rod", "condition": None, "vented": None},
    }
    assert state.hint == "Tap or drag: plugged, through rod plug."


def test_a_plug_is_offered_its_condition_and_type_and_both_answers_may_be_given():
    state = tap_tube(chosen(Key.PLUGGED), REF).state
    assert state.question == "How is the plug?"
    turn = answer_plug(state, PlugCondition.WEEPING)
    assert turn.intents == (DescribePlug(ref=REF, answer=PlugCondition.WEEPING),)
    assert turn.state.question == "Which plug?"
    turn = answer_plug(turn.state, PlugType.CAP)
    assert turn.intents == (DescribePlug(ref=REF, answer=PlugType.CAP),)
    assert turn.state == chosen(Key.PLUGGED)


def test_the_offer_falls_with_the_next_tube_another_key_an_undo_and_never_comes_of_a_row():
    state = tap_tube(chosen(Key.PLUGGED), REF).state
    assert tap_tube(state, OTHER).state.plug_of == PlugAsked(ref=OTHER)
    assert press_key(state, Key.SOUND).state.plug_of is None
    assert after_undo(state).plug_of is None
    assert let_question_fall(state).state.plug_of is None
    assert drag_row(state, [REF, OTHER]).state.plug_of is None
    assert answer_plug(KeyState(), PlugType.CAP).intents == (Say(words="Mark a plug first."),)


def test_a_plug_whose_type_is_said_of_all_is_asked_its_condition_alone():
    state = choose_plug_type(chosen(Key.PLUGGED), PlugType.DRIVEN).state
    asked = tap_tube(state, REF).state
    assert asked.plug_of == PlugAsked(ref=REF, asks_type=False)
    assert answer_plug(asked, PlugCondition.TIGHT).state.plug_of is None


def test_what_is_said_of_a_plug_stays_when_more_is_said(bench, session):
    ref = bench.ref("P2-R01-C01")
    turn = tap_tube(chosen(Key.PLUGGED), ref)
    run_intent(session, turn.intents[0])
    for answer in (PlugType.WELDED, PlugCondition.BURNED):
        turn = answer_plug(turn.state, answer)
        said = run_intent(session, turn.intents[0]).said
    assert said == "P2 row 1 column 1: plugged, welded plug, burned."
    plug = session.condition(ref.hole).ends_found[ref.end].plug
    assert (plug.type, plug.condition, plug.is_bad) == ("welded", "burned", True)
    session.undo()
    assert session.condition(ref.hole).ends_found[ref.end].plug.condition is None


def test_a_confirmed_plug_can_be_said_to_weep_and_one_that_is_gone_cannot(bench, session):
    ref = bench.ref("P2-R02-C02")
    outcome = run_intent(session, Confirm(refs=(ref,)))
    assert "plugged" in outcome.said
    assert outcome.said.endswith("confirmed.")
    state = ask_plug(chosen(Key.CONFIRM), PlugAsked(ref=ref))
    (intent,) = answer_plug(state, PlugCondition.WEEPING).intents
    run_intent(session, intent)
    assert session.condition(ref.hole).ends_found[ref.end].plug.is_bad
    session.undo()
    session.undo()
    outcome = run_intent(session, intent)
    assert (outcome.said, outcome.changed) == ("You have marked no plug there.", frozenset())


def test_not_inspected_wants_a_reason_first():
    state = press_key(KeyState(), Key.NOT_INSPECTED).state
    assert state.question == "Why not inspected?"
    assert tap_tube(state, REF).intents == (Say(words="Why not inspected? Choose first."),)
    state = choose_reason(state, Reason.NOT_CLEANED).state
    assert (state.question, state.hint) == (None, "Tap or drag: not inspected, not cleaned.")
    assert drag_row(state, [REF, OTHER]).intents == (
        NotInspected(refs=(REF, OTHER), reason=Reason.NOT_CLEANED),
    )


def test_the_confirm_key_confirms():
    assert tap_tube(chosen(Key.CONFIRM), REF).intents == (Confirm(refs=(REF,)),)


def test_every_word_of_the_closed_lists_can_be_chosen():
    assert [answer for answer, _ in LEAK_ANSWERS] == [
        LeakAt.JOINT,
        LeakAt.BORE,
        LeakAt.LIGAMENT,
        LeakAt.NOT_FOUND,
    ]
    assert [words for _, words in LEAK_ANSWERS] == ["joint", "bore", "ligament", "not found"]
    assert {answer for answer, _ in REASON_ANSWERS} == set(Reason)
    assert {answer for answer, _ in PLUG_ANSWERS} == {*PlugType, None}
    assert {answer for answer, _ in PLUG_CONDITIONS} == set(PlugCondition)
    assert [words for _, words in PLUG_TYPES] == ["driven", "through rod", "cap", "welded"]
    assert ("retarder in place") in [words for _, words in REASON_ANSWERS]


def test_intents_reach_the_session(bench, session):
    ref = bench.ref("P2-R01-C01")
    state = press_key(KeyState(), Key.LEAKING).state
    turn = tap_tube(state, ref)
    assert run_intent(session, turn.intents[0]).said == "P2 row 1 column 1: leaking."
    turn = answer_leak(turn.state, LeakAt.JOINT)
    outcome = run_intent(session, turn.intents[0])
    assert outcome.said == "P2 row 1 column 1: leaking at the joint."
    state = choose_reason(press_key(KeyState(), Key.NOT_INSPECTED).state, Reason.NO_TIME).state
    (intent,) = drag_row(state, bench.row(2, 3)).intents
    assert run_intent(session, intent).said == "P2 row 3, 3 ends: not inspected, no time."
    (intent,) = drag_row(chosen(Key.SOUND), bench.row(3, 1)).intents
    assert run_intent(session, intent).said == "P3 row 1, 2 ends: sound."
    (intent,) = tap_tube(chosen(Key.CONFIRM), bench.ref("P2-R02-C02")).intents
    run_intent(session, intent)
    assert bench.state(session, "P2-R02-C02") is State.PLUGGED
    (intent,) = tap_tube(KeyState(), ref).intents
    outcome = run_intent(session, intent)
    assert (outcome.said, outcome.changed) == ("Choose a state, then tap the tubes.", frozenset())
