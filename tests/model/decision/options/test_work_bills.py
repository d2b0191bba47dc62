"""Bills of events, hours and days of work: each worked out by hand beside the test.

Not here: bills of the options (``test_options``, ``test_retube_options``).
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.decision.options.work_bills import (
    Work,
    bill_of_outage,
    event_bills,
    hours_per_tube,
    is_mean_taken,
    labour_and_days,
    neighbour_re_rolls,
    work_of,
)
from model.decision.plans import Plan
from model.decision.prices import BY_PRICE, prices_of
from model.decision.trials.trial_runs import kinds_of
from tests.model.decision.situation_cases import (
    COSTS,
    a_pass,
    a_situation,
    holes,
    situations,
)

TWO = a_situation(a_pass(2), a_pass(3, ends="rolled-beaded"))
"""Ten rolled and ten beaded tubes: 2 and 3 h each, so 2.5 h for the usual tube of this boiler."""


def test_the_kinds_of_events_are_these():
    assert list(event_bills(TWO)) == [
        "leak", "joint-leak", "planned-plug", "planned-re-roll", "fuel_gj", "shortfall_mwh",
        "retube-outage", "retube-2", "retube-3",
    ]  # fmt: skip


def test_a_leak_takes_a_forced_outage_with_two_plugs():
    # Set-up 10 h and two plugs of 0.5 h. Standby covers 400 of 1000 kW: 3 days lose 1.8.
    bill = event_bills(TWO)["leak"]
    assert bill == pytest.approx(
        {
            "labour_per_hour": 11.0,
            "plug_each": 2,
            "open_and_close": 1,
            "doors_and_refractory": 1,
            "pressure_test": 1,
            "mobilisation": 1,
            "inspector": 1,
            "forced_outage_per_day": 1.8,
        }
    )
    # 1100 + 40 + 1000 + 500 + 300 + 600 + 400 + 3600
    assert TWO.prices.money(bill) == pytest.approx(7540)


def test_a_joint_leak_takes_a_re_roll_in_place_of_plugs():
    bill = event_bills(TWO)["joint-leak"]
    assert bill["labour_per_hour"] == pytest.approx(10.25)
    assert "plug_each" not in bill
    # 1025 + 2800 + 3600
    assert TWO.prices.money(bill) == pytest.approx(7425)


@pytest.mark.parametrize(
    ("needed_kw", "standby_kw", "days"),
    [(1000.0, 1000.0, 0.0), (1000.0, 5000.0, 0.0), (1000.0, None, 3.0), (None, 400.0, 3.0)],
)
def test_production_is_lost_as_far_as_no_standby_covers_it(needed_kw, standby_kw, days):
    situation = a_situation(a_pass(), needed_output_kw=needed_kw, standby_kw=standby_kw)
    assert event_bills(situation)["leak"]["forced_outage_per_day"] == pytest.approx(days)


def test_a_tube_plugged_at_a_planned_outage_takes_its_plugs_alone():
    bill = event_bills(TWO)["planned-plug"]
    assert bill == {"labour_per_hour": 1.0, "plug_each": 2.0}
    assert TWO.prices.money(bill) == pytest.approx(140)


def test_a_joint_re_rolled_at_a_planned_outage_takes_its_hours_alone():
    bill = event_bills(TWO)["planned-re-roll"]
    assert bill == {"labour_per_hour": 0.25}
    assert TWO.prices.money(bill) == pytest.approx(25)


def test_a_pass_retubed_at_a_planned_outage_takes_its_own_work_and_waits_for_nothing():
    # 10 tubes of 3 h; 30 h at 2.5 h a tube are 12 tubes, at 10 days for 100: 1.2 days.
    bill = event_bills(TWO)["retube-3"]
    assert bill == pytest.approx({"labour_per_hour": 30.0, "tube_each": 10, "outage_per_day": 1.2})
    # 3000 + 800 + 1200
    assert TWO.prices.money(bill) == pytest.approx(5000)


def test_the_outage_in_which_passes_are_retubed_takes_what_they_share():
    # The set-up takes 10 h.
    bill = event_bills(TWO)["retube-outage"]
    assert bill == pytest.approx(
        {
            "labour_per_hour": 10.0,
            "freight": 1,
            "open_and_close": 1,
            "doors_and_refractory": 1,
            "cleaning": 1,
            "pressure_test": 1,
            "mobilisation": 1,
            "inspector": 1,
        }
    )
    # 1000 + 150 + 3000
    assert TWO.prices.money(bill) == pytest.approx(4150)


@given(situations(), st.data())
def test_passes_retubed_at_one_later_outage_take_what_they_take_now_without_waiting(
    situation, data
):
    numbers = [each.pass_ for each in situation.passes]
    passes = data.draw(st.sets(st.sampled_from(numbers), min_size=1))
    now = bill_of_outage(Plan(key="x", words="", retube=frozenset(passes)), situation)
    bills = event_bills(situation)
    later = [bills["retube-outage"], *(bills[f"retube-{number}"] for number in passes)]
    for name in BY_PRICE:
        assert sum(bill.get(name, 0.0) for bill in later) == pytest.approx(now.get(name, 0.0))


def test_fuel_and_shortfall_are_their_price_a_unit():
    bills = event_bills(TWO)
    assert (bills["fuel_gj"], bills["shortfall_mwh"]) == (
        {"fuel_per_gj": 1.0},
        {"capacity_per_mwh": 1.0},
    )


@pytest.mark.parametrize(
    ("ends", "hours", "is_mean"),
    [
        ("rolled", 2.0, False),
        ("rolled-flared", 2.0, False),
        ("rolled-beaded", 3.0, False),
        ("rolled-welded", 4.0, False),
        ("welded", 4.0, False),
        (None, 3.0, True),
        ("glued", 3.0, True),
    ],
)
def test_hours_for_a_tube_go_by_how_its_ends_are_made(ends, hours, is_mean):
    each, prices = a_pass(ends=ends), TWO.prices
    assert (hours_per_tube(each, prices), is_mean_taken(each, prices)) == (hours, is_mean)


def test_where_one_figure_is_given_it_holds_for_all():
    prices = prices_of({"hours_per_tube": 7})
    assert [hours_per_tube(a_pass(ends=ends), prices) for ends in ("welded", None)] == [7.0, 7.0]
    assert not is_mean_taken(a_pass(ends=None), prices)


def test_days_go_by_new_tubes_where_a_tube_takes_no_hours():
    situation = a_situation(a_pass(2, 40), without=("hours_per_tube",))
    # 40 tubes at 10 days for 100.
    assert labour_and_days(Work(new_tubes={2: 40}), situation) == (10.0, pytest.approx(4.0))


def test_where_nothing_is_done_nothing_is_set_up():
    assert labour_and_days(Work(), TWO) == (0.0, 0.0)
    assert bill_of_outage(Plan(key="run-on", words=""), TWO) == {}


def test_six_neighbours_of_a_replaced_tube_are_re_rolled_at_both_ends():
    each = a_pass(2, 50)
    assert neighbour_re_rolls(Plan(key="x", words="", replace=holes(2, 1)), each) == 12
    assert neighbour_re_rolls(Plan(key="x", words="", replace=holes(2, 1, 2)), each) == 24


def test_neighbours_are_at_most_the_joints_that_stay_and_do_not_leak_anyway():
    each = a_pass(2, 10, plugged=(10,), bad=(1, 2, 9), joints={5: 2})
    plan = Plan(key="x", words="", replace=holes(2, 1, 2), plug=holes(2, 9), re_roll={"2.05": 2})
    # Six tubes stay with twelve joints, two of which leak.
    assert neighbour_re_rolls(plan, each) == 10
    assert work_of(plan, a_situation(each)).re_rolls == 12


def test_no_neighbour_is_re_rolled_where_the_pass_is_renewed_or_nothing_replaced():
    each = a_pass(2, 50)
    assert neighbour_re_rolls(Plan(key="x", words="", retube=frozenset({2})), each) == 0
    assert neighbour_re_rolls(Plan(key="x", words="", plug=holes(2, 1)), each) == 0
    everything = Plan(key="x", words="", replace=each.holes)
    assert neighbour_re_rolls(everything, each) == 0


@given(situations())
def test_every_kind_that_the_trials_count_has_a_bill_and_a_stop_never_costs_less(situation):
    bills, money = event_bills(situation), situation.prices.money
    assert set(bills) == set(kinds_of(situation))
    assert money(bills["leak"]) >= money(bills["planned-plug"])
    assert money(bills["joint-leak"]) >= money(bills["planned-re-roll"])


@given(situations())
def test_a_bill_holds_priced_things_alone_and_nothing_below_zero(situation):
    for bill in event_bills(situation).values():
        assert set(bill) <= BY_PRICE
        assert all(0.0 <= quantity < float("inf") for quantity in bill.values())


def test_every_figure_of_the_costs_is_used_in_some_bill():
    situation = a_situation(a_pass(bad=(1,)), sheets_to_renew=("front",))
    plan = Plan(key="x", words="", plug=holes(2, 1), renew_sheets=("front",), retube=frozenset({2}))
    rented = Plan(key="x", words="", plug=holes(2, 1), rental_weeks=2.0)
    new = Plan(key="x", words="", is_new_boiler=True)
    bills = [*event_bills(situation).values()]
    bills += [bill_of_outage(each, situation) for each in (plan, rented, new)]
    assert set().union(*bills) == BY_PRICE <= set(COSTS)
