"""Pictures of a sheet that is not recorded yet: a plan as typed, and marks as they would be moved.

Not here: the shapes (``fieldapp.drawing``).
"""

from collections.abc import Mapping, Sequence

from fieldapp.drawing.marks import TubeLook
from fieldapp.drawing.palette import Theme
from fieldapp.drawing.primitives import Picture
from fieldapp.drawing.sheet_picture import SheetOptions, build_sheet
from fieldapp.drawing.sheet_view import DrawnTube, SheetView
from fieldapp.view.face_map import FaceMap
from fieldapp.view.row_plan_form import RowPlanForm
from model.tubesheet.layout import Tube

_USUAL_OD_MM = 50.8
WIDTH_MM = 110.0
"""Of the picture: its words stay readable where it is half a screen wide."""
_FRONT = "Seen from the front, looking rearward: not mirrored, column 1 is at the left."
_UNKNOWN = TubeLook(state=None)


def plan_picture(tubes: Sequence[Tube], form: RowPlanForm, theme: Theme) -> Picture:
    """The tubes of a plan inside their shell, seen from the front."""
    radius_mm = _positive(form.od_mm, _USUAL_OD_MM) / 2.0
    drawn = [
        DrawnTube(
            key=tube.key,
            x_mm=tube.x_mm,
            y_mm=tube.y_mm,
            radius_mm=radius_mm if tube.od_mm is None else tube.od_mm / 2.0,
            look=TubeLook(state=None, stay=tube.kind == "stay"),
            label=tube.label or tube.key,
            row=tube.row,
            column=tube.column,
            pass_number=tube.pass_,
        )
        for tube in tubes
    ]
    view = SheetView(
        title=form.tag.strip() or "New boiler",
        mirror_words=_FRONT,
        mirrored=False,
        tubes=drawn,
        shell_diameter_mm=_positive(form.shell_mm, 0.0) or None,
    )
    return build_sheet(view, SheetOptions(theme=theme, legend=False, width_mm=WIDTH_MM))


def face_picture(face: FaceMap, looks: Mapping[str, TubeLook], title: str, theme: Theme) -> Picture:
    """A face as seen with the looks given by hole; every other end is drawn as not looked at."""
    view = SheetView(
        title=title,
        mirror_words=face.words,
        mirrored=False,  # a face map is turned around already
        tubes=[
            DrawnTube(
                key=end.key,
                x_mm=end.x_mm,
                y_mm=end.y_mm,
                radius_mm=end.radius_mm,
                look=looks.get(end.hole, _UNKNOWN),
                label=end.label,
                row=end.row,
                column=end.column,
                pass_number=end.pass_number,
            )
            for end in face.ends
        ],
        shell_diameter_mm=face.shell_diameter_mm,
        other_tubes=face.others,
        furnaces=face.furnaces,
    )
    return build_sheet(view, SheetOptions(theme=theme, width_mm=WIDTH_MM))


def _positive(text: str, usual: float) -> float:
    try:
        value = float(text.strip().replace(",", "."))
    except ValueError:
        return usual
    return value if 0.0 < value < 100_000.0 else usual
