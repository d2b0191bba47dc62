"""The cautions on entry, pressure and decision, in full.

Not here: their text (``fieldapp.cautions``).
"""

from fieldapp.cautions import CAUTIONS
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Paragraph, Section, Tone


def build_cautions(numbers: ConditionNumbers) -> Section:
    """The same in every report."""
    return Section(
        key="cautions",
        heading="Cautions",
        pieces=tuple(
            Paragraph(heading=heading, words=text, tone=Tone.WATCH) for heading, text in CAUTIONS
        ),
    )
