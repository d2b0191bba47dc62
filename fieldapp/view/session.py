"""A person recording an inspection: every method is one committed transaction and says what came.

Lives on the thread that owns the store. Not here: what a touch means (``key_state``), what each
screen shows.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from fieldapp.intake.image_file import image_facts
from fieldapp.view import mark_plans as plans
from fieldapp.view import outcome as kinds
from fieldapp.view.bulk_marks import (
    FILLABLE,
    FillPlan,
    RowLeft,
    plan_fill,
    reason_steps,
    row_steps,
    say_reason,
)
from fieldapp.view.mark_words import say_act, say_count, say_place
from fieldapp.view.moving import MovePlan, Shift, Span, plan_move
from fieldapp.view.outcome import Outcome
from fieldapp.view.override_words import Before, found_before, say_overridden
from fieldapp.view.readings import ReadingEntry, reading_body, reading_questions, say_reading
from fieldapp.view.tube_history import WallContext, pass_rates_mm_per_year, wall_context
from model.condition.boiler_facts import BoilerFacts
from model.condition.open_inspection import OpenInspection
from model.condition.tubes import TubeCondition
from model.record.line import utc_text
from model.record.words import How, LeakAt, Purpose, Reason, State
from model.store.edits.acts import Act, ActStacks, EndRef, Step, stacks_from_records
from model.store.edits.inspections import close_inspection
from model.store.edits.marks import (
    Done,
    Planner,
    commit_steps,
    move_marks,
    redo,
    undo,
)
from model.store.edits.people import person_for
from model.store.hole_history import holes_measured_below, load_holes
from model.store.present import PresentInspection
from model.store.queries import find_records_by_prefix
from model.store.store import Store
from model.wall.retirement import facts_with_retirement

_MARKED = frozenset((kinds.MARKS, kinds.COVERAGE, kinds.UNDO))
_TAKEN_BACK = {"reading": kinds.READINGS, "photo": kinds.PHOTOS}


class InspectionSession:
    """One inspection of one boiler, recorded by one person at a time."""

    def __init__(self, store: Store, boiler_id: str, inspection_id: str, person_id: str) -> None:
        """Raises StoreRefused when there is no such boiler or inspection."""
        self.store = store
        self.present = PresentInspection(store, boiler_id, inspection_id)
        self.person = person_id
        self._before: Before = {}
        self._pass_rates: Mapping[int, float] | None = None
        self._stacks: dict[str, ActStacks] = {person_id: self._acts_so_far()}

    @property
    def facts(self) -> BoilerFacts:
        return facts_with_retirement(self.present.open.boiler)

    @property
    def person_name(self) -> str:
        return self.present.name_of(self.person)

    def condition(self, hole: str) -> TubeCondition:
        return self.present.open.condition(hole)

    def look(self) -> Outcome:
        """Everything as it stands, without doing anything: for the first drawing."""
        self.present.catch_up()
        self.present.changed_holes()
        every = {each.hole: each for each in self.present.open.conditions()}
        return self._outcome(frozenset((kinds.EVERYTHING,)), "", holes=every)

    def refresh(self) -> Outcome:
        """What others wrote meanwhile."""
        self.present.catch_up()
        return self._outcome(frozenset(), "")

    def mark(self, refs: Sequence[EndRef], stated: Mapping[str, Any]) -> Outcome:
        """State the same of each end, seen one by one."""
        full = {"how": str(How.SEEN), **stated}
        done = self._commit(plans.stating_each([(ref, full) for ref in refs], self.person))
        return self._marked(done, "Already marked so.")

    def mark_row(self, refs: Sequence[EndRef], stated: Mapping[str, Any]) -> Outcome:
        """State the same of ends dragged along or called as a range, but where more is known."""
        left = RowLeft(ends=[])
        plan = row_steps(refs, {**stated, "how": str(How.BY_ROW)}, self.person, left)
        done = self._commit(plan)
        return self._marked(done, "Nothing to mark there.", left.words(self.present.open))

    def confirm_carried(self, refs: Sequence[EndRef]) -> Outcome:
        """State, as seen today, what each end brings from last time."""
        done = self._commit(plans.confirming(refs, self.person))
        nothing = "Nothing is carried there from last time: choose a state."
        return self._marked(done, nothing, suffix=" confirmed")

    def plan_fill(self, refs: Sequence[EndRef]) -> FillPlan:
        """What ``fill_rest`` would do, for the question before it."""
        self.present.catch_up()
        return plan_fill(self.present.open, refs)

    def fill_rest(self, refs: Sequence[EndRef], state: State) -> Outcome:
        """Fill in the ends of which nothing is known; they do not count as looked at."""
        if state not in FILLABLE:
            return self._nothing(f"Only sound and thinned can be filled in: mark what is {state}.")
        stated = {"state": str(state), "how": str(How.FILLED)}
        left: list[str] = []

        def plan(inspection: OpenInspection) -> list[Step]:
            planned = plan_fill(inspection, refs)
            left[:] = [planned.left_words()]
            return plans.stating_each([(ref, stated) for ref in planned.fills], self.person)(
                inspection
            )

        done = self._commit(plan)
        return self._marked(done, "Nothing is left to fill in.", *left)

    def set_not_inspected(self, refs: Sequence[EndRef], reason: Reason) -> Outcome:
        """Say why ends are not inspected; of several, those somebody looked at are left alone."""
        done = self._commit(reason_steps(refs, reason, self.person))
        return self._marked(done, f"Nothing there to set to {say_reason(reason)}.")

    def set_leak_place(
        self, refs: Sequence[EndRef], leak_at: LeakAt, leak_at_mm: float | None = None
    ) -> Outcome:
        """Say where own leaking ends leak."""
        done = self._commit(plans.placing_leaks(refs, leak_at, leak_at_mm, self.person))
        return self._marked(done, "You have marked no new leak there.")

    def add_finding(self, ref: EndRef, finding: Mapping[str, Any]) -> Outcome:
        """Add a finding to what the person states of an end; the state stays."""
        return self._marked(self._commit(plans.adding_finding(ref, finding, self.person)), "")

    def remove_finding(self, ref: EndRef, place: int) -> Outcome:
        """Take an own finding back, by its place among the person's own of that end."""
        done = self._commit(plans.removing_finding(ref, place, self.person))
        return self._marked(done, "That finding is not yours, or is gone.")

    def set_note(self, ref: EndRef, note: str) -> Outcome:
        """The person's note about an end."""
        done = self._commit(plans.noting(ref, note, self.person))
        return self._marked(done, "The note says that already.")

    def undo(self) -> Outcome:
        """Take the person's last gesture back, as far as it still stands."""
        while self.acts.done:
            act = self.acts.done[-1]
            done = undo(self.present, act, self.person)
            self._stacks[self.person] = self.acts.without_last(undone=done is not None)
            if done is not None:
                return self._again(act, done, "Taken back: ")
        return self._nothing("There is nothing to take back.")

    def redo(self) -> Outcome:
        """Do again what was taken back, where nothing was marked anew since."""
        while self.acts.undone:
            act = self.acts.undone[-1]
            done = redo(self.present, act, self.person)
            self._stacks[self.person] = self.acts.without_last_undone(redone=done is not None)
            if done is not None:
                return self._again(act, done, "Done again: ")
        return self._nothing("There is nothing to do again.")

    def plan_move(self, span: Span, shift: Shift) -> MovePlan:
        """What ``move`` would do, for the question before it."""
        self.present.catch_up()
        faces = self.facts.faces
        name_of = self.present.name_of
        return plan_move(self.present.open, faces, span, shift, self.person, name_of)

    def move(self, span: Span, shift: Shift) -> Outcome:
        """Move the person's marks of a span, but for those that would hide what must stand."""
        plan = self.plan_move(span, shift)
        if plan.refused is not None:
            return self._nothing(plan.refused)
        self._before = {}
        done = move_marks(self.present, plan.moves, self.person)
        return self._marked(done, "The marks are there already.", plan.left_words())

    def wall_context(self, hole: str, purpose: Purpose = Purpose.PLANNED) -> WallContext:
        """What a wall typed for this tube is held against."""
        inspection = self.present.open
        return wall_context(
            load_holes(self.store, inspection.boiler, [hole]),
            self.facts,
            inspection.facts.inspection,
            hole,
            as_left=purpose is Purpose.BASELINE,
            usual_rates=self._rates(),
        )

    def _rates(self) -> Mapping[int, float]:
        """The usual rate of each pass; worked out once, for a late record hardly moves a median."""
        if self._pass_rates is None:
            inspection = self.present.open
            measured = holes_measured_below(self.store, inspection.boiler, math.inf)
            self._pass_rates = pass_rates_mm_per_year(
                load_holes(self.store, inspection.boiler, measured),
                self.facts,
                inspection.facts.inspection,
            )
        return self._pass_rates

    def check_reading(self, entry: ReadingEntry) -> tuple[str, ...]:
        """Questions to ask before a reading is recorded; none when it is plausible."""
        return reading_questions(entry, self.wall_context(entry.hole, entry.purpose))

    def record_reading(self, entry: ReadingEntry) -> Outcome:
        """Record a wall; an implausible one only once the person has confirmed it."""
        questions = () if entry.confirmed else self.check_reading(entry)
        if questions:
            return self._nothing(" ".join(questions))
        self._append("reading", reading_body(entry, self.present.open.facts.inspection))
        words = f"{self._place(entry.hole, entry.tube)}: {say_reading(entry)}."
        return self._outcome(frozenset((kinds.READINGS,)), words)

    def last_reading(self) -> Mapping[str, Any] | None:
        """The person's last reading: its instrument and method are offered for the next."""
        last = self.present.open.latest_by(self.person, "reading")
        return None if last is None else last.body

    def add_photo(self, data: bytes, name: str, ref: EndRef, caption: str = "") -> Outcome:
        """Keep a picture and record that it shows this end. IntakeRefused when it is none."""
        facts = image_facts(data, name)
        sha256 = self.store.photos.add(data, facts.media)
        about = {"what": "tube", "hole": ref.hole, "end": str(ref.end), "key": None}
        body = {
            "inspection": self.present.open.facts.inspection,
            "about": about,
            "sha256": sha256,
            "bytes": facts.bytes,
            "media": facts.media,
            "caption": caption,
            "taken_at": facts.taken_at,
        }
        self._append("photo", body)
        words = f"{self._place(ref.hole, ref.tube)}: photo kept."
        return self._outcome(frozenset((kinds.PHOTOS,)), words)

    def take_back_record(self, record_id: str) -> Outcome:
        """Withdraw an own reading or photo."""
        found = find_records_by_prefix(self.store, record_id)
        record = found[0] if len(found) == 1 else None
        if record is None or record.kind not in _TAKEN_BACK:
            return self._nothing("Only a reading or a photo can be taken back here.")
        person_class = self.present.open.person_class
        if person_class(record.by) != person_class(self.person):
            name = self.present.name_of(record.by)
            return self._nothing(f"That {record.kind} is {name}'s: ask {name} to take it back.")
        self._append("withdraw", {"why": "taken back"}, supersedes=(record.id,))
        words = f"The {record.kind} is taken back."
        return self._outcome(frozenset((_TAKEN_BACK[record.kind],)), words)

    def switch_person(self, name: str) -> Outcome:
        """Go on as somebody else, named or by id; a new name makes a person."""
        with self.store.write() as writer:
            self.person = person_for(writer, self.store, name)
        self.present.catch_up()
        self._stacks.setdefault(self.person, self._acts_so_far())
        changed = frozenset((kinds.PERSON, kinds.UNDO))
        return self._outcome(changed, f"{self.person_name} is inspecting.")

    def close(self) -> Outcome:
        """Close the inspection; late marks are still taken, and show as after closing."""
        self.present.catch_up()
        boiler, inspection = self.present.open.boiler, self.present.as_loaded
        close_inspection(self.store, boiler, inspection, self.person)
        self.present.catch_up()
        return self._outcome(frozenset((kinds.INSPECTION,)), "The inspection is closed.")

    @property
    def now_text(self) -> str:
        """The present moment as records hold it, to choose marks made since."""
        return utc_text(self.store.surroundings.clock())

    @property
    def acts(self) -> ActStacks:
        """What the person can take back and do again."""
        return self._stacks[self.person]

    def _acts_so_far(self) -> ActStacks:
        """From the journal, so that a killed tablet can still take its last gesture back."""
        origin = self.store.origin
        if origin is None:
            return ActStacks()
        return stacks_from_records(self.present.open.records_by(self.person, origin))

    def _commit(self, plan: Planner) -> Done | None:
        """Commit what is planned, and keep how its ends stood before, for what is said of it."""

        def planned(inspection: OpenInspection) -> Sequence[Step]:
            steps = plan(inspection)
            self._before = found_before(inspection, steps)
            return steps

        return commit_steps(self.present, planned, self.person)

    def _append(self, kind: str, body: Mapping[str, Any], supersedes: Sequence[str] = ()) -> None:
        boiler = self.present.open.boiler.boiler
        with self.store.write() as writer:
            writer.append(kind, body, boiler=boiler, by=self.person, supersedes=supersedes)
        self.present.catch_up()

    def _marked(
        self, done: Done | None, nothing: str, more: str = "", *, suffix: str = ""
    ) -> Outcome:
        if done is None:
            return self._nothing(f"{nothing}{more}")
        self._stacks[self.person] = self.acts.with_act(done.act)
        name_of = self.present.name_of
        replaced = say_overridden(
            self.present.open, done.act.steps, self._before, self.person, name_of
        )
        remarks = f"{replaced}.{more}"
        said = f"{self._words(done.act)}{suffix}{remarks}"
        return replace(self._outcome(_MARKED, said), remarks=remarks)

    def _again(self, act: Act, done: Done, prefix: str) -> Outcome:
        left = done.left_alone
        more = f" {say_count(left, 'end')} left alone: marked anew since." if left else ""
        return self._outcome(_MARKED, f"{prefix}{self._words(act)}.{more}")

    def _place(self, hole: str, key: str) -> str:
        tube = self.present.open.tube(hole)
        return key if tube is None else say_place(tube)

    def _words(self, act: Act) -> str:
        return say_act(act, self.present.open.tube)

    def _nothing(self, said: str) -> Outcome:
        return self._outcome(frozenset(), said)

    def _outcome(
        self,
        changed: frozenset[str],
        said: str,
        holes: Mapping[str, TubeCondition] | None = None,
    ) -> Outcome:
        touched = self.present.changed_holes()
        if holes is None and touched is None:
            changed |= {kinds.EVERYTHING}
            holes = {each.hole: each for each in self.present.open.conditions()}
        elif holes is None and touched is not None:
            changed |= {kinds.MARKS, kinds.COVERAGE} if touched else frozenset()
            holes = {hole: self.condition(hole) for hole in touched}
        stacks = self.acts
        return Outcome(
            changed=changed,
            holes=holes or {},
            tally=self.present.open.tally,
            saved=self.present.open.record_count,
            undo_words=self._words(stacks.done[-1]) if stacks.done else None,
            redo_words=self._words(stacks.undone[-1]) if stacks.undone else None,
            said=said,
        )
