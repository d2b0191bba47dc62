"""The gas side of a boiler as it was built, and the firing at which it was measured.

Not here: the fit to what was measured (``boiler_gas_side``).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from model.thermal.combustion import Fuel
from model.thermal.tube_pass import DEFAULT_ROUGHNESS_MM

SHELL_LOSS_PERCENT: Final = 1.0
"""Heat through the shell, of the fuel's at the measured firing: common practice, may be set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PassGeometry:
    """The tubes of one pass, all of one size."""

    pass_: int
    tubes: int
    """All of the layout, plugged ones too."""
    bore_mm: float
    length_mm: float
    retarder: str | None = None
    """What is in the tubes; None or ``none`` when they are plain."""

    @property
    def has_retarder(self) -> bool:
        """Whether something stands in the gas that the model does not know."""
        return self.retarder is not None and self.retarder.strip().lower() not in ("", "none")


@dataclass(frozen=True, slots=True, kw_only=True)
class GasSide:
    """The boiler as built. Passes stand in the order in which the gas flows."""

    passes: tuple[PassGeometry, ...]
    saturation_c: float
    roughness_mm: float = DEFAULT_ROUGHNESS_MM
    furnace_surface_m2: float | None = None
    has_radiation: bool = True
    """Whether the gas radiates in the first tube pass."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """The firing at which the stack temperature was read, and what was plugged then."""

    fuel: Fuel
    output_kw: float
    """Heat to the water at that firing."""
    oxygen_percent: float
    stack_c: float
    air_c: float
    furnace_exit_c: float | None = None
    plugged: Mapping[int, int]
    shell_loss_percent: float = SHELL_LOSS_PERCENT
