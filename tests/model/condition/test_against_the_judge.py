"""Random record sets: the fold agrees with the judge, needs no order, and a look cannot be lowered.

Not here: the named scenarios, and faults planted on purpose.
"""

from hypothesis import assume, given
from hypothesis import strategies as st

from model.condition.fold import fold_boiler
from model.condition.tubes import folded_state
from model.record.words import State
from tests.model.condition.against_the_judge import disagreements
from tests.model.condition.journal import BOILER, entity
from tests.model.condition.judge import judge, tube_state, who_marked
from tests.model.condition.record_sets import (
    OTHER_BOILER,
    PEOPLE,
    add_record,
    record_sets,
    seeded_records,
)

WORST_FIRST = list(State)
LOOKS = ("seen", "paper", "by-row")


@given(record_sets())
def test_the_fold_agrees_with_the_judge(records):
    assert disagreements(records) == []


@given(record_sets())
def test_the_fold_agrees_with_the_judge_on_the_other_boiler_too(records):
    assert disagreements(records, boiler=OTHER_BOILER) == []


def test_the_fold_agrees_with_the_judge_on_a_thousand_quick_sets():
    differing = {
        seed: found for seed in range(1000) if (found := disagreements(seeded_records(seed)))
    }
    assert differing == {}


def test_the_quick_sets_do_bring_about_what_the_rules_are_for():
    """A comparison over sets in which nothing happens would prove nothing."""
    happened = set()
    for seed in range(300):
        for one in judge(seeded_records(seed), BOILER).inspections:
            for key, end in one.found.items():
                left = one.left[key]
                happened |= {f"found {end.state}", f"how {end.how}", f"leak {end.leak_at}"}
                happened |= {f"left {left.state}", f"plug {end.plug}"}
                happened |= {"disputed"} if end.disputed else set()
                happened |= {"disputed as left"} if left.disputed and not end.disputed else set()
                happened |= {f"carried {end.state}"} if end.carried else set()
                happened |= {"cleared"} if end.state and not left.state else set()
            happened |= {f"life {number}" for number in one.lives_left.values()}
            happened |= {"undated"} if one.date is None else set()
    states = ("split", "leaking", "plugged", "thinned")
    assert happened >= {f"carried {state}" for state in states}
    assert happened >= {f"found {state}" for state in (*states, "sound", None)}
    assert happened >= {f"left {state}" for state in (*states, "sound", None)}
    assert happened >= {f"how {how}" for how in (*LOOKS, "filled", None)}
    assert happened >= {f"leak {place}" for place in ("bore", "ligament", "not-found", "joint")}
    assert happened >= {f"plug {worn}" for worn in ("missing", "burned", "weeping", "tight", None)}
    assert happened >= {"disputed", "disputed as left", "cleared", "undated"}
    assert happened >= {"life 1", "life 2", "life 3"}


@given(record_sets(), st.randoms(use_true_random=False))
def test_any_order_and_any_doubling_gives_the_same(records, chance):
    shuffled = records + [chance.choice(records) for _ in records if records]
    chance.shuffle(shuffled)
    assert fold_boiler(shuffled, BOILER) == fold_boiler(records, BOILER)


@given(record_sets(), st.randoms(use_true_random=False))
def test_a_union_of_parts_gives_the_same_whatever_overlaps(records, chance):
    mine = [record for record in records if chance.random() < 0.6]
    theirs = [record for record in records if record not in mine or chance.random() < 0.3]
    assert fold_boiler([*theirs, *mine], BOILER) == fold_boiler([*mine, *theirs], BOILER)
    assert fold_boiler([*mine, *theirs], BOILER) == fold_boiler(records, BOILER)


@given(record_sets(), st.data())
def test_no_mark_reading_work_or_withdrawal_by_another_lowers_a_look(records, data):
    records = [r for r in records if r.kind != "same" or r.body["what"] != "person"]
    person = data.draw(st.sampled_from((*PEOPLE, entity("stranger"))))
    kind = data.draw(st.sampled_from(("observation", "reading", "work", "event", "withdraw")))
    late = add_record(records, lambda some: data.draw(st.sampled_from(some)), kind, person)
    kinds = {record.id: record.kind for record in records}
    # Withdrawing a settle, a `same` or a document is another matter.
    may_be_named = {"observation", "reading", "work", "event"}
    assume(kind != "withdraw" or {kinds[old] for old in late.supersedes} <= may_be_named)
    authors = who_marked(records, BOILER)
    before, after = looked_at(records), looked_at([*records, late])
    for slot, state in before.items():
        if person in authors.get(slot, ()):
            continue  # a mark of their own, which they may correct
        assert slot in after, f"{slot} was looked at as {state} and is not any more"
        assert WORST_FIRST.index(after[slot]) <= WORST_FIRST.index(state), slot


def looked_at(records):
    """{slot: state} of the ends that somebody looked at."""
    return {
        (*key, one.facts.inspection): end.state
        for one in fold_boiler(records, BOILER).inspections
        for key, end in one.found.items()
        if end.is_looked_at
    }


@given(st.lists(st.sampled_from((*State, None)), min_size=2, max_size=2))
def test_the_tube_is_plugged_if_either_end_is_and_otherwise_its_worse_end(ends):
    assert folded_state(*ends) == tube_state(ends)
