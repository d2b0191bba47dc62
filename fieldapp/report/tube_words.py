"""Tubes, ends, states, leaks, plugs and people in words, alike in every section and on the maps.

Not here: counting, and what a state means for the boiler.
"""

from collections.abc import Mapping, Sequence

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.wording import say_list, say_word
from model.condition.states import EndFound, Finding, Plug
from model.condition.tubes import TubeCondition
from model.record.line import Record
from model.record.words import Grade, How, LeakAt, State
from model.tubesheet.layout import Tube

NOT_INSPECTED = "not inspected"

_HOWS: Mapping[How, str] = {
    How.SEEN: "seen",
    How.PAPER: "from paper",
    How.BY_ROW: "marked by row",
    How.FILLED: "filled in, not looked at",
}
_LEAKS: Mapping[LeakAt | None, str] = {
    LeakAt.JOINT: "leaking at the joint",
    LeakAt.BORE: "leaking in the bore",
    LeakAt.LIGAMENT: "leaking at the ligament",
    LeakAt.NOT_FOUND: "leaking, place not found",
    None: "leaking, place not found",
}


def say_tube(tube: Tube) -> str:
    """The key, with the owner's label where there is another one."""
    if tube.label and tube.label != tube.key:
        return f"{tube.key} ({tube.label})"
    return tube.key


def say_tube_of(numbers: ConditionNumbers, hole: str | None) -> str:
    """The tube of a record's hole."""
    if hole is None:
        return ""
    wanted = numbers.boiler.hole_class(hole)
    found = next((each.tube for each in numbers.tubes if each.hole == wanted), None)
    return numbers.key_of(hole) if found is None else say_tube(found)


def say_state(
    state: State | None, leak_at: LeakAt | None = None, *, leak_known: bool = True
) -> str:
    """A state; of a leak with its place unless that is not asked for."""
    if state is None:
        return NOT_INSPECTED
    if state is State.LEAKING and leak_known:
        return _LEAKS[leak_at]
    return str(state)


def say_how(how: How | None) -> str:
    return NOT_INSPECTED if how is None else _HOWS[how]


def say_plug(plug: Plug | None) -> str:
    """A plug as far as it is described.

    >>> say_plug(Plug(type="driven", condition="tight", vented=None))
    'driven plug, tight'
    """
    if plug is None:
        return "plug, nothing said of it"
    words = [f"{say_word(plug.type)} plug" if plug.type else "plug of unknown type"]
    if plug.condition is not None:
        words.append(say_word(plug.condition))
    if plug.vented is not None:
        words.append("vented" if plug.vented else "not vented")
    return ", ".join(words)


def say_end_found(end: EndFound) -> str:
    """An end as found: state, how it is known, carried, disputed, settled."""
    if end.state is None:
        reason = "" if end.reason is None else f": {say_word(end.reason)}"
        return f"{NOT_INSPECTED}{reason}"
    words = [say_state(end.state, end.leak_at)]
    if end.carried:
        words.append(f"since {end.since}, not confirmed today")
    elif end.how is not None:
        words.append(say_how(end.how))
    if end.disputed:
        words.append("disputed, the worse counts")
    elif end.settled:
        words.append("settled")
    return ", ".join(words)


def say_tube_left(tube: TubeCondition) -> str:
    """The tube as left, with what must be said beside its state."""
    status = tube.left
    if status.state is None:
        if tube.is_renewed:
            return "replaced, not looked at since"
        return NOT_INSPECTED if tube.found.state is None else "nothing known since the work"
    leaks = [end.leak_at for end in tube.ends_left.values() if end.state is State.LEAKING]
    worst = min(leaks, key=lambda at: list(LeakAt).index(at or LeakAt.NOT_FOUND), default=None)
    words = [say_state(status.state, worst)]
    if status.carried:
        words.append("from last time, not confirmed")
    if status.disputed:
        words.append("disputed")
    return ", ".join(words)


def say_leaking_joints(tube: TubeCondition) -> str:
    """The ends that leak at the joint, as left."""
    ends = [
        str(end)
        for end, left in tube.ends_left.items()
        if left.state is State.LEAKING and left.leak_at is LeakAt.JOINT
    ]
    return f"{say_list(ends)} {'end' if len(ends) == 1 else 'ends'}"


def say_finding(finding: Finding) -> str:
    """A finding in a few words: what, side, place, grade."""
    words = [say_word(finding.mechanism)]
    if finding.side != "unknown":
        words.append(f"{finding.side} side")
    words.append(say_grade(finding.grade))
    return ", ".join(words)


def say_grade(grade: Grade | str) -> str:
    """A grade as an instruction."""
    return {Grade.NOTE: "note", Grade.WATCH: "watch", Grade.ACT: "act"}[Grade(grade)]


def say_ends(ends: Sequence[str]) -> str:
    """Ends of a body's list, where an empty list is both."""
    return "both" if len(ends) != 1 else str(ends[0])


def say_people(numbers: ConditionNumbers, records: Sequence[Record]) -> str:
    """The names of those who made the records, each once."""
    names = dict.fromkeys(numbers.boiler.name_of(record.by) for record in records)
    return say_list(names) if names else "nobody today"
