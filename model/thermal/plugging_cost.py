"""What plugged tubes cost a boiler: stack temperature, efficiency, draft, and the highest output.

Always against the same boiler with no plugs, at the same firing. Not here: money (``decision``),
and the scaling law of one pass (``plugging``).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from model.errors import OutOfRange
from model.thermal.boiler_gas_side import (
    SLOW_GAS_REYNOLDS,
    FittedBoiler,
    GasSideState,
    run_boiler,
)
from model.thermal.output_limit import OutputLimit, Pressures, output_limit

RETUNE_CAUTION: Final = "Retune the burner and check carbon monoxide after plugging."

CURVE_PERCENTS: Final = (0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class PassCost:
    """What plugs do to the draft of one pass."""

    pass_: int
    tubes: int
    plugged: float
    draft_loss_pa: float
    draft_without_plugs_pa: float

    @property
    def plugged_percent(self) -> float:
        """Of all tubes of the pass [%]."""
        return 100.0 * self.plugged / self.tubes

    @property
    def draft_ratio(self) -> float:
        """Draft loss with plugs over without [-]."""
        return self.draft_loss_pa / self.draft_without_plugs_pa


@dataclass(frozen=True, slots=True, kw_only=True)
class PlugCost:
    """What a set of plugs costs against none."""

    stack_rise_k: float
    efficiency_loss_points: float
    fuel_rise_percent: float
    """More fuel for the same heat to the water."""
    draft_ratio: float
    """Of all tube passes together."""
    by_pass: tuple[PassCost, ...]
    limit: OutputLimit
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CurvePoint:
    """A share of one pass plugged, the others open."""

    plugged_percent: float
    stack_rise_k: float
    efficiency_percent: float
    efficiency_loss_points: float
    pass_draft_ratio: float
    draft_ratio: float
    output_limit_kw: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class OnePlug:
    """What one more plug in a pass costs."""

    pass_: int
    draft_rise_pa: float
    stack_rise_k: float


def plugging_cost(
    boiler: FittedBoiler, plugged: Mapping[int, int], pressures: Pressures | None = None
) -> PlugCost:
    """What a set of plugs costs, against the same boiler without any.

    Source: own model (``run_boiler``); fuel as DOE Steam Tip Sheet 4 counts it, by the ratio of
    efficiencies.

    Scope: capacity and draft first, efficiency second: at a fixed gas flow ten per cent plugged
    raises the stack by a few degrees and the draft loss of that pass by about a fifth.

    Equation: differences and ratios of two runs at the measured firing; more fuel =
    heat without / heat with - 1.

    Parameters: ``plugged`` tubes by pass; ``pressures`` or None: without all three the ratio only.

    Returns: ``PlugCost``.

    Raises: OutOfRange as ``run_boiler`` and ``output_limit`` do.

    Notes: the fouling fitted to the measured state stands in both runs. Where the gas is slow
    (Reynolds below 4,500 at an inlet) plugs may seem to cool the stack, and a remark says so.
    """
    none = boiler.without_plugs
    state = run_boiler(boiler, plugged, like=none)
    by_pass = tuple(
        PassCost(
            pass_=geometry.pass_,
            tubes=geometry.tubes,
            plugged=plugged.get(geometry.pass_, 0),
            draft_loss_pa=after.result.draft_loss_pa,
            draft_without_plugs_pa=before.result.draft_loss_pa,
        )
        for geometry, before, after in zip(
            boiler.built.passes, none.passes, state.passes, strict=True
        )
    )
    limit = output_limit(boiler, plugged, pressures, at_measured=state)
    slow = tuple(
        f"Pass {each.pass_}: the gas is slow (Reynolds {each.result.reynolds_in:,.0f} without "
        "plugs), where plugs may seem to cool the stack."
        for each in none.passes
        if each.result.reynolds_in < SLOW_GAS_REYNOLDS and plugged.get(each.pass_, 0)
    )
    return PlugCost(
        stack_rise_k=state.stack_c - none.stack_c,
        efficiency_loss_points=none.efficiency_percent - state.efficiency_percent,
        fuel_rise_percent=100.0 * (none.output_kw / state.output_kw - 1.0),
        draft_ratio=state.draft_loss_pa / none.draft_loss_pa,
        by_pass=by_pass,
        limit=limit,
        remarks=(RETUNE_CAUTION, *slow, limit.remark),
    )


def plugging_curve(
    boiler: FittedBoiler,
    pass_: int,
    *,
    percents: Sequence[float] = CURVE_PERCENTS,
    pressures: Pressures | None = None,
) -> tuple[CurvePoint, ...]:
    """The cost of plugging a growing share of one pass, all others open.

    Source, scope, equation, raises and notes as ``plugging_cost``.

    Parameters: ``pass_`` whose tubes are plugged; ``percents`` [%]; ``pressures`` or None.

    Returns: a ``CurvePoint`` for each share.
    """
    tubes = {each.pass_: each.tubes for each in boiler.built.passes}
    if pass_ not in tubes:
        raise OutOfRange("pass", pass_, f"one of {', '.join(map(str, tubes))}")
    none = boiler.without_plugs
    return tuple(
        _curve_point(boiler, none, {pass_: tubes[pass_] * percent / 100.0}, percent, pressures)
        for percent in percents
    )


def one_more_plug(boiler: FittedBoiler, plugged: Mapping[int, int]) -> tuple[OnePlug, ...]:
    """What the next plug costs in each pass, the pass first where it costs most draft.

    Source, scope, raises and notes as ``plugging_cost``. Passes with one open tube are left out.

    Returns: an ``OnePlug`` for each pass.
    """
    now = run_boiler(boiler, plugged, like=boiler.without_plugs)
    costs = []
    for geometry in boiler.built.passes:
        count = plugged.get(geometry.pass_, 0) + 1
        if count < geometry.tubes:
            after = run_boiler(boiler, {**plugged, geometry.pass_: count}, like=now)
            costs.append(
                OnePlug(
                    pass_=geometry.pass_,
                    draft_rise_pa=after.draft_loss_pa - now.draft_loss_pa,
                    stack_rise_k=after.stack_c - now.stack_c,
                )
            )
    return tuple(sorted(costs, key=lambda each: -each.draft_rise_pa))


def _curve_point(
    boiler: FittedBoiler,
    none: GasSideState,
    plugged: Mapping[int, float],
    percent: float,
    pressures: Pressures | None,
) -> CurvePoint:
    (pass_,) = plugged
    state = run_boiler(boiler, plugged, like=none)
    before, after = (
        next(each.result.draft_loss_pa for each in which.passes if each.pass_ == pass_)
        for which in (none, state)
    )
    return CurvePoint(
        plugged_percent=percent,
        stack_rise_k=state.stack_c - none.stack_c,
        efficiency_percent=state.efficiency_percent,
        efficiency_loss_points=none.efficiency_percent - state.efficiency_percent,
        pass_draft_ratio=after / before,
        draft_ratio=state.draft_loss_pa / none.draft_loss_pa,
        output_limit_kw=output_limit(boiler, plugged, pressures, at_measured=state).output_kw,
    )
