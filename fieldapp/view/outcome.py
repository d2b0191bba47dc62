"""What an operation on an inspection gives back: all that the screens need to draw themselves anew.

Not here: doing anything (``session``).
"""

from collections.abc import Mapping
from dataclasses import dataclass

from model.condition.tally import Tally
from model.condition.tubes import TubeCondition

MARKS = "marks"
COVERAGE = "coverage"
READINGS = "readings"
PHOTOS = "photos"
UNDO = "undo"
PERSON = "person"
INSPECTION = "inspection"
EVERYTHING = "everything"
"""Others changed so much (a layout, joined boilers) that every screen must be built anew."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What came of one operation. Committed when this exists."""

    changed: frozenset[str]
    """The kinds of things that changed; empty when nothing was done, and ``said`` says why."""
    holes: Mapping[str, TubeCondition]
    """Tubes that may look different now."""
    tally: Tally
    saved: int
    """Committed records of this inspection."""
    undo_words: str | None
    """What the undo key would take back, of whatever operation; None when there is nothing."""
    redo_words: str | None
    said: str
    """One short sentence to show and to speak; may be empty."""
    remarks: str = "."
    """What ``said`` tells after the act itself, from the comma on: what was replaced, whom it
    disputes, what was left alone."""
