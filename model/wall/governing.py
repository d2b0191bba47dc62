"""The governing wall of every tube in an inspection, and whether it is below the retirement wall.

The thinnest trusted reading governs. Readings belong to the life of the tube that stood in the
hole; they never carry into a later inspection's figures, but a wall that was below the retirement
wall goes on counting until it is measured again, or the tube is plugged or replaced. Not here:
rates, remaining life, the walls of the rules.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from model.condition.states import FoldedBoiler, FoldedInspection, Life
from model.record.line import Record
from model.record.words import Purpose, State
from model.tubesheet.layout import Tube

IMPLAUSIBLE_FACTOR = 1.3
"""A wall above 1.3 x nominal is asked about (ours): new tubes may measure up to 22 % over."""
_SAME_MM = 1e-9
"""Decimals are not exact: 1.7 + 0.1 must not come out below 1.8."""


class WallVerdict(StrEnum):
    """Where a wall stands against the retirement wall."""

    ABOVE = "above"
    WITHIN_ERROR = "within-error"
    BELOW = "below"


@dataclass(frozen=True, slots=True, kw_only=True)
class GoverningWall:
    """The wall that governs one tube of one life."""

    wall_mm: float
    measured_on: str
    reference_mm: float | None
    loss_percent: float | None
    """Of the reference wall."""
    is_first_reading: bool
    """Whether no earlier reading of this tube exists; then the reference is the nominal wall."""
    nominal_loss_percent: float | None
    """Of the wall as supplied."""
    worst_loss_percent: float | None
    """Of the reference or the nominal wall, whichever shows more."""
    accuracy_mm: float
    """0 where nobody said how accurate the gauge is."""
    is_accuracy_known: bool
    verdict: WallVerdict | None
    """None without a retirement wall."""
    record: str


@dataclass(frozen=True, slots=True, kw_only=True)
class InspectionWalls:
    """Governing walls of one inspection, by hole class."""

    today: Mapping[str, GoverningWall]
    """Measured in this inspection, on the tube as found."""
    baseline: Mapping[str, GoverningWall]
    """Measured in this inspection, on the tube as left (readings of purpose baseline)."""
    below_from_earlier: Mapping[str, GoverningWall]
    """Below the retirement wall when last measured, same tube, not measured today, and not plugged
    as found."""
    plugged_as_left: frozenset[str] = frozenset()

    def below_as_found(self) -> frozenset[str]:
        return frozenset(_below(self.today) | self.below_from_earlier.keys())

    def below_as_left(self, renewed: frozenset[str]) -> frozenset[str]:
        earlier = self.below_from_earlier.keys() - self.plugged_as_left
        return frozenset(((_below(self.today) | earlier) - renewed) | _below(self.baseline))


def _below(walls: Mapping[str, GoverningWall]) -> set[str]:
    return {hole for hole, wall in walls.items() if wall.verdict is WallVerdict.BELOW}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Trusted:
    hole: str
    life: int
    order: int
    """Place of its inspection among all, because two may be of one day."""
    date: str
    wall_mm: float
    accuracy_mm: float | None
    is_baseline: bool
    record: str


def nominal_wall_mm(tube: Tube, life: Life, default_mm: float | None) -> float | None:
    """The wall as supplied: of the replacement, else of the layout, else of the boiler."""
    return next(
        (wall for wall in (life.wall_mm, tube.wall_mm, default_mm) if wall is not None), None
    )


def is_implausible(wall_mm: float, nominal_mm: float | None) -> bool:
    """Whether a wall is so much thicker than nominal that somebody must confirm it."""
    return nominal_mm is not None and wall_mm > IMPLAUSIBLE_FACTOR * nominal_mm


def inspection_walls(
    boiler: FoldedBoiler,
    inspection: FoldedInspection,
    *,
    default_wall_mm: float | None,
    retirement_mm: float | None,
) -> InspectionWalls:
    """Governing walls of an inspection.

    Parameters: ``default_wall_mm`` the boiler's nominal wall [mm]; ``retirement_mm`` the
    retirement wall [mm], None when nobody stated one.
    """
    tubes = {tube.hole: tube for tube in boiler.tubes}
    trusted: dict[str, list[_Trusted]] = defaultdict(list)
    for order, earlier in enumerate(boiler.inspections):
        for reading in _trusted(earlier, order, boiler, tubes, default_wall_mm, trusted):
            trusted[reading.hole].append(reading)
        if earlier is inspection:
            break
    measured_today = {record.id for record in inspection.readings}
    plugged = {hole for (hole, _), end in inspection.found.items() if end.state is State.PLUGGED}

    def walls(hole: str, life: Life, readings: Sequence[_Trusted]) -> GoverningWall | None:
        nominal = nominal_wall_mm(tubes[hole], life, default_wall_mm)
        return _governing(readings, nominal, retirement_mm)

    today: dict[str, GoverningWall] = {}
    baseline: dict[str, GoverningWall] = {}
    below: dict[str, GoverningWall] = {}
    for hole, readings in trusted.items():
        found_life = inspection.carried_in.life(hole)
        left_life = inspection.carried_out.life(hole)
        found = walls(hole, found_life, [r for r in readings if r.life == found_life.number])
        if found is not None and found.record in measured_today:
            today[hole] = found
        elif found is not None and found.verdict is WallVerdict.BELOW and hole not in plugged:
            below[hole] = found
        if left_life.number != found_life.number:
            left = walls(hole, left_life, [r for r in readings if r.life == left_life.number])
            if left is not None:
                baseline[hole] = left
    return InspectionWalls(
        today=today,
        baseline=baseline,
        below_from_earlier=below,
        plugged_as_left=frozenset(
            hole for (hole, _), end in inspection.left.items() if end.state is State.PLUGGED
        ),
    )


def _governing(
    readings: Sequence[_Trusted],
    nominal_mm: float | None,
    retirement_mm: float | None,
) -> GoverningWall | None:
    """The thinnest of the last inspection that measured this life, and its reference wall."""
    if not readings:
        return None
    last = max(reading.order for reading in readings)
    thinnest = min(
        (reading for reading in readings if reading.order == last),
        key=lambda reading: (reading.wall_mm, reading.record),
    )
    earlier = [r for r in readings if r.order < last or (r.is_baseline and r is not thinnest)]
    reference = _first_wall(earlier) if earlier else nominal_mm
    losses = [
        (wall - thinnest.wall_mm) / wall * 100.0
        for wall in (reference, nominal_mm)
        if wall is not None and wall > 0
    ]
    accuracy_mm = thinnest.accuracy_mm or 0.0
    return GoverningWall(
        wall_mm=thinnest.wall_mm,
        measured_on=thinnest.date,
        reference_mm=reference,
        loss_percent=losses[0] if reference is not None else None,
        is_first_reading=not earlier,
        nominal_loss_percent=losses[-1] if nominal_mm else None,
        worst_loss_percent=max(losses, default=None),
        accuracy_mm=accuracy_mm,
        is_accuracy_known=thinnest.accuracy_mm is not None,
        verdict=_verdict(thinnest.wall_mm, accuracy_mm, retirement_mm),
        record=thinnest.record,
    )


def _first_wall(readings: Iterable[_Trusted]) -> float:
    """The first trusted reading; of several in one inspection the thickest, the least worn."""
    first = min(readings, key=lambda reading: (reading.order, -reading.wall_mm))
    return first.wall_mm


def _verdict(wall_mm: float, accuracy_mm: float, retirement_mm: float | None) -> WallVerdict | None:
    if retirement_mm is None:
        return None
    if wall_mm + accuracy_mm < retirement_mm - _SAME_MM:
        return WallVerdict.BELOW
    is_above = wall_mm - accuracy_mm >= retirement_mm - _SAME_MM
    return WallVerdict.ABOVE if is_above else WallVerdict.WITHIN_ERROR


def _trusted(
    inspection: FoldedInspection,
    order: int,
    boiler: FoldedBoiler,
    tubes: Mapping[str | None, Tube],
    default_wall_mm: float | None,
    earlier: Mapping[str, Sequence[_Trusted]],
) -> list[_Trusted]:
    """The inspection's readings outside the rolled zone that are plausible or confirmed."""
    gauges = _Gauges(inspection.facts.instruments)
    chosen: list[_Trusted] = []
    for record in inspection.readings:
        body = record.body
        hole = boiler.hole_class(body["hole"])
        if body["in_rolled_zone"] or hole not in tubes:
            continue
        is_baseline = body["purpose"] == Purpose.BASELINE
        carry = inspection.carried_out if is_baseline else inspection.carried_in
        life = carry.life(hole)
        nominal = nominal_wall_mm(tubes[hole], life, default_wall_mm)
        wall = _wall_mm(record, earlier.get(hole, ()), life, nominal)
        if wall is None or (is_implausible(wall, nominal) and not body["confirmed"]):
            continue
        chosen.append(
            _Trusted(
                hole=hole,
                life=life.number,
                order=order,
                date=inspection.facts.date or "",
                wall_mm=wall,
                accuracy_mm=gauges.accuracy_mm(body),
                is_baseline=is_baseline,
                record=record.id,
            )
        )
    return chosen


def _wall_mm(
    record: Record, earlier: Sequence[_Trusted], life: Life, nominal_mm: float | None
) -> float | None:
    """The wall of a reading; a loss in percent is taken from the reference wall."""
    if record.body["wall_mm"] is not None:
        return float(record.body["wall_mm"])
    same_life = [reading for reading in earlier if reading.life == life.number]
    reference = _first_wall(same_life) if same_life else nominal_mm
    if reference is None:
        return None
    return float(reference * (1.0 - record.body["loss_percent"] / 100.0))


class _Gauges:
    """How accurate readings are, by the instruments that were recorded once for an inspection."""

    def __init__(self, instruments: Iterable[Mapping[str, object]]) -> None:
        self._tools = {plain_name(str(tool["name"])): tool for tool in instruments}

    def accuracy_mm(self, reading: Mapping[str, Any]) -> float | None:
        """As the reading says, else of the instrument it names; None when nobody said."""
        stated = reading["accuracy_mm"]
        if stated is not None:
            return float(stated)
        name = plain_name(reading["instrument"])
        tool = self._tools.get(name) if name else self._only(reading["method"])
        accuracy = None if tool is None else tool.get("accuracy_mm")
        return float(accuracy) if isinstance(accuracy, int | float) else None

    def _only(self, method: str | None) -> Mapping[str, object] | None:
        """The only instrument of a method: a reading that names none was made with it."""
        fitting = [tool for tool in self._tools.values() if tool.get("method") == method]
        return fitting[0] if method is not None and len(fitting) == 1 else None


def plain_name(name: str) -> str:
    """An instrument's name as it is compared: case and blanks ignored."""
    return "".join(name.split()).casefold()
