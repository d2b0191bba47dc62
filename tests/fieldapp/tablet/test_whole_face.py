"""A whole face marked tube by tube through the real event loop, then reported from its database."""

import json

from fieldapp.report.writing import write_report
from model.record.words import Scope
from model.store.edits.boilers import create_boiler
from model.store.edits.inspections import NewInspection, open_inspection
from model.store.opening import open_store
from model.tubesheet.row_plan import PlannedRow, tubes_from_rows
from tests.fieldapp.view.bench import document
from tests.tablet_bench import AppBench, surroundings

ROWS, ACROSS = 16, 16
PLUGGED = frozenset(range(0, ROWS * ACROSS, 40))
LEAKING = frozenset(range(7, ROWS * ACROSS, 50))
SOUND = frozenset(range(ROWS * ACROSS)) - PLUGGED - LEAKING


def test_a_face_of_256_ends_is_marked_and_reported(window, signs, tmp_path):
    data = tmp_path / "face.db"
    around = surroundings(seed=5)
    boiler, inspection = new_boiler(data, around)
    app = AppBench(window, data, around=around, signs=signs)
    try:
        walk_to_map(app)
        app.press("sound")
        for index in sorted(SOUND):
            mark(app, index)
        app.press("plugged")
        for index in sorted(PLUGGED):
            mark(app, index)
        app.press("leaking")
        for index in sorted(LEAKING):
            mark(app, index)
            app.settle()
            app.press("bore")
        app.settle()
        keys = [end.key for end in app.top.map.face_map.ends]
    finally:
        app.close()
    with open_store(data, around) as store:
        out = tmp_path / "report"
        write_report(store, boiler, inspection, out, ["json"], around.clock())
    condition = json.loads((out / "condition.json").read_text(encoding="utf-8"))
    states = {tube["tube"]: tube["ends"]["front"] for tube in condition["tubes"]}
    wanted = {keys[index]: "sound" for index in SOUND}
    wanted |= {keys[index]: "plugged" for index in PLUGGED}
    wanted |= {keys[index]: "leaking" for index in LEAKING}
    assert {key: end["state"] for key, end in states.items()} == wanted
    assert {states[keys[index]]["leak_at"] for index in LEAKING} == {"bore"}
    assert condition["coverage"]["seen"] == ROWS * ACROSS
    assert condition["totals"]["bad_now"] == len(LEAKING)


def new_boiler(data, around):
    rows = [
        PlannedRow(pass_=2, y_mm=450.0 - 60.0 * number, count=ACROSS, pitch_mm=60.0)
        for number in range(ROWS)
    ]
    with open_store(data, around) as store:
        tubes = tubes_from_rows(rows, od_mm=50.8)
        boiler = create_boiler(store, document(tubes), tubes, "Ada")
        today = NewInspection(date="2026-11-25", scope=Scope.FULL)
        return boiler, open_inspection(store, boiler, today, "Ada")


def walk_to_map(app):
    app.press("LB-7")
    app.press("Go on with the inspection of 2026-11-25")
    for _ in range(3):
        app.press("I have read this")
    app.press("Ada")
    app.press("front smokebox")
    asked = app.top._face.index_of(app.top._asked.end.hole)
    app.top.map.zoom_to(asked)
    app.settle()
    app.tap_tube(asked)
    assert app.name == "map"


def mark(app, index):
    """Bring a tube to the middle and touch it; the database thread may lag behind."""
    app.top.map.zoom_to(index)
    app.touch(*app.tube_at(index))
