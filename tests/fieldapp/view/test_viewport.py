"""Where a place of the sheet is on the screen and back, zoom limits, and when a touch may mark."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.view.viewport import (
    Bounds,
    MarkingGate,
    Viewport,
    ZoomLimits,
    fit_viewport,
    zoom_limits,
)

SHEET = Bounds(left_mm=-1000.0, bottom_mm=-800.0, right_mm=1000.0, top_mm=800.0)
LIMITS = ZoomLimits(smallest_px_per_mm=0.1, largest_px_per_mm=10.0)
places = st.floats(-3000.0, 3000.0)
pixels = st.floats(-500.0, 2500.0)
viewports = st.builds(
    Viewport,
    centre_x_mm=places,
    centre_y_mm=places,
    px_per_mm=st.floats(0.1, 10.0),
    width_px=st.floats(1.0, 3000.0),
    height_px=st.floats(1.0, 3000.0),
)


def test_the_middle_of_the_screen_shows_the_centre_and_y_goes_up():
    view = Viewport(centre_x_mm=10.0, centre_y_mm=20.0, px_per_mm=2.0, width_px=400, height_px=300)
    assert view.to_screen(10.0, 20.0) == (200.0, 150.0)
    assert view.to_screen(11.0, 23.0) == (202.0, 156.0)
    assert view.shown == Bounds(left_mm=-90.0, bottom_mm=-55.0, right_mm=110.0, top_mm=95.0)


@given(viewports, places, places)
def test_there_and_back_is_the_same_place(view, x, y):
    back = view.to_sheet(*view.to_screen(x, y))
    assert back == pytest.approx((x, y), abs=1e-6)


@given(viewports, st.floats(0.1, 10.0), pixels, pixels)
def test_zooming_keeps_the_place_under_the_fingers(view, factor, x, y):
    zoomed = view.zoomed(factor, x, y, LIMITS)
    assert zoomed.to_screen(*view.to_sheet(x, y)) == pytest.approx((x, y), abs=1e-4)
    assert LIMITS.smallest_px_per_mm <= zoomed.px_per_mm <= LIMITS.largest_px_per_mm


@given(viewports, pixels, pixels, pixels, pixels)
def test_panning_moves_the_sheet_with_the_finger(view, x, y, dx, dy):
    place = view.to_sheet(x, y)
    assert view.panned(dx, dy).to_screen(*place) == pytest.approx((x + dx, y + dy), abs=1e-4)


@given(viewports)
def test_a_clamped_view_has_the_sheet_in_the_middle_of_the_screen(view):
    kept = view.kept_on(SHEET)
    assert SHEET.contains(*kept.to_sheet(kept.width_px / 2, kept.height_px / 2))
    assert kept.kept_on(SHEET) == kept


def test_fitting_shows_the_whole_sheet_inside_the_margin():
    view = fit_viewport(SHEET, 1280, 800, margin_px=50)
    left, bottom = view.to_screen(SHEET.left_mm, SHEET.bottom_mm)
    right, top = view.to_screen(SHEET.right_mm, SHEET.top_mm)
    assert (bottom, top) == pytest.approx((50.0, 750.0))
    assert left >= 50.0
    assert right <= 1230.0
    assert left + right == pytest.approx(1280.0)


def test_a_window_without_a_size_yet_is_no_error():
    view = fit_viewport(SHEET, 0, 0, margin_px=50)
    assert math.isfinite(view.px_per_mm)
    assert view.px_per_mm > 0.0
    assert view.resized(0, 0).width_px == 1.0


def test_turning_the_tablet_keeps_the_middle():
    view = Viewport(centre_x_mm=3.0, centre_y_mm=4.0, px_per_mm=2.0, width_px=1280, height_px=800)
    turned = view.resized(800, 1280)
    assert turned.to_screen(3.0, 4.0) == (400.0, 640.0)
    assert turned.px_per_mm == 2.0


def test_the_pitch_on_the_screen_is_what_a_ruler_on_the_glass_measures():
    view = Viewport(centre_x_mm=0, centre_y_mm=0, px_per_mm=0.8, width_px=1280, height_px=800)
    # 75 mm at 0.8 px/mm are 60 px; 160 dots per inch are 6.299 px to the millimetre.
    assert view.pitch_on_screen_mm(75.0, 160 / 25.4) == pytest.approx(60 / 6.2992, rel=1e-4)


@pytest.mark.parametrize("least_mm", [9.0, 15.0])
def test_the_zoom_of_a_tap_brings_the_touched_place_to_the_middle_and_allows_marking(least_mm):
    fitted = fit_viewport(SHEET, 1280, 800)
    limits = zoom_limits(fitted, 70.0, 6.3)
    place = fitted.to_sheet(900.0, 500.0)
    near = fitted.zoomed_for_marking(
        900.0, 500.0, pitch_mm=70.0, least_mm=least_mm, screen_px_per_mm=6.3, limits=limits
    )
    assert near.to_screen(*place) == pytest.approx((640.0, 400.0))
    assert MarkingGate(least_mm=least_mm).at(near.pitch_on_screen_mm(70.0, 6.3)).is_open


def test_the_gate_opens_a_little_above_the_least_pitch_and_closes_below_it():
    gate = MarkingGate(least_mm=9.0)
    opened = [(gate := gate.at(pitch)).is_open for pitch in (8.9, 9.2, 9.5, 9.2, 9.0, 8.99, 9.2)]
    assert opened == [False, False, True, True, True, False, False]


@given(st.lists(st.floats(0.0, 60.0), min_size=1))
def test_no_touch_marks_below_the_least_pitch_whatever_came_before(pitches):
    gate = MarkingGate(least_mm=9.0)
    for pitch in pitches:
        gate = gate.at(pitch)
        assert pitch >= 9.0 or not gate.is_open


def test_the_zoom_ends_at_a_pitch_of_40_mm_on_the_glass_and_a_little_below_the_fit():
    fitted = fit_viewport(SHEET, 1280, 800)
    limits = zoom_limits(fitted, 70.0, 6.3)
    near = fitted.zoomed(1e6, 0.0, 0.0, limits)
    assert near.pitch_on_screen_mm(70.0, 6.3) == pytest.approx(40.0)
    assert limits.smallest_px_per_mm == pytest.approx(0.7 * fitted.px_per_mm)
