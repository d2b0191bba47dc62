"""From records to the advice: gates before money, and the invariants of every advice.

Not here: the parts of the advice (``tests/model/decision``).
"""

import builtins

import pytest

from fieldapp.report.deciding import decide
from model.decision.advice import Waits
from model.decision.advise import is_decided_now, order_by
from model.decision.plans import Plan
from model.decision.present_value import net_present_value
from model.record.words import Scope
from tests.fieldapp.report.test_numbers import numbers_of
from tests.model.condition.journal import AUTUMN, SPRING
from tests.model.condition.small_boiler import SmallBoiler, hole_of
from tests.model.decision.situation_cases import COSTS

PASSES = {2: 12, 3: 12}
OUTAGE = {"next": "2025-10-01", "interval_years": 1.0, "tube_lead_weeks": 8.0}


def looked_at(*, but=(), readings=("2.1", "3.1"), **more):
    """A boiler whose tubes were all seen sound, but some, with a wall of each pass."""
    boiler = SmallBoiler(PASSES, **more)
    for pass_, tubes in PASSES.items():
        for number in range(1, tubes + 1):
            key = f"{pass_}.{number}"
            if key not in but:
                boiler.see(key, "sound")
    for key in readings:
        boiler.measure(key, 2.9)
    return boiler


def advice_of(boiler, *, without=(), **settings):
    costs = {name: value for name, value in COSTS.items() if name not in without}
    numbers = numbers_of(boiler, **{"costs": costs, "outage": OUTAGE, **settings})
    return decide(numbers, trials=200)


def allowed(advice):
    return {
        each.plan.key: each.money.present_value
        for each in advice.options
        if each.ruled_out is None and each.money is not None and each.plan.key != "find-out"
    }


def test_the_advice_says_of_every_weak_tube_why_it_is_weak():
    boiler = looked_at(but=("2.3",))
    boiler.see("2.3", "thinned")
    for costs in ({}, {"without": tuple(COSTS)}):
        advice = advice_of(boiler, **costs)
        assert advice.is_by_money is not bool(costs)
        assert advice.why_weak == {hole_of("2.3"): "thinned"}


def test_a_sound_boiler_runs_on_at_the_lowest_cost_on_these_inputs():
    advice = advice_of(looked_at())
    assert advice.is_by_money
    assert advice.by == "lowest cost on these inputs over 15 years at 8 %"
    assert advice.option == min(allowed(advice), key=allowed(advice).get)
    assert "run-on" in allowed(advice)
    assert advice.result("new-boiler").money.cost_now == COSTS["new_boiler"] + 56 * 1000


def test_a_leaking_tube_never_stays_in_service():
    boiler = looked_at(but=("2.5",))
    boiler.see("2.5", "leaking", leak_at="bore")
    advice = advice_of(boiler)
    assert "1 tube is bad and must be dealt with" in advice.result("run-on").ruled_out
    assert advice.option in allowed(advice)
    assert "run-on" not in allowed(advice)
    for each in advice.options:
        if each.ruled_out is None and not each.plan.is_new_boiler and not each.plan.retube:
            assert each.plan.plug | each.plan.replace


@pytest.mark.parametrize("sum_of", ["flows", "items", "npv", "range", "margin"])
def test_the_sums_of_every_option_agree(sum_of):
    boiler = looked_at(but=("2.5",))
    boiler.see("2.5", "leaking", leak_at="bore")
    advice = advice_of(boiler)
    priced = [each.money for each in advice.options if each.money is not None]
    assert priced
    for money in priced:
        if sum_of == "flows":
            assert money.cost_now == money.flows[0]
            assert len(money.flows) == COSTS["horizon_years"] + 1
        elif sum_of == "items":
            by_year = zip(*money.flows_by_item.values(), strict=True)
            for flow, items in zip(money.flows, by_year, strict=False):
                assert flow == pytest.approx(sum(items))
        elif sum_of == "npv":
            assert money.present_value == pytest.approx(
                net_present_value(rate_percent=8.0, flows=money.flows)
            )
        elif sum_of == "range":
            assert money.p10 <= money.p90
    if sum_of == "margin":
        first, second, *_ = sorted(allowed(advice).values())
        assert advice.margin == pytest.approx(second - first)


def test_with_too_few_ends_looked_at_it_leads_with_what_to_look_at():
    boiler = SmallBoiler(PASSES)
    boiler.see("2.1", "sound")
    boiler.measure("2.1", 2.9)
    boiler.measure("3.1", 2.9)
    advice = advice_of(boiler)
    assert advice.option == "find-out"
    assert advice.reasons[0].startswith("Look first: ")
    assert "Find out more first" in advice.words
    # On what was seen it would run on; what nobody saw stands against that alone.
    assert advice.runner_up == "run-on"
    assert advice.result("run-on").waits_for == {Waits.LOOK}
    assert advice.words.endswith(advice.result("run-on").plan.words)


def test_one_end_in_reach_that_nobody_looked_at_leads_where_nothing_else_is_to_do():
    boiler = looked_at(but=("2.5",))
    boiler.see("2.5", "sound", "front")
    advice = advice_of(boiler)
    assert advice.option == "find-out"
    assert advice.reasons[0] == (
        "Look first: nobody looked at 1 tube end that can be reached today, and otherwise nothing "
        "would be done."
    )
    assert "1 tube end in scope that nobody looked at" in advice.missing
    assert advice.runner_up == "run-on"
    # An engineer's look at the plate has nothing to do with it.
    assert advice.if_engineer_allows is None
    # Out of reach it is only named.
    boiler.see("2.5", None, "rear", reason="no-entry", how="seen")
    assert advice_of(boiler).option == "run-on"


def test_a_tube_that_was_thinned_last_time_is_looked_at_before_anybody_runs_on():
    """The weakest ends are the last that may go unseen."""
    boiler = looked_at(but=("2.5",))
    boiler.see("2.5", "thinned", at=SPRING)
    advice = advice_of(boiler)
    assert advice.option == "find-out"
    assert advice.reasons[0].startswith("Look first: nobody looked at 2 tube ends")
    boiler.see("2.5", "thinned")
    assert advice_of(boiler).option != "find-out"


@pytest.mark.parametrize("without", [(), ("tube_each",)], ids=["by money", "by condition"])
def test_a_plug_whose_other_end_was_seen_open_is_closed_before_anybody_runs_on(without):
    boiler = looked_at(but=("2.5",))
    boiler.see("2.5", "plugged", "front", plug={"type": "driven", "condition": "tight"})
    boiler.see("2.5", "sound", "rear")
    advice = advice_of(boiler, without=without)
    assert advice.option == "plug-bad"
    assert "Close the open end" in advice.words
    assert advice.result("plug-bad").plan.close == {hole_of("2.5")}
    assert "1 plugged tube is open at the other end" in advice.result("run-on").ruled_out


def test_an_unseen_end_beside_a_bad_tube_does_not_lead():
    boiler = looked_at(but=("2.5", "2.6"))
    boiler.see("2.6", "leaking", leak_at="bore")
    boiler.see("2.5", "sound", "front")
    assert advice_of(boiler).option in allowed(advice_of(boiler))


def test_an_unseen_end_does_not_lead_where_a_limit_calls_for_a_retube():
    boiler = looked_at(but=("2.1", "2.2", "2.5"))
    for key in ("2.1", "2.2"):
        boiler.see(key, "plugged", plug={"type": "driven", "condition": "tight"})
    boiler.see("2.5", "sound", "front")
    advice = advice_of(boiler, without=("tube_each",))
    assert advice.result("run-on").waits_for == {Waits.LOOK}
    assert advice.option == "retube-pass-2"


def test_runner_up_and_what_would_change_it_are_among_what_may_be_chosen():
    """Neither an option that is ruled out nor finding out more, which is a step, competes."""
    boiler = looked_at(but=("2.5",))
    boiler.see("2.5", "leaking", leak_at="bore")
    # Labour that is dear makes plugs win, so that less labour and more years change it.
    advice = advice_of(boiler, costs=COSTS | {"labour_per_hour": 1000})
    costs = allowed(advice)
    assert {"run-on", "find-out"}.isdisjoint(costs)
    assert [advice.option, advice.runner_up] == sorted(costs, key=costs.get)[:2]
    assert 0.0 < advice.share_cheaper < 1.0
    assert advice.drivers
    turns = {key for each in advice.changes_if for key in (each.below_option, each.above_option)}
    assert turns - {None}
    assert turns - {None} <= costs.keys()


def damaged(boiler, part="furnace", grade="act", *, at=AUTUMN, **where):
    place = {"holes": [], "sheet": None, "distance_mm": None, "clock_h": None, "text": ""} | where
    boiler.journal.add(
        "part",
        {
            "inspection": at, "part": part, "where": place, "mechanism": None,
            "side": "fire", "method": None, "length_mm": None, "depth_mm": None,
            "remaining_percent": None, "grade": grade, "note": "",
        },
    )  # fmt: skip
    return boiler


FURNACE = (
    "Damage graded act is recorded of the furnace: it must be repaired, or accepted by those whose "
    "law it is, before steaming; no work on tubes mends it, and its cost is in no option."
)


@pytest.mark.parametrize("without", [(), ("tube_each",)], ids=["by money", "by condition"])
def test_a_damaged_furnace_is_judged_before_anybody_runs_on(without):
    advice = advice_of(damaged(looked_at()), without=without)
    assert advice.is_by_money is not bool(without)
    assert advice.option == "find-out"
    assert advice.words.startswith("Have the damaged parts judged first, then decide. On the tubes")
    assert advice.reasons[0] == FURNACE
    assert advice.reasons.count(FURNACE) == 1
    assert advice.result("run-on").waits_for == {Waits.DAMAGE}
    assert advice_of(damaged(looked_at(), grade="watch"), without=without).option == "run-on"


def test_damage_is_not_said_to_be_all_that_comes_first_where_walls_are_missing():
    advice = advice_of(damaged(looked_at(readings=())))
    assert advice.reasons[:2] == (
        "Measure first: no wall of passes 2 and 3 was measured in this inspection.",
        FURNACE,
    )
    assert advice.words.startswith("Find out more first, then decide.")


def test_two_records_of_like_damage_are_named_once():
    boiler = looked_at()
    for _ in range(2):
        damaged(boiler, "ligament", sheet="front")
    assert advice_of(boiler).result("run-on").ruled_out == (
        "Ruled out: damage graded act is recorded of a ligament of the front, and doing nothing "
        "leaves it: have it judged first."
    )


def test_damage_that_goes_with_the_old_boiler_is_no_reason_against_a_new_one():
    boiler = damaged(looked_at(but=("2.5",)))
    boiler.see("2.5", "leaking", leak_at="bore")
    dear = dict.fromkeys(("tube_each", "plug_each", "forced_outage_per_day"), 1e6)
    advice = advice_of(boiler, costs=COSTS | dear | {"new_boiler": 1000})
    assert advice.option == "new-boiler"
    assert FURNACE not in advice.reasons


def test_damage_of_last_time_that_nobody_mentions_today_is_judged_first_too():
    """As a leak of last time without a repair: silence has mended nothing."""
    advice = advice_of(damaged(looked_at(), at=SPRING))
    assert advice.option == "find-out"
    assert advice.result("run-on").waits_for == {Waits.DAMAGE}
    assert advice.reasons[0].startswith(
        "Damage graded act is recorded of the furnace (on 2024-04-10, and not mentioned since): it "
        "must be repaired"
    )
    answered = damaged(damaged(looked_at(), at=SPRING), grade="note")
    assert advice_of(answered).option == "run-on"


def with_a_leak(part):
    boiler = damaged(looked_at(but=("2.5",)), part)
    boiler.see("2.5", "leaking", leak_at="bore")
    return boiler


@pytest.mark.parametrize("without", [(), ("tube_each",)], ids=["by money", "by condition"])
def test_beside_a_bad_tube_a_small_repair_of_a_part_is_a_first_reason(without):
    advice = advice_of(with_a_leak("handhole"), without=without)
    assert advice.option != "find-out"
    assert FURNACE.replace("the furnace", "a handhole") in advice.reasons[:2]
    # What must be dealt with is said once.
    assert sum("before steaming" in each for each in advice.reasons) == 2


@pytest.mark.parametrize("without", [(), ("tube_each",)], ids=["by money", "by condition"])
@pytest.mark.parametrize("part", ["furnace", "chamber", "stay", "sheet-area"])
def test_a_repair_that_may_decide_leads_whatever_is_to_be_done_to_tubes(part, without):
    advice = advice_of(with_a_leak(part), without=without)
    assert advice.option == "find-out"
    assert advice.words.startswith("Have the damaged parts judged first, then decide. On the tubes")
    assert sum(each.startswith("Damage graded act") for each in advice.reasons) == 1
    # By money the tube must be dealt with all the same, and that is told.
    assert any("must be dealt with before steaming" in each for each in advice.reasons)


def test_a_leak_call_says_what_is_damaged_too():
    advice = advice_of(damaged(looked_at(scope="leak-call")))
    assert advice.option is None
    assert advice.reasons[1] == FURNACE


def test_without_costs_a_pass_without_a_reading_leads_too():
    advice = advice_of(looked_at(readings=("2.1",)), without=("labour_per_hour",))
    assert not advice.is_by_money
    assert advice.option == "find-out"
    assert advice.reasons[0] == "Measure first: no wall of pass 3 was measured in this inspection."
    assert advice.words == (
        "Find out more first, then decide. On what is known so far, the condition leads to: "
        "Nothing found calls for work on the tubes."
    )


def test_what_is_advised_is_always_among_the_options_and_never_ruled_out_by_its_own_gate():
    everything_plugged = SmallBoiler({2: 6})
    everything_plugged.see_rest("plugged", plug={"type": "welded", "condition": "tight"})
    advice = advice_of(everything_plugged)
    assert advice.option == "find-out"
    assert advice.result("find-out").ruled_out is None
    assert "no tube of pass 2 is open after it" in advice.result("run-on").ruled_out


def test_an_unseen_end_does_not_hide_what_an_engineers_answer_would_save():
    """Else one end that nobody looked at makes the dearer work look forced."""
    boiler = looked_at(but=("2.1", "2.5"), stays=("2.1",))
    boiler.see("2.1", "plugged", plug={"type": "driven", "condition": "tight"})
    boiler.see("2.5", "sound", "front")
    advice = advice_of(boiler)
    assert advice.option == "replace-bad"
    assert advice.result("run-on").waits_for == {Waits.STAY, Waits.LOOK}
    assert advice.if_engineer_allows == "run-on"
    assert advice.measure_next[0].words == (
        "an engineer's answer to the stay question: if it is yes and nothing bad is found at the "
        "ends that nobody looked at, running on costs least"
    )


def test_a_tube_that_comes_to_the_retirement_wall_before_the_outage_is_told():
    boiler = looked_at()
    for wall_mm, at in ((2.9, SPRING), (2.2, AUTUMN)):
        boiler.measure("2.7", wall_mm, at=at, end="front", at_mm=100)
    wall = {"retirement": "stated", "stated_mm": 2.0, "basis": "letter"}
    found = advice_of(boiler, wall=wall)
    # It loses 0.7 mm in half a year, and 0.2 mm are left for a year.
    assert found.due_before_outage == {hole_of("2.7")}
    assert advice_of(looked_at(), wall=wall).due_before_outage == frozenset()


def test_new_tubes_without_credit_and_work_that_nobody_can_count_are_told():
    advice = advice_of(looked_at())
    assert advice.passes_without_growth == (2, 3)
    assert advice.result("retube-pass-2").is_work_counted
    assert not advice.result("new-boiler").is_work_counted
    blind = advice_of(looked_at(), without=("hours_per_plug",))
    assert not blind.result("retube-pass-2").is_work_counted
    assert blind.result("run-on").is_work_counted


def test_what_firing_and_outages_lack_is_named():
    advice = advice_of(looked_at(), outage={"next": "2020-01-01"})
    assert "how long tubes take to come ([outage] tube_lead_weeks), taken as 8 weeks" in (
        advice.missing
    )
    assert any("still to come ([outage] next)" in each for each in advice.missing)
    assert any("interval_years" in each for each in advice.missing)
    told = advice_of(looked_at()).missing
    assert not any("[outage]" in each for each in told)


def test_without_a_reading_in_a_pass_it_leads_with_what_to_measure():
    advice = advice_of(looked_at(readings=("2.1",)))
    assert advice.option == "find-out"
    assert advice.reasons[0] == "Measure first: no wall of pass 3 was measured in this inspection."


@pytest.mark.parametrize("missing", ["labour_per_hour", "tube_each", "discount_percent"])
def test_a_figure_that_is_missing_is_named_and_the_condition_alone_decides(missing):
    advice = advice_of(looked_at(), without=(missing,))
    assert not advice.is_by_money
    assert advice.by == f"condition alone. [costs] lacks {missing}."
    assert f"{missing} in [costs]" in advice.missing
    assert advice.option == "run-on"
    assert all(each.money is None for each in advice.options)


def test_a_small_price_that_is_missing_counts_as_nothing_and_is_named():
    advice = advice_of(looked_at(), without=("freight",))
    assert advice.is_by_money
    assert "prices that are missing and count as nothing: freight" in advice.missing


@pytest.mark.parametrize("scope", [Scope.LEAK_CALL, Scope.AFTER_REPAIR])
def test_part_of_a_boiler_gives_no_advice_on_the_whole(scope):
    advice = advice_of(looked_at(scope=str(scope)))
    assert not advice.is_by_money
    assert advice.options == ()
    assert advice.option is None


def test_without_numpy_the_condition_alone_decides(monkeypatch):
    real = builtins.__import__

    def without_numpy(name, *more):
        if name.partition(".")[0] == "numpy":
            raise ImportError(name)
        return real(name, *more)

    monkeypatch.setattr(builtins, "__import__", without_numpy)
    advice = advice_of(looked_at())
    assert not advice.is_by_money
    assert "numpy" in advice.by
    assert advice.option == "run-on"


def test_the_same_records_give_the_same_advice():
    assert advice_of(looked_at()) == advice_of(looked_at())


@pytest.mark.parametrize(
    ("outage", "day"),
    [
        ({"next": "2027-07-12", "tube_lead_weeks": 9.0}, "2027-05-10"),
        ({"next": "2027-07-12"}, None),
        ({"next": "soon", "tube_lead_weeks": 9.0}, None),
        ({"next": "2027-07-12", "tube_lead_weeks": 1e9}, None),
        ({"next": 7, "tube_lead_weeks": "9"}, None),
    ],
)
def test_the_day_to_order_by_is_the_outage_less_the_time_of_the_tubes(outage, day):
    assert order_by({"outage": outage}) == day


@pytest.mark.parametrize(
    ("work", "is_now"),
    [
        ({}, False),
        ({"plug": frozenset({"a"}), "retube_in_year": {2: 1}}, False),
        ({"replace": frozenset({"a"})}, True),
        ({"retube": frozenset({2})}, True),
        ({"is_new_boiler": True}, True),
        ({"key": "find-out", "replace": frozenset({"a"})}, False),
    ],
)
def test_what_puts_in_tubes_or_buys_a_boiler_in_this_outage_is_decided_now(work, is_now):
    assert is_decided_now(Plan(**{"key": "x", "words": "", **work})) is is_now


def test_no_day_stands_in_the_advice_where_the_option_is_decided_now():
    boiler = looked_at(but=("2.5",))
    boiler.see("2.5", "leaking", leak_at="bore")
    for advice in (
        advice_of(boiler),
        advice_of(looked_at()),
        advice_of(boiler, without=("tube_each",)),
    ):
        is_now = is_decided_now(advice.result(advice.option).plan)
        assert advice.decide_by == (None if is_now else "2025-08-06")
