"""Before you leave, limits, crew's list, caller, moving marks; held against the journal."""

import zipfile
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from fieldapp.drawing.looks import look_of
from fieldapp.report.numbers import build_numbers
from fieldapp.tablet.ports.ports import Ports
from fieldapp.tablet.widgets.limit_bar import LimitBar, StatusSign
from fieldapp.tablet.widgets.words import Words
from model.decision.limits import LimitStatus
from model.record.words import State
from model.store.edits.boilers import revise_boiler
from model.store.loading import load_boiler
from model.store.opening import open_store
from sync.handover.reading import verified_handover
from tests.fieldapp.view.bench import document, small_tubes
from tests.open_tablet import Journal, opened
from tests.tablet_bench import surroundings

ROOM = (1100, 700)


@pytest.fixture
def tablet(window, tmp_path, signs):
    with opened(window, tmp_path, signs, size=ROOM) as app:
        app.services.system_px_per_mm = 5.0
        yield app.open_map()


def mark(app, key, state, end="front"):
    from fieldapp.tablet.tube_end import end_ref
    from model.record.words import End

    ref = end_ref(app.services.shown, app.hole(key), End(end))
    app.services.do(lambda session: session.mark([ref], {"state": state}))
    app.settle()


def test_what_is_missing_is_listed_and_a_touch_goes_to_its_tube(tablet):
    tablet.go("leave")
    assert tablet.says("Still missing")
    words = next(each for each in tablet.shown_keys() if "front smokebox" in each)
    tablet.press_deep(words)
    tablet.press_deep("P2-R02-C03 front")
    assert tablet.name == "map"
    pointed = tablet.top._face.index_of(tablet.hole("P2-R02-C03"))
    assert tablet.top.map._highlight == pointed
    assert tablet.services.shown.highlight is None
    assert tablet.top.map.may_mark


def test_an_item_at_another_face_asks_for_the_check_tube_first(tablet):
    tablet.go("leave")
    tablet.press_deep(next(each for each in tablet.shown_keys() if "rear smokebox" in each))
    tablet.press_deep("P3-R01-C01 rear")
    assert tablet.name == "check"
    assert tablet.services.shown.face == "front"
    tablet.press("Skip")
    tablet.press("Go on without it")
    assert (tablet.name, tablet.services.shown.face) == ("map", "rear")
    pointed = tablet.top._face.index_of(tablet.hole("P3-R01-C01"))
    assert tablet.top.map._highlight == pointed


def test_the_lists_follow_what_is_marked(tablet):
    tablet.go("leave")
    before = next(each for each in tablet.shown_keys() if "front smokebox" in each)
    mark(tablet, "P2-R01-C01", "sound")
    after = next(each for each in tablet.shown_keys() if "front smokebox" in each)
    assert int(after.split()[0]) == int(before.split()[0]) - 1


def test_the_inspection_is_closed_only_when_asked_twice(tablet):
    tablet.go("leave")
    tablet.press("Close")
    assert "Missing:" in tablet.shell.question.words
    tablet.press("Not yet")
    assert not Journal(tablet).inspection.facts.is_closed
    tablet.press("Close")
    tablet.press("Close it")
    assert Journal(tablet).inspection.facts.is_closed


def test_the_hand_over_file_holds_what_was_marked(tablet, tmp_path):
    mark(tablet, "P2-R01-C01", "split")
    tablet.go("leave")
    tablet.press("Hand over")
    (file,) = (tablet.data.parent / "hand-over").iterdir()
    assert str(file) in tablet.shell.question.words
    assert file.name.startswith("LB-7-2026")
    with verified_handover(file, tmp_path) as staged:
        assert staged.count > 10
    with zipfile.ZipFile(file) as packed:
        records = next(name for name in packed.namelist() if name.endswith("records.ndjson"))
        assert b'"state":"split"' in packed.read(records)


def test_a_hand_over_that_cannot_be_written_is_said_and_the_app_goes_on(tablet):
    (tablet.data.parent / "hand-over").write_text("a file where the folder should be")
    tablet.go("leave")
    tablet.press("Hand over")
    assert "could not be made" in tablet.shell.question.words
    tablet.press("Understood")
    assert tablet.name == "leave"


def test_the_site_sheet_is_written_as_a_picture(tablet):
    tablet.go("leave")
    tablet.press("Site sheet")
    (folder,) = (tablet.data.parent / "site-sheets").iterdir()
    names = [each.name for each in folder.iterdir()]
    assert any(name.endswith(".png") for name in names)
    assert all(name in tablet.shell.question.words for name in names)


def pass_lines(tablet, pass_=2):
    return next(row for row in tablet.top.page.rows if row.result.pass_ == pass_).lines


def test_the_limits_are_one_touch_away_and_are_those_of_the_report(tablet):
    tablet.go("leave")
    tablet.press("Limits")
    assert tablet.name == "limits"
    with open_store(tablet.data, surroundings(seed=99), read_only=True) as store:
        boiler = load_boiler(store, tablet.opens[0])
    numbers = build_numbers(
        boiler, boiler.inspections[-1], printed_at=datetime.now(UTC), digest="0" * 64
    )
    assert tuple(row.result for row in tablet.top.page.rows) == numbers.limits
    assert tablet.says("1 of 10 tubes: at least 10.0 %")
    assert tablet.says("Act beyond 10 %: 1 more plugged tube of pass 2 takes it there.")
    assert tablet.says("none is a code rule")
    assert tablet.says("What it costs and which option follows: in the office.")
    assert tablet.says("Not an inspection certificate")
    signs = [each.status for each in tablet.top.walk() if isinstance(each, StatusSign)]
    assert sorted(signs) == sorted(row.status for row in tablet.top.page.rows)
    words = [each.text for each in tablet.top.walk() if isinstance(each, Words)]
    assert [word for word in words if word in tuple(LimitStatus)].count("watch") == signs.count(
        LimitStatus.WATCH
    )
    tablet.press("Back")
    assert tablet.name == "leave"


def test_the_limits_stand_in_the_menu_of_the_map_and_are_new_at_every_opening(tablet):
    tablet.press("More")
    tablet.press("Limits")
    assert "1 more plugged tube" in pass_lines(tablet)[-1]
    tablet.press("Back")
    mark(tablet, "P2-R01-C01", "plugged")
    tablet.press("More")
    tablet.press("Limits")
    assert pass_lines(tablet)[-1] == "Act beyond 10 %: 1 tube too many."
    bar = next(each for each in tablet.top.walk() if isinstance(each, LimitBar))
    assert bar.width > 0.5 * tablet.top.list.width


def test_an_open_page_of_limits_follows_what_is_marked(tablet):
    tablet.go("limits")
    mark(tablet, "P2-R01-C01", "plugged")
    assert tablet.says("2 of 10 tubes")


def test_limits_that_cannot_be_judged_are_refused_on_their_page(tablet):
    wrong = document(small_tubes())
    wrong = replace(wrong, body={**wrong.body, "shell": {"diameter_mm": 100}})
    tablet.services.ask_store(
        lambda store: revise_boiler(store, tablet.opens[0], "Ada", document=wrong),
        lambda _changed: None,
    )
    tablet.settle()
    tablet.go("limits")
    assert tablet.says("lies outside the shell")
    assert not tablet.says("Working it out")


def test_the_crew_list_says_what_to_do_in_chalk_order_as_seen(tablet):
    mark(tablet, "P2-R02-C01", "split")
    tablet.go("crew")
    assert tablet.says("front smokebox")
    assert tablet.says("Plug or replace is decided by the owner")
    assert tablet.says("row 2: 1 plug or replace, as decided; 3 look again; 2 confirm plug")
    assert tablet.says("never compressed air")


def test_a_called_line_is_shown_before_it_is_recorded_and_read_back(tablet):
    speech = FakeSpeech()
    tablet.services.ports = Ports(speech=speech)
    tablet.services.change_settings(speaks=True)
    screen = tablet.go("caller")
    screen.line.text = "1 1-2 plugged driven"
    tablet.settle()
    assert screen.reply.text.startswith("Pass 2, row 1, 2 tubes, 1, 2 from the left, columns ")
    assert Journal(tablet).end("P2-R01-C01").state is None
    screen.line.dispatch("on_text_validate")
    tablet.settle()
    for key in ("P2-R01-C01", "P2-R01-C02"):
        found = Journal(tablet).end(key)
        assert (found.state, found.plug.type) == (State.PLUGGED, "driven")
        index = screen._face.index_of(tablet.hole(key))
        assert screen.map.look_of(index) == look_of(Journal(tablet).tubes[key], "front")
    assert speech.said == [
        "Pass 2, row 1, 2 tubes, 1, 2 from the left, columns 1, 2 of the key: plugged, driven plug."
    ]
    assert screen.lines.text == speech.said[0]
    assert screen.line.text == ""
    tablet.press("Undo")
    assert Journal(tablet).end("P2-R01-C01").state is None


@pytest.mark.parametrize(
    "line", ["row", "99 1 plugged", "1 1 [b]gone[/b]", "\u202e", "1 1 sound \U0001f525", "x" * 500]
)
def test_a_line_that_means_nothing_is_told_why_and_records_nothing(tablet, line):
    before = Journal(tablet).tubes
    screen = tablet.go("caller")
    screen.line.text = line
    screen.line.dispatch("on_text_validate")
    tablet.settle()
    assert screen.reply.text
    assert screen.reply.color == list(screen.kit.paint.warning)
    assert Journal(tablet).tubes == before
    assert screen.line.text == line


def test_a_span_of_marks_is_previewed_and_moved_when_confirmed(tablet):
    mark(tablet, "P2-R01-C01", "split")
    screen = tablet.go("move")
    assert screen.move.disabled
    assert tablet.says("Say where to")
    screen._shift(mirrored=True)
    tablet.settle()
    assert screen.said.text == "Move 1 mark?"
    drawn = screen.picture._picture.words
    assert "front smokebox: as it would be" in drawn
    tablet.press("Move")
    tablet.press("Move them")
    last = max(t.column for t in tablet.services.shown.tubes if (t.pass_, t.row) == (2, 1))
    journal = Journal(tablet)
    assert journal.end("P2-R01-C01").state is None
    assert journal.end(f"P2-R01-C{last:02}").state is State.SPLIT
    assert tablet.name == "map"
    tablet.services.undo()
    tablet.settle()
    assert Journal(tablet).end("P2-R01-C01").state is State.SPLIT


def test_rows_narrow_the_span_and_what_leads_nowhere_is_refused(tablet):
    mark(tablet, "P2-R01-C01", "split")
    mark(tablet, "P2-R03-C01", "split")
    screen = tablet.go("move")
    screen.first.line.text = "3"
    screen._shift(rows=1)
    tablet.settle()
    assert screen.said.text.startswith("Nothing was moved: P2 row 3 column 1 would go to")
    assert screen.move.disabled
    screen._shift(rows=0, other_end=True)
    tablet.settle()
    assert screen.said.text == "Move 1 mark?"


class FakeSpeech:
    def __init__(self):
        self.said = []

    def say(self, words):
        self.said.append(words)
