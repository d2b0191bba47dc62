"""The PDF: complete, searchable, tagged, nothing cut, deaf to hostile text, always the same."""

import os
import re
import shutil
import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from dataclasses import dataclass, replace
from functools import cache
from io import BytesIO
from itertools import combinations, pairwise

import pypdf
import pytest
from PIL import Image, ImageChops, ImageStat

from fieldapp.drawing.looks import look_of
from fieldapp.drawing.marks import TubeLook
from fieldapp.drawing.primitives import Group
from fieldapp.errors import FieldAppError
from fieldapp.report.face_grounds import ends_shown
from fieldapp.report.face_pictures import FacePictureOptions, build_face_picture, faces_of
from fieldapp.report.paper import Paper, page_size_mm
from fieldapp.report.pdf_content import MARGIN_MM
from fieldapp.report.pdf_page import render_pdf
from fieldapp.report.sections.bad_tubes import build_bad_tubes
from fieldapp.report.sections.examined import build_examined
from fieldapp.report.sections.findings import build_findings
from fieldapp.report.sections.maps import build_maps
from fieldapp.report.sections.order import build_sections
from fieldapp.report.sections.owner_prepared import INSURANCE
from fieldapp.report.sections.parts import build_parts
from fieldapp.report.sections.photos import build_photos
from model.record.words import State
from tests.fieldapp.report.invented_advice import BY_MONEY

POINTS_PER_MM = 72 / 25.4
WITH_NOTES = (build_findings, build_parts, build_photos)
MARKUP = '#panic("x") *b* _i_ $x^2$ `r` <label> @ref // c \\u{41} = h #sys.inputs ]}) [#'
# Roboto's own measures: where the base line lies between the top and the foot of a word's box.
ASCENT, DESCENT = 1900 / 2048, 500 / 2048


@dataclass(frozen=True, slots=True, kw_only=True)
class Word:
    page: int
    words: str
    left_mm: float
    top_mm: float
    right_mm: float
    bottom_mm: float


@pytest.fixture(scope="module", params=list(Paper))
def paper(request):
    return request.param


def rendered(numbers, photo_path, paper=Paper.A4):
    """The whole report, which takes seconds."""
    return render_pdf(numbers, build_sections(numbers, BY_MONEY), photo_path, paper)


def rendered_part(numbers, photo_path, *builders):
    """The sections that a test is about."""
    return render_pdf(numbers, [build(numbers) for build in builders], photo_path)


@pytest.fixture(scope="module")
def made_files(numbers, photo_path):
    return {paper: rendered(numbers, photo_path, paper) for paper in Paper}


@pytest.fixture(scope="module")
def pdf(made_files, paper):
    return made_files[paper]


@pytest.fixture(scope="module")
def reader(pdf):
    return pypdf.PdfReader(BytesIO(pdf))


@pytest.fixture(scope="module")
def poppler(tmp_path_factory):
    """``poppler(tool, pdf, *options)``: what a tool prints of a file."""
    for tool in ("pdftotext", "pdffonts", "pdftoppm", "pdfimages"):
        if shutil.which(tool) is None:
            pytest.skip(f"{tool} is missing (as root: apt-get install poppler-utils)")
    folder = tmp_path_factory.mktemp("poppler")

    def run(tool, pdf, *options, output="-"):
        path = folder / "read.pdf"
        path.write_bytes(pdf)
        arguments = [tool, *options, str(path), *([output] if output else [])]
        return subprocess.run(arguments, capture_output=True, check=True, timeout=120).stdout

    return run


@cache
def text_of(pdf):
    return [page.extract_text() for page in pypdf.PdfReader(BytesIO(pdf)).pages]


def words_of(poppler, pdf):
    document = ElementTree.fromstring(poppler("pdftotext", pdf, "-bbox"))
    for number, page in enumerate(document.iter("{http://www.w3.org/1999/xhtml}page")):
        for word in page:
            left, top, right, bottom = (
                float(word.get(name)) / POINTS_PER_MM for name in ("xMin", "yMin", "xMax", "yMax")
            )
            yield Word(
                page=number,
                words=word.text,
                left_mm=left,
                top_mm=top,
                right_mm=right,
                bottom_mm=bottom,
            )


def squeezed(text):
    return re.sub(r"\s+", "", text)


def test_every_bad_tube_and_every_person_can_be_searched_for(pdf, bad_tubes):
    text = "\n".join(text_of(pdf))
    for words in (*bad_tubes, "Anna Lund", "Boris Wieck", "Clara Odell"):
        assert words in text


def test_every_tube_stands_in_the_text(made_files, numbers):
    text = "\n".join(text_of(made_files[Paper.A4]))
    assert [each.tube.key for each in numbers.tubes if each.tube.key not in text] == []


def test_the_first_page_is_the_owners_and_holds_all_of_it(pdf, numbers):
    first = squeezed(text_of(pdf)[0])
    for words in (BY_MONEY.words, "of the tube ends were looked at", INSURANCE):
        assert squeezed(words) in first
    assert squeezed(f"Report number {numbers.report_number}") in first


def test_the_reasons_stand_at_the_top_of_what_is_behind_the_advice(pdf):
    behind = squeezed(text_of(pdf)[1]).rpartition(squeezed("Behind the advice"))[2]
    assert behind.startswith("Why")
    for reason in BY_MONEY.reasons:
        assert squeezed(reason) in behind


def test_who_may_say_that_it_can_be_steamed_is_named_and_signs_on_the_first_page(pdf):
    first = squeezed(text_of(pdf)[0])
    for words in ("May it be steamed today", "Owner: name", "Authorised inspector: name"):
        assert squeezed(words) in first
    assert first.count("signature,date") == 3


def test_the_pages_have_the_size_of_the_paper(reader, paper):
    width_mm, height_mm = page_size_mm(paper)
    assert 10 <= len(reader.pages) <= 22
    for page in reader.pages:
        assert float(page.mediabox.width) == pytest.approx(width_mm * POINTS_PER_MM, abs=0.5)
        assert float(page.mediabox.height) == pytest.approx(height_mm * POINTS_PER_MM, abs=0.5)


def test_every_page_says_its_number_and_the_report_it_belongs_to(pdf, numbers):
    pages = text_of(pdf)
    for number, text in enumerate(pages, start=1):
        assert squeezed(f"page {number} of {len(pages)}") in squeezed(text)
        assert squeezed(numbers.report_number) in squeezed(text)


def test_it_says_its_title_its_language_and_when_it_was_printed(reader):
    assert reader.metadata.title == "Condition report: B-7, 2026-09-15"
    assert reader.metadata.creation_date.isoformat() == "2026-09-16T10:00:00+00:00"
    assert reader.trailer["/Root"]["/Lang"] == "en"


def test_it_is_tagged_and_declares_both_standards(reader):
    root = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    kinds = set(kinds_below(root["/StructTreeRoot"]))
    assert {"/H1", "/H2", "/P", "/Table", "/TH", "/TD", "/Figure", "/L"} <= kinds
    claims = root["/Metadata"].get_data().decode()
    assert "<pdfaid:part>2</pdfaid:part>" in claims
    assert "<pdfaid:conformance>A</pdfaid:conformance>" in claims
    assert "<pdfuaid:part>1</pdfuaid:part>" in claims


def kinds_below(element):
    element = element.get_object()
    if isinstance(element, pypdf.generic.ArrayObject):
        for each in element:
            yield from kinds_below(each)
    elif isinstance(element, pypdf.generic.DictionaryObject):
        if "/S" in element:
            yield element["/S"]
        if "/K" in element:
            yield from kinds_below(element["/K"])


def test_every_picture_has_words_for_who_cannot_see_it(reader):
    figures = list(figures_below(reader.trailer["/Root"]["/StructTreeRoot"]))
    # What options cost, what matters, the side view, three faces, the photo that is there, and two
    # plots of each of two passes.
    assert len(figures) == 11
    assert [figure for figure in figures if len(figure.get("/Alt", "")) < 10] == []


def figures_below(element):
    element = element.get_object()
    if isinstance(element, pypdf.generic.ArrayObject):
        for each in element:
            yield from figures_below(each)
    elif isinstance(element, pypdf.generic.DictionaryObject):
        if element.get("/S") == "/Figure":
            yield element
        elif "/K" in element:
            yield from figures_below(element["/K"])


def test_the_bookmarks_are_the_sections(reader, numbers):
    top = [entry.title for entry in reader.outline if not isinstance(entry, list)]
    assert top == [section.heading for section in build_sections(numbers, BY_MONEY)]


def test_all_fonts_are_inside(poppler, pdf):
    lines = poppler("pdffonts", pdf, output=None).decode().splitlines()[2:]
    assert len(lines) >= 2
    assert any("Roboto" in line for line in lines)
    for line in lines:
        embedded, _subset, unicode_ = line.split()[-5:-2]
        assert (embedded, unicode_) == ("yes", "yes")


def test_nothing_reaches_over_the_margins(poppler, pdf, paper):
    width_mm, height_mm = page_size_mm(paper)
    words = list(words_of(poppler, pdf))
    assert len(words) > 1000
    over = [
        word
        for word in words
        if word.left_mm < MARGIN_MM - 0.5
        or word.right_mm > width_mm - MARGIN_MM + 0.5
        or word.bottom_mm > height_mm - 5
    ]
    assert over == []


def test_no_two_words_lie_on_each_other(poppler, pdf, paper):
    by_page = {}
    for word in words_of(poppler, pdf):
        # The name of a circled place stands on a plate of its own over whatever is there.
        if not re.fullmatch(r"K\d+", word.words):
            by_page.setdefault(word.page, []).append(word)
    clashes = [
        (one.words, other.words)
        for words in by_page.values()
        for one, other in combinations(words, 2)
        if min(one.right_mm, other.right_mm) - max(one.left_mm, other.left_mm) > 0.3
        and min(one.bottom_mm, other.bottom_mm) - max(one.top_mm, other.top_mm) > 1.5
    ]
    assert clashes == []


def test_a_table_over_several_pages_repeats_its_headers(reader, pdf):
    starts = {
        entry.title: reader.get_destination_page_number(entry)
        for entry in reader.outline
        if not isinstance(entry, list)
    }
    first, last = starts["Every tube, end by end"], starts["About this report"]
    pages = [squeezed(text) for text in text_of(pdf)[first : last + 1]]
    with_rows = [page for page in pages if re.search(r"P3-R\d\d-C\d\d3(sound|not|leak)", page)]
    assert len(pages) >= 2
    assert with_rows
    for page in with_rows:
        assert "frontendasfound" in page
        assert "rearendasfound" in page


def test_the_same_numbers_give_the_same_bytes(made_files, numbers, photo_path):
    assert rendered(numbers, photo_path) == made_files[Paper.A4]


def test_what_people_typed_is_never_read_as_markup(make_numbers):
    numbers, photo_path = make_numbers(MARKUP)
    facts = replace(numbers.facts, tag=MARKUP, owner=MARKUP)
    numbers = replace(numbers, facts=facts)
    pdf = rendered_part(numbers, photo_path, build_bad_tubes, *WITH_NOTES)
    text = squeezed("".join(text_of(pdf)))
    # Note, finding, part and caption of the record; tag and owner on the first page.
    assert text.count(squeezed(MARKUP)) >= 5


def test_a_word_without_an_end_is_broken_and_not_cut(numbers, photo_path, poppler):
    word = "".join(f"{number:03d}" for number in range(300))
    numbers = replace(numbers, facts=replace(numbers.facts, owner=word))
    pdf = rendered_part(numbers, photo_path, build_examined)
    assert word in squeezed("".join(text_of(pdf)))
    assert max(each.right_mm for each in words_of(poppler, pdf)) <= 210 - MARGIN_MM + 0.5


def test_a_text_longer_than_a_page_goes_on_overleaf(make_numbers):
    words = " ".join(f"w{number}" for number in range(3000))
    numbers, photo_path = make_numbers(words)
    text = squeezed("".join(text_of(rendered_part(numbers, photo_path, *WITH_NOTES))))
    assert "w0w1w2" in text
    assert "w2997w2998w2999" in text


def test_letters_that_the_programs_fonts_lack_do_not_stop_the_report(numbers, photo_path):
    facts = replace(numbers.facts, owner="\u30dc\u30a4\u30e9\u30fc \U0001fbc5\u202e")
    pdf = rendered_part(replace(numbers, facts=facts), photo_path, build_bad_tubes)
    root = pypdf.PdfReader(BytesIO(pdf)).trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]
    assert "P2-R02-C03" in "".join(text_of(pdf))


def test_photos_are_shown_whole_and_keep_their_shape(poppler, pdf, paper):
    lines = poppler("pdfimages", pdf, "-list", output=None).decode().splitlines()[2:]
    (photo,) = [line.split() for line in lines if line.split()[2] == "image"]
    width_px, height_px, x_ppi, y_ppi = (float(photo[at]) for at in (3, 4, 12, 13))
    assert (width_px, height_px) == (720, 480)
    assert x_ppi == pytest.approx(y_ppi, rel=0.02)
    # Two columns with 5 mm between them, 64 mm high: a picture cut to fill its box would be larger.
    column_mm = (page_size_mm(paper)[0] - 2 * MARGIN_MM - 5) / 2
    assert width_px / x_ppi * 25.4 <= column_mm + 0.5
    assert height_px / y_ppi * 25.4 <= 64.5


def test_a_photo_that_has_not_arrived_is_awaited(pdf):
    words = "photo awaited: its record is here, its file has not arrived"
    assert squeezed(words) in squeezed("".join(text_of(pdf)))


def test_photos_none_of_which_arrived_are_all_awaited(numbers):
    lost = squeezed("".join(text_of(rendered_part(numbers, lambda record: None, build_photos))))
    assert lost.count(squeezed("photo awaited")) == 2


def test_without_the_typesetter_it_says_what_to_install(numbers, photo_path, monkeypatch):
    monkeypatch.setitem(sys.modules, "typst", None)
    with pytest.raises(FieldAppError, match=r"python3 -m pip install 'tubewright\[office\]'"):
        render_pdf(numbers, (), photo_path)


# --------------------------------------------------------------------------- pixels of a page


@pytest.fixture(scope="module")
def drawn_tubes(numbers, photo_path, poppler, tmp_path_factory):
    """A piece of the rasterised maps for each look that occurs, 200 pixels to the inch.

    No place is circled, so that no circle runs through a tube.
    """
    numbers = replace(numbers, clusters=())
    pdf = rendered_part(numbers, photo_path, build_maps)
    words = list(words_of(poppler, pdf))
    folder = tmp_path_factory.mktemp("pages")
    tops = [word for word in words if word.words == "top" and word.bottom_mm < 60]
    for page in {top.page for top in tops}:
        only = ("-f", str(page + 1), "-l", str(page + 1), "-singlefile")
        poppler("pdftoppm", pdf, "-r", "200", "-png", *only, output=str(folder / str(page)))
    pages = {top.page: Image.open(folder / f"{top.page}.png").convert("RGB") for top in tops}
    faces = [face for face in faces_of(numbers) if ends_shown(face)]
    assert len(tops) == len(faces)
    pieces = {}
    for face, top in zip(faces, tops, strict=True):
        picture = build_face_picture(numbers, face, FacePictureOptions(legend=False))
        said = next(each for each in picture.primitives if getattr(each, "words", "") == "top")
        base_mm = top.top_mm + (top.bottom_mm - top.top_mm) * ASCENT / (ASCENT + DESCENT)
        by_key = {each.tube.key: each for each in numbers.tubes}
        for group in picture.primitives:
            if isinstance(group, Group) and group.tube:
                look = look_of(by_key[group.tube], ends_shown(face)[by_key[group.tube].tube.pass_])
                x_mm = top.left_mm - said.x + group.dx
                y_mm = base_mm - said.y + group.dy
                pieces.setdefault(look, cut(pages[top.page], x_mm, y_mm))
    return pieces


def cut(page, x_mm, y_mm, half_mm=2.9):
    scale = 200 / 25.4
    box = [round(scale * each) for each in (x_mm - half_mm, y_mm - half_mm)]
    side = round(2 * half_mm * scale)
    return page.crop((box[0], box[1], box[0] + side, box[1] + side))


@pytest.mark.parametrize("mode", ["RGB", "L"], ids=["colour", "grey"])
def test_every_state_can_be_told_apart_on_the_printed_map(drawn_tubes, mode):
    plain = {
        "sound": TubeLook(state=State.SOUND),
        "thinned": TubeLook(state=State.THINNED),
        "leaking": TubeLook(state=State.LEAKING),
        "leaking at the joint": TubeLook(state=State.LEAKING, joint_leak=True),
        "split": TubeLook(state=State.SPLIT),
        "plugged": TubeLook(state=State.PLUGGED),
        "weeping plug": TubeLook(state=State.PLUGGED, plug_bad=True),
        "not inspected": TubeLook(state=None),
    }
    assert [name for name, look in plain.items() if look not in drawn_tubes] == []
    images = {name: drawn_tubes[look].convert(mode) for name, look in plain.items()}
    if os.environ.get("TUBEWRIGHT_SHOW"):
        for name, image in images.items():
            image.save(f"{os.environ['TUBEWRIGHT_SHOW']}/{name}-{mode}.png")
    alike = {
        (one, other): difference
        for one, other in combinations(images, 2)
        if (difference := mean_difference(images[one], images[other])) < 6.0
    }
    assert alike == {}


def test_the_strokes_of_a_thinned_tube_are_on_the_printed_map(drawn_tubes):
    """Some engines draw hatching empty; then a thinned tube prints as a plain disc."""

    def strokes(state):
        piece = drawn_tubes[TubeLook(state=state)].convert("L")
        middle, reach = piece.width // 2, piece.width // 3
        dark = [piece.getpixel((x, middle)) < 100 for x in range(middle - reach, middle + reach)]
        return sum(one and not other for one, other in pairwise(dark))

    assert strokes(State.THINNED) >= 2
    assert strokes(State.PLUGGED) == 0


def mean_difference(one, other):
    """Mean difference of pixels, 0 to 255, with the images laid on each other as well as can be.

    A tube may lie part of a pixel beside the middle of its piece, which is no difference.
    """
    best = 255.0
    for dx in (-1, 0, 1):
        for dy in (-1, 0, 1):
            moved = ImageChops.offset(other, dx, dy)
            inner = (2, 2, one.width - 2, one.height - 2)
            means = ImageStat.Stat(ImageChops.difference(one, moved).crop(inner)).mean
            best = min(best, sum(means) / len(means))
    return best
