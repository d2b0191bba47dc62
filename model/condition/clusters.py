"""Where plugs are: open places of each tube sheet against the pitch that stays may have.

A plugged tube no longer holds the sheet, and a plugged stay tube is always referred, however narrow
the place. An engineering flag, never a verdict: the constants are for stays fixed through the
plate, and that tubes count the same is not shown by the source. Only tubes and rims count as
holding: stays outside the tubes and the edge of a turnaround chamber cannot be entered. Not here:
the geometry (``model.tubesheet.largest_circles``), the formula (``stayed_plate``).
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from model.condition.boiler_facts import BoilerFacts
from model.condition.tubes import TubeCondition
from model.record.words import State
from model.tubesheet.faces import Face, Sheet, ends_on_sheet
from model.tubesheet.largest_circles import OpenCircle, open_circles
from model.tubesheet.layout import Circle
from model.tubesheet.point_grid import PointGrid, usual_spacing
from model.tubesheet.stayed_plate import stayed_plate_pitch_mm

WIDEST_ACCEPTED_MM: Final = 100_000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Cluster:
    """One open place around plugs. ``status`` is ok, refer or unknown."""

    sheet: str
    tubes: tuple[str, ...]
    span_mm: float
    bare_mm: float
    """Width about the same centre with every tube of the sheet in service."""
    permitted_mm: float | None
    permitted_by: str | None = None
    """Whose answer the permitted width is; None where it follows from plate, stress and MAWP."""
    status: str
    x_mm: float
    y_mm: float

    @property
    def is_wider_than_permitted(self) -> bool:
        return self.permitted_mm is not None and self.span_mm > self.permitted_mm

    @property
    def is_bare(self) -> bool:
        """Wider than permitted whatever is plugged: what holds the plate there is not entered."""
        return self.permitted_mm is not None and self.bare_mm > self.permitted_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class AcceptedWidth:
    """The width of open places that an engineer accepts on one sheet, and whose answer it is."""

    width_mm: float
    basis: str


def clusters_of(tubes: Sequence[TubeCondition], facts: BoilerFacts) -> tuple[Cluster, ...]:
    """Every open place around plugs of a boiler, its engineer's answers taken in."""
    return find_clusters(
        tubes,
        facts.sheets,
        facts.faces,
        shell_diameter_mm=facts.shell_diameter_mm,
        furnaces=facts.furnaces,
        mawp_mpa=facts.mawp_mpa,
        accepted=accepted_widths(facts.settings.get("limits", {})),
    )


def find_clusters(
    tubes: Sequence[TubeCondition],
    sheets: Sequence[Sheet],
    faces: Sequence[Face],
    *,
    shell_diameter_mm: float | None,
    furnaces: Sequence[Circle],
    mawp_mpa: float | None,
    accepted: Mapping[str, AcceptedWidth] | None = None,
) -> tuple[Cluster, ...]:
    """Every open place around plugs as left, sheet by sheet, widest first.

    ``accepted``, by the key of the sheet, takes the place of the permitted pitch. A bare place
    (``Cluster.is_bare``) stands beside the narrower ones of the same plugs, never for them: every
    plug lies in a place that is not bare.
    """
    clusters: list[Cluster] = []
    for sheet in sheets:
        passes = {shown.pass_ for shown in ends_on_sheet(faces, sheet.key)}
        clusters += _of_sheet(
            [each for each in tubes if each.tube.pass_ in passes],
            sheet,
            mawp_mpa,
            (accepted or {}).get(sheet.key),
            None if shell_diameter_mm is None else shell_diameter_mm / 2.0,
            furnaces,
        )
    return tuple(clusters)


def permitted_pitch_mm(sheet: Sheet, mawp_mpa: float | None) -> float | None:
    """Largest pitch of stays for the sheet [mm]; None without plate, stress or MAWP."""
    if not sheet.plate_mm or not sheet.stress_mpa or not mawp_mpa:
        return None
    return stayed_plate_pitch_mm(
        plate_mm=sheet.plate_mm, pressure_mpa=mawp_mpa, stress_mpa=sheet.stress_mpa
    )


def accepted_widths(limits: Mapping[str, Any]) -> Mapping[str, AcceptedWidth]:
    """The engineer's answers in the settings' ``limits``, by the key of the sheet.

    Another program may have stored anything: what is no width with a basis is left out.
    """
    stored = limits.get("cluster")
    found: dict[str, AcceptedWidth] = {}
    for sheet, answer in stored.items() if isinstance(stored, Mapping) else ():
        given = answer if isinstance(answer, Mapping) else {}
        width_mm, basis = _width_mm(given.get("act_mm")), given.get("basis")
        if width_mm is not None and isinstance(basis, str) and basis.strip():
            found[sheet] = AcceptedWidth(width_mm=width_mm, basis=basis.strip())
    return found


def _width_mm(value: Any) -> float | None:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return float(value) if 0.0 < value <= WIDEST_ACCEPTED_MM else None


def _of_sheet(
    tubes: Sequence[TubeCondition],
    sheet: Sheet,
    mawp_mpa: float | None,
    answer: AcceptedWidth | None,
    shell_radius_mm: float | None,
    furnaces: Sequence[Circle],
) -> list[Cluster]:
    """The open places of one sheet; ``tubes`` are those that end in it."""
    plugged = {
        each.tube.key: (each.tube.x_mm, each.tube.y_mm)
        for each in tubes
        if each.left.state is State.PLUGGED
    }
    if not plugged:
        return []
    points = [(each.tube.x_mm, each.tube.y_mm) for each in tubes]
    every_tube = PointGrid(points, usual_spacing(points))
    stays = {each.tube.key for each in tubes if each.tube.kind == "stay"}
    permitted_mm = permitted_pitch_mm(sheet, mawp_mpa) if answer is None else answer.width_mm

    def cluster(circle: OpenCircle) -> Cluster:
        holds_stay = not stays.isdisjoint(circle.removed)
        return Cluster(
            sheet=sheet.key,
            tubes=circle.removed,
            span_mm=circle.span_mm,
            bare_mm=_bare_mm(circle, every_tube),
            permitted_mm=permitted_mm,
            permitted_by=None if answer is None else answer.basis,
            status="refer" if holds_stay else _status(circle.span_mm, permitted_mm),
            x_mm=circle.x_mm,
            y_mm=circle.y_mm,
        )

    circles = open_circles(
        [(t.tube.x_mm, t.tube.y_mm) for t in tubes if t.left.state is not State.PLUGGED],
        plugged,
        shell_radius_mm,
        furnaces,
        stands_for_none=lambda circle: cluster(circle).is_bare,
    )
    return [cluster(circle) for circle in circles]


def _bare_mm(circle: OpenCircle, tubes: PointGrid) -> float:
    """Twice the distance to the nearest tube; the rims are no nearer than the circle's edge."""
    near = tubes.within(circle.x_mm, circle.y_mm, circle.span_mm / 2.0)
    return min(circle.span_mm, 2.0 * min((far for _, far in near), default=math.inf))


def _status(span_mm: float, permitted_mm: float | None) -> str:
    if permitted_mm is None:
        return "unknown"
    return "refer" if span_mm > permitted_mm else "ok"
