"""The site sheet: two pages to hand over before leaving, drawn by Pillow alone on the tablet.

The first page has the numbers and the lists, the second the maps, the names and the cautions. A
list too long for its page is cut and says so; it is whole in the report. Not here: the lists'
content (``site_lists``), the office's report.
"""

from collections.abc import Sequence

from fieldapp.cautions import CAUTIONS
from fieldapp.drawing.legend import arrange_entries, list_entries
from fieldapp.drawing.looks import look_of
from fieldapp.drawing.palette import LIGHT
from fieldapp.drawing.pixels import find_fonts
from fieldapp.drawing.primitives import Group, Picture
from fieldapp.drawing.scaling import scale_picture
from fieldapp.drawing.text_width import TextRuler
from fieldapp.report.face_grounds import ends_shown
from fieldapp.report.face_pictures import FacePictureOptions, build_face_picture, faces_of
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.page_flow import Flow
from fieldapp.report.paper import Paper, page_size_mm
from fieldapp.report.pixel_pages import pdf_of, png_of, render_pages
from fieldapp.report.sections.examined import examiners
from fieldapp.report.shown_text import shown_text
from fieldapp.report.site_lists import SiteList, build_site_lists
from fieldapp.report.wording import UNKNOWN, say_count, say_list, say_moment, say_percent
from model.condition.counts import Totals

DOTS_PER_INCH = 200.0
_LETTERS_MM = 3.0
_SMALL_MM = 2.4
_ROW_MM = 4.6
_LIST_LINE_MM = 4.1
_NAMES_MM = 27.0
_MAP_MM = 150.0
"""Width at which a map is drawn before it is made smaller, letters and all."""
_MAP_GAP_MM = 4.0
_STATES = ("sound", "thinned", "leaking", "plugged", "split", "not_inspected")


def render_site_sheet(numbers: ConditionNumbers, paper: Paper = Paper.A4) -> dict[str, bytes]:
    """The pages as PNG files and as one PDF, by name."""
    fonts = find_fonts()
    pages = build_site_pages(numbers, paper, TextRuler(fonts=fonts))
    drawn = render_pages(pages, dots_per_inch=DOTS_PER_INCH, fonts=fonts)
    files = {
        f"site-sheet-{number}.png": png_of(page, DOTS_PER_INCH)
        for number, page in enumerate(drawn, start=1)
    }
    files["site-sheet.pdf"] = pdf_of(
        drawn,
        dots_per_inch=DOTS_PER_INCH,
        title=shown_text(f"Site sheet {numbers.report_number}"),
        printed_at=numbers.printed_at,
    )
    return files


def build_site_pages(
    numbers: ConditionNumbers, paper: Paper, ruler: TextRuler
) -> tuple[Picture, ...]:
    """The two pages."""
    first, second = (Flow(size_mm=page_size_mm(paper), ruler=ruler) for _ in range(2))
    _draw_numbers(first, numbers)
    _draw_lists(first, build_site_lists(numbers))
    _draw_maps(second, numbers)
    pages = []
    for number, flow in enumerate((first, second), start=1):
        foot = f"Report number {numbers.report_number}, printed {say_moment(numbers.printed_at)}"
        flow.foot(foot, f"page {number} of 2")
        pages.append(flow.picture(f"Site sheet of {numbers.facts.tag}, page {number} of 2."))
    return tuple(pages)


def _draw_numbers(flow: Flow, numbers: ConditionNumbers) -> None:
    facts, inspection = numbers.facts, numbers.inspection.facts
    flow.line(f"{facts.tag}: site sheet", 6.4, bold=True)
    where = ", ".join(each for each in (facts.owner, facts.site) if each)
    date = inspection.date or "no date"
    flow.line(f"{where + '; ' if where else ''}inspection of {date}", _LETTERS_MM)
    flow.line(
        "What was recorded until this sheet was made, as left. It is no permission to steam, and "
        "the office's report may differ.",
        _SMALL_MM,
    )
    flow.gap(1.5)
    totals, coverage = numbers.totals, numbers.coverage
    flow.boxes(
        (
            (str(totals.bad_now), f"bad, of {say_count(totals.tubes, 'tube')}"),
            (str(totals.joint_leaks_only), "leaking at the joint only"),
            (str(totals.plugged), f"plugged: at least {say_percent(totals.plugged_percent)}"),
            (
                say_percent(coverage.looked_at_percent),
                f"{coverage.looked_at} of {coverage.ends} ends looked at",
            ),
        )
    )
    _draw_counts(flow, numbers)


def _draw_counts(flow: Flow, numbers: ConditionNumbers) -> None:
    heads = ("pass", "tubes", *(each.replace("_", " ") for each in _STATES), "bad", "joint")
    rows = [(str(each.pass_), each.totals) for each in numbers.passes]
    flow.row(heads, _SMALL_MM, _ROW_MM)
    for name, totals in (*rows, ("boiler", numbers.totals)):
        flow.row((name, *_counts(totals)), _LETTERS_MM, _ROW_MM, bold=name == "boiler")
    flow.gap(1.0)


def _counts(totals: Totals) -> tuple[str, ...]:
    states = (getattr(totals, state) for state in _STATES)
    return tuple(map(str, (totals.tubes, *states, totals.bad_now, totals.joint_leaks_only)))


def _draw_lists(flow: Flow, lists: Sequence[SiteList]) -> None:
    """All lists, each with as many lines as there is room for."""
    wrapped = [
        [
            line
            for entry in (each.lines or (each.if_empty,))
            for line in flow.wrap(shown_text(entry), _LETTERS_MM)
        ]
        for each in lists
    ]
    head_mm = 7.0
    room = int((flow.room_mm - head_mm * len(lists)) / _LIST_LINE_MM)
    for each, lines, kept in zip(
        lists, wrapped, share_lines([len(lines) for lines in wrapped], room), strict=True
    ):
        flow.gap(1.8)
        flow.line(each.heading, 3.4, bold=True, line_mm=head_mm - 1.8)
        shown = lines
        if kept < len(lines):
            more = len(lines) - kept + 1
            shown = [*lines[: kept - 1], f"... {more} more lines: see the whole list in the report"]
        for line in shown:
            flow.line(line, _LETTERS_MM, line_mm=_LIST_LINE_MM)


def share_lines(wanted: Sequence[int], room: int) -> list[int]:
    """Lines for each list: what it wants, or an equal share with the other long ones.

    >>> share_lines([3, 50, 4], 20)
    [3, 13, 4]
    >>> share_lines([30, 30], 20)
    [10, 10]
    """
    given = list(wanted)
    while sum(given) > room and max(given) > 1:
        given[given.index(max(given))] -= 1
    return given


def _draw_maps(flow: Flow, numbers: ConditionNumbers) -> None:
    """The maps side by side, the legend of them all, names and cautions at the foot."""
    flow.line(f"{numbers.facts.tag}: every face as seen, as left", 5.0, bold=True)
    flow.gap(1.0)
    faces = [face for face in faces_of(numbers) if ends_shown(face)]
    entries = list_entries(
        look_of(each, end)
        for face in faces
        for pass_, end in ends_shown(face).items()
        for each in numbers.tubes
        if each.tube.pass_ == pass_
    )
    legend, legend_mm = arrange_entries(
        entries, x_mm=0.0, y_mm=0.0, width_mm=flow.width_mm, theme=LIGHT, radius_mm=1.5
    )
    cautions = [
        line for heading, said in CAUTIONS for line in flow.wrap(f"{heading}. {said}", _SMALL_MM)
    ]
    below_mm = legend_mm + _NAMES_MM + 3.2 * len(cautions) + 8.0
    _place_maps(flow, numbers, flow.room_mm - below_mm)
    flow.place(Group(children=tuple(legend)), legend_mm)
    flow.gap(2.0)
    names = shown_text(say_list(examiners(numbers)) or UNKNOWN)
    flow.line(flow.wrap(f"Examined by {names}", _LETTERS_MM)[0], _LETTERS_MM, bold=True)
    for who in ("Handed over by: name", "Received by: name"):
        flow.blanks((who, "date and time", "signature"))
    flow.gap(2.0)
    for line in cautions:
        flow.line(line, _SMALL_MM, line_mm=3.2)


def _place_maps(flow: Flow, numbers: ConditionNumbers, room_mm: float) -> None:
    """All maps in rows, in the number of columns in which they are largest."""
    faces = [face for face in faces_of(numbers) if ends_shown(face)]
    if not faces:
        return
    options = FacePictureOptions(width_mm=_MAP_MM, legend=False)
    pictures = [build_face_picture(numbers, face, options) for face in faces]
    tallest = max(picture.height_mm for picture in pictures)

    def factor_in(columns: int) -> float:
        column_mm = (flow.width_mm - _MAP_GAP_MM * (columns - 1)) / columns
        rows = -(-len(pictures) // columns)
        return min(column_mm / _MAP_MM, room_mm / (rows * tallest))

    columns = max(range(1, len(pictures) + 1), key=factor_in)
    factor = factor_in(columns)
    column_mm = flow.width_mm / columns
    spare_mm = (column_mm - _MAP_MM * factor) / 2
    for start in range(0, len(pictures), columns):
        maps = tuple(
            Group(
                children=scale_picture(picture, factor).primitives,
                dx=at * column_mm + spare_mm,
            )
            for at, picture in enumerate(pictures[start : start + columns])
        )
        flow.place(Group(children=maps), tallest * factor)
