"""An inspection that is being recorded: a new record refolds only the tubes that it touches.

Always equal to folding everything again (a test holds it to that). What the readings say of the
walls is given from outside. Not here: writing records (``model.store.edits.marks``), reading them
and judging walls (``model.store.present``).
"""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from model.condition.classes import Classes, classes_of
from model.condition.coverage import tubes_in_scope
from model.condition.inspection import InspectionRecords, fold_inspection
from model.condition.liveness import live_among
from model.condition.states import (
    CarriedEnd,
    Carry,
    EndFound,
    FoldedBoiler,
    FoldedInspection,
    InspectionFacts,
)
from model.condition.tally import Tally, TallyBook
from model.condition.tubes import TubeCondition, WallConcerns, tube_condition, tube_conditions
from model.record.kinds import understood
from model.record.line import Record
from model.record.words import End, Scope
from model.tubesheet.layout import Tube

_NO_CONCERNS = WallConcerns()
_OF_TUBES = frozenset(("observation", "reading", "settle", "work"))
_OF_INSPECTION = _OF_TUBES | {"part", "photo", "test_run", "cause"}


class OpenInspection:
    """The present inspection of a boiler, kept up to date record by record."""

    def __init__(
        self,
        boiler: FoldedBoiler,
        inspection: FoldedInspection,
        records: Iterable[Record],
        concerns: WallConcerns = _NO_CONCERNS,
    ) -> None:
        """``records``: all that ``inspection`` was folded from, dead ones and withdrawals too.

        Others may be among them.
        """
        self._concerns = concerns
        self.boiler = boiler
        self.facts: InspectionFacts = inspection.facts
        self._carried_in = inspection.carried_in
        tubes = tube_conditions(boiler, inspection, concerns)
        in_scope = tubes_in_scope(tubes, inspection.facts)
        self._in_scope: frozenset[str] = frozenset(each.hole for each in in_scope)
        self._classes: Classes = classes_of(r for r in boiler.live if r.kind == "same")
        self._tube_of: Mapping[str, Tube] = {t.hole: t for t in boiler.tubes if t.hole is not None}
        self._raw: dict[str, dict[str, Record]] = defaultdict(dict)
        """By hole, as they were stored."""
        self._readable: dict[str, tuple[Record, ...]] = {}
        """By hole, complete; worked out when a hole is touched."""
        self._hole_of_record: dict[str, str | None] = {}
        """Every record of this inspection, with the hole that it names."""
        self._withdrawals: dict[str, list[Record]] = defaultdict(list)
        """By the record that they withdraw, which may come after them."""
        self._counted: set[str] = set()
        self._book = TallyBook()
        self._conditions: dict[str, TubeCondition] = {}
        self._file(records)
        for each in tubes:
            self._put(each.hole, each)

    def can_take(self, record: Record) -> bool:
        """Whether ``add`` does justice to a record: it changes nothing but tubes seen today."""
        if record.kind in ("origin", "person"):
            return True
        if record.kind == "withdraw":
            known = all(target in self._hole_of_record for target in record.supersedes)
            return known and not self._moves_scope(*self._filed(record.supersedes))
        if self._moves_scope(record):
            return False
        return record.kind in _OF_INSPECTION and self._is_mine(record)

    def add(self, records: Iterable[Record]) -> frozenset[str]:
        """Take in new records; gives the holes whose tubes may look different now."""
        touched = frozenset(hole for hole in self._file(records) if hole in self._tube_of)
        for hole in touched:
            self._refold(hole)
        return touched

    def judge_walls(self, holes: Iterable[str], concerns: WallConcerns) -> None:
        """Take in what the readings say now of the walls in some holes; of others nothing changes.

        ``concerns`` may speak of these holes only.
        """
        judged = frozenset(self.hole_class(hole) for hole in holes) & self._tube_of.keys()
        old = self._concerns
        self._concerns = WallConcerns(
            below_found=(old.below_found - judged) | concerns.below_found,
            below_left=(old.below_left - judged) | concerns.below_left,
            measured_thin=(old.measured_thin - judged) | concerns.measured_thin,
        )
        for hole in judged:
            self._refold(hole)

    @property
    def tally(self) -> Tally:
        return self._book.tally()

    @property
    def record_count(self) -> int:
        """How many records of what was seen and done the inspection has, withdrawals included."""
        return len(self._counted)

    def hole_class(self, hole: str) -> str:
        return self._classes.hole.name(hole)

    def person_class(self, person: str) -> str:
        return self._classes.person.name(person)

    def tube(self, hole: str) -> Tube | None:
        """The tube in a hole; None when the layout has no such hole, or has retired it."""
        return self._tube_of.get(self.hole_class(hole))

    def condition(self, hole: str) -> TubeCondition:
        """The tube in a hole. KeyError when the layout has no such hole."""
        return self._conditions[self.hole_class(hole)]

    def conditions(self) -> tuple[TubeCondition, ...]:
        """Every tube, in the layout's order."""
        return tuple(self._conditions[tube.hole] for tube in self.boiler.tubes if tube.hole)

    def end_found(self, hole: str, end: End) -> EndFound:
        return self.condition(hole).ends_found[end]

    def carried(self, hole: str, end: End) -> CarriedEnd | None:
        """What the end brought from earlier, whatever was said of it today."""
        return self._carried_in.ends.get((self.hole_class(hole), end))

    def own_live(self, hole: str, end: End, person: str) -> tuple[Record, ...]:
        """The person's own live observations of one end."""
        wanted = self.person_class(person)
        return tuple(
            record
            for record in self._live_of(self.hole_class(hole))
            if record.kind == "observation"
            and record.body["end"] == end
            and self.person_class(record.by) == wanted
        )

    def live_of(self, hole: str, kind: str) -> tuple[Record, ...]:
        """Live records of a kind that name the hole."""
        return tuple(r for r in self._live_of(self.hole_class(hole)) if r.kind == kind)

    def live_observations(self) -> tuple[Record, ...]:
        """Every live observation of the inspection, ordered by time and id."""
        live = (record for hole in self._raw for record in self.live_of(hole, "observation"))
        return tuple(sorted(live, key=lambda record: (record.at, record.seq, record.id)))

    def records_by(self, person: str, origin: str) -> tuple[Record, ...]:
        """Every mark and withdrawal of a person on one tablet, dead ones too, by number."""
        wanted = self.person_class(person)
        own = {
            record.id: record
            for of_hole in self._raw.values()
            for record in of_hole.values()
            if record.origin == origin
            and record.kind in ("observation", "withdraw")
            and self.person_class(record.by) == wanted
        }
        return tuple(sorted(own.values(), key=lambda record: (record.seq, record.id)))

    def latest_by(self, person: str, kind: str) -> Record | None:
        """The last record of a kind about a tube that a person made, dead or not."""
        wanted = self.person_class(person)
        own = (
            record
            for of_hole in self._raw.values()
            for record in of_hole.values()
            if record.kind == kind and self.person_class(record.by) == wanted
        )
        return max(own, key=lambda record: (record.at, record.seq, record.id), default=None)

    def is_in_scope(self, tube: Tube) -> bool:
        return tube.hole in self._in_scope

    def _moves_scope(self, *records: Record) -> bool:
        """Whether they may change which tubes the inspection is to cover: then all is counted."""
        is_after_repair = self.facts.scope is Scope.AFTER_REPAIR
        return is_after_repair and any(record.kind == "work" for record in records)

    def _filed(self, names: Iterable[str]) -> Iterator[Record]:
        """Those of the records that name a hole of this inspection."""
        for name in names:
            filed = self._raw.get(self._hole_of_record.get(name) or "", {})
            if name in filed:
                yield filed[name]

    def _live_of(self, hole: str) -> list[Record]:
        return live_among(self._read(hole), self._classes)

    def _read(self, hole: str) -> tuple[Record, ...]:
        """The records of a hole that this program understands."""
        if hole not in self._readable:
            of_hole = self._raw.get(hole, {}).values()
            self._readable[hole] = tuple(r for each in of_hole if (r := understood(each)))
        return self._readable[hole]

    def _is_mine(self, record: Record) -> bool:
        inspection = record.body.get("inspection")
        if not isinstance(inspection, str):
            return False
        return self._classes.inspection.name(inspection) == self.facts.inspection

    def _file(self, records: Iterable[Record]) -> set[str]:
        """Sort records under their holes, and withdrawals where their targets are."""
        touched: set[str] = set()
        for record in records:
            if record.kind == "withdraw":
                for target in record.supersedes:
                    self._withdrawals[target].append(record)
                    if target in self._hole_of_record:
                        touched |= self._file_under(self._hole_of_record[target], record)
            elif record.kind in _OF_INSPECTION and self._is_mine(record):
                named = record.body.get("hole") if record.kind in _OF_TUBES else None
                hole = self._classes.hole.name(named) if isinstance(named, str) else None
                self._hole_of_record[record.id] = hole
                for filed in (record, *self._withdrawals.get(record.id, ())):
                    touched |= self._file_under(hole, filed)
        return touched

    def _file_under(self, hole: str | None, record: Record) -> set[str]:
        self._counted.add(record.id)
        if hole is None:
            return set()
        self._raw[hole][record.id] = record
        self._readable.pop(hole, None)
        return {hole}

    def _put(self, hole: str, condition: TubeCondition) -> None:
        in_scope = self.is_in_scope(condition.tube)
        before = self._conditions.get(hole)
        if before is not None:
            self._book.take(before, in_scope=in_scope)
        self._book.add(condition, in_scope=in_scope)
        self._conditions[hole] = condition

    def _refold(self, hole: str) -> None:
        tube, concerns = self._tube_of[hole], self._concerns
        self._put(hole, tube_condition(tube, self._fold(hole), concerns))

    def _fold(self, hole: str) -> FoldedInspection:
        readable = self._read(hole)
        live = tuple(live_among(readable, self._classes))
        records = InspectionRecords(facts=self.facts, live=live, readable=readable)
        return fold_inspection(records, self._carry_of(hole), self._classes)

    def _carry_of(self, hole: str) -> Carry:
        carry = self._carried_in
        keys = [(hole, end) for end in End]
        return Carry(
            ends={key: carry.ends[key] for key in keys if key in carry.ends},
            lives={hole: carry.lives[hole]} if hole in carry.lives else {},
            act_findings={
                key: carry.act_findings[key] for key in keys if key in carry.act_findings
            },
            worked_on=carry.worked_on & {hole},
        )
