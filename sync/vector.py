"""Vectors: up to which number of each stream a database holds everything.

A number alone would not do: a cloned tablet can add a second record of a number that was counted
already. So each number comes with the count and digest of what stood up to it, and a stream that
differs in these is moved as a whole again. Not here: the journal's SQL (``model.store.streams``).
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from model.store.store import Store
from model.store.streams import count_and_digest


@dataclass(frozen=True, slots=True, kw_only=True)
class Reached:
    """A stream is held without a gap up to ``seq``; how many records that is, and their digest."""

    seq: int
    count: int
    digest: str


Vector = Mapping[str, Mapping[str, Reached]]
"""By boiler and origin; a stream of which number 1 is missing is left out."""


def covered_by(
    earlier: Vector, store: Store, boilers: Collection[str]
) -> dict[str, dict[str, int]]:
    """Up to which number an earlier vector covers each stream of this database.

    A stream of which other records are held here than stood in the earlier vector is left out.
    """
    covered: dict[str, dict[str, int]] = {}
    for boiler in sorted(set(boilers) & earlier.keys()):
        for origin, reached in sorted(earlier[boiler].items()):
            if reached_in(store, boiler, origin, reached.seq) == reached:
                covered.setdefault(boiler, {})[origin] = reached.seq
    return covered


def reached_in(store: Store, boiler: str, origin: str, seq: int) -> Reached:
    """What is held of one stream up to a number."""
    count, digest = count_and_digest(store, boiler, origin, seq)
    return Reached(seq=seq, count=count, digest=digest)
