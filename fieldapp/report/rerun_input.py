"""``advice-input.toml``: the inputs of the advice as a file, to change and run it again.

What stands in it is taken by ``advise --with`` and ``boiler update`` as it is. Not here: reading it
(``fieldapp.intake``), the advice.
"""

import json
import math
import shlex
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from fieldapp.intake.boiler_schema import FUELS, RETIREMENT_RULES, SETTINGS
from fieldapp.intake.stored_settings import Writable, writable_settings
from fieldapp.intake.templates import BOILER_TOML
from fieldapp.report.numbers import ConditionNumbers
from model.decision.limits import CLUSTER, LimitStatus
from model.decision.prices import COUNTED_AS_NOTHING, ESSENTIAL

FILE_NAME = "advice-input.toml"
_EMPTY: tuple[Any, ...] = (None, "", {}, [])
_FIRST_KEYS = ("value", "source", "watch", "act", "act_mm", "basis")
_FIRST = {key: place for place, key in enumerate(_FIRST_KEYS)}
_LONGEST_SECTION = 100_000
"""Bytes: five sections of it stay below what a file may have, comments and all."""

_MOST_LEFT_OUT, _LONGEST_KEY = 50, 60
_MOST_FAULTS, _LONGEST_FAULT = 10, 400
_CHOICES = {("firing", "fuel"): FUELS, ("wall", "retirement"): RETIREMENT_RULES}
_STUBS = ("wall", "firing", "outage")
"""Sections of which every key is shown, given or not."""

_ORDER = ("wall", "firing", "outage", "costs", "limits")


def render_rerun_input(numbers: ConditionNumbers) -> bytes:
    """The file's bytes: the stored sections that the advice uses, and how to run it again."""
    facts = numbers.facts
    update, _ = rerun_commands(facts.tag)
    lines = [
        f"# Inputs of the advice on {_in_comment(facts.tag)}, inspection of "
        f"{numbers.inspection.facts.date or 'no date'}.",
        "# To run it again with other figures, change them here, then, with nothing stored:",
        f"#   {_in_comment(what_if_command(facts.tag))}",
        "# and to keep them:",
        f"#   {_in_comment(update)}",
        "# Each section here replaces the stored one as a whole. Units are SI; a price is",
        '# {value = 1.0, source = "quoted"}, or "owner", or "assumed".',
    ]
    sheets = [{"key": sheet.key, "name": sheet.name} for sheet in facts.sheets]
    for section in _ORDER:
        stored = facts.settings.get(section, {})
        writable = writable_settings(section, stored, sheets)
        lines += _section(section, stored, writable, numbers)
    return ("\n".join(lines) + "\n").encode("utf-8", "replace")


def what_if_command(tag: str) -> str:
    """What to type to run the advice again on the file, with nothing stored."""
    return f"tubewright advise {shlex.quote(tag)} --with {FILE_NAME}"


def rerun_commands(tag: str) -> tuple[str, str]:
    """What to type to store the file and to run the advice again.

    >>> rerun_commands("Boiler 1")[1]
    "tubewright advise 'Boiler 1'"
    """
    typed = shlex.quote(tag)
    update = f"tubewright boiler update {typed} {FILE_NAME} --by NAME"
    return update, f"tubewright advise {typed}"


def _section(
    name: str, stored: Mapping[str, Any], writable: Writable, numbers: ConditionNumbers
) -> list[str]:
    """The lines of a section, with comments at its end."""
    values = [f"{key} = {_value(value)}" for key, value in writable.values.items()]
    faults = writable.faults
    if len("".join(values).encode("utf-8", "replace")) > _LONGEST_SECTION:
        values, faults = [], ("The section is too long.",)
    kept = writable.values if values else {}
    lines = [
        *values,
        *_left_out([key for key in stored if key not in kept and stored[key] not in _EMPTY]),
        *(f"# {_in_comment(fault)[:_LONGEST_FAULT]}" for fault in faults[:_MOST_FAULTS]),
        *_said_beside(name, stored, kept, numbers),
    ]
    # A section that holds nothing would take the stored one away.
    return ["", f"[{name}]" if values else f"# [{name}]", *lines] if lines else []


def _left_out(keys: Sequence[str]) -> Iterator[str]:
    for key in keys[:_MOST_LEFT_OUT]:
        named = _in_comment(key)[:_LONGEST_KEY]
        yield f"# {named} is stored and left out: this program does not read it."
    if len(keys) > _MOST_LEFT_OUT:
        yield f"# {len(keys) - _MOST_LEFT_OUT} more are stored and left out."


def _said_beside(
    name: str, stored: Mapping[str, Any], kept: Mapping[str, Any], numbers: ConditionNumbers
) -> tuple[str, ...]:
    if name == "costs":
        return tuple(_not_given(stored))
    if name in _STUBS:
        return tuple(_stubs(name, stored, has_values=bool(kept)))
    if name == "limits":
        return tuple(_answers_to_ask_for(numbers, kept.get(CLUSTER, {})))
    return ()


def _answers_to_ask_for(numbers: ConditionNumbers, stored: Mapping[str, Any]) -> Iterator[str]:
    """How an engineer's answer to every place that is too wide would be written: as comments.

    A plugged stay tube is referred at any width, so no accepted width helps there.
    Beside ``stored`` answers a second ``cluster``, or a sheet twice, would be no TOML any more.
    """
    # A whole number of millimetres, and not below the width found.
    answers = {
        limit.sheet: {"act_mm": math.ceil(limit.value), "basis": "letter of ..., date"}
        for limit in numbers.limits
        if limit.name == CLUSTER and limit.status is LimitStatus.REFER
        if limit.sheet and limit.sheet not in stored and limit.value is not None
        if limit.act is not None and limit.value > limit.act
    }
    if not answers:
        return
    where = "goes into cluster above" if stored else "would read so"
    yield f"# An engineer's answer {where}; act_mm is the width of open place that is accepted:"
    table = _value(answers)
    yield _in_comment(f"# {table[1:-1].strip()}" if stored else f"# {CLUSTER} = {table}")


def _not_given(costs: Mapping[str, Any]) -> Iterator[str]:
    for names, why in (
        (ESSENTIAL, "missing: without it nothing is ranked by money"),
        (COUNTED_AS_NOTHING, "not given: counted as nothing"),
    ):
        yield from (f"# {name} = ...   # {why}" for name in names if name not in costs)


def _stubs(name: str, stored: Mapping[str, Any], *, has_values: bool) -> Iterator[str]:
    """What else can be entered in a section, each with what it looks like.

    A name whose # is taken away without a figure in its place is refused: no invented figure of
    ours can get into an advice by accident.
    """
    left = [key for key in SETTINGS[name] if key not in stored]
    if left:
        where = "" if has_values else "; take the # away there and at the heading"
        yield f"# Not given; put what you know in the place of the dots{where}:"
    examples = tomllib.loads(BOILER_TOML)[name]
    yield from (f"# {key} = ...   # {_example(name, key, examples)}" for key in left)


def _example(section: str, key: str, examples: Mapping[str, Any]) -> str:
    """What a value looks like, taken from the example file."""
    if (section, key) in _CHOICES:
        return f"one of {', '.join(map(_text, _CHOICES[section, key]))}"
    if key == "basis":
        return f"who says so, such as {_text('letter of ..., date')}"
    return f"such as {_value(examples[key])}"


def _value(value: Any) -> str:
    """A value of the stored sections in TOML."""
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, Mapping):
        keys = sorted(value, key=lambda key: (_FIRST.get(key, len(_FIRST)), key))
        inner = ", ".join(f"{_key(key)} = {_value(value[key])}" for key in keys)
        return f"{{ {inner} }}" if inner else "{}"
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_value, value))}]"
    return _text(str(value))


def _key(key: str) -> str:
    bare = key.replace("_", "").replace("-", "")
    return key if bare.isascii() and bare.isalnum() else _text(key)


def _text(words: str) -> str:
    """A basic string. JSON escapes as TOML does, but for the delete character."""
    return json.dumps(words, ensure_ascii=False).replace("\x7f", "\\u007f")


def _in_comment(words: str) -> str:
    """Text that stays in its line."""
    return " ".join("".join(c if c.isprintable() else " " for c in words).split())
