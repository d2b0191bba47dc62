"""The columns of a table in a command's help, with the words allowed in them.

They are taken from what the intake itself reads by. Not here: the columns (``fieldapp.intake``).
"""

import textwrap
from collections.abc import Iterator

from fieldapp.intake.tables import Columns, inch_twin

_WIDTH = 78
_NAMES_WIDTH = 22
_UNITS = ("_mm", "_mpa", "_c", "_percent", "_minutes")


def column_help(columns: Columns) -> str:
    """One line or more for each column, the needed ones first."""
    lines = [line for name in columns.required for line in _column(columns, name, "needed: ")]
    lines += [line for name in columns.optional for line in _column(columns, name, "")]
    return "\n".join(("columns of FILE, by the names in its first line:", *lines))


def _column(columns: Columns, name: str, lead: str) -> Iterator[str]:
    twin = inch_twin(name)
    shown = name if twin is None else f"{name} (or _in)"
    wrapped = textwrap.wrap(
        lead + _content(columns, name), _WIDTH - _NAMES_WIDTH - 2, break_on_hyphens=False
    )
    for number, words in enumerate(wrapped):
        yield f"  {shown if number == 0 else '':{_NAMES_WIDTH}}{words}"


def _content(columns: Columns, name: str) -> str:
    if name in columns.words:
        return f"one of {', '.join(columns.words[name])}"
    return columns.about.get(name) or ("a number" if name.endswith(_UNITS) else "in words")
