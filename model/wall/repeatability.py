"""How well readings of one place agree with each other: the repeatability of each gauge.

Not here: how accurate a gauge is said to be (``trusted_readings``). Readings that agree may all be
wrong by as much: repeatability says nothing of a gauge that was set wrongly.
"""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from model.condition.states import FoldedInspection
from model.errors import OutOfRange
from model.wall.firm_results import survey_of
from model.wall.trusted_readings import TrustedReading, plain_name


@dataclass(frozen=True, slots=True, kw_only=True)
class PooledDeviation:
    """A standard deviation within groups, and on how much it rests."""

    deviation: float
    degrees_of_freedom: int


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeRepeatability:
    """What the repeated readings of one gauge say in one inspection."""

    instrument: str | None
    """As written; None where nobody named one."""
    method: str | None
    accuracy_mm: float | None
    """The gauge's error as stated."""
    places: int
    readings: int
    deviation_mm: float
    degrees_of_freedom: int

    @property
    def is_beyond_stated_error(self) -> bool:
        """Whether twice the deviation, what a reading strays by in 19 of 20, exceeds the error."""
        if self.accuracy_mm is None:
            return False
        return 2.0 * self.deviation_mm > self.accuracy_mm + 1e-9


def pooled_deviation(groups: Sequence[Sequence[float]]) -> PooledDeviation | None:
    """The standard deviation within groups of repeated readings, all groups together.

    Source: pooled variance, common practice; judged by the analysis of variance of another library.

    Scope: readings of one gauge in one hand, some of them of the same place. Each group has a mean
    of its own, so that the places may differ as they like.

    Equation: s^2 = sum of (x - mean of its group)^2 / (N - k), N readings in k groups.

    Parameters: ``groups`` of readings [any one unit]; a group of one says nothing and is passed
    over.

    Returns: ``PooledDeviation`` [the same unit] with N - k degrees of freedom; None without a group
    of two.

    Raises: OutOfRange for a reading that is no finite number.

    >>> pooled_deviation([[2.0, 2.2], [3.0, 3.2], [9.0]])
    PooledDeviation(deviation=0.14142135623730964, degrees_of_freedom=2)
    """
    repeated = [group for group in groups if len(group) > 1]
    if not repeated:
        return None
    for value in (value for group in repeated for value in group):
        if not math.isfinite(value):
            raise OutOfRange("reading", value, "a finite number")
    freedom = sum(len(group) - 1 for group in repeated)
    squares = math.fsum(_squares(group) for group in repeated)
    return PooledDeviation(deviation=math.sqrt(squares / freedom), degrees_of_freedom=freedom)


def gauge_repeatability(
    inspection: FoldedInspection, trusted: Mapping[str, Sequence[TrustedReading]]
) -> tuple[GaugeRepeatability, ...]:
    """The repeatability of each gauge from repeated readings of one place in one inspection.

    One place is the same tube, end, distance and clock, all of them recorded, and the same surface;
    one gauge the same instrument, method and stated error. Only trusted walls count; a loss in
    percent is no wall. Gauges in order of their names.
    """
    bodies = {record.id: record.body for record in inspection.readings}
    gauges: dict[tuple[str, str, float], dict[tuple[object, ...], list[float]]] = {}
    named: dict[tuple[str, str, float], tuple[str | None, str | None, float | None]] = {}
    for reading in (each for readings in trusted.values() for each in readings):
        body = bodies.get(reading.record)
        if body is None or body["wall_mm"] is None or survey_of(body) is not None:
            continue  # several indications of a firm at one place are no repeated readings
        where = (reading.end, reading.at_mm, body["clock_h"])
        if None in where:
            continue
        instrument, method = body["instrument"] or None, body["method"]
        error_mm = -1.0 if reading.accuracy_mm is None else reading.accuracy_mm
        gauge = (plain_name(instrument or ""), str(method or ""), error_mm)
        # Through another surface the same gauge reads another wall.
        place = (reading.hole, reading.life, *where, body["surface"])
        named.setdefault(gauge, (instrument, method, reading.accuracy_mm))
        gauges.setdefault(gauge, defaultdict(list))[place].append(reading.wall_mm)
    found: list[GaugeRepeatability] = []
    for gauge in sorted(gauges):
        repeated = [walls for walls in gauges[gauge].values() if len(walls) > 1]
        pooled = pooled_deviation(repeated)
        if pooled is None:
            continue
        instrument, method, accuracy_mm = named[gauge]
        found.append(
            GaugeRepeatability(
                instrument=instrument,
                method=method,
                accuracy_mm=accuracy_mm,
                places=len(repeated),
                readings=sum(map(len, repeated)),
                deviation_mm=pooled.deviation,
                degrees_of_freedom=pooled.degrees_of_freedom,
            )
        )
    return tuple(found)


def _squares(group: Sequence[float]) -> float:
    mean = math.fsum(group) / len(group)
    return math.fsum((value - mean) ** 2 for value in group)
