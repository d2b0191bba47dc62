"""Every tube, end by end: the maps in words.

Not here: why a tube is bad (``bad_tubes``).
"""

from fieldapp.drawing.looks import tube_look
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Column, Row, Section, Table, words
from fieldapp.report.tube_words import NOT_INSPECTED, say_end_found, say_tube, say_tube_left
from fieldapp.report.wording import say_mm
from model.condition.tubes import TubeCondition
from model.record.words import End


def build_every_tube(numbers: ConditionNumbers) -> Section:
    """One row a tube, in the layout's order."""
    return Section(
        key="every-tube",
        heading="Every tube, end by end",
        pieces=(
            Table(
                caption="Every tube: ends as found, tube as left",
                columns=(
                    Column(heading="tube"),
                    Column(heading="pass"),
                    Column(heading="front end as found"),
                    Column(heading="rear end as found"),
                    Column(heading="as left"),
                    Column(heading="wall", unit="mm", is_number=True),
                ),
                rows=tuple(_row(numbers, each) for each in numbers.tubes),
                if_empty="The boiler has no tubes on record.",
                is_folded=True,
            ),
        ),
    )


def _row(numbers: ConditionNumbers, each: TubeCondition) -> Row:
    wall = numbers.wall_of(each)
    return Row(
        cells=(
            Cell(words=say_tube(each.tube), look=tube_look(each)),
            *words(
                str(each.tube.pass_),
                *(say_end_found(each.ends_found[end]) for end in End),
                say_tube_left(each),
                "" if wall is None else say_mm(wall.wall_mm),
            ),
        ),
        tube=each.tube.key,
        state=NOT_INSPECTED if each.left.state is None else str(each.left.state),
    )
