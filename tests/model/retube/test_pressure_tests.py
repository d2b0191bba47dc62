"""Pressure tests by rule and a holding gauge."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import OutOfRange
from model.retube.hydro_test import TEST_RULES, HydroCase, HydroRule, hydro_test
from model.retube.pressure_hold import pressure_hold

CASES = {
    HydroRule.PG_99: {HydroCase.NEW},
    HydroRule.NBIC_REPAIR: {HydroCase.REPAIRED},
    HydroRule.PA_CODE_34: {HydroCase.NEW, HydroCase.PERIODIC, HydroCase.LOCOMOTIVE},
    HydroRule.CFR_46_FIRETUBE: {HydroCase.PERIODIC, HydroCase.EXTENSIVE_REPAIRS},
    HydroRule.IBR_379: {HydroCase.NEW, HydroCase.PERIODIC},
}


def test_every_rule_knows_its_cases_and_its_source() -> None:
    assert {rule: set(asked.factors) for rule, asked in TEST_RULES.items()} == CASES
    assert all(asked.source for asked in TEST_RULES.values())


@pytest.mark.parametrize("rule", [HydroRule.PG_99, HydroRule.NBIC_REPAIR])
def test_what_is_held_from_memory_says_so(rule: HydroRule) -> None:
    assert "from memory, not checked against the document" in TEST_RULES[rule].source


@pytest.mark.parametrize(
    "rule", [HydroRule.PA_CODE_34, HydroRule.CFR_46_FIRETUBE, HydroRule.IBR_379]
)
def test_a_rule_with_two_pressures_needs_its_case(rule: HydroRule) -> None:
    with pytest.raises(OutOfRange, match=f"case is missing, but must be .* for {rule.value}"):
        hydro_test(mawp_mpa=1.0, rule=rule)


@pytest.mark.parametrize(
    ("rule", "case"),
    [(rule, case) for rule, known in CASES.items() for case in HydroCase if case not in known],
)
def test_a_case_that_a_rule_does_not_know_is_refused(rule: HydroRule, case: HydroCase) -> None:
    with pytest.raises(OutOfRange, match=f"case is {case.value}, but must be .* for {rule.value}"):
        hydro_test(mawp_mpa=1.0, rule=rule, case=case)


def test_a_repair_test_has_no_pressure_of_its_own_but_a_ceiling() -> None:
    test = hydro_test(mawp_mpa=1.0, rule=HydroRule.NBIC_REPAIR)
    assert (test.test_mpa, test.ceiling_mpa, test.hold_minutes) == (None, 1.5, 10.0)
    assert (test.water_min_c, test.water_max_c) == (None, None)
    assert "agreed with the inspector first" in test.notes[0]


def test_a_rule_without_a_hold_or_a_ceiling_has_none() -> None:
    test = hydro_test(mawp_mpa=1.0, rule=HydroRule.CFR_46_FIRETUBE, case=HydroCase.PERIODIC)
    assert (test.hold_minutes, test.ceiling_mpa) == (None, None)
    assert hydro_test(mawp_mpa=1.0, rule=HydroRule.PG_99).hold_minutes is None


@given(mawp_mpa=st.floats(0.01, 20.0), rule=st.sampled_from(HydroRule), data=st.data())
def test_a_test_never_lies_above_its_ceiling_or_below_the_working_pressure(
    mawp_mpa: float, rule: HydroRule, data: st.DataObject
) -> None:
    case = data.draw(st.sampled_from(sorted(CASES[rule])))
    test = hydro_test(mawp_mpa=mawp_mpa, rule=rule, case=case)
    if test.test_mpa is not None:
        assert mawp_mpa < test.test_mpa <= 1.5 * mawp_mpa
    if test.test_mpa is not None and test.ceiling_mpa is not None:
        assert test.ceiling_mpa == pytest.approx(1.06 * test.test_mpa)


@pytest.mark.parametrize("mawp_mpa", [0.0, -1.0, float("nan")])
def test_no_working_pressure_has_no_test(mawp_mpa: float) -> None:
    with pytest.raises(OutOfRange, match=r"mawp_mpa is .*, but must be above 0"):
        hydro_test(mawp_mpa=mawp_mpa, rule=HydroRule.PG_99)


@pytest.mark.parametrize(
    ("end_mpa", "minutes", "is_within"),
    [
        (1.0, 15.0, True),
        (0.9, 15.0, True),
        (0.8999, 15.0, False),
        (0.9, 14.9, None),
        (1.0, 5.0, None),
        (0.9, 60.0, True),
        (0.85, 60.0, False),
        (0.0, 15.0, False),
    ],
)
def test_a_tenth_in_a_quarter_of_an_hour_is_the_rule(
    end_mpa: float, minutes: float, is_within: bool | None
) -> None:
    hold = pressure_hold(start_mpa=1.0, end_mpa=end_mpa, minutes=minutes)
    assert hold.is_within_rule is is_within
    assert hold.drop_percent == pytest.approx(100.0 * (1.0 - end_mpa))


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"start_mpa": 0.0}, "start_mpa is 0.0, but must be above 0"),
        ({"end_mpa": 1.1}, "end_mpa is 1.1, but must be .* a gauge that rises"),
        ({"end_mpa": -0.1}, "end_mpa is -0.1, but must be at least 0"),
        ({"minutes": 0.0}, "minutes is 0.0, but must be above 0"),
    ],
)
def test_a_gauge_that_cannot_be_is_refused(changed: dict[str, float], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        pressure_hold(**{"start_mpa": 1.0, "end_mpa": 0.95, "minutes": 15.0, **changed})
