"""What the state keys mean: which key is chosen, what is still asked, and what a touch then does.

Pure: (key pressed, tube tapped, row dragged, question answered) -> the next state and intents,
which ``run_intent`` hands to a session. Not here: gestures on the screen (``gestures``).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Any

from fieldapp.view.mark_words import say_word
from fieldapp.view.outcome import Outcome
from fieldapp.view.session import InspectionSession
from model.record.words import LeakAt, PlugCondition, PlugType, Reason, State
from model.store.edits.acts import EndRef
from model.store.edits.marks import own_statement


class Key(StrEnum):
    """The keys beside the map."""

    SOUND = "sound"
    THINNED = "thinned"
    LEAKING = "leaking"
    PLUGGED = "plugged"
    SPLIT = "split"
    CONFIRM = "confirm"
    NOT_INSPECTED = "not inspected"


_STATE_OF: Mapping[Key, State] = {
    Key.SOUND: State.SOUND,
    Key.THINNED: State.THINNED,
    Key.LEAKING: State.LEAKING,
    Key.PLUGGED: State.PLUGGED,
    Key.SPLIT: State.SPLIT,
}
HINTS: Mapping[Key | None, str] = {
    None: "Choose a state, then tap the tubes.",
    Key.SOUND: "Tap or drag: sound.",
    Key.THINNED: "Tap or drag: thinned.",
    Key.LEAKING: "Tap the tube that leaks, then say where.",
    Key.PLUGGED: "Tap or drag: plugged.",
    Key.SPLIT: "Tap the tube that is split.",
    Key.CONFIRM: "Tap what is drawn as carried from last time: still so.",
    Key.NOT_INSPECTED: "Say why, then tap or drag.",
}
WHERE_DOES_IT_LEAK = "Where does it leak?"
LEAK_ANSWERS: tuple[tuple[LeakAt, str], ...] = (
    (LeakAt.JOINT, "joint"),
    (LeakAt.BORE, "bore"),
    (LeakAt.LIGAMENT, "ligament"),
    (LeakAt.NOT_FOUND, "not found"),
)
WHY_NOT_INSPECTED = "Why not inspected?"
REASON_ANSWERS: tuple[tuple[Reason, str], ...] = tuple((r, say_word(str(r))) for r in Reason)
WHICH_PLUG = "Which plug?"
HOW_IS_THE_PLUG = "How is the plug?"
PLUG_CONDITIONS: tuple[tuple[PlugCondition, str], ...] = (
    (PlugCondition.TIGHT, "tight"),
    (PlugCondition.WEEPING, "weeping"),
    (PlugCondition.BURNED, "burned"),
    (PlugCondition.MISSING, "missing"),
)
PLUG_TYPES: tuple[tuple[PlugType, str], ...] = tuple(
    (kind, say_word(str(kind))) for kind in PlugType if kind is not PlugType.OTHER
)
BETWEEN_TUBES = "Between two tubes: touch nearer."
COME_NEARER = "Come nearer to mark: tap zooms in."
PLUG_ANSWERS: tuple[tuple[PlugType | None, str], ...] = (
    *((kind, say_word(str(kind))) for kind in PlugType),
    (None, "not said"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """State this of the ends; ``by_row`` when they were dragged along."""

    refs: tuple[EndRef, ...]
    stated: Mapping[str, Any]
    by_row: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Confirm:
    refs: tuple[EndRef, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NotInspected:
    refs: tuple[EndRef, ...]
    reason: Reason


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceLeak:
    refs: tuple[EndRef, ...]
    leak_at: LeakAt


@dataclass(frozen=True, slots=True, kw_only=True)
class DescribePlug:
    """Say one thing more of an own plug; what was said of it before stays."""

    ref: EndRef
    answer: PlugType | PlugCondition


@dataclass(frozen=True, slots=True, kw_only=True)
class Say:
    """Nothing is done; this is said."""

    words: str


Intent = Mark | Confirm | NotInspected | PlaceLeak | DescribePlug | Say


@dataclass(frozen=True, slots=True, kw_only=True)
class PlugAsked:
    """A plug just marked or confirmed, and what may still be said of it."""

    ref: EndRef
    asks_type: bool = True
    asks_condition: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyState:
    """What is chosen, and what is asked."""

    key: Key | None = None
    leak_of: tuple[EndRef, ...] = ()
    """Ends just marked leaking of which nobody has said where; empty when nothing is asked."""
    plug_of: PlugAsked | None = None
    """A plug of which type and condition may be said; nothing waits for the answer."""
    plug_type: PlugType | None = None
    """Said of every plug marked until another is chosen."""
    reason: Reason | None = None
    """Why ends are not inspected, until another is chosen."""

    @property
    def question(self) -> str | None:
        """What is asked beside the keys."""
        if self.leak_of:
            return WHERE_DOES_IT_LEAK
        if self.plug_of is not None:
            return HOW_IS_THE_PLUG if self.plug_of.asks_condition else WHICH_PLUG
        if self.key is Key.NOT_INSPECTED and self.reason is None:
            return WHY_NOT_INSPECTED
        return None

    @property
    def hint(self) -> str:
        """What a tap would do."""
        if self.key is Key.NOT_INSPECTED and self.reason is not None:
            return f"Tap or drag: not inspected, {say_word(str(self.reason))}."
        if self.key is Key.PLUGGED and self.plug_type is not None:
            return f"Tap or drag: plugged, {say_word(str(self.plug_type))} plug."
        return HINTS[self.key]


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """The next state, and what is to be done now."""

    state: KeyState
    intents: tuple[Intent, ...] = field(default=())


def press_key(state: KeyState, key: Key) -> Turn:
    """Choose a key; pressed again it is let go. An unanswered question falls."""
    chosen = None if state.key is key else key
    return Turn(state=replace(state, key=chosen, leak_of=(), plug_of=None))


def choose_plug_type(state: KeyState, plug_type: PlugType | None) -> Turn:
    return Turn(state=replace(state, plug_type=plug_type))


def choose_reason(state: KeyState, reason: Reason) -> Turn:
    return Turn(state=replace(state, reason=reason))


def tap_tube(state: KeyState, ref: EndRef) -> Turn:
    """A tube was tapped."""
    return _touched(state, (ref,), by_row=False)


def drag_row(state: KeyState, refs: Sequence[EndRef]) -> Turn:
    """A finger went along a row; over one tube alone it is a tap."""
    if not refs:
        return Turn(state=state)
    return _touched(state, tuple(refs), by_row=len(refs) > 1)


def answer_leak(state: KeyState, leak_at: LeakAt) -> Turn:
    """Where the ends just marked leak."""
    if not state.leak_of:
        return Turn(state=state, intents=(Say(words="Mark a leak first."),))
    place = PlaceLeak(refs=state.leak_of, leak_at=leak_at)
    return Turn(state=replace(state, leak_of=()), intents=(place,))


def ask_plug(state: KeyState, asked: PlugAsked) -> KeyState:
    """Offer to say more of a plug that was just marked or confirmed."""
    return replace(state, leak_of=(), plug_of=asked)


def answer_plug(state: KeyState, answer: PlugType | PlugCondition) -> Turn:
    """Type or condition of the plug asked about; the other may still be said."""
    asked = state.plug_of
    if asked is None:
        return Turn(state=state, intents=(Say(words="Mark a plug first."),))
    if isinstance(answer, PlugType):
        asked = replace(asked, asks_type=False)
    else:
        asked = replace(asked, asks_condition=False)
    is_done = not (asked.asks_type or asked.asks_condition)
    return Turn(
        state=replace(state, plug_of=None if is_done else asked),
        intents=(DescribePlug(ref=asked.ref, answer=answer),),
    )


def let_question_fall(state: KeyState) -> Turn:
    """The question is put away: what was marked stays, the rest is not known."""
    return Turn(state=replace(state, leak_of=(), plug_of=None))


def after_undo(state: KeyState) -> KeyState:
    """What was asked about may be gone."""
    return replace(state, leak_of=(), plug_of=None)


def _touched(state: KeyState, refs: tuple[EndRef, ...], *, by_row: bool) -> Turn:
    calm = replace(state, leak_of=(), plug_of=None)
    if state.key is None:
        return Turn(state=calm, intents=(Say(words=HINTS[None]),))
    if state.key is Key.CONFIRM:
        return Turn(state=calm, intents=(Confirm(refs=refs),))
    if state.key is Key.NOT_INSPECTED:
        if state.reason is None:
            return Turn(state=calm, intents=(Say(words=f"{WHY_NOT_INSPECTED} Choose first."),))
        return Turn(state=calm, intents=(NotInspected(refs=refs, reason=state.reason),))
    stated: dict[str, Any] = {"state": str(_STATE_OF[state.key])}
    if state.key is Key.PLUGGED and state.plug_type is not None:
        stated["plug"] = {"type": str(state.plug_type), "condition": None, "vented": None}
    asked = refs if state.key is Key.LEAKING else ()
    mark = Mark(refs=refs, stated=stated, by_row=by_row)
    plug = None
    if state.key is Key.PLUGGED and len(refs) == 1:  # what a drag says of many holds for each
        plug = PlugAsked(ref=refs[0], asks_type=state.plug_type is None)
    return Turn(state=replace(state, leak_of=asked, plug_of=plug), intents=(mark,))


def run_intent(session: InspectionSession, intent: Intent) -> Outcome:
    """Do what a touch means; on the thread that owns the session."""
    match intent:
        case Mark(refs=refs, stated=stated, by_row=True):
            return session.mark_row(refs, stated)
        case Mark(refs=refs, stated=stated):
            return session.mark(refs, stated)
        case Confirm(refs=refs):
            return session.confirm_carried(refs)
        case NotInspected(refs=refs, reason=reason):
            return session.set_not_inspected(refs, reason)
        case PlaceLeak(refs=refs, leak_at=leak_at):
            return session.set_leak_place(refs, leak_at)
        case DescribePlug(ref=ref, answer=answer):
            return _describe_plug(session, ref, answer)
        case Say(words=words):
            return replace(session.refresh(), said=words)


def _describe_plug(
    session: InspectionSession, ref: EndRef, answer: PlugType | PlugCondition
) -> Outcome:
    own = own_statement(session.present.open, ref, session.person)
    if own is None or own["state"] != State.PLUGGED:
        return replace(session.refresh(), said="You have marked no plug there.")
    known = own["plug"] or {"type": None, "condition": None, "vented": None}
    name = "type" if isinstance(answer, PlugType) else "condition"
    return session.mark((ref,), {"plug": {**known, name: str(answer)}})
