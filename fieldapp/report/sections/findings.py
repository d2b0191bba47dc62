"""What else was seen at tube ends: each finding with its side, place, extent and grade.

Not here: findings on parts that are no tubes (``parts``).
"""

from fieldapp.drawing.looks import tube_look
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import (
    Cell,
    Column,
    Paragraph,
    Row,
    Section,
    Table,
    Tone,
    drop_empty,
    words,
)
from fieldapp.report.tube_words import say_tube
from fieldapp.report.wording import say_number, say_word
from model.condition.states import Finding
from model.condition.tubes import TubeCondition
from model.record.words import End, Grade

_TONES = {Grade.ACT: Tone.ACT, Grade.WATCH: Tone.WATCH, Grade.NOTE: Tone.PLAIN}
_ORDER = {Grade.ACT: 0, Grade.WATCH: 1, Grade.NOTE: 2}


def build_findings(numbers: ConditionNumbers) -> Section:
    """All findings, those to act on first."""
    found = [
        (each, end, finding)
        for each in numbers.tubes
        for end in End
        for finding in each.ends_found[end].findings
    ]
    found.sort(key=lambda entry: _ORDER[entry[2].grade])
    return Section(
        key="findings",
        heading="Findings at tube ends",
        pieces=(
            drop_empty(
                Table(
                    caption="Findings, those to act on first",
                    columns=(
                        Column(heading="tube"),
                        Column(heading="end"),
                        Column(heading="finding"),
                        Column(heading="side"),
                        Column(heading="from the front sheet", unit="mm", is_number=True),
                        Column(heading="clock, from the front", unit="h", is_number=True),
                        Column(heading="extent", unit="mm", is_number=True),
                        Column(heading="thickness", unit="mm", is_number=True),
                        Column(heading="grade"),
                        Column(heading="note"),
                    ),
                    rows=tuple(_row(numbers, *entry) for entry in found),
                    if_empty="No finding was recorded.",
                ),
            ),
            Paragraph(
                words="A finding to act on makes its tube bad. One from an earlier inspection "
                "stands until somebody looks at that end again without it, or the tube is replaced."
            ),
        ),
    )


def _row(numbers: ConditionNumbers, each: TubeCondition, end: End, finding: Finding) -> Row:
    note = finding.note
    if finding.inspection_date != numbers.inspection.facts.date:
        note = f"from {finding.inspection_date}, not looked at since. {note}".strip()
    if each.is_renewed:
        note = f"tube replaced since. {note}".strip()
    return Row(
        cells=(
            Cell(words=say_tube(each.tube), look=tube_look(each)),
            *words(
                str(end),
                say_word(finding.mechanism),
                finding.side,
                _or_blank(finding.at_mm),
                _or_blank(finding.clock_h),
                _or_blank(finding.extent_mm),
                _or_blank(finding.thickness_mm),
            ),
            Cell(words=str(finding.grade), tone=_TONES[finding.grade]),
            Cell(words=note),
        ),
        tube=each.tube.key,
    )


def _or_blank(value: float | None) -> str:
    return "" if value is None else say_number(value)
