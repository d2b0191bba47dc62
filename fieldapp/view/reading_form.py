"""The keypad for a wall: what was typed, what it is, what is asked, and the margin as one types.

Pure. The clock is turned as seen from the face and stored as seen from the front. Not here:
recording (``session.record_reading``).
"""

from dataclasses import dataclass, replace

from fieldapp.view.readings import (
    ReadingEntry,
    reading_questions,
    say_margin,
    say_wall,
)
from fieldapp.view.tube_history import WallContext
from model.record.words import End, Purpose, ReadingMethod, Side, Surface
from model.store.edits.acts import EndRef
from model.tubesheet.faces import mirrored_clock_h
from model.units import inches_from_mm, mm_from_inches

MM = "mm"
INCH = "in"
_MOST_CHARACTERS = 7
THICKEST_MM = 25.0
"""No fire tube has a thicker wall (ours): more is a slip of the point, and is not kept."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingForm:
    """Everything on the form; each change makes another."""

    ref: EndRef
    is_mirrored: bool
    """Whether the face sees the boiler from the rear: then the clock is turned around."""
    context: WallContext
    typed: str = ""
    unit: str = MM
    end: End | None = None
    at_mm: float | None = None
    clock_seen_h: float | None = None
    """As seen from the face."""
    side: Side = Side.UNKNOWN
    purpose: Purpose = Purpose.PLANNED
    method: ReadingMethod | None = ReadingMethod.ULTRASONIC
    instrument: str = ""
    surface: Surface | None = None
    accuracy_mm: float | None = None
    in_rolled_zone: bool = False
    confirmed: bool = False
    note: str = ""

    @property
    def wall_mm(self) -> float | None:
        """What was typed, in mm; None while it is no number."""
        if not any(character.isdigit() for character in self.typed):
            return None
        value = float(self.typed)
        return mm_from_inches(value) if self.unit == INCH else value

    @property
    def fault(self) -> str | None:
        """Why it cannot be kept at all; None when it can, or when nothing was typed yet."""
        wall_mm = self.wall_mm
        if wall_mm is None:
            return None
        if wall_mm <= 0:
            return "A wall is more than 0: a hole through the wall is a split."
        if wall_mm > THICKEST_MM:
            thickest = say_wall(THICKEST_MM, self.unit)
            return f"{self.typed} {self.unit} is more than {thickest}: check the point and unit."
        return None

    @property
    def questions(self) -> tuple[str, ...]:
        """What is asked before it is kept."""
        entry = self.entry
        if entry is None:
            return ()
        return reading_questions(entry, self.context)

    @property
    def margin_words(self) -> str:
        """The margin to the retirement wall, as soon as something is typed."""
        if self.wall_mm is None or self.fault is not None:
            return ""
        return say_margin(self.wall_mm, self.context, self.unit)

    @property
    def loss_percent(self) -> float | None:
        """Of the wall as supplied."""
        if self.wall_mm is None or not self.context.nominal_mm:
            return None
        return 100.0 * (self.context.nominal_mm - self.wall_mm) / self.context.nominal_mm

    @property
    def can_keep(self) -> bool:
        is_number = self.wall_mm is not None and self.fault is None
        return is_number and (self.confirmed or not self.questions)

    @property
    def entry(self) -> ReadingEntry | None:
        """The reading to record; None while what was typed cannot be kept."""
        wall_mm = self.wall_mm
        if wall_mm is None or self.fault is not None:
            return None
        return ReadingEntry(
            hole=self.ref.hole,
            tube=self.ref.tube,
            wall_mm=wall_mm,
            end=self.end,
            at_mm=self.at_mm,
            clock_h=self.clock_h,
            side=self.side,
            entered_value=float(self.typed),
            entered_unit=self.unit,
            method=self.method,
            instrument=self.instrument,
            surface=self.surface,
            accuracy_mm=self.accuracy_mm,
            in_rolled_zone=self.in_rolled_zone,
            purpose=self.purpose,
            confirmed=self.confirmed,
            note=self.note,
        )

    @property
    def clock_h(self) -> float | None:
        """As stored: seen from the front."""
        if self.clock_seen_h is None:
            return None
        return mirrored_clock_h(self.clock_seen_h) if self.is_mirrored else self.clock_seen_h


def press_digit(form: ReadingForm, digit: str) -> ReadingForm:
    """A digit of the keypad; more than fit are not taken."""
    if len(digit) != 1 or not digit.isdigit() or len(form.typed) >= _MOST_CHARACTERS:
        return form
    typed = digit if form.typed == "0" else form.typed + digit
    return replace(form, typed=typed, confirmed=False)


def press_point(form: ReadingForm) -> ReadingForm:
    if "." in form.typed or len(form.typed) >= _MOST_CHARACTERS:
        return form
    return replace(form, typed=f"{form.typed or '0'}.", confirmed=False)


def press_backspace(form: ReadingForm) -> ReadingForm:
    return replace(form, typed=form.typed[:-1], confirmed=False)


def press_clear(form: ReadingForm) -> ReadingForm:
    return replace(form, typed="", confirmed=False)


def press_unit(form: ReadingForm) -> ReadingForm:
    """The other unit. The digits stay: a slip of the unit is more common than a change of mind."""
    return replace(form, unit=MM if form.unit == INCH else INCH, confirmed=False)


def keep_anyway(form: ReadingForm) -> ReadingForm:
    """The person has read the questions and keeps the wall."""
    return replace(form, confirmed=True)


def say_typed(form: ReadingForm) -> str:
    """What stands in the display, with the wall in the other unit beside it."""
    wall_mm = form.wall_mm
    if wall_mm is None:
        return f"{form.typed} {form.unit}".strip()
    other = f"{wall_mm:.2f} mm" if form.unit == INCH else f"{inches_from_mm(wall_mm):.3f} in"
    return f"{form.typed} {form.unit} ({other})"
