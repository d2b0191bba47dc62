"""Maps of the faces to print and fill in by hand: blank, or with what stood there last.

One landscape page a face, drawn by Pillow alone: the face as seen with a number in every tube, and
beside it the signs to draw and lines for notes. Pre-marked are the states that stay until somebody
says otherwise (thinned, leaking, split, plugged); a tube that was sound is left empty, because
sound must be seen anew. Not here: reading what was written.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from fieldapp.drawing.legend import ADDED_ENTRIES, STATE_ENTRIES, Entry, arrange_entries
from fieldapp.drawing.looks import look_of
from fieldapp.drawing.marks import TubeLook
from fieldapp.drawing.palette import LIGHT
from fieldapp.drawing.pixels import find_fonts
from fieldapp.drawing.primitives import Group, Picture
from fieldapp.drawing.scaling import scale_picture
from fieldapp.drawing.sheet_picture import SheetOptions, build_sheet
from fieldapp.drawing.sheet_view import DrawnTube, OtherTube, SheetView
from fieldapp.drawing.text_width import TextRuler
from fieldapp.report.face_grounds import (
    boiler_faces,
    ends_shown,
    face_file_names,
    furnaces_at,
    tube_radii_mm,
)
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.page_flow import Flow
from fieldapp.report.paper import MapPaper, page_size_mm
from fieldapp.report.pixel_pages import pdf_of, png_of, render_pages
from fieldapp.report.shown_text import shown_text
from fieldapp.report.tube_words import say_tube
from model.condition.boiler_facts import BoilerFacts
from model.record.words import End, State
from model.tubesheet.faces import Face, is_mirrored, mirror_words
from model.tubesheet.layout import Tube

DOTS_PER_INCH = 200.0
_SHEET_MM = 180.0
"""Width at which a sheet is drawn before it is made to fit its page."""
_PANEL_MM = 78.0
"""Room beside the sheet on A4; wider in proportion on larger paper."""
_STAYING = (State.THINNED, State.LEAKING, State.SPLIT, State.PLUGGED)

Looks = Mapping[tuple[str, End], TubeLook]
"""What stood at a tube end last, by hole and end, where it stays until somebody says otherwise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HandMaps:
    """What is to be printed: a boiler, and for pre-marked maps what stood there and when."""

    facts: BoilerFacts
    tubes: Sequence[Tube]
    looks: Looks
    known_on: str | None
    """The day of the inspection from which the marks are; None for blank maps."""


def staying_looks(numbers: ConditionNumbers) -> dict[tuple[str, End], TubeLook]:
    """What an inspection leaves behind, end by end, without what belongs to that day alone.

    Of a closed inspection nothing is confirmed on the day on which the map is filled in.
    """
    is_over = numbers.inspection.facts.is_closed
    looks: dict[tuple[str, End], TubeLook] = {}
    for each in numbers.tubes:
        for end in End:
            look = look_of(each, end)
            if look.state in _STAYING:
                looks[each.hole, end] = replace(
                    look,
                    carried=look.carried or is_over,
                    disputed=False,
                    filled=False,
                    finding=None,
                    replaced=False,
                )
    return looks


def render_hand_maps(maps: HandMaps, paper: MapPaper, printed_at: datetime) -> dict[str, bytes]:
    """One PDF of all faces and a PNG of each, by name."""
    faces = _faces(maps)
    pages = build_hand_pages(maps, paper)
    drawn = render_pages(pages, dots_per_inch=DOTS_PER_INCH, fonts=find_fonts())
    kind = "blank" if maps.known_on is None else "marked"
    names = face_file_names(faces)
    files = {
        f"{kind}-{names[face.key]}.png": png_of(page, DOTS_PER_INCH)
        for face, page in zip(faces, drawn, strict=True)
    }
    title = shown_text(f"Maps of {maps.facts.tag} to fill in by hand, {kind}")
    files[f"{kind}-maps.pdf"] = pdf_of(
        drawn, dots_per_inch=DOTS_PER_INCH, title=title, printed_at=printed_at
    )
    return files


def build_hand_pages(maps: HandMaps, paper: MapPaper) -> list[Picture]:
    """One page for every face with tube ends."""
    ruler = TextRuler(fonts=find_fonts())
    return [_build_page(maps, face, paper, ruler) for face in _faces(maps)]


def _faces(maps: HandMaps) -> list[Face]:
    return [face for face in boiler_faces(maps.facts, maps.tubes) if ends_shown(face)]


def _build_page(maps: HandMaps, face: Face, paper: MapPaper, ruler: TextRuler) -> Picture:
    """The sheet on the left as large as the page is high, the panel on the right."""
    height_mm, width_mm = page_size_mm(paper)
    panel_mm = _PANEL_MM * height_mm / page_size_mm(MapPaper.A4)[0]
    sheet = _build_sheet(maps, face)
    page = Flow(size_mm=(width_mm, height_mm), ruler=ruler, margin_mm=9.0)
    factor = min(page.room_mm / sheet.height_mm, (page.width_mm - panel_mm - 4.0) / sheet.width_mm)
    sheet = scale_picture(sheet, factor)
    page.drawn.append(Group(children=sheet.primitives, dx=page.margin_mm, dy=page.margin_mm))
    panel = Flow(
        size_mm=(width_mm, height_mm),
        ruler=ruler,
        margin_mm=9.0,
        left_mm=page.margin_mm + sheet.width_mm + 4.0,
        y_mm=page.margin_mm,
    )
    _fill_panel(panel, maps)
    page.drawn += panel.drawn
    about = "blank" if maps.known_on is None else f"marked with what stood there {maps.known_on}"
    page.foot(f"{maps.facts.tag}, {face.name}, {about}", "")
    return page.picture(f"{sheet.words} To be filled in by hand, {about}.")


def _build_sheet(maps: HandMaps, face: Face) -> Picture:
    ends = ends_shown(face)
    drawn: list[DrawnTube] = []
    others: list[OtherTube] = []
    radii = tube_radii_mm(maps.facts, maps.tubes)
    for tube, radius_mm in zip(maps.tubes, radii, strict=True):
        end = ends.get(tube.pass_)
        if end is None:
            others.append(OtherTube(x_mm=tube.x_mm, y_mm=tube.y_mm, radius_mm=radius_mm))
        else:
            look = maps.looks.get((tube.hole or "", end), TubeLook(state=None))
            drawn.append(_drawn(tube, end, radius_mm, look))
    view = SheetView(
        title=f"{maps.facts.tag}: {face.name}",
        mirror_words=mirror_words(face),
        mirrored=is_mirrored(face),
        shell_diameter_mm=maps.facts.shell_diameter_mm,
        tubes=drawn,
        other_tubes=others,
        furnaces=furnaces_at(maps.facts, boiler_faces(maps.facts, maps.tubes), face),
    )
    marked = frozenset(each.key for each in drawn if each.look.state is not None)
    return build_sheet(
        view, SheetOptions(width_mm=_SHEET_MM, legend=False, blank=True, marked=marked)
    )


def _drawn(tube: Tube, end: End, radius_mm: float, look: TubeLook) -> DrawnTube:
    return DrawnTube(
        key=tube.key,
        label=f"{say_tube(tube)}, {end} end",
        x_mm=tube.x_mm,
        y_mm=tube.y_mm,
        radius_mm=radius_mm,
        look=look,
        row=tube.row,
        column=tube.column,
        pass_number=tube.pass_,
    )


def _fill_panel(panel: Flow, maps: HandMaps) -> None:
    for label in ("Inspector", "Date"):
        panel.blanks((label,))
    panel.gap(4.0)
    panel.line("Signs to draw", 3.6, bold=True)
    drawn, legend_mm = arrange_entries(
        _signs(maps),
        x_mm=0.0,
        y_mm=0.0,
        width_mm=panel.width_mm,
        theme=LIGHT,
        radius_mm=2.4,
    )
    panel.place(Group(children=tuple(drawn)), legend_mm)
    panel.gap(1.0)
    words = (
        "The number in a tube is its column, which counts from the left as seen from the front. "
        "Leave a tube empty where nobody looked, and write why beside it."
    )
    if maps.known_on is not None:
        words += (
            f" What is drawn already stood there {maps.known_on} and is not seen today: tick it "
            "when you see it, strike it out when it is otherwise."
        )
    for line in panel.wrap(words, 3.0):
        panel.line(line, 3.0)
    panel.gap(2.0)
    panel.line("Readings and notes: row, number, what, wall", 3.6, bold=True)
    while panel.room_mm > 9.0:
        panel.blanks(("",))


def _signs(maps: HandMaps) -> tuple[Entry, ...]:
    """The signs that a hand can draw, and the one for what stood there before."""
    signs = [entry for entry in STATE_ENTRIES if entry.look.state is not None]
    carried = any(look.carried for look in maps.looks.values())
    return (*signs, *(entry for entry in ADDED_ENTRIES if carried and entry.look.carried))
