"""One pass of gas through parallel tubes: marched along the tube, with what it costs in pressure.

Not here: retarders and ribbed tubes, which are outside the model; the passes together
(``boiler_gas_side``); and the laws of one place (``tube_flow``, ``gas_radiation``).
"""

import math
from dataclasses import dataclass
from typing import Final

from model.errors import OutOfRange
from model.thermal.flue_gas import HIGHEST_GAS_K, LOWEST_GAS_K
from model.thermal.gas_radiation import RadiatingGas, radiating_gas
from model.thermal.gas_table import GasTable
from model.thermal.steam import ZERO_C_K
from model.thermal.tube_flow import (
    HIGHEST_RELATIVE_ROUGHNESS,
    HIGHEST_REYNOLDS,
    TURBULENT_FROM,
    Regime,
    TubeShape,
    friction_factor,
    nusselt,
    regime,
)

DEFAULT_ROUGHNESS_MM: Final = 0.045
INLET_HEADS: Final = 0.5
OUTLET_HEADS: Final = 1.0
HIGHEST_DRAFT_LOSS_PA: Final = 20_000.0

TUBE_PASS_SOURCE: Final = (
    "Gnielinski (1976) with the smooth-tube Darcy factor at bulk properties and 1 + (d/L)^(2/3) "
    "for the entrance; Colebrook friction; entrance and exit losses from common practice"
)

_FEWEST_STEPS = 16
_STEPS_PER_TRANSFER_UNIT = 12.0
_MOST_STEPS = 480
# Between laminar and turbulent the slope of the laws jumps, which costs the method its order.
_FINER_WHERE_LAWS_BEND = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class TubePass:
    """Tubes that the gas flows through side by side.

    ``tubes_open`` may be a fraction, so that a share plugged need not be a whole number of tubes.
    ``film_factor`` multiplies the heat transfer of the gas; 1 is what the laws give.
    """

    tubes_open: float
    bore_mm: float
    length_mm: float
    roughness_mm: float = DEFAULT_ROUGHNESS_MM
    has_radiation: bool = False
    fouling_m2_k_per_w: float = 0.0
    film_factor: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PassResult:
    """What becomes of the gas in one pass."""

    inlet_c: float
    outlet_c: float
    heat_kw: float
    """Heat to the water."""
    friction_pa: float
    ends_pa: float
    """Loss at the entrance and the exit."""
    reynolds_in: float
    reynolds_out: float
    ntu: float
    """ln of the first over the last difference to the wall."""

    @property
    def draft_loss_pa(self) -> float:
        """Friction, entrance and exit together [Pa]."""
        return self.friction_pa + self.ends_pa

    @property
    def regimes(self) -> tuple[Regime, ...]:
        """The regimes from inlet to outlet, each once; Reynolds rises as the gas cools."""
        order = tuple(Regime)
        first, last = (order.index(regime(re)) for re in (self.reynolds_in, self.reynolds_out))
        return order[first : last + 1]


@dataclass(frozen=True, slots=True, kw_only=True)
class _March:
    """The constants of one march."""

    table: GasTable
    shape: TubeShape
    wall_k: float
    flow_kg_s_m2: float
    per_tube_kg_s: float
    radiating: RadiatingGas | None
    fouling_m2_k_per_w: float
    film_factor: float

    def slopes(self, temperature_k: float) -> tuple[float, float]:
        """Per metre: fall of ln(T - Tw) [1/m], and friction [Pa/m]."""
        table, bore_m, flow = self.table, self.shape.bore_m, self.flow_kg_s_m2
        viscosity, conductivity = table.transport(temperature_k)
        cp = table.cp_j_per_kg_k(temperature_k)
        reynolds = flow * bore_m / viscosity
        number = nusselt(reynolds, cp * viscosity / conductivity, bore_m / self.shape.length_m)
        film = number * conductivity / bore_m
        if self.radiating is not None:
            film += self.radiating.coefficient_w_per_m2_k(temperature_k, self.wall_k)
        film *= self.film_factor
        overall = film / (1.0 + film * self.fouling_m2_k_per_w)
        factor = friction_factor(reynolds, self.shape.roughness_m / bore_m)
        return (
            overall * math.pi * bore_m / (self.per_tube_kg_s * cp),
            factor / bore_m * flow**2 / (2.0 * table.density_kg_per_m3(temperature_k)),
        )


def run_tube_pass(
    table: GasTable, tubes: TubePass, *, gas_kg_s: float, inlet_c: float, wall_c: float
) -> PassResult:
    """Outlet temperature, heat and draft loss of one pass of tubes.

    Source: ``TUBE_PASS_SOURCE``; no recovery of pressure is counted.

    Scope: straight plain tubes with gas inside and boiling water outside, whose temperature the
    gas cools toward. All tubes get the same gas.

    Equation: dT/dx = -U pi d (T - Tw) / (m cp), 1/U = 1/(F (Nu k/d + radiation)) + R; draft loss =
    integral of f/d G^2/(2 rho) + 0.5 G^2/(2 rho_in) + 1.0 G^2/(2 rho_out); heat =
    m (h(in) - h(out)). Marched in ln(T - Tw) by the fourth-order method of Runge and Kutta.

    Parameters: ``table`` the gas; ``tubes``; ``gas_kg_s`` gas through all of them [kg/s];
    ``inlet_c`` [degC]; ``wall_c`` Tw [degC].

    Returns: ``PassResult``.

    Raises: OutOfRange unless 26.85 <= wall < inlet <= 1426.85 degC, flow and open tubes above 0,
    the bore at most the length, roughness at most a twentieth of the bore, Reynolds at most 5e6,
    and the draft loss at most 20 kPa, beyond which a density at one pressure misleads.

    Notes: properties at bulk temperature; the water side's and the wall's resistances, a few
    hundredths of the gas's, are left out; the turn into the next pass is in the exit's velocity
    head. The mean Nusselt number of the tube is used at every place. Laminar and transitional flow
    follow ``tube_flow`` and show in ``regimes``. Pressure that the slowing gas gives back is not
    counted.

    >>> from model.thermal.combustion import Fuel, burn
    >>> from model.thermal.gas_table import build_gas_table
    >>> table = build_gas_table(burn(fuel=Fuel.NATURAL_GAS, oxygen_percent=3.0).gas)
    >>> tubes = TubePass(tubes_open=100, bore_mm=45.97, length_mm=4877.0)
    >>> result = run_tube_pass(table, tubes, gas_kg_s=1.26, inlet_c=980.0, wall_c=186.0)
    >>> 186.0 < result.outlet_c < 400.0
    True
    """
    _check_temperatures(inlet_c, wall_c)
    if not gas_kg_s > 0.0:
        raise OutOfRange("gas_kg_s", gas_kg_s, "above 0")
    _check_tubes(tubes)
    march = _start(table, tubes, gas_kg_s, wall_c + ZERO_C_K)
    inlet_k = inlet_c + ZERO_C_K
    reynolds_in = _checked_reynolds(march, inlet_k, gas_kg_s)
    fall, friction_pa = _integrate(march, inlet_k, reynolds_in)
    outlet_k = march.wall_k + (inlet_k - march.wall_k) * math.exp(-fall)
    reynolds_out = _checked_reynolds(march, outlet_k, gas_kg_s)
    head = march.flow_kg_s_m2**2 / 2.0
    ends_pa = head * (
        INLET_HEADS / table.density_kg_per_m3(inlet_k)
        + OUTLET_HEADS / table.density_kg_per_m3(outlet_k)
    )
    if not friction_pa + ends_pa <= HIGHEST_DRAFT_LOSS_PA:
        limit = (
            f"low enough for a draft loss of at most {HIGHEST_DRAFT_LOSS_PA:,.0f} Pa; these tubes "
            f"would take {friction_pa + ends_pa:,.0f} Pa"
        )
        raise OutOfRange("gas_kg_s", gas_kg_s, limit)
    drop_j_per_kg = table.enthalpy_j_per_kg(inlet_k) - table.enthalpy_j_per_kg(outlet_k)
    return PassResult(
        inlet_c=inlet_c,
        outlet_c=outlet_k - ZERO_C_K,
        heat_kw=gas_kg_s * drop_j_per_kg / 1e3,
        friction_pa=friction_pa,
        ends_pa=ends_pa,
        reynolds_in=reynolds_in,
        reynolds_out=reynolds_out,
        ntu=fall,
    )


def _check_temperatures(inlet_c: float, wall_c: float) -> None:
    lowest_c, highest_c = LOWEST_GAS_K - ZERO_C_K, HIGHEST_GAS_K - ZERO_C_K
    if not lowest_c <= wall_c <= highest_c:
        raise OutOfRange("wall_c", wall_c, f"{lowest_c:g} to {highest_c:g} degC")
    if not wall_c < inlet_c <= highest_c:
        limit = f"above the wall's {wall_c:g} and at most {highest_c:g} degC"
        raise OutOfRange("inlet_c", inlet_c, limit)


def _check_tubes(tubes: TubePass) -> None:
    if not tubes.tubes_open > 0.0:
        raise OutOfRange("tubes", tubes.tubes_open, "above 0")
    if not 0.0 < tubes.bore_mm <= tubes.length_mm < math.inf:
        limit = f"above 0 and at most the length, {tubes.length_mm:g} mm"
        raise OutOfRange("bore_mm", tubes.bore_mm, limit)
    highest_mm = HIGHEST_RELATIVE_ROUGHNESS * tubes.bore_mm
    if not 0.0 <= tubes.roughness_mm <= highest_mm:
        limit = f"0 to a twentieth of the bore, {highest_mm:g} mm"
        raise OutOfRange("roughness_mm", tubes.roughness_mm, limit)
    for name, value in (
        ("fouling_m2_k_per_w", tubes.fouling_m2_k_per_w),
        ("film_factor", tubes.film_factor),
    ):
        if not 0.0 <= value < math.inf:
            raise OutOfRange(name, value, "at least 0")


def _start(table: GasTable, tubes: TubePass, gas_kg_s: float, wall_k: float) -> _March:
    shape = TubeShape(
        bore_m=tubes.bore_mm / 1e3,
        length_m=tubes.length_mm / 1e3,
        roughness_m=tubes.roughness_mm / 1e3,
    )
    per_tube_kg_s = gas_kg_s / tubes.tubes_open
    return _March(
        table=table,
        shape=shape,
        wall_k=wall_k,
        flow_kg_s_m2=per_tube_kg_s / (math.pi / 4.0 * shape.bore_m**2),
        per_tube_kg_s=per_tube_kg_s,
        radiating=radiating_gas(table.gas, shape.bore_m) if tubes.has_radiation else None,
        fouling_m2_k_per_w=tubes.fouling_m2_k_per_w,
        film_factor=tubes.film_factor,
    )


def _checked_reynolds(march: _March, temperature_k: float, gas_kg_s: float) -> float:
    viscosity, _ = march.table.transport(temperature_k)
    reynolds = march.flow_kg_s_m2 * march.shape.bore_m / viscosity
    if not reynolds <= HIGHEST_REYNOLDS:
        limit = f"low enough for a Reynolds number of at most 5,000,000; it is {reynolds:,.0f}"
        raise OutOfRange("gas_kg_s", gas_kg_s, limit)
    return reynolds


def _integrate(march: _March, inlet_k: float, reynolds_in: float) -> tuple[float, float]:
    """How far ln(T - Tw) falls along the tube [-], and the friction [Pa]."""
    length_m, above_wall_k = march.shape.length_m, inlet_k - march.wall_k
    transfer_units = march.slopes(inlet_k)[0] * length_m
    steps = min(
        max(_FEWEST_STEPS, math.ceil(_STEPS_PER_TRANSFER_UNIT * transfer_units)), _MOST_STEPS
    )
    if reynolds_in < TURBULENT_FROM:
        steps *= _FINER_WHERE_LAWS_BEND
    step_m = length_m / steps
    fall = friction_pa = 0.0

    def slopes(fallen: float) -> tuple[float, float]:
        return march.slopes(march.wall_k + above_wall_k * math.exp(-fallen))

    for _ in range(steps):
        a, pa = slopes(fall)
        b, pb = slopes(fall + step_m / 2.0 * a)
        c, pc = slopes(fall + step_m / 2.0 * b)
        d, pd = slopes(fall + step_m * c)
        fall += step_m / 6.0 * (a + 2.0 * b + 2.0 * c + d)
        friction_pa += step_m / 6.0 * (pa + 2.0 * pb + 2.0 * pc + pd)
    return fall, friction_pa
