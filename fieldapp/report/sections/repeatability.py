"""How well repeated readings of one place agree, beside the error that the gauge is said to have.

Part of the section of wall readings. Not here: the figures (``model.wall.repeatability``).
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Column, Paragraph, Piece, Row, Table, Tone, words
from fieldapp.report.wording import UNKNOWN, say_mm, say_word
from model.wall.repeatability import GaugeRepeatability


def build_repeatability(numbers: ConditionNumbers) -> list[Piece]:
    """A row for each gauge with which a place was read more than once, or that none was."""
    if not numbers.repeatability:
        return [Paragraph(words=_NONE)]
    return [
        Table(
            caption="Repeatability: readings of one place against each other",
            columns=(
                Column(heading="gauge"),
                Column(heading="places", is_number=True),
                Column(heading="readings", is_number=True),
                Column(heading="standard deviation", unit="mm", is_number=True),
                Column(heading="degrees of freedom", is_number=True),
                Column(heading="gauge's error as stated", unit="mm", is_number=True),
                Column(heading="against it"),
            ),
            rows=tuple(_row(each) for each in numbers.repeatability),
            if_empty=_NONE,
        ),
        Paragraph(words=_HOW),
    ]


_NONE = (
    "No place was read twice with one gauge (same tube, end, distance and clock), so how well "
    "readings repeat is not known."
)

_HOW = (
    "Repeatability is the scatter within a place, all places of a gauge pooled; few degrees of "
    "freedom say little. About 19 of 20 readings lie within twice the standard deviation, which is "
    "held against the gauge's error. It does not show a gauge that was set wrongly: all its "
    "readings may agree and be wrong."
)


def _row(each: GaugeRepeatability) -> Row:
    against = Cell(words="within")
    if each.accuracy_mm is None:
        against = Cell(words="nobody stated it")
    elif each.is_beyond_stated_error:
        against = Cell(words="scatters more", tone=Tone.WATCH)
    named = [each.instrument, None if each.method is None else say_word(each.method)]
    return Row(
        cells=(
            *words(
                ", ".join(name for name in named if name) or UNKNOWN,
                str(each.places),
                str(each.readings),
                say_mm(each.deviation_mm, 3),
                str(each.degrees_of_freedom),
                say_mm(each.accuracy_mm),
            ),
            against,
        )
    )
