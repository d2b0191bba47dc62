"""A new boiler from rows or a file, settings, calibration: on a real window."""

import pytest

from fieldapp.tablet.handing_over import file_name
from fieldapp.tablet.screens.calibrate import CARD_LONG_MM, CARD_SHORT_MM
from fieldapp.tablet.screens.choose_file import list_folder
from fieldapp.view.tablet_settings import load_settings
from model.store.loading import list_boilers, load_boiler
from model.store.opening import open_store
from tests.open_tablet import opened
from tests.tablet_bench import AppBench, surroundings

ROOM = (1100, 700)


@pytest.fixture
def app(window, tmp_path, signs):
    """On an empty database, without any inspection."""
    bench = AppBench(window, tmp_path / "new.db", size=ROOM, signs=signs)
    bench.services.system_px_per_mm = 5.0
    yield bench
    bench.close()


@pytest.fixture
def tablet(window, tmp_path, signs):
    with opened(window, tmp_path, signs, size=ROOM) as bench:
        bench.services.system_px_per_mm = 5.0
        yield bench.open_map()


def row_plan(app):
    app.services.go("row plan")
    app.settle()
    return app.top


def type_row(screen, place, **fields):
    for name, text in fields.items():
        screen._type_row(place, name, text)


def texts_of(widget):
    return " ".join(str(getattr(each, "text", "")) for each in widget.walk())


def test_rows_become_a_boiler_and_are_drawn_while_they_are_typed(app, tmp_path):
    screen = row_plan(app)
    screen.lines["tag"].line.text = "LB-9"
    screen.lines["by"].line.text = "Ada"
    screen.lines["shell_mm"].line.text = "1500"
    type_row(screen, 0, count="4", pitch_mm="70")
    screen._draw()
    assert screen.said.text.startswith("4 tubes (pass 2: 4).")
    empty = screen.picture._picture
    app.shown_keys()["Another row"].trigger_action(0)
    app.settle()
    type_row(screen, 1, pass_="3", count="5", offset_mm="10")
    screen._draw()
    assert screen.said.text.startswith("9 tubes (pass 2: 4, pass 3: 5).")
    assert screen.picture._picture != empty
    app.press("Make it")
    assert app.name == "boiler"
    with open_store(tmp_path / "new.db", surroundings(9), read_only=True) as store:
        (name,) = list_boilers(store)
        tubes = load_boiler(store, name.boiler).tubes
    assert name.tag == "LB-9"
    assert [(t.pass_, t.row, t.column) for t in tubes][:2] == [(2, 1, 1), (2, 1, 2)]
    assert len(tubes) == 9


def test_a_row_is_taken_away_again(app):
    screen = row_plan(app)
    type_row(screen, 0, count="4", pitch_mm="70")
    app.shown_keys()["Another row"].trigger_action(0)
    app.settle()
    screen._remove_row(0)
    app.settle()
    assert len(screen.rows) == len(screen.form.rows) == 1


@pytest.mark.parametrize(
    ("count", "said"), [("", "say how many"), ("0", "0"), ("many", "whole number"), ("-3", "-3")]
)
def test_what_is_wrong_with_a_row_is_said_under_the_drawing(app, count, said):
    screen = row_plan(app)
    screen.lines["tag"].line.text = "LB-9"
    type_row(screen, 0, count=count, pitch_mm="70")
    screen._draw()
    assert said in screen.said.text
    app.press("Make it")
    assert said in app.shell.question.words
    app.press("Understood")
    assert app.name == "row plan"


def test_a_hostile_tag_is_only_a_tag(app, tmp_path):
    screen = row_plan(app)
    tag = "[b]../LB[/b] <x> \u202e"
    screen.lines["tag"].line.text = tag
    screen.lines["by"].line.text = "Ada"
    type_row(screen, 0, count="3", pitch_mm="70")
    screen._draw()
    app.press("Make it")
    if app.shell.question is None:
        assert tag.strip() in texts_of(app.top)
    else:
        assert "tag" in app.shell.question.words


def test_a_layout_file_takes_the_place_of_rows(app, tmp_path):
    (tmp_path / "layout.csv").write_text(
        "tube,pass,row,column,x_mm,y_mm\nA,2,1,1,0,0\nB,2,1,2,80,0\n", encoding="utf-8"
    )
    screen = row_plan(app)
    screen.lines["tag"].line.text = "LB-9"
    screen.kept["folder"] = tmp_path
    app.shown_keys()["From a layout file"].trigger_action(0)
    app.settle()
    app.press("layout.csv")
    screen._draw()
    assert screen.said.text.startswith("2 tubes (pass 2: 2).")
    assert "2 tubes from the layout file" in texts_of(screen)
    app.shown_keys()["Type rows instead"].trigger_action(0)
    app.settle()
    assert screen.form.file_tubes is None


def test_a_faulty_layout_file_is_refused_whole_with_its_line(app, tmp_path):
    file = tmp_path / "layout.csv"
    file.write_text("tube,pass,row,column,x_mm,y_mm\nA,2,1,1,zero,0\n", encoding="utf-8")
    screen = row_plan(app)
    screen._take_layout(file)
    app.settle()
    assert "line 2" in app.shell.question.words
    assert screen.form.file_tubes is None


def test_settings_hold_at_once_and_are_kept(tablet):
    tablet.go("settings")
    tablet.press("gloves")
    assert tablet.services.settings.gloves
    tablet.press_deep("dark")
    assert tablet.top.kit.paint.theme.name == "dark"
    assert load_settings(tablet.services.places.settings).theme == "dark"
    tablet.press("Back")
    assert tablet.top.map.least_pitch_mm == 15.0


def test_the_voice_is_tried_when_it_is_switched_on(tablet):
    import dataclasses

    said = []

    class Voice:
        def say(self, words):
            said.append(words)

    tablet.services.ports = dataclasses.replace(tablet.services.ports, speech=Voice())
    tablet.go("settings")
    tablet.press_deep("read aloud")
    assert len(said) == 1
    tablet.press_deep("silent")
    tablet.services.read_aloud("nothing")
    assert len(said) == 1


def test_the_bar_is_dragged_to_the_length_of_the_card(tablet):
    tablet.go("calibrate")
    bar = tablet.top.bar
    assert bar.length_px == pytest.approx(CARD_LONG_MM * 5.0)
    x, y = bar.to_window(*bar.center)
    tablet.drag((x, y), (x + 30.0, y), (x + 60.0, y))
    tablet.settle()
    assert bar.length_px == pytest.approx(CARD_LONG_MM * 5.0 + 60.0)
    tablet.press("Keep")
    wanted = 5.0 + 60.0 / CARD_LONG_MM
    assert tablet.services.settings.px_per_mm == pytest.approx(wanted)
    assert tablet.services.kit.sizes.px_per_mm == pytest.approx(wanted)
    tablet.go("calibrate")
    tablet.press("As the system says")
    assert tablet.services.settings.px_per_mm is None


def test_going_back_from_the_calibration_changes_nothing(tablet):
    tablet.go("calibrate")
    tablet.top._dragged(600.0)
    tablet.press("Back")
    assert tablet.services.settings.px_per_mm is None


def test_the_short_side_gives_the_same_millimetre(tablet):
    tablet.go("calibrate")
    tablet.press("short side, 53.98 mm")
    assert tablet.top.bar.length_px == pytest.approx(CARD_SHORT_MM * 5.0)
    tablet.top._dragged(CARD_SHORT_MM * 6.0)
    assert tablet.top.px_per_mm == pytest.approx(6.0)


def test_a_bar_dragged_to_nothing_is_no_calibration(tablet):
    tablet.go("calibrate")
    tablet.top._dragged(1.0)
    assert tablet.top.px_per_mm == 1.5


def test_a_folder_that_cannot_be_opened_is_said(tmp_path):
    assert "cannot be opened" in list_folder(tmp_path / "gone", (".jpg",))[2]


@pytest.mark.parametrize(
    ("tag", "name"),
    [
        ("LB-7", "LB-7"),
        ("../../etc", "etc"),
        ("", "boiler"),
        ("CON:?*", "CON"),
        ("x" * 99, "x" * 40),
    ],
)
def test_a_tag_becomes_a_file_name_of_any_system(tag, name):
    assert file_name(tag) == name
