"""The plain tables: whole, readable by the intake again, and harmless in a spreadsheet.

Not here: the same facts as JSON (``test_condition_json``).
"""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.intake.layout_csv import read_layout
from fieldapp.report.csv_files import render_csv_files, safe_cell, table

FORMULAS = ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1", '=cmd|"/c calc"!A1']


@pytest.fixture(scope="module")
def files(numbers):
    return render_csv_files(numbers)


@pytest.fixture(scope="module")
def rows(files):
    def read(name):
        return list(csv.DictReader(io.StringIO(files[name].decode("utf-8"), newline="")))

    return read


@pytest.mark.parametrize("text", FORMULAS)
def test_text_that_a_spreadsheet_would_run_stands_behind_an_apostrophe(text):
    assert safe_cell(text) == f"'{text}"


@pytest.mark.parametrize("cell", [-1, -0.5, 3, None, "", "P2-R01", "a=b", "1-2"])
def test_numbers_and_harmless_text_are_as_they_are(cell):
    assert safe_cell(cell) == cell


@pytest.mark.parametrize(("cell", "word"), [(True, "yes"), (False, "no")])
def test_yes_and_no_are_words(cell, word):
    assert safe_cell(cell) == word


@given(st.lists(st.text(max_size=12), min_size=1, max_size=4))
def test_no_cell_begins_like_a_formula_whatever_the_text(cells):
    text = table(["a"] * len(cells), [cells]).decode("utf-8", "surrogatepass")
    (read,) = list(csv.reader(io.StringIO(text, newline="")))[1:] or [[""]]
    for before, after in zip(cells, read, strict=False):
        assert not after.startswith(("=", "+", "-", "@", "\t", "\r", "\n"))
        assert after in (before, f"'{before}")


def test_lines_end_as_the_standard_has_them_and_the_bytes_are_utf_8():
    assert table(["a", "b"], [["ä", 1.5], [None, True]]) == "a,b\r\nä,1.5\r\n,yes\r\n".encode()


def test_every_tube_end_and_reading_has_a_line(rows, numbers):
    assert [each["tube"] for each in rows("tubes.csv")] == [t.tube.key for t in numbers.tubes]
    assert len(rows("ends.csv")) == 2 * len(numbers.tubes)
    assert {(each["tube"], each["wall_mm"]) for each in rows("readings.csv")} == {
        ("P2-R04-C08", "2.2"), ("P3-R01-C01", "1.7"), ("P3-R01-C02", "2.3"),
    }  # fmt: skip


def test_a_tube_says_what_the_story_says(rows, what_is_what):
    by_key = {each["tube"]: each for each in rows("tubes.csv")}
    plugged = by_key[what_is_what["leak plugged the same day"]]
    assert (plugged["state_as_found"], plugged["state_as_left"]) == ("leaking", "plugged")
    thin = by_key[what_is_what["below the retirement wall"]]
    assert (thin["bad_now"], thin["why"]) == ("yes", "wall below the retirement wall")
    assert (thin["wall_mm"], thin["state_as_found"]) == ("1.7", "sound")
    new = by_key[what_is_what["replaced"]]
    assert (new["state_as_left"], new["tube_number"], new["since"]) == ("", "2", "2026-09-15")
    one_end = by_key[what_is_what["plugged stay tube, one end"]]
    assert (one_end["kind"], one_end["plugged_one_end"]) == ("stay", "yes")


def test_an_end_says_how_it_is_known_and_what_was_found_there(rows, what_is_what):
    ends = {(each["tube"], each["end"]): each for each in rows("ends.csv")}
    leak = ends[what_is_what["bore leak"], "rear"]
    assert (leak["how"], leak["leak_at"], leak["leak_at_mm"]) == ("seen", "bore", "3900.0")
    assert ends[what_is_what["finding to act on"], "front"]["findings"] == "bead-cracked (act)"
    carried = ends[what_is_what["carried plug, not looked at"], "front"]
    assert (carried["carried"], carried["how"], carried["since"]) == ("yes", "", "2018-05-02")
    assert ends["P3-R02-C01", "rear"]["reason"] == "not-cleaned"
    assert ends[what_is_what["settled"], "front"]["settled"] == "yes"


def test_the_layout_can_be_read_again_with_every_hole(files, numbers, tmp_path):
    path = tmp_path / "layout.csv"
    path.write_bytes(files["layout.csv"])
    again = read_layout(path).tubes
    assert {each.key: each.hole for each in again} == {
        each.tube.key: each.hole for each in numbers.tubes
    }
    assert set(again) == {each.tube for each in numbers.tubes}


def test_the_same_data_give_the_same_bytes(make_numbers, files):
    again, _ = make_numbers()
    assert render_csv_files(again) == files
