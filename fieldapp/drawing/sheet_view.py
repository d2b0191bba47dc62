"""What a picture of a tube sheet is made from, and where a spot of the sheet stands on it.

Everything comes in as it lies in the layout: seen from the front, x to the right, y up, origin at
the shell's centre. A mirrored view turns x around; a tube keeps its key. Not here: any shape.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from fieldapp.drawing.marks import TubeLook


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnTube:
    """One tube end shown at this face; ``label`` is the key as people read it."""

    key: str
    x_mm: float
    y_mm: float
    radius_mm: float
    look: TubeLook
    label: str
    row: int | None = None
    column: int | None = None
    pass_number: int | None = None
    words: str | None = None
    """Said instead of the plain words of the look, e.g. since when."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherTube:
    """A tube whose end is not shown at this face: a faint outline."""

    x_mm: float
    y_mm: float
    radius_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FurnaceOpening:
    """A furnace as it opens in this sheet."""

    x_mm: float
    y_mm: float
    diameter_mm: float
    word: str = "furnace"


@dataclass(frozen=True, slots=True, kw_only=True)
class CircledSpot:
    """An open circle that flags a place on the sheet, with a short name beside it."""

    x_mm: float
    y_mm: float
    diameter_mm: float
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetView:
    title: str
    mirror_words: str
    mirrored: bool
    tubes: Sequence[DrawnTube]
    shell_diameter_mm: float | None = None
    other_tubes: Sequence[OtherTube] = ()
    furnaces: Sequence[FurnaceOpening] = ()
    circles: Sequence[CircledSpot] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPlacing:
    """From layout to picture millimetres; the only place that mirrors and turns y."""

    scale: float
    middle_x_mm: float
    middle_y_mm: float
    mirrored: bool

    def place(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        seen = -x_mm if self.mirrored else x_mm
        return self.middle_x_mm + seen * self.scale, self.middle_y_mm - y_mm * self.scale
