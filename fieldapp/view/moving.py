"""Marks made from the wrong end or one row off: which would move, where to, and what forbids it.

Only one's own marks move; for another's the person is told whom to ask. A mark that would hide a
plug, leak or split of last time, or contradict what somebody saw there, stays where it is. Pure.
Not here: what must not be hidden (``guard``), committing (``session``).
"""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from fieldapp.view.guard import Held, Holds, held_at
from fieldapp.view.mark_words import say_count, say_place
from model.condition.open_inspection import OpenInspection
from model.record.line import Record
from model.record.words import End, State
from model.store.edits.acts import EndRef, ref_of
from model.tubesheet.faces import Face, Shown
from model.tubesheet.layout import Tube

_MOST_KEYS = 3
_NOUNS = {State.PLUGGED: "plug", State.LEAKING: "leak", State.SPLIT: "split"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """Which marks: every condition that is given must hold."""

    since: str | None = None
    """Made at this time (as records hold it, UTC) or later."""
    acts: frozenset[str] | None = None
    """Made by one of these gestures."""
    pass_: int | None = None
    first_row: int | None = None
    last_row: int | None = None
    end: End | None = None
    face: str | None = None
    """Made at this face."""

    def holds(self, record: Record, tube: Tube) -> bool:
        body = record.body
        return (
            (self.since is None or record.at >= self.since)
            and (self.acts is None or body["act"] in self.acts)
            and (self.pass_ is None or tube.pass_ == self.pass_)
            and (self.first_row is None or tube.row >= self.first_row)
            and (self.last_row is None or tube.row <= self.last_row)
            and (self.end is None or body["end"] == self.end)
            and (self.face is None or body["face"] == self.face)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """Where to: so many rows down and columns to the right (from the front), mirrored, other end.

    Whoever stood at the rear with the front's map before them marked mirrored and at the other end.
    """

    rows: int = 0
    columns: int = 0
    mirrored: bool = False
    other_end: bool = False

    @property
    def is_nothing(self) -> bool:
        return self == Shift()


@dataclass(frozen=True, slots=True, kw_only=True)
class Staying:
    """A mark that stays where it is, because of what stands where it would go."""

    source: EndRef
    target: EndRef
    over: str
    """What it would stand over, in words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MovePlan:
    """What a move would do; ``refused`` says why it cannot be done at all."""

    moves: tuple[tuple[EndRef, EndRef], ...]
    refused: str | None
    others: Mapping[str, int]
    """Marks in the span that are another person's, by name: they stay."""
    replaced: int
    """Own marks outside the span that would be replaced."""
    staying: tuple[Staying, ...] = ()
    """Own marks of the span that would hide something graver or another person's word."""

    @property
    def question(self) -> str:
        """What the person is asked to confirm, or why it cannot be."""
        if self.refused is not None:
            return self.refused
        words = f"Move {say_count(len(self.moves), 'mark')}?"
        if self.replaced:
            words += f" {say_count(self.replaced, 'mark')} of yours in the way would be replaced."
        return words + self.left_words()

    def left_words(self) -> str:
        """What is not moved, and why."""
        return _say_staying(self.staying) + "".join(
            f" {say_count(count, 'mark')} of {name} would stay: ask {name} to move them."
            for name, count in sorted(self.others.items())
        )


def plan_move(
    inspection: OpenInspection,
    faces: Sequence[Face],
    span: Span,
    shift: Shift,
    person: str,
    name_of: Callable[[str], str],
) -> MovePlan:
    """What moving the person's marks of a span would do."""
    own: list[tuple[Record, Tube]] = []
    others: Counter[str] = Counter()
    for record in inspection.live_observations():
        tube = inspection.tube(record.body["hole"])
        if tube is None or not span.holds(record, tube):
            continue
        if inspection.person_class(record.by) == inspection.person_class(person):
            own.append((record, tube))
        else:
            others[name_of(record.by)] += 1
    refused = _refusal(own, shift, others)
    if refused is not None:
        return MovePlan(moves=(), refused=refused, others=others, replaced=0)
    places = _Places(inspection, faces)
    wanted: list[_Wanted] = []
    for record, tube in own:
        target = places.target(record, tube, shift)
        if isinstance(target, str):
            return MovePlan(moves=(), refused=target, others=others, replaced=0)
        said = record.body["state"]
        state = None if said is None else State(said)
        wanted.append(_Wanted(source=ref_of(record), target=target, state=state))
    going, staying = _part(inspection, wanted, person, name_of)
    sources = {_place(inspection, each.source) for each in going}
    replaced = sum(
        _place(inspection, each.target) not in sources
        and bool(inspection.own_live(each.target.hole, each.target.end, person))
        for each in going
    )
    return MovePlan(
        moves=tuple((each.source, each.target) for each in going),
        refused=None if going else f"Nothing can be moved.{_say_staying(staying)}",
        others=others,
        replaced=replaced,
        staying=staying,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wanted:
    """One mark, where it would go, and the state that it states."""

    source: EndRef
    target: EndRef
    state: State | None


def _part(
    inspection: OpenInspection,
    wanted: Sequence[_Wanted],
    person: str,
    name_of: Callable[[str], str],
) -> tuple[list[_Wanted], tuple[Staying, ...]]:
    """Marks that go, and those that stay: a mark that stays keeps the one behind it back too."""
    going = list(wanted)
    staying: list[Staying] = []
    while True:
        leaves = {_place(inspection, each.source) for each in going}
        stays = {_place(inspection, each.source) for each in staying}
        held: list[Staying] = []
        for each in going:
            place = _place(inspection, each.target)
            over = "a mark that stays" if place in stays else None
            if over is None:
                own_goes = place in leaves
                found = held_at(inspection, each.target, each.state, person, own_goes=own_goes)
                over = None if found is None else _say_over(found, name_of)
            if over is not None:
                held.append(Staying(source=each.source, target=each.target, over=over))
        if not held:
            return going, tuple(staying)
        staying += held
        kept = {_place(inspection, each.source) for each in held}
        going = [each for each in going if _place(inspection, each.source) not in kept]


def _place(inspection: OpenInspection, ref: EndRef) -> tuple[str, End]:
    return inspection.hole_class(ref.hole), ref.end


def _say_over(held: Held, name_of: Callable[[str], str]) -> str:
    if held.by is Holds.CARRIED:
        return f"a {_NOUNS[held.state]} of last time"
    if held.by is Holds.ANOTHER:
        return f"a mark of {name_of(held.person or '')}"
    return "another mark of yours"


def _say_staying(staying: Sequence[Staying]) -> str:
    """`` 1 would stand over a leak of last time: P2-R03-C05. It stays where it is.``"""
    by_reason: dict[str, list[str]] = {}
    for each in staying:
        by_reason.setdefault(each.over, []).append(each.target.tube)
    said = "".join(
        f" {len(keys)} would stand over {over}: {_say_some(sorted(keys))}."
        for over, keys in sorted(by_reason.items())
    )
    if not staying:
        return ""
    return said + (" It stays where it is." if len(staying) == 1 else " They stay where they are.")


def _say_some(keys: Sequence[str]) -> str:
    more = len(keys) - _MOST_KEYS
    return ", ".join(keys[:_MOST_KEYS]) + (f" and {more} more" if more > 0 else "")


def _refusal(
    own: Sequence[tuple[Record, Tube]], shift: Shift, others: Mapping[str, int]
) -> str | None:
    if shift.is_nothing:
        return "Say where to: rows, columns, mirrored or the other end."
    if own:
        return None
    if others:
        names = " and ".join(sorted(others))
        return f"None of these marks is yours: ask {names} to move them."
    return "There are no marks there to move."


class _Places:
    """Finds the tube that stands where a mark belongs."""

    def __init__(self, inspection: OpenInspection, faces: Sequence[Face]) -> None:
        self._faces = faces
        self._tubes: dict[tuple[int, int, int], Tube] = {}
        self._columns: dict[tuple[int, int], list[int]] = {}
        for tube in inspection.boiler.tubes:
            self._tubes[tube.pass_, tube.row, tube.column] = tube
            self._columns.setdefault((tube.pass_, tube.row), []).append(tube.column)

    def target(self, record: Record, tube: Tube, shift: Shift) -> EndRef | str:
        """The end to move to, or a sentence that says why there is none."""
        row = tube.row + shift.rows
        column = tube.column + shift.columns
        of_row = self._columns.get((tube.pass_, row))
        if shift.mirrored and of_row is not None:
            column = min(of_row) + max(of_row) - column
        there = self._tubes.get((tube.pass_, row, column))
        if there is None or there.hole is None:
            return (
                f"Nothing was moved: {say_place(tube)} would go to pass {tube.pass_} row {row} "
                f"column {column}, and there is no tube."
            )
        end = End(record.body["end"])
        face = record.body["face"]
        if shift.other_end:
            end = End.REAR if end is End.FRONT else End.FRONT
            face = self._face_of(tube.pass_, end)
        return EndRef(hole=there.hole, tube=there.key, end=end, face=face)

    def _face_of(self, pass_: int, end: End) -> str | None:
        shown = Shown(pass_=pass_, end="front" if end is End.FRONT else "rear")
        return next((face.key for face in self._faces if shown in face.shows), None)
