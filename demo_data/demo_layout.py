"""Where the tubes of the invented boiler are: its rows, worked out by plain arithmetic.

Seen from the front, x to the right, y up, origin at the centre of the shell. Not here: anything
that was seen or done (``demo_story``). Own arithmetic instead of the program's pattern generators,
so that the demo also checks a layout that the program did not make itself.
"""

import math
from dataclasses import dataclass

SHELL_DIAMETER_MM = 2200.0
FURNACE_X_MM = 0.0
FURNACE_Y_MM = -520.0
FURNACE_DIAMETER_MM = 800.0
RIM_MARGIN_MM = 60.0
"""Least plate between a tube and the shell."""
FURNACE_MARGIN_MM = 45.0
"""Least plate between a tube and the furnace opening."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PassPlan:
    """A block of rows in triangular pitch, horizontal rows, symmetrical left and right."""

    number: int
    od_mm: float
    wall_mm: float
    stay_wall_mm: float
    length_mm: float
    pitch_mm: float
    top_y_mm: float
    rows: int
    half_width_mm: float
    starts_with_centre_tube: bool
    left_stays: frozenset[tuple[int, int]]
    """(row, column) of the stay tubes left of the middle; each has its mirror image."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DemoTube:
    """One row of layout.csv."""

    key: str
    pass_: int
    row: int
    column: int
    x_mm: float
    y_mm: float
    od_mm: float
    wall_mm: float
    length_mm: float
    kind: str


PASS_2 = PassPlan(
    number=2,
    od_mm=63.5,
    wall_mm=3.05,
    stay_wall_mm=6.3,
    length_mm=3600.0,
    pitch_mm=86.0,
    top_y_mm=190.0,
    rows=9,
    half_width_mm=690.0,
    starts_with_centre_tube=True,
    left_stays=frozenset({(1, 5), (3, 2), (6, 3)}),
)
PASS_3 = PassPlan(
    number=3,
    od_mm=50.8,
    wall_mm=2.9,
    stay_wall_mm=5.6,
    length_mm=4450.0,
    pitch_mm=72.0,
    top_y_mm=600.0,
    rows=6,
    half_width_mm=1000.0,
    starts_with_centre_tube=False,
    left_stays=frozenset({(1, 7), (3, 4), (5, 8)}),
)


def all_tubes() -> list[DemoTube]:
    """Every tube, pass by pass, row by row from the top, each row from the left."""
    return [tube for plan in (PASS_2, PASS_3) for tube in _tubes_of(plan)]


def _tubes_of(plan: PassPlan) -> list[DemoTube]:
    tubes = []
    for row in range(1, plan.rows + 1):
        y_mm = round(plan.top_y_mm - (row - 1) * plan.pitch_mm * math.sqrt(3) / 2, 1)
        has_centre_tube = plan.starts_with_centre_tube == (row % 2 == 1)
        offset = 0.0 if has_centre_tube else plan.pitch_mm / 2
        steps = range(-20, 21) if has_centre_tube else range(-21, 21)
        xs = [x for step in steps if _has_room(plan, x := step * plan.pitch_mm + offset, y_mm)]
        for column, x_mm in enumerate(xs, start=1):
            stay = not plan.left_stays.isdisjoint({(row, column), (row, len(xs) + 1 - column)})
            tubes.append(
                DemoTube(
                    key=f"P{plan.number}-R{row:02d}-C{column:02d}",
                    pass_=plan.number,
                    row=row,
                    column=column,
                    x_mm=round(x_mm, 1),
                    y_mm=y_mm,
                    od_mm=plan.od_mm,
                    wall_mm=plan.stay_wall_mm if stay else plan.wall_mm,
                    length_mm=plan.length_mm,
                    kind="stay" if stay else "plain",
                )
            )
    return tubes


def _has_room(plan: PassPlan, x_mm: float, y_mm: float) -> bool:
    radius = plan.od_mm / 2
    from_furnace = math.hypot(x_mm - FURNACE_X_MM, y_mm - FURNACE_Y_MM)
    return (
        abs(x_mm) <= plan.half_width_mm
        and math.hypot(x_mm, y_mm) + radius + RIM_MARGIN_MM <= SHELL_DIAMETER_MM / 2
        and from_furnace - radius - FURNACE_MARGIN_MM >= FURNACE_DIAMETER_MM / 2
    )
