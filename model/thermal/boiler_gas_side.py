"""The gas side of a boiler: furnace, then tube passes in series, fitted to what was measured.

Not here: retarders, ribbed tubes and economisers, which are outside the model; what plugs cost
(``plugging_cost``); the fan (``output_limit``).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import takewhile
from typing import Final

from model.errors import ModelError, OutOfRange
from model.thermal.bracketed_root import bracketed_root
from model.thermal.combustion import (
    FUELS,
    Burnt,
    burn,
    combustion_efficiency_percent,
    latent_loss_percent,
)
from model.thermal.furnace import (
    FurnaceLaw,
    adiabatic_k,
    furnace_law_of_exit,
    furnace_law_of_surface,
)
from model.thermal.gas_side_as_built import GasSide, Measured, PassGeometry
from model.thermal.gas_table import GasTable, build_gas_table
from model.thermal.steam import ZERO_C_K
from model.thermal.tube_pass import PassResult, TubePass, run_tube_pass

HIGHEST_FOULING_M2_K_PER_W: Final = 0.05
THICK_FOULING_M2_K_PER_W: Final = 0.01
HIGHEST_FILM_FACTOR: Final = 2.0
SLOW_GAS_REYNOLDS: Final = 4_500.0
"""Below about 4,100 the film rises faster than the flow of a tube; some margin is kept."""


@dataclass(frozen=True, kw_only=True)  # no slots: two of its states are kept once worked out
class FittedBoiler:
    """A boiler whose fouling was fitted, ready to be asked about other plugs and firings."""

    built: GasSide
    measured: Measured
    burnt: Burnt
    table: GasTable
    furnace: FurnaceLaw
    fuel_kw: float
    """Higher heating value, at the measured firing."""
    gas_kg_s: float
    fouling_m2_k_per_w: float
    film_factor: float
    remarks: tuple[str, ...]

    @cached_property
    def without_plugs(self) -> "GasSideState":
        """At the measured firing, with every tube open: what plugs are held against."""
        return run_boiler(self, {})

    @cached_property
    def as_measured(self) -> "GasSideState":
        """At the measured firing, with what was plugged then."""
        return run_boiler(self, self.measured.plugged)


@dataclass(frozen=True, slots=True, kw_only=True)
class PassState:
    """One tube pass in a state of the boiler."""

    pass_: int
    tubes_open: float
    result: PassResult


@dataclass(frozen=True, slots=True, kw_only=True)
class GasSideState:
    """The gas side at one firing with certain tubes plugged."""

    firing: float
    """Over the measured firing."""
    fuel_kw: float
    furnace_exit_c: float
    furnace_kw: float
    passes: tuple[PassState, ...]
    stack_c: float
    efficiency_percent: float
    """Combustion efficiency from first principles, on the higher heating value."""
    output_kw: float
    """Heat to the water less what the shell loses."""

    @property
    def draft_loss_pa(self) -> float:
        """Of all tube passes together [Pa]."""
        return sum(each.result.draft_loss_pa for each in self.passes)


def fit_boiler(built: GasSide, measured: Measured) -> FittedBoiler:
    """The boiler with its fouling fitted, so that it meets the measured stack temperature.

    Source: own model; its parts name theirs.

    Scope: horizontal fire-tube boilers with plain straight tubes and no economiser before the place
    where the stack temperature was read.

    Equation: fuel = output / (efficiency - shell loss), efficiency at the measured stack; one
    resistance R is added to the film of all passes and sought so that the last outlet is the
    measured stack. Where clean tubes already give a hotter stack than measured, R is 0 and one
    factor on the film of all passes is sought instead.

    Parameters: ``built``; ``measured``.

    Returns: ``FittedBoiler``.

    Raises: ModelError when neither a furnace exit nor the furnace's surface is given; OutOfRange
    naming what cannot be, above all a stack that the model cannot meet with R up to 0.05 m2 K/W or
    a factor up to 2.

    Notes: fouling is taken as even over all passes and as unchanged at other firings. Furnace exit,
    air leaks and retarders that are not what was stated all end up in R or in the factor.
    """
    _check(built, measured)
    efficiency_percent = combustion_efficiency_percent(
        fuel=measured.fuel,
        oxygen_percent=measured.oxygen_percent,
        stack_c=measured.stack_c,
        air_c=measured.air_c,
    )
    to_water_percent = efficiency_percent - measured.shell_loss_percent
    if not to_water_percent > 0.0:
        limit = f"lower: the efficiency would be {to_water_percent:.0f} % after the shell's loss"
        raise OutOfRange("stack_c", measured.stack_c, limit)
    fuel_kw = 100.0 * measured.output_kw / to_water_percent
    burnt = burn(fuel=measured.fuel, oxygen_percent=measured.oxygen_percent)
    gas_kg_s = fuel_kw / FUELS[measured.fuel].heating_value_kj_per_kg * burnt.gas_kg_per_kg
    table = build_gas_table(burnt.gas)
    clean = FittedBoiler(
        built=built,
        measured=measured,
        burnt=burnt,
        table=table,
        furnace=_furnace(built, measured, burnt, table, gas_kg_s),
        fuel_kw=fuel_kw,
        gas_kg_s=gas_kg_s,
        fouling_m2_k_per_w=0.0,
        film_factor=1.0,
        remarks=(),
    )
    fitted = _fitted(clean)
    return replace(fitted, remarks=_remarks(fitted))


def run_boiler(
    boiler: FittedBoiler,
    plugged: Mapping[int, float],
    *,
    firing: float = 1.0,
    like: GasSideState | None = None,
) -> GasSideState:
    """The gas side with certain tubes plugged, at a firing.

    Source: own model; its parts name theirs.

    Scope: the firing is held, as a burner does whose air and fuel are set: the gas flow does not
    fall because of plugs.

    Equation: furnace exit by ``FurnaceLaw``, then ``run_tube_pass`` for each pass from the outlet
    of the one before; output = fuel x efficiency - shell loss.

    Parameters: ``plugged`` tubes by pass, 0 where absent (a fraction of a tube is allowed);
    ``firing`` over the measured firing [-]; ``like`` a state of this boiler: where it has the same
    firing, the passes before the first with other plugs are as there and are not run again.

    Returns: ``GasSideState``.

    Raises: OutOfRange unless every pass keeps an open tube and the firing is above 0.

    Notes: the heat of furnace and passes together is fuel x efficiency, to rounding.
    """
    if not firing > 0.0:
        raise OutOfRange("firing", firing, "above 0")
    _check_plugged(boiler.built.passes, plugged)
    gas_kg_s = firing * boiler.gas_kg_s
    open_ = [each.tubes - plugged.get(each.pass_, 0) for each in boiler.built.passes]
    if like is not None and like.firing == firing:
        exit_c, states = like.furnace_exit_c, _passes_alike(like, open_)
    else:
        exit_c, states = boiler.furnace.exit_k(gas_kg_s) - ZERO_C_K, []
    inlet_c = states[-1].result.outlet_c if states else exit_c
    for index, geometry in list(enumerate(boiler.built.passes))[len(states) :]:
        tubes = TubePass(
            tubes_open=open_[index],
            bore_mm=geometry.bore_mm,
            length_mm=geometry.length_mm,
            roughness_mm=boiler.built.roughness_mm,
            has_radiation=boiler.built.has_radiation and index == 0,
            fouling_m2_k_per_w=boiler.fouling_m2_k_per_w,
            film_factor=boiler.film_factor,
        )
        result = run_tube_pass(
            boiler.table,
            tubes,
            gas_kg_s=gas_kg_s,
            inlet_c=inlet_c,
            wall_c=boiler.built.saturation_c,
        )
        states.append(PassState(pass_=geometry.pass_, tubes_open=tubes.tubes_open, result=result))
        inlet_c = result.outlet_c
    return _state(boiler, firing, exit_c, tuple(states))


def _passes_alike(like: GasSideState, tubes_open: Sequence[float]) -> list[PassState]:
    """The first passes of a state, as far as they have so many open tubes."""
    both = zip(like.passes, tubes_open, strict=True)
    return [state for state, count in takewhile(lambda each: each[0].tubes_open == each[1], both)]


def _state(
    boiler: FittedBoiler, firing: float, exit_c: float, states: tuple[PassState, ...]
) -> GasSideState:
    measured, table = boiler.measured, boiler.table
    fuel_kw, stack_c = firing * boiler.fuel_kw, states[-1].result.outlet_c
    efficiency_percent = combustion_efficiency_percent(
        fuel=measured.fuel,
        oxygen_percent=measured.oxygen_percent,
        stack_c=stack_c,
        air_c=measured.air_c,
    )
    rise_j_per_kg = table.enthalpy_j_per_kg(exit_c + ZERO_C_K) - table.enthalpy_j_per_kg(
        measured.air_c + ZERO_C_K
    )
    sensible_kw = fuel_kw * (1.0 - latent_loss_percent(measured.fuel) / 100.0)
    shell_kw = boiler.fuel_kw * measured.shell_loss_percent / 100.0
    return GasSideState(
        firing=firing,
        fuel_kw=fuel_kw,
        furnace_exit_c=exit_c,
        furnace_kw=sensible_kw - firing * boiler.gas_kg_s * rise_j_per_kg / 1e3,
        passes=states,
        stack_c=stack_c,
        efficiency_percent=efficiency_percent,
        output_kw=fuel_kw * efficiency_percent / 100.0 - shell_kw,
    )


def _check(built: GasSide, measured: Measured) -> None:
    if not built.passes:
        raise ModelError("No tube pass is given; the gas side needs at least one.")
    if measured.furnace_exit_c is None and built.furnace_surface_m2 is None:
        raise ModelError(
            "furnace_exit_c is missing; give it, or the furnace's diameter and length, from which "
            "it can be estimated."
        )
    if not measured.output_kw > 0.0:
        raise OutOfRange("output_kw", measured.output_kw, "above 0")
    if not 0.0 <= measured.shell_loss_percent <= 20.0:
        raise OutOfRange("shell_loss_percent", measured.shell_loss_percent, "0 to 20 %")
    if not measured.stack_c > built.saturation_c:
        limit = (
            f"above the saturation's {built.saturation_c:.1f} degC; read it before an economiser, "
            "which is outside the model"
        )
        raise OutOfRange("stack_c", measured.stack_c, limit)
    _check_plugged(built.passes, measured.plugged)


def _check_plugged(passes: Sequence[PassGeometry], plugged: Mapping[int, float]) -> None:
    known = {each.pass_: each.tubes for each in passes}
    for pass_, count in plugged.items():
        if pass_ not in known:
            raise OutOfRange("plugged", f"in pass {pass_}", f"in one of the passes {list(known)}")
        if count == known[pass_]:
            raise ModelError(f"No tube of pass {pass_} is open.")
        if not 0 <= count < known[pass_]:
            limit = f"at least 0 and below the {known[pass_]} tubes of pass {pass_}"
            raise OutOfRange("plugged", count, limit)


def _furnace(
    built: GasSide, measured: Measured, burnt: Burnt, table: GasTable, gas_kg_s: float
) -> FurnaceLaw:
    flame_k = adiabatic_k(table, fuel=measured.fuel, burnt=burnt, air_c=measured.air_c)
    if measured.furnace_exit_c is not None:
        return furnace_law_of_exit(
            table, adiabatic_k=flame_k, gas_kg_s=gas_kg_s, exit_c=measured.furnace_exit_c
        )
    assert built.furnace_surface_m2 is not None
    law = furnace_law_of_surface(
        table, fuel=measured.fuel, adiabatic_k=flame_k, surface_m2=built.furnace_surface_m2
    )
    if gas_kg_s > law.highest_gas_kg_s:
        limit = "larger: the gas would leave the furnace above 1426 degC"
        raise OutOfRange("furnace_surface_m2", built.furnace_surface_m2, limit)
    return law


def _fitted(clean: FittedBoiler) -> FittedBoiler:
    def too_hot_k(boiler: FittedBoiler) -> float:
        return run_boiler(boiler, clean.measured.plugged).stack_c - clean.measured.stack_c

    def fouled(resistance: float) -> FittedBoiler:
        return replace(clean, fouling_m2_k_per_w=resistance)

    def better(factor: float) -> FittedBoiler:
        return replace(clean, film_factor=factor)

    clean_k = too_hot_k(clean)
    if clean_k <= 0.0:
        if too_hot_k(fouled(HIGHEST_FOULING_M2_K_PER_W)) < 0.0:
            raise _cannot_meet(clean, clean_k)
        resistance = bracketed_root(
            lambda r: too_hot_k(fouled(r)), 0.0, HIGHEST_FOULING_M2_K_PER_W, tolerance=1e-12
        )
        return fouled(resistance)
    if too_hot_k(better(HIGHEST_FILM_FACTOR)) > 0.0:
        raise _cannot_meet(clean, clean_k)
    factor = bracketed_root(
        lambda f: too_hot_k(better(f)), 1.0, HIGHEST_FILM_FACTOR, tolerance=1e-10
    )
    return better(factor)


def _cannot_meet(clean: FittedBoiler, clean_k: float) -> OutOfRange:
    stack_c = clean.measured.stack_c
    limit = (
        f"nearer to the {stack_c + clean_k:.0f} degC that clean plain tubes give; check the "
        "furnace exit, the output, the open tubes and whether there are retarders"
    )
    return OutOfRange("stack_c", stack_c, limit)


def _remarks(boiler: FittedBoiler) -> tuple[str, ...]:
    said = [
        f"Pass {each.pass_} has retarders ({each.retarder}), which are outside the model: it is "
        "computed as plain tubes, and its draft loss is too low."
        for each in boiler.built.passes
        if each.has_retarder
    ]
    if boiler.measured.furnace_exit_c is None:
        said.append("The furnace exit is estimated, to about 100 K.")
    if boiler.film_factor > 1.0:
        said.append(
            "The stack is colder than clean plain tubes would give: heat transfer is raised by "
            f"{100.0 * (boiler.film_factor - 1.0):.0f} % in all passes to meet it."
        )
    if boiler.fouling_m2_k_per_w > THICK_FOULING_M2_K_PER_W:
        said.append(
            f"Meeting the stack takes a fouling of {boiler.fouling_m2_k_per_w:.4f} m2 K/W, as of a "
            "millimetre of soot or more: check the furnace exit, the output and the open tubes."
        )
    for state in boiler.as_measured.passes:
        if state.result.reynolds_in < SLOW_GAS_REYNOLDS:
            said.append(
                f"Pass {state.pass_}: the gas is slow (Reynolds {state.result.reynolds_in:,.0f} at "
                "the inlet), where plugs may raise heat transfer; its stack figures are uncertain."
            )
    return tuple(said)
