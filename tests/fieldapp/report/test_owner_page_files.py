"""The owner's page in its files: one sheet of paper, complete, nothing cut; readable on a phone."""

import re
import shutil
import subprocess
import xml.etree.ElementTree as ElementTree
from dataclasses import replace
from io import BytesIO
from itertools import combinations

import pypdf
import pytest

from fieldapp.report.html_page import render_html
from fieldapp.report.paper import Paper, page_size_mm
from fieldapp.report.pdf_content import MARGIN_MM
from fieldapp.report.pdf_page import render_pdf
from fieldapp.report.sections.order import build_sections
from fieldapp.report.sections.owner_order import build_advice_sections
from fieldapp.report.sections.owner_prepared import INSURANCE
from tests.fieldapp.report.invented_advice import BY_MONEY, STATES

POINTS_PER_MM = 72 / 25.4
XHTML = "{http://www.w3.org/1999/xhtml}"
BOX = ("xMin", "yMin", "xMax", "yMax")
LONG = "a long thing that somebody wrote about the water, the feed tank and the scale, at length"


def squeezed(text):
    return re.sub(r"\s+", "", text)


def pages_of(numbers, photo_path, advice, paper=Paper.A4):
    pdf = render_pdf(numbers, build_advice_sections(numbers, advice), photo_path, paper)
    return [squeezed(page.extract_text()) for page in pypdf.PdfReader(BytesIO(pdf)).pages]


def assert_is_one_sheet(pages):
    """Everything from the first heading to the last line, and nothing of what is behind."""
    assert squeezed("May it be steamed today, and who says so") in pages[0]
    assert squeezed(INSURANCE) in pages[0]
    assert pages[1].find("Contents") in range(80)
    assert squeezed("Behind the advice") not in pages[0]


@pytest.mark.parametrize("paper", Paper)
@pytest.mark.parametrize("state", STATES)
def test_the_owners_page_is_one_sheet(numbers, photo_path, state, paper):
    pages = pages_of(numbers, photo_path, STATES[state], paper)
    assert_is_one_sheet(pages)
    assert squeezed(STATES[state].words) in pages[0]


@pytest.mark.parametrize("paper", Paper)
def test_it_is_one_sheet_with_long_sentences_everywhere(numbers, photo_path, paper):
    (cause,) = numbers.records("cause")
    causes = tuple(
        replace(cause, body={**cause.body, "group": f"{number} {LONG}", "suspected": LONG})
        for number in range(9)
    )
    inspection = replace(numbers.inspection, others=(*numbers.inspection.others, *causes))
    advice = replace(
        BY_MONEY,
        words=f"Retube pass 2 and then do {LONG}.",
        if_engineer_allows="new-boiler",
        missing=tuple(f"{number} {LONG}" for number in range(20)),
        measure_next=(replace(BY_MONEY.measure_next[0], words=LONG),),
    )
    pages = pages_of(replace(numbers, inspection=inspection), photo_path, advice, paper)
    assert_is_one_sheet(pages)
    assert squeezed("And 8 more: see the causes.") in pages[0]


def test_what_fits_on_no_sheet_goes_on_overleaf_and_nothing_is_lost(numbers, photo_path):
    words = " ".join(f"w{number}" for number in range(1500))
    text = "".join(pages_of(numbers, photo_path, replace(BY_MONEY, words=words)))
    assert squeezed(words[-60:]) in text
    assert squeezed(INSURANCE) in text


def test_the_owners_page_holds_the_cash_of_every_year_and_its_letters_can_be_read(
    numbers, photo_path
):
    sections = build_advice_sections(numbers, BY_MONEY)
    pdf = render_pdf(numbers, sections, photo_path, Paper.LETTER)
    sizes, words = set(), []

    def visit(text, cm, tm, font, size):
        if text.strip():
            sizes.add(round(abs(size * tm[0]), 1))
            words.append(text)

    pypdf.PdfReader(BytesIO(pdf)).pages[0].extract_text(visitor_text=visit)
    assert min(sizes) >= 6.5  # points
    for year in range(2027, 2037):
        assert str(year) in "".join(words)


@pytest.mark.parametrize("state", ["by money", "many and huge"])
def test_nothing_reaches_over_the_margins_and_no_two_words_lie_on_each_other(
    numbers, photo_path, state, tmp_path
):
    if shutil.which("pdftotext") is None:
        pytest.skip("pdftotext is missing (as root: apt-get install poppler-utils)")
    path = tmp_path / "owner.pdf"
    sections = build_advice_sections(numbers, STATES[state])
    path.write_bytes(render_pdf(numbers, sections, photo_path, Paper.LETTER))
    printed = subprocess.run(["pdftotext", "-bbox", path, "-"], capture_output=True, check=True)
    words_seen = 0
    for page in ElementTree.fromstring(printed.stdout).iter(f"{XHTML}page"):
        boxes = [
            (*(float(word.get(name)) / POINTS_PER_MM for name in BOX), word.text) for word in page
        ]
        words_seen += len(boxes)
        width_mm = page_size_mm(Paper.LETTER)[0]
        over = [b for b in boxes if b[0] < MARGIN_MM - 0.5 or b[2] > width_mm - MARGIN_MM + 0.5]
        assert over == []
        clashes = [
            (one, other)
            for one, other in combinations(boxes, 2)
            if min(one[2], other[2]) - max(one[0], other[0]) > 0.3
            and min(one[3], other[3]) - max(one[1], other[1]) > 1.5
        ]
        assert clashes == []
    assert words_seen > 800


def test_the_page_begins_with_the_owners_sections_and_the_contents_follow(numbers, photo_path):
    sections = build_sections(numbers, BY_MONEY)
    html = render_html(numbers, sections, photo_path).decode()
    keys = re.findall(r'<section id="([\w-]+)"', html)
    assert keys == [section.key for section in sections]
    assert html.count('<nav aria-label="Contents">') == 1
    assert html.index('id="prepared"') < html.index("<nav") < html.index('id="behind"')


def test_charts_for_a_narrow_screen_are_no_wider_than_it_needs(numbers, photo_path):
    html = render_html(numbers, build_advice_sections(numbers, BY_MONEY), photo_path).decode()
    narrow = re.findall(r'<figure class="chart narrow">.*?viewBox="0 0 (\d+)', html, re.DOTALL)
    assert narrow == ["120", "120"]
    assert ".narrow .paper" in html


def test_hostile_text_in_the_advice_is_only_text(numbers, photo_path, hostile):
    advice = replace(
        BY_MONEY, words=hostile, reasons=(hostile,), missing=(hostile,), currency=hostile
    )
    html = render_html(numbers, build_advice_sections(numbers, advice), photo_path).decode()
    assert html.count("<script") == 1
    assert "<img src=http" not in html
    assert "&lt;script&gt;" in html
