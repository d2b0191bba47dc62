"""``part``, ``cause``, ``test`` and ``photo``."""

import pytest
from PIL import Image

from model.store.loading import find_boiler, load_boiler
from model.store.opening import open_store
from model.store.surroundings import real_surroundings


@pytest.fixture
def others(folder):
    """``others(kind)``: bodies of the latest inspection's records of a kind."""

    def look(kind):
        with open_store(folder / "b.db", real_surroundings()) as store:
            boiler = load_boiler(store, find_boiler(store, "B-1").boiler)
        records = [each for each in boiler.live if each.kind == kind]
        return [dict(each.body) for each in sorted(records, key=lambda each: each.seq)]

    return look


@pytest.fixture
def picture(folder):
    Image.new("RGB", (60, 40), "gray").save(folder / "p.jpg")
    return folder / "p.jpg"


def test_parts_are_kept_with_the_tubes_beside_them(inspection, done, refused, others, write):
    write(
        "part.csv",
        "part,tubes,sheet,where,mechanism,side,method,length_mm,grade,note",
        "ligament,P2-R01-C01 p2-r01-c02,turnaround,fire side,,fire,dye-penetrant,14,act,crack",
    )
    assert done("part B-1 part.csv")["added"] == 1
    assert done("part B-1 part.csv")["skipped"] == 1
    (part,) = others("part")
    assert (part["part"], part["grade"], part["length_mm"]) == ("ligament", "act", 14)
    assert len(part["where"]["holes"]) == 2
    assert (part["where"]["sheet"], part["where"]["text"]) == ("turnaround", "fire side")
    write("part.csv", "part,sheet", "ligament,middle")
    assert refused("part B-1 part.csv") == [
        "line 2, sheet: 'middle' is no tube sheet of the boiler."
    ]


def test_causes_may_be_given_after_closing(inspection, done, others, write):
    done("inspection close B-1")
    write("cause.csv", "group,side,evidence,suspected", "cracked beads,water,scale,feed water")
    assert done("cause B-1 cause.csv")["inspection"] == inspection
    (cause,) = others("cause")
    assert (cause["group"], cause["suspected"]) == ("cracked beads", "feed water")


def test_pressure_tests_are_kept_and_air_is_never_let_pass_without_a_word(
    inspection, tubewright, others, write
):
    head = "pressure_mpa,medium,started,held_minutes,end_pressure_mpa,leaks_seen,gauge"
    write("test.csv", head, "1.5,water,2026-03-10T15:00:00+01:00,30,1.49,no,gauge 3")
    assert tubewright("test B-1 test.csv").err == ""
    (run,) = others("test_run")
    assert (run["pressure_mpa"], run["held_minutes"], run["leaks_seen"]) == (1.5, 30, False)
    assert run["started"] == "2026-03-10T15:00:00+01:00"
    write("test.csv", "pressure_mpa,medium", "0.05,air")
    said = tubewright("test B-1 test.csv")
    assert said.code == 0
    assert "tested with air, which is recorded and never advised" in said.err


@pytest.mark.parametrize(
    ("about", "what", "key"),
    [
        ("P2-R01-C01 --end rear", "tube", None),
        ("face:front", "face", "front"),
        ("sheet:rear", "sheet", "rear"),
        ("data-plate", "data-plate", None),
        ("gauge", "gauge", None),
        ("boiler", "boiler", None),
    ],
)
def test_a_photo_says_what_it_is_about(inspection, picture, done, others, about, what, key):
    assert done(f"photo add B-1 p.jpg --about {about} --caption 'seen'")["added"] == 1
    (photo,) = others("photo")
    assert (photo["about"]["what"], photo["about"]["key"]) == (what, key)
    assert (photo["about"]["hole"] is not None) == (what == "tube")
    assert (photo["inspection"], photo["caption"]) == (inspection, "seen")


@pytest.mark.parametrize(
    ("about", "sentence"),
    [
        ("face:top", "--about: there is no face top; there are: front, turnaround, rear."),
        (
            "lid:top",
            "--about: lid:top is not known; write a tube's key, face:KEY, sheet:KEY, data-plate, "
            "gauge or boiler.",
        ),
        ("gauge --end rear", "--end goes with a tube, but the photo is about gauge."),
        (
            "P2-R01-C01 --end top",
            "--end: 'top' is not known; write one of: front, rear.",
        ),
    ],
)
def test_a_photo_about_nothing_known_is_refused(inspection, picture, refused, about, sentence):
    assert refused(f"photo add B-1 p.jpg --about {about}") == [sentence]


def test_an_unknown_tube_is_refused_with_those_near_it(inspection, picture, refused):
    (sentence,) = refused("photo add B-1 p.jpg --about P2-R01-C09")
    assert sentence.startswith("The tube 'P2-R01-C09' is not in the layout; near it: P2-R01-C0")


def test_a_photo_may_stand_outside_any_inspection(boiler, picture, done, others, refused):
    assert refused("photo add B-1 p.jpg") == ["Nobody is named: say who with --by NAME."]
    assert done("photo add B-1 p.jpg --by Ada")["inspection"] is None
    assert others("photo")[0]["inspection"] is None


def test_several_photos_are_added_or_none(inspection, picture, done, refused, folder):
    (folder / "bad.jpg").write_text("no picture", encoding="utf-8")
    assert refused("photo add B-1 p.jpg bad.jpg gone.jpg") == [
        "bad.jpg is not a JPEG, PNG or WebP picture.",
        "The file gone.jpg does not exist.",
    ]
    assert not (folder / "photos").exists()
