"""Caller and scribe: one calls from inside, the other types a line, and it is read back.

``row 3, 11, plugged`` · ``3 11 12 14-18 plugged`` · ``r3 c11 leaking joint`` · ``pass 3 row 2 all
sound``. Columns are counted from the left as the caller sees them. Pure. Not here: recording.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from fieldapp.view.face_map import FaceMap, TubeEnd
from fieldapp.view.key_state import Confirm, Intent, Mark, NotInspected
from fieldapp.view.mark_words import LEAK_WORDS, say_count, say_word
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
        pass_ = _take_pass(words, face, current_pass)
        row = _take_row(words)
        ends = _take_columns(words, _row(face, pass_, row), pass_, row)
        intent, said = _meaning(words, ends, face)
    except _NotUnderstood as refusal:
        return Heard(intent=None, reply=str(refusal))
    places = _say_columns(ends)
    return Heard(
        intent=intent,
        reply=f"Pass {pass_}, row {row}, {places}: {said}.",
        keys=tuple(end.key for end in ends),
    )


def ref_of_end(face: FaceMap, end: TubeEnd) -> EndRef:
    """A tube end of the map as marks name it."""
    return EndRef(hole=end.hole, tube=end.key, end=end.end, face=face.face.key)


def _words(line: str) -> list[str]:
    """Lower-case words and numbers; ``r3c11`` and ``row3`` are taken apart."""
    text = re.sub(r"[,;:.]", " ", line.casefold())
    text = re.sub(r"(?<=[a-z])-(?=[a-z])", " ", text)
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
    chosen: dict[int, TubeEnd] = {}
    while words:
        if words[0] in ("c", "col", "column", "columns", "tube", "tubes", "and"):
            del words[:1]
            continue
        if words[0] == "all":
            chosen |= of_row
            del words[:1]
            continue
        span = _SPAN.fullmatch(words[0])
        if span is None:
            break
        del words[:1]
        first, last = int(span[1]), int(span[2] or span[1])
        for number in range(min(first, last), max(first, last) + 1):
            if number not in of_row:
                raise _NotUnderstood(
                    f"Row {row} of pass {pass_} has no tube {number} from the left: they are "
                    f"{min(of_row)} to {max(of_row)}."
                )
            chosen[number] = of_row[number]
    if not chosen:
        raise _NotUnderstood(f"Say which tubes of row {row}. {PROMPT}.")
    return tuple(chosen[number] for number in sorted(chosen))


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
    return Mark(refs=refs, stated={"state": str(state), **stated}), said


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


def _say_columns(ends: Sequence[TubeEnd]) -> str:
    numbers = [end.column_seen for end in ends]
    if len(numbers) == 1:
        return f"tube {numbers[0]} from the left, {ends[0].label}"
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    parts = [f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs]
    return f"{say_count(len(numbers), 'tube')} {', '.join(parts)} from the left"


def _listed(passes: Sequence[int]) -> str:
    return "passes " + " and ".join(map(str, passes)) if len(passes) > 1 else f"pass {passes[0]}"


def _listed_states() -> str:
    return _or(["sound", "thinned", "leaking", "plugged", "split", "confirm", "no entry"])


def _or(words: Sequence[str]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}"
