"""The crew list as pages in large letters, one face after another, to take into the boiler.

Drawn by Pillow alone. Not here: what is to be done (``crew_tasks``) and in which words
(``crew_words``).
"""

from collections.abc import Iterator
from itertools import groupby

from fieldapp.cautions import PRESSURE
from fieldapp.drawing.pixels import find_fonts
from fieldapp.drawing.primitives import Picture
from fieldapp.drawing.text_width import TextRuler
from fieldapp.report.crew_tasks import Task, list_tasks
from fieldapp.report.crew_words import (
    COUNT_FROM_THE_LEFT,
    TO_BE_ACCEPTED,
    decision_lines,
    say_row,
)
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.page_flow import Flow
from fieldapp.report.paper import Paper, page_size_mm
from fieldapp.report.pixel_pages import pdf_of, png_of, render_pages
from fieldapp.report.shown_text import shown_text
from fieldapp.report.wording import say_moment
from model.tubesheet.faces import Face, is_mirrored, mirror_words

DOTS_PER_INCH = 150.0
_HEAD_MM = 6.0
_ROW_MM = 5.0
_WORDS_MM = 3.4
_SMALL_MM = 2.8


def render_crew_pages(numbers: ConditionNumbers, paper: Paper = Paper.A4) -> dict[str, bytes]:
    """The pages as PNG files and as one PDF, by name."""
    fonts = find_fonts()
    pages = build_crew_pages(numbers, paper, TextRuler(fonts=fonts))
    drawn = render_pages(pages, dots_per_inch=DOTS_PER_INCH, fonts=fonts)
    files = {f"crew-{n}.png": png_of(page, DOTS_PER_INCH) for n, page in enumerate(drawn, start=1)}
    files["crew.pdf"] = pdf_of(
        drawn,
        dots_per_inch=DOTS_PER_INCH,
        title=shown_text(f"Crew list {numbers.report_number}"),
        printed_at=numbers.printed_at,
    )
    return files


def build_crew_pages(
    numbers: ConditionNumbers, paper: Paper, ruler: TextRuler
) -> tuple[Picture, ...]:
    """A page for every face, and more where its rows do not fit on one."""
    flows: list[Flow] = []
    for face, tasks in list_tasks(numbers):
        flows += _face_flows(numbers, face, tasks, paper, ruler)
    for number, flow in enumerate(flows, start=1):
        foot = f"Report number {numbers.report_number}, printed {say_moment(numbers.printed_at)}"
        flow.foot(foot, f"page {number} of {len(flows)}")
    words = f"Crew list of {numbers.facts.tag}"
    return tuple(flow.picture(f"{words}, page {n}.") for n, flow in enumerate(flows, start=1))


def _face_flows(
    numbers: ConditionNumbers, face: Face, tasks: list[Task], paper: Paper, ruler: TextRuler
) -> list[Flow]:
    decided = decision_lines(tasks)
    flows = [_headed(numbers, face, decided, paper, ruler)]
    for words, size_mm, is_head in _lines(face, tasks):
        lines = flows[-1].wrap(words, size_mm)
        if flows[-1].room_mm < 1.5 * size_mm * len(lines):
            flows.append(_headed(numbers, face, decided, paper, ruler))
        for line in lines:
            flows[-1].line(line, size_mm, bold=is_head)
        flows[-1].gap(1.2)
    return flows


def _headed(
    numbers: ConditionNumbers, face: Face, decided: list[str], paper: Paper, ruler: TextRuler
) -> Flow:
    """A new page with the face and what must be known before work."""
    flow = Flow(size_mm=page_size_mm(paper), ruler=ruler)
    date = numbers.inspection.facts.date or "no date"
    flow.line(f"{numbers.facts.tag}: {face.name}, {date}", _HEAD_MM, bold=True)
    said = [mirror_words(face), *decided, TO_BE_ACCEPTED, f"Pressure. {PRESSURE}"]
    if is_mirrored(face):
        said.insert(1, COUNT_FROM_THE_LEFT)
    for words in said:
        for line in flow.wrap(words, _SMALL_MM):
            flow.line(line, _SMALL_MM)
        flow.gap(0.8)
    flow.gap(2.0)
    return flow


def _lines(face: Face, tasks: list[Task]) -> Iterator[tuple[str, float, bool]]:
    """Words, size, and whether they head what follows."""
    if not tasks:
        yield "Nothing to do at this face.", _WORDS_MM, False
    for pass_, of_pass in groupby(tasks, key=lambda task: task.pass_):
        yield f"pass {pass_}", _ROW_MM, True
        for row, of_row in groupby(of_pass, key=lambda task: task.row):
            said = say_row(list(of_row), with_key_columns=is_mirrored(face))
            yield f"row {row}: {said}", _ROW_MM, False
