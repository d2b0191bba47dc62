"""Unit conversions: exact constants, round trips."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import constants

from model import units

PAIRS = [
    (units.mm_from_inches, units.inches_from_mm),
    (units.mpa_from_psi, units.psi_from_mpa),
    (units.c_from_f, units.f_from_c),
    (units.kw_from_bhp, units.bhp_from_kw),
    (units.kg_from_lb, units.lb_from_kg),
]


@given(value=st.floats(-1e6, 1e6))
def test_every_conversion_and_its_inverse_give_the_value_back(value: float) -> None:
    for there, back in PAIRS:
        assert back(there(value)) == pytest.approx(value, rel=1e-12, abs=1e-9)


def test_constants_agree_with_an_independent_table() -> None:
    assert constants.inch * 1000 == units.MM_PER_INCH
    assert math.isclose(constants.lb, units.KG_PER_LB, rel_tol=1e-12)
    assert math.isclose(units.MPA_PER_PSI, constants.psi / 1e6, rel_tol=1e-12)
    assert math.isclose(units.KJ_PER_BTU, constants.Btu / 1000, rel_tol=1e-12)


def test_water_boils_at_212_f_and_freezes_at_32_f() -> None:
    assert units.c_from_f(212.0) == 100.0
    assert units.f_from_c(0.0) == 32.0


def test_a_boiler_horsepower_is_9_812_kilowatts_within_the_published_roundings() -> None:
    """UFC 3-240-13FN (2005) 3-1.1 prints 33,479 Btu/h = 9.812 kW; roundings differ by 0.02 %."""
    assert math.isclose(units.kw_from_bhp(1.0), 9.812, rel_tol=2e-4)
    assert units.kw_from_bhp(100.0) == 100.0 * units.KW_PER_BHP
