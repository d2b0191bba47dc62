"""What an end holds that a mark of many ends, or a moved mark, must not replace without a look.

Nobody looked at each of those ends by itself: an end looked at singly, another person's mark, and
a plug, leak or split of earlier stand. Not here: who asks (``bulk_marks``, ``moving``).
"""

from dataclasses import dataclass
from enum import StrEnum

from fieldapp.view.mark_words import say_carried
from model.condition.open_inspection import OpenInspection
from model.condition.states import LOOKS
from model.record.words import How, State
from model.store.edits.acts import EndRef
from model.store.edits.marks import NO_FILL_OVER, own_statement

_SINGLY = (How.SEEN, How.PAPER)


class Holds(StrEnum):
    """Whose word stands there."""

    OWN = "own"
    ANOTHER = "another"
    CARRIED = "carried"


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """Why an end is left alone."""

    by: Holds
    state: State
    person: str | None
    """Whose mark, where it is another person's."""
    words: str


def held_at(
    inspection: OpenInspection,
    ref: EndRef,
    state: State | None,
    person: str,
    *,
    own_goes: bool = False,
) -> Held | None:
    """What keeps a state from being put on an end by a mark of many; None when nothing does.

    The same state is no reason: that confirms. ``own_goes``: the person's own mark moves away.
    """
    own = None if own_goes else own_statement(inspection, ref, person)
    is_own_said = own is not None and own["state"] is not None
    if own is not None and is_own_said and own["how"] in _SINGLY and own["state"] != state:
        now = State(own["state"])
        return Held(by=Holds.OWN, state=now, person=None, words=f"{now}, {own['how']}")
    if state is None:
        return None  # saying that nobody looked replaces no other person's word
    seen_by_others = _others(inspection, ref, person)
    for who, now in seen_by_others:
        if now is not state:
            words = f"{now}, another's mark"
            return Held(by=Holds.ANOTHER, state=now, person=who, words=words)
    if is_own_said or seen_by_others:
        return None  # what is carried was answered today
    carried = inspection.carried(ref.hole, ref.end)
    if carried is None or carried.state not in NO_FILL_OVER or carried.state is state:
        return None
    words = say_carried(carried)
    return Held(by=Holds.CARRIED, state=carried.state, person=None, words=words)


def is_said_singly(inspection: OpenInspection, ref: EndRef, state: State, person: str) -> bool:
    """Whether the person said the same already, looking at this end by itself."""
    own = own_statement(inspection, ref, person)
    return own is not None and own["state"] == state and own["how"] in _SINGLY


def _others(inspection: OpenInspection, ref: EndRef, person: str) -> list[tuple[str, State]]:
    """What other people say they saw, worst first."""
    own_class = inspection.person_class(person)
    order = list(State)
    said = [
        (record.by, State(record.body["state"]))
        for record in inspection.live_of(ref.hole, "observation")
        if record.body["end"] == ref.end
        and record.body["state"] is not None
        and record.body["how"] in LOOKS
        and inspection.person_class(record.by) != own_class
    ]
    return sorted(said, key=lambda each: (order.index(each[1]), each[0]))
