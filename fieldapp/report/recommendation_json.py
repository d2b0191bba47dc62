"""The ``recommendation`` of ``condition.json`` and of ``advise --json``: the advice as plain data.

Keys may be added, never changed. Costs are positive; null is not worked out. Not here: any number
that the advice does not have.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import asdict
from types import MappingProxyType
from typing import Any, Final

from fieldapp.report.advice_words import is_not_counted
from model.decision.advice import Advice, GasAfter, OptionResult
from model.decision.limits import LimitResult
from model.decision.options.option_names import option_name
from model.decision.plans import Plan

_NO_KEYS: Final[Mapping[str, str]] = MappingProxyType({})


def recommendation(
    advice: Advice,
    in_any_case: Sequence[str] | None = None,
    keys: Mapping[str, str] = _NO_KEYS,
) -> dict[str, Any]:
    """The advice as what ``json.dumps`` takes, with what the option does not mend.

    ``keys`` of the tubes by hole, in the order in which tubes are listed.
    """
    return {
        "option": advice.option,
        "words": advice.words,
        "by": advice.by,
        "is_by_money": advice.is_by_money,
        "reasons": list(advice.reasons),
        "runner_up": advice.runner_up,
        "margin": advice.margin,
        "share_cheaper": advice.share_cheaper,
        "if_engineer_allows": advice.if_engineer_allows,
        "decide_by": advice.decide_by,
        "missing": list(advice.missing),
        "in_any_case": None if in_any_case is None else list(in_any_case),
        "measure_next": [asdict(each) for each in advice.measure_next],
        "options": [_option(each, keys) for each in advice.options],
        "weak": [
            {"tube": key, "why": advice.why_weak[hole]}
            for hole, key in _named(advice.why_weak, keys).items()
        ],
        "changes_if": [asdict(each) for each in advice.changes_if],
        "drivers": [asdict(each) for each in advice.drivers],
        "assumptions": list(advice.assumptions),
        "prices": dict(advice.prepared),
        "currency": advice.currency,
        "horizon_years": advice.horizon_years,
        "trials": advice.trials,
        "seed": advice.seed,
    }


def _option(each: OptionResult, keys: Mapping[str, str]) -> dict[str, Any]:
    return {
        "key": each.plan.key,
        "name": option_name(each.plan.key),
        "words": each.plan.words,
        "ruled_out": each.ruled_out,
        "waits_for_engineer": each.waits_for_engineer,
        "waits_for": sorted(each.waits_for),
        **_money(each),
        "hours": None if is_not_counted(each) else each.hours,
        "days": None if is_not_counted(each) else each.days,
        "limits_after": [_limit(limit) for limit in each.limits],
        "gas_after": None if each.gas is None else _gas(each.gas),
        "work": _work(each.plan, keys),
        "assumptions": list(each.plan.assumptions),
    }


def _money(each: OptionResult) -> dict[str, Any]:
    money = each.money
    if money is None:
        return {
            "cost_now": None,
            "present_value": None,
            "p10": None,
            "p90": None,
            "flows": [],
            "flows_by_item": {},
            "leaks": [],
            "leaks_p10": None,
            "leaks_p90": None,
            "joint_leaks": [],
            "forced_outages": [],
            "planned": None,
        }
    return {
        "cost_now": money.cost_now,
        "present_value": money.present_value,
        "p10": money.p10,
        "p90": money.p90,
        "flows": list(money.flows),
        "flows_by_item": {name: list(flows) for name, flows in money.flows_by_item.items()},
        "leaks": list(money.leaks),
        "leaks_p10": money.leaks_p10,
        "leaks_p90": money.leaks_p90,
        "joint_leaks": list(money.joint_leaks),
        "forced_outages": list(money.forced_outages),
        "planned": None if money.planned is None else asdict(money.planned),
    }


def _limit(limit: LimitResult) -> dict[str, Any]:
    found = asdict(limit)
    return {
        "name": found.pop("name"),
        "pass": found.pop("pass_"),
        **found,
        "status": str(limit.status),
    }


def _gas(gas: GasAfter) -> dict[str, Any]:
    by_pass = {str(number): ratio for number, ratio in sorted(gas.draft_ratio_by_pass.items())}
    return {**asdict(gas), "draft_ratio_by_pass": by_pass}


def _work(plan: Plan, keys: Mapping[str, str]) -> dict[str, Any]:
    """What is done to which tube, by the ids of their holes and by their keys, and what this outage
    takes."""
    return {
        "plug": sorted(plan.plug),
        "replace": sorted(plan.replace),
        "re_roll": dict(sorted(plan.re_roll.items())),
        "close": sorted(plan.close),
        "close_tubes": list(_named(plan.close, keys).values()),
        "plug_tubes": list(_named(plan.plug, keys).values()),
        "replace_tubes": list(_named(plan.replace, keys).values()),
        "re_roll_tubes": {
            key: plan.re_roll[hole] for hole, key in _named(plan.re_roll, keys).items()
        },
        "retube_passes": sorted(plan.retube),
        "retube_in_year": {str(each): year for each, year in sorted(plan.retube_in_year.items())},
        "renew_sheets": list(plan.renew_sheets),
        "new_boiler": plan.is_new_boiler,
        "rental_weeks": plan.rental_weeks,
        "waits_days": plan.waits_days,
        "bill_now": dict(plan.bill_now),
    }


def _named(holes: Collection[str], keys: Mapping[str, str]) -> dict[str, str]:
    """The keys of these holes, in the order of the keys; a hole without one is named by its id."""
    known = {hole: key for hole, key in keys.items() if hole in holes}
    return known | {hole: f"hole {hole}" for hole in sorted(holes) if hole not in known}
