"""Checks of single fields of a body, each giving sentences instead of raising.

A check takes the value and the field's name and yields its faults. Not here: which fields a kind
has (``model.record.kinds``).
"""

import calendar
import math
import re
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from enum import StrEnum

from model.record.ids import is_entity_id
from model.tubesheet.layout import KEY_RULE, is_key

Check = Callable[[object, str], Iterator[str]]

_SHA256 = re.compile(r"[0-9a-f]{64}")
_PARTIAL_DATE = re.compile(r"([0-9]{4})(?:-([0-9]{2})(?:-([0-9]{2}))?)?")
MAX_TEXT = 20_000


def last_day(partial_date: str) -> date:
    """The last day of ``2019``, ``2019-06`` or ``2019-06-01``. ValueError when it is no date."""
    found = _PARTIAL_DATE.fullmatch(partial_date)
    if found is None:
        raise ValueError(f"{partial_date!r} is not a date such as 2019, 2019-06 or 2019-06-01")
    year, month, day = found.groups()
    if month is None:
        return date(int(year), 12, 31)
    if day is None:
        month_number = int(month)
        if not 1 <= month_number <= 12 or int(year) < 1:
            raise ValueError(f"{partial_date!r} has no such month")
        return date(int(year), month_number, calendar.monthrange(int(year), month_number)[1])
    return date(int(year), int(month), int(day))


def text(value: object, name: str) -> Iterator[str]:
    if not isinstance(value, str):
        yield f"{name} must be text"
    elif len(value) > MAX_TEXT:
        yield f"{name} is longer than {MAX_TEXT} characters"


def filled_text(value: object, name: str) -> Iterator[str]:
    yield from text(value, name)
    if isinstance(value, str) and not value.strip():
        yield f"{name} is empty"


def flag(value: object, name: str) -> Iterator[str]:
    if not isinstance(value, bool):
        yield f"{name} must be true or false"


def entity(value: object, name: str) -> Iterator[str]:
    if not is_entity_id(value):
        yield f"{name} is not an id"


def tube_key(value: object, name: str) -> Iterator[str]:
    if not isinstance(value, str) or not is_key(value):
        yield f"{name} {value!r} is not a tube key: {KEY_RULE}"


def sha256(value: object, name: str) -> Iterator[str]:
    if not isinstance(value, str) or not _SHA256.fullmatch(value):
        yield f"{name} is not a SHA-256 in lower-case hex"


def day(value: object, name: str) -> Iterator[str]:
    if not isinstance(value, str) or len(value) != 10 or not _is_partial_date(value):
        yield f"{name} {value!r} is not a day such as 2026-11-25"


def partial_date(value: object, name: str) -> Iterator[str]:
    if not isinstance(value, str) or not _is_partial_date(value):
        yield f"{name} {value!r} is not a date such as 2019, 2019-06 or 2019-06-01"


def number(low: float = -math.inf, high: float = math.inf, *, above: bool = False) -> Check:
    """A finite number within the limits; ``above`` leaves out the lower limit itself."""

    def check(value: object, name: str) -> Iterator[str]:
        if isinstance(value, bool) or not isinstance(value, int | float):
            yield f"{name} must be a number"
        elif not math.isfinite(value) or not low <= value <= high or (above and value == low):
            yield f"{name} is {value}, but must be {_limits(low, high, above)}"

    return check


def whole(low: int, high: int) -> Check:
    def check(value: object, name: str) -> Iterator[str]:
        if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
            yield f"{name} is {value!r}, but must be a whole number from {low} to {high}"

    return check


def one_of(words: type[StrEnum]) -> Check:
    allowed = tuple(str(word) for word in words)

    def check(value: object, name: str) -> Iterator[str]:
        if value not in allowed:
            yield f"{name} is {value!r}, but must be one of: {', '.join(allowed)}"

    return check


def optional(check_present: Check) -> Check:
    """The field may be ``None`` (unknown)."""

    def check(value: object, name: str) -> Iterator[str]:
        if value is not None:
            yield from check_present(value, name)

    return check


def list_of(check_item: Check, most: int = 10_000) -> Check:
    def check(value: object, name: str) -> Iterator[str]:
        if not isinstance(value, list):
            yield f"{name} must be a list"
        elif len(value) > most:
            yield f"{name} has {len(value)} entries; the limit is {most}"
        else:
            for place, item in enumerate(value):
                yield from check_item(item, f"{name}[{place}]")

    return check


def map_of(check_key: Check, check_item: Check) -> Check:
    def check(value: object, name: str) -> Iterator[str]:
        if not isinstance(value, Mapping):
            yield f"{name} must be an object"
            return
        for key, item in value.items():
            yield from check_key(key, f"a key of {name}")
            yield from check_item(item, f"{name}.{key}")

    return check


def object_of(fields: Mapping[str, Check]) -> Check:
    """An object in which the named fields hold; a missing one is ``None``, more may stand."""

    def check(value: object, name: str) -> Iterator[str]:
        if not isinstance(value, Mapping):
            yield f"{name} must be an object"
            return
        for key, check_field in fields.items():
            yield from check_field(value.get(key), f"{name}.{key}" if name else key)

    return check


def anything(value: object, name: str) -> Iterator[str]:
    """Free content, kept as it came (an owner's settings, a maker's data)."""
    return iter(())


def _is_partial_date(value: str) -> bool:
    try:
        last_day(value)
    except ValueError:
        return False
    return True


def _limits(low: float, high: float, above: bool) -> str:
    if math.isinf(low) and math.isinf(high):
        return "a finite number"
    lower = f"above {low:g}" if above else f"at least {low:g}"
    if math.isinf(high):
        return lower
    return f"at most {high:g}" if math.isinf(low) else f"{lower} and at most {high:g}"
