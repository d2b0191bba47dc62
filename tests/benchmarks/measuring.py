"""What a benchmark hands back, and how a time is taken. Not here: what is measured."""

import json
import statistics
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """One figure. ``limit`` is the most that is allowed; None is for information."""

    name: str
    value: float
    unit: str
    limit: float | None = None
    note: str = ""

    @property
    def is_kept(self) -> bool:
        return self.limit is None or self.value <= self.limit


def median_ms(act: Callable[[int], object], times: int, *, first: int = 3) -> float:
    """Median time of one call, numbered from 0; the first few are not counted."""
    taken = []
    for number in range(-first, times):
        began = time.perf_counter()
        act(number + first)
        if number >= 0:
            taken.append((time.perf_counter() - began) * 1000.0)
    return statistics.median(taken)


def worst_ms(act: Callable[[int], object], times: int) -> float:
    """The longest of many calls."""
    longest = 0.0
    for number in range(times):
        began = time.perf_counter()
        act(number)
        longest = max(longest, (time.perf_counter() - began) * 1000.0)
    return longest


def resident_mb() -> float:
    """Memory of this process as the system counts it now (Linux)."""
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * 4096 / 1e6


def hand_over(figures: Sequence[Measured]) -> None:
    """The last line of a group's process: its figures as JSON."""
    sys.stdout.write(json.dumps([asdict(each) for each in figures]) + "\n")
