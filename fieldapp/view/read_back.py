"""Tubes that a caller meant, said back both ways: counted from the left as seen, and by key.

At a mirrored face the two run against each other, so one alone would be misheard. Pure. Not here:
what a line means (``caller``).
"""

from collections.abc import Sequence

from fieldapp.view.face_map import TubeEnd
from fieldapp.view.mark_words import say_count, say_ordinal


def say_ends(ends: Sequence[TubeEnd]) -> str:
    """Where tube ends of a face are; those of one row are counted together."""
    rows: dict[tuple[int, int], list[TubeEnd]] = {}
    for end in ends:
        rows.setdefault((end.pass_number, end.row), []).append(end)
    said = "; ".join(
        f"pass {pass_}, row {row}, {_say_in_row(of_row)}" for (pass_, row), of_row in rows.items()
    )
    return said[:1].upper() + said[1:]


def _say_in_row(ends: Sequence[TubeEnd]) -> str:
    if len(ends) == 1:
        return f"{say_ordinal(ends[0].column_seen)} from the left, {ends[0].label}"
    in_order = sorted(ends, key=lambda end: end.column_seen)
    seen = _say_runs([end.column_seen for end in in_order])
    columns = _say_runs([end.column for end in in_order])
    return f"{say_count(len(ends), 'tube')}, {seen} from the left, columns {columns} of the key"


def _say_runs(numbers: Sequence[int]) -> str:
    """``1 to 3, 5``; runs may go down as well, as columns do at a mirrored face."""
    runs: list[list[int]] = []
    for number in numbers:
        last = runs[-1] if runs else []
        step = number - last[-1] if last else 0
        if step in (1, -1) and (len(last) == 1 or last[1] - last[0] == step):
            last.append(number)
        else:
            runs.append([number])
    return ", ".join(
        f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs
    )
