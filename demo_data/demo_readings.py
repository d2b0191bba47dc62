"""What the wall gauge showed: readings that grow thinner over the years, with a gauge's scatter.

Planned tubes are spread over each pass and lose wall at a rate of their own; suspect ones are told
one by one. The only chance in the demo is here, from one seed. Not here: marks of tube ends.
"""

import random
from collections.abc import Iterator

from demo_data.demo_inspections import Row

SEED = 20260915
YEARS = {1: 2018.45, 2: 2022.55, 3: 2026.71}
TUBED_IN = {2: 2011.6, 3: 2001.7}
NEW_WALL_MM = {2: 3.05, 3: 2.9}
OVER_NOMINAL = {2: (1.01, 1.03), 3: (1.02, 1.05)}
LOSS_MM_PER_YEAR = {2: (0.028, 0.004), 3: (0.012, 0.003)}
"""Middle and spread; the lot is cut at 1.5 spreads, so that planned tubes stay plain tubes."""
SCATTER_MM = 0.025
INSTRUMENT = "pencil-probe ultrasonic gauge 14"
ACCURACY_MM = 0.1
PLACE_MM = {2: 3450, 3: 4300}
"""From the outer face of the front sheet, in the last part of the tube before the far sheet."""

PLANNED = {
    2: tuple(
        f"P2-R{row:02d}-C{column:02d}"
        for row, columns in (
            (1, (1, 8, 15)),
            (2, (5, 13)),
            (3, (3, 8, 14)),
            (4, (6, 10, 15)),
            (5, (4, 8, 11)),
            (6, (7,)),
            (7, (4, 6)),
            (8, (4,)),
            (9, (2, 5)),
        )
        for column in columns
    ),
    3: tuple(
        f"P3-R{row:02d}-C{column:02d}"
        for row, columns in (
            (1, (2, 11, 20)),
            (2, (4, 10, 18)),
            (3, (7, 13, 22)),
            (4, (6, 14, 22)),
            (5, (3, 16, 24)),
            (6, (5, 13, 19)),
        )
        for column in columns
    ),
}
FIRST_TIME_EVERY = 2
"""In 2018 only every second planned tube was measured."""

SUSPECT: dict[int, dict[str, str]] = {
    1: {
        "P2-R07-C03": "2.75",
        "P2-R04-C02": "2.84",
        "P2-R06-C04": "2.90",
        "P2-R07-C01": "2.41",
    },
    2: {
        "P2-R07-C03": "2.17",
        "P2-R04-C02": "2.50",
        "P2-R06-C04": "2.58",
        "P2-R05-C03": "2.21",
        "P2-R06-C08": "2.30",
        "P2-R07-C01": "1.72",
        "P2-R07-C02": "2.02",
        "P2-R08-C02": "1.66",
    },
    3: {
        "P2-R07-C03": "1.52",
        "P2-R04-C02": "2.10",
        "P2-R06-C04": "2.22",
        "P2-R05-C03": "1.86",
        "P2-R06-C01": "2.28",
        "P3-R06-C22": "2.14",
    },
}
IN_ROLLED_ZONE = {"P2-R01-C02": "2.30", "P3-R01-C02": "2.24"}
"""In 2026, where the tube was expanded: thin by the rolling, so no measure of wear."""
BASELINE = {"P2-R07-C01": "3.22", "P2-R07-C02": "3.19", "P2-R08-C01": "3.24", "P2-R08-C02": "3.20"}
"""In 2022, of the tubes just put in."""
NEW_TUBES_LATER = {"P2-R07-C02": "3.12", "P2-R08-C01": "3.15"}
"""In 2026, of two of them."""


def planned_walls() -> dict[int, dict[str, str]]:
    """Every planned reading by inspection and tube."""
    chance = random.Random(SEED)
    walls: dict[int, dict[str, str]] = {1: {}, 2: {}, 3: {}}
    for pass_, keys in PLANNED.items():
        for place, key in enumerate(keys):
            new_mm = NEW_WALL_MM[pass_] * chance.uniform(*OVER_NOMINAL[pass_])
            rate = _cut(chance, *LOSS_MM_PER_YEAR[pass_])
            for number, year in YEARS.items():
                shown_mm = new_mm - rate * (year - TUBED_IN[pass_]) + _cut(chance, 0, SCATTER_MM)
                if number > 1 or place % FIRST_TIME_EVERY == 0:
                    walls[number][key] = f"{shown_mm:.2f}"
    return walls


def reading_rows(number: int, pass_: int) -> Iterator[Row]:
    """The readings of one inspection in one pass, planned ones first."""
    planned = dict(planned_walls()[number])
    if number == 3:
        planned |= NEW_TUBES_LATER
    for key, wall in planned.items():
        if _is_in(key, pass_):
            yield _reading(key, wall, "planned")
    for key, wall in SUSPECT[number].items():
        if _is_in(key, pass_):
            yield _reading(key, wall, "suspect")
    for key, wall in IN_ROLLED_ZONE.items():
        if number == 3 and _is_in(key, pass_):
            place = str({2: 3592, 3: 4442}[pass_])
            yield {**_reading(key, wall, "suspect"), "at_mm": place, "in_rolled_zone": "yes"}


def baseline_rows() -> Iterator[Row]:
    for key, wall in BASELINE.items():
        yield _reading(key, wall, "baseline")


def _reading(key: str, wall: str, purpose: str) -> Row:
    return {
        "tube": key,
        "end": "rear",
        "state": "",
        "wall_mm": wall,
        "method": "ultrasonic",
        "instrument": INSTRUMENT,
        "accuracy_mm": f"{ACCURACY_MM:g}",
        "surface": "cleaned",
        "side": "water",
        "at_mm": str(PLACE_MM[int(key[1])]),
        "clock": "6",
        "purpose": purpose,
    }


def _is_in(key: str, pass_: int) -> bool:
    return int(key[1]) == pass_


def _cut(chance: random.Random, middle: float, spread: float) -> float:
    """A draw from a bell curve, drawn again until it is within 1.5 spreads."""
    while True:
        value = chance.gauss(middle, spread)
        if abs(value - middle) <= 1.5 * spread:
            return value
