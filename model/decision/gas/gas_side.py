"""The gas side fitted to a boiler's record, and what the plugs of an option do to it.

Not here: what the record must hold (``gas_inputs``), the curves of the report (``gas_curves``),
the heat itself (``model.thermal``), money.
"""

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Final

from model.condition.boiler_facts import BoilerFacts
from model.condition.tubes import TubeCondition
from model.decision.advice import GasAfter
from model.decision.gas.gas_effects import FanTerms, GasEffects, PassEffect
from model.decision.gas.gas_inputs import gas_inputs, plugged_by_pass
from model.decision.gas.gas_record import firing_figure
from model.errors import ModelError, OutOfRange
from model.thermal.boiler_gas_side import FittedBoiler, GasSideState, fit_boiler, run_boiler
from model.thermal.output_limit import OutputLimit, Pressures, output_limit
from model.thermal.plugging_cost import PlugCost, plugging_cost

NOT_COMPUTED: Final = "What plugging costs is not computed: "

REFUSALS: Final = (ModelError, ArithmeticError, ValueError)
"""What may come of figures that nobody can mean: some run out of numbers before a limit refuses."""

EFFECT_PERCENTS: Final = (0.0, 5.0, 10.0, 15.0, 20.0, 30.0, 40.0, 50.0, 60.0, 75.0, 90.0)
"""Shares of a pass plugged at which its effects are worked out; a table between is a line."""


@dataclass(frozen=True, kw_only=True)  # no slots: what the plugs as left cost is kept
class GasSideFit:
    """The boiler fitted to its stack temperature, or why there is none."""

    boiler: FittedBoiler | None
    why_not: str | None
    """In a sentence; None when there is a boiler."""
    pressures: Pressures | None
    """Of burner and fan; None when not all three are recorded."""
    plugged: Mapping[int, int]
    """Plugged tubes of each pass as left; the fit itself is to those found."""
    remarks: tuple[str, ...]
    """What was assumed, and where the model should not be trusted."""

    @cached_property
    def cost_as_left(self) -> PlugCost:
        """What the plugs as left cost, worked out when first asked for; raises as
        ``cost_of_plugs``."""
        return cost_of_plugs(self, self.plugged)

    @cached_property
    def when_open(self) -> GasAfter | None:
        """With every tube open, worked out when first asked for; None where it is not computed."""
        return gas_after(self, dict.fromkeys(self.plugged, 0))


def fit_gas_side(facts: BoilerFacts, tubes: Sequence[TubeCondition]) -> GasSideFit:
    """The gas side of a boiler as recorded; whatever the record says, this does not fail."""
    plugged = plugged_by_pass(tubes, as_left=True)
    try:
        found = gas_inputs(facts, tubes)
        boiler = fit_boiler(found.built, found.measured)
    except REFUSALS as refusal:
        return GasSideFit(
            boiler=None,
            why_not=f"{NOT_COMPUTED}{say_refusal(refusal)}",
            pressures=None,
            plugged=plugged,
            remarks=(),
        )
    return GasSideFit(
        boiler=boiler,
        why_not=None,
        pressures=found.pressures,
        plugged=plugged,
        remarks=(*boiler.remarks, *found.remarks),
    )


def cost_of_plugs(fit: GasSideFit, plugged: Mapping[int, int]) -> PlugCost:
    """What plugs cost; where only the output limit is refused, the rest with the reason.

    Raises: one of ``REFUSALS``: a ModelError where the boiler was not fitted, a pass has no open
    tube, or its draft loss goes beyond 20 kPa.
    """
    if fit.boiler is None:
        raise ModelError(fit.why_not or NOT_COMPUTED)
    try:
        return plugging_cost(fit.boiler, plugged, fit.pressures)
    except REFUSALS as refusal:
        if fit.pressures is None:
            raise
        cost = plugging_cost(fit.boiler, plugged, None)
        remark = f"Output limit not computed: {say_refusal(refusal)}"
        limit = OutputLimit(output_kw=None, firing=None, remark=remark)
        return replace(cost, limit=limit, remarks=(*cost.remarks[:-1], remark))


def say_refusal(refusal: Exception) -> str:
    """Why something is not computed, as the end of a sentence."""
    if isinstance(refusal, OutOfRange) and isinstance(refusal.value, float):
        return f"{refusal.parameter} is {refusal.value:.4g}, but must be {refusal.limit}."
    if isinstance(refusal, ModelError):
        return str(refusal)
    return "the figures of [firing], [boiler] and [tubes] do not fit together."


def gas_after(fit: GasSideFit, plugged: Mapping[int, int]) -> GasAfter | None:
    """The gas side with these tubes plugged, against none; None where it is not computed."""
    try:
        is_as_left = plugged == fit.plugged
        cost = fit.cost_as_left if is_as_left else cost_of_plugs(fit, plugged)
    except REFUSALS:
        return None
    return GasAfter(
        stack_rise_k=cost.stack_rise_k,
        efficiency_loss_points=cost.efficiency_loss_points,
        fuel_rise_percent=cost.fuel_rise_percent,
        draft_ratio=cost.draft_ratio,
        draft_ratio_by_pass={each.pass_: each.draft_ratio for each in cost.by_pass},
        output_limit_kw=cost.limit.output_kw,
        output_remark=cost.limit.remark,
    )


def open_output_kw(fit: GasSideFit) -> float | None:
    """Highest output with every tube open; None where it is not computed."""
    return None if fit.when_open is None else fit.when_open.output_limit_kw


def gas_effects(fit: GasSideFit, settings: Mapping[str, Mapping[str, Any]]) -> GasEffects | None:
    """Tables of what plugs do, for the trials; None where the gas side is not computed.

    Source: own model (``run_boiler``, ``output_limit``).

    Scope: one pass is plugged more and more, the others open; rises of several passes are added.

    Equation: firing at the limit = sqrt((fan - held) / (growing + tubes)), as ``output_limit`` has
    it if the tubes' loss went with the square of the firing; its output is in proportion, times
    one correction that makes it meet ``output_limit`` at the plugs of today as left; where the fan
    does not limit those, at the first of 20, 40 and 60 % of every pass that it does.

    Parameters: ``fit``; ``settings`` of the boiler, for hours and load.

    Returns: ``GasEffects``. A table ends where the model refuses more plugs.

    Raises: nothing.

    Notes: on some 700 invented firings of a boiler of two passes the quick rule lay within 2 % of
    ``output_limit`` up to 20 % of both passes plugged, and within 5 % up to 40 %; the added fuel
    rises within 6 % and 13 % of the marched ones, most of them too low.
    """
    boiler = fit.boiler
    if boiler is None:
        return None
    try:
        none = boiler.without_plugs
        passes = {
            each.pass_: _pass_effect(boiler, none, each.pass_, each.tubes)
            for each in boiler.built.passes
        }
        effects = GasEffects(
            passes=passes,
            yearly_fuel_gj=yearly_fuel_gj(boiler, none, settings),
            output_kw=boiler.measured.output_kw,
            fan=None,
        )
        return replace(effects, fan=_fan(fit, boiler, effects))
    except REFUSALS:
        return None


def yearly_fuel_gj(
    boiler: FittedBoiler, without_plugs: GasSideState, settings: Mapping[str, Mapping[str, Any]]
) -> float | None:
    """Fuel of a year without plugs [GJ, higher heating value]; None without hours or load.

    Equation: (output x load + shell) x hours x 0.0036 / efficiency, with the output that was
    measured, the mean load of the hours fired, and the efficiency without plugs at the measured
    firing. The shell loses the same at any load.

    Notes: at part load the stack is colder and the efficiency up to a point better; firing on and
    off is worse. Neither is counted.
    """
    hours = firing_figure(settings, "hours_per_year")
    load_percent = firing_figure(settings, "load_percent")
    if hours is None or load_percent is None:
        return None
    shell_kw = boiler.fuel_kw * boiler.measured.shell_loss_percent / 100.0
    heat_kw = boiler.measured.output_kw * load_percent / 100.0 + shell_kw
    return heat_kw * hours * 3.6e-3 / (without_plugs.efficiency_percent / 100.0)


def tubes_draft_pa(effects: GasEffects, plugged_percent: Mapping[int, float]) -> float:
    """Draft loss of all tube passes at the measured firing, by the tables [Pa]."""
    return sum(
        _between(each.plugged_percent, each.draft_loss_pa, plugged_percent.get(number, 0.0))
        for number, each in effects.passes.items()
    )


def _pass_effect(boiler: FittedBoiler, none: GasSideState, pass_: int, tubes: int) -> PassEffect:
    percents: list[float] = []
    rises_percent: list[float] = []
    losses_pa: list[float] = []
    for percent in EFFECT_PERCENTS:
        try:
            state = run_boiler(boiler, {pass_: tubes * percent / 100.0}, like=none)
        except REFUSALS:
            break
        percents.append(percent)
        rises_percent.append(100.0 * (none.output_kw / state.output_kw - 1.0))
        losses_pa.append(_draft_of(state, pass_))
    return PassEffect(
        pass_=pass_,
        plugged_percent=tuple(percents),
        fuel_rise_percent=tuple(rises_percent),
        draft_loss_pa=tuple(losses_pa),
    )


def _draft_of(state: GasSideState, pass_: int) -> float:
    return next(each.result.draft_loss_pa for each in state.passes if each.pass_ == pass_)


def _fan(fit: GasSideFit, boiler: FittedBoiler, effects: GasEffects) -> FanTerms | None:
    """The terms of the quick rule, met to the marched model where the fan limits the output."""
    if fit.pressures is None:
        return None
    rest_pa = fit.pressures.furnace_pressure_pa - boiler.as_measured.draft_loss_pa
    terms = FanTerms(
        fan_pa=fit.pressures.fan_pressure_pa,
        growing_pa=fit.pressures.burner_loss_pa + max(rest_pa, 0.0),
        held_pa=min(rest_pa, 0.0),
        correction=1.0,
    )
    quick, is_refused = replace(effects, fan=terms), True
    for plugged in _until_the_fan_limits(fit, boiler):
        try:
            limit_kw = output_limit(boiler, plugged, fit.pressures).output_kw
        except REFUSALS:
            continue
        is_refused = False
        if limit_kw is not None:
            percents = {
                each.pass_: 100.0 * plugged[each.pass_] / each.tubes for each in boiler.built.passes
            }
            quick_kw = quick.output_limit_kw(tubes_draft_pa(effects, percents))
            assert quick_kw is not None  # there is a fan
            return replace(terms, correction=limit_kw / quick_kw)
    return None if is_refused else terms


def _until_the_fan_limits(fit: GasSideFit, boiler: FittedBoiler) -> Iterator[Mapping[int, float]]:
    """The plugs of today, then more of every pass."""
    yield fit.plugged
    for share in (0.2, 0.4, 0.6):
        yield {
            each.pass_: max(fit.plugged[each.pass_], share * each.tubes)
            for each in boiler.built.passes
        }


def _between(at: Sequence[float], values: Sequence[float], wanted: float) -> float:
    """On the line between two places of a table; beyond its ends the last value."""
    if wanted <= at[0]:
        return values[0]
    if wanted >= at[-1]:
        return values[-1]
    after = bisect_right(at, wanted)
    share = (wanted - at[after - 1]) / (at[after] - at[after - 1])
    return values[after - 1] + share * (values[after] - values[after - 1])
