"""What specialist firms measured, side by side with the inspection's own governing walls.

Not here: which wall governs (``readings``), reading a firm's table (``fieldapp.intake``).
"""

from collections import defaultdict
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
    words,
)
from fieldapp.report.tube_words import say_tube
from fieldapp.report.wording import UNKNOWN, say_count, say_mm, say_number, say_word
from model.condition.tubes import TubeCondition
from model.record.line import Record
from model.wall.firm_results import FirmSurvey, survey_of
from model.wall.trusted_readings import thinnest_of

_ABOUT = (
    "The firm's losses in percent are taken from the wall that own readings are compared with: the "
    "first reading of the tube, else its wall as supplied. The thinnest trusted wall governs, own "
    "or the firm's. A firm's table leaves out sound tubes, so it is no sample: no forecast of the "
    "tubes nobody measured is made from it."
)


def build_specialists(numbers: ConditionNumbers) -> Section:
    """A table for each survey of each firm."""
    surveys: dict[FirmSurvey, dict[str, list[Record]]] = defaultdict(lambda: defaultdict(list))
    for record in numbers.inspection.readings:
        survey = survey_of(record.body)
        if survey is not None:
            hole = numbers.boiler.hole_class(record.body["hole"])
            surveys[survey][hole].append(record)
    pieces: list[Piece] = [_table(numbers, survey, surveys[survey]) for survey in sorted(surveys)]
    said = _ABOUT if pieces else "No result of a specialist firm was entered in this inspection."
    return Section(
        key="specialists",
        heading="Specialists' results",
        pieces=(Paragraph(words=said), *pieces),
    )


def _table(
    numbers: ConditionNumbers, survey: FirmSurvey, by_hole: dict[str, list[Record]]
) -> Table:
    compared = [
        _Compared(numbers, each, by_hole[each.hole])
        for each in numbers.tubes
        if each.hole in by_hole
    ]
    compared.sort(key=lambda each: (each.sort_wall_mm, each.tube.tube.key))
    count = say_count(sum(map(len, by_hole.values())), "indication")
    return Table(
        caption=f"{survey.firm}, {say_word(survey.method)}, {survey.date}: {count} on "
        f"{say_count(len(by_hole), 'tube')}, the worst of each, thinnest first",
        columns=(
            Column(heading="tube"),
            Column(heading="indications", is_number=True),
            Column(heading="as the firm states it"),
            Column(heading="from the front sheet", unit="mm", is_number=True),
            Column(heading="the firm's wall", unit="mm", is_number=True),
            Column(heading="own wall", unit="mm", is_number=True),
            Column(heading="the firm's less own", unit="mm", is_number=True),
            Column(heading="governs"),
        ),
        rows=tuple(each.row() for each in compared),
        if_empty="None of these tubes is in the layout any more.",
    )


class _Compared:
    """One tube: the thinnest wall of one survey of a firm, and the thinnest own one."""

    def __init__(
        self, numbers: ConditionNumbers, tube: TubeCondition, records: Sequence[Record]
    ) -> None:
        self.tube = tube
        self._records = records
        of_firm = {record.id: record for record in records}
        own = {r.id for r in numbers.inspection.readings if survey_of(r.body) is None}
        trusted = numbers.trusted.get(tube.hole, ())
        # A firm measures tubes as found, so what was measured on a new tube is not beside it.
        self._firm = thinnest_of(r for r in trusted if r.record in of_firm and not r.is_baseline)
        self._own = thinnest_of(r for r in trusted if r.record in own and not r.is_baseline)
        self._worst = (
            max(records, key=lambda record: (_severity(record), record.id))
            if self._firm is None
            else of_firm[self._firm.record]
        )
        wall = numbers.walls.today.get(tube.hole)
        self._governing = None if wall is None else wall.record

    @property
    def sort_wall_mm(self) -> float:
        return float("inf") if self._firm is None else self._firm.wall_mm

    def row(self) -> Row:
        firm_mm = None if self._firm is None else self._firm.wall_mm
        own_mm = None if self._own is None else self._own.wall_mm
        difference_mm = None if firm_mm is None or own_mm is None else firm_mm - own_mm
        at_mm = self._worst.body["at_mm"]
        return Row(
            cells=(
                Cell(words=say_tube(self.tube.tube), look=tube_look(self.tube)),
                *words(
                    str(len(self._records)),
                    _as_stated(self._worst),
                    UNKNOWN if at_mm is None else say_number(at_mm),
                    say_mm(firm_mm),
                    "not measured" if own_mm is None else say_mm(own_mm),
                    "" if difference_mm is None else f"{difference_mm:+.2f}",
                ),
                self._governs(),
            ),
            tube=self.tube.tube.key,
        )

    def _governs(self) -> Cell:
        if self._firm is None:
            return Cell(words="the firm's does not count", tone=Tone.WATCH)
        if self._governing == self._firm.record:
            return Cell(words="the firm's")
        if self._own is not None and self._governing == self._own.record:
            return Cell(words="own")
        return Cell(words="another survey")


def _severity(record: Record) -> float:
    """How bad an indication is that has no wall to be compared by: its loss in percent."""
    loss_percent = record.body["loss_percent"]
    return 0.0 if loss_percent is None else float(loss_percent)


def _as_stated(record: Record) -> str:
    entered = record.body["entered"]
    if entered is None:
        return UNKNOWN
    if entered["unit"] == "percent":
        return f"{entered['value']:g} % lost"
    return f"{entered['value']:g} {entered['unit']}"
