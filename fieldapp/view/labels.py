"""What is written at the tubes at which zoom: nothing, the column, or the whole label.

Sizes are chosen so that words of neighbours do not touch. Not here: drawing them.
"""

from dataclasses import dataclass
from enum import StrEnum

from fieldapp.view.face_map import FaceMap, TubeEnd

LEGIBLE_MM = 1.9
"""Height of an em on the screen from which words are worth drawing (ours)."""
_STAYS_AT = 0.92
_EM_TO_WIDTH = 0.60
"""Width of a figure or capital, a little over the mean of the usual bold sans-serif letters."""


class LabelLevel(StrEnum):
    NONE = "none"
    COLUMN = "column"
    FULL = "full"


@dataclass(frozen=True, slots=True, kw_only=True)
class LabelSizes:
    """Em of the words in millimetres of the sheet, by level."""

    column_mm: float
    full_mm: float

    def em_mm(self, level: LabelLevel) -> float:
        return self.full_mm if level is LabelLevel.FULL else self.column_mm


def label_sizes(face_map: FaceMap) -> LabelSizes:
    """As large as the room between the tubes allows."""
    pitch_mm = face_map.pitch_mm
    longest = max((len(end.label) for end in face_map.ends), default=1)
    widest = max((len(str(end.column)) for end in face_map.ends), default=1)
    return LabelSizes(
        column_mm=min(0.30 * pitch_mm, 0.8 * pitch_mm / (_EM_TO_WIDTH * widest)),
        full_mm=min(0.26 * pitch_mm, 0.96 * pitch_mm / (_EM_TO_WIDTH * longest)),
    )


def choose_level(sizes: LabelSizes, screen_mm_per_mm: float, now: LabelLevel) -> LabelLevel:
    """The level at a zoom; the present one stays a little longer, so that it does not flutter."""
    for level in (LabelLevel.FULL, LabelLevel.COLUMN):
        least = LEGIBLE_MM * (_STAYS_AT if level is now else 1.0)
        if sizes.em_mm(level) * screen_mm_per_mm >= least:
            return level
    return LabelLevel.NONE


def label_words(end: TubeEnd, level: LabelLevel) -> str:
    """The column is the tube's own, counted from the front, as in its key."""
    return end.label if level is LabelLevel.FULL else str(end.column)
