"""A wall thickness to be recorded: its body, what is asked before it is kept, its words.

Not here: the keypad it is typed on (``reading_form``).
"""

from dataclasses import dataclass
from typing import Any

from fieldapp.view.tube_history import WallContext
from model.record.fields import last_day
from model.record.words import End, Purpose, ReadingMethod, Side, Surface
from model.units import inches_from_mm
from model.wall.life import DAYS_PER_YEAR
from model.wall.trusted_readings import IMPLAUSIBLE_FACTOR, TrustedReading, is_implausible
from model.wall.tube_life import PLACE_WINDOW_MM

THINNEST_MM = 0.5
"""A wall below this is asked about (ours): mostly a slip of the point or a lost echo."""
LEAST_GROWTH_MM = 0.3
"""More than this above the last wall is asked about (ours): walls do not grow."""
LEAST_GROWTH_AT_PLACE_MM = 0.1
"""The same where the last wall was measured at the same place (ours)."""
OUT_OF_FAMILY_FACTOR = 3.0
"""A loss rate above so many times the median of the pass is asked about (ours)."""
LEAST_RATE_MM_PER_YEAR = 0.1
"""No rate up to this is asked about (ours)."""

_TINY_MM = 1e-9
"""Decimals are not exact: a limit that is just reached is not passed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingEntry:
    """One wall thickness with all that belongs to it."""

    hole: str
    tube: str
    wall_mm: float
    end: End | None = None
    at_mm: float | None = None
    """From the outer face of the front sheet."""
    clock_h: float | None = None
    """As seen from the front."""
    side: Side = Side.UNKNOWN
    entered_value: float | None = None
    entered_unit: str = "mm"
    method: ReadingMethod | None = None
    instrument: str = ""
    surface: Surface | None = None
    accuracy_mm: float | None = None
    in_rolled_zone: bool = False
    purpose: Purpose = Purpose.PLANNED
    confirmed: bool = False
    """Kept although it was asked about."""
    note: str = ""


def reading_body(entry: ReadingEntry, inspection: str) -> dict[str, Any]:
    """The fields of its record."""
    entered = None
    if entry.entered_value is not None:
        entered = {"value": entry.entered_value, "unit": entry.entered_unit}
    return {
        "inspection": inspection,
        "hole": entry.hole,
        "end": None if entry.end is None else str(entry.end),
        "at_mm": entry.at_mm,
        "clock_h": entry.clock_h,
        "side": str(entry.side),
        "wall_mm": entry.wall_mm,
        "entered": entered,
        "method": None if entry.method is None else str(entry.method),
        "instrument": entry.instrument,
        "surface": None if entry.surface is None else str(entry.surface),
        "accuracy_mm": entry.accuracy_mm,
        "in_rolled_zone": entry.in_rolled_zone,
        "purpose": str(entry.purpose),
        "confirmed": entry.confirmed,
        "note": entry.note,
    }


def reading_questions(
    entry: ReadingEntry, context: WallContext, unit: str | None = None
) -> tuple[str, ...]:
    """What is asked before it is kept, in the unit it was typed in; none when plausible."""
    shown = unit or entry.entered_unit
    wall = say_wall(entry.wall_mm, shown)
    questions: list[str] = []
    if entry.wall_mm < THINNEST_MM:
        questions.append(f"{wall} is thinner than {say_wall(THINNEST_MM, shown)}. Keep it?")
    if context.nominal_mm is not None and is_implausible(entry.wall_mm, context.nominal_mm):
        nominal = say_wall(context.nominal_mm, shown)
        questions.append(
            f"{wall} is more than {IMPLAUSIBLE_FACTOR:g} times the nominal {nominal}. Keep it?"
        )
    last = _last_at_place(entry, context)
    if last is not None:
        questions += _at_place_questions(entry, last, context, shown)
    elif context.last_mm is not None:
        growth_mm = entry.wall_mm - context.last_mm
        errors_mm = (entry.accuracy_mm or 0.0) + context.last_accuracy_mm
        if growth_mm > max(LEAST_GROWTH_MM, errors_mm):
            questions.append(
                f"{wall} is {say_wall(growth_mm, shown)} more than on {context.last_on} "
                f"({say_wall(context.last_mm, shown)}). Keep it?"
            )
    return tuple(questions)


def _last_at_place(entry: ReadingEntry, context: WallContext) -> TrustedReading | None:
    """The last wall of the same end and place, the nearest of several; None without a place."""
    if entry.at_mm is None or entry.in_rolled_zone:
        return None
    at_mm = entry.at_mm
    near = [
        (each.order, -abs(each.at_mm - at_mm), each.record, each)
        for each in context.earlier
        if each.at_mm is not None
        and each.end == entry.end
        and abs(each.at_mm - at_mm) <= PLACE_WINDOW_MM
    ]
    return max(near)[-1] if near else None


def _at_place_questions(
    entry: ReadingEntry, last: TrustedReading, context: WallContext, unit: str
) -> list[str]:
    """A wall that grew or went too fast, by more than both gauges may be wrong together."""
    loss_mm = last.wall_mm - entry.wall_mm
    errors_mm = (entry.accuracy_mm or 0.0) + (last.accuracy_mm or 0.0)
    said = f"{say_wall(entry.wall_mm, unit)} is {say_wall(abs(loss_mm), unit)}"
    there = f"at this place on {last.date} ({say_wall(last.wall_mm, unit)})"
    if -loss_mm > max(LEAST_GROWTH_AT_PLACE_MM, errors_mm) + _TINY_MM:
        return [f"{said} more than {there}. Measure again, or keep it?"]
    usual = context.pass_rate_mm_per_year
    years = _years(last.date, context.today)
    if usual is None or years is None or loss_mm <= errors_mm + _TINY_MM:
        return []
    rate = loss_mm / years
    if rate <= max(LEAST_RATE_MM_PER_YEAR, OUT_OF_FAMILY_FACTOR * usual) + _TINY_MM:
        return []
    return [
        f"{said} less than {there}: {say_wall(rate, unit)} a year, where half of the tubes "
        f"measured in the pass lose no more than {say_wall(usual, unit)}. "
        "Measure again, or keep it?"
    ]


def _years(earlier: str, today: str | None) -> float | None:
    """Years between two days; None where either is unknown or they are not in this order."""
    if not earlier or not today:
        return None
    days = (last_day(today) - last_day(earlier)).days
    return days / DAYS_PER_YEAR if days > 0 else None


def say_margin(wall_mm: float, context: WallContext, unit: str = "mm") -> str:
    """How far a wall is from the retirement wall."""
    if context.retirement_mm is None:
        return "No retirement wall is stated."
    margin_mm = wall_mm - context.retirement_mm
    retirement = say_wall(context.retirement_mm, unit)
    if margin_mm < 0:
        return f"{say_wall(-margin_mm, unit)} below the retirement wall of {retirement}."
    return f"{say_wall(margin_mm, unit)} above the retirement wall of {retirement}."


def say_reading(entry: ReadingEntry) -> str:
    return f"wall {say_wall(entry.wall_mm, entry.entered_unit)}"


def say_wall(wall_mm: float, unit: str) -> str:
    """A wall in the unit it is shown in.

    >>> say_wall(2.54, "mm"), say_wall(2.54, "in")
    ('2.54 mm', '0.100 in')
    """
    if unit == "in":
        return f"{inches_from_mm(wall_mm):.3f} in"
    return f"{wall_mm:.2f} mm"
