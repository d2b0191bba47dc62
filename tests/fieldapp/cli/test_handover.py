"""``handover write`` and ``read``."""

import pytest
from PIL import Image


@pytest.fixture
def recorded(inspection, done, write, folder):
    write("o.csv", "tube,state", "P2-R01-C01,split")
    done("observe B-1 o.csv")
    Image.new("RGB", (60, 40), "gray").save(folder / "p.jpg")
    done("photo add B-1 p.jpg --about P2-R01-C01")
    (folder / "office").mkdir()


def office(words):
    return {"words": words, "data": "office/b.db"}


def test_a_boiler_goes_from_one_database_to_a_new_one(recorded, done, tubewright):
    written = done("handover write B-1 out.zip")
    assert (written["photos"], written["left_out"], written["photos_awaited"]) == (1, [], 0)
    read = done(**office("handover read out.zip"))
    assert (read["tags"], read["records_added"]) == (["B-1"], written["records"])
    assert (read["photos_added"], read["gaps"], read["forks"]) == (1, [], [])
    assert done("boiler list") == done(**office("boiler list"))
    assert done(**office("check"))["problems"] == []
    again = tubewright("handover read out.zip", data="office/b.db")
    records = written["records"]
    assert again.out == f"B-1: 0 records and 0 photos added, {records} records there already.\n"
    assert again.err == ""


def test_a_missing_earlier_file_is_said(recorded, done, tubewright, write):
    done("handover write B-1 first.zip")
    write("o.csv", "tube,state", "P2-R01-C02,plugged")
    added = done("observe B-1 o.csv")["added"]
    second = done("handover write B-1 second.zip --since first.zip")
    assert added < second["records"] < done("handover write B-1 all.zip")["records"]
    said = tubewright("handover read second.zip", data="office/b.db")
    assert said.code == 0
    assert said.err.startswith("Note: Records are missing: 1 to ")
    assert "An earlier hand-over file has not been read" in said.err
    assert tubewright("handover read first.zip", data="office/b.db").err == ""


def test_a_refused_file_makes_no_database(recorded, refused, folder):
    (folder / "bad.zip").write_bytes(b"PK\x03\x04 not a zip")
    (sentence,) = refused(**office("handover read bad.zip"))
    assert "bad.zip is not a sound hand-over file" in sentence
    (sentence,) = refused(**office("handover read gone.zip"))
    assert sentence == "There is no hand-over file at gone.zip; check the path."
    assert list((folder / "office").iterdir()) == []


def test_nothing_is_written_over_and_an_unknown_tag_is_refused(recorded, done, refused):
    done("handover write B-1 out.zip")
    (sentence,) = refused("handover write B-1 out.zip")
    assert sentence == "out.zip already exists; give the hand-over another name."
    (sentence,) = refused("handover write B-9 other.zip")
    assert sentence.startswith("There is no boiler with the tag or id B-9")
    (sentence,) = refused("handover write B-1 other.zip --since gone.zip")
    assert sentence == "There is no hand-over file at gone.zip; check the path."


def test_awaited_photos_and_forks_are_said(recorded, done, tubewright, folder):
    (picture,) = (folder / "photos").glob("*/*.jpg")
    picture.unlink()
    said = tubewright("handover write B-1 out.zip")
    assert "Note: 1 photo named by records could not go along: not in this database." in said.err
    said = tubewright("handover read out.zip", data="office/b.db")
    assert said.err == "Note: 1 photo named by records awaited.\n"
