"""Values of options: each function takes the text as typed and gives the value, or refuses it.

A value that cannot be is refused with one sentence (exit 1), unlike an option that does not exist
(exit 2). Not here: cells of files (``fieldapp.intake.cells``), whose meaning is used.
"""

import argparse
from collections.abc import Callable
from datetime import datetime
from enum import StrEnum
from typing import Any, TypeVar

from fieldapp.cli.refusals import Refused
from fieldapp.intake.cells import BadCell, parse_day, parse_instant, parse_number, parse_word
from fieldapp.intake.faults import quoted
from model.record.words import ReadingMethod, Scope

Word = TypeVar("Word", bound=StrEnum)
Value = TypeVar("Value")


def _reads(option: str, parse: Callable[[str], Value]) -> Callable[[str], Value]:
    def read(text: str) -> Value:
        try:
            return parse(text.strip())
        except BadCell as error:
            raise Refused(f"{option}: {error}") from None

    return read


def day(option: str) -> Callable[[str], str]:
    return _reads(option, parse_day)


def instant(option: str) -> Callable[[str], datetime]:
    return _reads(option, parse_instant)


def word(option: str, words: type[Word]) -> Callable[[str], Word]:
    """A word of a closed list."""
    return _reads(option, lambda text: parse_word(text, words))


def names(text: str) -> list[str]:
    """Texts with commas between them."""
    return [part.strip() for part in text.split(",") if part.strip()]


def some_names(option: str) -> Callable[[str], list[str]]:
    """Texts with commas between them, one at least."""

    def read(text: str) -> list[str]:
        found = names(text)
        if not found:
            raise Refused(f"{option} is empty; name something, or leave it out.")
        return found

    return read


def scope(text: str) -> tuple[Scope, tuple[int, ...]]:
    """``full``, ``passes:2,3``, ``leak-call`` or ``after-repair``, with the passes named."""
    kind, _, listed = text.strip().partition(":")
    passes = tuple(sorted({int(part) for part in names(listed) if part in "123456789"}))
    is_list = bool(passes) and all(len(part) == 1 and part in "123456789" for part in names(listed))
    if kind not in tuple(Scope) or (kind == Scope.PASSES) != is_list or (listed and not is_list):
        raise Refused(
            f"--scope: {quoted(text)} is not known; write full, passes:2,3, leak-call or "
            "after-repair."
        )
    return Scope(kind), passes


def instrument(text: str) -> dict[str, Any]:
    """``name:method:accuracy_mm:calibration``, of which only the name must be there."""
    name, method, accuracy, calibration = (*text.split(":", 3), "", "", "", "")[:4]
    if not name.strip():
        raise Refused(
            f"--instrument: {quoted(text)} has no name; write name:method:accuracy_mm:calibration, "
            "such as gauge 14:ultrasonic:0.1:2026-05."
        )
    accuracy_mm = _reads("--instrument, accuracy_mm", parse_number)(accuracy) if accuracy else None
    if accuracy_mm is not None and not 0 <= accuracy_mm <= 100:
        raise Refused(f"--instrument, accuracy_mm: {accuracy_mm:g} must be from 0 to 100 mm.")
    return {
        "name": name.strip(),
        "method": word("--instrument, method", ReadingMethod)(method) if method else None,
        "accuracy_mm": accuracy_mm,
        "calibration": calibration.strip(),
    }


def filled(option: str) -> Callable[[str], str]:
    """Text that is not empty."""

    def read(text: str) -> str:
        if not text.strip():
            raise Refused(f"{option} is empty; write something.")
        return text

    return read


Arguments = argparse.Namespace
"""What a command gets: its arguments with the values that the functions above gave."""
