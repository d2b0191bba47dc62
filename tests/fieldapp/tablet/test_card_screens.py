"""The tube card and what is added from it, with fingers on a real window; held against the fold."""

import io

import pytest
from PIL import Image

from fieldapp.drawing.looks import look_of
from fieldapp.tablet.ports.ports import Ports
from model.record.words import State
from tests.open_tablet import Journal, opened

ROOM = (1000, 620)


@pytest.fixture
def tablet(window, tmp_path, signs):
    readings = (("P2-R01-C02", 2.4),)
    with opened(window, tmp_path, signs, size=ROOM, readings=readings) as app:
        app.services.system_px_per_mm = 5.0
        yield app.open_map()


def picture(colour="red", size=(64, 48), kind="JPEG"):
    file = io.BytesIO()
    Image.new("RGB", size, colour).save(file, kind)
    return file.getvalue()


def assert_shown_agrees(app):
    """What the screens show of every tube is what the journal says."""
    journal = Journal(app)
    for shown in app.services.shown.conditions.values():
        told = journal.tubes[shown.tube.key]
        for end in told.ends_found:
            assert look_of(shown, end) == look_of(told, end), shown.tube.key


def test_the_card_tells_both_ends_and_what_is_carried(tablet):
    tablet.at("card", "P2-R02-C02")
    assert tablet.says("front end: plugged, driven plug since 2025-11-20, not confirmed today")
    assert tablet.says("rear end: not inspected")
    assert tablet.says("None measured.")
    assert tablet.says("2025-11-20: front plugged, driven plug")


def test_the_state_of_the_end_that_is_chosen_is_changed(tablet):
    tablet.at("card", "P2-R01-C01")
    tablet.press("rear end: not inspected")
    tablet.press("State")
    tablet.press("split")
    assert Journal(tablet).end("P2-R01-C01", "rear").state is State.SPLIT
    assert Journal(tablet).end("P2-R01-C01", "front").state is None
    assert tablet.says("rear end: split, seen")
    assert_shown_agrees(tablet)


def test_a_leak_is_asked_where_and_can_be_taken_back(tablet):
    tablet.at("card", "P2-R01-C01")
    tablet.press("State")
    tablet.press("leaking")
    tablet.press("joint")
    found = Journal(tablet).end("P2-R01-C01")
    assert (found.state, found.leak_at) == (State.LEAKING, "joint")
    tablet.press("Undo")
    assert Journal(tablet).end("P2-R01-C01").state is None
    assert_shown_agrees(tablet)


def test_not_inspected_takes_its_reason(tablet):
    tablet.at("card", "P2-R01-C01")
    tablet.press("State")
    tablet.press("not inspected")
    tablet.press("retarder in place")
    assert Journal(tablet).end("P2-R01-C01").reason == "retarder-in-place"
    assert tablet.says("not inspected, retarder in place")


def test_what_is_carried_is_confirmed_from_the_card(tablet):
    tablet.at("card", "P2-R02-C02")
    tablet.press("State")
    tablet.press("still as last time")
    found = Journal(tablet).end("P2-R02-C02")
    assert (found.state, found.carried) == (State.PLUGGED, False)


def test_a_card_of_an_end_nobody_carried_offers_nothing_to_confirm(tablet):
    tablet.at("card", "P2-R01-C01")
    tablet.press("State")
    assert "still as last time" not in tablet.shown_keys()


def test_a_wall_shows_its_margin_while_it_is_typed_and_is_kept(tablet):
    tablet.at("card", "P2-R01-C02")
    tablet.press("Wall")
    assert tablet.says("Last time 2.40 mm, 2025-11-20.")
    for key in "1.7":
        tablet.press(key)
    assert tablet.says("1.7 mm (0.067 in)")
    assert tablet.says("0.10 mm below the retirement wall of 1.80 mm. 43 % lost.")
    assert tablet.top.margin.color == list(tablet.top.kit.paint.warning)
    tablet.press("Keep")
    assert tablet.name == "card"
    assert [body["wall_mm"] for body in Journal(tablet).readings] == [1.7]
    assert tablet.says("1.70 mm, front end, ultrasonic, planned")


def test_an_implausible_wall_is_asked_about_and_kept_on_request(tablet):
    tablet.at("reading", "P2-R01-C02")
    for key in "2.9":
        tablet.press(key)
    tablet.press("Keep")
    assert "0.50 mm more than on 2025-11-20" in tablet.shell.question.words
    assert not Journal(tablet).readings
    tablet.press("Keep it as it is")
    (body,) = Journal(tablet).readings
    assert (body["wall_mm"], body["confirmed"]) == (2.9, True)


def test_type_again_empties_the_display_and_keeps_nothing(tablet):
    tablet.at("reading", "P2-R01-C02")
    for key in "9":
        tablet.press(key)
    tablet.press("Keep")
    tablet.press("Type again")
    assert tablet.top.form.typed == ""
    assert not Journal(tablet).readings


@pytest.mark.parametrize(
    ("keys", "sentence"),
    [
        ("", "Type the wall first."),
        (".", "more than 0"),
        ("0", "more than 0"),
        ("99", "check the point and unit"),
    ],
)
def test_what_is_no_wall_is_not_kept_and_said(tablet, keys, sentence):
    tablet.at("reading", "P2-R01-C02")
    for key in keys:
        tablet.press(key)
    tablet.press("Keep")
    assert sentence in tablet.shell.said
    assert not Journal(tablet).readings


def test_everything_beside_the_wall_is_recorded_and_the_instrument_remembered(tablet):
    screen = tablet.at("reading", "P2-R01-C01", "rear")
    for key in ".1":
        tablet.press(key)
    tablet.press("mm")
    details = screen.details
    for words in ("suspect", "yes", "water side", "pit gauge", "cleaned"):
        tablet.press_deep(words)
    details = screen.details
    details.at.line.text = "12,5"
    details.instrument.line.text = "gauge 7"
    details.accuracy.line.text = "0.1"
    details.note.line.text = "at the bead"
    screen._change(clock_seen_h=2.0)
    tablet.press("Keep")
    (body,) = Journal(tablet).readings
    assert body["wall_mm"] == pytest.approx(2.54)
    assert body["entered"] == {"value": 0.1, "unit": "in"}
    assert (body["end"], body["purpose"], body["in_rolled_zone"]) == ("rear", "suspect", True)
    assert (body["side"], body["method"], body["surface"]) == ("water", "pit-gauge", "cleaned")
    assert (body["at_mm"], body["instrument"], body["accuracy_mm"]) == (12.5, "gauge 7", 0.1)
    assert (body["clock_h"], body["note"]) == (10.0, "at the bead")  # turned: stored from the front
    again = tablet.at("reading", "P2-R01-C03")
    assert (again.form.instrument, again.form.method, again.form.unit) == (
        "gauge 7",
        "pit-gauge",
        "in",
    )


def test_a_place_that_is_no_number_is_refused_with_what_was_typed(tablet):
    screen = tablet.at("reading", "P2-R01-C02")
    for key in "2.2":
        tablet.press(key)
    screen.details.at.line.text = "far [b]in"
    tablet.press("Keep")
    assert "far [b]in is no number" in tablet.shell.said
    assert not Journal(tablet).readings


def test_what_was_typed_lives_through_a_turn_of_the_tablet(tablet):
    tablet.at("reading", "P2-R01-C02")
    for key in "2.1":
        tablet.press(key)
    tablet.shell.size = (620, 1000)
    tablet.settle()
    assert tablet.top.is_wide is False
    assert tablet.says("2.1 mm")
    tablet.press("Keep")
    assert [body["wall_mm"] for body in Journal(tablet).readings] == [2.1]


def test_an_own_wall_is_taken_back_from_the_card(tablet):
    tablet.at("card", "P2-R01-C02")
    tablet.press("Wall")
    for key in "2.2":
        tablet.press(key)
    tablet.press("Keep")
    words = next(each for each in tablet.shown_keys() if each.startswith("2026-11-25: 2.20 mm"))
    tablet.press_deep(words)
    tablet.press("Take it back")
    assert not Journal(tablet).readings
    assert words not in tablet.shown_keys()


def test_the_hour_under_a_finger_is_chosen_and_taken_back_in_the_middle(tablet):
    screen = tablet.at("finding", "P2-R01-C01")
    screen.list.scroll_to(screen.clock, animate=False)
    tablet.settle()
    dial = screen.clock.dial
    x, y = dial.to_window(*dial.center)
    tablet.touch(x + 0.75 * dial.height / 2, y)
    tablet.settle()
    assert dial.hour == 3.0
    tablet.touch(x, y)
    tablet.settle()
    assert dial.hour is None


def test_a_finding_is_kept_with_its_grade_and_place(tablet):
    screen = tablet.at("finding", "P2-R01-C01", "rear")
    assert screen.keep.disabled
    tablet.press_deep("circumferential crack")
    assert screen.keep.under == "say its grade"
    tablet.press("act")
    tablet.press_deep("water side")
    screen.lines["extent_mm"].line.text = "14"
    screen.lines["note"].line.text = "hair line"
    screen._choose("clock", 4.0)
    tablet.press("Keep")
    (finding,) = Journal(tablet).end("P2-R01-C01", "rear").findings
    assert (finding.mechanism, finding.grade, finding.side) == (
        "circumferential-crack",
        "act",
        "water",
    )
    assert (finding.clock_h, finding.note) == (8.0, "hair line")
    assert_shown_agrees(tablet)


def test_an_own_finding_is_taken_back_from_the_card(tablet):
    tablet.at("card", "P2-R01-C01")
    tablet.press("Finding")
    tablet.press_deep("scale")
    tablet.press("note")
    tablet.press("Keep")
    tablet.press_deep("scale, note")
    tablet.press("Take it back")
    assert Journal(tablet).end("P2-R01-C01").findings == ()


def test_a_size_that_is_no_number_is_refused(tablet):
    screen = tablet.at("finding", "P2-R01-C01")
    tablet.press_deep("scale")
    tablet.press("note")
    screen.lines["thickness_mm"].line.text = "thick"
    tablet.press("Keep")
    assert "thick is no number" in tablet.shell.said
    assert Journal(tablet).end("P2-R01-C01").findings == ()


@pytest.mark.parametrize(("answer", "kept"), [("Keep", "half typed"), ("Do not", "")])
def test_going_back_from_a_note_half_typed_asks(tablet, answer, kept):
    tablet.at("card", "P2-R01-C01")
    screen = tablet.at("note", "P2-R01-C01")
    screen.text.text = "half typed"
    tablet.shell.go_back_or_ask()
    tablet.settle()
    assert tablet.shell.question.words == "Keep it?"
    tablet.press("Write on")
    assert tablet.top is screen
    tablet.shell.go_back_or_ask()
    tablet.settle()
    tablet.press(answer)
    assert tablet.name == "card"
    assert tablet.at("note", "P2-R01-C01").text.text == kept


def test_what_was_done_is_said_over_the_title_and_goes_with_its_screen(tablet):
    tablet.at("card", "P2-R01-C01")
    tablet.press_deep("State")
    tablet.press("split")
    tablet.settle()
    banner = tablet.shell._banner
    assert "split" in banner.words
    assert banner.undo is not None
    title, place = tablet.top.title_area
    assert (banner.x, banner.right) == (title.x, title.right)
    assert (banner.y, banner.top) == (place.y, place.top)
    keys = list(tablet.top.keys.values())
    assert keys
    assert not any(key.collide_widget(banner) for key in keys)
    assert tablet.top.lists.top <= banner.y
    tablet.services.back()
    tablet.settle()
    assert tablet.shell.said == ""
    tablet.at("card", "P2-R01-C01")
    tablet.press_deep("State")
    tablet.press("split")  # said already: nothing was recorded
    assert tablet.shell._banner.undo is None


@pytest.mark.parametrize(
    "note", ["soot [b]thick[/b] & <script>", "\u202eright to left", "x" * 1500, "line\nbreak"]
)
def test_a_note_is_kept_as_it_was_typed_and_shown(tablet, note):
    screen = tablet.at("note", "P2-R01-C01")
    screen.text.text = note
    tablet.press("Keep")
    tablet.at("card", "P2-R01-C01")
    assert tablet.says(note)
    assert tablet.at("note", "P2-R01-C01").text.text == note


def test_a_photo_from_the_camera_is_kept_and_its_first_copy_removed(tablet):
    camera = FakeCamera(picture())
    tablet.services.ports = Ports(camera=camera)
    screen = tablet.at("photo", "P2-R01-C01")
    screen.caption.line.text = "the bead"
    tablet.press("Take a photo")
    tablet.settle()
    assert tablet.name == "map"
    assert Journal(tablet).photos == [picture()]
    assert not camera.file.exists()
    tablet.at("card", "P2-R01-C01")
    (key,) = tablet.top.lists.photos
    assert key.words == "the bead"
    assert key._texture is not None
    key.on_release()
    tablet.settle()
    assert tablet.name == "one photo"
    tablet.press("Take back")
    tablet.press("Take it back")
    assert tablet.top.lists.photos == []


def test_a_camera_that_takes_nothing_says_what_else_can_be_done(tablet):
    tablet.services.ports = Ports(camera=FakeCamera(None))
    tablet.at("photo", "P2-R01-C01")
    tablet.press("Take a photo")
    tablet.settle()
    assert "choose an image file" in tablet.shell.said
    assert not Journal(tablet).photos


def test_without_a_camera_an_image_file_is_chosen_by_rows(tablet, tmp_path):
    folder = tmp_path / "pictures" / "outage"
    folder.mkdir(parents=True)
    (folder / "bead.PNG").write_bytes(picture(kind="PNG"))
    (folder / "notes.txt").write_text("no picture")
    screen = tablet.at("photo", "P2-R01-C01")
    assert screen.take.disabled
    screen.kept["folder"] = folder.parent
    tablet.press("Choose an image file")
    tablet.press("outage/")
    assert "notes.txt" not in tablet.shown_keys()
    tablet.press("bead.PNG")
    assert Journal(tablet).photos == [picture(kind="PNG")]


def test_a_file_that_is_no_picture_is_refused_in_one_sentence(tablet, tmp_path):
    (tmp_path / "fake.jpg").write_bytes(b"no picture at all")
    screen = tablet.at("photo", "P2-R01-C01")
    screen._picked(tmp_path / "fake.jpg")
    tablet.settle()
    assert "not a JPEG, PNG or WebP picture" in tablet.shell.question.words
    assert not Journal(tablet).photos


class FakeCamera:
    """Writes what it was given, or fails."""

    is_there = True

    def __init__(self, data):
        self._data = data
        self.file = None

    def take(self, file, taken, failed):
        self.file = file
        if self._data is None:
            failed("The camera could not be opened: choose an image file.")
        else:
            file.write_bytes(self._data)
            taken(file)
