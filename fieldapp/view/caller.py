"""Caller and scribe: one calls from inside, the other types a line, and it is read back.

``row 3, 11, plugged`` · ``3 11 12 14-18 plugged`` · ``r3 c11 leaking joint`` · ``pass 3 row 2 all
sound`` · ``P3-R02-C07 split``. A bare number counts tubes from the left as the caller sees them;
``column 11`` and ``c11`` are the column of the key, which runs the other way at a mirrored face.
Pure. Not here: how what is heard is said back (``read_back``), recording.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from fieldapp.view.face_map import FaceMap, TubeEnd
from fieldapp.view.key_state import Confirm, Intent, Mark, NotInspected
from fieldapp.view.mark_words import LEAK_WORDS, say_word
from fieldapp.view.read_back import say_ends
from model.record.words import LeakAt, PlugType, Reason, State
from model.store.edits.acts import EndRef

PROMPT = "Row, tubes counted from the left as you see them, state: 3 11 14-18 plugged"

_STATES = {str(state): state for state in State} | {
    "leak": State.LEAKING,
    "leaks": State.LEAKING,
    "plug": State.PLUGGED,
    "thin": State.THINNED,
    "ok": State.SOUND,
    "good": State.SOUND,
    "cracked": State.SPLIT,
}
_PLACES = {"joint": LeakAt.JOINT, "bore": LeakAt.BORE, "ligament": LeakAt.LIGAMENT}
_REASONS = {say_word(str(reason)): reason for reason in Reason}
_PLUGS = {say_word(str(kind)): kind for kind in PlugType if kind is not PlugType.OTHER}
_OF_KEY = frozenset(("c", "col", "column", "columns"))
_FROM_LEFT = frozenset(("tube", "tubes"))
_KEY = re.compile(r"p[0-9]+-r[0-9]+-c[0-9]+\b")
_SPAN = re.compile(r"([0-9]{1,4})(?:(?:-|to)([0-9]{1,4}))?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Heard:
    """A line understood, with what is read back; or not, with what is wrong."""

    intent: Intent | None
    reply: str
    """To be read aloud before or after it is recorded."""
    keys: tuple[str, ...] = ()
    """The tubes meant, so that the map can show them."""


class _NotUnderstood(Exception):
    """Why a line means nothing, as a sentence."""


def hear(line: str, face: FaceMap, current_pass: int | None = None) -> Heard:
    """What a typed line means at this face; ``current_pass`` where it names none."""
    words = _words(line)
    try:
        if not words:
            raise _NotUnderstood(f"Nothing was typed. {PROMPT}.")
        ends, rest = _take_keys(line, face)
        if ends:
            words = _words(rest)
        else:
            pass_ = _take_pass(words, face, current_pass)
            row = _take_row(words)
            ends = _take_columns(words, _row(face, pass_, row), pass_, row)
        intent, said = _meaning(words, ends, face)
    except _NotUnderstood as refusal:
        return Heard(intent=None, reply=str(refusal))
    return Heard(
        intent=intent,
        reply=f"{say_ends(ends)}: {said}.",
        keys=tuple(end.key for end in ends),
    )


def ref_of_end(face: FaceMap, end: TubeEnd) -> EndRef:
    """A tube end of the map as marks name it."""
    return EndRef(hole=end.hole, tube=end.key, end=end.end, face=face.face.key)


def _words(line: str) -> list[str]:
    """Lower-case words and numbers; ``r3c11`` and ``row3`` are taken apart."""
    text = re.sub(r"[,;:.]", " ", line.casefold())
    text = re.sub(r"(?<=[a-z])-(?=[a-z])", " ", text)
    text = re.sub(r"(?<=[0-9])\s*(?:-|–|\bto\b)\s*(?:c|col|column) ?(?=[0-9])", "-", text)
    text = re.sub(r"\s*(?:-|–|\bto\b)\s*(?=[0-9])", "-", text)
    text = re.sub(r"(?<=[0-9])(?=[a-z])", " ", text)
    text = re.sub(r"\b(pass|row|column|columns|col|tube|tubes|p|r|c)(?=[0-9])", r"\1 ", text)
    return text.split()


def _take_pass(words: list[str], face: FaceMap, current_pass: int | None) -> int:
    shown = sorted({end.pass_number for end in face.ends})
    if words[0] in ("p", "pass"):
        number = _number(words[1:2], "the pass")
        del words[:2]
        if number not in shown:
            raise _NotUnderstood(f"Pass {number} is not seen from here: {_listed(shown)}.")
        return number
    if current_pass in shown and current_pass is not None:
        return current_pass
    if len(shown) == 1:
        return shown[0]
    raise _NotUnderstood(f"Say which pass: {_listed(shown)} are seen from here.")


def _take_row(words: list[str]) -> int:
    if words[:1] in (["r"], ["row"]):
        del words[:1]
    number = _number(words[:1], "the row")
    del words[:1]
    return number


def _number(words: Sequence[str], what: str) -> int:
    if not words or _SPAN.fullmatch(words[0]) is None or not words[0].isdigit():
        got = f", not {words[0]}" if words else ""
        raise _NotUnderstood(f"The number of {what} is wanted{got}. {PROMPT}.")
    return int(words[0])


def _row(face: FaceMap, pass_: int, row: int) -> dict[int, TubeEnd]:
    of_row = {
        end.column_seen: end for end in face.ends if (end.pass_number, end.row) == (pass_, row)
    }
    if not of_row:
        rows = sorted({end.row for end in face.ends if end.pass_number == pass_})
        raise _NotUnderstood(
            f"Pass {pass_} has no row {row}: its rows are {rows[0]} to {rows[-1]}."
        )
    return of_row


def _take_columns(
    words: list[str], of_row: dict[int, TubeEnd], pass_: int, row: int
) -> tuple[TubeEnd, ...]:
    """Takes numbers off the front: from the left as seen, or of the key after a word for column."""
    by_column = {end.column: end for end in of_row.values()}
    chosen: set[int] = set()
    known, is_of_key = of_row, False
    while words:
        if words[0] in _FROM_LEFT | _OF_KEY:
            is_of_key = words[0] in _OF_KEY
            known = by_column if is_of_key else of_row
        elif words[0] == "all":
            chosen |= of_row.keys()
        elif words[0] != "and":
            span = _SPAN.fullmatch(words[0])
            if span is None:
                break
            first, last = sorted((int(span[1]), int(span[2] or span[1])))
            for number in range(first, last + 1):
                if number not in known:
                    named = f"column {number}" if is_of_key else f"tube {number} from the left"
                    raise _NotUnderstood(
                        f"Row {row} of pass {pass_} has no {named}: they are {min(known)} to "
                        f"{max(known)}."
                    )
                chosen.add(known[number].column_seen)
        del words[:1]
    if not chosen:
        raise _NotUnderstood(f"Say which tubes of row {row}. {PROMPT}.")
    return tuple(of_row[number] for number in sorted(chosen))


def _take_keys(line: str, face: FaceMap) -> tuple[tuple[TubeEnd, ...], str]:
    """Full keys or labels of tubes at the front of a line, and the rest of it."""
    named = {name.casefold(): end for end in face.ends for name in (end.label, end.key)}
    longest_first = sorted(named, key=len, reverse=True)
    ends: dict[str, TubeEnd] = {}
    rest = line.casefold().strip()
    while True:
        found = next((n for n in longest_first if _begins_with(rest, n)), None)
        if found is None:
            other = None if ends else _KEY.match(rest)
            if other is not None:
                raise _NotUnderstood(f"{other[0].upper()} is not seen from here.")
            return tuple(ends.values()), rest
        ends[found] = named[found]
        rest = re.sub(r"^[\s,;:.]*(?:and\s+)?", "", rest[len(found) :])


def _begins_with(text: str, name: str) -> bool:
    """Whether a line begins with a name; a number alone is a name only before a state."""
    if not name or not text.startswith(name):
        return False
    after = text[len(name) :]
    if re.match(r"[^\s,;:.]", after):
        return False
    if not name.isdigit():
        return True
    (word, *_) = [*_words(after), ""]
    return bool(word) and word[0].isalpha() and word not in _FROM_LEFT | _OF_KEY | {"all", "and"}


def _meaning(words: Sequence[str], ends: Sequence[TubeEnd], face: FaceMap) -> tuple[Intent, str]:
    text = " ".join(words)
    refs = tuple(ref_of_end(face, end) for end in ends)
    if not text:
        raise _NotUnderstood(f"Say the state: {_listed_states()}.")
    if text in ("confirm", "confirmed", "still so"):
        return Confirm(refs=refs), "still so"
    if text in _REASONS or text.removeprefix("not inspected").strip() in _REASONS:
        reason = _REASONS[text if text in _REASONS else text[len("not inspected") :].strip()]
        return NotInspected(refs=refs, reason=reason), f"not inspected, {say_word(str(reason))}"
    state = _STATES.get(words[0])
    if state is None:
        raise _NotUnderstood(f"{words[0]} is no state: say {_listed_states()}.")
    stated, said = _details(state, " ".join(words[1:]))
    # Of several nobody says that each was looked at by itself: what is graver there stands.
    by_row = len(refs) > 1
    return Mark(refs=refs, stated={"state": str(state), **stated}, by_row=by_row), said


def _details(state: State, rest: str) -> tuple[dict[str, object], str]:
    rest = re.sub(r"^(?:at|in|from) (?:the )?", "", rest).removesuffix(" plug")
    if not rest:
        return {}, str(state)
    if state is State.LEAKING and (rest in _PLACES or rest in ("not found", "unknown")):
        place = _PLACES.get(rest, LeakAt.NOT_FOUND)
        return {"leak_at": str(place)}, LEAK_WORDS[place]
    if state is State.PLUGGED and rest in _PLUGS:
        plug = {"type": str(_PLUGS[rest]), "condition": None, "vented": None}
        return {"plug": plug}, f"plugged, {rest} plug"
    if state is State.LEAKING:
        hint = "after leaking say joint, bore, ligament or not found"
    elif state is State.PLUGGED:
        hint = f"after plugged say {_or(list(_PLUGS))}"
    else:
        hint = "say it by itself"
    raise _NotUnderstood(f"{rest} does not go with {state}: {hint}.")


def _listed(passes: Sequence[int]) -> str:
    return "passes " + " and ".join(map(str, passes)) if len(passes) > 1 else f"pass {passes[0]}"


def _listed_states() -> str:
    return _or(["sound", "thinned", "leaking", "plugged", "split", "confirm", "no entry"])


def _or(words: Sequence[str]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}"
