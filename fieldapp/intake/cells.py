"""What one cell of text means: a number, a word of a closed list, a date, an hour of the clock.

Each function returns the value or raises BadCell with the rest of a sentence that begins with the
place. Not here: lines and columns (``rows``).
"""

import re
import unicodedata
from collections.abc import Iterable
from datetime import date, datetime
from enum import StrEnum
from typing import TypeVar

from fieldapp.intake.faults import meant, quoted
from model.record.fields import last_day

Word = TypeVar("Word", bound=StrEnum)

DECIMAL_PLACES = 6
"""What a record keeps of a number; a millionth of a millimetre is beyond any gauge."""
LARGEST_NUMBER = 1e9

_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)")
_COMMA_NUMBER = re.compile(r"([+-]?[0-9]+),([0-9]+)")
_WHOLE = re.compile(r"\+?[0-9]{1,9}")
_INSTANT = re.compile(
    r"[0-9]{4}-[0-9]{2}-[0-9]{2}[T ][0-9]{2}:[0-9]{2}(?::[0-9]{2}(?:\.[0-9]{1,6})?)?"
    r"(Z|[+-][0-9]{2}:[0-9]{2})?"
)
_HEX_START = re.compile(r"[0-9a-f]{4,64}")
_YEARS = range(1800, 2201)

_EXAMPLES = {
    "_mm": "millimetres such as 2.9",
    "_in": "inches such as 0.105",
    "_mpa": "megapascals such as 1.0",
    "_psi": "psi such as 150",
    "_pa": "pascals such as 250",
    "_kw": "kilowatts such as 2000",
    "_bhp": "boiler horsepower such as 200",
    "_f": "degrees Fahrenheit such as 350",
    "_percent": "percent such as 20",
    "_c": "degrees Celsius such as 20",
    "_minutes": "minutes such as 30",
    "clock": "an hour of the clock such as 4.5",
}


class BadCell(Exception):
    """A cell that means nothing; its text goes on from "line 7, wall_mm: "."""


class BadTime(BadCell):
    """A date and time that lacks what a whole column of a spreadsheet usually lacks."""

    def __init__(self, text: str, lacks: str) -> None:
        super().__init__(f"{quoted(text)} {lacks}.")
        self.lacks = lacks


def number_example(column: str) -> str:
    """What to write in a column, by the unit in its name."""
    for ending, example in _EXAMPLES.items():
        if column.endswith(ending):
            return example
    return "a number such as 3.5"


def parse_number(text: str, example: str = "a number such as 3.5") -> float:
    """A plain decimal with a point, rounded to what a record keeps."""
    if comma := _COMMA_NUMBER.fullmatch(text):
        raise BadCell(f"{quoted(text)} has a comma; write {comma[1]}.{comma[2]} with a point.")
    if not _NUMBER.fullmatch(text):
        raise BadCell(f"{quoted(text)} is not a number; write {example}.")
    value = float(text)
    if abs(value) > LARGEST_NUMBER:
        raise BadCell(f"{quoted(text)} is too large; write {example}.")
    return round(value, DECIMAL_PLACES)


def parse_whole(text: str) -> int:
    """A whole number without a sign."""
    if not _WHOLE.fullmatch(text):
        raise BadCell(f"{quoted(text)} is not a whole number; write one such as 3.")
    return int(text)


def parse_word(text: str, words: type[Word]) -> Word:
    """A word of a closed list, spelled exactly."""
    allowed = [str(word) for word in words]
    if text not in allowed:
        hint = meant(text, allowed)
        if hint == ".":
            hint = f"; write one of: {', '.join(allowed)}."
        raise BadCell(f"{quoted(text)} is not known{hint}")
    return words(text)


def parse_yes_no(text: str) -> bool:
    answers = {"yes": True, "true": True, "no": False, "false": False}
    if text.lower() not in answers:
        raise BadCell(f"{quoted(text)} is neither yes nor no; write yes or no.")
    return answers[text.lower()]


def parse_day(text: str) -> str:
    """A day as ISO 8601 text."""
    try:
        found = date.fromisoformat(text) if len(text) == 10 and text.isascii() else None
    except ValueError:
        found = None
    if found is None or found.isoformat() != text or found.year not in _YEARS:
        raise BadCell(f"{quoted(text)} is not a day; write one such as 2026-11-25.")
    return text


def parse_partial_date(text: str) -> str:
    """A day, a month or a year, as it stands."""
    try:
        found = last_day(text)
    except ValueError:
        found = None
    if found is None or found.year not in _YEARS:
        raise BadCell(f"{quoted(text)} is not a date; write 2019, 2019-06 or 2019-06-01.")
    return text


def parse_instant(text: str) -> datetime:
    """A date and time with its offset from UTC."""
    found = _INSTANT.fullmatch(text)
    if found and not found[1]:
        raise BadTime(text, "has no offset from UTC; add one such as +01:00, or Z")
    try:
        value = datetime.fromisoformat(text) if found else None
    except ValueError:
        value = None
    if value is None or value.year not in _YEARS:
        raise BadTime(text, "is not a date and time; write one such as 2026-11-25T10:00:00+01:00")
    return value


def check_not_future(text: str, day: str, latest: date | None) -> None:
    """Raises BadCell for a day, month or year that only begins after the latest day there can be.

    ``text`` is what the cell shows.
    """
    if latest is not None and day > latest.isoformat()[: len(day)]:
        raise BadCell(f"{quoted(text)} is in the future; write when it was.")


def parse_clock(text: str) -> float:
    """An hour of the clock as seen from the front, above 0 and at most 12."""
    value = parse_number(text, number_example("clock"))
    if not 0 < value <= 12:
        raise BadCell(f"{text} is not an hour of the clock; write one above 0 and at most 12.")
    return value


def parse_record_start(text: str) -> str:
    """The id of a record, or the beginning of one."""
    if not _HEX_START.fullmatch(text.lower()):
        raise BadCell(f"{quoted(text)} is no record id; write its first 4 or more hex characters.")
    return text.lower()


def check_range(
    value: float, *, above: float | None, least: float | None, most: float | None
) -> None:
    """Raises BadCell when a number is outside its limits."""
    limits = []
    if above is not None:
        limits.append(f"above {above:g}")
    if least is not None:
        limits.append(f"at least {least:g}")
    if most is not None:
        limits.append(f"at most {most:g}")
    if (
        (above is not None and value <= above)
        or (least is not None and value < least)
        or (most is not None and value > most)
    ):
        raise BadCell(f"{value:.10g} must be {' and '.join(limits)}.")


def first_control(text: str) -> str | None:
    """The first character that no text should hold, as ``U+0007``; line breaks and tabs may."""
    for letter in text:
        if letter not in "\n\r\t" and unicodedata.category(letter) in ("Cc", "Cs"):
            return f"U+{ord(letter):04X}"
    return None


def folded_name(name: str | None) -> str:
    """A person's name as it is compared: case and blanks ignored."""
    return "".join((name or "").split()).casefold()


def key_lookup(keys: Iterable[str]) -> dict[str, str]:
    """The tube keys by their folded form, because keys are unique ignoring case."""
    return {key.casefold(): key for key in keys}
