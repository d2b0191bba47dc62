"""The finding and the wall reading that a row of ``observations.csv`` may carry.

``at_mm``, ``clock`` and ``side`` say where: of the reading, of the finding, or of both. Not here:
states, leaks and plugs (``observations``).
"""

from collections.abc import Callable
from dataclasses import dataclass

from fieldapp.intake.rows import Length, Row
from model.record.words import Grade, Mechanism, Purpose, ReadingMethod, Side, Surface

WALL_QUESTION_FACTOR = 1.3
"""New minimum-wall tubes may measure 22 % over nominal; beyond 30 % a slip is more likely."""
THIN_QUESTION_PART = 0.25
"""Below a quarter of nominal (ours) a wall typed in inches is likelier than a tube that stood."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where on a tube."""

    at_mm: float | None
    clock_h: float | None
    side: Side


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingRow:
    """What else was seen at the end of the row."""

    mechanism: Mechanism
    side: Side
    at_mm: float | None
    """From the outer face of the front sheet."""
    clock_h: float | None
    """As seen from the front."""
    extent_mm: float | None
    thickness_mm: float | None
    grade: Grade


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingRow:
    """A wall as measured: a thickness or a loss, never both."""

    wall_mm: float | None
    loss_percent: float | None
    entered_value: float
    """The number that stood in the file, in ``entered_unit``."""
    entered_unit: str
    at_mm: float | None
    clock_h: float | None
    side: Side
    method: ReadingMethod | None
    instrument: str | None
    surface: Surface | None
    accuracy_mm: float | None
    in_rolled_zone: bool
    purpose: Purpose


def read_place(row: Row) -> Place:
    return Place(
        at_mm=row.length_mm("at_mm", least=-50_000, most=50_000),
        clock_h=row.clock(),
        side=row.word("side", Side) or Side.UNKNOWN,
    )


def read_finding(row: Row, place: Place, *, leak_takes_place: bool) -> FindingRow | None:
    """The finding of a row: there is one when ``mechanism`` is given.

    A state with a grade, an extent or a thickness but no mechanism is a finding of mechanism
    ``other``, so that what was written is not lost; the same for a place, unless it is that of the
    row's reading or of a leak in the bore.
    """
    mechanism = row.word("mechanism", Mechanism)
    grade = row.word("grade", Grade)
    extent_mm = row.length_mm("extent_mm", least=0, most=50_000)
    thickness_mm = row.length_mm("thickness_mm", least=0, most=1_000)
    if mechanism is None:
        if row.has("mechanism") or not _is_left_over(row, leak_takes_place):
            return None
        mechanism = Mechanism.OTHER
    return FindingRow(
        mechanism=mechanism,
        side=place.side,
        at_mm=place.at_mm,
        clock_h=place.clock_h,
        extent_mm=extent_mm,
        thickness_mm=thickness_mm,
        grade=grade or Grade.NOTE,
    )


def _is_left_over(row: Row, leak_takes_place: bool) -> bool:
    """Whether cells tell of a finding although none is named; a fault where no end is observed."""
    own = [column for column in ("grade", "extent_mm", "thickness_mm") if row.has(column)]
    if not has_reading(row):
        own += [column for column in ("clock", "side") if row.has(column)]
        if row.has("at_mm") and not leak_takes_place:
            own.append("at_mm")
    if own and not row.has("state") and not row.has("reason"):
        row.fault(own[0], "belongs to a finding, which needs a state or a reason beside it.")
        return False
    return bool(own)


def has_reading(row: Row) -> bool:
    """Whether the row gives a wall, readable or not."""
    return row.has("wall_mm") or row.has("loss_percent")


def read_reading(row: Row, place: Place) -> ReadingRow | None:
    """The reading of a row: there is one when ``wall_mm`` or ``loss_percent`` is given.

    How it was measured is dropped from a row without one: whole columns are often filled down.
    """
    method = row.word("method", ReadingMethod)
    surface = row.word("surface", Surface)
    accuracy_mm = row.length_mm("accuracy_mm", least=0, most=100)
    in_rolled_zone = row.yes_no("in_rolled_zone")
    purpose = row.word("purpose", Purpose)
    wall = row.length("wall_mm", above=0, most=100)
    loss_percent = row.number("loss_percent", least=0, most=100)
    if row.has("wall_mm") and row.has("loss_percent"):
        row.fault("loss_percent", "stands beside a wall; keep one of them.")
        return None
    entered = _entered(wall, loss_percent)
    if entered is None:
        return None
    return ReadingRow(
        wall_mm=None if wall is None else wall.mm,
        loss_percent=loss_percent,
        entered_value=entered[0],
        entered_unit=entered[1],
        at_mm=place.at_mm,
        clock_h=place.clock_h,
        side=place.side,
        method=method,
        instrument=row.text("instrument"),
        surface=surface,
        accuracy_mm=accuracy_mm,
        in_rolled_zone=bool(in_rolled_zone),
        # Only planned readings are an unbiased sample, so one that does not say is not counted so.
        purpose=purpose or Purpose.SUSPECT,
    )


def _entered(wall: Length | None, loss_percent: float | None) -> tuple[float, str] | None:
    if wall is not None:
        return wall.entered, wall.unit
    return None if loss_percent is None else (loss_percent, "percent")


def wall_question(
    line: int,
    tube: str,
    reading: ReadingRow | None,
    nominal_wall_mm: Callable[[str], float | None],
) -> str | None:
    """What to ask about a wall that is thicker than a new tube can be, or hardly there.

    ``None`` when there is nothing to ask.
    """
    if reading is None or reading.wall_mm is None:
        return None
    nominal = nominal_wall_mm(tube)
    if nominal is None:
        return None
    # The tiny factor keeps a wall of exactly 1.3 times, which binary fractions put above it.
    if reading.wall_mm > nominal * WALL_QUESTION_FACTOR * (1 + 1e-9):
        what, hint = f"more than {WALL_QUESTION_FACTOR:g} times", ""
    elif reading.wall_mm < nominal * THIN_QUESTION_PART * (1 - 1e-9):
        what = "less than a quarter of"
        hint = " is it in inches?" if reading.entered_unit == "mm" else ""
    else:
        return None
    given = f"{reading.entered_value:g} {reading.entered_unit}"
    if reading.entered_unit != "mm":
        given += f" ({reading.wall_mm:g} mm)"
    return (
        f"line {line}, wall_{reading.entered_unit}: {given} is {what} the nominal wall of {tube}, "
        f"{nominal:g} mm;{hint} correct it, or confirm it."
    )
