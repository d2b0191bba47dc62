"""Advice built by hand for tests of what shows it; every number is invented."""

from dataclasses import replace

from model.decision.advice import (
    Advice,
    BreakEven,
    Driver,
    GasAfter,
    Measurement,
    OptionMoney,
    OptionResult,
    PlannedWork,
)
from model.decision.limits import (
    CLUSTER,
    COVERAGE,
    OUT_OF_SERVICE,
    PLUGGED,
    LimitResult,
    LimitStatus,
)
from model.decision.plans import Plan

HORIZON_YEARS = 10
RATE = 0.07
WORDS = {
    "run-on": "Nothing is done.",
    "re-roll": "Re-roll the 3 leaking joints.",
    "plug-bad": "Plug the 6 bad tubes and re-roll 3 joints.",
    "plug-bad-and-weak": "Plug the 6 bad and the 9 weak tubes and re-roll 3 joints.",
    "plug-then-retube": "Plug the 6 bad tubes now; retube pass 2 at the outage of 2027-07-12.",
    "replace-bad": "Replace the 6 bad tubes and re-roll 3 joints.",
    "replace-bad-and-weak": "Replace the 6 bad and the 9 weak tubes and re-roll 3 joints.",
    "retube-pass-2": "Retube pass 2, plug 1 bad tube of pass 3 and re-roll 3 joints.",
    "retube-pass-3": "Retube pass 3, plug 5 bad tubes of pass 2 and re-roll 3 joints.",
    "retube-all": "Retube both passes.",
    "renew-sheet": "Retube pass 2 and renew the chamber tube sheet.",
    "reduced-output": "Plug the 6 bad tubes and run below the output needed.",
    "new-boiler": "Replace the boiler.",
    "rental": "Rent a boiler for 9 weeks and retube pass 2 meanwhile.",
    "find-out": "Plug the 6 bad tubes and pull one tube of each pass as a sample.",
}


def money(now, later, *, horizon=HORIZON_YEARS, **more):
    """Costs: ``now``, then the same in every year."""
    flows = (float(now), *(float(later) for _ in range(horizon)))
    value = sum(flow / (1.0 + RATE) ** year for year, flow in enumerate(flows))
    leaks = (0.0, *(0.4 + 0.1 * year for year in range(horizon)))
    given = {
        "cost_now": float(now),
        "present_value": value,
        "p10": 0.88 * value,
        "p90": 1.15 * value,
        "flows": flows,
        "flows_by_item": {
            "labour_per_hour": tuple(0.4 * flow for flow in flows),
            "forced_outage_per_day": tuple(0.6 * flow for flow in flows),
        },
        "leaks": leaks,
        "joint_leaks": (0.0, *(0.2 for _ in range(horizon))),
        "forced_outages": (0.0, *(0.3 for _ in range(horizon))),
        "leaks_p10": 0.6 * sum(leaks),
        "leaks_p90": 1.5 * sum(leaks),
        "planned": PlannedWork(words="retube pass 2", year=4.0, chance=0.83),
    }
    return OptionMoney(**(given | more))


def limits(out_of_service=6.6, status=LimitStatus.WATCH):
    basis = "common practice; no published code limit was found"
    return (
        LimitResult(name=PLUGGED, value=6.6, high=6.8, watch=4.0, act=10.0, basis=basis,
                    status=LimitStatus.WATCH, pass_=2),
        LimitResult(name=OUT_OF_SERVICE, value=out_of_service, high=None, watch=5.0, act=10.0,
                    basis=basis, status=status, pass_=2),
        LimitResult(name=COVERAGE, value=95.7, high=None, watch=95.0, act=80.0, basis="ours",
                    status=LimitStatus.OK),
        LimitResult(name=CLUSTER, value=228.0, high=None, watch=None, act=214.0, basis="flag",
                    status=LimitStatus.REFER, sheet="chamber"),
    )  # fmt: skip


def gas(output_limit_kw=3310.0):
    return GasAfter(
        stack_rise_k=2.4,
        efficiency_loss_points=0.11,
        fuel_rise_percent=0.13,
        draft_ratio=1.12,
        draft_ratio_by_pass={2: 1.22, 3: 1.02},
        output_limit_kw=output_limit_kw,
        output_remark="upper bound: a flat fan curve",
    )


def option(key, cost=None, *, ruled_out=None, plan=None, **more):
    given = {
        "plan": Plan(key=key, words=WORDS.get(key, key), **(plan or {})),
        "ruled_out": ruled_out,
        "waits_for": frozenset(),
        "money": cost,
        "limits": limits(),
        "gas": gas(),
        "hours": 62.0,
        "days": 3.5,
    }
    return OptionResult(**(given | more))


BAD = frozenset({"hole1", "hole2", "hole3", "hole4", "hole5", "hole6"})
JOINTS = {"hole7": 1, "hole8": 2}
OPTIONS = (
    option("run-on", ruled_out="Ruled out: 6 tubes are bad and must be dealt with first."),
    option("re-roll", ruled_out="Ruled out: 6 tubes are bad."),
    option("plug-bad", money(14_210, 21_350), plan={"plug": BAD, "re_roll": JOINTS}),
    option("plug-bad-and-weak", money(16_480, 19_600), plan={"plug": BAD, "re_roll": JOINTS}),
    option("plug-then-retube", money(14_210, 18_480), plan={"plug": BAD, "re_roll": JOINTS}),
    option("replace-bad", money(19_950, 17_800), plan={"replace": BAD, "re_roll": JOINTS}),
    option("retube-pass-2", money(88_420, 6_140), hours=371.4, days=69.4,
           plan={"retube": frozenset({2}), "plug": frozenset({"hole6"}), "re_roll": JOINTS,
                 "waits_days": 63.0, "assumptions": ("A set of tubes takes 9 weeks.",)}),
    option("retube-all", money(176_300, 1_840), plan={"retube": frozenset({2, 3})}),
    option("new-boiler", money(420_000, 0), ruled_out="Ruled out: no crane can stand there."),
    option("rental", None,
           ruled_out="Ruled out: its cost cannot be worked out without rental_per_week."),
)  # fmt: skip
CHANGES = (
    BreakEven(name="fuel price", unit="USD/GJ", now=8.5, low=0.0, high=42.5,
              below=None, below_option=None, above=None, above_option=None),
    BreakEven(name="outage cost", unit="USD a day", now=2200.0, low=0.0, high=22_000.0,
              below=None, below_option=None, above=15_432.0, above_option="plug-bad"),
    BreakEven(name="further leaks per year", unit="times the present rate", now=1.0, low=0.0,
              high=5.0, below=0.42, below_option="plug-bad", above=3.5,
              above_option="retube-all"),
)  # fmt: skip
DRIVERS = (
    Driver(name="coming losses of pass 2", low=0.6, high=3.1, unit="tubes a year",
           source="leak history", margin_low=-8_200.0, margin_high=41_500.0),
    Driver(name="forced outage", low=8_100.0, high=9_900.0, unit="USD a day", source="owner",
           margin_low=4_900.0, margin_high=19_900.0),
    Driver(name="doors and refractory", low=2_240.0, high=4_160.0, unit="USD", source="assumed",
           margin_low=12_000.0, margin_high=13_100.0),
)  # fmt: skip
BY_MONEY = Advice(
    option="retube-pass-2",
    words="Retube pass 2.",
    is_by_money=True,
    by="lowest cost on these inputs over 10 years at 7 %",
    reasons=(
        "6 bad tubes and 3 tubes leaking at the joint must be dealt with before steaming.",
        "Lowest cost on these inputs: 132,000 USD over 10 years.",
        "Against plug-then-retube it saves most on forced outages.",
    ),
    options=OPTIONS,
    runner_up="plug-then-retube",
    margin=12_461.0,
    share_cheaper=0.71,
    if_engineer_allows=None,
    changes_if=CHANGES,
    drivers=DRIVERS,
    passes_without_growth=(),
    due_before_outage=frozenset(),
    missing=("the cause of the cracked ends", "readings of pass 3: none in this inspection"),
    measure_next=(
        Measurement(words="pull one tube of pass 2 and have its ends sectioned", worth=6_480.0),
        Measurement(words="measure 20 walls of pass 3", worth=0.0),
    ),
    assumptions=(
        "Single tubes come from stock; a set of tubes takes 9 weeks.",
        "The growth of leaks in pass 3 is not known: its rate is taken as constant.",
    ),
    decide_by="2027-05-10",
    trials=10_000,
    seed=8192,
    horizon_years=HORIZON_YEARS,
    currency="USD",
    prepared={"labour_per_hour": 95.0, "tube_each": 118.0},
)
BY_CONDITION = replace(
    BY_MONEY,
    is_by_money=False,
    by="condition alone. [costs] lacks labour_per_hour, tube_each.",
    reasons=("6 tubes are bad and must be dealt with before steaming.",),
    options=tuple(replace(each, money=None) for each in OPTIONS),
    runner_up=None,
    margin=None,
    share_cheaper=None,
    changes_if=(),
    drivers=(),
    measure_next=(),
    prepared={},
)
NO_ADVICE = replace(
    BY_CONDITION,
    option=None,
    words="No advice on the whole boiler; nothing bad was recorded.",
    by="condition alone. This inspection gives no advice on the whole boiler.",
    reasons=("This was a leak call: it says nothing about the whole boiler.",),
    options=(),
    passes_without_growth=(),
    due_before_outage=frozenset(),
    missing=(),
    decide_by=None,
)
ALL_RULED_OUT = replace(
    BY_CONDITION,
    by="condition alone. Every option that has a price is ruled out, each for its reason.",
    options=tuple(
        replace(each, ruled_out=each.ruled_out or "Ruled out: a stay question is unanswered.")
        for each in OPTIONS
    ),
)
FIND_OUT = replace(
    BY_MONEY,
    option="find-out",
    words="Find out more first, then decide. On what is known so far, the lowest cost is: "
    "Retube pass 2.",
    reasons=("Measure first: no wall of pass 3 was measured.", *BY_MONEY.reasons),
    runner_up="retube-pass-2",
    margin=None,
    share_cheaper=None,
    options=(*OPTIONS, option("find-out", money(17_900, 21_000), plan={"plug": BAD})),
)


def _many():
    keys = [key for key in WORDS if key != "run-on"]
    wide = {"horizon": 25, "p10": 1.1e11, "p90": 9.8e12}
    return replace(
        BY_MONEY,
        options=tuple(
            option(key, money(1e9 * number, 2.3e11, **wide), plan={"plug": BAD})
            for number, key in enumerate(keys, start=1)
        ),
        horizon_years=25,
        margin=1.5e9,
        drivers=tuple(
            replace(each, margin_low=each.margin_low * 1e6, margin_high=each.margin_high * 1e6)
            for each in DRIVERS * 3
        ),
    )


MANY_AND_HUGE = _many()
"""Fourteen options, 25 years, sums of a currency of small coins."""
ONE_OPTION = replace(
    BY_MONEY,
    option="plug-bad",
    words="Plug the bad tubes.",
    options=(option("plug-bad", money(14_210, 21_350), plan={"plug": BAD}),),
    runner_up=None,
    margin=None,
    share_cheaper=None,
    changes_if=(),
    drivers=(),
)
NOTHING_COSTS = replace(
    BY_MONEY,
    option="run-on",
    words="Nothing found calls for work on the tubes.",
    options=(option("run-on", money(0, 0)), option("retube-all", money(0, 0))),
    runner_up="retube-all",
    margin=0.0,
    share_cheaper=0.5,
    drivers=tuple(replace(each, margin_low=0.0, margin_high=0.0) for each in DRIVERS),
)
STATES = {
    "by money": BY_MONEY,
    "by condition": BY_CONDITION,
    "no advice": NO_ADVICE,
    "all ruled out": ALL_RULED_OUT,
    "find out": FIND_OUT,
    "many and huge": MANY_AND_HUGE,
    "one option": ONE_OPTION,
    "nothing costs": NOTHING_COSTS,
}
