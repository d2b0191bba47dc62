"""How far a fire-tube end may stand out of its sheet.

Not here: bevelled or recessed holes, whose rule is another one.
"""

from dataclasses import dataclass
from typing import Final

from model.errors import OutOfRange
from model.units import mm_from_inches

TUBE_END_SOURCE: Final = "12 NYCRR 14-9.1, fire tubes (casetext.com)"

# A projection measured in inches and converted must not miss the limit by rounding.
_SAME_MM = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class ProjectionBand:
    """Least and greatest projection [mm]. Empty where the least exceeds the greatest."""

    minimum_mm: float
    maximum_mm: float

    @property
    def is_empty(self) -> bool:
        """Whether no projection can meet both limits."""
        return self.minimum_mm > self.maximum_mm + _SAME_MM

    def holds(self, projection_mm: float) -> bool:
        """Whether a projection lies in the band, its limits included."""
        return self.minimum_mm - _SAME_MM <= projection_mm <= self.maximum_mm + _SAME_MM


def projection_band(wall_mm: float) -> ProjectionBand:
    """Band of projections of a fire tube through a sheet whose holes have no bevel or recess.

    Source: ``TUBE_END_SOURCE``.

    Scope: expanded and beaded, seal-welded or welded ends of fire tubes. Not water tubes, whose
    ends stand out further and are belled.

    Equation: from max(t, 1/8 in) to min(2 t, 1/4 in).

    Parameters: ``wall_mm`` t [mm].

    Returns: ``ProjectionBand`` [mm]. Empty for walls below 1/16 in or above 1/4 in: then an end
    without a bevel cannot meet the rule.

    Raises: OutOfRange unless the wall is above 0.

    >>> band = projection_band(2.5)
    >>> (band.minimum_mm, band.maximum_mm)
    (3.175, 5.0)
    """
    if not wall_mm > 0.0:
        raise OutOfRange("wall_mm", wall_mm, "above 0")
    return ProjectionBand(
        minimum_mm=max(wall_mm, mm_from_inches(0.125)),
        maximum_mm=min(2.0 * wall_mm, mm_from_inches(0.25)),
    )
