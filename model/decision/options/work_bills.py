"""The bill of an outage and of the events that may follow: hours, days, tubes, plugs, fees.

Not here: which tubes are dealt with (``options``), what a bill comes to (``prices``), how often an
event happens (``trials``).
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

from model.decision.plans import Plan
from model.decision.prices import Bill, Prices
from model.decision.situation import PassSituation, Situation
from model.decision.trials.trial_runs import (
    FUEL,
    JOINT_LEAK,
    LEAK,
    PLANNED_PLUG,
    PLANNED_RE_ROLL,
    RETUBE_OUTAGE,
    SHORTFALL,
    retube_kind,
)

PLUGS_PER_TUBE: Final = 2
"""One at each end."""
ENDS_PER_TUBE: Final = 2
NEIGHBOURS: Final = 6
"""Tubes around a single tube whose joints are re-rolled after it was replaced (ours)."""
DAYS_PER_WEEK: Final = 7.0

_HOURS_BY_ENDS: Final[Mapping[str, str]] = {
    "rolled": "rolled",
    "rolled-flared": "rolled",
    "rolled-beaded": "beaded",
    "rolled-welded": "welded",
    "welded": "welded",
}
_SHARED: Final = ("open_and_close", "doors_and_refractory", "pressure_test", "mobilisation")
"""Once in an outage, whatever is done; so are the inspector's fee and, when planned, cleaning."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """How much is done in one outage."""

    new_tubes: Mapping[int, int] = field(default_factory=dict)
    """By pass."""
    plugs: int = 0
    re_rolls: int = 0
    """Tube ends."""
    is_tube_order: bool = False
    """Whether tubes are ordered; a few single ones come from stock."""
    new_sheets: int = 0

    @property
    def is_any(self) -> bool:
        return bool(self.plugs or self.re_rolls or self.new_tubes or self.new_sheets)


def work_of(plan: Plan, situation: Situation) -> Work:
    """What a plan does in this outage, neighbours of replaced tubes among the joints."""
    if plan.is_new_boiler:
        return Work()
    return Work(
        new_tubes={
            each.pass_: count for each in situation.passes if (count := plan.renewed_after(each))
        },
        plugs=PLUGS_PER_TUBE * len(plan.plug) + len(plan.close),
        re_rolls=sum(plan.re_roll.values())
        + sum(neighbour_re_rolls(plan, each) for each in situation.passes),
        is_tube_order=plan.orders_tubes,
        new_sheets=len(plan.renew_sheets),
    )


def neighbour_re_rolls(plan: Plan, each: PassSituation) -> int:
    """Sound joints of a pass that are re-rolled because single tubes beside them are replaced.

    Six neighbours with two ends for each (ours), at most the joints of the pass that stay and are
    not re-rolled as leaking anyway; none where the whole pass is renewed.
    """
    if each.pass_ in plan.retube:
        return 0
    replaced = plan.replace & each.holes
    staying = each.holes - replaced - plan.plugged_after(each)
    leaking = sum(plan.re_roll.get(hole, 0) for hole in staying)
    return min(
        NEIGHBOURS * ENDS_PER_TUBE * len(replaced), max(0, ENDS_PER_TUBE * len(staying) - leaking)
    )


def hours_per_tube(each: PassSituation, prices: Prices) -> float:
    """Hours to replace a tube of a pass, by the way its ends are made; else the mean of those."""
    own = prices.tube_hours.get(_HOURS_BY_ENDS.get(each.ends or "", ""))
    return prices.value("hours_per_tube") if own is None else own


def is_mean_taken(each: PassSituation, prices: Prices) -> bool:
    """Whether hours by end type are given, but none for how this pass is made."""
    told_apart = bool(prices.tube_hours) and "" not in prices.tube_hours
    return told_apart and _HOURS_BY_ENDS.get(each.ends or "", "") not in prices.tube_hours


def labour_and_days(work: Work, situation: Situation, *, set_ups: int = 1) -> tuple[float, float]:
    """Labour hours with the set-up, and days of work without it.

    The crew's pace is that of retubing this boiler: ``days_per_100_tubes`` for 100 of its tubes.
    Where a tube takes no hours there is no pace, and days go by new tubes alone.
    """
    prices = situation.prices
    if not work.is_any:
        return 0.0, 0.0
    hours = (
        sum(
            count * hours_per_tube(situation.pass_(number), prices)
            for number, count in work.new_tubes.items()
        )
        + work.plugs * prices.value("hours_per_plug")
        + work.re_rolls * prices.value("hours_per_re_roll")
    )
    days_per_tube = prices.value("days_per_100_tubes") / 100.0
    usual = _usual_hours_per_tube(situation)
    tubes = hours / usual if usual > 0.0 else float(sum(work.new_tubes.values()))
    return hours + set_ups * prices.value("set_up_hours"), days_per_tube * tubes


def bill_of_outage(plan: Plan, situation: Situation, *, visits: int = 1) -> Bill:
    """All that a plan takes in this outage. ``visits`` with a set-up and an inspector's fee each.

    The boiler stands still for the days of work and of waiting, unless a rented one carries the
    load meanwhile. For a new boiler only the waiting counts: how long it is put in nobody states.
    """
    if plan.is_new_boiler:
        return {"new_boiler": 1.0, "outage_per_day": plan.waits_days}
    work = work_of(plan, situation)
    if not work.is_any:
        return {}
    hours, days = labour_and_days(work, situation, set_ups=visits)
    bill = _work_bill(work, hours)
    bill["inspector"] = float(visits)
    bill["cleaning"] = 1.0
    if plan.rental_weeks > 0.0:
        bill["rental_per_week"] = plan.rental_weeks
        bill["rental_mobilise"] = 1.0
    else:
        bill["outage_per_day"] = days + plan.waits_days
    return bill


def event_bills(situation: Situation) -> Mapping[str, Bill]:
    """What each kind of later event takes, once. Kinds: ``leak``, ``joint-leak``,
    ``planned-plug``, ``planned-re-roll``, ``fuel_gj``, ``shortfall_mwh``, ``retube-outage`` and
    ``retube-N`` of each pass. A planned plug or re-roll takes its own hours alone: the boiler is
    down anyway. A pass that is retubed takes its own work, days and tubes; the outage in which it
    comes, whether alone or with other passes, takes what they share.
    """
    plugged, re_rolled = Work(plugs=PLUGS_PER_TUBE), Work(re_rolls=1)
    hours, _ = labour_and_days(plugged, situation, set_ups=0)
    re_roll_hours, _ = labour_and_days(re_rolled, situation, set_ups=0)
    bills: dict[str, Bill] = {
        LEAK: _forced_outage(plugged, situation),
        JOINT_LEAK: _forced_outage(re_rolled, situation),
        PLANNED_PLUG: {"labour_per_hour": hours, "plug_each": float(PLUGS_PER_TUBE)},
        PLANNED_RE_ROLL: {"labour_per_hour": re_roll_hours},
        FUEL: {"fuel_per_gj": 1.0},
        SHORTFALL: {"capacity_per_mwh": 1.0},
        RETUBE_OUTAGE: _retube_outage(situation),
    }
    for each in situation.passes:
        bills[retube_kind(each.pass_)] = _planned_retube(each, situation)
    return bills


def _usual_hours_per_tube(situation: Situation) -> float:
    """The mean over the boiler's tubes; of the ways ends are made where it has no tubes."""
    tubes = sum(each.tubes for each in situation.passes)
    if not tubes:
        return situation.prices.value("hours_per_tube")
    hours = sum(each.tubes * hours_per_tube(each, situation.prices) for each in situation.passes)
    return hours / tubes


def _forced_outage(work: Work, situation: Situation) -> Bill:
    """An unplanned outage for one repair; what the standby does not cover is lost production."""
    hours, _ = labour_and_days(work, situation)
    bill = _work_bill(work, hours)
    bill["inspector"] = 1.0
    bill["forced_outage_per_day"] = (
        situation.prices.value("forced_outage_days") * situation.uncovered
    )
    return bill


def _retube_outage(situation: Situation) -> Bill:
    """What all passes retubed at one planned outage share: their tubes come as one order."""
    bill = _work_bill(Work(is_tube_order=True), situation.prices.value("set_up_hours"))
    bill["inspector"] = 1.0
    bill["cleaning"] = 1.0
    return bill


def _planned_retube(each: PassSituation, situation: Situation) -> Bill:
    """A pass retubed at a planned outage, without what is shared: the tubes lie ready, so nothing
    waits."""
    work = Work(new_tubes={each.pass_: each.tubes})
    hours, days = labour_and_days(work, situation, set_ups=0)
    return {"labour_per_hour": hours, "tube_each": float(each.tubes), "outage_per_day": days}


def _work_bill(work: Work, hours: float) -> dict[str, float]:
    """Labour, material and what is shared by whatever is done."""
    bill = {"labour_per_hour": hours} | dict.fromkeys(_SHARED, 1.0)
    tubes = sum(work.new_tubes.values())
    if tubes:
        bill["tube_each"] = float(tubes)
    if work.plugs:
        bill["plug_each"] = float(work.plugs)
    if work.is_tube_order:
        bill["freight"] = 1.0
    if work.new_sheets:
        bill["sheet_renewal"] = float(work.new_sheets)
    return bill
