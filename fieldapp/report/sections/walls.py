"""The walls as pictures: a map of each pass by margin, how many have which wall, and the trend.

Not here: the drawing (``fieldapp.drawing.wall_map``, ``wall_charts``), the tables (``readings``).
"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date
from functools import partial

from fieldapp.drawing.wall_charts import (
    TubeTrend,
    WorstBound,
    build_wall_histogram,
    build_wall_trend,
)
from fieldapp.drawing.wall_map import CLOSE_MM, Margin, WallSpot, build_wall_map
from fieldapp.report.face_grounds import tube_radii_mm
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Chart, Paragraph, Piece, Section
from fieldapp.report.tube_words import say_tube
from fieldapp.report.wall_words import ERROR_NOT_STATED
from fieldapp.report.wording import say_count
from model.condition.tubes import TubeCondition
from model.record.fields import last_day
from model.wall.governing import GoverningWall, WallVerdict
from model.wall.life import DAYS_PER_YEAR
from model.wall.trusted_readings import TrustedReading
from model.wall.tube_life import PLACE_WINDOW_MM, is_same_place


def build_walls(numbers: ConditionNumbers) -> Section:
    """Pictures of each pass in which something was measured today."""
    pieces: list[Piece] = []
    for number in sorted({each.tube.pass_ for each in numbers.tubes}):
        of_pass = [each for each in numbers.tubes if each.tube.pass_ == number]
        if any(numbers.wall_of(each) is not None for each in of_pass):
            pieces += _charts(numbers, number, of_pass)
    if not pieces:
        pieces = [Paragraph(words="No wall was measured in this inspection.")]
    return Section(key="walls", heading="Walls, pass by pass", pieces=tuple(pieces))


def _charts(
    numbers: ConditionNumbers, number: int, of_pass: Sequence[TubeCondition]
) -> list[Piece]:
    measured = [wall for each in of_pass if (wall := numbers.wall_of(each)) is not None]
    retirement_mm = numbers.retirement.wall_mm
    said = (
        f"Pass {number}: {say_count(len(measured), 'tube')} measured of {len(of_pass)}, thinnest "
        f"{min(wall.wall_mm for wall in measured):.2f} mm"
    )
    charts: list[Piece] = [
        Chart(
            title=f"Pass {number}: walls measured",
            caption="Seen from the front. The number is the governing wall in mm; the fill is its "
            f"margin to the retirement wall, in steps of {CLOSE_MM:g} mm and the gauge's error.",
            build=partial(build_wall_map, _spots(numbers, of_pass), words=f"{said}, as a map."),
        ),
        Chart(
            title=f"Pass {number}: how many tubes have which wall",
            caption="Governing walls measured in this inspection, suspect tubes among them: no "
            "sample of the whole pass.",
            build=partial(
                build_wall_histogram,
                [wall.wall_mm for wall in measured],
                retirement_mm=retirement_mm,
                words=f"{said}, as a histogram.",
            ),
        ),
    ]
    outage = _next_outage(numbers)
    trends = [trend for each in of_pass for trend in _trends(numbers, each, outage)]
    if any(len(trend.points) > 1 for trend in trends):
        charts.append(
            Chart(
                title=f"Pass {number}: walls over the years",
                caption="Each line is one place of one tube measured today: readings of one end "
                f"within {PLACE_WINDOW_MM:g} mm and of the tube now in its hole."
                + ("" if outage is None else _ABOUT_BROKEN_LINES)
                + (_ABOUT_DIAMONDS if _bounds(numbers, number) else ""),
                build=partial(
                    build_wall_trend,
                    trends,
                    retirement_mm=retirement_mm,
                    next_outage=outage,
                    bounds=_bounds(numbers, number),
                    words=f"{said}, by year.",
                ),
            )
        )
    return charts


_ABOUT_BROKEN_LINES = (
    " Broken lines lead to the next outage at the tube's governing rate, for thinning only."
)

_ABOUT_DIAMONDS = (
    " A diamond is the wall that every tube nobody measured keeps with 90 %, by the forecast."
)


def _bounds(numbers: ConditionNumbers, number: int) -> list[WorstBound]:
    return [
        WorstBound(year=_year(ahead.on), wall_mm=ahead.bound_mm)
        for each in numbers.worst
        if each.pass_ == number
        for ahead in (each.now, each.at_outage)
        if ahead is not None and ahead.on
    ]


def _spots(numbers: ConditionNumbers, of_pass: Sequence[TubeCondition]) -> list[WallSpot]:
    radii_mm = tube_radii_mm(numbers.facts, [each.tube for each in of_pass])
    return [
        WallSpot(
            tube=each.tube.key,
            title=_title(each, wall := numbers.wall_of(each)),
            row=each.tube.row,
            x_mm=each.tube.x_mm,
            y_mm=each.tube.y_mm,
            radius_mm=radius_mm,
            margin=_margin(wall, numbers.retirement.wall_mm),
            wall_mm=None if wall is None else wall.wall_mm,
        )
        for each, radius_mm in zip(of_pass, radii_mm, strict=True)
    ]


def _title(each: TubeCondition, wall: GoverningWall | None) -> str:
    said = "not measured" if wall is None else f"{wall.wall_mm:.2f} mm"
    if wall is not None and not wall.is_accuracy_known:
        said += f", {ERROR_NOT_STATED}"
    return f"{say_tube(each.tube)}: {said}"


def _margin(wall: GoverningWall | None, retirement_mm: float | None) -> Margin:
    if wall is None:
        return Margin.NOT_MEASURED
    if wall.verdict is None or retirement_mm is None:
        return Margin.NOT_JUDGED
    if wall.verdict is WallVerdict.BELOW:
        return Margin.BELOW
    if wall.verdict is WallVerdict.WITHIN_ERROR:
        return Margin.WITHIN_ERROR
    return Margin.CLOSE if wall.wall_mm < retirement_mm + CLOSE_MM - 1e-9 else Margin.AMPLE


def _next_outage(numbers: ConditionNumbers) -> float | None:
    """The next outage as a year, where the owner said when and it is after this inspection."""
    said, today = (
        numbers.facts.settings.get("outage", {}).get("next"),
        numbers.inspection.facts.date,
    )
    if not isinstance(said, str) or not said or not today:
        return None
    try:
        year = _year(said)
    except ValueError:
        return None
    return year if year > _year(today) else None


def _year(day: str) -> float:
    at = last_day(day)
    return at.year + (at - date(at.year, 1, 1)).days / DAYS_PER_YEAR


def _trends(
    numbers: ConditionNumbers, each: TubeCondition, outage: float | None
) -> Iterable[TubeTrend]:
    """One line for each place of the tube that was measured today; readings at no place alone."""
    life = numbers.lives.get(each.hole)
    readings = [r for r in numbers.trusted.get(each.hole, ()) if r.life == each.life.number]
    if life is None or not readings:
        return
    last = max(reading.order for reading in readings)
    drawn: list[TrustedReading] = []
    for place in (reading for reading in readings if reading.order == last and reading.date):
        if any(is_same_place(place, other) for other in drawn):
            continue
        drawn.append(place)
        points = _points([r for r in readings if r is place or is_same_place(place, r)])
        rate = life.governing_mm_per_year
        leads_to = None
        if rate is not None and outage is not None and not each.left.is_out_of_service:
            year, wall_mm = points[-1]
            leads_to = (outage, max(0.0, wall_mm - rate * (outage - year)))
        yield TubeTrend(points=points, leads_to=leads_to)


def _points(readings: Iterable[TrustedReading]) -> tuple[tuple[float, float], ...]:
    """The thinnest wall of each inspection, by year."""
    walls: dict[float, list[float]] = defaultdict(list)
    for reading in readings:
        if reading.date:
            walls[_year(reading.date)].append(reading.wall_mm)
    return tuple((year, min(walls[year])) for year in sorted(walls))
