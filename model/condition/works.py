"""What the crew did: an end as left, and which tube stands in the hole.

Work is an object acting on ends. Only plug, unplug and replace set what is known of an end;
re-roll and weld clear a joint leak; clean and other change nothing. Pure. Not here: what the
inspector saw (``model.condition.slots``).
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from model.condition.classes import Classes
from model.condition.slots import merged_plug
from model.condition.states import EndLeft, Life
from model.record.fields import last_day
from model.record.line import Record
from model.record.words import Does, End, EventWhat, LeakAt, State

_WINNER = (Does.PLUG, Does.UNPLUG, Does.REPLACE)
_SETS = frozenset(_WINNER)
_CLEARS_JOINT = frozenset((Does.RE_ROLL, Does.WELD))
_EVENT_DOES: Mapping[EventWhat, Does] = {
    EventWhat.PLUG: Does.PLUG,
    EventWhat.RE_ROLL: Does.RE_ROLL,
    EventWhat.REPLACED: Does.REPLACE,
    EventWhat.RETUBED: Does.REPLACE,
    EventWhat.CLEANED: Does.CLEAN,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Deed:
    """One live piece of work on one hole, from a work record or a past event."""

    record: str
    follows: frozenset[str]
    """Every record that it follows, directly or by way of others."""
    does: Does
    ends: frozenset[End]
    plug: dict[str, Any] | None
    life: Life | None
    """For a replacement, the new tube (its number is set when it is applied)."""
    said_date: str
    """The date as given: a day, a month or a year."""
    date: str
    """Its last day, which orders; '' inside an inspection, where the chain alone orders."""

    def acts_on(self, end: End) -> bool:
        return end in self.ends


def work_deed(record: Record, follows: frozenset[str], inspection_date: str | None) -> Deed:
    """The deed of a work record that names a hole; without an inspection it has its own date."""
    body = record.body
    said_date = body["done_on"] or inspection_date or ""
    does = Does(body["does"])
    stock = body["tube"] or {}
    ends = frozenset(End(end) for end in body["ends"]) or frozenset(End)
    return Deed(
        record=record.id,
        follows=follows,
        does=does,
        ends=frozenset(End) if does is Does.REPLACE else ends,
        plug=body["plug"],
        life=Life(
            since=said_date,
            od_mm=stock.get("od_mm"),
            wall_mm=stock.get("wall_mm"),
            material=stock.get("material"),
        )
        if does is Does.REPLACE
        else None,
        said_date=said_date,
        date="" if inspection_date is not None else last_day(said_date).isoformat(),
    )


def event_deed(record: Record) -> Deed | None:
    """The deed of a past event; None for a leak, which is history and no work."""
    does = _EVENT_DOES.get(EventWhat(record.body["what"]))
    if does is None:
        return None
    return Deed(
        record=record.id,
        follows=frozenset(),
        does=does,
        ends=frozenset(End),
        plug=record.body["plug"],
        life=Life(since=record.body["date"]) if does is Does.REPLACE else None,
        said_date=record.body["date"],
        date=last_day(record.body["date"]).isoformat(),
    )


def followed_by(records: Iterable[Record], classes: Classes) -> Mapping[str, frozenset[str]]:
    """For each work that names a hole, every record it follows, itself or through a chain.

    ``records`` are those of one inspection, or of none, dead ones too. A chain runs through works
    of one hole: what was done to another tube says nothing of the order here. ``supersedes``
    cannot form a cycle.
    """
    chains: dict[str, dict[str, tuple[str, ...]]] = defaultdict(dict)
    for record in records:
        if record.kind == "work" and record.body["hole"] is not None:
            hole = classes.hole.name(record.body["hole"])
            chains[hole][record.id] = record.supersedes
    return {work: _reached(work, chain) for chain in chains.values() for work in chain}


def _reached(work: str, chain: Mapping[str, Sequence[str]]) -> frozenset[str]:
    pending, reached = [work], set[str]()
    while pending:
        for target in chain.get(pending.pop(), ()):
            if target not in reached:
                reached.add(target)
                pending.append(target)
    return frozenset(reached)


def end_after(deeds: Sequence[Deed], end: End, before: EndLeft) -> EndLeft:
    """What is known of an end after the deeds, given what was known before them."""
    setters = heads([deed for deed in deeds if deed.acts_on(end) and deed.does in _SETS])
    if not setters:
        is_cleared = any(d.acts_on(end) and d.does in _CLEARS_JOINT for d in deeds)
        is_joint_leak = before.state is State.LEAKING and before.leak_at is LeakAt.JOINT
        return EndLeft() if is_cleared and is_joint_leak else before
    results = {deed.does for deed in setters}
    winner = next(does for does in _WINNER if does in results)
    disputed = len(results) > 1
    if winner is not Does.PLUG:
        return EndLeft(disputed=disputed)
    plugs = [deed for deed in setters if deed.does is Does.PLUG]
    return EndLeft(
        state=State.PLUGGED,
        disputed=disputed,
        plug=merged_plug([deed.plug for deed in plugs if deed.plug is not None], None),
        since=before.since
        if before.state is State.PLUGGED
        else max(deed.said_date for deed in plugs),
    )


def heads(setters: Sequence[Deed]) -> list[Deed]:
    """The deeds that no other of them follows and, of these, those of the latest date."""
    followed = {name for deed in setters for name in deed.follows}
    last = [deed for deed in setters if deed.record not in followed]
    latest = max((deed.date for deed in last), default="")
    return [deed for deed in last if deed.date == latest]


def life_after(deeds: Sequence[Deed], before: Life) -> Life:
    """Which tube stands in the hole after the deeds.

    A replacement begins a new life unless it is disputed at either end: while people disagree
    whether the tube was plugged or replaced, what is known of the old tube goes on counting.
    """
    replacements = heads([deed for deed in deeds if deed.does is Does.REPLACE])
    if not replacements or any(_is_disputed(deeds, end) for end in End):
        return before
    new = max(replacements, key=lambda deed: deed.record)
    assert new.life is not None
    return Life(
        number=before.number + 1,
        since=new.life.since,
        od_mm=new.life.od_mm,
        wall_mm=new.life.wall_mm,
        material=new.life.material,
    )


def _is_disputed(deeds: Sequence[Deed], end: End) -> bool:
    last = heads([deed for deed in deeds if deed.acts_on(end) and deed.does in _SETS])
    does = {deed.does for deed in last}
    return Does.REPLACE in does and len(does) > 1
