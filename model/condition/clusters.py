"""Where plugs are: open places of each tube sheet against the pitch that stays may have.

A plugged tube no longer holds the sheet, and a plugged stay tube is always referred, however narrow
the place. An engineering flag, never a verdict: the constants are
for stays fixed through the plate, and that tubes count the same is not shown by the source. Not
here: the geometry (``model.tubesheet.largest_circles``), the formula (``stayed_plate``).
"""

from collections.abc import Sequence
from dataclasses import dataclass

from model.condition.tubes import TubeCondition
from model.record.words import State
from model.tubesheet.faces import Face, Sheet, ends_on_sheet
from model.tubesheet.largest_circles import open_circles
from model.tubesheet.layout import Circle
from model.tubesheet.stayed_plate import stayed_plate_pitch_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Cluster:
    """One open place around plugs. ``status`` is ok, refer or unknown."""

    sheet: str
    tubes: tuple[str, ...]
    span_mm: float
    permitted_mm: float | None
    status: str
    x_mm: float
    y_mm: float


def find_clusters(
    tubes: Sequence[TubeCondition],
    sheets: Sequence[Sheet],
    faces: Sequence[Face],
    *,
    shell_diameter_mm: float | None,
    furnaces: Sequence[Circle],
    mawp_mpa: float | None,
) -> tuple[Cluster, ...]:
    """Every open place around plugs as left, sheet by sheet, widest first."""
    clusters: list[Cluster] = []
    for sheet in sheets:
        passes = {shown.pass_ for shown in ends_on_sheet(faces, sheet.key)}
        ending_here = [each for each in tubes if each.tube.pass_ in passes]
        plugged = [each for each in ending_here if each.left.state is State.PLUGGED]
        if not plugged:
            continue
        permitted = permitted_pitch_mm(sheet, mawp_mpa)
        stays = {each.tube.key for each in plugged if each.tube.kind == "stay"}
        circles = open_circles(
            [(t.tube.x_mm, t.tube.y_mm) for t in ending_here if t.left.state is not State.PLUGGED],
            {each.tube.key: (each.tube.x_mm, each.tube.y_mm) for each in plugged},
            None if shell_diameter_mm is None else shell_diameter_mm / 2.0,
            furnaces,
        )
        clusters.extend(
            Cluster(
                sheet=sheet.key,
                tubes=circle.removed,
                span_mm=circle.span_mm,
                permitted_mm=permitted,
                status="refer"
                if stays & set(circle.removed)
                else _status(circle.span_mm, permitted),
                x_mm=circle.x_mm,
                y_mm=circle.y_mm,
            )
            for circle in circles
        )
    return tuple(clusters)


def permitted_pitch_mm(sheet: Sheet, mawp_mpa: float | None) -> float | None:
    """Largest pitch of stays for the sheet [mm]; None without plate, stress or MAWP."""
    if not sheet.plate_mm or not sheet.stress_mpa or not mawp_mpa:
        return None
    return stayed_plate_pitch_mm(
        plate_mm=sheet.plate_mm, pressure_mpa=mawp_mpa, stress_mpa=sheet.stress_mpa
    )


def _status(span_mm: float, permitted_mm: float | None) -> str:
    if permitted_mm is None:
        return "unknown"
    return "refer" if span_mm > permitted_mm else "ok"
