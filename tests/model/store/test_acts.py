"""Acts from the journal: what was done, taken back and done again."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.record.ids import is_entity_id
from model.store.edits.acts import (
    MOST_ACTS,
    Act,
    ActStacks,
    act_named_by,
    counterpart,
    stacks_from_records,
    why_with_act,
)
from tests.model.condition.journal import Journal, entity

HOLE = entity("hole")
A, B, C = entity("acta"), entity("actb"), entity("actc")


@given(st.text("abcdefghijklmnopqrstuvwxyz234567", min_size=13, max_size=13))
def test_the_counterpart_is_another_id_and_its_counterpart_is_the_act(act):
    assert is_entity_id(counterpart(act))
    assert counterpart(act) != act
    assert counterpart(counterpart(act)) == act


class Person:
    """One person's marks of one end, act by act."""

    def __init__(self):
        self.journal = Journal()
        self.last = None

    def states(self, state, act):
        names = [] if self.last is None else [self.last]
        self.last = self.journal.looks(state, hole=HOLE, names=names, act=act)

    def withdraws(self, act):
        self.journal.add("withdraw", {"why": why_with_act("taken back", act)}, names=[self.last])
        self.last = None

    def stacks(self):
        stacks = stacks_from_records(self.journal.records)
        return [each.act for each in stacks.done], [each.act for each in stacks.undone]


@pytest.fixture
def person():
    return Person()


def test_what_was_done_can_be_taken_back_newest_first(person):
    person.states("sound", A)
    person.states("split", B)
    assert person.stacks() == ([A, B], [])
    person.states("sound", counterpart(B))
    assert person.stacks() == ([A], [B])
    person.withdraws(counterpart(A))
    assert person.stacks() == ([], [B, A])
    person.states("sound", A)
    assert person.stacks() == ([A], [B])
    person.states("split", C)
    assert person.stacks() == ([A, C], [])


def test_a_mark_that_came_in_otherwise_is_no_act(person):
    person.states("sound", None)
    person.journal.add("withdraw", {"why": "a slip"}, names=[person.last])
    assert person.stacks() == ([], [])
    assert [act_named_by(record) for record in person.journal.records] == [None, None]


def test_steps_say_what_stood_before_and_after(person):
    person.states("sound", A)
    person.states("split", B)
    (first,), (second,) = [act.steps for act in stacks_from_records(person.journal.records).done]
    assert (first.before, first.after["state"]) == (None, "sound")
    assert (second.before["state"], second.after["state"]) == ("sound", "split")
    assert second.ref.hole == HOLE


def test_acts_passed_over_because_nothing_of_them_stood_are_gone(person):
    person.states("sound", A)
    person.states("split", B)
    person.withdraws(counterpart(A))
    assert person.stacks() == ([], [A])


def test_only_the_last_acts_are_kept(person):
    letters = "abcdefghijklmnop"  # the first half of the alphabet: no act is another's counterpart
    acts = [f"{a}{b}{'2' * 11}" for a in letters for b in letters]
    for place, act in enumerate(acts):
        person.states(("sound", "split")[place % 2], act)
    done, undone = person.stacks()
    assert (done, undone) == (acts[-MOST_ACTS:], [])
    stacks = ActStacks()
    for act in acts:
        stacks = stacks.with_act(Act(act=act, steps=()))
    assert [each.act for each in stacks.done] == done
