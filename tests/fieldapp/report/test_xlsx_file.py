"""The workbook: read by another library, numbers as numbers, no text ever a formula."""

import re
import sys
import zipfile
from dataclasses import replace
from io import BytesIO

import openpyxl
import pytest

from fieldapp.errors import FieldAppError
from fieldapp.report.csv_files import TUBE_COLUMNS, tube_rows
from fieldapp.report.xlsx_file import LONGEST_TEXT, render_xlsx
from fieldapp.report.xlsx_tables import build_sheets

SHEETS = ["tubes", "ends", "readings", "findings", "changes", "totals", "about", "cautions"]
FORMULAS = (
    '=HYPERLINK("http://evil.example","x")',
    "+1+1",
    "-1+1",
    "@SUM(A1)",
    "{=1+1}",
    "http://evil.example/a",
    "mailto:a@evil.example",
    "12",
)


def read(content):
    return openpyxl.load_workbook(BytesIO(content))


@pytest.fixture(scope="module")
def content(numbers):
    return render_xlsx(numbers)


@pytest.fixture(scope="module")
def book(content):
    return read(content)


def rows(sheet):
    head, *body = sheet.iter_rows(values_only=True)
    return [dict(zip(head, row, strict=True)) for row in body]


def test_it_has_its_sheets_in_order(book):
    assert book.sheetnames == SHEETS


def test_every_table_has_a_frozen_header_and_a_filter(book):
    for name in SHEETS[:-1]:
        sheet = book[name]
        assert sheet.freeze_panes == "B2"
        assert sheet.auto_filter.ref.startswith("A1:")
        assert all(cell.font.bold for cell in sheet[1])


def test_columns_are_wide_enough_for_keys_and_never_endless(book):
    assert book["tubes"].column_dimensions["A"].width >= len("P2-R01-C01")
    widths = [each.width for sheet in book for each in sheet.column_dimensions.values()]
    assert max(widths) <= 101


def test_units_stand_in_the_headers(book):
    heads = {cell.value for name in SHEETS[:-1] for cell in book[name][1]}
    assert {"wall_mm", "wall_loss_percent", "accuracy_mm", "extent_mm", "at_mm"} <= heads
    assert "plugged_percent" in heads


def test_the_tubes_are_those_of_the_csv_file(book, numbers):
    read_back = rows(book["tubes"])
    written = [dict(zip(TUBE_COLUMNS, row, strict=True)) for row in tube_rows(numbers)]
    assert [row["tube"] for row in read_back] == [row["tube"] for row in written]
    for one, other in zip(read_back, written, strict=True):
        assert one["wall_mm"] == other["wall_mm"]
        assert one["bad_now"] == ("yes" if other["bad_now"] else "no")
        assert one["state_as_left"] == other["state_as_left"]


def test_numbers_are_numbers(book):
    walls = [row["wall_mm"] for row in rows(book["readings"])]
    assert sorted(walls) == [1.7, 2.2, 2.3]
    totals = rows(book["totals"])
    assert {row["of"] for row in totals} == {"pass 2", "pass 3", "boiler"}
    assert all(isinstance(row["tubes"], int) for row in totals)


def test_findings_and_changes_are_there(book, what_is_what):
    assert [(row["tube"], row["grade"]) for row in rows(book["findings"])] == [
        (what_is_what["finding to act on"], "act"),
        (what_is_what["finding to watch"], "watch"),
    ]
    changed = {row["tube"] for row in rows(book["changes"])}
    assert what_is_what["leak plugged the same day"] in changed


def test_it_says_what_it_is_about(book, numbers):
    about = {row["what"]: row["value"] for row in rows(book["about"])}
    assert about["report number"] == numbers.report_number
    assert about["digest of its records (SHA-256)"] == numbers.digest
    assert about["tube ends looked at"] == numbers.coverage.looked_at
    assert [cell.value for cell in book["cautions"]["A"]] == ["Entry", "Pressure", "Decision"]


@pytest.mark.parametrize("typed", FORMULAS)
def test_no_text_becomes_a_formula_a_link_or_a_number(numbers, typed):
    facts = replace(numbers.facts, tag=typed, owner=typed)
    content = render_xlsx(replace(numbers, facts=facts))
    about = {row["what"]: row["value"] for row in rows(read(content)["about"])}
    assert about["owner"] == typed
    with zipfile.ZipFile(BytesIO(content)) as parts:
        for name in parts.namelist():
            text = parts.read(name).decode()
            assert not re.search(r"<f[ >]", text), f"a formula in {name}"
            assert "<hyperlink" not in text
            assert "evil.example" not in text or "sharedStrings" in name or "docProps" in name


def test_hostile_notes_are_only_text(make_numbers):
    typed = '=cmd|"/C calc"!A0 \x01\u202e <b>&'
    numbers, _ = make_numbers(typed)
    (note,) = [row["note"] for row in rows(read(render_xlsx(numbers))["findings"]) if row["note"]]
    assert note == '=cmd|"/C calc"!A0 \ufffd\ufffd <b>&'


def test_a_text_longer_than_a_cell_is_cut_and_says_so(numbers):
    facts = replace(numbers.facts, owner="w" * 40_000)
    about = {
        row["what"]: row["value"]
        for row in rows(read(render_xlsx(replace(numbers, facts=facts)))["about"])
    }
    assert len(about["owner"]) == LONGEST_TEXT
    assert about["owner"].endswith("(cut here: a cell holds no more)")


def test_the_same_numbers_give_the_same_bytes(content, numbers):
    assert render_xlsx(numbers) == content


def test_it_is_dated_with_the_time_printed(book, numbers):
    assert book.properties.created == numbers.printed_at.replace(tzinfo=None)


def test_every_row_has_a_cell_for_every_column(numbers):
    for sheet in build_sheets(numbers):
        assert sheet.rows, sheet.name
        assert {len(row) for row in sheet.rows} == {len(sheet.columns)}


def test_without_the_library_it_says_what_to_install(numbers, monkeypatch):
    monkeypatch.setitem(sys.modules, "xlsxwriter", None)
    with pytest.raises(FieldAppError, match=r"python3 -m pip install 'tubewright\[office\]'"):
        render_xlsx(numbers)
