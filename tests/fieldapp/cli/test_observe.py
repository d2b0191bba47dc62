"""``observe``: rows of a spreadsheet become observations, readings and photos, each once."""

import pytest
from PIL import Image

from model.store.loading import find_boiler, load_boiler
from model.store.opening import open_store
from model.store.surroundings import real_surroundings


@pytest.fixture
def live(folder):
    """``live(kind)``: bodies and envelopes of the live records of a kind."""

    def look(kind):
        with open_store(folder / "b.db", real_surroundings()) as store:
            folded = load_boiler(store, find_boiler(store, "B-1").boiler)
        return [
            (folded.name_of(record.by), record.at, dict(record.body))
            for record in folded.live
            if record.kind == kind
        ]

    return look


def test_a_row_without_an_end_writes_two_observations(inspection, done, live, write):
    write("o.csv", "tube,state,how", "p2-r01-c01,sound,seen")
    assert done("observe B-1 o.csv")["added"] == 2
    found = live("observation")
    assert sorted(body["end"] for _, _, body in found) == ["front", "rear"]
    assert {body["tube"] for _, _, body in found} == {"P2-R01-C01"}
    assert {body["how"] for _, _, body in found} == {"seen"}


def test_everything_in_a_row_is_kept(inspection, done, live, write):
    write(
        "o.csv",
        "tube,end,state,leak_at,leak_at_mm,found_by,test_mpa,mechanism,side,grade,extent_mm,at_mm,"
        "clock,wall_in,method,instrument,accuracy_mm,purpose,note,inspector,observed_at",
        "P2-R01-C01,rear,leaking,bore,120,pressure-test,0.9,oxygen-pitting,water,act,8,150,5,0.075,"
        "ultrasonic,gauge 14,0.1,planned,wet,Tom Roe,2026-03-10T09:30:00+02:00",
        "P2-R01-C02,rear,plugged,,,,,,,,,,,,,,,,,,",
    )
    assert done("observe B-1 o.csv")["added"] == 3
    leak = next(each for each in live("observation") if each[2]["state"] == "leaking")
    name, at, body = leak
    assert (name, at) == ("Tom Roe", "2026-03-10T07:30:00.000Z")
    assert (body["leak_at"], body["leak_at_mm"], body["found_by"]) == ("bore", 120, "pressure-test")
    assert (body["test_mpa"], body["note"], body["plug"]) == (0.9, "wet", None)
    (finding,) = body["findings"]
    assert finding == {
        "mechanism": "oxygen-pitting",
        "side": "water",
        "at_mm": 150,
        "clock_h": 5,
        "extent_mm": 8,
        "thickness_mm": None,
        "grade": "act",
        "note": "",
    }
    ((_, at, reading),) = live("reading")
    assert at == "2026-03-10T07:30:00.000Z"
    assert reading["wall_mm"] == 1.905
    assert reading["entered"] == {"value": 0.075, "unit": "in"}
    assert (reading["method"], reading["instrument"], reading["accuracy_mm"]) == (
        "ultrasonic",
        "gauge 14",
        0.1,
    )
    assert (reading["purpose"], reading["confirmed"]) == ("planned", False)


def test_by_names_who_says_it_else_the_row_else_who_opened(inspection, done, live, write):
    write(
        "o.csv", "tube,end,state,inspector", "P2-R01-C01,front,sound,", "P2-R01-C01,rear,sound,Tom"
    )
    done("observe B-1 o.csv")
    assert {body["end"]: name for name, _, body in live("observation")} == {
        "front": "Ida Berg",
        "rear": "Tom",
    }
    write("p.csv", "tube,end,state,inspector", "P2-R01-C02,front,sound,Tom")
    done("observe B-1 p.csv --by Uma")
    assert "Uma" in {name for name, _, body in live("observation") if body["tube"] == "P2-R01-C02"}


def test_reading_a_file_twice_changes_nothing(inspection, done, write, folder):
    write(
        "o.csv",
        "tube,state,wall_mm,at_mm",
        "P2-R01-C01,sound,2.8,100",
        "P2-R01-C01,,2.8,100",
        "P2-R01-C02,split,,",
    )
    first = done("observe B-1 o.csv")
    assert (first["added"], first["skipped"]) == (6, 0)
    again = done("observe B-1 o.csv")
    assert (again["added"], again["skipped"]) == (0, 6)


def test_a_corrected_row_replaces_what_the_same_person_said(inspection, done, live, write):
    write("o.csv", "tube,end,state", "P2-R01-C01,front,leaking", "P2-R01-C02,front,sound")
    done("observe B-1 o.csv")
    write("o.csv", "tube,end,state", "P2-R01-C01,front,sound", "P2-R01-C02,front,sound")
    corrected = done("observe B-1 o.csv")
    assert (corrected["added"], corrected["skipped"]) == (1, 1)
    assert corrected["changed"] == [
        {"tube": "P2-R01-C01", "end": "front", "before": "leaking", "after": "sound"}
    ]
    assert done("disputes B-1")["disputes"] == []
    assert {body["state"] for _, _, body in live("observation")} == {"sound"}


def test_two_rows_of_one_end_both_stand_when_one_of_them_is_corrected(
    inspection, done, live, write
):
    head = "tube,end,state,mechanism,grade"
    write("o.csv", head, "P2-R01-C01,front,sound,scale,note", "P2-R01-C01,front,sound,pitting,act")
    done("observe B-1 o.csv")
    for order in (1, -1):
        rows = ["P2-R01-C01,front,sound,pitting,watch", "P2-R01-C01,front,sound,scale,note"]
        write("o.csv", head, *rows[::order])
        done("observe B-1 o.csv")
        findings = {
            (f["mechanism"], f["grade"]) for _, _, b in live("observation") for f in b["findings"]
        }
        assert findings == {("scale", "note"), ("pitting", "watch")}


def test_the_same_row_by_another_person_is_another_record(inspection, done, write):
    write("o.csv", "tube,end,state", "P2-R01-C01,front,sound")
    assert done("observe B-1 o.csv")["added"] == 1
    assert done("observe B-1 o.csv --by Tom")["added"] == 1


def test_a_wall_thicker_than_new_is_asked_about_and_kept_when_confirmed(
    inspection, done, refused, live, write
):
    # 1.3 times 2.9 mm is 3.77 mm.
    write(
        "o.csv",
        "tube,state,wall_mm",
        "P2-R01-C01,,3.77",
        "P2-R01-C02,,3.78",
        "P2-R01-C03,,2.2",
    )
    assert refused("observe B-1 o.csv") == [
        "line 3, wall_mm: 3.78 mm is more than 1.3 times the nominal wall of P2-R01-C02, 2.9 mm; "
        "correct it, or confirm it.",
        "o.csv was not taken in; what is asked above is kept as it stands with --confirm.",
    ]
    done("observe B-1 o.csv --confirm")
    assert {body["wall_mm"]: body["confirmed"] for _, _, body in live("reading")} == {
        3.77: False,
        3.78: True,
        2.2: False,
    }


def test_a_new_tube_may_be_thicker_than_the_old_one(inspection, done, write):
    write("w.csv", "tube,does,date,wall_mm", "P2-R01-C01,replace,2026-03-10,4.0")
    done("work B-1 w.csv")
    write("o.csv", "tube,state,wall_mm,purpose", "P2-R01-C01,,4.1,baseline")
    assert done("observe B-1 o.csv")["added"] == 1


def test_the_note_of_a_reading_without_a_state_stays_with_the_reading(
    inspection, done, write, live
):
    write("o.csv", "tube,state,wall_mm,note", "P2-R01-C01,,2.8,wet", "P2-R01-C02,sound,2.8,dry")
    done("observe B-1 o.csv")
    assert sorted(body["note"] for _, _, body in live("reading")) == ["", "wet"]
    assert {body["note"] for _, _, body in live("observation")} == {"dry"}


def test_photos_are_named_from_the_folder_of_the_file(inspection, done, refused, live, folder):
    inside = folder / "from tablet"
    inside.mkdir()
    Image.new("RGB", (40, 30), "gray").save(inside / "a.png")
    rows = "tube,end,state,note,photo\nP2-R01-C01,front,split,wide,a.png\n"
    (inside / "o.csv").write_text(rows, encoding="utf-8")
    assert done(["observe", "B-1", "from tablet/o.csv"])["added"] == 2
    ((_, _, photo),) = live("photo")
    assert (photo["about"]["what"], photo["about"]["end"]) == ("tube", "front")
    assert (photo["caption"], photo["media"]) == ("wide", "image/png")
    kept = folder / "photos" / photo["sha256"][:2] / f"{photo['sha256']}.png"
    assert kept.read_bytes() == (inside / "a.png").read_bytes()
    assert done(["observe", "B-1", "from tablet/o.csv"])["added"] == 0
    (inside / "a.png").write_bytes(b"no picture")
    assert refused(["observe", "B-1", "from tablet/o.csv"]) == [
        "line 2, photo: a.png is not a JPEG, PNG or WebP picture."
    ]


def test_a_workbook_is_read_like_a_csv_file(inspection, done, live, folder):
    openpyxl = pytest.importorskip("openpyxl", reason="openpyxl is missing: pip install openpyxl")
    book = openpyxl.Workbook()
    book.active.append(["tube", "end", "state", "wall_mm"])
    book.active.append(["P2-R01-C01", "rear", "thinned", 2.15])
    other = book.create_sheet("second")
    other.append(["tube", "state"])
    other.append(["P2-R01-C02", "sound"])
    book.save(folder / "o.xlsx")
    assert done("observe B-1 o.xlsx")["added"] == 2
    assert done("observe B-1 o.xlsx --sheet second")["added"] == 2
    ((_, _, reading),) = live("reading")
    assert reading["wall_mm"] == 2.15
