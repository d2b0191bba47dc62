"""Options judged with the gas side of a fired boiler.

Not here: the gates one by one (``test_gates``), places around plugs (``test_closing_places``).
"""

from model.condition.coverage import count_coverage
from model.decision.gas.gas_side import fit_gas_side, gas_after
from model.decision.limits import DEFAULT_LIMITS
from model.decision.options.judged_options import judged_options
from tests.model.decision.fired_boiler import fired_boiler
from tests.model.decision.situation_cases import a_pass, a_situation


def judged(*, plugged, firing=None):
    """A boiler of 50 and 40 tubes, of which so many of pass 2 are plugged."""
    facts, tubes = fired_boiler(firing=firing)
    passes = (a_pass(2, 50, plugged=range(1, plugged + 1)), a_pass(3, 40))
    options = judged_options(
        a_situation(*passes, needed_output_kw=None),
        tubes,
        facts,
        coverage=count_coverage(tubes),
        rules=DEFAULT_LIMITS,
        clusters=(),
        fit=fit_gas_side(facts, tubes),
    )
    return {each.plan.key: each for each in options}


def test_more_plugs_never_bring_back_an_option_because_its_gas_side_is_refused():
    facts, tubes = fired_boiler()
    # One tube of fifty cannot carry the gas: the model refuses so great a draft loss.
    assert gas_after(fit_gas_side(facts, tubes), {2: 49, 3: 0}) is None
    run_on = judged(plugged=49)["run-on"]
    assert run_on.gas is None
    assert "its gas side cannot be computed" in run_on.ruled_out
    assert judged(plugged=5)["run-on"].ruled_out is None
    # A new boiler and a retube of that pass leave nothing to refuse.
    assert judged(plugged=49)["new-boiler"].ruled_out is None
    assert judged(plugged=49)["retube-pass-2"].ruled_out is None


def test_a_boiler_whose_gas_side_was_never_computed_is_not_refused_for_it():
    assert judged(plugged=49, firing={"fuel": None})["run-on"].ruled_out is None
