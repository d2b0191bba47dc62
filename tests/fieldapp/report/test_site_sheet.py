"""The site sheet: two pages by Pillow alone, everything on them, nothing over the edge."""

import sys
from dataclasses import replace
from datetime import UTC, datetime
from io import BytesIO
from itertools import pairwise

import pypdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageStat

from fieldapp.cautions import CAUTIONS
from fieldapp.drawing.pixels import PILLOW_FONT, find_fonts
from fieldapp.drawing.primitives import Anchor, Circle, Text, flatten
from fieldapp.drawing.text_width import TextRuler
from fieldapp.report.paper import Paper, page_size_mm
from fieldapp.report.site_lists import build_site_lists
from fieldapp.report.site_sheet import build_site_pages, render_site_sheet, share_lines


@pytest.fixture(scope="module")
def ruler():
    return TextRuler(fonts=find_fonts())


@pytest.fixture(scope="module", params=list(Paper))
def paper(request):
    return request.param


@pytest.fixture(scope="module")
def pages(numbers, paper, ruler):
    return build_site_pages(numbers, paper, ruler)


@pytest.fixture(scope="module")
def files(numbers):
    return render_site_sheet(numbers, Paper.A4)


def texts(page):
    return [shape for shape in flatten(page.primitives) if isinstance(shape, Text)]


def said(page):
    return " ".join(text.words for text in texts(page))


def lists_of(numbers):
    return {each.heading.split(":")[0]: each for each in build_site_lists(numbers)}


def assert_inside(page, ruler):
    for text in texts(page):
        width_mm = ruler.width_mm(text.words, text.size, bold=text.bold)
        left = (
            text.x
            - {Anchor.START: 0, Anchor.MIDDLE: width_mm / 2, Anchor.END: width_mm}[text.anchor]
        )
        assert left >= 5, text
        assert left + width_mm <= page.width_mm - 5, text
        assert text.y - text.size >= 5
        assert text.y <= page.height_mm - 5, text
    for shape in flatten(page.primitives):
        if isinstance(shape, Circle):
            assert shape.radius <= shape.x <= page.width_mm - shape.radius
            assert shape.radius <= shape.y <= page.height_mm - shape.radius


def test_there_are_two_pages_of_the_paper(pages, paper):
    assert [(page.width_mm, page.height_mm) for page in pages] == [page_size_mm(paper)] * 2


def test_nothing_stands_over_the_edge(pages, ruler):
    for page in pages:
        assert_inside(page, ruler)


def test_no_line_of_text_lies_on_another(pages):
    for page in pages:
        lines = sorted({(round(t.y, 3), t.size) for t in texts(page) if t.x < 15})
        for (above, _), (below, size) in pairwise(lines):
            assert below - above >= 0.75 * size


def test_the_first_page_has_the_numbers_with_coverage_and_every_list(pages, numbers, bad_tubes):
    words = said(pages[0])
    totals, coverage = numbers.totals, numbers.coverage
    for each in (
        f"{totals.bad_now} bad, of {totals.tubes} tubes",
        f"{totals.plugged} plugged: at least",
        f"{coverage.looked_at} of {coverage.ends} ends looked at",
        numbers.report_number,
        *bad_tubes,
    ):
        assert each in words
    for each in build_site_lists(numbers):
        assert each.heading in words


def test_the_second_page_has_every_face_the_people_and_the_cautions(pages):
    words = said(pages[1])
    for each in ("front smokebox", "turnaround chamber", "rear smokebox", "Anna Lund"):
        assert each in words
    assert "column 1 is at the right" in words
    for _, caution in CAUTIONS:
        assert caution in words
    assert words.count("signature") == 2


def test_joint_leaks_hazards_and_gaps_are_named(numbers, what_is_what):
    lists = lists_of(numbers)
    joint = lists["Leaking at the joint only"].lines
    assert f"Front end: {what_is_what['joint leak']}, {what_is_what['disputed']}" in joint
    hazards = " ".join(lists["Hazards"].lines)
    stay = what_is_what["plugged stay tube, one end"]
    assert f"Plugged at one end only, the other end was seen open: {stay}" in hazards
    assert "Plug weeping: P2-R01-C02" in hazards
    gaps = lists["Before you leave"].lines
    assert "Not looked at, pass 3, rear end, not cleaned: P3-R02-C01, P3-R02-C02" in gaps
    assert "P3-R03-C08, rear end: leaking since 2022-06-14: repaired, or still so?" in gaps
    assert any(line.startswith("P3-R03-C05, front end: in dispute by") for line in gaps)


def test_a_boiler_without_anything_to_say_says_so(numbers):
    unhurt = replace(numbers.inspection, others=())
    bare = replace(numbers, tubes=(), questions=(), disputes=(), clusters=(), inspection=unhurt)
    empty = lists_of(bare)
    assert [each.lines for each in empty.values()] == [()] * 4
    assert [bool(each.if_empty) for each in empty.values()] == [True] * 4


def test_a_list_too_long_is_cut_and_says_so(numbers, ruler):
    many = tuple(replace(numbers.questions[0], tube=f"T-{number:04d}") for number in range(400))
    first, _ = build_site_pages(replace(numbers, questions=many), Paper.LETTER, ruler)
    assert_inside(first, ruler)
    words = said(first)
    assert "more lines: see the whole list in the report" in words
    assert "Leaking in the bore: P2-R02-C03" in words


@given(st.lists(st.integers(1, 500), min_size=1, max_size=6), st.integers(6, 60))
def test_lines_are_shared_so_that_they_fit_and_short_lists_stay_whole(wanted, room):
    given_lines = share_lines(wanted, room)
    assert sum(given_lines) <= max(room, len(wanted))
    assert all(1 <= one <= other for one, other in zip(given_lines, wanted, strict=True))
    cut = [one for one, other in zip(given_lines, wanted, strict=True) if one < other]
    whole = [one for one, other in zip(given_lines, wanted, strict=True) if one == other]
    assert not cut or not whole or max(whole) <= max(cut) + 1


def test_many_faces_still_fit_their_page(numbers, ruler):
    face = numbers.facts.faces[0]
    faces = tuple(replace(face, key=f"f{number}", name=f"face {number}") for number in range(9))
    crowded = replace(numbers, facts=replace(numbers.facts, faces=faces))
    _, second = build_site_pages(crowded, Paper.LETTER, ruler)
    assert_inside(second, ruler)
    assert all(f"face {number}" in said(second) for number in range(9))


def test_hostile_text_is_only_text_and_stays_inside(make_numbers, hostile, ruler):
    numbers, _ = make_numbers(hostile)
    facts = replace(numbers.facts, tag=hostile * 3, owner="o" * 400, site="\u202e\x00")
    for page in build_site_pages(replace(numbers, facts=facts), Paper.A4, ruler):
        assert_inside(page, ruler)
        assert "\u202e" not in said(page)


def test_the_files_are_pages_at_two_hundred_dots_to_the_inch(files):
    assert set(files) == {"site-sheet-1.png", "site-sheet-2.png", "site-sheet.pdf"}
    for name in ("site-sheet-1.png", "site-sheet-2.png"):
        with Image.open(BytesIO(files[name])) as image:
            assert image.size == (1654, 2339)
            assert image.info["dpi"] == pytest.approx((200, 200), abs=0.1)
            assert 200 < ImageStat.Stat(image.convert("L")).mean[0] < 253


def test_the_pdf_has_the_same_pages_and_the_time_printed(files, numbers):
    reader = pypdf.PdfReader(BytesIO(files["site-sheet.pdf"]))
    assert len(reader.pages) == 2
    assert reader.metadata.title == f"Site sheet {numbers.report_number}"
    assert reader.metadata.creation_date == datetime(2026, 9, 16, 10, 0, tzinfo=UTC)


def test_it_needs_no_office_library_and_is_the_same_at_every_run(numbers, files, monkeypatch):
    for name in ("typst", "jinja2", "xlsxwriter", "openpyxl", "ezdxf"):
        monkeypatch.setitem(sys.modules, name, None)
    assert render_site_sheet(numbers, Paper.A4) == files


def test_it_can_be_drawn_with_pillows_own_letters(numbers):
    ruler = TextRuler(fonts=PILLOW_FONT)
    for page in build_site_pages(numbers, Paper.A4, ruler):
        assert_inside(page, ruler)
