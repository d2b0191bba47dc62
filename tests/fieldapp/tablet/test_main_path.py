"""The way from the list of boilers to marked tubes, with fingers on a real window."""

import os
import time
from dataclasses import replace

import pytest

from fieldapp.drawing.looks import look_of
from fieldapp.drawing.marks import TubeLook
from fieldapp.view.check_tube import mirror_image
from model.condition.tubes import WallConcerns, tube_conditions
from model.record.words import State
from model.store.edits.boilers import create_boiler
from model.store.loading import load_boiler
from model.store.opening import open_store
from tests.fieldapp.view.bench import CARRIED, Bench, document, small_tubes
from tests.tablet_bench import AppBench, step, surroundings


@pytest.fixture
def open_app(window, signs):
    """``open_app(data)``: the app on a database; closed after the test."""
    running = []

    def start(data, **more):
        running.append(AppBench(window, data, signs=signs, **more))
        return running[-1]

    yield start
    for bench in running:
        bench.close()


@pytest.fixture
def data(tmp_path):
    """A database with an open inspection and states carried from last year."""
    bench = Bench(tmp_path, carried=CARRIED)
    bench.store.close()
    return bench.path


@pytest.fixture
def on_map(open_app, data):
    """The app on the map of the front smokebox, large enough to mark."""
    app = open_app(data)
    walk_to_map(app)
    app.press("sound")
    return app


def walk_to_map(app, face="front smokebox", name="Ada"):
    app.press("LB-7")
    app.press("Go on with the inspection of 2026-11-25")
    for _ in range(3):
        app.press("I have read this")
    app.press(name)
    app.press(face)
    pass_check(app)


def pass_check(app):
    wanted = app.top._face.index_of(app.top._asked.end.hole)
    app.top.map.zoom_to(wanted)
    app.settle()
    app.tap_tube(wanted)
    assert app.name == "map"
    app.top.map.zoom_to(0)
    app.settle()


def fold(data):
    """Every tube as the journal alone says, by hole."""
    with open_store(data, surroundings(seed=99), read_only=True) as store:
        boiler = load_boiler(store, next(iter(_ids(store))))
        inspection = boiler.inspections[-1]
        return {each.hole: each for each in tube_conditions(boiler, inspection, WallConcerns())}


def _ids(store):
    from model.store.queries import list_boiler_ids

    return list_boiler_ids(store)


def assert_map_agrees(app, data):
    """What the map shows, and what its meshes hold, is what the journal says."""
    conditions = fold(data)
    sheet = app.top.map
    for end in sheet.face_map.ends:
        look = look_of(conditions[end.hole], end.end)
        assert sheet.look_of(end.index) == look, end.key
        assert drawn_coords(sheet, end.index) == pytest.approx(sheet._atlas.coords(look))


def drawn_coords(sheet, index):
    """Left, bottom, right and top of the picture that a tube's quad shows."""
    floats = sheet._tubes._chunks[index // 256][0]
    at = (index % 256) * 16
    return floats[at + 2], floats[at + 3], floats[at + 6], floats[at + 11]


def test_an_empty_database_offers_the_demo_boiler_as_invented(open_app, tmp_path):
    app = open_app(tmp_path / "new.db")
    demo = app.shown_keys()["Show the demo boiler"]
    assert "invented" in demo.under
    assert app.shown_keys()["New boiler from rows"]


def test_a_new_inspection_is_opened_as_it_was_chosen(open_app, tmp_path):
    around = surroundings()
    tubes = small_tubes()
    with open_store(tmp_path / "b.db", around) as store:
        boiler = create_boiler(store, document(tubes), tubes, "Ada")
    app = open_app(tmp_path / "b.db", around=around)
    app.press("LB-7")
    app.press("Start an inspection")
    headings = []
    for _ in range(3):
        headings.append(app.shell.title.removesuffix(" - Tubewright"))
        app.press("I have read this")
    assert headings == [
        f"{each}: read before you begin" for each in ("Entry", "Pressure", "Decision")
    ]
    assert app.shown_keys()["Go on"].disabled
    line = next(each for each in app.top.walk() if type(each).__name__ == "TypedLine")
    line.text = "Cyd Example"
    app.settle()
    app.press("Go on")
    app.press("some passes")
    app.press("Begin")
    assert "passes" in app.shell.said
    app.press("pass 2")
    app.top.list.scroll_y = 0.0
    app.settle()
    rear = [key for key in app._keys() if key.words == "rear smokebox"]
    assert [key.chosen for key in rear] == [True, False]
    rear[0].trigger_action(0)
    app.settle()
    app.press("Begin")
    assert app.name == "face"
    with open_store(tmp_path / "b.db", around, read_only=True) as store:
        facts = load_boiler(store, boiler).inspections[-1].facts
        rear_ends = [
            each.ends_found["rear"].reason
            for each in tube_conditions(
                load_boiler(store, boiler),
                load_boiler(store, boiler).inspections[-1],
                WallConcerns(),
            )
            if each.tube.pass_ == 3
        ]
    assert (facts.scope, facts.passes) == ("passes", {2})
    assert facts.opened == ("front", "turnaround")
    assert rear_ends == ["no-entry"] * 4


def test_cautions_come_before_a_resumed_inspection_too(open_app, data):
    app = open_app(data)
    app.press("LB-7")
    app.press("Go on with the inspection of 2026-11-25")
    assert app.shown_keys()["I have read this"]


def test_twenty_tubes_a_leak_and_its_place_and_an_undo_are_what_the_journal_says(on_map, data):
    app = on_map
    ends = len(app.top.map.face_map.ends)
    marked = 0
    for index in range(ends):
        app.top.map.zoom_to(index)
        app.settle()
        app.tap_tube(index)
        marked += 1
    app.press("thinned")
    for index in range(6):
        app.top.map.zoom_to(index)
        app.settle()
        app.tap_tube(index)
        marked += 1
    assert marked == 20
    assert_map_agrees(app, data)
    app.press("leaking")
    app.tap_tube(5)
    assert app.top.line.words.endswith("Where does it leak?")
    assert {"joint", "bore", "ligament", "not found"} <= set(app.shown_keys())
    app.press("joint")
    assert app.top.map.look_of(5).joint_leak
    assert "leaking at the joint" in app.shown_keys()["Undo"].under
    assert_map_agrees(app, data)
    app.press("Undo")
    assert not app.top.map.look_of(5).joint_leak
    assert app.top.map.look_of(5).state == State.LEAKING
    assert app.top.line.words.startswith("Taken back")
    app.press("Redo")
    assert app.top.map.look_of(5).joint_leak
    assert_map_agrees(app, data)


def test_a_drag_along_a_row_marks_the_row_and_leaves_no_ring(on_map, data):
    app = on_map
    row = app.top.map.face_map.row_of(0)
    app.drag(*(app.tube_at(index) for index in row))
    app.settle()
    assert {app.top.map.look_of(index).state for index in row} == {State.SOUND}
    assert app.top.map._preview == ()
    assert_map_agrees(app, data)


def test_a_tap_where_tubes_are_small_zooms_and_marks_nothing(on_map, data):
    app = on_map
    app.top.map.fit()
    app.settle()
    if app.top.map.may_mark:
        app.services.change_settings(gloves=True)
        app.settle()
        app.top.map.fit()
        app.settle()
    assert not app.top.map.may_mark
    assert app.top.line.words == "Come nearer to mark: tap zooms in."
    saved = app.services.shown.outcome.saved
    app.tap_tube(3)
    assert app.top.map.may_mark
    assert app.top.line.words == "Tap or drag: sound."
    assert app.services.shown.outcome.saved == saved


def test_a_carried_plug_is_confirmed_by_one_tap(on_map, data):
    app = on_map
    index = _index(app, "P2-R02-C02")
    assert app.top.map.look_of(index).carried
    app.press("confirm")
    app.tap_tube(index)
    look = app.top.map.look_of(index)
    assert (look.state, look.carried) == (State.PLUGGED, False)
    assert_map_agrees(app, data)


def test_the_leak_is_asked_about_away_from_the_state_keys_which_go_on_working(on_map, data):
    app = on_map
    app.press("leaking")
    before = {words: key.pos for words, key in app.top.state_keys.keys.items()}
    app.tap_tube(0)
    assert {words: key.pos for words, key in app.top.state_keys.keys.items()} == before
    strip = app.top.area.strip
    assert set(strip.keys) == {"joint", "bore", "ligament", "not found"}
    assert app.top.map.collide_widget(strip)
    app.press("sound")
    assert strip.parent is None
    assert app.top.map.look_of(0) == TubeLook(state=State.LEAKING)
    app.tap_tube(0)  # the same tube is sound now
    assert app.top.map.look_of(0).state == State.SOUND
    assert_map_agrees(app, data)


def test_the_strip_never_hides_the_tube_it_asks_about_and_is_put_away_by_its_head(on_map):
    app = on_map
    for index in range(len(app.top.map.face_map.ends)):
        app.press("sound")  # what is asked of the tube before is put away
        app.press("leaking")
        app.top.map.zoom_to(index)
        app.settle()
        viewport = app.top.map.viewport
        app.top.map.viewport = replace(
            viewport,
            centre_y_mm=viewport.centre_y_mm + (-1) ** index * 0.3 * viewport.shown.height_mm,
        )
        app.settle()
        app.tap_tube(index)
        strip = app.top.area.strip
        assert strip.parent is not None
        assert not strip.collide_point(*app.tube_at(index))
    head = strip.children[-1]
    app.touch(*head.center)
    app.settle()
    assert strip.parent is None
    assert app.top.map.look_of(index) == TubeLook(state=State.LEAKING)


@pytest.mark.parametrize(("key", "tube"), [("plugged", "P2-R01-C01"), ("confirm", "P2-R02-C02")])
def test_a_bad_plug_is_recorded_by_one_touch_more(on_map, data, key, tube):
    app = on_map
    app.press(key)
    index = _index(app, tube)
    app.top.map.zoom_to(index)
    app.settle()
    app.tap_tube(index)
    assert "plugged" in app.top.line.words
    app.press("weeping")
    assert app.top.map.look_of(index).plug_bad
    assert "weeping" in app.top.line.words
    end = app.top.map.face_map.ends[index]
    assert fold(data)[end.hole].ends_found[end.end].plug.condition == "weeping"
    assert_map_agrees(app, data)


def test_a_tap_between_two_tubes_says_so_and_marks_nothing(on_map):
    app = on_map
    (x0, y0), (x1, y1) = app.tube_at(0), app.tube_at(1)
    app.touch((x0 + x1) / 2, (y0 + y1) / 2)
    app.settle()
    assert app.top.line.words == "Between two tubes: touch nearer."
    assert app.services.shown.outcome.saved == 0


def test_not_inspected_asks_why_before_anything_is_marked(on_map, data):
    app = on_map
    app.press("not inspected")
    assert app.top.line.words == "Why not inspected?"
    app.press("refractory")
    app.tap_tube(0)
    conditions = fold(data)
    end = app.top.map.face_map.ends[0]
    assert conditions[end.hole].ends_found[end.end].reason == "refractory"
    assert app.top.map.look_of(0) == TubeLook(state=None, reason=True)
    assert app.top.map.look_of(1) == TubeLook(state=None)


def test_filling_the_rest_asks_with_counts_and_can_be_refused(on_map, data):
    app = on_map
    app.tap_tube(0)
    app.press("fill the rest")
    app.press("all of this face")
    app.press("sound")
    assert app.shell.question.words.startswith("Fill in 11 ends as sound?")
    app.press("Do not")
    assert app.services.shown.outcome.tally.scope.filled == 0
    app.press("fill the rest")
    app.press("pass 2 row 1")
    app.press("sound")
    app.press("Fill in")
    assert app.services.shown.outcome.tally.scope.filled == 2
    assert_map_agrees(app, data)


def test_the_bar_tells_saved_coverage_and_plugged(on_map):
    app = on_map
    app.tap_tube(0)
    assert app.top.leave_key.words == "1 of 14 ends here"
    assert app.top.leave_key.under.replace("\u00a0", " ").startswith(
        "1 record saved · all ends 3.6 %"
    )
    assert "plugged 7.1 %" in app.top.leave_key.under.replace("\u00a0", " ")


def test_two_people_disagree_and_the_map_shows_it(on_map, data):
    app = on_map
    app.tap_tube(0)
    app.press("Ada")
    app.press("A new name")
    line = next(each for each in app.top.walk() if type(each).__name__ == "TypedLine")
    line.text = "Ben"
    app.press("Go on")
    assert app.name == "map"
    assert app.top.who_key.words == "Ben"
    app.press("split")
    app.tap_tube(0)
    assert app.top.map.look_of(0).disputed
    assert "1\u00a0dispute" in app.top.leave_key.under
    assert_map_agrees(app, data)
    app.press("Ben")
    assert app.top.who_key.words == "Ben"  # asked first, never toggled
    assert {"Ada", "Ben", "A new name", "Go on as before"} <= set(app.shown_keys())
    app.press("Ada")
    assert app.top.who_key.words == "Ada"
    assert "sound" in app.shown_keys()["Undo"].under


@pytest.mark.parametrize(
    ("wrong", "said"),
    [("mirror", "mirror image"), ("row", "one row"), ("other", "look again which face")],
)
def test_a_wrong_check_tube_says_what_is_wrong(open_app, data, wrong, said):
    app = open_app(data)
    app.press("LB-7")
    app.press("Go on with the inspection of 2026-11-25")
    for _ in range(3):
        app.press("I have read this")
    app.press("Ada")
    app.press("front smokebox")
    face, asked = app.top._face, app.top._asked.end
    mirror = mirror_image(face, asked)
    near = [
        each
        for each in face.ends
        if each.pass_number == asked.pass_number
        and abs(each.row - asked.row) == 1
        and abs(each.x_mm - asked.x_mm) <= face.pitch_mm
    ]
    other = next(
        each
        for each in face.ends
        if each.pass_number != asked.pass_number and each.hole != mirror.hole
    )
    tapped = {"mirror": mirror, "row": near[0], "other": other}[wrong]
    app.top.map.zoom_to(tapped.index)
    app.settle()
    app.tap_tube(tapped.index)
    assert said in app.shell.question.words
    assert "moved afterwards" in app.shell.question.words or wrong == "other"
    app.press("Touch again")
    assert app.name == "check"
    pass_check(app)


def test_a_killed_app_opens_on_the_same_face_at_the_same_place(open_app, data):
    first = open_app(data)
    walk_to_map(first)
    first.press("thinned")
    first.top.map.zoom_to(5)
    first.settle()
    first.tap_tube(5)
    first.app.on_pause()
    first.settle()
    where = first.top.map.viewport
    second = open_app(data)  # the first was never ended
    assert second.name == "map"
    assert second.services.shown.face == "front"
    now = second.top.map.viewport
    assert (now.centre_x_mm, now.centre_y_mm, now.px_per_mm) == pytest.approx(
        (where.centre_x_mm, where.centre_y_mm, where.px_per_mm)
    )
    assert second.top.state.key == "thinned"
    assert second.top.map.look_of(5).state == State.THINNED
    assert "thinned" in second.shown_keys()["Undo"].under


def test_a_key_is_armed_after_a_restart_only_where_it_was_chosen(open_app, data):
    first = open_app(data)
    walk_to_map(first)
    first.press("thinned")
    first.services.go("face")
    first.settle()
    first.app.on_pause()
    first.settle()
    second = open_app(data)
    assert second.name == "map"
    assert second.top.state.key is None
    first.services.back()
    first.settle()
    assert first.top.state.key == "thinned"  # nothing is forgotten while the app runs


def test_going_back_from_the_map_and_on_again_asks_nothing(on_map):
    app = on_map
    where = app.top.map.viewport
    app.shell.go_back_or_ask()
    app.settle()
    assert app.name == "boiler"
    assert app.services.place.inspection is None
    app.press("Go on with the inspection of 2026-11-25")
    assert app.name == "map"
    now = app.top.map.viewport
    assert (now.centre_x_mm, now.px_per_mm) == pytest.approx((where.centre_x_mm, where.px_per_mm))
    app.app.on_pause()
    assert app.services.place.inspection is not None


def test_an_app_killed_on_the_boilers_page_opens_there(open_app, data):
    first = open_app(data)
    first.press("LB-7")
    second = open_app(data)
    assert second.name == "boiler"
    second.press("Back")
    assert open_app(data).name == "boilers"


def test_a_finger_held_on_a_tube_opens_its_card(on_map):
    from kivy.tests.common import UnitTestTouch

    app = on_map
    finger = UnitTestTouch(*app.tube_at(3))
    finger.touch_down()
    until = time.monotonic() + 10.0
    while app.name == "map" and time.monotonic() < until:
        time.sleep(0.05)
        step()
    finger.touch_up()
    app.settle()
    assert app.name == "card"
    assert app.shell.path[-1][1]["hole"] == app.services.shown.face_map("front").ends[3].hole
    app.press("Back")
    assert app.top.map.look_of(3).state is None


def test_a_place_in_another_database_opens_the_list(open_app, data, tmp_path):
    first = open_app(data)
    walk_to_map(first)
    first.app.on_pause()
    first.settle()
    for name in os.listdir(tmp_path):
        if name.startswith("boilers.db"):
            os.rename(tmp_path / name, tmp_path / f"old-{name}")
    second = open_app(data)
    assert second.name == "boilers"
    assert second.shell.question is None


def test_a_database_of_another_kind_is_refused_in_a_sentence(open_app, tmp_path):
    (tmp_path / "x.db").write_text("nothing of ours" * 100, encoding="utf-8")
    app = open_app(tmp_path / "x.db", start=False)
    app.app.on_start()
    until = time.monotonic() + 20.0
    while app.shell.question is None and time.monotonic() < until:
        time.sleep(0.005)
        step()
    assert "x.db" in app.shell.question.words


def test_the_other_orientation_keeps_what_was_chosen(on_map):
    app = on_map
    app.press("plugged")
    before = app.top
    app.shell.size = (600, 1000)
    app.settle()
    assert app.top is not before
    assert app.top.state.key == "plugged"
    assert app.top.map.look_of(0) == before.map.look_of(0)


def test_closing_the_inspection_goes_back_to_the_boiler(on_map, data):
    app = on_map
    app.press("More")
    app.press("Close the inspection")
    app.press("Close it")
    assert app.name == "boiler"
    with open_store(data, surroundings(seed=7), read_only=True) as store:
        boiler = load_boiler(store, _ids(store)[0])
        assert boiler.inspections[-1].facts.is_closed


def _index(app, key):
    return next(end.index for end in app.top.map.face_map.ends if end.key == key)
