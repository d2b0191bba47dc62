"""What changed since the inspection before: every tube whose state is another one.

Not here: what is carried unchanged (``carried_states``).
"""

from collections import Counter

from fieldapp.drawing.looks import tube_look
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Paragraph, Piece, Row, Section, Table, columns, words
from fieldapp.report.tube_words import say_state, say_tube
from fieldapp.report.wording import say_count, say_list
from model.condition.tubes import TubeCondition


def build_changes(numbers: ConditionNumbers) -> Section:
    """Changes as left then to as left now."""
    heading = "What changed since last time"
    if numbers.previous is None:
        first = Paragraph(words="This is the first inspection on record; there is no last time.")
        return Section(key="changes", heading=heading, pieces=(first,))
    tubes = {each.tube.key: each for each in numbers.tubes}
    kinds = Counter(
        (say_state(each.before, leak_known=False), say_state(each.after, leak_known=False))
        for each in numbers.changes
    )
    summary = say_list(
        f"{say_count(count, 'tube')} from {before} to {after}"
        for (before, after), count in sorted(kinds.items())
    )
    pieces: list[Piece] = [
        Paragraph(
            words=f"Against the inspection of {numbers.previous.facts.date}, both as left: "
            + (f"{summary}." if summary else "no tube has another state.")
        ),
        Table(
            caption="Tubes with another state than as left last time",
            columns=columns("tube", "pass", "last time", "now"),
            rows=tuple(
                Row(
                    cells=(
                        Cell(
                            words=say_tube(tubes[each.tube].tube), look=tube_look(tubes[each.tube])
                        ),
                        *words(
                            str(tubes[each.tube].tube.pass_),
                            say_state(each.before, leak_known=False),
                            say_state(each.after, leak_known=False)
                            + _new_tube(numbers, tubes[each.tube]),
                        ),
                    ),
                    tube=each.tube,
                )
                for each in numbers.changes
            ),
            if_empty="No tube has another state than last time.",
        ),
        Paragraph(
            words="Only tubes with a known state at both times are compared; a tube replaced and "
            "not looked at since is under the work done."
        ),
    ]
    return Section(key="changes", heading=heading, pieces=tuple(pieces))


def _new_tube(numbers: ConditionNumbers, tube: TubeCondition) -> str:
    """Says where another tube stands in the hole than last time."""
    before = numbers.previous.carried_out.life(tube.hole) if numbers.previous is not None else None
    if before is None or before.number == tube.life.number:
        return ""
    return f", a new tube since {tube.life.since}"
