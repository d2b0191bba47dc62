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
from model.decision.by_condition import FIND_OUT
from tests.fieldapp.report.invented_advice import (
    BY_CONDITION,
    BY_MONEY,
    MANY_AND_HUGE,
    NO_ADVICE,
)

SHEETS = [
    "tubes", "ends", "readings", "findings", "changes", "totals", "advice", "tubes of the option",
    "about", "cautions",
]  # fmt: skip
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
    return render_xlsx(numbers, BY_MONEY)


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


# ------------------------------------------------------------------ the advice


def test_every_option_has_a_row_with_its_costs_as_numbers(book):
    options = {row["option"]: row for row in rows(book["advice"])}
    assert [*options] == [each.plan.key for each in BY_MONEY.options]
    retube = options["retube-pass-2"]
    assert (retube["name"], retube["advised"], retube["ruled_out"]) == (
        "Retubing pass 2", "yes", None,
    )  # fmt: skip
    assert (retube["currency"], retube["labour_hours"], retube["outage_days"]) == (
        "USD", 371.4, 69.4,
    )  # fmt: skip
    money = BY_MONEY.result("retube-pass-2").money
    # The format keeps 16 digits.
    assert retube["cost_now"] == 88_420
    assert retube["present_value"] == pytest.approx(money.present_value, rel=1e-15)
    assert retube["present_value_p10"] == pytest.approx(money.p10, rel=1e-15)
    assert retube["present_value_p90"] == pytest.approx(money.p90, rel=1e-15)
    assert [retube[f"cost_year_{year}"] for year in range(11)] == [88_420, *[6_140] * 10]
    assert retube["tubes_lost"] == pytest.approx(8.5)
    assert retube["joint_leaks"] == pytest.approx(2.0)
    assert retube["forced_outages"] == pytest.approx(3.0)


def test_what_was_not_worked_out_is_empty_and_never_nothing(book):
    rental = next(row for row in rows(book["advice"]) if row["option"] == "rental")
    assert rental["ruled_out"].startswith("Ruled out: its cost cannot be worked out")
    assert (rental["cost_now"], rental["cost_year_10"], rental["tubes_lost"]) == (None, None, None)
    assert rental["labour_hours"] == 62


def test_finding_out_more_is_a_step_before_the_others_and_hours_are_told_in_tenths(numbers):
    first, *rest = BY_MONEY.options
    found = replace(
        first, plan=replace(first.plan, key=FIND_OUT), ruled_out=None, hours=79.8 + 1e-14, days=3.04
    )
    no = replace(rest[0], ruled_out="Ruled out: invented.")
    sheet = read(render_xlsx(numbers, replace(BY_MONEY, options=(found, no, *rest[1:]))))["advice"]
    step, other, *_ = rows(sheet)
    assert (step["may_be_chosen"], step["advised"], step["ruled_out"]) == (
        "a step before", "no", None,
    )  # fmt: skip
    assert (step["labour_hours"], step["outage_days"]) == (79.8, 3.0)
    assert other["may_be_chosen"] == "no"


def test_the_recommendation_stands_among_what_it_is_about(book, numbers):
    about = rows(book["about"])
    said = {row["what"]: row["value"] for row in about}
    assert said["recommendation"] == "Retube pass 2."
    assert said["kind of advice"] == "Lowest cost on these inputs"
    assert said["runner-up"] == "Plugging now and retubing later"
    assert said["margin to the runner-up, present value"] == 12_461
    assert said["option by condition alone"] == numbers.advice.words
    assert tuple(row["value"] for row in about if row["what"] == "reason") == BY_MONEY.reasons


@pytest.mark.parametrize("advice", [BY_CONDITION, NO_ADVICE, MANY_AND_HUGE])
def test_every_kind_of_advice_fills_its_columns(numbers, advice):
    sheet = next(each for each in build_sheets(numbers, advice) if each.name == "advice")
    assert len(sheet.rows) == len(advice.options)
    assert all(len(row) == len(sheet.columns) for row in sheet.rows)
    years = sum(column.startswith("cost_year_") for column in sheet.columns)
    assert years == (26 if advice is MANY_AND_HUGE else 0)
    read(render_xlsx(numbers, advice))


@pytest.mark.parametrize("typed", FORMULAS)
def test_no_text_of_the_advice_becomes_a_formula(numbers, typed):
    options = tuple(replace(each, ruled_out=typed) for each in BY_MONEY.options)
    advice = replace(BY_MONEY, words=typed, reasons=(typed,), currency=typed, options=options)
    content = render_xlsx(numbers, advice)
    book = read(content)
    assert {row["ruled_out"] for row in rows(book["advice"])} == {typed}
    assert {row["currency"] for row in rows(book["advice"])} == {typed}
    said = {row["what"]: row["value"] for row in rows(book["about"])}
    assert said["recommendation"] == said["reason"] == typed
    with zipfile.ZipFile(BytesIO(content)) as parts:
        sheets = [parts.read(name).decode() for name in parts.namelist() if "sheet" in name]
    assert not any(re.search(r"<f[ >]|<hyperlink", text) for text in sheets)


# ------------------------------------------------------------------ text is only text


@pytest.mark.parametrize("typed", FORMULAS)
def test_no_text_becomes_a_formula_a_link_or_a_number(numbers, typed):
    facts = replace(numbers.facts, tag=typed, owner=typed)
    content = render_xlsx(replace(numbers, facts=facts), BY_MONEY)
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
    (note,) = [
        row["note"] for row in rows(read(render_xlsx(numbers, BY_MONEY))["findings"]) if row["note"]
    ]
    assert note == '=cmd|"/C calc"!A0 \ufffd\ufffd <b>&'


def test_a_text_longer_than_a_cell_is_cut_and_says_so(numbers):
    facts = replace(numbers.facts, owner="w" * 40_000)
    about = {
        row["what"]: row["value"]
        for row in rows(read(render_xlsx(replace(numbers, facts=facts), BY_MONEY))["about"])
    }
    assert len(about["owner"]) == LONGEST_TEXT
    assert about["owner"].endswith("(cut here: a cell holds no more)")


def test_the_same_numbers_give_the_same_bytes(content, numbers):
    assert render_xlsx(numbers, BY_MONEY) == content


def test_it_is_dated_with_the_time_printed(book, numbers):
    assert book.properties.created == numbers.printed_at.replace(tzinfo=None)


def test_every_row_has_a_cell_for_every_column(numbers):
    for sheet in build_sheets(numbers, BY_MONEY):
        assert sheet.rows, sheet.name
        assert {len(row) for row in sheet.rows} == {len(sheet.columns)}


def test_without_the_library_it_says_what_to_install(numbers, monkeypatch):
    monkeypatch.setitem(sys.modules, "xlsxwriter", None)
    with pytest.raises(FieldAppError, match=r"python3 -m pip install 'tubewright\[office\]'"):
        render_xlsx(numbers, BY_MONEY)
