"""What is known from last time only, and the questions that leaves open.

Not here: what somebody confirmed today.
"""

from fieldapp.drawing.looks import look_of
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Paragraph, Row, Section, Table, columns, words
from fieldapp.report.tube_words import say_state, say_tube
from fieldapp.report.wording import capital
from model.condition.tubes import TubeCondition
from model.record.words import End


def build_carried_states(numbers: ConditionNumbers) -> Section:
    """Questions first, then every end that stands as carried."""
    carried = [(each, end) for each in numbers.tubes for end in End if each.ends_left[end].carried]
    return Section(
        key="carried",
        heading="Carried from last time, and open questions",
        pieces=(
            Table(
                caption="Questions that today's record does not answer",
                columns=columns("tube", "end", "question"),
                rows=tuple(
                    Row(
                        cells=words(each.tube or "", each.end or "", capital(each.words)),
                        tube=each.tube,
                    )
                    for each in numbers.questions
                ),
                if_empty="No leak, split, thin wall or damage of last time is left unanswered.",
            ),
            Table(
                caption="Tube ends that stand as last time, not confirmed today",
                columns=columns("tube", "end", "state", "since", "last said on"),
                rows=tuple(_row(numbers, each, end) for each, end in carried),
                if_empty="Nothing is carried: every plug, leak, split and thinned tube of last "
                "time was looked at today.",
            ),
            Paragraph(
                words="A plug, a leak, a split and a thinned state carry forward until somebody "
                "looks. Sound never does, and no reading counts as today's."
            ),
        ),
    )


def _row(numbers: ConditionNumbers, each: TubeCondition, end: End) -> Row:
    left = each.ends_left[end]
    before = numbers.inspection.carried_in.ends.get((each.hole, end))
    return Row(
        cells=(
            Cell(words=say_tube(each.tube), look=look_of(each, end)),
            *words(
                str(end),
                say_state(left.state, left.leak_at),
                left.since or "",
                before.said_on if before is not None else "",
            ),
        ),
        tube=each.tube.key,
    )
