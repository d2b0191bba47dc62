"""Generated tube patterns: counts against a library, and what must hold for any of them."""

import math

import pytest
from ht.hx import Ntubes_Phadkeb
from hypothesis import given, settings
from hypothesis import strategies as st

from model.errors import Faults, ModelError
from model.tubesheet.lattice import fitted_pitch, nearest_distances_mm
from model.tubesheet.layout import Circle
from model.tubesheet.patterns import Pattern, Window, tubes_on_pattern
from model.tubesheet.validate import layout_faults

TURNS = [
    ("triangular", "upright", 30.0),
    ("triangular", "rotated", 60.0),
    ("square", "upright", 90.0),
    ("square", "rotated", 45.0),
]


@pytest.mark.parametrize(("kind", "turn", "angle_deg"), TURNS)
@pytest.mark.parametrize("shell_mm", [500, 777, 1000, 1333, 1800, 2400])
def test_counts_equal_phadkes(kind: str, turn: str, angle_deg: float, shell_mm: int) -> None:
    """Phadke's count (Chem. Eng., Sept. 1984; as in ``ht``) is a table of statistics of lattices.

    It estimates for several passes, but for a single pass it counts lattice points in a circle
    by number theory, exactly; so a pattern with a tube at the centre must agree to the tube.
    """
    pattern = Pattern(kind=kind, turn=turn, pitch_mm=69.85)
    tubes = tubes_on_pattern(pattern, pass_=2, od_mm=50.8, shell_diameter_mm=shell_mm)
    expected = Ntubes_Phadkeb(
        DBundle=shell_mm / 1000, Do=0.0508, pitch=0.06985, Ntp=1, angle=angle_deg
    )
    assert len(tubes) == expected


patterns = st.builds(
    Pattern,
    kind=st.sampled_from(["triangular", "square"]),
    turn=st.sampled_from(["upright", "rotated"]),
    pitch_mm=st.floats(60.0, 120.0),
    origin_x_mm=st.floats(-60.0, 60.0),
    origin_y_mm=st.floats(-60.0, 60.0),
)


@settings(max_examples=60, deadline=None)
@given(
    pattern=patterns,
    shell_mm=st.floats(300.0, 1800.0),
    rim_mm=st.floats(0.0, 60.0),
    furnace_mm=st.floats(100.0, 800.0),
    furnace_y_mm=st.floats(-300.0, 100.0),
    margin_mm=st.floats(0.0, 40.0),
)
def test_generated_tubes_never_overlap_and_keep_clear_of_shell_and_furnace(
    pattern: Pattern,
    shell_mm: float,
    rim_mm: float,
    furnace_mm: float,
    furnace_y_mm: float,
    margin_mm: float,
) -> None:
    furnace = Circle(x_mm=0.0, y_mm=furnace_y_mm, diameter_mm=furnace_mm)
    tubes = tubes_on_pattern(
        pattern,
        pass_=2,
        od_mm=50.8,
        shell_diameter_mm=shell_mm,
        rim_margin_mm=rim_mm,
        furnaces=[furnace],
        furnace_margin_mm=margin_mm,
    )
    for tube in tubes:
        assert math.hypot(tube.x_mm, tube.y_mm) <= shell_mm / 2 - rim_mm - 25.4 + 1e-6
        gap_mm = math.dist((tube.x_mm, tube.y_mm), (0.0, furnace_y_mm))
        assert gap_mm >= furnace_mm / 2 + margin_mm + 25.4 - 1e-6
    for distance_mm in nearest_distances_mm(tubes):
        assert distance_mm >= pattern.pitch_mm - 1e-6
    if tubes:
        assert layout_faults(tubes, shell_mm, [], 50.8) == []


@settings(max_examples=30, deadline=None)
@given(pattern=patterns)
def test_a_generated_pattern_is_recognised_again(pattern: Pattern) -> None:
    tubes = tubes_on_pattern(pattern, pass_=2, od_mm=50.8, shell_diameter_mm=1500.0)
    pitch = fitted_pitch(tubes)
    assert pitch is not None
    assert pitch.pitch_mm == pytest.approx(pattern.pitch_mm, abs=1e-6)
    assert pitch.kind == pattern.kind
    assert pitch.spread_mm < 1e-6


def test_rows_count_from_the_top_and_columns_from_the_left() -> None:
    pattern = Pattern(kind="square", turn="upright", pitch_mm=100.0)
    tubes = tubes_on_pattern(pattern, pass_=3, od_mm=50.0, shell_diameter_mm=300.0)
    places = {tube.key: (tube.x_mm, tube.y_mm) for tube in tubes}
    assert places == {
        "P3-R01-C01": (0.0, 100.0),
        "P3-R02-C01": (-100.0, 0.0),
        "P3-R02-C02": (0.0, 0.0),
        "P3-R02-C03": (100.0, 0.0),
        "P3-R03-C01": (0.0, -100.0),
    }


def test_windows_cut_a_shell_into_passes_that_do_not_share_a_tube() -> None:
    pattern = Pattern(kind="triangular", turn="upright", pitch_mm=70.0)

    def cut(pass_: int, window: Window | None) -> set[tuple[float, float]]:
        tubes = tubes_on_pattern(
            pattern, pass_=pass_, od_mm=50.8, shell_diameter_mm=1200.0, window=window
        )
        assert {tube.pass_ for tube in tubes} == {pass_}
        return {(tube.x_mm, tube.y_mm) for tube in tubes}

    lower, upper = cut(2, Window(top_mm=-1.0)), cut(3, Window(bottom_mm=1.0))
    assert lower
    assert not lower & upper
    assert {y for _, y in cut(2, None) - lower - upper} == {0.0}
    right = cut(2, Window(left_mm=0.0, right_mm=140.0))
    assert {x for x, _ in right} <= {0.0, 35.0, 70.0, 105.0, 140.0}


def test_a_pattern_that_cannot_be_drilled_is_refused_with_every_reason() -> None:
    pattern = Pattern(kind="square", turn="upright", pitch_mm=float("nan"))
    with pytest.raises(Faults, match="pitch is nan") as refused:
        tubes_on_pattern(pattern, pass_=2, od_mm=-1.0, shell_diameter_mm=0.0, rim_margin_mm=-2.0)
    assert len(refused.value.faults) == 4


def test_a_pitch_not_above_the_tube_is_refused() -> None:
    pattern = Pattern(kind="square", turn="upright", pitch_mm=50.8)
    with pytest.raises(Faults, match=r"pitch is 50\.8 mm, but must be above the tube diameter"):
        tubes_on_pattern(pattern, pass_=2, od_mm=50.8, shell_diameter_mm=1000.0)


def test_a_pitch_in_the_wrong_unit_is_refused_before_a_million_tubes() -> None:
    pattern = Pattern(kind="square", turn="upright", pitch_mm=2.75)
    with pytest.raises(ModelError, match="more than 20000 tubes in this shell; check the units"):
        tubes_on_pattern(pattern, pass_=2, od_mm=2.0, shell_diameter_mm=1800.0)


def test_a_tube_wider_than_the_shell_gives_no_tubes() -> None:
    pattern = Pattern(kind="square", turn="upright", pitch_mm=90.0)
    assert tubes_on_pattern(pattern, pass_=2, od_mm=80.0, shell_diameter_mm=70.0) == ()
