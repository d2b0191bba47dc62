"""CSV and XLSX as rows of stripped cells with their lines, whatever wrote the file.

Not here: what the cells mean.
"""

import datetime
import io
import os
import sys
import tracemalloc
import zipfile

import openpyxl
import pytest
import xlsxwriter
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.errors import FieldAppError, IntakeRefused
from fieldapp.intake import tables
from fieldapp.intake.faults import MAX_FAULTS, FaultList, nearest, quoted
from fieldapp.intake.tables import Columns, read_table

COLUMNS = Columns(required=("tube", "x_mm"), optional=("note", "wall_mm"))


def rows_of(path, **named):
    return list(read_table(path, COLUMNS, **named).rows)


def test_a_refusal_of_one_fault_is_one_line_and_of_two_faults_two_lines():
    assert str(IntakeRefused(["one."])) == "one."
    assert str(IntakeRefused(["one.", "two."])) == "one.\ntwo."
    assert issubclass(IntakeRefused, FieldAppError)


def test_rows_come_with_the_line_they_begin_in_and_cells_are_stripped(written):
    path = written('tube,x_mm,note\n A , 1.5 ,"two\nlines"\n\n,,\nB,2,\n')
    assert rows_of(path) == [
        (2, {"tube": "A", "x_mm": "1.5", "note": "two\nlines"}),
        (6, {"tube": "B", "x_mm": "2", "note": ""}),
    ]


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_every_line_ending_is_read(written, ending):
    path = written(ending.join(["tube,x_mm", "A,1", "B,2"]))
    assert [line for line, _ in rows_of(path)] == [2, 3]


def test_a_byte_order_mark_is_no_part_of_the_first_column(written):
    assert rows_of(written(b"\xef\xbb\xbftube,x_mm\nA,1\n"))[0][1]["tube"] == "A"


def test_semicolons_separate_columns_when_the_header_has_no_comma(written):
    assert rows_of(written("tube;x_mm;note\nA;1;b, c\n"))[0][1]["note"] == "b, c"


def test_a_header_may_be_in_capitals_and_text_comes_out_in_one_normal_form(written):
    path = written("Tube,X_mm,NOTE\nA,1,cafe\u0301\n")
    assert rows_of(path)[0][1]["note"] == "caf\u00e9"


def test_columns_without_a_name_may_stand_when_they_are_empty(written, faults_of):
    assert rows_of(written("tube,x_mm,,\nA,1,,\n")) == [(2, {"tube": "A", "x_mm": "1"})]
    assert faults_of(read_table, written("tube,x_mm,\nA,1,z\n"), COLUMNS) == [
        "line 2: 'z' stands in a column without a name."
    ]


def test_inches_may_stand_in_place_of_millimetres(written):
    table = read_table(written("tube,x_in\nA,1\n"), COLUMNS)
    assert table.columns == ("tube", "x_in")


@pytest.mark.parametrize(
    ("content", "faults"),
    [
        ("", ["file.csv: line 1 is empty; it must name the columns tube, x_mm."]),
        ("\ntube,x_mm\n", ["file.csv: line 1 is empty; it must name the columns tube, x_mm."]),
        (
            "tub,x_mm,note,note,wall_mm,wall_in,zzz\n",
            [
                "line 1: unknown column 'tub'; did you mean 'tube'?",
                "line 1: the column 'note' stands twice.",
                "line 1: unknown column 'zzz'.",
                "line 1: the column 'tube' is missing.",
                "line 1: both 'wall_mm' and 'wall_in' stand; keep one of them.",
            ],
        ),
        (
            "tube,x_mm\nA\nB,1\nC,1,2\n",
            [
                "line 2 has 1 cell, but line 1 names 2 columns; "
                "put quotes around a cell with a comma in it.",
                "line 4 has 3 cells, but line 1 names 2 columns; "
                "put quotes around a cell with a comma in it.",
            ],
        ),
        ("tube;x_mm,note\n", ["line 1 mixes commas and semicolons; use commas between columns."]),
        (
            'tube,x_mm\nA,"1\n',
            [
                "line 2 of file.csv cannot be read as CSV (unexpected end of data); "
                "check its quotes."
            ],
        ),
        (
            b"tube,x_mm\nA,\x00\n",
            ["file.csv holds a NUL byte, so it is not a text file; save it again as UTF-8 text."],
        ),
        (
            "tube,x_mm\n\nA,é\n".encode("latin-1"),
            ["file.csv is not UTF-8 (byte 0xe9 in line 3); save it again as UTF-8."],
        ),
        (
            "tube,x_mm\n".encode("utf-16"),
            ["file.csv is UTF-16, not UTF-8; save it again as UTF-8."],
        ),
        (
            "tube,x_mm\nA,1\x07\n",
            ["line 2, x_mm: holds the control character U+0007; type the cell again."],
        ),
        (
            "tube,x_mm\n" + "A" * 2001 + ",1\n",
            ["line 2, tube: 2001 characters are too many; at most 2000."],
        ),
        (
            "," * 200 + "\n" + "tube\n",
            ["file.csv: line 1 is empty; it must name the columns tube, x_mm."],
        ),
        ("tube" + ",note" * 200 + "\n", ["line 1 names 201 columns; at most 200."]),
        (
            b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1rest",
            ["file.csv is an old Excel file or has a password; save it as .xlsx without one."],
        ),
    ],
)
def test_a_wrong_file_is_refused_with_these_sentences(written, faults_of, content, faults):
    assert faults_of(read_table, written(content), COLUMNS) == faults


def test_a_file_that_is_not_there_or_is_a_folder_is_refused(tmp_path, faults_of):
    missing = tmp_path / "no.csv"
    assert faults_of(read_table, missing, COLUMNS) == [f"The file {missing} does not exist."]
    assert faults_of(read_table, tmp_path, COLUMNS) == [f"{tmp_path} is not a file; name a file."]


@pytest.mark.skipif(os.name != "posix", reason="only POSIX has named pipes in the file system")
def test_a_pipe_is_refused_instead_of_waited_for(tmp_path, faults_of):
    pipe = tmp_path / "pipe.csv"
    os.mkfifo(pipe)
    assert faults_of(read_table, pipe, COLUMNS) == [f"{pipe} is not a file; name a file."]


def test_more_rows_or_bytes_than_the_limit_are_refused(written, faults_of, monkeypatch):
    monkeypatch.setattr(tables, "MAX_ROWS", 2)
    path = written("tube,x_mm\nA,1\nB,1\nC,1\n")
    assert faults_of(read_table, path, COLUMNS) == ["file.csv has more than 2 rows; split it."]
    monkeypatch.setattr(tables, "MAX_BYTES", 10)
    assert faults_of(read_table, path, COLUMNS) == [
        "file.csv is larger than 0.01 kB; split or reduce it."
    ]


def test_a_sheet_cannot_be_named_for_a_csv(written, faults_of):
    assert faults_of(read_table, written("tube,x_mm\n"), COLUMNS, sheet="May") == [
        "file.csv is not a workbook, so it has no sheet 'May'."
    ]


def test_faults_beyond_the_limit_are_counted(faults_of):
    faults = FaultList()
    for number in range(MAX_FAULTS + 5):
        faults.add(f"fault {number}.")
    told = faults_of(faults.refuse_if_any)
    assert len(told) == MAX_FAULTS + 1
    assert told[-1] == "... and 5 more faults."


def test_a_quoted_value_is_short_and_on_one_line():
    assert quoted("a\nb\x1b") == r"'a\nb\x1b'"
    assert quoted("x" * 100) == "'" + "x" * 40 + "…'"


def test_the_nearest_word_ignores_case_and_nothing_near_is_nothing():
    assert nearest("p2-r03-c1", ["P2-R03-C11", "Q"]) == ["P2-R03-C11"]
    assert nearest("xyz", ["sound"]) == []


@given(text=st.text())
def test_any_text_is_read_or_refused(any_file, is_read_or_refused, text):
    path = any_file(text.encode("utf-8", "surrogatepass"))
    assert is_read_or_refused(read_table, path, COLUMNS)


@given(cells=st.lists(st.lists(st.text(max_size=5), min_size=2, max_size=2), max_size=5))
def test_any_cells_below_a_good_header_are_read_or_refused(any_file, is_read_or_refused, cells):
    body = "".join(",".join(row) + "\n" for row in cells)
    path = any_file(b"tube,x_mm\n" + body.encode("utf-8", "surrogatepass"))
    assert is_read_or_refused(read_table, path, COLUMNS)


# Workbooks


@pytest.fixture
def workbook(tmp_path):
    """Writes the sheets {title: {cell: value}} with XlsxWriter and gives the path."""

    def write(sheets, name="book.xlsx"):
        path = tmp_path / name
        with xlsxwriter.Workbook(path) as book:
            day = book.add_format({"num_format": "yyyy-mm-dd"})
            for title, cells in sheets.items():
                sheet = book.add_worksheet(title)
                for cell, value in cells.items():
                    if hasattr(value, "isoformat"):
                        sheet.write_datetime(cell, value, day)
                    else:
                        sheet.write(cell, value)
        return path

    return write


def test_a_workbook_gives_the_rows_that_its_csv_would_give(workbook, written):
    cells = [["tube", "x_mm", "note"], ["A", 1.5, "a, b"], ["", "", ""], ["B", -2, ""]]
    book = workbook(
        {"Sheet": {(f"{'ABC'[c]}{r + 1}"): v for r, row in enumerate(cells)
                   for c, v in enumerate(row) if v != ""}}
    )  # fmt: skip
    text = "\n".join(",".join(f'"{value}"' if value != "" else "" for value in row)
                     for row in cells)  # fmt: skip
    assert read_table(book, COLUMNS) == read_table(written(text), COLUMNS)


def test_the_first_sheet_is_read_unless_another_is_named(workbook, faults_of):
    book = workbook({"May": {"A1": "tube", "B1": "x_mm", "A2": "A", "B2": 1},
                     "June": {"A1": "tube", "B1": "x_mm", "A2": "B", "B2": 1}})  # fmt: skip
    assert rows_of(book)[0][1]["tube"] == "A"
    assert rows_of(book, sheet="June")[0][1]["tube"] == "B"
    assert faults_of(read_table, book, COLUMNS, sheet="Juni") == [
        "book.xlsx has no sheet 'Juni'; it has 'May', 'June'."
    ]


def test_numbers_dates_and_truth_become_the_text_that_a_person_would_type(tmp_path):
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append(["tube", "x_mm", "note"])
    for value in (3.0, 0.1 + 0.2, 1e-7, 12345678.25, True, "=x",
                  datetime.date(2026, 5, 1), datetime.datetime(2026, 5, 1, 7, 30)):  # fmt: skip
        sheet.append(["A", 1, value])
    sheet["C7"].data_type = "s"
    sheet.append(["A", 1, datetime.date(2019, 6, 1)])
    sheet["C10"].number_format = "[$-409]mmm\\-yy;@"
    sheet.append(["A", 1, datetime.date(2019, 1, 1)])
    sheet["C11"].number_format = "yyyy"
    path = tmp_path / "book.xlsx"
    book.save(path)
    assert [row["note"] for _, row in rows_of(path)] == [
        "3", "0.3", "0.0000001", "12345678.25", "yes", "=x", "2026-05-01", "2026-05-01T07:30:00",
        "2019-06", "2019",
    ]  # fmt: skip


def test_every_formula_and_error_cell_is_named(tmp_path, faults_of):
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.append(["tube", "x_mm"])
    sheet.append(["A", "=1+1"])
    sheet.append(["B", "#DIV/0!"])
    sheet["B3"].data_type = "e"
    path = tmp_path / "book.xlsx"
    book.save(path)
    assert faults_of(read_table, path, COLUMNS) == [
        "cell B2 holds a formula; replace it with its value.",
        "cell B3 holds the error '#DIV/0!'; write a value.",
    ]


def test_a_workbook_that_begins_below_line_1_is_refused(workbook, faults_of):
    book = workbook({"S": {"A2": "tube", "B2": "x_mm"}})
    assert faults_of(read_table, book, COLUMNS) == [
        "book.xlsx: line 1 is empty; it must name the columns tube, x_mm."
    ]


def test_what_is_no_workbook_is_refused(written, faults_of):
    path = written("tube,x_mm\n", "book.xlsx")
    assert faults_of(read_table, path, COLUMNS) == [
        "book.xlsx is not an XLSX workbook; save it again as .xlsx."
    ]


def test_an_archive_without_a_workbook_is_refused(tmp_path, faults_of):
    path = tmp_path / "book.xlsx"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("a.txt", "a")
    assert faults_of(read_table, path, COLUMNS) == [
        "book.xlsx cannot be read as an XLSX workbook; save it again."
    ]


def test_a_workbook_that_unpacks_to_too_much_is_refused_before_it_is_unpacked(tmp_path, faults_of):
    path = tmp_path / "bomb.xlsx"
    with (
        zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive,
        archive.open("xl/sharedStrings.xml", "w") as member,
    ):
        for _ in range(60):
            member.write(b"\0" * 1_000_000)
    tracemalloc.start()
    try:
        told = faults_of(read_table, path, COLUMNS)
        _, peak = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert told == ["bomb.xlsx unpacks to 60 MB, which is too much; save it as CSV."]
    assert peak < 5_000_000


def test_without_the_office_extra_a_workbook_asks_for_it(workbook, faults_of, monkeypatch):
    book = workbook({"S": {"A1": "tube"}})
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    assert faults_of(read_table, book, COLUMNS) == [
        "book.xlsx is a workbook, which needs openpyxl: "
        "python3 -m pip install 'tubewright[office]' (or save it as CSV)."
    ]


@given(place=st.integers(0, 10**6), byte=st.integers(0, 255))
def test_a_workbook_with_any_byte_changed_is_read_or_refused(
    any_file, is_read_or_refused, place, byte
):
    stream = io.BytesIO()
    with xlsxwriter.Workbook(stream, {"in_memory": True}) as book:
        sheet = book.add_worksheet()
        sheet.write_row(0, 0, ["tube", "x_mm"])
        sheet.write_row(1, 0, ["A", 1])
    data = bytearray(stream.getvalue())
    data[place % len(data)] = byte
    assert is_read_or_refused(read_table, any_file(bytes(data), "any.xlsx"), COLUMNS)
