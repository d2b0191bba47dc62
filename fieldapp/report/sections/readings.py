"""Walls measured: the governing wall of each tube, its loss, and where it stands.

Not here: rates and remaining life (``tube_lives``).
"""

from collections.abc import Sequence

from fieldapp.drawing.looks import tube_look
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import (
    Cell,
    Column,
    Paragraph,
    Piece,
    Row,
    Section,
    Table,
    Tone,
    columns,
    words,
)
from fieldapp.report.sections.repeatability import build_repeatability
from fieldapp.report.sections.tube_lives import build_tube_lives
from fieldapp.report.tube_words import say_tube
from fieldapp.report.wall_words import ERROR_NOT_STATED, say_wall_read
from fieldapp.report.wording import say_count, say_list, say_mm, say_number, say_percent, say_word
from model.condition.tubes import TubeCondition
from model.record.line import Record
from model.wall.governing import GoverningWall, WallVerdict

_VERDICTS = {
    WallVerdict.ABOVE: ("above", Tone.GOOD),
    WallVerdict.WITHIN_ERROR: ("within the gauge's error", Tone.WATCH),
    WallVerdict.BELOW: ("below", Tone.ACT),
}


def build_readings(numbers: ConditionNumbers) -> Section:
    """Governing walls, thinnest first."""
    records = {record.id: record for record in numbers.inspection.readings}
    walls = [(each, wall) for each in numbers.tubes if (wall := numbers.wall_of(each)) is not None]
    walls.sort(key=lambda entry: (entry[1].wall_mm, entry[0].tube.key))
    pieces: list[Piece] = [
        Paragraph(words=_retirement(numbers)),
        *_errors_not_stated([wall for _, wall in walls]),
        Table(
            caption="Governing wall of each tube measured, thinnest first",
            columns=(
                Column(heading="tube"),
                Column(heading="wall", unit="mm", is_number=True),
                Column(heading="gauge's error", unit="mm", is_number=True),
                Column(heading="loss since first reading", is_number=True),
                Column(heading="below wall as supplied", is_number=True),
                Column(heading="against the retirement wall"),
                Column(heading="end"),
                Column(heading="from the front sheet", unit="mm", is_number=True),
                Column(heading="clock, from the front", unit="h", is_number=True),
                Column(heading="how and why"),
                Column(heading="readings", is_number=True),
            ),
            rows=tuple(_row(numbers, each, wall, records) for each, wall in walls),
            if_empty="No wall was measured in this inspection.",
        ),
    ]
    thin = [
        f"{say_tube(each.tube)} ({say_percent(wall.worst_loss_percent)})"
        for each, wall in walls
        if each.is_measured_thin and each.left.state == "sound"
    ]
    if thin:
        pieces.append(
            Paragraph(
                heading="Said sound, measured thin",
                tone=Tone.WATCH,
                words=f"{say_list(thin)}: beyond the note threshold of "
                f"{numbers.facts.note_percent:g} % since the first reading or below the wall as "
                "supplied, whichever is more. A reading never changes what a person said.",
            )
        )
    pieces += [
        *build_tube_lives(numbers),
        _earlier(numbers),
        *build_repeatability(numbers),
        Paragraph(words=_not_trusted(numbers)),
    ]
    return Section(key="readings", heading="Wall readings", pieces=tuple(pieces))


def _retirement(numbers: ConditionNumbers) -> str:
    retirement = numbers.retirement
    if retirement.wall_mm is None:
        return retirement.why_not or "No retirement wall is known."
    return (
        f"Retirement wall {say_number(retirement.wall_mm)} mm. Basis: "
        f"{retirement.basis or 'no basis given'}"
    )


def _errors_not_stated(walls: Sequence[GoverningWall]) -> list[Piece]:
    """That a wall is judged as it was read where nobody said how far the gauge may be wrong."""
    count = sum(not wall.is_accuracy_known for wall in walls)
    if not count:
        return []
    return [
        Paragraph(
            words=f"For {count} of {say_count(len(walls), 'governing wall')} nobody stated the "
            "gauge's error: they are judged as read, as if the gauge were exact. A wall close to "
            "the retirement wall may stand on its other side."
        )
    ]


def _row(
    numbers: ConditionNumbers,
    each: TubeCondition,
    wall: GoverningWall,
    records: dict[str, Record],
) -> Row:
    verdict, tone = ("not judged", Tone.PLAIN) if wall.verdict is None else _VERDICTS[wall.verdict]
    if wall.verdict is not None and not wall.is_accuracy_known:
        verdict = f"{verdict}, {ERROR_NOT_STATED}"
    count = sum(
        numbers.boiler.hole_class(record.body["hole"]) == each.hole for record in records.values()
    )
    return Row(
        cells=(
            Cell(words=say_tube(each.tube), look=tube_look(each)),
            *words(
                say_mm(wall.wall_mm),
                say_mm(wall.accuracy_mm) if wall.is_accuracy_known else "not stated",
                _since_first(wall),
                say_percent(wall.nominal_loss_percent),
            ),
            Cell(words=verdict, tone=tone),
            *words(*_where_and_how(records.get(wall.record)), str(count)),
        ),
        tube=each.tube.key,
    )


def _since_first(wall: GoverningWall) -> str:
    """Loss since the tube's first reading; the first one has nothing to be compared with."""
    if wall.loss_percent is None or wall.is_first_reading:
        return "first reading"
    return f"{say_percent(wall.loss_percent)} of {say_mm(wall.reference_mm)} mm"


def _where_and_how(record: Record | None) -> tuple[str, str, str, str]:
    """End, place, clock, and the method and purpose of a reading, as far as it says."""
    if record is None:
        return "", "", "", ""
    body = record.body
    place, clock = (
        "" if body[name] is None else say_number(body[name]) for name in ("at_mm", "clock_h")
    )
    how = [say_word(body[name]) for name in ("method", "purpose") if body[name]]
    entered = body["entered"]
    if entered is not None and entered["unit"] != "mm":
        how.append(f"entered as {entered['value']:g} {entered['unit']}")
    return body["end"] or "", place, clock, ", ".join(how)


def _earlier(numbers: ConditionNumbers) -> Table:
    keys = {each.hole: each for each in numbers.tubes}
    below = numbers.walls.below_from_earlier
    return Table(
        caption="Below the retirement wall when last measured, not measured today",
        columns=columns("tube", "wall, mm", "measured on"),
        rows=tuple(
            Row(
                cells=words(say_tube(keys[hole].tube), say_wall_read(wall), wall.measured_on),
                tube=keys[hole].tube.key,
            )
            for hole, wall in sorted(below.items(), key=lambda entry: entry[1].wall_mm)
            if hole in keys
        ),
        if_empty="No tube is counted as below the retirement wall from an earlier inspection.",
    )


def _not_trusted(numbers: ConditionNumbers) -> str:
    """Which readings govern, and which were kept but do not."""
    rolled = sum(bool(record.body["in_rolled_zone"]) for record in numbers.inspection.readings)
    total = len(numbers.inspection.readings)
    return (
        f"{say_count(total, 'reading')} in this inspection, {rolled} of them in the rolled zone. "
        "The thinnest trusted reading of the tube now in its hole governs; readings in the rolled "
        "zone and unlikely ones that nobody confirmed do not. A new tube may measure up to 22 % "
        "over the wall ordered, so its first reading is the better start."
    )
