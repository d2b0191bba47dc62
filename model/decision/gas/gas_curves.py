"""What plugs cost a boiler today, pass by pass, and what more of them would: for report and file.

Not here: the tables of the trials (``gas_side``), the words (``fieldapp.report``).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from model.condition.boiler_facts import BoilerFacts
from model.condition.tubes import TubeCondition
from model.decision.gas.gas_record import firing_figure
from model.decision.gas.gas_side import (
    NOT_COMPUTED,
    REFUSALS,
    GasSideFit,
    fit_gas_side,
    say_refusal,
    yearly_fuel_gj,
)
from model.errors import OutOfRange
from model.thermal.boiler_gas_side import FittedBoiler
from model.thermal.combustion import Fuel, combustion_efficiency_percent
from model.thermal.efficiency_table import published_efficiency_percent
from model.thermal.gas_side_as_built import PassGeometry
from model.thermal.output_limit import Pressures
from model.thermal.plugging_cost import (
    CurvePoint,
    OnePlug,
    PlugCost,
    one_more_plug,
    plugging_curve,
)

DRAWN_PERCENTS: Final = (0.0, 10.0, 20.0, 30.0, 40.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class PassCurve:
    """A growing share of one pass plugged, all others open. It ends where the model refuses."""

    pass_: int
    points: tuple[CurvePoint, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class EfficiencyCheck:
    """Two efficiencies at the measured stack, on the higher heating value, never mixed."""

    first_principles_percent: float
    table_percent: float | None
    why_no_table: str | None


@dataclass(frozen=True, kw_only=True)  # no slots: the curves are kept once worked out
class GasSideToday:
    """What the plugs as left cost against none, or ``why_not`` in a sentence."""

    fit: GasSideFit
    why_not: str | None
    cost: PlugCost | None = None
    next_plug: tuple[OnePlug, ...] = ()
    """The pass first where one more plug costs most draft."""
    check: EfficiencyCheck | None = None
    needed_output_kw: float | None = None
    yearly_fuel_gj: float | None = None
    """Without plugs; None where hours or load are not stated."""

    @cached_property
    def curves(self) -> tuple[PassCurve, ...]:
        """Of every pass. They take longest and the advice never asks, only who draws them."""
        boiler = self.fit.boiler
        if boiler is None or self.cost is None:
            return ()
        return tuple(_curve(boiler, each, self.fit.pressures) for each in boiler.built.passes)

    @property
    def remarks(self) -> tuple[str, ...]:
        """What was assumed, and what the model says of slow gas with these plugs."""
        about_plugs = () if self.cost is None else self.cost.remarks[1:-1]
        # Slow gas is said of the fit already, in nearly the same words.
        new = [
            each
            for each in about_plugs
            if not any(said.startswith(each[: each.index("(")]) for said in self.fit.remarks)
        ]
        return (*self.fit.remarks, *new)

    @property
    def extra_fuel_gj(self) -> float | None:
        """Fuel of a year that the plugs as left cost [GJ]."""
        if self.cost is None or self.yearly_fuel_gj is None:
            return None
        return self.yearly_fuel_gj * self.cost.fuel_rise_percent / 100.0


def gas_side_today(facts: BoilerFacts, tubes: Sequence[TubeCondition]) -> GasSideToday:
    """The gas side as left; whatever the record says, this does not fail."""
    fit = fit_gas_side(facts, tubes)
    if fit.boiler is None:
        return GasSideToday(fit=fit, why_not=fit.why_not)
    try:
        return GasSideToday(
            fit=fit,
            why_not=None,
            cost=fit.cost_as_left,
            next_plug=one_more_plug(fit.boiler, fit.plugged),
            check=_check(fit.boiler),
            needed_output_kw=firing_figure(facts.settings, "needed_output_kw"),
            yearly_fuel_gj=yearly_fuel_gj(fit.boiler, fit.boiler.without_plugs, facts.settings),
        )
    except REFUSALS as refusal:
        return GasSideToday(fit=fit, why_not=f"{NOT_COMPUTED}{say_refusal(refusal)}")


def _curve(boiler: FittedBoiler, geometry: PassGeometry, pressures: Pressures | None) -> PassCurve:
    points: list[CurvePoint] = []
    for percent in DRAWN_PERCENTS:
        try:
            points += _point(boiler, geometry.pass_, percent, pressures)
        except REFUSALS:
            break
    return PassCurve(pass_=geometry.pass_, points=tuple(points))


def _point(
    boiler: FittedBoiler, pass_: int, percent: float, pressures: Pressures | None
) -> tuple[CurvePoint, ...]:
    """One point; without its output limit where only that is refused."""
    try:
        return plugging_curve(boiler, pass_, percents=(percent,), pressures=pressures)
    except REFUSALS:
        return plugging_curve(boiler, pass_, percents=(percent,))


def _check(boiler: FittedBoiler) -> EfficiencyCheck:
    measured = boiler.measured
    first_principles_percent = combustion_efficiency_percent(
        fuel=measured.fuel,
        oxygen_percent=measured.oxygen_percent,
        stack_c=measured.stack_c,
        air_c=measured.air_c,
    )
    table_percent: float | None = None
    why_not: str | None = None
    if measured.fuel is not Fuel.NATURAL_GAS:
        why_not = f"the published table is of natural gas, not of {measured.fuel}"
    else:
        try:
            table_percent = published_efficiency_percent(
                oxygen_percent=measured.oxygen_percent, net_k=measured.stack_c - measured.air_c
            )
        except OutOfRange as refusal:
            why_not = f"{refusal.parameter} is not {refusal.limit}"
    return EfficiencyCheck(
        first_principles_percent=first_principles_percent,
        table_percent=table_percent,
        why_no_table=why_not,
    )
