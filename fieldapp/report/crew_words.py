"""The tasks of a row in the words of a chalk list, alike on the terminal and on the tablet.

Not here: which tasks there are (``crew_tasks``).
"""

from collections.abc import Iterable, Sequence
from itertools import groupby

from fieldapp.report.crew_tasks import AS_DECIDED, ORDER, Task

COUNT_FROM_THE_LEFT = (
    "Count from the left as you stand there; the number in brackets is the column of the tube's "
    "key and of the map, which counts from the right here."
)
"""Said at a mirrored face."""
TO_BE_ACCEPTED = "What is plugged, rolled or welded must be accepted first; see the report."
PLUG_OR_REPLACE_IS_DECIDED = (
    "Plug or replace is decided by the owner: see 'The tubes of the option' in the report."
)


def decision_lines(tasks: Iterable[Task]) -> list[str]:
    """Who decides, where a task waits for it; nothing where none does."""
    return [PLUG_OR_REPLACE_IS_DECIDED] if any(each.do in AS_DECIDED for each in tasks) else []


def say_row(tasks: Sequence[Task], *, with_key_columns: bool) -> str:
    """``3, 7, 8 plug; 1-2, 9 look``; with the keys' columns ``3 (9), 7 (5) plug``."""
    parts = []
    for do in ORDER:
        of_do = [task for task in tasks if task.do == do]
        if of_do and with_key_columns:
            parts.append(f"{', '.join(f'{t.column} ({t.key_column})' for t in of_do)} {do}")
        elif of_do:
            parts.append(f"{say_numbers([task.column for task in of_do])} {do}")
    return "; ".join(parts)


def say_numbers(numbers: Sequence[int]) -> str:
    """Numbers in order, three or more in a run joined.

    >>> say_numbers([1, 2, 3, 4, 7, 8])
    '1-4, 7, 8'
    """
    parts: list[str] = []
    ordered = sorted(numbers)
    for _, run_of in groupby(enumerate(ordered), key=lambda item: item[1] - item[0]):
        members = [number for _, number in run_of]
        if len(members) > 2:
            parts.append(f"{members[0]}-{members[-1]}")
        else:
            parts += map(str, members)
    return ", ".join(parts)
