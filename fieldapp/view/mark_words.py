"""Tubes, statements and gestures in words, short enough for a key and to be read aloud.

Not here: the report's words (``fieldapp.report``).
"""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from model.condition.states import CarriedEnd
from model.record.words import How, LeakAt, State
from model.store.edits.acts import Act, Step
from model.tubesheet.layout import Tube, default_key

LEAK_WORDS: Mapping[str | None, str] = {
    LeakAt.JOINT: "leaking at the joint",
    LeakAt.BORE: "leaking in the bore",
    LeakAt.LIGAMENT: "leaking at the ligament",
    LeakAt.NOT_FOUND: "leaking, place not found",
    None: "leaking",
}

TubeOf = Callable[[str], Tube | None]
"""Gives the tube in a hole."""


def say_word(word: str) -> str:
    """A word of a closed list as people write it.

    >>> say_word("not-cleaned"), say_word("re-roll")
    ('not cleaned', 're-roll')
    """
    return word if word.startswith("re-") else word.replace("-", " ")


def say_count(count: int, one: str, many: str | None = None) -> str:
    """A count with its noun.

    >>> say_count(1, "end"), say_count(3, "end"), say_count(2, "pass", "passes")
    ('1 end', '3 ends', '2 passes')
    """
    return f"{count} {one if count == 1 else many or one + 's'}"


def say_ordinal(number: int) -> str:
    """A number as a place in a row.

    >>> [say_ordinal(number) for number in (1, 2, 3, 4, 11, 12, 13, 21, 112)]
    ['1st', '2nd', '3rd', '4th', '11th', '12th', '13th', '21st', '112th']
    """
    is_teen = number % 100 in (11, 12, 13)
    return f"{number}{'th' if is_teen else {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th')}"


def say_place(tube: Tube) -> str:
    """Where a tube is, or its own key where the owner numbers otherwise.

    >>> say_place(Tube(key="P2-R03-C11", pass_=2, row=3, column=11, x_mm=0, y_mm=0))
    'P2 row 3 column 11'
    >>> say_place(Tube(key="A17", pass_=2, row=3, column=11, x_mm=0, y_mm=0))
    'A17'
    """
    if tube.key.upper() == default_key(tube.pass_, tube.row, tube.column):
        return f"P{tube.pass_} row {tube.row} column {tube.column}"
    return tube.key


def say_statement(stated: Mapping[str, Any]) -> str:
    """What is stated of an end, without findings and note."""
    state, reason = stated.get("state"), stated.get("reason")
    if state is None:
        return "not inspected" + (f", {say_word(reason)}" if reason else "")
    if state == State.LEAKING:
        return LEAK_WORDS[stated.get("leak_at")]
    if state == State.PLUGGED:
        return say_plugged(stated.get("plug"))
    return str(state)


def say_plugged(plug: Mapping[str, Any] | None) -> str:
    """A plugged end with what is known of its plug.

    >>> say_plugged({"type": "driven", "condition": "weeping"})
    'plugged, driven plug, weeping'
    """
    if plug is None:
        return "plugged"
    kind, condition = plug.get("type"), plug.get("condition")
    words = ["plugged"]
    if kind:
        words.append(f"{say_word(kind)} plug")
    if condition:
        words.append(str(condition))
    return ", ".join(words)


def say_carried(carried: CarriedEnd) -> str:
    """What an end brings from earlier.

    >>> say_carried(CarriedEnd(state=State.SPLIT, leak_at=None, plug=None, since="2024-05-02",
    ...     said_on="2024-05-02"))
    'split since 2024-05-02'
    """
    leak_at = carried.leak_at if carried.state is State.LEAKING else None
    words = LEAK_WORDS[leak_at] if carried.state is State.LEAKING else str(carried.state)
    return f"{words} since {carried.since}"


def say_act(act: Act, tube_of: TubeOf) -> str:
    """What a gesture did, for the undo key and to be read aloud."""
    stated = [step for step in act.steps if step.after is not None]
    if len(stated) < len(act.steps):
        moved = sum(step.after is None for step in act.steps)
        return f"{say_count(max(moved, len(stated)), 'mark')} moved"
    words = sorted({_say_step(step) for step in stated})
    if len(words) > 1:
        return f"{say_count(len(stated), 'end')}: {_say_several(stated)}"
    (what,) = words or ["nothing"]
    return f"{_say_ends(stated, tube_of)}: {what}"


def _say_step(step: Step) -> str:
    before, after = step.before, step.after
    assert after is not None
    if before is None:
        before = {"state": None, "reason": None, "findings": [], "note": ""}
    if after["findings"] != before["findings"]:
        return _say_findings(before["findings"], after["findings"])
    is_same = all(after[n] == before.get(n) for n in ("state", "reason", "leak_at", "plug", "how"))
    if after["note"] != before["note"] and (is_same or _says_nothing(after)):
        return "note" if after["note"] else "note taken away"
    words = say_statement(after)
    return f"filled in as {words}" if after["how"] == How.FILLED else words


def _says_nothing(stated: Mapping[str, Any]) -> bool:
    return stated["state"] is None and stated["reason"] is None


def _say_findings(before: Sequence[Mapping[str, Any]], after: Sequence[Mapping[str, Any]]) -> str:
    added = [finding for finding in after if finding not in before]
    if not added:
        return "finding taken away"
    last = added[-1]
    return f"{say_word(last['mechanism'])}, {last['grade']}"


def _say_several(steps: Sequence[Step]) -> str:
    """``sound, thinned``: the states stated, worst first."""
    states = {step.after["state"] for step in steps if step.after is not None}
    words = [str(state) for state in State if state in states]
    return ", ".join(words + (["not inspected"] if None in states else []))


def _say_ends(steps: Sequence[Step], tube_of: TubeOf) -> str:
    tubes = [tube_of(step.ref.hole) for step in steps]
    if len(steps) == 1:
        return say_place(tubes[0]) if tubes[0] is not None else steps[0].ref.tube
    rows = {(tube.pass_, tube.row) if tube is not None else None for tube in tubes}
    where = next(iter(rows)) if len(rows) == 1 else None
    count = say_count(len(steps), "end")
    return count if where is None else f"P{where[0]} row {where[1]}, {count}"
