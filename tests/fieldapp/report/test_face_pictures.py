"""The maps show what stands there now, as seen, and every bad tube can be told from a sound one."""

import xml.etree.ElementTree as ElementTree
from dataclasses import replace
from io import BytesIO
from itertools import combinations

import pytest
from PIL import Image, ImageChops, ImageStat

from fieldapp.drawing.looks import look_of, tube_look
from fieldapp.drawing.marks import EXTENT, TubeLook, mark
from fieldapp.drawing.palette import LIGHT, PRINT
from fieldapp.drawing.pixels import PILLOW_FONT, render_pixels
from fieldapp.drawing.primitives import Group, Picture
from fieldapp.errors import FieldAppError
from fieldapp.report.face_pictures import (
    build_face_picture,
    faces_of,
    legend_of,
    map_names,
    render_map_files,
    render_maps,
)
from model.record.words import End

FACES = ("front", "Chamber/1", "rear")


@pytest.fixture
def by_key(numbers):
    return {each.tube.key: each for each in numbers.tubes}


@pytest.fixture
def faces(numbers):
    return {face.key: face for face in faces_of(numbers)}


def groups(picture):
    return {each.tube: each for each in picture.primitives if isinstance(each, Group) and each.tube}


def words(picture):
    return " ".join(
        each.words for each in picture.primitives if not isinstance(each, Group) and has_words(each)
    )


def has_words(shape):
    return hasattr(shape, "words")


@pytest.mark.parametrize(
    ("what", "end", "expected"),
    [
        ("carried plug, not looked at", "front", {"state": "plugged", "carried": True}),
        ("carried plug, confirmed weeping", "front", {"state": "plugged", "plug_bad": True}),
        ("bore leak", "rear", {"state": "leaking"}),
        ("leak plugged the same day", "front", {"state": "plugged"}),
        ("joint leak", "front", {"state": "leaking", "joint_leak": True}),
        ("joint leak re-rolled the same day", "rear", {"state": None}),
        ("split", "rear", {"state": "split"}),
        ("thinned", "front", {"state": "thinned"}),
        ("below the retirement wall", "front", {"state": "sound", "finding": "act"}),
        ("said sound, measured thin", "front", {"state": "sound", "finding": "watch"}),
        ("finding to act on", "front", {"state": "sound", "finding": "act"}),
        ("finding to watch", "front", {"state": "sound", "finding": "watch"}),
        ("disputed", "front", {"state": "leaking", "joint_leak": True, "disputed": True}),
        ("settled", "front", {"state": "sound"}),
        ("replaced", "front", {"state": None, "replaced": True}),
        ("carried leak, a question", "rear", {"state": "leaking", "carried": True}),
        ("stay tube", "rear", {"state": "sound", "filled": True, "stay": True}),
        ("plugged stay tube, one end", "front", {"state": "plugged", "stay": True}),
        ("plugged stay tube, one end", "rear", {"state": "sound", "stay": True}),
    ],
)
def test_an_end_is_drawn_as_left(by_key, what_is_what, what, end, expected):
    assert look_of(by_key[what_is_what[what]], End(end)) == TubeLook(**expected)


def test_no_bad_tube_is_drawn_as_a_sound_one(by_key, bad_tubes):
    looks = {key: tube_look(by_key[key]) for key in bad_tubes}
    plain = {TubeLook(state=state) for state in ("sound", "thinned", "plugged", None)}
    assert [key for key, look in looks.items() if look in plain] == []


def test_a_face_shows_the_ends_of_its_passes_and_no_others(numbers, faces):
    shown = {key: set(groups(build_face_picture(numbers, face))) for key, face in faces.items()}
    keys = {each.tube.key for each in numbers.tubes}
    assert shown["front"] == keys
    assert shown["Chamber/1"] == {key for key in keys if key.startswith("P2")}
    assert shown["rear"] == {key for key in keys if key.startswith("P3")}


def test_a_mirrored_face_has_the_first_column_at_the_right(numbers, faces):
    front = groups(build_face_picture(numbers, faces["front"]))
    rear = groups(build_face_picture(numbers, faces["rear"]))
    assert front["P3-R01-C01"].dx < front["P3-R01-C08"].dx
    assert rear["P3-R01-C01"].dx > rear["P3-R01-C08"].dx
    assert front["P3-R01-C01"].dx == pytest.approx(rear["P3-R01-C08"].dx)


@pytest.mark.parametrize(
    ("face", "said"),
    [("front", "not mirrored, column 1 is at the left"), ("rear", "mirrored, column 1 is at the")],
)
def test_every_map_says_whether_it_is_mirrored(numbers, faces, face, said):
    assert said in words(build_face_picture(numbers, faces[face]))


def test_a_wet_backs_furnace_ends_at_the_front_and_in_the_chamber(numbers, faces):
    opens = {
        key: "furnace" in words(build_face_picture(numbers, faces[key])).split() for key in FACES
    }
    assert opens == {"front": True, "Chamber/1": True, "rear": False}


def test_a_dry_backs_furnace_ends_at_the_front_and_at_the_rear(numbers):
    dry = replace(numbers, facts=replace(numbers.facts, kind="dry-back"))
    opens = {
        face.key: "furnace" in words(build_face_picture(dry, face)).split()
        for face in faces_of(dry)
        if face.key != "Chamber/1"
    }
    assert opens == {"front": True, "rear": True}


def test_only_places_to_be_referred_are_circled_and_named_as_in_the_table(numbers, faces):
    named = [(f"K{n}", each) for n, each in enumerate(numbers.clusters, start=1)]
    refer = {(each.sheet, name) for name, each in named if each.status == "refer"}
    drawn = {
        (face.sheet, word)
        for face in faces.values()
        for word in words(build_face_picture(numbers, face)).split()
        if word in {name for name, _ in named}
    }
    assert refer
    assert drawn == refer


def test_the_legend_names_only_what_occurs_on_the_face(numbers, faces):
    said = {key: {entry.words for entry in legend_of(numbers, faces[key])} for key in FACES}
    assert "split" in said["Chamber/1"]
    assert "split" not in said["front"]
    assert "disputed, the worse counts" in said["front"]
    assert "disputed, the worse counts" not in said["rear"]


def test_a_tube_end_says_what_it_was_found_as_when_the_crew_changed_it(
    numbers, faces, what_is_what
):
    drawn = groups(build_face_picture(numbers, faces["front"]))
    title = drawn[what_is_what["leak plugged the same day"]].title
    assert title == ("P2-R02-C04, front end: plugged; found leaking, place not found, seen")


def test_a_boiler_without_faces_gets_the_usual_ones(numbers):
    bare = replace(numbers, facts=replace(numbers.facts, faces=()))
    assert [face.key for face in faces_of(bare)] == ["front", "turnaround", "rear"]
    assert len(groups(build_face_picture(bare, faces_of(bare)[1]))) == 32


def test_file_names_hold_nothing_but_letters_digits_and_hyphens(numbers):
    face = faces_of(numbers)[0]
    odd = ("../../etc/passwd", "A", "a", "\u202e", "")
    facts = replace(numbers.facts, faces=tuple(replace(face, key=key) for key in odd))
    assert list(map_names(replace(numbers, facts=facts)).values()) == [
        "map-etc-passwd",
        "map-a",
        "map-a-2",
        "map-face",
        "map-face-2",
    ]


def test_map_files_are_whole_pictures_and_the_same_at_every_run(numbers):
    files = render_map_files(numbers, ("svg", "png"))
    assert sorted(files) == sorted(
        f"{name}.{kind}"
        for kind in ("svg", "png")
        for name in ("map-front", "map-chamber-1", "map-rear", "side-view")
    )
    for name, content in files.items():
        if name.endswith(".svg"):
            assert ElementTree.fromstring(content).tag.endswith("svg")
        else:
            with Image.open(BytesIO(content)) as image:
                image.load()
                assert image.width > 1000
                assert len(image.getcolors(1_000_000)) > 20
    assert render_maps(numbers, "svg") == {n: b for n, b in files.items() if n.endswith("svg")}


def test_another_format_is_refused(numbers):
    with pytest.raises(FieldAppError, match=r"no gif file; choose svg or png"):
        render_maps(numbers, "gif")


@pytest.mark.parametrize("theme", [LIGHT, PRINT], ids=["colour", "grey"])
def test_all_looks_of_the_report_can_be_told_apart(numbers, theme):
    """In colour and printed in grey: at 4 mm radius each pair differs in many pixels."""
    looks = {look_of(each, end) for each in numbers.tubes for end in End}
    assert len(looks) > 15
    drawn = {look: picture_of(look, theme) for look in looks}
    alike = [
        (one, other)
        for one, other in combinations(looks, 2)
        if ImageStat.Stat(ImageChops.difference(drawn[one], drawn[other])).mean[0] < 1.0
    ]
    assert alike == []


def picture_of(look, theme):
    size = 2 * EXTENT * 4.0
    group = Group(children=tuple(mark(look, 4.0, theme)), dx=size / 2, dy=size / 2)
    picture = Picture(
        width_mm=size, height_mm=size, ground=theme.ground, words="", primitives=(group,)
    )
    return render_pixels(picture, dots_per_inch=200.0, fonts=PILLOW_FONT).convert("L")
