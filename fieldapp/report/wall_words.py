"""A governing wall in words, with what nobody stated of its gauge.

Not here: the verdict (``model.wall.governing``), tubes in words (``tube_words``).
"""

from typing import Final

from fieldapp.report.wording import say_mm
from model.wall.governing import GoverningWall

ERROR_NOT_STATED: Final = "gauge's error not stated"


def say_wall_read(wall: GoverningWall) -> str:
    """The wall in mm without the unit, and that nobody stated the gauge's error if so."""
    said = say_mm(wall.wall_mm)
    return said if wall.is_accuracy_known else f"{said}, {ERROR_NOT_STATED}"
