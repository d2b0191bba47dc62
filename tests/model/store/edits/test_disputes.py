"""Settling several ends at once, and withdrawing: who may, of what kinds, and how it is named.

Not here: what a settle does to a state (``tests/model/condition/test_scenarios``).
"""

import pytest

from model.errors import RecordRefused, StoreRefused
from model.record.words import End, LeakAt, State
from model.store.edits.disputes import Verdict, settle, withdraw
from model.store.edits.entries import Entry
from model.store.edits.inspections import SignOff, close_inspection, sign_off
from model.store.edits.people import join_persons, persons
from tests.model.store.edits.one_boiler import ADA, BEN, CHIEF


def verdict(state=State.SOUND, **more):
    given = {"leak_at": None, "plug": None, "why": "dried", "source": "looked-again"}
    return Verdict(state=state, **{**given, **more})


def settle_ends(desk, key, ends, said, by=CHIEF):
    return settle(desk.store, *desk.latest(), desk.holes[key], ends, said, by)


@pytest.fixture
def disputed(opened):
    """Both ends of tube a: Ada says sound, Ben says leaking."""
    for end in ("front", "rear"):
        opened.enter(
            opened.mark("a", "sound", end),
            opened.mark("a", "leaking", end, by=BEN, leak_at="bore"),
        )
    return opened


# ------------------------------------------------------------------ settle


def test_several_ends_are_settled_at_once_weighing_every_opinion(disputed):
    assert disputed.found("a").disputed
    assert settle_ends(disputed, "a", list(End), verdict()) == 4
    for end in End:
        found = disputed.found("a", end)
        assert (found.state, found.disputed, found.settled) == ("sound", False, True)
    assert len(disputed.live("observation")) == 4


def test_a_settle_says_where_it_leaks_and_what_plug(disputed):
    settle_ends(disputed, "a", [End.FRONT], verdict(State.LEAKING, leak_at=LeakAt.JOINT))
    plug = {"type": "cap", "condition": "weeping", "vented": False}
    settle_ends(disputed, "a", [End.REAR], verdict(State.PLUGGED, plug=plug))
    assert disputed.found("a").leak_at == "joint"
    assert disputed.found("a", End.REAR).plug.condition == "weeping"


def test_an_earlier_settle_is_weighed_by_the_next(disputed):
    settle_ends(disputed, "a", [End.FRONT], verdict())
    assert settle_ends(disputed, "a", [End.FRONT], verdict(State.THINNED)) == 1
    assert (disputed.found("a").state, disputed.found("a").disputed) == ("thinned", False)


def test_a_settle_without_a_why_leaves_nothing(disputed):
    before = disputed.count()
    with pytest.raises(RecordRefused, match=r"This settle cannot be recorded: .*why"):
        settle_ends(disputed, "a", list(End), verdict(why=""), by="Somebody New")
    assert disputed.count() == before


# ------------------------------------------------------------------ withdraw


def only(desk, kind):
    (record,) = desk.live(kind)
    return record


def test_a_withdrawn_settle_brings_the_dispute_back(disputed):
    settle_ends(disputed, "a", [End.FRONT], verdict())
    withdraw(disputed.store, only(disputed, "settle").id[:8], BEN, "not dry at all")
    assert disputed.found("a").disputed


def test_an_author_withdraws_their_own_and_gets_the_record_back(opened):
    opened.enter(opened.mark("a", "sound"))
    mark = only(opened, "observation")
    assert withdraw(opened.store, mark.id[:10], ADA, "wrong row") == mark
    assert opened.live("observation") == []
    assert opened.found("a").state is None


@pytest.mark.parametrize("kind", ["observation", "reading", "work", "part", "test_run"])
def test_nobody_else_may_withdraw_what_somebody_saw_measured_or_did(opened, kind):
    entries = {
        "observation": opened.mark("a", "sound"),
        "reading": opened.reading("a", 2.4),
        "work": opened.work("a", "plug"),
        "part": Entry(
            kind="part", by=ADA,
            body={"inspection": opened.inspection, "part": "furnace", "side": "fire",
                  "grade": "note", "where": {"holes": [], "text": "crown"}},
        ),
        "test_run": Entry(
            kind="test_run", by=ADA,
            body={"inspection": opened.inspection, "pressure_mpa": 1.0, "medium": "water"},
        ),
    }  # fmt: skip
    opened.enter(entries[kind])
    before = opened.count()
    with pytest.raises(StoreRefused, match="was made by Ada Lind, and only they may withdraw it"):
        withdraw(opened.store, only(opened, kind).id, "Somebody New", "I think not")
    assert opened.count() == before
    withdraw(opened.store, only(opened, kind).id, ADA, "a slip")
    assert opened.live(kind) == []


def test_anyone_may_withdraw_what_comes_from_documents(opened):
    opened.enter(
        Entry(kind="event", body={"what": "leak", "date": "2019", "count": 1}, by=ADA),
        Entry(kind="cause", by=ADA,
              body={"inspection": opened.inspection, "group": "all", "side": "water"}),
    )  # fmt: skip
    close_inspection(opened.store, *opened.latest(), ADA)
    for kind in ("event", "cause", "close", "settings", "inspection"):
        withdraw(opened.store, only(opened, kind).id, BEN, "read wrongly")
        assert opened.live(kind) == []


def test_a_sign_off_and_a_withdrawal_cannot_be_withdrawn(opened):
    sign_off(opened.store, *opened.latest(), SignOff(name=CHIEF, role="supervisor"))
    with pytest.raises(StoreRefused, match="A sign-off cannot be withdrawn; add a new record"):
        withdraw(opened.store, only(opened, "sign_off").id, CHIEF, "no")
    opened.enter(opened.mark("a", "sound"))
    withdraw(opened.store, only(opened, "observation").id, ADA, "a slip")
    with pytest.raises(StoreRefused, match="A withdraw cannot be withdrawn"):
        withdraw(opened.store, only(opened, "withdraw").id, ADA, "no slip")


def test_a_record_that_is_dead_already_is_not_withdrawn_again(opened):
    opened.enter(opened.mark("a", "sound"))
    first = only(opened, "observation")
    opened.enter(opened.mark("a", "thinned"))
    with pytest.raises(StoreRefused, match="was superseded or withdrawn already"):
        withdraw(opened.store, first.id, ADA, "a slip")


def test_a_join_of_persons_may_be_withdrawn_by_anyone_once(opened, store):
    opened.enter(opened.mark("a", "sound"), opened.mark("b", "sound", by=BEN))
    known = {name: person for person, name in persons(store).items()}
    join_persons(store, known[ADA], known[BEN], CHIEF)
    (raw,) = store.rows("SELECT id FROM record WHERE kind = 'same'")
    same = raw[0].hex()
    withdraw(store, same, BEN, "two people after all")
    assert {ADA, BEN} <= set(persons(store).values())
    with pytest.raises(StoreRefused, match="was superseded or withdrawn already"):
        withdraw(store, same, BEN, "again")


def test_an_author_may_withdraw_under_another_name_they_were_joined_with(opened, store):
    opened.enter(opened.mark("a", "sound", by="A. Lind"), opened.mark("b", "sound", by=ADA))
    known = {name: person for person, name in persons(store).items()}
    join_persons(store, known["A. Lind"], known[ADA], CHIEF)
    for record in opened.live("observation"):
        withdraw(store, record.id, ADA, "a slip")
    assert opened.live("observation") == []


@pytest.mark.parametrize("prefix", ["", "0", "zzzz", "'; --", "%", "____"])
def test_an_id_that_fits_no_record_or_is_too_short_is_refused(opened, prefix):
    with pytest.raises(StoreRefused, match="give at least 4 characters that fit one record"):
        withdraw(opened.store, prefix, ADA, "a slip")


def test_a_withdrawal_says_why_or_is_refused(opened):
    opened.enter(opened.mark("a", "sound"))
    before = opened.count()
    with pytest.raises(RecordRefused, match=r"This withdraw cannot be recorded: .*why"):
        withdraw(opened.store, only(opened, "observation").id, ADA, "")
    assert opened.count() == before
