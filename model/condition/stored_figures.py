"""Figures and words of the stored settings, as far as they can be meant.

Settings are free content, and another program may have stored anything: what cannot be meant counts
as not stated. Not here: which figures there are, and files that people type (``fieldapp.intake``).
"""

from collections.abc import Mapping
from typing import Any, Final

SHORTEST_INTERVAL_YEARS: Final = 0.1
"""Ours: between outages. A shorter one is a slip, and thousands of outages cannot be worked out."""

LONGEST_YEARS: Final = 100.0
LONGEST_LEAD_WEEKS: Final = 1000.0
MOST_KW: Final = 1e6

_LONGEST_SAID = 40


def stored_figure(value: object, *, least: float = 0.0, most: float) -> float | None:
    """A number within its bounds, None of anything else.

    >>> stored_figure(3, most=10.0), stored_figure(True, most=10.0), stored_figure("3", most=10.0)
    (3.0, None, None)
    """
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    # Compared first: a whole number may be too large to become a decimal, and no nan passes.
    return float(value) if least <= value <= most else None


def stored_size_mm(value: object, *, most: float) -> float | None:
    """A size, which nothing has none of."""
    return stored_figure(value, most=most) or None


def stored_text(value: object) -> str | None:
    """Words, None where there are none."""
    return (value.strip() or None) if isinstance(value, str) else None


def stored_years(outage: Mapping[str, Any], name: str) -> float | None:
    """An interval of ``[outage]``; one that is too short counts as the shortest there is."""
    years = stored_figure(outage.get(name), most=LONGEST_YEARS)
    return max(years, SHORTEST_INTERVAL_YEARS) if years else None


def stored_lead_weeks(outage: Mapping[str, Any]) -> float | None:
    """How long new tubes take to come, ``[outage] tube_lead_weeks``."""
    return stored_figure(outage.get("tube_lead_weeks"), most=LONGEST_LEAD_WEEKS)


def shown(value: object) -> str:
    """What somebody entered, short enough for a sentence."""
    said = repr(value)
    return said if len(said) <= _LONGEST_SAID else f"{said[:_LONGEST_SAID]}..."
