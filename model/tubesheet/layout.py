"""Where every tube of a boiler is: one tube, the layout, and the key a tube goes by.

Positions are seen from the front: x to the right, y up, origin at the centre of the shell. Not
here: faults of a layout (``validate``), and how it looks from the rear (``faces``).
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

Kind = Literal["plain", "stay"]

_KEY = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,31}")
KEY_RULE = "1 to 32 letters, digits, '.', '_' or '-', the first a letter or digit"


def is_key(text: str) -> bool:
    """Whether a text may be the key of a tube. A key is never taken apart again."""
    return _KEY.fullmatch(text) is not None


def default_key(pass_: int, row: int, column: int) -> str:
    """Key of a tube that has no other: row from the top, column from the left, from the front.

    >>> default_key(2, 3, 11)
    'P2-R03-C11'
    """
    return f"P{pass_}-R{row:02d}-C{column:02d}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Circle:
    """A round thing in the section of the boiler, such as a furnace [mm]."""

    x_mm: float
    y_mm: float
    diameter_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Tube:
    """One tube. ``hole`` is the id of its position, None until one is minted."""

    key: str
    pass_: int
    row: int
    column: int
    x_mm: float
    y_mm: float
    hole: str | None = None
    od_mm: float | None = None
    wall_mm: float | None = None
    length_mm: float | None = None
    material: str | None = None
    kind: Kind = "plain"
    label: str | None = None


@dataclass(frozen=True, slots=True)
class Layout:
    """All tubes of a boiler, with look-ups by key, hole and pass."""

    tubes: tuple[Tube, ...]
    _by_key: dict[str, Tube] = field(init=False, repr=False, compare=False)
    _by_hole: dict[str, Tube] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        by_key = {tube.key.casefold(): tube for tube in self.tubes}
        by_hole = {tube.hole: tube for tube in self.tubes if tube.hole is not None}
        object.__setattr__(self, "_by_key", by_key)
        object.__setattr__(self, "_by_hole", by_hole)

    def __len__(self) -> int:
        return len(self.tubes)

    def __iter__(self) -> Iterator[Tube]:
        return iter(self.tubes)

    @property
    def passes(self) -> tuple[int, ...]:
        """Numbers of the passes that have tubes, lowest first."""
        return tuple(sorted({tube.pass_ for tube in self.tubes}))

    def by_key(self, key: str) -> Tube | None:
        """The tube with this key, ignoring case; None when there is none."""
        return self._by_key.get(key.casefold())

    def by_hole(self, hole: str) -> Tube | None:
        """The tube at this physical position; None when there is none."""
        return self._by_hole.get(hole)

    def of_pass(self, pass_: int) -> tuple[Tube, ...]:
        """The tubes of one pass, in the layout's order."""
        return tuple(tube for tube in self.tubes if tube.pass_ == pass_)

    def rows(self, pass_: int) -> dict[int, tuple[Tube, ...]]:
        """The tubes of one pass by row from the top, each row from the left (from the front)."""
        rows: dict[int, list[Tube]] = {}
        for tube in self.of_pass(pass_):
            rows.setdefault(tube.row, []).append(tube)
        return {
            row: tuple(sorted(rows[row], key=lambda tube: (tube.column, tube.x_mm)))
            for row in sorted(rows)
        }
