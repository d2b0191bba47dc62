"""Whatever is recorded of a small boiler: what holds of every advice on it.

Not here: single cases (``test_deciding``).
"""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.report.deciding import decide
from model.decision.by_condition import bad_and_open
from model.decision.options.gates import reachable_unseen_ends
from model.record.words import Scope
from tests.fieldapp.report.test_deciding import OUTAGE, damaged
from tests.fieldapp.report.test_numbers import numbers_of
from tests.model.condition.small_boiler import SmallBoiler
from tests.model.decision.situation_cases import COSTS

PASSES = {2: 4, 3: 3}
PLUG = {"plug": {"type": "driven", "condition": "tight"}}
LOOKS = (
    ("sound", {}),
    ("sound", {}),
    ("sound", {}),
    ("thinned", {}),
    ("split", {}),
    ("leaking", {"leak_at": "bore"}),
    ("leaking", {"leak_at": "joint"}),
    ("plugged", PLUG),
    (None, {"reason": "no-entry"}),
    (None, {"reason": "no-time"}),
)
FIRING = {"needed_output_kw": 900, "standby_kw": 100, "hours_per_year": 4000, "load_percent": 70}


@st.composite
def recorded(draw):
    """A boiler, the settings beside it, and what was done after the look."""
    scope = draw(st.sampled_from((Scope.FULL, Scope.FULL, Scope.FULL, Scope.LEAK_CALL)))
    stays = draw(st.sampled_from(((), ("2.1",))))
    boiler = SmallBoiler(PASSES, stays=stays, scope=str(scope))
    is_calm = draw(st.booleans())
    for key in boiler.keys:
        if is_calm:
            boiler.see(key, "sound")
            continue
        for end in draw(st.sampled_from((("both",), ("front",), ("front", "rear"), ()))):
            state, more = draw(st.sampled_from(LOOKS))
            boiler.see(key, state, end, **more)
        if draw(st.integers(0, 3)) == 0:
            boiler.work(key, draw(st.sampled_from(("plug", "replace", "re-roll"))))
    for key in ("2.2", "3.2"):
        if draw(st.booleans()):
            boiler.measure(key, draw(st.sampled_from((1.2, 2.4, 2.9))))
    for part in draw(st.lists(st.sampled_from(("furnace", "ligament", "refractory")), max_size=2)):
        damaged(boiler, part, draw(st.sampled_from(("watch", "act"))), sheet="front")
    lacks = draw(st.sampled_from(((), (), ("tube_each",), ("freight", "new_boiler"))))
    return boiler, {
        "costs": {name: value for name, value in COSTS.items() if name not in lacks},
        "outage": draw(st.sampled_from((OUTAGE, {}, {"interval_years": 4.0}))),
        "firing": draw(st.sampled_from(({}, FIRING))),
        "wall": draw(st.sampled_from(({}, {"stated_mm": 1.5, "basis": "letter"}))),
    }


@given(recorded())
@settings(max_examples=60)
def test_whatever_is_recorded_the_advice_keeps_its_gates(found):
    boiler, given_ = found
    numbers = numbers_of(boiler, **given_)
    advice = decide(numbers, trials=60)
    keys = {each.plan.key for each in advice.options}
    is_whole = numbers.inspection.facts.scope is Scope.FULL

    assert 1 <= len(advice.reasons) <= 5
    assert len(set(advice.reasons)) == len(advice.reasons)
    if not is_whole:
        assert advice.options == ()
        assert not advice.is_by_money
        return
    assert advice.option in keys
    chosen = advice.result(advice.option)
    bad = {each.hole for each in bad_and_open(numbers.tubes)}
    if advice.is_by_money:
        assert chosen.ruled_out is None
        if advice.option != "find-out":
            allowed = [
                each.money.present_value
                for each in advice.options
                if each.ruled_out is None and each.money is not None and each is not chosen
                if each.plan.key != "find-out"
            ]
            assert chosen.money.present_value <= min(allowed, default=float("inf")) + 1e-6
    damage = [each for each in numbers.records("part") if each.body["grade"] == "act"]
    half = {each.hole for each in numbers.tubes if each.plugged_one_end == "yes"} - bad
    if advice.option == "run-on":
        assert not bad
        assert not half
        assert not damage
        assert not reachable_unseen_ends(numbers.tubes)
    # Damage is a reason of every advice that leaves it, or a new sheet or boiler mends it.
    if damage and not (chosen.plan.is_new_boiler or chosen.plan.renew_sheets):
        assert any(each.startswith("Damage graded act") for each in advice.reasons)
    for each in advice.options:
        plan = each.plan
        if each.ruled_out is not None or plan.is_new_boiler:
            continue
        gone = plan.plug | plan.replace
        assert half <= gone | plan.close | {
            tube.hole for tube in numbers.tubes if tube.tube.pass_ in plan.retube
        }
        of_pass = {tube.hole: tube.tube.pass_ for tube in numbers.tubes}
        assert all(hole in gone or of_pass[hole] in plan.retube for hole in bad)
        if plan.does_nothing_now:
            assert not damage
            assert not reachable_unseen_ends(numbers.tubes)


@pytest.mark.parametrize("state", ["sound", "plugged", "split"])
def test_a_boiler_in_which_everything_is_alike_gets_an_advice(state):
    boiler = SmallBoiler(PASSES)
    boiler.see_rest(state, **(PLUG if state == "plugged" else {}))
    advice = decide(numbers_of(boiler, costs=COSTS, outage=OUTAGE), trials=60)
    assert advice.option == "find-out"
    assert advice.reasons[0].startswith("Measure first") or state == "split"
