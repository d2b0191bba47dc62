"""The governing wall of every tube in an inspection, and whether it is below the retirement wall.

The thinnest trusted reading governs. Readings belong to the life of the tube that stood in the
hole; they never carry into a later inspection's figures, but a wall that was below the retirement
wall goes on counting until it is measured again, or the tube is plugged or replaced. Not here:
which readings are trusted, rates, remaining life, the walls of the rules.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from model.condition.states import FoldedBoiler, FoldedInspection, Life
from model.record.words import State
from model.wall.trusted_readings import (
    TrustedReading,
    first_wall_mm,
    nominal_wall_mm,
    thinnest_of,
    trusted_readings,
)

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
    """0 where nobody said how accurate the gauge is: the wall is then judged as it was read."""
    is_accuracy_known: bool
    """Whether the 0 was stated; whoever shows the wall or its verdict says where it was not."""
    verdict: WallVerdict | None
    """None without a retirement wall."""
    record: str

    def is_thin(self, note_percent: float) -> bool:
        """Whether the worst loss is beyond the note threshold; exactly at it is not beyond.

        Decimals are not exact: a loss of 3.0 to 2.4 mm must not come out beyond 20 %.
        """
        return self.worst_loss_percent is not None and self.worst_loss_percent > note_percent + 1e-9


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
    trusted = trusted_readings(boiler, inspection, default_wall_mm=default_wall_mm)
    measured_today = {record.id for record in inspection.readings}
    plugged = {hole for (hole, _), end in inspection.found.items() if end.state is State.PLUGGED}

    def walls(hole: str, life: Life, readings: Sequence[TrustedReading]) -> GoverningWall | None:
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
    readings: Sequence[TrustedReading],
    nominal_mm: float | None,
    retirement_mm: float | None,
) -> GoverningWall | None:
    """The thinnest of the last inspection that measured this life, and its reference wall."""
    last = max((reading.order for reading in readings), default=None)
    thinnest = thinnest_of(reading for reading in readings if reading.order == last)
    if last is None or thinnest is None:
        return None
    earlier = [r for r in readings if r.order < last or (r.is_baseline and r is not thinnest)]
    reference = first_wall_mm(earlier) if earlier else nominal_mm
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


def _verdict(wall_mm: float, accuracy_mm: float, retirement_mm: float | None) -> WallVerdict | None:
    if retirement_mm is None:
        return None
    if wall_mm + accuracy_mm < retirement_mm - _SAME_MM:
        return WallVerdict.BELOW
    is_above = wall_mm - accuracy_mm >= retirement_mm - _SAME_MM
    return WallVerdict.ABOVE if is_above else WallVerdict.WITHIN_ERROR
