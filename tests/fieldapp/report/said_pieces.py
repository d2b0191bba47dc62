"""What pieces of a section say, as text; and the costs of the boiler whose advice is shown.

Not here: the advice (``invented_advice``).
"""

from dataclasses import replace
from types import MappingProxyType

from fieldapp.report.pieces import (
    Blanks,
    Chart,
    Facts,
    Figures,
    Paragraph,
    Points,
    Table,
    Verdict,
)

COSTS = {
    "currency": "USD",
    "labour_per_hour": {"value": 95.0, "source": "quoted"},
    "hours_per_tube": {"value": {"rolled": 2.5, "welded": 4.0}, "source": "owner"},
    "discount_percent": {"value": 7.0, "source": "owner"},
    "new_boiler": {"value": 420_000.0, "source": "assumed"},
    "deductible": {"value": 10_000.0, "source": "owner"},
}
OUTAGE = {"next": "2027-07-12", "tube_lead_weeks": 9.0, "interval_years": 2.0}


def with_settings(numbers, **settings):
    merged = MappingProxyType({**numbers.facts.settings, **settings})
    return replace(numbers, facts=replace(numbers.facts, settings=merged))


def said(section):
    """All words of a section, in the order in which they stand."""
    return "\n".join(words for piece in section.pieces for words in words_of(piece))


def words_of(piece):
    if isinstance(piece, Paragraph):
        yield from (piece.heading or "", piece.words)
    elif isinstance(piece, Verdict):
        yield piece.words
    elif isinstance(piece, Points):
        yield from (piece.heading or "", *piece.items)
    elif isinstance(piece, Figures):
        for figure in piece.items:
            yield from (figure.value, figure.words, figure.detail)
    elif isinstance(piece, Blanks):
        for line in piece.lines:
            yield from line
    elif isinstance(piece, Facts):
        for pair in piece.pairs:
            yield from pair
    elif isinstance(piece, Table):
        yield piece.caption
        for row in piece.rows:
            yield " | ".join(cell.words for cell in row.cells)
    elif isinstance(piece, Chart):
        yield from (piece.title, piece.caption)


def table(section, caption):
    (found,) = [
        piece
        for piece in section.pieces
        if isinstance(piece, Table) and piece.caption.startswith(caption)
    ]
    return found


def charts(section):
    return [piece for piece in section.pieces if isinstance(piece, Chart)]
