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
    """The faults of one file and what must be asked about it, in the order of the file."""

    __slots__ = ("_faults", "_is_faulty", "_left_off", "_more_lines", "_questions")

    def __init__(self) -> None:
        self._faults: list[str] = []
        """Questions among them."""
        self._is_faulty = False
        self._left_off = 0
        self._more_lines: dict[str, tuple[int, int]] = {}
        """Of a fault that most lines have: where it stands, and in how many more lines it is."""
        self._questions: list[str] = []

    def __bool__(self) -> bool:
        return self._is_faulty

    def add(self, sentence: str) -> None:
        self._is_faulty = True
        if len(self._faults) < MAX_FAULTS:
            self._faults.append(sentence)
        else:
            self._left_off += 1

    def add_once(self, what: str, line: int, rest: str) -> None:
        """A fault that a whole column is likely to have: told with the first line it is in."""
        self._is_faulty = True
        if what in self._more_lines:
            place, more = self._more_lines[what]
            self._more_lines[what] = (place, more + 1)
        elif len(self._faults) < MAX_FAULTS:
            self._more_lines[what] = (len(self._faults), 0)
            self._faults.append(f"line {line}{rest}")
        else:
            self._left_off += 1

    def ask(self, question: str) -> None:
        """Something that is no fault, but must be confirmed; told among the faults if any."""
        self._questions.append(question)
        if len(self._faults) < MAX_FAULTS:
            self._faults.append(question)

    @property
    def questions(self) -> tuple[str, ...]:
        return tuple(self._questions)

    def refuse_if_any(self, after_questions: str | None = None) -> None:
        """Raises IntakeRefused with every fault and question, when there is any fault.

        ``after_questions`` is a last sentence for when there are questions among them.
        """
        if not self._is_faulty:
            return
        told = list(self._faults)
        for place, more in self._more_lines.values():
            told[place] = _with_more_lines(told[place], more)
        if self._left_off:
            told.append(f"... and {self._left_off} more faults.")
        if self._questions and after_questions is not None:
            told.append(after_questions)
        raise IntakeRefused(told)


def _with_more_lines(fault: str, more: int) -> str:
    """``line 2, observed_at: ...`` as ``line 2 and 34 more lines, observed_at: ...``."""
    if more == 0:
        return fault
    line, comma, rest = fault.partition(",")
    return f"{line} and {more} more {'line' if more == 1 else 'lines'}{comma}{rest}"


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
