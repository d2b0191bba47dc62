"""The map on a real window: its pixels, and what fingers do to it."""

from dataclasses import replace
from functools import cache

import pytest
from kivy.tests.common import UnitTestTouch
from PIL import ImageChops, ImageStat

from fieldapp.drawing.marks import TubeLook, mark
from fieldapp.drawing.palette import DARK, LIGHT
from fieldapp.drawing.pixels import PILLOW_FONT, render_shapes
from fieldapp.tablet.sheet_map import SheetMap
from fieldapp.view.face_map import build_face_map
from fieldapp.view.gestures import DragCancel, DragEnd, LongPress, Tap
from model.record.words import State
from tests.drawn_sheets import ALL_LOOKS, face, facts, grid
from tests.fieldapp.tablet.conftest import HEIGHT, WIDTH

MAP = build_face_map(
    grid(8, 9, pitch_mm=80.0), face(), facts(shell_mm=1000.0, furnaces=((0, -420, 120),))
)
LOOKS = [ALL_LOOKS[index % len(ALL_LOOKS)] for index in range(len(MAP.ends))]
SOUND, SPLIT = TubeLook(state=State.SOUND), TubeLook(state=State.SPLIT)


class Hand:
    """A clock that only the test moves."""

    def __init__(self):
        self.now = 100.0

    def __call__(self):
        return self.now


@pytest.fixture(scope="session")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("sprites")


@pytest.fixture
def clock():
    return Hand()


@pytest.fixture
def sheet(stage, folder, clock, frames):
    """The map, fitted, with every look and label; ``told`` gathers its gestures."""
    widget = SheetMap(cache=folder, now=clock)
    widget.told = []
    widget.bind(on_gesture=lambda _widget, gesture: widget.told.append(gesture))
    widget.show(MAP, LOOKS)
    stage(widget)
    frames(15)  # a block of labels comes with each
    return widget


def spot(sheet, index):
    end = MAP.ends[index]
    return sheet.to_map(end.x_mm, end.y_mm)


def part(image, x, y, reach):
    """A square of the window around a place given with y upwards."""
    return image.crop((x - reach, HEIGHT - y - reach, x + reach, HEIGHT - y + reach))


def difference(one, other):
    """Mean difference of two pictures of one size, 0 to 255."""
    return sum(ImageStat.Stat(ImageChops.difference(one, other)).mean) / 3


@cache
def expected(look, radius_px, reach, theme=LIGHT):
    size = (2 * reach, 2 * reach)
    drawn = render_shapes(
        mark(look, radius_px, theme),
        size=size,
        scale=1.0,
        fonts=PILLOW_FONT,
        origin=(reach, reach),
        ground=theme.plate,
    )
    return drawn.convert("RGB")


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_every_look_is_drawn_where_its_tube_is(sheet, pixels, theme):
    sheet.theme = theme
    sheet.zoom_to(40)
    image, scale = pixels(), sheet.viewport.px_per_mm
    wrong = []
    for index, look in enumerate(LOOKS):
        radius = round(MAP.ends[index].radius_mm * scale, 6)
        reach = round(0.9 * radius)
        x, y = (round(place) for place in spot(sheet, index))
        seen = part(image, x, y, reach)
        others = {each: difference(seen, expected(each, radius, reach, theme)) for each in LOOKS}
        if others[look] > 18 or others[look] > min(others.values()) + 2.0:
            wrong.append((index, look, others[look], min(others.values())))
    assert wrong == []


def test_another_look_changes_the_pixels_of_its_tube_and_no_others(sheet, pixels):
    sheet.set_looks(dict.fromkeys(range(len(MAP.ends)), SOUND))
    before = pixels()
    sheet.set_look(31, SPLIT)
    after = pixels()
    x, y = (round(place) for place in spot(sheet, 31))
    changed = ImageChops.difference(before, after).getbbox()
    reach = 1.5 * MAP.ends[31].radius_mm * sheet.viewport.px_per_mm + 2
    assert changed is not None
    assert changed[0] >= x - reach
    assert changed[2] <= x + reach
    assert changed[1] >= HEIGHT - y - reach
    assert changed[3] <= HEIGHT - y + reach
    sheet.set_look(31, SOUND)
    assert ImageChops.difference(before, pixels()).getbbox() is None


def test_a_preview_and_a_highlight_ring_their_tubes_and_go_again(sheet, pixels):
    before = pixels()
    sheet.set_preview((10, 11))
    ringed = pixels()
    reach = 12
    for index, is_ringed in ((10, True), (11, True), (12, False)):
        place = [round(each) for each in spot(sheet, index)]
        ring = 1.26 * MAP.ends[index].radius_mm * sheet.viewport.px_per_mm
        args = (place[0], round(place[1] - ring), 3)
        assert (difference(part(before, *args), part(ringed, *args)) > reach) is is_ringed
    sheet.set_preview(())
    sheet.set_highlight(20)
    assert difference(before, pixels()) > 0
    sheet.set_highlight(None)
    assert ImageChops.difference(before, pixels()).getbbox() is None


def test_the_furnace_the_rim_and_the_plate_are_to_be_seen(sheet, pixels):
    image = pixels()
    rim = [round(place) for place in sheet.to_map(0.0, 500.0)]
    plate = [round(place) for place in sheet.to_map(0.0, 440.0)]
    furnace = [round(place) for place in sheet.to_map(-50.0, -420.0)]
    colours = [
        "#{:02x}{:02x}{:02x}".format(*image.getpixel((x, HEIGHT - 1 - y)))
        for x, y in (rim, plate, furnace)
    ]
    assert colours == [LIGHT.ink, LIGHT.plate, LIGHT.ground]


def test_a_finger_pans_the_picture_with_it(sheet, pixels, finger):
    sheet.zoom_to(31)
    before = pixels()
    x, y = sheet.to_map(MAP.ends[31].x_mm + 40.0, MAP.ends[31].y_mm + 40.0)
    finger(x, y).down().move(x + 60, y + 20).move(x + 100, y + 40).up()
    after = pixels()
    middle = (200, 200, 700, 600)
    moved = after.crop((300, 160, 800, 560))
    assert difference(moved, before.crop(middle)) < 3.0
    assert difference(after.crop(middle), before.crop(middle)) > 10.0
    assert sheet.told == []


def test_two_fingers_pinch_and_the_place_between_them_stays(sheet, finger):
    sheet.zoom_to(31)
    before = sheet.viewport
    x, y = spot(sheet, 31)
    one, other = finger(x - 50, y).down(), finger(x + 50, y).down()
    one.move(x - 75, y)
    other.move(x + 75, y)
    one.up()
    other.up()
    assert sheet.viewport.px_per_mm == pytest.approx(1.5 * before.px_per_mm, rel=0.01)
    assert spot(sheet, 31) == pytest.approx((x, y), abs=1.0)
    assert sheet.told == []


def test_a_second_finger_takes_a_row_drag_back(sheet, finger):
    sheet.zoom_to(31)
    x, y = spot(sheet, 30)
    one = finger(x, y).down().move(x + 90, y)
    other = finger(x, y - 200).down()
    other.move(x, y - 260)
    one.move(x + 200, y).up()
    other.up()
    assert [type(each.gesture) for each in sheet.told][-1] is DragCancel
    assert DragEnd not in [type(each.gesture) for each in sheet.told]


def test_a_drag_along_a_row_tells_the_tubes_in_order(sheet, finger):
    sheet.zoom_to(31)
    (x, y), (end_x, _) = spot(sheet, 30), spot(sheet, 32)
    finger(x, y).down().move(x + 40, y + 5).move(end_x, y + 20).up()
    assert isinstance(sheet.told[-1].gesture, DragEnd)
    assert sheet.told[-1].row == (30, 31, 32)


def test_a_tap_on_the_whole_sheet_zooms_in_and_the_next_is_told(sheet, finger):
    assert not sheet.may_mark
    finger(*spot(sheet, 40)).down().up()
    assert sheet.may_mark
    assert sheet.told == []
    assert spot(sheet, 40) == pytest.approx((WIDTH / 2, HEIGHT / 2), abs=1.0)
    finger(*spot(sheet, 40)).down().up()
    assert [(type(each.gesture), each.index) for each in sheet.told] == [(Tap, 40)]


def test_a_finger_held_half_a_second_is_a_long_press(sheet, finger, clock, frames):
    sheet.zoom_to(31)
    held = finger(*spot(sheet, 31)).down()
    for _ in range(6):
        clock.now += 0.09
        frames(1)
    assert [(type(each.gesture), each.index) for each in sheet.told] == [(LongPress, 31)]
    held.up()
    assert len(sheet.told) == 1


def test_a_tap_during_a_stalled_frame_is_a_tap(sheet, finger, clock):
    sheet.zoom_to(31)
    pressed = finger(*spot(sheet, 31)).down()
    clock.now += 3.0
    pressed.up()
    assert [type(each.gesture) for each in sheet.told] == [Tap]


def test_the_wheel_zooms_about_the_mouse(sheet, window):
    before = sheet.viewport
    place = sheet.to_map(100.0, 100.0)
    turned = UnitTestTouch(*place)
    turned.profile = ["pos", "button"]
    turned.button = "scrolldown"
    turned.touch_down()
    turned.touch_up()
    assert sheet.viewport.px_per_mm == pytest.approx(1.15 * before.px_per_mm)
    assert sheet.to_map(100.0, 100.0) == pytest.approx(place, abs=1.0)
    assert sheet.told == []


def test_touches_beside_the_map_are_not_taken(stage, folder, finger, clock):
    widget = SheetMap(cache=folder, now=clock)
    widget.show(MAP, LOOKS)
    stage(widget, pos=(300, 200), size=(400, 400))
    before = widget.viewport
    finger(100, 100).down().move(250, 150).up()
    assert widget.viewport == before
    finger(500, 400).down().move(520, 450).up()
    assert widget.viewport != before


def test_nothing_is_drawn_outside_the_map(stage, folder, pixels, clock):
    widget = SheetMap(cache=folder, now=clock)
    widget.show(MAP, LOOKS)
    stage(widget, pos=(300, 200), size=(400, 400))
    widget.zoom_to(31)
    image = pixels()
    outside = image.copy()
    outside.paste((0, 0, 0), (300, HEIGHT - 600, 700, HEIGHT - 200))
    assert outside.getbbox() is None
    assert image.getbbox() == (300, HEIGHT - 600, 700, HEIGHT - 200)


def test_place_and_zoom_are_told_once_a_frame_and_can_be_set_again(sheet, frames, finger):
    told = []
    sheet.bind(on_viewport=lambda _widget, viewport: told.append(viewport))
    frames(2)
    told.clear()
    sheet.zoom_to(31)
    sheet.fit()
    sheet.zoom_to(12)
    frames(2)
    assert told == [sheet.viewport]
    kept = told[0]
    sheet.fit()
    sheet.viewport = kept
    assert sheet.viewport == kept


def test_labels_and_rulers_are_written_where_the_zoom_allows(sheet, pixels, frames):
    sheet.set_looks(dict.fromkeys(range(len(MAP.ends)), TubeLook(state=None)))
    frames(5)
    assert sheet._labels.level == "column"
    assert [entry.words for entry in sheet._rulers.entries[0]] == ["pass 2", *"12345678"]
    sheet.zoom_to(31)
    sheet.viewport = replace(sheet.viewport, px_per_mm=1.4 * sheet.viewport.px_per_mm)
    frames(20)
    assert sheet._labels.level == "full"
    scale = sheet.viewport.px_per_mm
    x, y = spot(sheet, 31)
    above = round(y + 1.25 * MAP.ends[31].radius_mm * scale)
    seen = part(pixels(), round(x), above, 6)
    assert min(band[0] for band in seen.getextrema()) < 150  # ink on the light plate


def test_the_wrong_number_of_looks_is_refused(folder):
    with pytest.raises(ValueError, match="71 looks for 72 tube ends"):
        SheetMap(cache=folder).show(MAP, LOOKS[1:])
