"""Whatever is done in whatever order, the journal, the full fold and the sessions agree."""

import tempfile
from collections import Counter
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from fieldapp.view.moving import Shift, Span
from fieldapp.view.readings import ReadingEntry
from fieldapp.view.session import InspectionSession
from model.condition.counts import as_left, count_boiler
from model.condition.coverage import count_coverage
from model.condition.tubes import WallConcerns, tube_conditions
from model.record.line import read_line
from model.record.words import Does, End, LeakAt, Purpose, Reason, State
from model.store.edits.entries import Entry, record_entries
from model.store.loading import load_boiler
from model.store.queries import each_line
from model.tubesheet.layout import default_key
from model.wall.governing import inspection_walls
from tests.fieldapp.view.bench import CARRIED, Bench

KEYS = sorted(
    default_key(pass_, row, column)
    for (pass_, row), count in {(2, 1): 3, (2, 2): 4, (2, 3): 3, (3, 1): 2, (3, 2): 2}.items()
    for column in range(1, count + 1)
)
keys = st.sampled_from(KEYS)
ends = st.sampled_from(["front", "rear"])
states = st.sampled_from([str(state) for state in State])
places = st.sampled_from([(2, 1), (2, 2), (2, 3), (3, 1), (3, 2)])
persons = st.sampled_from(["Ada", "Ben"])
which = st.integers(0, 1)


class Sessions(RuleBasedStateMachine):
    """Two sessions on one database, each now this person's and now that one's."""

    @initialize()
    def open(self):
        self.folder = tempfile.TemporaryDirectory()
        wall = {"retirement": "stated", "stated_mm": 2.0, "basis": "the engineer"}
        self.bench = Bench(
            Path(self.folder.name),
            carried=CARRIED,
            readings=[("P2-R02-C01", 1.7), ("P2-R02-C02", 1.8), ("P2-R01-C01", 2.5)],
            settings={"wall": wall},
        )
        self.sessions = [self.bench.session("Ada"), self.bench.session("Ben")]
        self.lines = list(each_line(self.bench.store))
        self.sessions_of = {session.person: {session} for session in self.sessions}

    def teardown(self):
        if hasattr(self, "bench"):
            self.bench.store.close()
            self.folder.cleanup()

    @rule(at=which, key=keys, end=ends, state=states)
    def mark(self, at, key, end, state):
        self.saw(at, self.sessions[at].mark([self.bench.ref(key, end)], {"state": state}))

    @rule(at=which, place=places, end=ends, state=states)
    def mark_row(self, at, place, end, state):
        session = self.sessions[at]
        session.refresh()
        graver, disputes = _carried_graver(session), _disputed_ends(session)
        self.saw(at, session.mark_row(self.bench.row(*place, end), {"state": state}))
        assert all(_state_of(session, place) == state for place, state in graver.items())
        assert _disputed_ends(session) <= disputes

    @rule(at=which, key=keys, end=ends)
    def confirm(self, at, key, end):
        self.saw(at, self.sessions[at].confirm_carried([self.bench.ref(key, end)]))

    @rule(at=which, place=places, end=ends, state=st.sampled_from([State.SOUND, State.THINNED]))
    def fill(self, at, place, end, state):
        refs = self.bench.row(*place, end)
        session = self.sessions[at]
        plan = session.plan_fill(refs)
        outcome = session.fill_rest(refs, state)
        self.saw(at, outcome)
        assert bool(outcome.changed) == bool(plan.fills)

    @rule(at=which, place=places, end=ends, reason=st.sampled_from(list(Reason)))
    def not_inspected(self, at, place, end, reason):
        self.saw(at, self.sessions[at].set_not_inspected(self.bench.row(*place, end), reason))

    @rule(at=which, key=keys, end=ends, leak_at=st.sampled_from(list(LeakAt)))
    def leak_place(self, at, key, end, leak_at):
        self.saw(at, self.sessions[at].set_leak_place([self.bench.ref(key, end)], leak_at))

    @rule(at=which, key=keys, end=ends, grade=st.sampled_from(["note", "act"]))
    def finding(self, at, key, end, grade):
        finding = {"mechanism": "pitting", "grade": grade}
        self.saw(at, self.sessions[at].add_finding(self.bench.ref(key, end), finding))

    @rule(at=which, key=keys, end=ends, note=st.sampled_from(["", "soot"]))
    def note(self, at, key, end, note):
        self.saw(at, self.sessions[at].set_note(self.bench.ref(key, end), note))

    @rule(
        at=which,
        place=places,
        end=st.none() | ends.map(End),
        shift=st.builds(
            Shift,
            rows=st.integers(-1, 1),
            columns=st.integers(-1, 1),
            mirrored=st.booleans(),
            other_end=st.booleans(),
        ),
    )
    def move(self, at, place, end, shift):
        span = Span(pass_=place[0], first_row=place[1], last_row=place[1], end=end)
        session = self.sessions[at]
        session.refresh()
        before = Counter(_own_states(session))
        graver, disputes = _carried_graver(session), _disputed_ends(session)
        plan = session.plan_move(span, shift)
        outcome = session.move(span, shift)
        self.saw(at, outcome)
        if plan.refused is None and not plan.replaced and outcome.changed:
            assert Counter(_own_states(session)) == before
        assert all(_state_of(session, place) == state for place, state in graver.items())
        assert _disputed_ends(session) <= disputes

    @rule(
        at=which,
        key=keys,
        wall_mm=st.sampled_from([1.5, 1.95, 2.4]),
        purpose=st.sampled_from([Purpose.PLANNED, Purpose.BASELINE]),
    )
    def reading(self, at, key, wall_mm, purpose):
        hole = self.bench.tubes[key].hole
        entry = ReadingEntry(hole=hole, tube=key, wall_mm=wall_mm, purpose=purpose, confirmed=True)
        self.saw(at, self.sessions[at].record_reading(entry))

    @rule(at=which, key=keys)
    def reading_taken_back(self, at, key):
        session = self.sessions[at]
        for reading in session.present.open.live_of(self.bench.tubes[key].hole, "reading")[:1]:
            self.saw(at, session.take_back_record(reading.id))

    @rule(at=which)
    def undo(self, at):
        self.saw(at, self.sessions[at].undo())

    @rule(at=which)
    def redo(self, at):
        self.saw(at, self.sessions[at].redo())

    @rule(at=which, name=persons)
    def switch(self, at, name):
        self.saw(at, self.sessions[at].switch_person(name))

    @rule(at=which)
    def killed_and_opened_again(self, at):
        old = self.sessions[at]
        old.refresh()
        new = InspectionSession(
            self.bench.store, self.bench.boiler, self.bench.inspection, old.person
        )
        assert new.look().tally == old.look().tally
        if self.sessions_of[old.person] == {old}:
            # Where a person used both sessions, neither knew the other's gestures.
            assert new.acts == old.acts
            self.sessions_of[old.person] = {new}
        self.sessions[at] = new

    @rule(
        key=keys, does=st.sampled_from([Does.PLUG, Does.RE_ROLL, Does.REPLACE]), gap=st.booleans()
    )
    def somebody_works(self, key, does, gap):
        when = {"done_on": "2026-01-05"} if gap else {"inspection": self.bench.inspection}
        body = {"hole": self.bench.tubes[key].hole, "does": str(does), **when}
        record_entries(
            self.bench.store, self.bench.boiler, [Entry(kind="work", body=body, by="Cyd")]
        )

    def saw(self, at, outcome):
        """What an operation gives is what the session holds."""
        session = self.sessions[at]
        self.sessions_of.setdefault(session.person, set()).add(session)
        assert all(session.condition(hole) == each for hole, each in outcome.holes.items())
        assert outcome.said or not outcome.changed - {"marks", "coverage", "everything"}

    @invariant()
    @precondition(lambda self: hasattr(self, "bench"))
    def the_journal_only_grows(self):
        lines = list(each_line(self.bench.store))
        assert lines[: len(self.lines)] == self.lines
        self.lines = lines

    @invariant()
    @precondition(lambda self: hasattr(self, "bench"))
    def all_agree(self):
        bench = self.bench
        boiler = load_boiler(bench.store, bench.boiler)
        inspection = boiler.inspections[-1]
        assert inspection.facts.inspection == bench.inspection
        walls = inspection_walls(boiler, inspection, default_wall_mm=3.0, retirement_mm=2.0)
        concerns = WallConcerns(
            below_found=walls.below_as_found(),
            below_left=walls.below_as_left(inspection.renewed),
        )
        expected = tube_conditions(boiler, inspection, concerns)
        totals = count_boiler(expected, as_left, None)
        coverage = count_coverage(expected)
        records = [read_line(line) for line in each_line(bench.store)]
        for session in self.sessions:
            outcome = session.refresh()
            assert session.present.open.conditions() == expected
            tally = outcome.tally
            assert (tally.tubes, tally.plugged, tally.bad) == (
                totals.tubes,
                totals.plugged,
                totals.bad_now,
            )
            assert (tally.disputed, tally.joint_leaks) == (totals.disputed, totals.joint_leaks_only)
            assert tally.scope.ends == coverage.ends
            assert tally.scope.looked_at == coverage.looked_at
            assert tally.scope.filled == coverage.filled
            assert outcome.saved == _count(records, bench.inspection)


def _count(records, inspection):
    """Records that name the inspection, but for its own, and withdrawals of them."""
    kinds = ("inspection", "close", "sign_off")
    named = {
        record.id
        for record in records
        if record.body.get("inspection") == inspection and record.kind not in kinds
    }
    return len(named) + sum(
        record.kind == "withdraw" and bool(named & set(record.supersedes)) for record in records
    )


def _own_states(session):
    for record in session.present.open.live_observations():
        if record.by == session.person:
            yield record.body["state"], record.body["reason"]


def _ends_found(session):
    for tube in session.present.open.conditions():
        for end, found in tube.ends_found.items():
            yield (tube.hole, end), found


def _carried_graver(session):
    """Plugs, leaks and splits of last time of which nobody said anything today."""
    graver = (State.PLUGGED, State.LEAKING, State.SPLIT)
    return {
        place: found.state
        for place, found in _ends_found(session)
        if found.carried and found.state in graver
    }


def _disputed_ends(session):
    return {place for place, found in _ends_found(session) if found.disputed}


def _state_of(session, place):
    hole, end = place
    return session.condition(hole).ends_found[end].state


TestSessions = Sessions.TestCase
TestSessions.settings = settings(max_examples=25, stateful_step_count=30, deadline=None)
