"""The boiler: it meets its measurements, its heat adds up, and plugs cost what they must."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from model.errors import ModelError, OutOfRange
from model.thermal.boiler_gas_side import (
    SLOW_GAS_REYNOLDS,
    FittedBoiler,
    GasSideState,
    fit_boiler,
    run_boiler,
)
from model.thermal.combustion import Fuel, combustion_efficiency_percent
from model.thermal.gas_side_as_built import GasSide, Measured, PassGeometry
from model.thermal.output_limit import NOT_COMPUTED, Pressures, output_limit
from model.thermal.plugging_cost import (
    CURVE_PERCENTS,
    RETUNE_CAUTION,
    one_more_plug,
    plugging_cost,
    plugging_curve,
)

BUILT = GasSide(
    passes=(
        PassGeometry(pass_=2, tubes=100, bore_mm=45.97, length_mm=4877.0),
        PassGeometry(pass_=3, tubes=80, bore_mm=45.97, length_mm=5300.0, retarder="none"),
    ),
    saturation_c=185.5,
)
MEASURED = Measured(
    fuel=Fuel.NATURAL_GAS,
    output_kw=2520.0,
    oxygen_percent=4.0,
    stack_c=228.0,
    air_c=24.0,
    furnace_exit_c=980.0,
    plugged={2: 4},
)
BOILER = fit_boiler(BUILT, MEASURED)
PRESSURES = Pressures(furnace_pressure_pa=900.0, burner_loss_pa=1200.0, fan_pressure_pa=2600.0)


def closes(state: GasSideState, boiler: FittedBoiler) -> None:
    to_water_kw = state.furnace_kw + sum(each.result.heat_kw for each in state.passes)
    assert to_water_kw == pytest.approx(state.fuel_kw * state.efficiency_percent / 100, rel=1e-6)
    shell_kw = boiler.fuel_kw * boiler.measured.shell_loss_percent / 100
    assert state.output_kw == pytest.approx(to_water_kw - shell_kw, rel=1e-6)


@pytest.mark.parametrize("firing", [1.0, 0.8])
@pytest.mark.parametrize("plugged", [{}, {2: 10}, {3: 10}, {2: 3.5, 3: 7}])
def test_passes_taken_over_from_a_state_are_those_that_would_be_run(
    plugged: dict[int, float], firing: float
) -> None:
    by_itself = run_boiler(BOILER, plugged, firing=firing)
    for before in ({}, {2: 10}, {3: 2}):
        like = run_boiler(BOILER, before)
        assert run_boiler(BOILER, plugged, firing=firing, like=like) == by_itself


def test_a_limit_is_the_same_where_the_state_at_the_measured_firing_is_at_hand() -> None:
    state = run_boiler(BOILER, {2: 10})
    limit = output_limit(BOILER, {2: 10}, PRESSURES)
    assert output_limit(BOILER, {2: 10}, PRESSURES, at_measured=state) == limit


def test_the_fitted_boiler_meets_what_was_measured() -> None:
    state = run_boiler(BOILER, MEASURED.plugged)
    assert state.stack_c == pytest.approx(228.0, abs=1e-5)
    assert state.furnace_exit_c == pytest.approx(980.0, abs=1e-5)
    assert state.output_kw == pytest.approx(2520.0, rel=1e-6)
    assert BOILER.fouling_m2_k_per_w > 0.0
    assert BOILER.film_factor == 1.0
    assert [each.tubes_open for each in state.passes] == [96, 80]
    assert state.passes[1].result.inlet_c == state.passes[0].result.outlet_c
    closes(state, BOILER)


@given(
    tubes=st.tuples(st.integers(60, 140), st.integers(50, 120)),
    fuel=st.sampled_from(Fuel),
    oxygen_percent=st.floats(1.0, 9.0),
    stack_c=st.floats(200.0, 320.0),
    exit_c=st.floats(850.0, 1150.0),
    firing=st.floats(0.6, 1.3),
    has_radiation=st.booleans(),
)
@settings(max_examples=40, deadline=None)
def test_heat_adds_up_for_any_boiler_at_any_firing(
    tubes: tuple[int, int],
    fuel: Fuel,
    oxygen_percent: float,
    stack_c: float,
    exit_c: float,
    firing: float,
    has_radiation: bool,
) -> None:
    passes = tuple(
        replace(each, tubes=count) for each, count in zip(BUILT.passes, tubes, strict=True)
    )
    measured = replace(
        MEASURED,
        fuel=fuel,
        oxygen_percent=oxygen_percent,
        stack_c=stack_c,
        furnace_exit_c=exit_c,
    )
    try:
        boiler = fit_boiler(replace(BUILT, passes=passes, has_radiation=has_radiation), measured)
    except OutOfRange as refused:
        # A stack that no fouling gives; any other refusal would be a fault.
        if refused.parameter != "stack_c":
            raise
        assume(False)
        return
    assert run_boiler(boiler, measured.plugged).stack_c == pytest.approx(stack_c, abs=1e-4)
    closes(run_boiler(boiler, {}, firing=firing), boiler)


@given(
    plugged=st.tuples(st.integers(0, 40), st.integers(0, 32)),
    more=st.tuples(st.integers(0, 40), st.integers(0, 32)),
    stack_c=st.sampled_from([205.0, 228.0, 260.0]),
)
@settings(max_examples=60, deadline=None)
def test_more_plugs_never_lower_draft_loss_or_stack_at_fixed_firing(
    plugged: tuple[int, int], more: tuple[int, int], stack_c: float
) -> None:
    boiler = FITTED[stack_c]
    before = run_boiler(boiler, {2: plugged[0], 3: plugged[1]})
    after = run_boiler(boiler, {2: plugged[0] + more[0], 3: plugged[1] + more[1]})
    assert all(each.result.reynolds_in > SLOW_GAS_REYNOLDS for each in before.passes)
    assert after.stack_c >= before.stack_c
    assert after.draft_loss_pa >= before.draft_loss_pa
    assert after.efficiency_percent <= before.efficiency_percent
    assert after.fuel_kw == before.fuel_kw
    if any(more):
        assert after.stack_c > before.stack_c
        assert after.draft_loss_pa > before.draft_loss_pa


FITTED = {
    stack_c: fit_boiler(BUILT, replace(MEASURED, stack_c=stack_c, plugged={}))
    for stack_c in (205.0, 228.0, 260.0)
}


def test_more_fire_is_a_hotter_stack_and_more_draft() -> None:
    states = [run_boiler(BOILER, {}, firing=firing) for firing in (0.5, 0.7, 0.9, 1.1, 1.3)]
    for lower, higher in pairwise(states):
        assert lower.stack_c < higher.stack_c
        assert lower.furnace_exit_c < higher.furnace_exit_c
        assert lower.draft_loss_pa < higher.draft_loss_pa
        assert lower.output_kw < higher.output_kw


def test_a_stack_colder_than_clean_tubes_give_raises_the_film_and_says_so() -> None:
    clean_c = run_boiler(replace(BOILER, fouling_m2_k_per_w=0.0), {2: 4}).stack_c
    boiler = fit_boiler(BUILT, replace(MEASURED, stack_c=clean_c - 5.0))
    assert boiler.film_factor > 1.0
    assert boiler.fouling_m2_k_per_w == 0.0
    assert run_boiler(boiler, {2: 4}).stack_c == pytest.approx(clean_c - 5.0, abs=1e-5)
    assert any("colder than clean plain tubes" in each for each in boiler.remarks)


def test_what_is_outside_the_model_or_uncertain_is_said() -> None:
    assert BOILER.remarks == ()
    twisted = replace(BUILT.passes[1], retarder="twisted strip, full length")
    with_retarders = fit_boiler(replace(BUILT, passes=(BUILT.passes[0], twisted)), MEASURED)
    assert any("Pass 3 has retarders (twisted" in each for each in with_retarders.remarks)
    unknown = replace(MEASURED, furnace_exit_c=None)
    estimated = fit_boiler(replace(BUILT, furnace_surface_m2=11.9), unknown)
    assert "The furnace exit is estimated, to about 100 K." in estimated.remarks
    assert run_boiler(estimated, {2: 4}).stack_c == pytest.approx(228.0, abs=1e-5)
    dirty = fit_boiler(BUILT, replace(MEASURED, stack_c=280.0))
    assert any("millimetre of soot" in each for each in dirty.remarks)
    slow = fit_boiler(BUILT, replace(MEASURED, output_kw=1200.0))
    assert any("Pass 2: the gas is slow (Reynolds" in each for each in slow.remarks)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"stack_c": 185.0}, r"stack_c is 185\.0, but must be above the saturation's 185\.5 degC"),
        ({"stack_c": 186.0}, r"stack_c is 186\.0, but must be nearer to the 20. degC that clean"),
        ({"stack_c": 700.0}, r"stack_c is 700\.0, but must be nearer to the 2.. degC that clean"),
        ({"output_kw": 0.0}, r"output_kw is 0\.0, but must be above 0"),
        ({"shell_loss_percent": 30.0}, r"shell_loss_percent is 30\.0, but must be 0 to 20 %"),
        ({"plugged": {2: 100}}, "No tube of pass 2 is open"),
        ({"plugged": {4: 1}}, r"plugged is in pass 4, but must be in one of the passes \[2, 3\]"),
        ({"furnace_exit_c": 1500.0}, r"furnace_exit_c is 1500\.0, but must be above 227 and at m"),
        ({"furnace_exit_c": None}, "furnace_exit_c is missing; give it, or the furnace's diameter"),
        (
            {"oxygen_percent": 20.5, "stack_c": 600.0},
            r"stack_c is 600\.0, but must be lower: the efficiency would be -\d+ % after the shell",
        ),
        ({"oxygen_percent": 21.0}, r"oxygen_percent is 21\.0, but must be at least 0 and below"),
    ],
)
def test_measurements_that_cannot_be_are_refused(changed: dict[str, object], words: str) -> None:
    with pytest.raises(ModelError, match=words):
        fit_boiler(BUILT, replace(MEASURED, **changed))


def test_a_boiler_without_passes_and_a_furnace_too_small_are_refused() -> None:
    with pytest.raises(ModelError, match="No tube pass is given; the gas side needs at least one"):
        fit_boiler(replace(BUILT, passes=()), MEASURED)
    with pytest.raises(OutOfRange, match=r"furnace_surface_m2 is 0\.5, but must be larger: the ga"):
        fit_boiler(replace(BUILT, furnace_surface_m2=0.5), replace(MEASURED, furnace_exit_c=None))
    with pytest.raises(OutOfRange, match=r"firing is 0\.0, but must be above 0"):
        run_boiler(BOILER, {}, firing=0.0)


def test_ten_percent_plugged_costs_a_few_degrees_and_a_fifth_more_draft() -> None:
    cost = plugging_cost(BOILER, {2: 10, 3: 8})
    assert 1.0 < cost.stack_rise_k < 15.0
    assert 0.05 < cost.efficiency_loss_points < 0.7
    assert cost.draft_ratio == pytest.approx(1.22, abs=0.04)
    assert [each.plugged_percent for each in cost.by_pass] == [10.0, 10.0]
    for each in cost.by_pass:
        assert each.draft_ratio == pytest.approx(1.22, abs=0.04)
    assert cost.remarks[0] == RETUNE_CAUTION
    assert cost.remarks[-1] == NOT_COMPUTED
    assert cost.limit.output_kw is None
    # The same heat to the water takes more fuel by the ratio of what reaches it.
    before, after = run_boiler(BOILER, {}), run_boiler(BOILER, {2: 10, 3: 8})
    stack_only = combustion_efficiency_percent(
        fuel=Fuel.NATURAL_GAS, oxygen_percent=4.0, stack_c=after.stack_c, air_c=24.0
    )
    assert after.efficiency_percent == pytest.approx(stack_only)
    assert cost.fuel_rise_percent == pytest.approx(
        100 * ((before.efficiency_percent - 1.0) / (stack_only - 1.0) - 1), rel=1e-9
    )


def test_no_plugs_cost_nothing() -> None:
    cost = plugging_cost(BOILER, {})
    assert (cost.stack_rise_k, cost.efficiency_loss_points, cost.fuel_rise_percent) == (0, 0, 0)
    assert cost.draft_ratio == 1.0


def test_slow_gas_is_said_where_its_pass_is_plugged() -> None:
    slow = fit_boiler(BUILT, replace(MEASURED, output_kw=1200.0, plugged={}))
    assert any("Pass 2: the gas is slow" in each for each in plugging_cost(slow, {2: 5}).remarks)
    assert not any("slow" in each for each in plugging_cost(slow, {}).remarks)


@pytest.mark.parametrize("pass_", [2, 3])
def test_a_curve_rises_from_no_plugs_to_forty_percent(pass_: int) -> None:
    curve = plugging_curve(BOILER, pass_, pressures=PRESSURES)
    assert [each.plugged_percent for each in curve] == list(CURVE_PERCENTS)
    assert curve[0].pass_draft_ratio == curve[0].draft_ratio == 1.0
    assert curve[0].stack_rise_k == 0.0
    for lower, higher in pairwise(curve):
        assert lower.stack_rise_k < higher.stack_rise_k
        assert lower.pass_draft_ratio < higher.pass_draft_ratio
        assert lower.draft_ratio < higher.draft_ratio < higher.pass_draft_ratio
        assert lower.efficiency_percent > higher.efficiency_percent
        assert lower.output_limit_kw is not None
        assert higher.output_limit_kw is not None
        assert lower.output_limit_kw > higher.output_limit_kw
    # Friction alone would be 0.6^-1.8 = 2.51; the ends grow with 0.6^-2.
    assert curve[-1].pass_draft_ratio == pytest.approx(2.6, abs=0.2)


def test_a_curve_of_a_pass_that_is_not_there_is_refused() -> None:
    with pytest.raises(OutOfRange, match="pass is 4, but must be one of 2, 3"):
        plugging_curve(BOILER, 4)


def test_the_next_plug_hurts_most_where_fewer_tubes_carry_the_gas() -> None:
    costs = one_more_plug(BOILER, {2: 40})
    assert [each.pass_ for each in costs] == [2, 3]
    assert costs[0].draft_rise_pa > costs[1].draft_rise_pa > 0.0
    assert all(each.stack_rise_k > 0.0 for each in costs)
    one_left = replace(BUILT.passes[1], tubes=1, bore_mm=500.0)
    wide = fit_boiler(replace(BUILT, passes=(BUILT.passes[0], one_left)), MEASURED)
    assert [each.pass_ for each in one_more_plug(wide, {})] == [2]


def test_where_the_burner_takes_all_pressure_the_limit_follows_the_square_root() -> None:
    # Tubes as measured lose about 600 Pa; against 1e6 Pa of burner they vanish.
    heavy = Pressures(furnace_pressure_pa=600.0, burner_loss_pa=1e6, fan_pressure_pa=1.44e6)
    limit = output_limit(BOILER, MEASURED.plugged, heavy)
    assert limit.firing == pytest.approx(1.2, rel=1e-3)
    assert limit.output_kw == run_boiler(BOILER, {2: 4}, firing=limit.firing or 0.0).output_kw


@given(
    fan_pa=st.floats(1500.0, 6000.0),
    burner_pa=st.floats(0.0, 2000.0),
    furnace_pa=st.floats(-200.0, 1500.0),
)
@settings(max_examples=25, deadline=None)
def test_at_the_limit_the_fan_is_used_up(
    fan_pa: float, burner_pa: float, furnace_pa: float
) -> None:
    pressures = Pressures(
        furnace_pressure_pa=furnace_pa, burner_loss_pa=burner_pa, fan_pressure_pa=fan_pa
    )
    limit = output_limit(BOILER, {2: 10}, pressures)
    if limit.firing is None:
        assert "does not limit" in limit.remark
        return
    rest_pa = furnace_pa - run_boiler(BOILER, MEASURED.plugged).draft_loss_pa
    tubes_pa = run_boiler(BOILER, {2: 10}, firing=limit.firing).draft_loss_pa
    # What the gas loses behind the tubes grows with the square; what a chimney pulls stays.
    behind_pa = rest_pa * limit.firing**2 if rest_pa > 0.0 else rest_pa
    needed_pa = burner_pa * limit.firing**2 + behind_pa + tubes_pa
    assert needed_pa == pytest.approx(fan_pa, rel=1e-3)


def test_what_the_pressures_say_is_passed_on() -> None:
    ample = replace(PRESSURES, fan_pressure_pa=1e5)
    limit = output_limit(BOILER, {}, ample)
    assert limit.output_kw is None
    assert limit.remark.startswith("The fan does not limit the output up to")
    chimney = replace(PRESSURES, furnace_pressure_pa=100.0)
    assert "where a chimney pulls" in output_limit(BOILER, {}, chimney).remark
    with pytest.raises(
        OutOfRange, match=r"fan_pressure_pa is 1\.0, but must be enough for a tenth"
    ):
        output_limit(BOILER, {}, replace(PRESSURES, fan_pressure_pa=1.0))
    with pytest.raises(OutOfRange, match=r"fan_pressure_pa is 0\.0, but must be above 0"):
        output_limit(BOILER, {}, replace(PRESSURES, fan_pressure_pa=0.0))
    with pytest.raises(OutOfRange, match=r"burner_loss_pa is -1\.0, but must be at least 0"):
        output_limit(BOILER, {}, replace(PRESSURES, burner_loss_pa=-1.0))
    assert math.isfinite(output_limit(BOILER, {}, PRESSURES).output_kw or math.nan)
