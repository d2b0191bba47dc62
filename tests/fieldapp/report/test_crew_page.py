"""The crew list on paper: every task at its face, in the words of the terminal, on whole pages."""

from dataclasses import replace

import pytest

from fieldapp.drawing.pixels import find_fonts
from fieldapp.drawing.primitives import Text, flatten
from fieldapp.drawing.text_width import TextRuler
from fieldapp.report.crew_page import build_crew_pages, render_crew_pages
from fieldapp.report.crew_tasks import AS_DECIDED, list_tasks
from fieldapp.report.crew_words import PLUG_OR_REPLACE_IS_DECIDED
from fieldapp.report.paper import Paper, page_size_mm
from model.tubesheet.faces import mirror_words


@pytest.fixture(scope="module")
def ruler():
    return TextRuler(fonts=find_fonts())


def words_of(page):
    return " ".join(shape.words for shape in flatten(page.primitives) if isinstance(shape, Text))


@pytest.mark.parametrize("paper", list(Paper))
def test_every_face_has_its_page_with_every_row_that_has_work(numbers, ruler, paper):
    pages = build_crew_pages(numbers, paper, ruler)
    by_face = list_tasks(numbers)
    assert len(pages) >= len(by_face)
    for face, tasks in by_face:
        of_face = " ".join(w for w in map(words_of, pages) if face.name in w)
        assert mirror_words(face) in of_face
        assert {f"row {task.row}:" for task in tasks} <= {
            f"row {number}:" for number in range(100) if f"row {number}:" in of_face
        }
        for do in {task.do for task in tasks}:
            assert do in of_face


def test_nothing_stands_beyond_the_paper(numbers, ruler):
    for page in build_crew_pages(numbers, Paper.A4, ruler):
        width_mm, height_mm = page_size_mm(Paper.A4)
        for shape in flatten(page.primitives):
            if isinstance(shape, Text):
                assert 5.0 <= shape.x <= width_mm - 5.0
                assert 5.0 <= shape.y <= height_mm - 5.0


def test_the_pressure_caution_stands_on_every_page(numbers, ruler):
    for page in build_crew_pages(numbers, Paper.A4, ruler):
        assert "never drive a plug" in words_of(page)


def test_every_page_with_a_bad_tube_says_who_decides_and_no_other_does(numbers, ruler):
    pages = [words_of(page) for page in build_crew_pages(numbers, Paper.A4, ruler)]
    for face, tasks in list_tasks(numbers):
        of_face = [words for words in pages if face.name in words]
        asks = any(task.do in AS_DECIDED for task in tasks)
        assert of_face
        assert {PLUG_OR_REPLACE_IS_DECIDED in words for words in of_face} == {asks}
    sound = replace(numbers, tubes=[each for each in numbers.tubes if not each.left.is_bad])
    for page in build_crew_pages(sound, Paper.A4, ruler):
        assert PLUG_OR_REPLACE_IS_DECIDED not in words_of(page)


def test_the_same_record_at_the_same_time_gives_the_same_files(numbers):
    files = render_crew_pages(numbers)
    assert files == render_crew_pages(replace(numbers))
    assert files["crew.pdf"].startswith(b"%PDF")
    assert all(data.startswith(b"\x89PNG") for name, data in files.items() if name != "crew.pdf")
