"""Elastic outside pressure: refused wherever yield would come first."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from model.errors import OutOfRange
from model.wall.external_pressure import elastic_pressure_mpa, external_pressure


@pytest.mark.parametrize(
    ("od_mm", "wall_mm"), [(50.8, 2.413), (63.5, 2.667), (76.2, 3.048)], ids=str
)
def test_usual_boiler_tubes_are_refused_because_they_yield(od_mm: float, wall_mm: float) -> None:
    with pytest.raises(OutOfRange, match="yield governs, the elastic value is not valid"):
        external_pressure(od_mm=od_mm, wall_mm=wall_mm, yield_mpa=179.0)


def test_the_limit_that_the_refusal_names_is_the_limit() -> None:
    # A E = yield / 2 at t = D sqrt(yield / (2.2 E)).
    limit_mm = 50.8 * math.sqrt(179.0 / (2.2 * 199_948.0))
    assert external_pressure(od_mm=50.8, wall_mm=limit_mm * 0.9999, yield_mpa=179.0)
    with pytest.raises(OutOfRange, match=rf"at most {limit_mm:.3g}: yield governs"):
        external_pressure(od_mm=50.8, wall_mm=limit_mm * 1.0001, yield_mpa=179.0)
    assert 50.8 / limit_mm == pytest.approx(50, abs=0.5)


def test_a_tube_thicker_than_a_tenth_of_its_diameter_is_beside_the_method() -> None:
    assert elastic_pressure_mpa(od_mm=50.0, wall_mm=5.0) > 0.0
    with pytest.raises(OutOfRange, match=r"wall_mm is 5\.01, but must be .* a tenth .* 5\."):
        elastic_pressure_mpa(od_mm=50.0, wall_mm=5.01)


@given(od_mm=st.floats(10.0, 200.0), ratio=st.floats(30.0, 500.0), yield_mpa=st.floats(50.0, 500.0))
def test_no_answer_ever_needs_more_than_half_the_yield(
    od_mm: float, ratio: float, yield_mpa: float
) -> None:
    try:
        elastic = external_pressure(od_mm=od_mm, wall_mm=od_mm / ratio, yield_mpa=yield_mpa)
    except OutOfRange:
        assume(False)
    # Hoop stress P D / (2 t) is a third of A E, so the answer stays far below the yield.
    assert elastic.pressure_mpa * ratio / 2.0 <= yield_mpa / 6.0 * (1 + 1e-9)


@given(od_mm=st.floats(10.0, 200.0), ratio=st.floats(10.0, 500.0), thinner=st.floats(0.2, 0.999))
def test_a_thinner_tube_never_stands_more(od_mm: float, ratio: float, thinner: float) -> None:
    wall_mm = od_mm / ratio
    less = elastic_pressure_mpa(od_mm=od_mm, wall_mm=wall_mm * thinner)
    assert less < elastic_pressure_mpa(od_mm=od_mm, wall_mm=wall_mm)


@pytest.mark.parametrize("name", ["od_mm", "wall_mm", "yield_mpa", "modulus_mpa"])
@pytest.mark.parametrize("value", [0.0, -1.0, float("nan")])
def test_nothing_and_less_are_refused(name: str, value: float) -> None:
    inputs = {"od_mm": 50.8, "wall_mm": 0.8, "yield_mpa": 180.0, "modulus_mpa": 2e5, name: value}
    with pytest.raises(OutOfRange, match=f"{name} is {value}, but must be above 0"):
        external_pressure(**inputs)
