"""Acts: the gestures of a person, so that the last one can be taken back, after a restart too.

The marks of one gesture carry one act id. Taking an act back makes marks of its counterpart's id,
and a withdrawal, which has no field for an act, ends its reason with it: so the journal alone says
what was done, taken back and done again. Not here: committing (``marks``).
"""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from model.record.line import Record
from model.record.words import End

CONTENT = (
    "state",
    "reason",
    "leak_at",
    "leak_at_mm",
    "found_by",
    "test_mpa",
    "how",
    "plug",
    "findings",
    "note",
)
"""The fields of an observation that a person states; the others say which end, and when."""

MOST_ACTS = 100
"""How far back one can go."""

_ALPHABET = "abcdefghijklmnopqrstuvwxyz234567"
_ACT = re.compile(r" \(act ([a-z2-7]{13})\)")

Statement = Mapping[str, Any]
"""What a person says of an end: the fields of ``CONTENT``."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EndRef:
    """A tube end as the map shows it."""

    hole: str
    tube: str
    end: End
    face: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """What an act did to one end: a person's own statement before and after; None is none."""

    ref: EndRef
    before: Statement | None
    after: Statement | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Act:
    """One gesture, as done."""

    act: str
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ActStacks:
    """What can be taken back and what can be done again, the last one first in line."""

    done: tuple[Act, ...] = ()
    undone: tuple[Act, ...] = ()

    def with_act(self, act: Act) -> "ActStacks":
        """After something new was done: what was taken back before is gone."""
        return ActStacks(done=(*self.done, act)[-MOST_ACTS:])

    def without_last(self, *, undone: bool) -> "ActStacks":
        """After the last act was taken back, or found not to stand any more."""
        more = self.done[-1:] if undone else ()
        return ActStacks(done=self.done[:-1], undone=self.undone + more)

    def without_last_undone(self, *, redone: bool) -> "ActStacks":
        """After the act last taken back was done again, or found to have lost its place."""
        more = self.undone[-1:] if redone else ()
        return ActStacks(done=self.done + more, undone=self.undone[:-1])


def counterpart(act: str) -> str:
    """The id for taking an act back; its counterpart is the act again.

    >>> counterpart("abcdefghijklm"), counterpart("qbcdefghijklm")
    ('qbcdefghijklm', 'abcdefghijklm')
    """
    return _ALPHABET[_ALPHABET.index(act[0]) ^ 16] + act[1:]


def content_of(record: Record) -> Statement:
    """What an observation states."""
    return {name: record.body[name] for name in CONTENT}


def ref_of(record: Record) -> EndRef:
    """The end that an observation names."""
    body = record.body
    return EndRef(hole=body["hole"], tube=body["tube"], end=End(body["end"]), face=body["face"])


def why_with_act(why: str, act: str) -> str:
    """The reason of a withdrawal that is part of an act.

    >>> why_with_act("taken back", "abcdefghijklm")
    'taken back (act abcdefghijklm)'
    """
    return f"{why} (act {act})"


def act_named_by(record: Record) -> str | None:
    """The act that a record is part of; None when it came in another way."""
    if record.kind == "observation":
        named = record.body.get("act")
        return named if isinstance(named, str) else None
    if record.kind != "withdraw":
        return None
    found = _ACT.search(str(record.body.get("why")))
    return None if found is None else found[1]


def stacks_from_records(records: Sequence[Record]) -> ActStacks:
    """The stacks as they stood after the last of one person's records on one tablet.

    ``records`` are all of the person's marks in the inspection and their withdrawals, dead ones
    too, in the order in which they were written.
    """
    by_id = {record.id: record for record in records}
    stacks = ActStacks()
    for act, of_act in _last_groups(records):
        if act in {each.act for each in stacks.undone}:
            while stacks.undone[-1].act != act:  # they had lost their place when it was their turn
                stacks = stacks.without_last_undone(redone=False)
            stacks = stacks.without_last_undone(redone=True)
        elif counterpart(act) in {each.act for each in stacks.done}:
            while stacks.done[-1].act != counterpart(act):  # nothing of them stood any more
                stacks = stacks.without_last(undone=False)
            stacks = stacks.without_last(undone=True)
        elif not _is_undoing(act, by_id, of_act):
            steps = tuple(step for r in of_act if (step := _step(r, by_id)) is not None)
            stacks = stacks.with_act(Act(act=act, steps=steps))
    return stacks


def _last_groups(records: Sequence[Record]) -> list[tuple[str, list[Record]]]:
    """Runs of records of one act, oldest first; only the last ones, for an inspection is long."""
    groups: list[tuple[str, list[Record]]] = []
    for record in reversed(records):
        act = act_named_by(record)
        if act is None:
            continue
        if not groups or groups[-1][0] != act:
            if len(groups) == 2 * MOST_ACTS:
                break
            groups.append((act, []))
        groups[-1][1].append(record)
    return [(act, of_act[::-1]) for act, of_act in reversed(groups)]


def _is_undoing(act: str, by_id: Mapping[str, Record], of_act: Iterable[Record]) -> bool:
    """Whether it takes back an act that lies too far back to be listed."""
    return any(
        target in by_id and act_named_by(by_id[target]) == counterpart(act)
        for record in of_act
        for target in record.supersedes
    )


def _step(record: Record, by_id: Mapping[str, Record]) -> Step | None:
    targets = sorted(target for target in record.supersedes if target in by_id)
    before = by_id[targets[-1]] if targets else None
    if record.kind == "observation":
        return Step(
            ref=ref_of(record),
            before=None if before is None else content_of(before),
            after=content_of(record),
        )
    if before is None or before.kind != "observation":
        return None
    return Step(ref=ref_of(before), before=content_of(before), after=None)
