"""Which readings are a specialist firm's results, by what their note says.

A firm's result is a reading like any other, trusted by the same rules; its note names the firm, the
method and the day, so that it is always shown as that firm's. Not here: reading a firm's table.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

_NOTE = re.compile(
    r"Result of (?P<firm>.+?) by (?P<method>[a-z-]+) on (?P<date>[0-9]{4}-[0-9]{2}-[0-9]{2})\."
    r"(?: .*)?",
    re.DOTALL,
)


@dataclass(frozen=True, slots=True, kw_only=True, order=True)
class FirmSurvey:
    """Who measured, when and how."""

    firm: str
    date: str
    method: str


def survey_note(survey: FirmSurvey, remark: str = "") -> str:
    """How the note of each of its readings begins, with what the firm remarked.

    >>> survey_note(FirmSurvey(firm="Invented Probes", method="eddy-current", date="2026-03-09"))
    'Result of Invented Probes by eddy-current on 2026-03-09.'
    """
    end = "." if remark and not remark.endswith((".", "!", "?")) else ""
    words = f"Result of {survey.firm} by {survey.method} on {survey.date}. {remark}{end}"
    return words.rstrip()


def survey_of(reading: Mapping[str, Any]) -> FirmSurvey | None:
    """The survey that a reading's body is of; None for an inspector's own reading."""
    found = _NOTE.fullmatch(reading["note"])
    if found is None:
        return None
    return FirmSurvey(firm=found["firm"], method=found["method"], date=found["date"])
