"""The wall readings that count: outside the rolled zone, of a known tube, plausible or confirmed.

Each belongs to the life of the tube that stood in the hole. Not here: which of them governs
(``governing``), and what they say over the years (``tube_life``).
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from model.condition.states import FoldedBoiler, FoldedInspection, Life
from model.record.line import Record
from model.record.words import Purpose
from model.tubesheet.layout import Tube

IMPLAUSIBLE_FACTOR = 1.3
"""A wall above 1.3 x nominal is asked about (ours): new tubes may measure up to 22 % over."""

_SAME_WALL_DIGITS = 9
"""Decimals are not exact: a wall from a loss in percent may differ from the same wall as read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TrustedReading:
    """A reading with its wall, the accuracy of its gauge, and where it was taken."""

    hole: str
    life: int
    order: int
    """Place of its inspection among all, because two may be of one day."""
    date: str
    wall_mm: float
    accuracy_mm: float | None
    purpose: str | None
    end: str | None
    at_mm: float | None
    """From the outer face of the front sheet."""
    record: str
    method: str | None = None
    clock_h: float | None = None
    note: str | None = None

    @property
    def is_baseline(self) -> bool:
        return self.purpose == Purpose.BASELINE


def trusted_readings(
    boiler: FoldedBoiler, inspection: FoldedInspection, *, default_wall_mm: float | None
) -> dict[str, list[TrustedReading]]:
    """The trusted readings up to an inspection and with it, by hole class, in order of time."""
    tubes = {tube.hole: tube for tube in boiler.tubes}
    trusted: dict[str, list[TrustedReading]] = defaultdict(list)
    for order, earlier in enumerate(boiler.inspections):
        for reading in _trusted(earlier, order, boiler, tubes, default_wall_mm, trusted):
            trusted[reading.hole].append(reading)
        if earlier is inspection:
            break
    return trusted


def nominal_wall_mm(tube: Tube, life: Life, default_mm: float | None) -> float | None:
    """The wall as supplied: of the replacement, else of the layout, else of the boiler."""
    return next(
        (wall for wall in (life.wall_mm, tube.wall_mm, default_mm) if wall is not None), None
    )


def is_implausible(wall_mm: float, nominal_mm: float | None) -> bool:
    """Whether a wall is so much thicker than nominal that somebody must confirm it."""
    return nominal_mm is not None and wall_mm > IMPLAUSIBLE_FACTOR * nominal_mm


def first_wall_mm(readings: Iterable[TrustedReading]) -> float:
    """The first trusted reading; of several in one inspection the thickest, the least worn."""
    first = min(readings, key=lambda reading: (reading.order, -reading.wall_mm))
    return first.wall_mm


def thinnest_of(readings: Iterable[TrustedReading]) -> TrustedReading | None:
    """The thinnest reading; of several as thin the one whose gauge is known to be most accurate.

    What was written down decides between the rest. Ids come last: they are drawn anew whenever the
    same files are read, and the same files must give the same verdict.
    """
    return min(readings, key=_thinnest_first, default=None)


def _thinnest_first(reading: TrustedReading) -> tuple[float | str, ...]:
    return (
        round(reading.wall_mm, _SAME_WALL_DIGITS),
        math.inf if reading.accuracy_mm is None else reading.accuracy_mm,
        reading.method or "",
        reading.end or "",
        math.inf if reading.at_mm is None else reading.at_mm,
        math.inf if reading.clock_h is None else reading.clock_h,
        reading.purpose or "",
        reading.note or "",
        reading.record,
    )


def _trusted(
    inspection: FoldedInspection,
    order: int,
    boiler: FoldedBoiler,
    tubes: Mapping[str | None, Tube],
    default_wall_mm: float | None,
    earlier: Mapping[str, Sequence[TrustedReading]],
) -> list[TrustedReading]:
    """The inspection's readings outside the rolled zone that are plausible or confirmed."""
    gauges = _Gauges(inspection.facts.instruments)
    chosen: list[TrustedReading] = []
    for record in inspection.readings:
        body = record.body
        hole = boiler.hole_class(body["hole"])
        if body["in_rolled_zone"] or hole not in tubes:
            continue
        is_baseline = body["purpose"] == Purpose.BASELINE
        carry = inspection.carried_out if is_baseline else inspection.carried_in
        life = carry.life(hole)
        nominal = nominal_wall_mm(tubes[hole], life, default_wall_mm)
        wall = _wall_mm(record, earlier.get(hole, ()), life, nominal)
        if wall is None or (is_implausible(wall, nominal) and not body["confirmed"]):
            continue
        chosen.append(
            TrustedReading(
                hole=hole,
                life=life.number,
                order=order,
                date=inspection.facts.date or "",
                wall_mm=wall,
                accuracy_mm=gauges.accuracy_mm(body),
                purpose=body["purpose"],
                end=body["end"],
                at_mm=body["at_mm"],
                record=record.id,
                method=body["method"],
                clock_h=body["clock_h"],
                note=body.get("note"),
            )
        )
    return chosen


def _wall_mm(
    record: Record, earlier: Sequence[TrustedReading], life: Life, nominal_mm: float | None
) -> float | None:
    """The wall of a reading; a loss in percent is taken from the reference wall."""
    if record.body["wall_mm"] is not None:
        return float(record.body["wall_mm"])
    same_life = [reading for reading in earlier if reading.life == life.number]
    reference = first_wall_mm(same_life) if same_life else nominal_mm
    if reference is None:
        return None
    return float(reference * (1.0 - record.body["loss_percent"] / 100.0))


class _Gauges:
    """How accurate readings are, by the instruments that were recorded once for an inspection."""

    def __init__(self, instruments: Iterable[Mapping[str, object]]) -> None:
        self._tools = {plain_name(str(tool["name"])): tool for tool in instruments}

    def accuracy_mm(self, reading: Mapping[str, Any]) -> float | None:
        """As the reading says, else of the instrument it names; None when nobody said."""
        stated = reading["accuracy_mm"]
        if stated is not None:
            return float(stated)
        name = plain_name(reading["instrument"])
        tool = self._tools.get(name) if name else self._only(reading["method"])
        accuracy = None if tool is None else tool.get("accuracy_mm")
        return float(accuracy) if isinstance(accuracy, int | float) else None

    def _only(self, method: str | None) -> Mapping[str, object] | None:
        """The only instrument of a method: a reading that names none was made with it."""
        fitting = [tool for tool in self._tools.values() if tool.get("method") == method]
        return fitting[0] if method is not None and len(fitting) == 1 else None


def plain_name(name: str) -> str:
    """An instrument's name as it is compared: case and blanks ignored."""
    return "".join(name.split()).casefold()
