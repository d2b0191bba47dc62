"""What published rules ask of new tubes: for information, beside the retirement wall.

Not here: the retirement wall and the readings that are judged by it (``readings``).
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Column, Paragraph, Row, Section, Table, Tone
from fieldapp.report.wording import UNKNOWN, say_mm, say_number
from model.wall.retirement import NewTubeCheck

_VERDICTS = {
    True: Cell(words="this rule rejects the tubes as new", tone=Tone.WATCH),
    False: Cell(words="the tubes as supplied meet it"),
    None: Cell(words=UNKNOWN),
}


def build_new_tube_rules(numbers: ConditionNumbers) -> Section:
    """Each rule with its wall at the MAWP."""
    mawp_mpa = numbers.facts.mawp_mpa
    at = "" if mawp_mpa is None else f" at the MAWP of {say_number(mawp_mpa)} MPa"
    return Section(
        key="new-tube-rules",
        heading="Rules for new tubes",
        pieces=(
            Paragraph(
                words=f"For information: the wall that rules ask of a new plain tube{at}, without "
                "any allowance. They differ by a third from each other and are no limits of wear; "
                "the retirement wall is another question."
            ),
            Table(
                caption="Wall of a new tube by each rule",
                columns=(
                    Column(heading="rule"),
                    Column(heading="outside diameter", unit="mm", is_number=True),
                    Column(heading="wall as supplied", unit="mm", is_number=True),
                    Column(heading="wall by the rule", unit="mm", is_number=True),
                    Column(heading="tubes as supplied"),
                    Column(heading="notes and source"),
                ),
                rows=tuple(_row(each) for each in numbers.new_tube_rules),
                if_empty="No rule is known.",
            ),
        ),
    )


def _row(each: NewTubeCheck) -> Row:
    return Row(
        cells=(
            Cell(words=each.rule.value),
            Cell(words="" if each.od_mm is None else say_number(each.od_mm)),
            Cell(words=say_mm(each.supplied_mm)),
            Cell(words=say_mm(each.wall_mm)),
            _VERDICTS[each.rejects_as_new],
            Cell(words=each.note),
        )
    )
