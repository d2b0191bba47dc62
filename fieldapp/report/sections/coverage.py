"""How many tube ends were looked at, per pass, how, and why others were not.

Not here: percentages of tubes (``pass_counts``).
"""

from collections import defaultdict

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Column, Paragraph, Row, Section, Table, columns, words
from fieldapp.report.tube_words import say_tube
from fieldapp.report.wording import say_list, say_percent, say_word
from model.condition.coverage import Coverage, tubes_in_scope
from model.record.words import End

_LONGEST_LIST = 40


def build_coverage(numbers: ConditionNumbers) -> Section:
    """Ends by how they are known, tubes by ends looked at, and the ends nobody looked at."""
    return Section(
        key="coverage",
        heading="Coverage: which tube ends were looked at",
        pieces=(
            _ends(numbers),
            _tubes(numbers),
            _not_looked_at(numbers),
            Paragraph(
                words="Coverage counts ends of the scope. Seen, from paper and by row are looks; "
                "an end that was filled in with the rest of its row was not looked at, and what "
                "is carried from last time is not counted as inspected."
            ),
        ),
    )


def _per_pass(numbers: ConditionNumbers) -> list[tuple[str, Coverage]]:
    return [
        *((str(number), each) for number, each in numbers.coverage_by_pass),
        ("all in scope", numbers.coverage),
    ]


def _ends(numbers: ConditionNumbers) -> Table:
    names = ("ends", "seen", "from paper", "by row", "looked at", "filled in", "not inspected")
    return Table(
        caption="Tube ends by how they are known",
        columns=(Column(heading="pass"), *(Column(heading=n, is_number=True) for n in names)),
        rows=tuple(
            Row(
                cells=words(
                    name,
                    *map(str, (each.ends, each.seen, each.paper, each.by_row)),
                    f"{each.looked_at} ({say_percent(each.looked_at_percent)})",
                    *map(str, (each.filled, each.not_inspected)),
                ),
                is_total=each is numbers.coverage,
            )
            for name, each in _per_pass(numbers)
        ),
        if_empty="No tube is in the scope.",
    )


def _tubes(numbers: ConditionNumbers) -> Table:
    names = ("both ends", "front end only", "rear end only", "no end")
    return Table(
        caption="Tubes by ends looked at",
        columns=(Column(heading="pass"), *(Column(heading=n, is_number=True) for n in names)),
        rows=tuple(
            Row(
                cells=words(
                    name,
                    *map(
                        str,
                        (
                            each.tubes_both_ends,
                            each.tubes_front_only,
                            each.tubes_rear_only,
                            each.tubes_no_end,
                        ),
                    ),
                ),
                is_total=each is numbers.coverage,
            )
            for name, each in _per_pass(numbers)
        ),
        if_empty="No tube is in the scope.",
    )


def _not_looked_at(numbers: ConditionNumbers) -> Table:
    """Ends that nobody looked at, by pass, end and reason."""
    groups: dict[tuple[int, End, str], list[str]] = defaultdict(list)
    for each in tubes_in_scope(numbers.tubes, numbers.inspection.facts):
        for end, found in each.ends_found.items():
            if not found.is_looked_at:
                reason = say_word(found.reason) if found.reason is not None else "no reason given"
                if found.how is not None:
                    reason = "filled in, not looked at"
                groups[each.tube.pass_, end, reason].append(say_tube(each.tube))
    rows = [
        Row(
            cells=(
                *words(str(pass_), str(end), reason, str(len(tubes))),
                Cell(words=_some(tubes)),
            )
        )
        for (pass_, end, reason), tubes in sorted(groups.items())
    ]
    return Table(
        caption="Tube ends in scope that nobody looked at",
        columns=columns("pass", "end", "why", "ends", "tubes"),
        rows=tuple(rows),
        if_empty="Somebody looked at every tube end in scope.",
    )


def _some(tubes: list[str]) -> str:
    if len(tubes) <= _LONGEST_LIST:
        return say_list(tubes)
    return f"{', '.join(tubes[:_LONGEST_LIST])} and {len(tubes) - _LONGEST_LIST} more"
