"""Maps to fill in by hand: every tube with its number, and only what stays is drawn already."""

from dataclasses import replace
from datetime import UTC, datetime
from io import BytesIO

import pypdf
import pytest
from PIL import Image

from fieldapp.drawing.legend import describe
from fieldapp.drawing.primitives import Group, Text, flatten
from fieldapp.report.hand_maps import HandMaps, build_hand_pages, render_hand_maps, staying_looks
from fieldapp.report.paper import MapPaper
from model.record.words import End

AT = datetime(2026, 9, 16, 10, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def tubes(numbers):
    return [each.tube for each in numbers.tubes]


@pytest.fixture(scope="module")
def blank(numbers, tubes):
    return HandMaps(facts=numbers.facts, tubes=tubes, looks={}, known_on=None)


@pytest.fixture(scope="module")
def marked(numbers, blank):
    return replace(blank, looks=staying_looks(numbers), known_on="2026-09-15")


def tube_groups(primitives):
    for each in primitives:
        if isinstance(each, Group):
            if each.tube is not None:
                yield each
            else:
                yield from tube_groups(each.children)


def numbers_in(page):
    """Column numbers by tube key, None where a mark is drawn instead."""
    return {
        group.tube: next((c.words for c in group.children if isinstance(c, Text)), None)
        for group in tube_groups(page.primitives)
    }


def said(page):
    return " ".join(shape.words for shape in flatten(page.primitives) if isinstance(shape, Text))


def test_a_blank_map_has_the_column_in_every_tube_of_the_face(blank, tubes):
    front, chamber, rear = build_hand_pages(blank, MapPaper.A4)
    assert numbers_in(front) == {tube.key: str(tube.column) for tube in tubes}
    assert set(numbers_in(chamber)) == {tube.key for tube in tubes if tube.pass_ == 2}
    assert set(numbers_in(rear)) == {tube.key for tube in tubes if tube.pass_ == 3}
    assert "mirrored, column 1 is at the right" in said(rear)


def test_what_stays_is_drawn_and_everything_else_is_left_empty(marked, what_is_what):
    front, chamber, rear = (numbers_in(page) for page in build_hand_pages(marked, MapPaper.A4))
    drawn = {key for key, number in {**front, **chamber, **rear}.items() if number is None}
    assert drawn | {key for key, number in front.items() if number is None} >= {
        what_is_what[what]
        for what in ("carried plug, not looked at", "split", "thinned", "joint leak", "bore leak")
    }
    for what in ("finding to act on", "settled", "said sound, measured thin"):
        assert front[what_is_what[what]] is not None


def test_what_stood_there_last_is_drawn_as_not_confirmed(numbers):
    looks = staying_looks(numbers)
    assert numbers.inspection.facts.is_closed
    assert all("from last time, not confirmed" in describe(look) for look in looks.values())
    assert not any(look.filled or look.finding or look.disputed for look in looks.values())


def test_what_was_seen_in_an_open_inspection_is_drawn_as_seen(numbers, what_is_what):
    facts = replace(numbers.inspection.facts, closes=())
    going_on = replace(numbers, inspection=replace(numbers.inspection, facts=facts))
    looks = staying_looks(going_on)
    holes = {each.tube.key: each.hole for each in numbers.tubes}
    assert not looks[holes[what_is_what["split"]], End.REAR].carried
    assert looks[holes[what_is_what["carried plug, not looked at"]], End.FRONT].carried


@pytest.mark.parametrize(
    ("paper", "size_mm"),
    [
        (MapPaper.A4, (297.0, 210.0)),
        (MapPaper.A3, (420.0, 297.0)),
        (MapPaper.LETTER, (279.4, 215.9)),
    ],
)
def test_a_page_lies_across_the_paper(blank, paper, size_mm):
    pages = build_hand_pages(blank, paper)
    assert [(page.width_mm, page.height_mm) for page in pages] == [size_mm] * 3


def test_there_is_a_picture_of_every_face_and_one_pdf_of_all(blank):
    files = render_hand_maps(blank, MapPaper.A4, AT)
    assert set(files) == {
        *("blank-map-front.png", "blank-map-chamber-1.png", "blank-map-rear.png"),
        "blank-maps.pdf",
    }
    with Image.open(BytesIO(files["blank-map-front.png"])) as image:
        assert image.size == (2339, 1654)
    reader = pypdf.PdfReader(BytesIO(files["blank-maps.pdf"]))
    assert len(reader.pages) == 3
    assert reader.pages[0].mediabox.width > reader.pages[0].mediabox.height


def test_numbers_are_larger_on_larger_paper(blank):
    def size(paper):
        page = build_hand_pages(blank, paper)[0]
        return max(
            child.size
            for group in tube_groups(page.primitives)
            for child in group.children
            if isinstance(child, Text)
        )

    assert size(MapPaper.A3) == pytest.approx(1.42 * size(MapPaper.A4), rel=0.05)


def test_the_same_maps_give_the_same_bytes(marked):
    maps = replace(marked, facts=replace(marked.facts, faces=marked.facts.faces[1:2]))
    one, other = (render_hand_maps(maps, MapPaper.A4, AT) for _ in range(2))
    assert set(one) == {"marked-map-chamber-1.png", "marked-maps.pdf"}
    assert one == other


def test_everything_stays_on_the_page(marked):
    facts = replace(marked.facts, tag="T" * 300)
    for page in build_hand_pages(replace(marked, facts=facts), MapPaper.LETTER):
        for shape in flatten(page.primitives):
            if isinstance(shape, Text):
                assert 0 < shape.x < page.width_mm
                assert 0 < shape.y < page.height_mm
