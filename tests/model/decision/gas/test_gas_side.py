"""The gas side of a recorded boiler: fitted or refused in a sentence, and what its plugs do."""

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.decision.gas.gas_record import RANGES
from model.decision.gas.gas_side import (
    cost_of_plugs,
    fit_gas_side,
    gas_after,
    gas_effects,
    tubes_draft_pa,
    yearly_fuel_gj,
)
from model.errors import ModelError
from model.thermal.boiler_gas_side import run_boiler
from model.thermal.output_limit import output_limit
from model.thermal.plugging_cost import RETUNE_CAUTION, plugging_cost
from tests.model.decision.fired_boiler import FIRING, SIZES, fired_boiler

FACTS, TUBES = fired_boiler(found=("2.1", "2.2", "3.1"), plugged_now=("2.3",))
FIT = fit_gas_side(FACTS, TUBES)


def why_not(**changes):
    return fit_gas_side(*fired_boiler(**changes)).why_not


# ------------------------------------------------------------------ the fit


def test_the_boiler_meets_its_stack_with_the_plugs_as_found_and_keeps_those_as_left():
    assert FIT.why_not is None
    assert FIT.boiler.measured.plugged == {2: 2, 3: 1}
    assert FIT.plugged == {2: 3, 3: 1}
    assert run_boiler(FIT.boiler, {2: 2, 3: 1}).stack_c == pytest.approx(235.0, abs=1e-4)
    assert run_boiler(FIT.boiler, {2: 2, 3: 1}).output_kw == pytest.approx(1500.0, rel=1e-6)
    assert [(each.pass_, each.tubes, each.bore_mm, each.length_mm) for each in
            FIT.boiler.built.passes] == [(2, 50, 45.0, 4500.0), (3, 40, 45.0, 4500.0)]  # fmt: skip
    assert any("plugged as found in this inspection" in each for each in FIT.remarks)


def test_the_water_boils_at_the_operating_pressure_or_else_as_said_at_the_mawp():
    assert FIT.boiler.built.saturation_c == pytest.approx(175.4, abs=0.1)
    at_mawp = fit_gas_side(*fired_boiler(operating_pressure_mpa=None))
    assert at_mawp.boiler.built.saturation_c == pytest.approx(184.1, abs=0.1)
    assert any("boil as at the MAWP" in each for each in at_mawp.remarks)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        (
            {"firing": {"stack_c": None, "oxygen_percent": None}, "tubes": {"od_mm": 51.0,
             "wall_mm": 3.0}},
            "What plugging costs is not computed: [tubes] lacks length_mm, [firing] lacks "
            "oxygen_percent and stack_c.",
        ),
        (
            {"operating_pressure_mpa": None, "mawp_mpa": None, "firing": {"fuel": None}},
            "What plugging costs is not computed: [boiler] lacks operating_pressure_mpa, [firing] "
            "lacks fuel.",
        ),
        (
            {"firing": {"furnace_exit_c": None}, "shell": {}},
            "What plugging costs is not computed: [firing] lacks furnace_exit_c.",
        ),
        (
            {"firing": {"stack_c": "hot", "output_kw": -3.0, "fuel": "peat"}},
            "What plugging costs is not computed: fuel in [firing] is 'peat', but must be natural "
            "gas or light oil, output_kw in [firing] is -3, but must be above 0 and at most "
            "1,000,000, stack_c in [firing] is 'hot', but must be -60 to 2500.",
        ),
        (
            {"firing": {"stack_c": 150.0}},
            "What plugging costs is not computed: stack_c is 150, but must be above the "
            "saturation's 175.4 degC; read it before an economiser, which is outside the model.",
        ),
        (
            {"kind": "other"},
            "What plugging costs is not computed: it is worked out for horizontal fire-tube steam "
            "boilers alone, wet-back or dry-back; the kind of this boiler is 'other'.",
        ),
        (
            {"operating_pressure_mpa": 50.0},
            "What plugging costs is not computed: the pressure in [boiler] is 50 MPa, where water "
            "boils only below 21.9.",
        ),
    ],
)  # fmt: skip
def test_what_is_missing_or_cannot_be_meant_is_named_in_one_sentence(changes, words):
    assert why_not(**changes) == words


def test_a_boiler_without_tubes_or_without_any_setting_is_refused_in_words():
    assert fit_gas_side(FACTS, ()).why_not.endswith("the layout has no tubes.")
    bare = fit_gas_side(replace(FACTS, settings={}), TUBES)
    assert bare.why_not == (
        "What plugging costs is not computed: [firing] lacks fuel, output_kw, oxygen_percent, "
        "stack_c and air_c."
    )
    assert (bare.boiler, bare.pressures, bare.remarks) == (None, None, ())


def test_a_pass_without_an_open_tube_is_refused_in_words():
    every = tuple(f"3.{number}" for number in range(1, 41))
    assert "No tube of pass 3 is open" in why_not(found=every)


def test_a_furnace_exit_that_nobody_measured_is_estimated_from_the_furnace_and_said():
    fit = fit_gas_side(*fired_boiler(firing={"furnace_exit_c": None}))
    assert fit.boiler.built.furnace_surface_m2 == pytest.approx(3.14159 * 0.7 * 4.5, rel=1e-5)
    assert any("taken to be as long as the tubes of pass 2" in each for each in fit.remarks)
    assert "The furnace exit is estimated, to about 100 K." in fit.remarks


def test_a_pass_of_mixed_sizes_is_computed_with_the_most_common_and_says_so():
    sizes = {f"3.{number}": {"wall_mm": 5.0} for number in range(1, 7)}
    fit = fit_gas_side(*fired_boiler(sizes=sizes))
    assert fit.boiler.built.passes[1].bore_mm == 45.0
    assert (
        "Pass 3 mixes tube sizes: all 40 tubes are computed with the bore of 45.0 mm and the "
        "length of 4500 mm that 34 have."
    ) in fit.remarks


def test_tubes_with_sizes_of_their_own_need_none_of_the_boiler():
    sizes = {f"{pass_}.{n}": SIZES for pass_, count in ((2, 50), (3, 40)) for n in
             range(1, count + 1)}  # fmt: skip
    assert fit_gas_side(*fired_boiler(sizes=sizes, tubes={})).why_not is None


def test_retarders_are_said_to_be_outside_and_silence_about_them_too():
    twisted = fit_gas_side(*fired_boiler(firing={"retarders": {"3": "twisted strip"}}))
    assert any("Pass 3 has retarders (twisted strip)" in each for each in twisted.remarks)
    assert any("Nothing is recorded of retarders in pass 2" in each for each in twisted.remarks)
    assert not any("retarders" in each for each in FIT.remarks)


@pytest.mark.parametrize("name", ["furnace_pressure_pa", "burner_loss_pa", "fan_pressure_pa"])
def test_without_one_of_the_pressures_there_is_no_output_limit_but_all_else(name):
    fit = fit_gas_side(*fired_boiler(firing={name: None}))
    assert fit.pressures is None
    after = gas_after(fit, {2: 5, 3: 0})
    assert after.output_limit_kw is None
    assert after.output_remark.startswith("Output limit not computed: it needs")
    assert after.draft_ratio > 1.0
    assert gas_effects(fit, FACTS.settings).fan is None
    wrong = fit_gas_side(*fired_boiler(firing={name: "a lot"}))
    assert any(f"{name} in [firing] is 'a lot'" in each for each in wrong.remarks)


def test_tubes_that_nobody_looked_at_are_said_to_count_as_open():
    unseen = [replace(each, ends_found={}) for each in TUBES[:2]]
    assert all(each.is_unseen for each in unseen)
    fit = fit_gas_side(FACTS, (*unseen, *TUBES[2:]))
    assert "2 tubes that nobody looked at count as open." in fit.remarks


HOSTILE = st.one_of(
    st.none(), st.booleans(), st.text(max_size=5), st.floats(), st.integers(-(10**400), 10**400),
    st.lists(st.integers(), max_size=2), st.dictionaries(st.text(max_size=2), st.integers()),
)  # fmt: skip


@given(
    firing=st.dictionaries(st.sampled_from([*FIRING, "retarders"]), HOSTILE, max_size=8),
    furnaces=st.lists(st.floats(), max_size=2),
    sizes=st.fixed_dictionaries({name: st.floats() | st.none() for name in SIZES}),
)
@settings(max_examples=50, deadline=None)
def test_no_setting_whatever_it_is_breaks_the_report(firing, furnaces, sizes):
    hostile = replace(FACTS, settings={"firing": {**FIRING, **firing}}, **sizes)
    fit = fit_gas_side(hostile, TUBES)
    assert (fit.boiler is None) == (fit.why_not is not None)
    gas_effects(fit, hostile.settings)
    gas_after(fit, {2: 20, 3: 3})


@given(data=st.data())
@settings(max_examples=25, deadline=None)
def test_no_figure_within_its_bounds_breaks_the_report(data):
    names = data.draw(st.sets(st.sampled_from([*RANGES]), max_size=6))
    figures = {name: data.draw(st.floats(*RANGES[name])) for name in sorted(names)}
    facts = replace(FACTS, settings={"firing": {**FIRING, **figures}})
    fit = fit_gas_side(facts, TUBES)
    assert (fit.boiler is None) == (fit.why_not is not None)
    gas_effects(fit, facts.settings)


def test_more_heat_in_the_stack_than_the_fuel_has_is_refused_too():
    hot = {"oxygen_percent": 18.0, "furnace_exit_c": None, "stack_c": 1086.0}
    assert why_not(firing=hot) == (
        "What plugging costs is not computed: stack_c is 1086, but must be lower: the efficiency "
        "would be -154 % after the shell's loss."
    )


# ------------------------------------------------------------------ after an option


def test_the_gas_side_after_an_option_is_what_the_model_says():
    plugged = {2: 10, 3: 4}
    cost = plugging_cost(FIT.boiler, plugged, FIT.pressures)
    after = gas_after(FIT, plugged)
    assert after.stack_rise_k == cost.stack_rise_k > 0.0
    assert after.efficiency_loss_points == cost.efficiency_loss_points
    assert after.fuel_rise_percent == cost.fuel_rise_percent
    assert after.draft_ratio == cost.draft_ratio
    assert after.draft_ratio_by_pass == {each.pass_: each.draft_ratio for each in cost.by_pass}
    assert after.output_limit_kw == cost.limit.output_kw > FIRING["output_kw"]
    assert after.output_remark == cost.limit.remark


def test_a_fan_that_cannot_move_the_gas_leaves_the_ratios_and_says_why():
    weak = replace(
        FIT, pressures=replace(FIT.pressures, fan_pressure_pa=1.0, furnace_pressure_pa=2000.0)
    )
    after = gas_after(weak, {2: 3, 3: 1})
    assert after.output_limit_kw is None
    assert after.output_remark.startswith("Output limit not computed: fan_pressure_pa is 1, but")
    assert after.draft_ratio == gas_after(FIT, {2: 3, 3: 1}).draft_ratio
    assert cost_of_plugs(weak, {2: 3, 3: 1}).remarks[0] == RETUNE_CAUTION
    assert gas_effects(weak, FACTS.settings).fan is None


def test_plugs_that_the_model_refuses_and_a_boiler_not_fitted_give_nothing():
    assert gas_after(FIT, {2: 50}) is None
    nothing = fit_gas_side(*fired_boiler(kind="other"))
    assert gas_after(nothing, {2: 1}) is None
    assert gas_effects(nothing, FACTS.settings) is None
    with pytest.raises(ModelError, match="the kind of this boiler is 'other'"):
        cost_of_plugs(nothing, {2: 1})


# ------------------------------------------------------------------ the tables of the trials


def test_the_tables_are_those_of_the_marched_model():
    effects = gas_effects(FIT, FACTS.settings)
    none = run_boiler(FIT.boiler, {})
    assert effects.output_kw == 1500.0
    for each in FIT.boiler.built.passes:
        table = effects.passes[each.pass_]
        assert table.plugged_percent[0] == table.fuel_rise_percent[0] == 0.0
        assert table.plugged_percent[-1] >= 60.0
        assert sorted(table.fuel_rise_percent) == list(table.fuel_rise_percent)
        assert sorted(table.draft_loss_pa) == list(table.draft_loss_pa)
        state = run_boiler(FIT.boiler, {each.pass_: 0.4 * each.tubes})
        at = table.plugged_percent.index(40.0)
        assert table.fuel_rise_percent[at] == pytest.approx(
            100.0 * (none.output_kw / state.output_kw - 1.0)
        )
        lost = {one.pass_: one.result.draft_loss_pa for one in state.passes}
        assert table.draft_loss_pa[at] == lost[each.pass_]


@pytest.mark.parametrize("fan_pa", [1800.0, 2600.0, 4000.0])
@pytest.mark.parametrize("furnace_pa", [150.0, 900.0])
def test_the_quick_output_rule_meets_the_marched_limit_today_and_is_near_it_elsewhere(
    fan_pa, furnace_pa
):
    changed = {"fan_pressure_pa": fan_pa, "furnace_pressure_pa": furnace_pa}
    facts, tubes = fired_boiler(found=("2.1", "2.2", "3.1"), plugged_now=("2.3",), firing=changed)
    fit = fit_gas_side(facts, tubes)
    effects = gas_effects(fit, facts.settings)
    at_today = quick_kw(fit, effects, fit.plugged)
    assert at_today == pytest.approx(
        output_limit(fit.boiler, fit.plugged, fit.pressures).output_kw, rel=1e-9
    )
    for plugged, within in (
        ({2: 0, 3: 0}, 0.02), ({2: 10, 3: 0}, 0.02), ({2: 10, 3: 8}, 0.02),
        ({2: 20, 3: 0}, 0.05), ({2: 20, 3: 16}, 0.05),
    ):  # fmt: skip
        marched = output_limit(fit.boiler, plugged, fit.pressures).output_kw
        assert quick_kw(fit, effects, plugged) == pytest.approx(marched, rel=within)


def quick_kw(fit, effects, plugged):
    shares = {each.pass_: 100.0 * plugged[each.pass_] / each.tubes for each in
              fit.boiler.built.passes}  # fmt: skip
    return effects.output_limit_kw(tubes_draft_pa(effects, shares))


def test_where_the_fan_does_not_limit_today_the_rule_is_met_where_it_begins_to():
    facts, tubes = fired_boiler(firing={"fan_pressure_pa": 8500.0})
    fit = fit_gas_side(facts, tubes)
    assert output_limit(fit.boiler, fit.plugged, fit.pressures).output_kw is None
    effects = gas_effects(fit, facts.settings)
    plugged = {2: 10, 3: 8}
    marched = output_limit(fit.boiler, plugged, fit.pressures).output_kw
    assert quick_kw(fit, effects, plugged) == pytest.approx(marched, rel=1e-9)
    ample = replace(fit, pressures=replace(fit.pressures, fan_pressure_pa=9e4))
    assert gas_effects(ample, facts.settings).fan.correction == 1.0


def test_the_fuel_of_a_year_is_its_heat_and_the_shells_over_the_efficiency():
    effects = gas_effects(FIT, FACTS.settings)
    none = run_boiler(FIT.boiler, {})
    shell_kw = 0.01 * FIT.boiler.fuel_kw
    heat_gj = (1500.0 * 0.6 + shell_kw) * 5000.0 * 3600.0 / 1e6
    assert effects.yearly_fuel_gj == pytest.approx(100.0 * heat_gj / none.efficiency_percent)
    # At full load it is the fuel of the measured firing, hour by hour.
    full = {"firing": {**FIRING, "load_percent": 100.0, "hours_per_year": 1.0}}
    as_measured = replace(FIT.boiler.measured, plugged={})
    open_tubes = replace(FIT.boiler, measured=as_measured)
    assert yearly_fuel_gj(open_tubes, none, full) == pytest.approx(
        FIT.boiler.fuel_kw * 3.6e-3, rel=2e-3
    )


@pytest.mark.parametrize("name", ["load_percent", "hours_per_year"])
@pytest.mark.parametrize("value", [None, "always", -1.0])
def test_without_hours_or_load_the_fuel_of_a_year_is_not_known(name, value):
    settings_ = {"firing": {**FIRING, name: value}}
    assert gas_effects(FIT, settings_).yearly_fuel_gj is None


def test_the_settings_of_a_file_are_the_settings_of_the_fit():
    # As they come out of the store: through JSON, whole numbers among them.
    stored = json.loads(json.dumps({"firing": {**FIRING, "output_kw": 1500, "stack_c": 235}}))
    again = fit_gas_side(replace(FACTS, settings=stored), TUBES)
    assert again.boiler.fouling_m2_k_per_w == FIT.boiler.fouling_m2_k_per_w
