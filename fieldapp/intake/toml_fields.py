"""Reads the values of a TOML table by a schema, with every fault on one list.

Not here: which keys there are (``boiler_schema``), and units (``toml_units``).
"""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from typing import Any

from fieldapp.intake.cells import (
    DECIMAL_PLACES,
    BadCell,
    check_range,
    first_control,
    number_example,
    parse_day,
    parse_partial_date,
)
from fieldapp.intake.faults import FaultList, meant, quoted
from fieldapp.intake.toml_units import Twin, twin_of, us_key

MAX_TEXT = 2_000
MAX_TABLES = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """Where in a file a value stands, and in which units the file is."""

    place: str
    is_us: bool
    faults: FaultList
    twin: Twin | None = None
    """Set when the value is in a US unit."""

    def fault(self, rest: str) -> None:
        self.faults.add(f"{self.place}: {rest}")

    def inside(self, key: str, twin: Twin | None = None) -> "Spot":
        between = " " if self.place.endswith("]") else ", "
        return Spot(
            place=f"{self.place}{between}{key}", is_us=self.is_us, faults=self.faults, twin=twin
        )


Read = Callable[[object, Spot], Any]
"""Gives the value as it is kept, or tells the spot its fault and gives ``None``."""
Schema = Mapping[str, Read]


def read_table_of(
    value: object, schema: Schema, spot: Spot, needed: Sequence[str] = ()
) -> dict[str, Any]:
    """The known keys of a table, in the schema's order, under their SI names.

    A fault for each key of ``needed`` that is absent or empty.
    """
    if not isinstance(value, Mapping):
        spot.fault("must be a table of keys and values.")
        return {}
    spelled = _spellings(schema, spot.is_us)
    for key in value:
        if key not in spelled:
            _tell_unknown(key, schema, spelled, spot)
    for si_key in needed:
        spellings = [
            key for key, (spelled_si_key, _) in spelled.items() if spelled_si_key == si_key
        ]
        if all(_is_empty(value.get(key)) for key in spellings):
            spot.inside(spellings[0]).fault("is missing.")
    found: dict[str, Any] = {}
    for key, (si_key, twin) in spelled.items():
        if key not in value:
            continue
        if si_key in found:
            spot.inside(key).fault("stands twice, in two units; keep one of them.")
            continue
        kept = schema[si_key](value[key], spot.inside(key, twin))
        if kept is not None:
            found[si_key] = kept
    return found


def _is_empty(value: object) -> bool:
    return value is None or value == [] or (isinstance(value, str) and not value.strip())


def _spellings(schema: Schema, is_us: bool) -> dict[str, tuple[str, Twin | None]]:
    """Every key that may stand, with its SI name and the US unit that it is in, if any."""
    spelled: dict[str, tuple[str, Twin | None]] = {}
    for key in schema:
        twin = twin_of(key) if is_us else None
        if twin is not None:
            spelled[us_key(key)] = (key, twin)
        if twin is None or twin.both_in_us:
            spelled[key] = (key, None)
    return spelled


def _tell_unknown(key: str, schema: Schema, allowed: Iterable[str], spot: Spot) -> None:
    here = Spot(place=spot.inside(_shown_key(key)).place, is_us=spot.is_us, faults=spot.faults)
    if spot.is_us and key in schema:
        here.fault(f"this file is in US units; write {us_key(key)}.")
        return
    for si_key in schema:
        if not spot.is_us and key == us_key(si_key):
            here.fault(f'this file is in SI units; write {si_key}, or units = "us" on top.')
            return
    here.fault(f"is not a known key{meant(key, allowed)}")


def _shown_key(key: str) -> str:
    return key if key.isascii() and key.isprintable() and len(key) <= 40 else quoted(key)


def plain_number(value: object, spot: Spot) -> float | None:
    """A finite number as it stands in the file."""
    example = number_example(spot.place)
    if isinstance(value, str):
        spot.fault(f"{quoted(value)} is in quotes; write {example} without quotes.")
    elif isinstance(value, bool) or not isinstance(value, int | float):
        spot.fault(f"must be a number; write {example}.")
    elif isinstance(value, int) and abs(value) > 10**15:
        spot.fault(f"is too large; write {example}.")
    elif not math.isfinite(value):
        spot.fault(f"{value} is not a number; write {example}.")
    else:
        return float(value)
    return None


def number(
    *, above: float | None = None, least: float | None = None, most: float | None = None
) -> Read:
    """A number in the unit of its key, kept in SI; the limits are in SI too."""

    def read(value: object, spot: Spot) -> float | None:
        given = plain_number(value, spot)
        if given is None:
            return None
        to_si, from_si = (spot.twin.to_si, spot.twin.from_si) if spot.twin else (_same, _same)
        try:
            check_range(
                given,
                above=None if above is None else from_si(above),
                least=None if least is None else from_si(least),
                most=None if most is None else from_si(most),
            )
        except BadCell as error:
            spot.fault(str(error))
            return None
        return round(to_si(given), DECIMAL_PLACES)

    return read


def whole(*, least: int, most: int) -> Read:
    def read(value: object, spot: Spot) -> int | None:
        if isinstance(value, bool) or not isinstance(value, int) or not least <= value <= most:
            spot.fault(f"must be a whole number from {least} to {most}.")
            return None
        return value

    return read


def text(value: object, spot: Spot) -> str | None:
    """Text; empty text counts as not given."""
    if not isinstance(value, str):
        spot.fault("must be text in quotes.")
        return None
    if len(value) > MAX_TEXT:
        spot.fault(f"{len(value)} characters are too many; at most {MAX_TEXT}.")
        return None
    if control := first_control(value):
        spot.fault(f"holds the control character {control}; type it again.")
        return None
    return value.strip() or None


def text_or_number(value: object, spot: Spot) -> str | None:
    """Text such as a serial number, for which a bare whole number is taken too."""
    if isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= 10**15:
        return str(value)
    return text(value, spot)


def texts(value: object, spot: Spot) -> list[str] | None:
    """A list of texts; one text or year is taken as a list of one."""
    items = value if isinstance(value, list) else [value]
    if len(items) > MAX_TABLES:
        spot.fault(f"has {len(items)} entries; at most {MAX_TABLES}.")
        return None
    found = [
        item.isoformat()
        if isinstance(item, date) and not isinstance(item, datetime)
        else text_or_number(item, spot)
        for item in items
    ]
    return [item for item in found if item is not None]


def choice(words: type[StrEnum] | tuple[str, ...]) -> Read:
    allowed = tuple(str(word) for word in words)

    def read(value: object, spot: Spot) -> str | None:
        if isinstance(value, str) and value in allowed:
            return value
        shown = quoted(value) if isinstance(value, str) else "it"
        spot.fault(f"{shown} is not known; write one of: {', '.join(allowed)}.")
        return None

    return read


def day(value: object, spot: Spot) -> str | None:
    return _date(value, spot, parse_day)


def partial_date(value: object, spot: Spot) -> str | None:
    """A day, a month or a year; a bare year is taken too."""
    is_year = isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= 9999
    return _date(str(value) if is_year else value, spot, parse_partial_date)


def _date(value: object, spot: Spot, parse: Callable[[str], str]) -> str | None:
    if isinstance(value, datetime) or not isinstance(value, date | str):
        spot.fault("must be a date; write one such as 2026-11-25.")
        return None
    try:
        return parse(value if isinstance(value, str) else value.isoformat())
    except BadCell as error:
        spot.fault(str(error))
        return None


def by_pass(read_item: Read) -> Read:
    """A table with pass numbers as keys, such as ``{2 = "none"}``."""

    def read(value: object, spot: Spot) -> dict[str, Any] | None:
        if not isinstance(value, Mapping):
            spot.fault('must be a table by pass; write one such as {2 = "..."}.')
            return None
        found: dict[str, Any] = {}
        for key, item in value.items():
            here = spot.inside(_shown_key(key))
            if key not in "123456789" or len(key) != 1:
                here.fault("is not the number of a pass; write one such as 2.")
                continue
            kept = read_item(item, here)
            if kept is not None:
                found[key] = kept
        return found

    return read


def tables(schema: Schema, *, needed: Sequence[str] = ()) -> Read:
    """A list of tables of one schema, each with the needed keys."""

    def read(value: object, spot: Spot) -> list[dict[str, Any]] | None:
        if not isinstance(value, list):
            spot.fault("must be a list of tables; see the template.")
            return None
        if len(value) > MAX_TABLES:
            spot.fault(f"has {len(value)} entries; at most {MAX_TABLES}.")
            return None
        return [
            read_table_of(item, schema, _numbered(spot, place), needed)
            for place, item in enumerate(value, start=1)
        ]

    return read


def _numbered(spot: Spot, place: int) -> Spot:
    return Spot(place=f"{spot.place} {place}", is_us=spot.is_us, faults=spot.faults)


def _same(value: float) -> float:
    return value
