"""Whatever fingers do on the map, the journal, the fold and what is drawn agree."""

import shutil
import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.drawing.looks import look_of
from fieldapp.view.resume import Place, write_place
from model.condition.tubes import WallConcerns, tube_conditions
from model.store.loading import load_boiler
from model.store.opening import open_store
from model.store.queries import each_line
from tests.fieldapp.view.bench import CARRIED, Bench
from tests.tablet_bench import AppBench, surroundings

ENDS = 14
tubes = st.integers(0, ENDS - 1)
gestures = st.one_of(
    st.tuples(
        st.just("key"),
        st.sampled_from(
            ["sound", "thinned", "leaking", "plugged", "split", "not inspected", "confirm"]
        ),
    ),
    st.tuples(st.just("tap"), tubes),
    st.tuples(st.just("drag"), tubes, tubes),
    st.tuples(st.just("cancelled drag"), tubes, tubes),
    st.tuples(st.just("pinch"), tubes),
    st.tuples(st.just("answer"), st.integers(0, 7)),
    st.tuples(st.just("Undo")),
    st.tuples(st.just("Redo")),
    st.tuples(st.just("who")),
    st.tuples(st.just("fill"), st.sampled_from(["sound", "thinned"])),
)
NO_ANSWERS = {"sound", "back"}


@pytest.fixture(scope="module")
def template():
    """A database whose inspection two people share, and the place of an app left on its map."""
    folder = Path(tempfile.mkdtemp())
    bench = Bench(folder, carried=CARRIED)
    person = bench.person("Ada")
    session = bench.session("Ben")
    session.mark([bench.ref("P2-R01-C01")], {"state": "thinned"})
    bench.store.close()
    place = Place(boiler=bench.boiler, inspection=bench.inspection, person=person, face="front")
    write_place(folder / "where-it-was.json", place)
    yield folder
    shutil.rmtree(folder)


@settings(max_examples=20)
@given(done=st.lists(gestures, max_size=14))
def test_any_gestures_leave_journal_fold_and_map_in_agreement(window, signs, template, done):
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        for file in template.iterdir():
            if file.is_file():
                shutil.copy(file, folder)
        data = folder / "boilers.db"
        app = AppBench(window, data, signs=signs)
        try:
            before = lines_of(data)
            for gesture in done:
                perform(app, gesture)
            after = lines_of(data)
            assert after[: len(before)] == before
            assert_agree(app, data)
        finally:
            app.close()


def perform(app, gesture):
    kind, *more = gesture
    sheet = app.top.map
    if kind == "key" and more[0] in app.shown_keys():
        app.press(more[0])
    elif kind == "tap":
        sheet.zoom_to(more[0])
        app.settle()
        app.tap_tube(more[0])
    elif kind == "drag":
        sheet.zoom_to(more[0])
        app.settle()
        app.drag(app.tube_at(more[0]), app.tube_at(more[1]))
        app.settle()
    elif kind == "cancelled drag":
        saved = app.services.shown.outcome.saved
        sheet.zoom_to(more[0])
        app.settle()
        two_fingers(app, app.tube_at(more[0]), app.tube_at(more[1]))
        assert app.services.shown.outcome.saved == saved
    elif kind == "pinch":
        two_fingers(app, app.tube_at(more[0]), None)
    elif kind == "answer" and app.top.state.question is not None:
        asked = app.top.area.strip if app.top.area.strip.parent else app.top.state_keys
        words = sorted(set(asked.keys) - NO_ANSWERS)
        app.press(words[more[0] % len(words)])
    elif kind in ("Undo", "Redo"):
        key = app.shown_keys()[kind]
        app.touch(*key.to_window(*key.center))
        app.settle()
    elif kind == "who":
        now = app.top.who_key.words
        app.press(now)
        app.press("Ben" if now == "Ada" else "Ada")
    elif kind == "fill" and "fill the rest" in app.shown_keys():
        app.press("fill the rest")
        app.press("pass 2 here")
        app.press(more[0])
        answers = app.shown_keys()
        app.press("Fill in" if "Fill in" in answers else "Understood")


def two_fingers(app, start, through):
    from kivy.tests.common import UnitTestTouch

    one = UnitTestTouch(*start)
    one.touch_down()
    if through is not None:
        one.touch_move(*through)
    other = UnitTestTouch(start[0] + 40, start[1] - 90)
    other.touch_down()
    other.touch_move(start[0] + 60, start[1] - 140)
    one.touch_up()
    other.touch_up()
    app.settle()


def lines_of(data):
    with open_store(data, surroundings(seed=98), read_only=True) as store:
        return list(each_line(store))


def assert_agree(app, data):
    with open_store(data, surroundings(seed=99), read_only=True) as store:
        (boiler,) = {app.services.shown.boiler}
        folded = load_boiler(store, boiler)
    expected = {
        each.hole: each for each in tube_conditions(folded, folded.inspections[-1], WallConcerns())
    }
    assert app.services.shown.conditions == expected
    sheet = app.top.map
    assert len(sheet.face_map.ends) == ENDS
    for end in sheet.face_map.ends:
        look = look_of(expected[end.hole], end.end)
        assert sheet.look_of(end.index) == look, end.key
        assert drawn_coords(sheet, end.index) == pytest.approx(sheet._atlas.coords(look))


def drawn_coords(sheet, index):
    """Left, bottom, right and top of the picture that a tube's quad shows."""
    floats = sheet._tubes._chunks[index // 256][0]
    at = (index % 256) * 16
    return floats[at + 2], floats[at + 3], floats[at + 6], floats[at + 11]
