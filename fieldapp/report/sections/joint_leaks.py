"""Tubes that leak at the joint alone: re-rolling, or what the joint needs, is their remedy.

Not here: leaks of the tube itself (``bad_tubes``).
"""

from fieldapp.drawing.looks import tube_look
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Paragraph, Row, Section, Table, columns, words
from fieldapp.report.sections.bad_tubes import opinions_not_sound, where_found
from fieldapp.report.tube_words import say_people, say_tube, say_tube_left
from model.condition.tubes import TubeCondition


def build_joint_leaks(numbers: ConditionNumbers) -> Section:
    """Joint leaks as left, and those cleared in this outage."""
    left = [each for each in numbers.tubes if each.left.joint_leak_only]
    cleared = [each for each in numbers.tubes if each.found.joint_leak_only and each not in left]
    return Section(
        key="joint-leaks",
        heading="Joint leaks",
        pieces=(
            _table("Leaking at the joint only, as left", numbers, left, "No joint leaks as left."),
            _table(
                "Found leaking at the joint and dealt with in this outage",
                numbers,
                cleared,
                "No joint leak was cleared in this outage.",
            ),
            Paragraph(
                words="A joint leak is not a tube leak and not among the bad tubes. After "
                "re-rolling an end counts as nothing known until somebody looks again."
            ),
        ),
    )


def _table(
    caption: str, numbers: ConditionNumbers, tubes: list[TubeCondition], if_empty: str
) -> Table:
    return Table(
        caption=caption,
        columns=columns("tube", "pass", "where and how found", "by", "as left"),
        rows=tuple(
            Row(
                cells=(
                    Cell(words=say_tube(each.tube), look=tube_look(each)),
                    *words(
                        str(each.tube.pass_),
                        where_found(each),
                        say_people(numbers, opinions_not_sound(each)),
                        say_tube_left(each),
                    ),
                ),
                tube=each.tube.key,
            )
            for each in tubes
        ),
        if_empty=if_empty,
    )
