"""A wall thickness to be recorded: its body, what is asked before it is kept, its words.

Not here: the keypad it is typed on (``reading_form``).
"""

from dataclasses import dataclass
from typing import Any

from fieldapp.view.tube_history import WallContext
from model.record.words import End, Purpose, ReadingMethod, Side, Surface
from model.units import inches_from_mm
from model.wall.trusted_readings import IMPLAUSIBLE_FACTOR, is_implausible

THINNEST_MM = 0.5
"""A wall below this is asked about (ours): mostly a slip of the point or a lost echo."""
LEAST_GROWTH_MM = 0.3
"""More than this above the last wall is asked about (ours): walls do not grow."""


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
    if context.last_mm is not None:
        growth_mm = entry.wall_mm - context.last_mm
        errors_mm = (entry.accuracy_mm or 0.0) + context.last_accuracy_mm
        if growth_mm > max(LEAST_GROWTH_MM, errors_mm):
            questions.append(
                f"{wall} is {say_wall(growth_mm, shown)} more than on {context.last_on} "
                f"({say_wall(context.last_mm, shown)}). Keep it?"
            )
    return tuple(questions)


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
