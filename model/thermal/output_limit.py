"""The highest output that the fan still reaches, where the pressures of burner and fan are known.

Not here: what else limits a boiler (burner, safety valve, steam quality, tube-sheet heat).
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from model.errors import OutOfRange
from model.thermal.boiler_gas_side import FittedBoiler, GasSideState, run_boiler
from model.thermal.bracketed_root import bracketed_root

LOWEST_FIRING: Final = 0.1
HIGHEST_FIRING: Final = 2.0
FIRING_TOLERANCE: Final = 1e-4
"""Of the firing: far below what the fan's curve is known to."""

NOT_COMPUTED: Final = (
    "Output limit not computed: it needs furnace_pressure_pa, burner_loss_pa and fan_pressure_pa."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pressures:
    """Measured at the firing at which the stack temperature was read, gauge."""

    furnace_pressure_pa: float
    burner_loss_pa: float
    """From the fan's outlet to the furnace, so with the windbox."""
    fan_pressure_pa: float
    """What the fan can raise at full opening."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OutputLimit:
    """The highest output [kW], or None with the reason in ``remark``."""

    output_kw: float | None
    firing: float | None
    """Over the measured firing."""
    remark: str


def output_limit(
    boiler: FittedBoiler,
    plugged: Mapping[int, float],
    pressures: Pressures | None,
    *,
    at_measured: GasSideState | None = None,
) -> OutputLimit:
    """Highest output at which the fan still moves the gas through burner, tubes and stack.

    Source: own model; draft losses of the tubes by ``run_tube_pass``.

    Scope: forced-draft burners. An upper bound: a fan's pressure falls as it moves more air.

    Equation: burner f^2 + tubes(f, plugs) + rest = fan, f the firing over the measured one; rest =
    furnace pressure less the tubes' loss as measured, growing with f^2 where it is a loss and
    held where a chimney pulls.

    Parameters: ``plugged`` tubes by pass; ``pressures`` or None when not all were given;
    ``at_measured`` the state with these plugs at the measured firing, where it is at hand.

    Returns: ``OutputLimit``.

    Raises: OutOfRange unless the burner's loss is at least 0 and the fan's pressure above 0.

    Notes: air and fuel keep their ratio. The search goes from a tenth of the measured firing to
    twice it, or to where the gas leaves the furnace at 1426 degC.
    """
    if pressures is None:
        return OutputLimit(output_kw=None, firing=None, remark=NOT_COMPUTED)
    if not pressures.burner_loss_pa >= 0.0:
        raise OutOfRange("burner_loss_pa", pressures.burner_loss_pa, "at least 0")
    if not pressures.fan_pressure_pa > 0.0:
        raise OutOfRange("fan_pressure_pa", pressures.fan_pressure_pa, "above 0")
    as_measured = boiler.as_measured
    rest_pa = pressures.furnace_pressure_pa - as_measured.draft_loss_pa

    states: dict[float, GasSideState] = {} if at_measured is None else {1.0: at_measured}

    def state_at(firing: float) -> GasSideState:
        if firing not in states:
            states[firing] = run_boiler(boiler, plugged, firing=firing)
        return states[firing]

    def short_pa(firing: float) -> float:
        tubes_pa = state_at(firing).draft_loss_pa
        growing_pa = pressures.burner_loss_pa + max(rest_pa, 0.0)
        needed_pa = growing_pa * firing**2 + min(rest_pa, 0.0) + tubes_pa
        return needed_pa - pressures.fan_pressure_pa

    highest = min(HIGHEST_FIRING, boiler.furnace.highest_gas_kg_s / boiler.gas_kg_s)
    # Everything grows nearly with the square of the firing, so the answer is near this guess;
    # the wide bracket would ask for slow flow, which takes long to march.
    held_pa = min(rest_pa, 0.0)
    growing_pa = short_pa(1.0) + pressures.fan_pressure_pa - held_pa
    guess = math.sqrt((pressures.fan_pressure_pa - held_pa) / growing_pa)
    low, high = max(LOWEST_FIRING, 0.9 * guess), min(highest, 1.1 * guess)
    if low < high and short_pa(low) < 0.0 < short_pa(high):
        firing = bracketed_root(short_pa, low, high, tolerance=FIRING_TOLERANCE)
        return _limit_at(state_at(firing), firing, rest_pa)
    if short_pa(highest) <= 0.0:
        remark = f"The fan does not limit the output up to {highest:.1f} times the measured firing."
        return OutputLimit(output_kw=None, firing=None, remark=remark)
    if short_pa(LOWEST_FIRING) >= 0.0:
        raise OutOfRange(
            "fan_pressure_pa",
            pressures.fan_pressure_pa,
            "enough for a tenth of the measured firing; check it, the burner's loss and the "
            "furnace pressure",
        )
    firing = bracketed_root(short_pa, LOWEST_FIRING, highest, tolerance=FIRING_TOLERANCE)
    return _limit_at(state_at(firing), firing, rest_pa)


def _limit_at(state: GasSideState, firing: float, rest_pa: float) -> OutputLimit:
    remark = "An upper bound: the fan's pressure is taken as the same at every flow."
    if rest_pa < 0.0:
        remark += " The furnace pressure is below the tubes' loss, as where a chimney pulls."
    return OutputLimit(
        output_kw=state.output_kw,
        firing=firing,
        remark=remark,
    )
