"""What plugs cost today and along the curves: the marched model's figures, or a reason."""

from dataclasses import replace

import pytest

import model.decision.gas.gas_curves as gas_curves
from model.decision.gas.gas_curves import DRAWN_PERCENTS, gas_side_today
from model.errors import OutOfRange
from model.thermal.output_limit import Pressures
from model.thermal.plugging_cost import (
    RETUNE_CAUTION,
    one_more_plug,
    plugging_cost,
    plugging_curve,
)
from tests.model.decision.fired_boiler import fired_boiler

FACTS, TUBES = fired_boiler(found=("2.1", "2.2", "3.1"), plugged_now=("2.3",))
TODAY = gas_side_today(FACTS, TUBES)


def test_today_is_what_plugging_cost_says_of_the_plugs_as_left():
    fit = TODAY.fit
    assert TODAY.why_not is None
    assert TODAY.cost == plugging_cost(fit.boiler, {2: 3, 3: 1}, fit.pressures)
    assert TODAY.cost.remarks[0] == RETUNE_CAUTION
    assert TODAY.next_plug == one_more_plug(fit.boiler, {2: 3, 3: 1})
    assert TODAY.needed_output_kw == 1200.0
    assert TODAY.extra_fuel_gj == TODAY.yearly_fuel_gj * TODAY.cost.fuel_rise_percent / 100.0


def test_the_curves_go_from_no_plugs_to_forty_percent_of_each_pass():
    fit = TODAY.fit
    assert [curve.pass_ for curve in TODAY.curves] == [2, 3]
    for curve in TODAY.curves:
        assert curve.points == plugging_curve(
            fit.boiler, curve.pass_, percents=DRAWN_PERCENTS, pressures=fit.pressures
        )
        assert [point.plugged_percent for point in curve.points] == [0, 10, 20, 30, 40]
        assert all(point.output_limit_kw for point in curve.points)


def test_the_published_table_stands_beside_first_principles():
    check = TODAY.check
    assert 0.3 < check.first_principles_percent - check.table_percent < 0.7
    assert check.why_no_table is None


@pytest.mark.parametrize(
    ("firing", "words"),
    [
        ({"fuel": "light oil"}, "the published table is of natural gas, not of light oil"),
        ({"oxygen_percent": 1.0}, "oxygen_percent is not 2 to 10 % for the published table"),
    ],
)
def test_where_the_table_has_no_value_it_says_why(firing, words):
    check = gas_side_today(*fired_boiler(firing=firing)).check
    assert check.table_percent is None
    assert check.why_no_table == words
    assert check.first_principles_percent > 75.0


def test_without_a_fit_there_is_the_reason_and_nothing_else():
    nothing = gas_side_today(*fired_boiler(firing={"stack_c": None}))
    assert nothing.why_not == "What plugging costs is not computed: [firing] lacks stack_c."
    assert (nothing.cost, nothing.curves, nothing.next_plug, nothing.check) == (None, (), (), None)
    assert nothing.extra_fuel_gj is None
    assert nothing.remarks == ()


def test_plugs_of_this_outage_that_leave_no_open_tube_are_a_reason_too():
    every = tuple(f"3.{number}" for number in range(1, 41))
    closed = gas_side_today(*fired_boiler(plugged_now=every))
    assert closed.fit.boiler is not None
    assert "No tube of pass 3 is open" in closed.why_not
    assert (closed.cost, closed.curves) == (None, ())


def test_a_curve_ends_where_the_model_refuses_and_keeps_its_other_points(monkeypatch):
    def refusing(boiler, pass_, *, percents, pressures=None):
        if percents[0] > 20.0:
            raise OutOfRange("gas_kg_s", 9.0, "lower")
        if pressures is not None and percents[0] == 20.0:
            raise OutOfRange("fan_pressure_pa", 9.0, "higher")
        return plugging_curve(boiler, pass_, percents=percents, pressures=pressures)

    monkeypatch.setattr(gas_curves, "plugging_curve", refusing)
    (curve, _) = gas_side_today(FACTS, TUBES).curves
    assert [point.plugged_percent for point in curve.points] == [0.0, 10.0, 20.0]
    assert [point.output_limit_kw is None for point in curve.points] == [False, False, True]


def test_the_curves_are_worked_out_when_first_asked_for_and_kept(monkeypatch):
    asked = []

    def counting(boiler, pass_, **more):
        asked.append(pass_)
        return plugging_curve(boiler, pass_, **more)

    monkeypatch.setattr(gas_curves, "plugging_curve", counting)
    today = gas_side_today(FACTS, TUBES)
    assert asked == []
    curves = today.curves
    assert asked == [2] * len(DRAWN_PERCENTS) + [3] * len(DRAWN_PERCENTS)
    assert today.curves is curves
    assert len(asked) == 2 * len(DRAWN_PERCENTS)


def test_slow_gas_is_said_once():
    # A pass of few tubes after a pass of many: the gas of the first is slow.
    slow = gas_side_today(
        *fired_boiler(firing={"output_kw": 700.0, "stack_c": 220.0}, plugged_now=("2.1",))
    )
    said = [each for each in slow.remarks if "Pass 2: the gas is slow" in each]
    assert len(said) == 1


def test_the_pressures_are_those_of_the_record():
    assert TODAY.fit.pressures == Pressures(
        furnace_pressure_pa=700.0, burner_loss_pa=1000.0, fan_pressure_pa=2600.0
    )
    firing = {**FACTS.settings["firing"], "fan_pressure_pa": None}
    without = replace(FACTS, settings={"firing": firing})
    today = gas_side_today(without, TUBES)
    assert today.cost.limit.output_kw is None
    assert all(point.output_limit_kw is None for curve in today.curves for point in curve.points)
