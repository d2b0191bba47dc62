"""What plugs of each pass do to fuel, draft and highest output, as tables the trials can look up.

Not here: the gas side that fills them (``gas_side``).
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class PassEffect:
    """A growing share of one pass plugged, all others open; at the measured firing."""

    pass_: int
    plugged_percent: tuple[float, ...]
    """Rising, from 0."""
    fuel_rise_percent: tuple[float, ...]
    """More fuel for the same heat to the water, against no plugs."""
    draft_loss_pa: tuple[float, ...]
    """Of this pass."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FanTerms:
    """Pressures at the measured firing f = 1: growing f^2 + held + tubes f^2 = fan at the limit."""

    fan_pa: float
    growing_pa: float
    """Burner, and what else rises with the square of the firing."""
    held_pa: float
    """What does not change with the firing (a chimney's pull is below 0)."""
    correction: float
    """By which the rule below is multiplied to meet the marched model at today's plugs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GasEffects:
    """The gas side in tables: rises of the passes are added."""

    passes: Mapping[int, PassEffect]
    yearly_fuel_gj: float | None
    """Of a year at the stated load without plugs; None where hours or load are not stated."""
    output_kw: float
    """At the measured firing."""
    fan: FanTerms | None
    """None: the highest output is not computed."""

    def output_limit_kw(self, tubes_pa: float) -> float | None:
        """Highest output with this draft loss of all tube passes at the measured firing."""
        if self.fan is None:
            return None
        needed = self.fan.growing_pa + tubes_pa
        room = max(0.0, self.fan.fan_pa - self.fan.held_pa)
        return self.output_kw * self.fan.correction * math.sqrt(room / needed)
