"""Tubes on a regular pattern, triangular or square, that fit inside a shell beside its furnaces.

Rows are numbered from the top and columns from the left, seen from the front. Not here: layouts
typed row by row (``row_plan``), and finding the pattern of a layout that exists (``lattice``).
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from model.errors import Faults, ModelError
from model.tubesheet.layout import Circle, Tube, default_key

MAX_TUBES = 20_000

# Slack for rounding where a tube just touches a limit, far below any drilling tolerance.
_SLACK_MM = 1e-7


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """Part of the section that a pass may use: limits of the tube centres, None = no limit."""

    left_mm: float | None = None
    right_mm: float | None = None
    bottom_mm: float | None = None
    top_mm: float | None = None

    def holds(self, x_mm: float, y_mm: float) -> bool:
        """Whether a tube centre lies inside the window."""
        return (
            (self.left_mm is None or x_mm >= self.left_mm - _SLACK_MM)
            and (self.right_mm is None or x_mm <= self.right_mm + _SLACK_MM)
            and (self.bottom_mm is None or y_mm >= self.bottom_mm - _SLACK_MM)
            and (self.top_mm is None or y_mm <= self.top_mm + _SLACK_MM)
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Pattern:
    """A regular pattern with one tube centre at (``origin_x_mm``, ``origin_y_mm``).

    Upright: neighbours stand side by side in a row, one pitch apart. Rotated: a triangle is turned
    by 30 degrees and a square by 45, so that neighbours stand above each other or askew.
    """

    kind: Literal["triangular", "square"]
    turn: Literal["upright", "rotated"]
    pitch_mm: float
    origin_x_mm: float = 0.0
    origin_y_mm: float = 0.0

    @property
    def row_step_mm(self) -> float:
        """Height between two rows of the pattern [mm]."""
        factor = {
            ("triangular", "upright"): math.sqrt(3.0) / 2.0,
            ("triangular", "rotated"): 0.5,
            ("square", "upright"): 1.0,
            ("square", "rotated"): math.sqrt(0.5),
        }
        return self.pitch_mm * factor[self.kind, self.turn]

    @property
    def column_step_mm(self) -> float:
        """Width between two tubes of one row [mm]."""
        factor = {
            ("triangular", "upright"): 1.0,
            ("triangular", "rotated"): math.sqrt(3.0),
            ("square", "upright"): 1.0,
            ("square", "rotated"): math.sqrt(2.0),
        }
        return self.pitch_mm * factor[self.kind, self.turn]

    @property
    def is_staggered(self) -> bool:
        """Whether every second row is moved by half a column."""
        return (self.kind, self.turn) != ("square", "upright")


def tubes_on_pattern(
    pattern: Pattern,
    *,
    pass_: int,
    od_mm: float,
    shell_diameter_mm: float,
    rim_margin_mm: float = 0.0,
    furnaces: Sequence[Circle] = (),
    furnace_margin_mm: float = 0.0,
    window: Window | None = None,
    wall_mm: float | None = None,
    length_mm: float | None = None,
    material: str | None = None,
) -> tuple[Tube, ...]:
    """Every tube of the pattern that fits, numbered and keyed.

    A tube fits when its outside stays ``rim_margin_mm`` from the shell and ``furnace_margin_mm``
    from every furnace, and its centre lies in the window.

    Raises: Faults for a pattern that cannot be drilled (pitch not above the tube, a size not above
    0); ModelError when more than ``MAX_TUBES`` would result.
    """
    faults = _pattern_faults(pattern, od_mm, shell_diameter_mm, rim_margin_mm, furnace_margin_mm)
    if faults:
        raise Faults(faults)
    reach_mm = shell_diameter_mm / 2.0 - rim_margin_mm - od_mm / 2.0
    chosen = window or Window()
    tubes: list[Tube] = []
    row = 0
    for y_mm, centres in _rows_from_top(pattern, reach_mm):
        fits = [
            x_mm
            for x_mm in centres
            if chosen.holds(x_mm, y_mm)
            and _is_clear(x_mm, y_mm, furnaces, od_mm / 2.0 + furnace_margin_mm)
        ]
        row += bool(fits)
        for column, x_mm in enumerate(fits, start=1):
            tubes.append(
                Tube(
                    key=default_key(pass_, row, column),
                    pass_=pass_,
                    row=row,
                    column=column,
                    x_mm=x_mm,
                    y_mm=y_mm,
                    od_mm=od_mm,
                    wall_mm=wall_mm,
                    length_mm=length_mm,
                    material=material,
                )
            )
    return tuple(tubes)


def _pattern_faults(
    pattern: Pattern,
    od_mm: float,
    shell_diameter_mm: float,
    rim_margin_mm: float,
    furnace_margin_mm: float,
) -> list[str]:
    faults = [
        f"The {name} is {value}, but must be a number above 0."
        for name, value in (
            ("pitch", pattern.pitch_mm),
            ("tube diameter", od_mm),
            ("shell diameter", shell_diameter_mm),
        )
        if not (math.isfinite(value) and value > 0.0)
    ]
    faults += [
        f"The {name} is {value}, but must be a number, 0 or more."
        for name, value in (("rim margin", rim_margin_mm), ("furnace margin", furnace_margin_mm))
        if not (math.isfinite(value) and value >= 0.0)
    ]
    faults += [
        f"The pattern's {name} is {value}, but must be a number."
        for name, value in (("x", pattern.origin_x_mm), ("y", pattern.origin_y_mm))
        if not math.isfinite(value)
    ]
    if not faults and pattern.pitch_mm <= od_mm:
        faults.append(
            f"The pitch is {pattern.pitch_mm} mm, but must be above the tube diameter, {od_mm} mm."
        )
    return faults


def _rows_from_top(pattern: Pattern, reach_mm: float) -> Iterator[tuple[float, list[float]]]:
    """Height of each row and its centres from the left, inside a circle of radius ``reach_mm``."""
    if reach_mm < 0.0:
        return
    cell_mm2 = pattern.row_step_mm * pattern.column_step_mm
    if math.pi * reach_mm**2 / cell_mm2 > MAX_TUBES:
        raise ModelError(
            f"A pitch of {pattern.pitch_mm} mm gives more than {MAX_TUBES} tubes in this shell; "
            "check the units of pitch and shell."
        )
    step_mm = pattern.row_step_mm
    top = math.floor((reach_mm - pattern.origin_y_mm + _SLACK_MM) / step_mm)
    bottom = math.ceil((-reach_mm - pattern.origin_y_mm - _SLACK_MM) / step_mm)
    for number in range(top, bottom - 1, -1):
        y_mm = pattern.origin_y_mm + number * step_mm
        half_mm = math.sqrt(max(reach_mm**2 - y_mm**2, 0.0)) + _SLACK_MM
        shift = 0.5 if pattern.is_staggered and number % 2 else 0.0
        start_mm = pattern.origin_x_mm + shift * pattern.column_step_mm
        first = math.ceil((-half_mm - start_mm) / pattern.column_step_mm)
        last = math.floor((half_mm - start_mm) / pattern.column_step_mm)
        yield y_mm, [start_mm + k * pattern.column_step_mm for k in range(first, last + 1)]


def _is_clear(x_mm: float, y_mm: float, furnaces: Sequence[Circle], gap_mm: float) -> bool:
    return all(
        math.hypot(x_mm - furnace.x_mm, y_mm - furnace.y_mm)
        >= furnace.diameter_mm / 2.0 + gap_mm - _SLACK_MM
        for furnace in furnaces
    )
