"""The block ``plugging`` of ``condition.json``: what the plugs as left cost, and the curves.

Not here: the rest of the file (``condition_json``), any number that ``numbers`` does not have.
"""

from typing import Any

from fieldapp.report.numbers import ConditionNumbers
from model.decision.gas.gas_curves import GasSideToday
from model.thermal.plugging_cost import RETUNE_CAUTION, CurvePoint, PassCost


def plugging_block(numbers: ConditionNumbers) -> dict[str, Any]:
    """The block. Where nothing is computed ``why_not`` says why; otherwise it is null."""
    gas = numbers.gas_side
    cost, check = gas.cost, gas.check
    return {
        "by_pass": [] if cost is None else [_of_pass(each) for each in cost.by_pass],
        "stack_rise_k": None if cost is None else cost.stack_rise_k,
        "efficiency_loss_points": None if cost is None else cost.efficiency_loss_points,
        "fuel_rise_percent": None if cost is None else cost.fuel_rise_percent,
        "yearly_fuel_gj": gas.yearly_fuel_gj,
        "extra_fuel_gj": gas.extra_fuel_gj,
        "draft_ratio": None if cost is None else cost.draft_ratio,
        "output_limit_kw": None if cost is None else cost.limit.output_kw,
        "needed_output_kw": gas.needed_output_kw,
        "output_remark": None if cost is None else cost.limit.remark,
        "efficiency_percent": None if check is None else check.first_principles_percent,
        "table_efficiency_percent": None if check is None else check.table_percent,
        "curves": [
            {"pass": curve.pass_, "points": [_point(point) for point in curve.points]}
            for curve in gas.curves
        ],
        "next_plug": [
            {
                "pass": each.pass_,
                "draft_rise_pa": each.draft_rise_pa,
                "stack_rise_k": each.stack_rise_k,
            }
            for each in gas.next_plug
        ],
        "remarks": _remarks(gas),
        "why_not": gas.why_not,
    }


def _remarks(gas: GasSideToday) -> list[str]:
    """The caution stands first, as beside every result."""
    return [] if gas.cost is None else [RETUNE_CAUTION, *gas.remarks]


def _of_pass(each: PassCost) -> dict[str, Any]:
    return {
        "pass": each.pass_,
        "tubes": each.tubes,
        "plugged": each.plugged,
        "plugged_percent": each.plugged_percent,
        "draft_loss_pa": each.draft_loss_pa,
        "draft_loss_without_plugs_pa": each.draft_without_plugs_pa,
        "draft_ratio": each.draft_ratio,
    }


def _point(point: CurvePoint) -> dict[str, Any]:
    return {
        "plugged_percent": point.plugged_percent,
        "stack_rise_k": point.stack_rise_k,
        "efficiency_percent": point.efficiency_percent,
        "efficiency_loss_points": point.efficiency_loss_points,
        "pass_draft_ratio": point.pass_draft_ratio,
        "draft_ratio": point.draft_ratio,
        "output_limit_kw": point.output_limit_kw,
    }
