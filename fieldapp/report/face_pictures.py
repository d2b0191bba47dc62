"""The maps of the report: every face as it is seen, with what stands there now.

A map shows each tube end **as left**: a leak that was plugged the same day is drawn plugged. What
nobody confirmed today is drawn as carried. Not here: the drawing (``fieldapp.drawing``), any count.
"""

import io
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from fieldapp.drawing.legend import Entry, describe, list_entries
from fieldapp.drawing.looks import look_of
from fieldapp.drawing.marks import TubeLook
from fieldapp.drawing.palette import LIGHT, Theme
from fieldapp.drawing.pixels import find_fonts, render_pixels
from fieldapp.drawing.primitives import Picture
from fieldapp.drawing.sheet_picture import SheetOptions, build_sheet
from fieldapp.drawing.sheet_view import (
    CircledSpot,
    DrawnTube,
    FurnaceOpening,
    OtherTube,
    SheetView,
)
from fieldapp.drawing.side_view import SideFace, SideView, build_side_view
from fieldapp.drawing.svg import render_svg
from fieldapp.errors import FieldAppError
from fieldapp.report.face_grounds import (
    boiler_faces,
    ends_shown,
    face_file_names,
    furnaces_at,
    side_faces,
    tube_radii_mm,
)
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.tube_words import say_end_found, say_tube
from model.condition.clusters import Cluster
from model.condition.states import EndFound, EndLeft
from model.condition.tubes import TubeCondition
from model.record.words import End
from model.tubesheet.faces import Face, is_mirrored, mirror_words

DOTS_PER_INCH = 200.0
SIDE_VIEW = "side-view"


@dataclass(frozen=True, slots=True, kw_only=True)
class FacePictureOptions:
    """How a map is drawn."""

    width_mm: float = 180.0
    theme: Theme = LIGHT
    labels: bool = False
    legend: bool = True


def faces_of(numbers: ConditionNumbers) -> tuple[Face, ...]:
    """The boiler's faces, or the usual ones of its kind when none were stated."""
    return boiler_faces(numbers.facts, [each.tube for each in numbers.tubes])


def build_face_picture(
    numbers: ConditionNumbers, face: Face, options: FacePictureOptions | None = None
) -> Picture:
    """One face as seen, as left, with a legend of the signs that occur on it."""
    chosen = options or FacePictureOptions()
    ends = ends_shown(face)
    radii = _radii_mm(numbers)
    facts = numbers.facts
    view = SheetView(
        title=f"{facts.tag}: {face.name}, {numbers.inspection.facts.date or 'no date'}, as left",
        mirror_words=mirror_words(face),
        mirrored=is_mirrored(face),
        shell_diameter_mm=facts.shell_diameter_mm,
        tubes=[
            _drawn_tube(numbers, each, ends[each.tube.pass_], radii[each.hole])
            for each in numbers.tubes
            if each.tube.pass_ in ends
        ],
        other_tubes=[
            OtherTube(x_mm=each.tube.x_mm, y_mm=each.tube.y_mm, radius_mm=radii[each.hole])
            for each in numbers.tubes
            if each.tube.pass_ not in ends
        ],
        furnaces=_furnaces(numbers, face),
        circles=[
            CircledSpot(x_mm=each.x_mm, y_mm=each.y_mm, diameter_mm=each.span_mm, name=name)
            for name, each in named_clusters(numbers)
            if each.sheet == face.sheet and each.status == "refer"
        ],
    )
    sheet = SheetOptions(
        width_mm=chosen.width_mm,
        theme=chosen.theme,
        labels=chosen.labels,
        legend=chosen.legend,
    )
    return build_sheet(view, sheet)


def legend_of(numbers: ConditionNumbers, face: Face) -> tuple[Entry, ...]:
    """The signs that occur on a face, with their words, for a legend outside the picture."""
    ends = ends_shown(face)
    return list_entries(
        look_of(each, ends[each.tube.pass_]) for each in numbers.tubes if each.tube.pass_ in ends
    )


def build_side_picture(numbers: ConditionNumbers, theme: Theme = LIGHT) -> Picture:
    """The boiler from its side, with where one stands at each face."""
    view = SideView(
        title=f"{numbers.facts.tag}: where the faces are",
        kind=numbers.facts.kind,
        faces=_side_faces(numbers),
        has_furnace=bool(numbers.facts.furnaces),
    )
    return build_side_view(view, theme)


def map_names(numbers: ConditionNumbers) -> Mapping[str, str]:
    """Name of each face's map without its ending, by the face's key."""
    return face_file_names(faces_of(numbers))


def render_maps(numbers: ConditionNumbers, kind: str) -> dict[str, bytes]:
    """The map of every face and the side view as ``svg`` or ``png`` files, by name."""
    if kind not in ("svg", "png"):
        raise FieldAppError(f"A map is no {kind} file; choose svg or png.")
    pictures = {SIDE_VIEW: build_side_picture(numbers)}
    names = map_names(numbers)
    for face in faces_of(numbers):
        pictures[names[face.key]] = build_face_picture(numbers, face)
    render = _svg if kind == "svg" else _png
    return {f"{name}.{kind}": render(picture) for name, picture in pictures.items()}


def render_map_files(numbers: ConditionNumbers, formats: Collection[str]) -> dict[str, bytes]:
    """The maps in each of the formats asked for."""
    files: dict[str, bytes] = {}
    for kind in formats:
        files.update(render_maps(numbers, kind))
    return files


def named_clusters(numbers: ConditionNumbers) -> tuple[tuple[str, Cluster], ...]:
    """Every cluster with the short name by which maps and tables call it."""
    return tuple((f"K{number}", each) for number, each in enumerate(numbers.clusters, start=1))


def _drawn_tube(
    numbers: ConditionNumbers, each: TubeCondition, end: End, radius_mm: float
) -> DrawnTube:
    look = look_of(each, end)
    return DrawnTube(
        key=each.tube.key,
        label=f"{say_tube(each.tube)}, {end} end",
        x_mm=each.tube.x_mm,
        y_mm=each.tube.y_mm,
        radius_mm=radius_mm,
        look=look,
        row=each.tube.row,
        column=each.tube.column,
        pass_number=each.tube.pass_,
        words=_tube_words(numbers, each, end, look),
    )


def _tube_words(numbers: ConditionNumbers, each: TubeCondition, end: End, look: TubeLook) -> str:
    """What a reader asks of a tube end that they point at."""
    found, left = each.ends_found[end], each.ends_left[end]
    said = [describe(look)]
    if left.carried and left.since:
        said.append(f"since {left.since}")
    if _was_changed(found, left):
        said.append(f"found {say_end_found(found)}")
    elif found.state is None and found.reason is not None:
        said.append(str(found.reason).replace("-", " "))
    if each.left.bad:
        said.append(f"bad: {', '.join(each.left.bad)}")
    wall = numbers.wall_of(each)
    if wall is not None:
        said.append(f"wall {wall.wall_mm:.2f} mm")
    return "; ".join(said)


def _was_changed(found: EndFound, left: EndLeft) -> bool:
    """Whether the work of this outage changed the end."""
    return found.state is not None and found.state is not left.state


def _radii_mm(numbers: ConditionNumbers) -> Mapping[str, float]:
    """Radius of each tube by hole."""
    radii = tube_radii_mm(numbers.facts, [each.tube for each in numbers.tubes])
    return {each.hole: radius for each, radius in zip(numbers.tubes, radii, strict=True)}


def _side_faces(numbers: ConditionNumbers) -> list[SideFace]:
    return side_faces(faces_of(numbers))


def _furnaces(numbers: ConditionNumbers, face: Face) -> list[FurnaceOpening]:
    return furnaces_at(numbers.facts, faces_of(numbers), face)


def _svg(picture: Picture) -> bytes:
    return render_svg(picture).encode("utf-8")


def _png(picture: Picture) -> bytes:
    image = render_pixels(picture, dots_per_inch=DOTS_PER_INCH, fonts=find_fonts())
    file = io.BytesIO()
    image.save(file, format="PNG", optimize=False, dpi=(DOTS_PER_INCH, DOTS_PER_INCH))
    return file.getvalue()
