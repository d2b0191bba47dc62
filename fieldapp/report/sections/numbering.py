"""How tubes are numbered and places are given: no standard prescribes it, so the report says it.

Not here: the maps themselves.
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Points, Section


def build_numbering(numbers: ConditionNumbers) -> Section:
    """The convention, the owner's own words first."""
    own = numbers.facts.numbering_note.strip()
    items = [
        *([own if own.endswith(".") else f"{own}."] if own else []),
        "Keys without another meaning read pass, row from the top, column from the left, all seen "
        "from the front: P2-R03-C11. A key is a name; it stays with its hole when a layout is "
        "revised.",
        "Pass 1 is the furnace; tube passes are 2 and above. The front is the burner end, and "
        "each end of a tube is named front or rear.",
        "Maps from the rear or from the turnaround chamber are mirrored and say so; keys do not "
        "change with the view.",
        "Clock positions are as seen from the front; distances along a tube are from the outer "
        "face of the front sheet.",
    ]
    return Section(
        key="numbering", heading="Numbering and places", pieces=(Points(items=tuple(items)),)
    )
