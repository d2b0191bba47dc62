"""Formulas of pressure tests on the calculation desk: the test by a rule, and a holding gauge.

Not here: the rules themselves (``model.retube.hydro_test``, ``model.retube.pressure_hold``).
"""

from model.desk.formula import Computed, Formula, Inputs, Parameter
from model.desk.values import number, optional_text, text
from model.retube.hydro_test import TEST_RULES, HydroCase, HydroRule, hydro_test
from model.retube.pressure_hold import PRESSURE_HOLD_SOURCE, RULE_MINUTES, pressure_hold


def _hydro_test(inputs: Inputs) -> Computed:
    case = optional_text(inputs, "case")
    test = hydro_test(
        mawp_mpa=number(inputs, "mawp_mpa"),
        rule=HydroRule(text(inputs, "rule")),
        case=None if case is None else HydroCase(case),
    )
    return Computed(
        result={
            "test_mpa": test.test_mpa,
            "ceiling_mpa": test.ceiling_mpa,
            "water_min_c": test.water_min_c,
            "water_max_c": test.water_max_c,
            "hold_minutes": test.hold_minutes,
        },
        notes=(f"This rule: {test.source}.", *test.notes),
    )


def _pressure_hold(inputs: Inputs) -> Computed:
    minutes = number(inputs, "minutes")
    hold = pressure_hold(
        start_mpa=number(inputs, "start_mpa"), end_mpa=number(inputs, "end_mpa"), minutes=minutes
    )
    notes: tuple[str, ...] = ()
    if hold.is_within_rule is None:
        notes = ("Under 15 minutes the rule says nothing.",)
    elif minutes > RULE_MINUTES and not hold.is_within_rule:
        notes = (
            "The drop was over more than 15 minutes and is held against the whole 10 %; what fell "
            "in the first 15 is not known.",
        )
    return Computed(
        result={"drop_percent": hold.drop_percent, "drop_within_rule": hold.is_within_rule},
        notes=notes,
    )


HYDRO_TEST = Formula(
    name="hydro-test",
    summary="pressure, water and hold of a pressure test by a named rule",
    source="; ".join(f"{rule.value}: {asked.source}" for rule, asked in TEST_RULES.items()),
    parameters=(
        Parameter(
            name="mawp_mpa",
            symbol="MAWP",
            unit="MPa",
            help="maximum allowable working pressure, gauge",
            above=0.0,
        ),
        Parameter(
            name="rule",
            kind="choice",
            help="the rule; there is no default",
            choices=tuple(rule.value for rule in HydroRule),
        ),
        Parameter(
            name="case",
            kind="choice",
            help="why it is tested, needed where the rule has two pressures ("
            + "; ".join(
                f"{rule.value}: {' or '.join(asked.factors)}" for rule, asked in TEST_RULES.items()
            )
            + ")",
            is_required=False,
            choices=tuple(case.value for case in HydroCase),
        ),
    ),
    compute=_hydro_test,
    results={
        "test_mpa": "test pressure, gauge; none where it is agreed with the inspector",
        "ceiling_mpa": "never above this, gauge",
        "water_min_c": "water not colder",
        "water_max_c": "water not warmer",
        "hold_minutes": "hold at test pressure; none where the rule names no time",
    },
    notes=("The inspector is told before the test and the repair.",),
)

PRESSURE_HOLD = Formula(
    name="pressure-hold",
    summary="drop of the gauge during a pressure test, against a manual's rule",
    source=PRESSURE_HOLD_SOURCE,
    parameters=(
        Parameter(name="start_mpa", unit="MPa", help="gauge at the start", above=0.0),
        Parameter(name="end_mpa", unit="MPa", help="gauge at the end", at_least=0.0),
        Parameter(name="minutes", unit="minutes", help="time between them", above=0.0),
    ),
    compute=_pressure_hold,
    results={
        "drop_percent": "(start - end) / start x 100",
        "drop_within_rule": "not more than 10 % in 15 minutes; none under 15 minutes",
    },
    notes=(
        "A gauge that holds is not a pass: a test passes only with no leak seen.",
        "The manual with this rule has since been cancelled.",
    ),
)

FORMULAS = (HYDRO_TEST, PRESSURE_HOLD)
