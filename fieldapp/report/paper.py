"""The sheets of paper that people print on.

Not here: margins and what stands on a page.
"""

from collections.abc import Mapping
from enum import StrEnum


class Paper(StrEnum):
    """Paper of the report."""

    A4 = "a4"
    LETTER = "letter"


class MapPaper(StrEnum):
    """Paper of the maps that are filled in by hand."""

    A4 = "a4"
    A3 = "a3"
    LETTER = "letter"


# Source: ISO 216 for A4 and A3; US Letter is 8 1/2 by 11 inches.
_UPRIGHT_MM: Mapping[str, tuple[float, float]] = {
    "a4": (210.0, 297.0),
    "a3": (297.0, 420.0),
    "letter": (215.9, 279.4),
}


def page_size_mm(paper: Paper | MapPaper) -> tuple[float, float]:
    """Width and height of the upright page [mm].

    >>> page_size_mm(Paper.A4)
    (210.0, 297.0)
    """
    return _UPRIGHT_MM[paper.value]
