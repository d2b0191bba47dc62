"""Numbers, dates and lists in words, alike in every section.

Not here: words about tubes (``tube_words``).
"""

import re
from collections.abc import Iterable
from datetime import datetime

UNKNOWN = "not known"
_TIME = re.compile(r"(\d{4}-\d\d-\d\d)T(\d\d:\d\d)(?::[\d.]+)?(Z|[+-]\d\d:\d\d|)")
_KEEP_THEIR_HYPHEN = ("re-roll", "wet-back", "dry-back", "through-rod", "dew-point")


def say_percent(value: float | None) -> str:
    """A percentage with one decimal.

    >>> say_percent(4.16)
    '4.2 %'
    """
    return UNKNOWN if value is None else f"{value:.1f} %"


def say_low_and_high(low: float | None, high: float | None) -> str:
    """What is known, and what it would be if the unseen are like the seen.

    >>> say_low_and_high(2.0, 3.4)
    'at least 2.0 %, about 3.4 % if the unseen are like the seen'
    >>> say_low_and_high(2.0, 2.0)
    'at least 2.0 %'
    """
    if low is None:
        return UNKNOWN
    if high is None:
        return f"at least {low:.1f} %; nobody looked at a whole pass, so no more can be said"
    if high - low < 0.05:
        return f"at least {low:.1f} %"
    return f"at least {low:.1f} %, about {high:.1f} % if the unseen are like the seen"


def say_mm(value: float | None, decimals: int = 2) -> str:
    """A length without its unit, which stands in the heading of the column."""
    return UNKNOWN if value is None else f"{value:.{decimals}f}"


def say_number(value: float | None) -> str:
    """A number as it was entered, without trailing noughts.

    >>> say_number(12.0), say_number(None)
    ('12', 'not known')
    """
    return UNKNOWN if value is None else f"{value:g}"


def say_count(count: int, one: str, many: str | None = None) -> str:
    """A count with its noun.

    >>> say_count(1, "tube"), say_count(3, "tube"), say_count(2, "pass", "passes")
    ('1 tube', '3 tubes', '2 passes')
    """
    return f"{count} {one if count == 1 else many or one + 's'}"


def say_list(words: Iterable[str], joint: str = "and") -> str:
    """Words as in speech.

    >>> say_list(["a", "b", "c"])
    'a, b and c'
    """
    *others, last = list(words) or [""]
    return f"{', '.join(others)} {joint} {last}" if others else last


def say_word(word: str) -> str:
    """A word of a closed list as people write it.

    >>> say_word("not-cleaned"), say_word("re-roll")
    ('not cleaned', 're-roll')
    """
    plain = word.replace("-", " ").replace("_", " ")
    for kept in _KEEP_THEIR_HYPHEN:
        plain = plain.replace(kept.replace("-", " "), kept)
    return plain


def say_yes_or_no(value: bool | None) -> str:
    return UNKNOWN if value is None else "yes" if value else "no"


def say_moment(moment: datetime) -> str:
    """Day and minute with the offset, as printed on the report.

    >>> from datetime import UTC
    >>> say_moment(datetime(2026, 11, 25, 8, 5, tzinfo=UTC))
    '2026-11-25 08:05 +00:00'
    """
    offset = moment.strftime("%z")
    return moment.strftime("%Y-%m-%d %H:%M") + (f" {offset[:3]}:{offset[3:5]}" if offset else "")


def say_time(time: str) -> str:
    """A time of a record as people write it, to the minute; any other text as it is.

    >>> say_time("2026-09-15T10:30:00-05:00")
    '2026-09-15 10:30 -05:00'
    """
    found = _TIME.fullmatch(time)
    if found is None:
        return time
    day, minute, offset = found.groups()
    return f"{day} {minute} {'UTC' if offset == 'Z' else offset}".strip()


def capital(words: str) -> str:
    """With a capital letter at the beginning; the rest stays.

    >>> capital("re-roll P2-R01-C01")
    'Re-roll P2-R01-C01'
    """
    return words[:1].upper() + words[1:]
