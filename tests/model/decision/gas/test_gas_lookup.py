"""Looking up fuel and draft: between the points, beyond them, and where nothing is known."""

import dataclasses

import numpy as np
import pytest

from model.decision.gas.gas_lookup import Table, gas_lookup
from tests.model.decision.small_situation import (
    YEARLY_FUEL_GJ,
    a_pass,
    a_situation,
    some_effects,
)


def test_between_the_points_it_is_straight_and_beyond_the_last_it_goes_on_as_before():
    effects = some_effects(2)
    lookup = gas_lookup(a_situation(), effects)
    rises = effects.passes[2].fuel_rise_percent
    percent = np.array([0.0, 5.0, 7.5, 40.0, 41.0, 100.0])
    slope = (rises[8] - rises[7]) / 5.0
    expected = [0.0, rises[1], (rises[1] + rises[2]) / 2, rises[8], rises[8] + slope]
    found = lookup.fuel[0].at(percent) / YEARLY_FUEL_GJ * 100.0
    assert found == pytest.approx([*expected, rises[8] + 60 * slope])


def test_a_pass_without_tables_adds_nothing():
    lookup = gas_lookup(a_situation(a_pass(2), a_pass(3)), some_effects(3))
    assert lookup.fuel[0] is lookup.draft[0] is None
    assert lookup.fuel[1] is not None


def test_without_a_years_fuel_there_is_no_extra_fuel():
    effects = dataclasses.replace(some_effects(2), yearly_fuel_gj=None)
    lookup = gas_lookup(a_situation(), effects)
    assert lookup.fuel == (None,)
    assert lookup.draft[0] is not None


def test_the_highest_output_is_that_of_the_gas_side():
    effects = some_effects(2, fan_pa=1500.0)
    lookup = gas_lookup(a_situation(), effects)
    for pascal in (0.0, 200.0, 900.0):
        limit = lookup.output_limit_kw(np.array([[pascal]]))
        assert limit.tolist() == [[pytest.approx(effects.output_limit_kw(pascal))]]


def test_without_a_fan_no_output_is_missing():
    lookup = gas_lookup(a_situation(needed_output_kw=1.0), some_effects(2))
    assert not lookup.limits_output
    assert np.isinf(lookup.output_limit_kw(np.zeros((1, 1)))).all()


@pytest.mark.parametrize(
    ("changes", "can_be_short"),
    [
        ({}, True),
        ({"hours_per_year": None}, False),
        ({"load_percent": None}, False),
        ({"needed_output_kw": None}, False),
        ({"standby_kw": 4000.0}, False),  # the standby covers all of it
        ({"standby_kw": 3999.0}, True),
    ],
)
def test_a_shortfall_is_told_only_where_all_it_needs_is_stated(changes, can_be_short):
    given = {"needed_output_kw": 4000.0, "hours_per_year": 8000.0, "load_percent": 50.0}
    lookup = gas_lookup(a_situation(**(given | changes)), some_effects(2, fan_pa=900.0))
    assert lookup.can_be_short == can_be_short
    if can_be_short:
        assert lookup.mwh_per_kw == pytest.approx(4.0)


@pytest.mark.parametrize(
    ("needed_kw", "is_met"),
    [(4000.0, True), (5249.0, True), (5251.0, False), (None, True)],
)
def test_whether_the_need_is_met_without_plugs_goes_by_all_passes_open(needed_kw, is_met):
    situation = a_situation(a_pass(2, plugged=30), a_pass(3), needed_output_kw=needed_kw)
    # 5000 kW x 0.98 x sqrt(1033 / (500 + 2 x 200)) = 5,249.6 kW
    lookup = gas_lookup(situation, some_effects(2, 3, fan_pa=1053.0))
    assert lookup.is_need_met_without_plugs == is_met


def test_a_table_knows_whether_it_rises():
    assert Table(percent=(0.0, 1.0, 2.0), values=(1.0, 1.0, 2.0)).is_rising
    assert not Table(percent=(0.0, 1.0, 2.0), values=(1.0, 2.0, 1.9)).is_rising
    lookup = gas_lookup(a_situation(), some_effects(2))
    assert lookup.is_draft_rising
