"""What a command gives back: text for people, the same as data, and what to say beside it.

Not here: printing, which happens once and only after the command has succeeded.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """The outcome of a command that was not refused."""

    lines: Sequence[str]
    data: Any
    """The machine-readable result: what ``json.dumps`` takes."""
    notes: Sequence[str] = ()
    """Notes and cautions, printed on standard error."""
    exit_code: int = 0
    """1 where the command worked and what it found is bad (``check``)."""


def count_of(number: int, one: str, several: str | None = None) -> str:
    """``1 tube``, ``2 tubes``."""
    return f"{number} {one if number == 1 else several or one + 's'}"
