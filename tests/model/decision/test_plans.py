"""What an option leaves plugged, new and weak in a pass.

Not here: which options there are (``options/test_every_option``).
"""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.decision.options.every_option import plans_of
from model.decision.plans import Plan
from tests.model.decision.situation_cases import a_pass, a_situation, holes, situations

WEEPING = replace(a_pass(plugged=(1,), bad=(2, 3), weak=(4,)), behind_bad_plug=holes(2, 2))
"""2.01 is plugged, 2.02 stands behind a plug that weeps, 2.03 leaks."""


def test_a_tube_behind_a_bad_plug_stays_plugged_until_it_is_replaced():
    run_on, plug = Plan(key="run-on", words=""), Plan(key="x", words="", plug=WEEPING.bad)
    new = Plan(key="y", words="", replace=WEEPING.bad)
    retubed = Plan(key="z", words="", retube=frozenset({2}))
    assert run_on.plugged_after(WEEPING) == holes(2, 1, 2)
    assert plug.plugged_after(WEEPING) == holes(2, 1, 2, 3)
    assert new.plugged_after(WEEPING) == holes(2, 1)
    assert retubed.plugged_after(WEEPING) == frozenset()


@pytest.mark.parametrize(
    ("plan", "orders"),
    [
        (Plan(key="x", words="", replace=holes(2, *range(20))), False),
        (Plan(key="x", words="", replace=holes(2, *range(21))), True),
        (Plan(key="x", words="", retube=frozenset({2})), True),
        (Plan(key="x", words="", retube_in_year={2: 1}), False),
        (Plan(key="x", words="", plug=holes(2, *range(30))), False),
        (Plan(key="x", words="", is_new_boiler=True), False),
        (Plan(key="x", words="", is_new_boiler=True, replace=holes(2, *range(30))), False),
    ],
)
def test_tubes_are_ordered_for_a_pass_and_for_more_single_ones_than_lie_in_stock(plan, orders):
    assert plan.orders_tubes == orders


@given(situations(), st.data())
def test_a_tube_is_counted_once_after_every_option(situation, data):
    """Plugged, weak and new are counted apart, so that the others are what is left."""
    passes = [
        replace(each, behind_bad_plug=frozenset(h for h in each.bad if data.draw(st.booleans())))
        for each in situation.passes
    ]
    for plan in plans_of(a_situation(*passes)):
        for each in passes:
            plugged, weak = plan.plugged_after(each), plan.weak_after(each)
            assert plugged.isdisjoint(weak | plan.replace)
            others = each.tubes - len(plugged) - len(weak) - plan.renewed_after(each)
            assert 0 <= others <= each.tubes
