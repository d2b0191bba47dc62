"""Collects what is wrong with one file, so that all of it is told at once.

Not here: what counts as wrong (each reader knows its own file).
"""

import difflib
from collections.abc import Iterable

from fieldapp.errors import IntakeRefused

MAX_FAULTS = 1_000
"""More sentences than this help nobody; the rest are counted."""

_SHOWN_CHARACTERS = 40


class FaultList:
    """The faults of one file, in the order in which they were found."""

    __slots__ = ("_faults", "_left_off")

    def __init__(self) -> None:
        self._faults: list[str] = []
        self._left_off = 0

    def __bool__(self) -> bool:
        return bool(self._faults)

    def add(self, sentence: str) -> None:
        if len(self._faults) < MAX_FAULTS:
            self._faults.append(sentence)
        else:
            self._left_off += 1

    def refuse_if_any(self) -> None:
        """Raises IntakeRefused with every fault, when there is one."""
        if self._left_off:
            raise IntakeRefused([*self._faults, f"... and {self._left_off} more faults."])
        if self._faults:
            raise IntakeRefused(self._faults)


def quoted(value: object) -> str:
    """A value as a sentence shows it: quoted, on one line, not too long."""
    text = str(value)
    if len(text) > _SHOWN_CHARACTERS:
        text = text[:_SHOWN_CHARACTERS] + "…"
    return f"'{printable(text)}'"


def printable(text: str) -> str:
    """The text with line breaks and other invisible characters written out as escapes."""
    return "".join(
        letter if letter.isprintable() else letter.encode("unicode_escape").decode("ascii")
        for letter in text
    )


def nearest(word: str, allowed: Iterable[str], most: int = 1) -> list[str]:
    """The allowed words that look most like a wrong one; none when none is near."""
    by_folded = {candidate.casefold(): candidate for candidate in allowed}
    found = difflib.get_close_matches(word[:200].casefold(), by_folded, n=most, cutoff=0.6)
    return [by_folded[folded] for folded in found]


def meant(word: str, allowed: Iterable[str]) -> str:
    """``"; did you mean 'sound'?"`` when an allowed word is near, otherwise a full stop."""
    found = nearest(word, allowed)
    return f"; did you mean '{found[0]}'?" if found else "."
