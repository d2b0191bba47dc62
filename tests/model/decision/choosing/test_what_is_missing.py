"""What the advice says it does not know: each thing only where it is missing and would matter."""

from dataclasses import replace

import pytest

from model.condition.boiler_facts import boiler_facts
from model.decision.advice import OptionResult
from model.decision.choosing.what_is_missing import what_is_missing
from model.decision.gas.gas_side import GasSideFit, fit_gas_side, open_output_kw
from model.decision.limits import CLUSTER, LimitResult, LimitStatus
from model.decision.plans import Plan
from model.thermal.output_limit import Pressures
from tests.model.condition.small_boiler import SmallBoiler
from tests.model.decision.fired_boiler import fired_boiler
from tests.model.decision.situation_cases import RISK, a_pass, a_situation

OUTAGE = {"interval_years": 1.0}
FITTED = GasSideFit(
    boiler=None,
    why_not=None,
    pressures=Pressures(furnace_pressure_pa=0.0, burner_loss_pa=500.0, fan_pressure_pa=900.0),
    plugged={},
    remarks=(),
)
WHOLE = a_situation(a_pass())


def missing(situation=WHOLE, *, fit=FITTED, options=(), limits=(), outage=OUTAGE, shell_mm=1500.0):
    facts = replace(
        boiler_facts(SmallBoiler({2: 10}).folded()),
        settings={"outage": outage},
        shell_diameter_mm=shell_mm,
    )
    return what_is_missing(situation, facts, fit, options, limits=limits)


@pytest.mark.parametrize(
    ("changes", "is_named"),
    [
        ({}, True),
        ({"standby_kw": 2000.0}, False),  # covers all of the need
        ({"needed_output_kw": None}, False),
        ({"load_percent": None}, False),
        ({"hours_per_year": None}, False),
    ],
)
def test_the_price_of_output_that_is_short_is_named_where_it_may_be_short(changes, is_named):
    """Every option that may be chosen today may fall short in later years, for nothing."""
    firing = {"needed_output_kw": 1000.0, "hours_per_year": 5000.0, "load_percent": 60.0} | changes
    said = "what output that is short costs (capacity_per_mwh in [costs])"
    without = a_situation(a_pass(), without=("capacity_per_mwh",), **firing)
    assert any(each.startswith(said) for each in missing(without)) == is_named
    unlimited = replace(FITTED, pressures=None)
    assert not any(each.startswith(said) for each in missing(without, fit=unlimited))
    assert not any(each.startswith(said) for each in missing(a_situation(a_pass(), **firing)))


def test_a_need_that_no_plug_stands_against_is_named_with_what_is_reached():
    fit = fit_gas_side(*fired_boiler())
    open_kw = open_output_kw(fit)
    assert not any("no plug is to blame" in each for each in missing(fit=fit))
    (said,) = (
        each
        for each in missing(replace(WHOLE, needed_output_kw=open_kw + 1.0), fit=fit)
        if "no plug is to blame" in each
    )
    assert f"reaches {open_kw:,.0f} kW at most with every tube open" in said
    assert not any(
        "no plug is to blame" in each
        for each in missing(replace(WHOLE, needed_output_kw=open_kw), fit=fit)
    )


def place(status):
    return LimitResult(
        name=CLUSTER, value=300.0, high=None, watch=None, act=None, basis="",
        status=LimitStatus(status), sheet="front",
    )  # fmt: skip


def option(*, plug=frozenset(), limits=()):
    return OptionResult(
        plan=Plan(key="plug-bad", words="", plug=plug), ruled_out=None, waits_for=frozenset(),
        money=None, limits=limits, gas=None, hours=0.0, days=0.0,
    )  # fmt: skip


def test_nothing_is_missing_where_all_is_given():
    assert missing() == ()


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"hours_per_year": None}, "hours_per_year in [firing], without which neither fuel"),
        ({"hours_per_year": None, "load_percent": None}, "hours_per_year and load_percent in"),
        ({"needed_output_kw": None}, "the output needed ([firing] needed_output_kw)"),
        ({"tube_lead_weeks": None}, "how long tubes take to come ([outage] tube_lead_weeks)"),
        ({"years_to_outage": None}, "a day of the next planned outage that is still to come"),
    ],
)
def test_each_figure_that_is_missing_is_named_alone(changes, said):
    (found,) = missing(replace(WHOLE, **changes))
    assert found.startswith(said)


def test_hours_and_load_do_not_matter_where_no_gas_side_is_computed():
    unfitted = replace(FITTED, why_not="What plugging costs is not computed: no fuel.")
    assert missing(replace(WHOLE, hours_per_year=None), fit=unfitted) == (unfitted.why_not,)


def test_without_pressures_no_output_limit_is_promised():
    (found,) = missing(fit=replace(FITTED, pressures=None))
    assert found.startswith("burner, fan and furnace pressures")


def test_an_interval_that_nobody_stated_is_named_with_what_is_taken():
    (found,) = missing(outage={})
    assert found == "the years between planned outages ([outage] interval_years), taken as 1"


def test_an_outage_farther_away_than_the_law_allows_is_questioned():
    legal = {**OUTAGE, "legal_interval_years": 1.0}
    (found,) = missing(replace(WHOLE, years_to_outage=15.0), outage=legal)
    assert found.startswith("how the next planned outage can be 15.0 years away where the law")
    assert missing(replace(WHOLE, years_to_outage=1.0), outage=legal) == ()


def test_places_that_only_an_option_leaves_and_that_cannot_be_judged_are_named():
    after = option(limits=(place("unknown"),))
    (found,) = missing(options=[after])
    assert found.startswith("plate thickness, stress or MAWP")
    # Of places that stand so today the condition speaks.
    assert missing(options=[after], limits=[place("unknown")]) == ()
    assert missing(options=[option(limits=(place("ok"),))]) == ()


def test_without_the_shell_plugs_at_the_edge_are_said_not_to_be_judged():
    edge = (
        "the shell's diameter ([shell] diameter_mm), without which plugs at the edge of the tubes "
        "are not judged"
    )
    assert missing(shell_mm=None) == ()
    assert missing(options=[option(plug=frozenset({"2.01"}))], shell_mm=None) == (edge,)
    assert missing(a_situation(a_pass(plugged=(1,))), shell_mm=None) == (edge,)


def test_a_short_record_of_leaks_is_called_a_guess():
    short = a_situation(a_pass(risk=replace(RISK, window_years=2.9)))
    (found,) = missing(short)
    assert found.startswith("how often pass 2 leaks: its record covers 2.9 years")
    assert missing(a_situation(a_pass(risk=replace(RISK, window_years=3.0)))) == ()
