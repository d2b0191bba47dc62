"""What a mark replaced and whom it disputes, in words after the mark.

Not here: the mark's own words (``mark_words``), what is not replaced (``guard``).
"""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence

from fieldapp.view.mark_words import LEAK_WORDS, say_word
from model.condition.open_inspection import OpenInspection
from model.condition.states import EndFound
from model.record.words import State
from model.store.edits.acts import EndRef, Step

GRAVE = frozenset((State.SPLIT, State.LEAKING, State.PLUGGED))

Before = Mapping[tuple[str, str], EndFound]
"""Ends as they were found before a mark, by hole and end."""


def found_before(
    inspection: OpenInspection, steps: Sequence[Step]
) -> dict[tuple[str, str], EndFound]:
    """The ends of some steps, as they are found now."""
    return {
        _key(step.ref): inspection.end_found(step.ref.hole, step.ref.end)
        for step in steps
        if inspection.tube(step.ref.hole) is not None
    }


def say_overridden(
    inspection: OpenInspection,
    steps: Sequence[Step],
    before: Before,
    person: str,
    name_of: Callable[[str], str],
) -> str:
    """``, was plugged (driven)`` or the like; empty when nothing graver stood there.

    An end that is disputed keeps the worse word: of it is said who differs instead.
    """
    disputes: list[str] = []
    replaced: list[tuple[State, str]] = []
    for step in steps:
        was = before.get(_key(step.ref))
        state = None if step.after is None else step.after["state"]
        if was is None or state is None or (step.before or {}).get("state") == state:
            continue
        differing = _differing(inspection, step.ref, State(state), person, name_of)
        if differing:
            disputes.append(differing)
        elif was.state is not None and _is_graver(was.state, State(state)):
            replaced.append((was.state, say_was(was)))
    return _say_replaced(replaced, len(steps)) + _say_disputes(disputes, len(steps))


def say_was(found: EndFound) -> str:
    """What an end was before.

    >>> say_was(EndFound(state=State.SPLIT))
    'split'
    """
    if found.state is State.LEAKING:
        return LEAK_WORDS[found.leak_at]
    if found.state is State.PLUGGED and found.plug is not None and found.plug.type:
        return f"plugged ({say_word(str(found.plug.type))})"
    return str(found.state)


def _say_replaced(replaced: Sequence[tuple[State, str]], marked: int) -> str:
    if marked == 1:
        return "".join(f", was {words}" for _, words in replaced)
    counts = Counter(state for state, _ in replaced)
    return "".join(
        f", {counts[state]} {'was' if counts[state] == 1 else 'were'} {state}"
        for state in State
        if counts[state]
    )


def _say_disputes(disputes: Sequence[str], marked: int) -> str:
    if not disputes:
        return ""
    return f", disputed: {disputes[0]}" if marked == 1 else f", {len(disputes)} disputed"


def _is_graver(was: State, state: State) -> bool:
    return was is not state and (was in GRAVE or (was is State.THINNED and state is State.SOUND))


def _differing(
    inspection: OpenInspection,
    ref: EndRef,
    state: State,
    person: str,
    name_of: Callable[[str], str],
) -> str:
    """``Ben says thinned``, of everybody whose live word differs; empty without a dispute."""
    if inspection.tube(ref.hole) is None:
        return ""
    found = inspection.end_found(ref.hole, ref.end)
    if not found.disputed:
        return ""
    own = inspection.person_class(person)
    said = {
        f"{name_of(each.by)} says {each.body['state']}": None
        for each in found.opinions
        if inspection.person_class(each.by) != own
        and each.body.get("state") not in (None, str(state))
    }
    return " and ".join(said)


def _key(ref: EndRef) -> tuple[str, str]:
    return ref.hole, str(ref.end)
