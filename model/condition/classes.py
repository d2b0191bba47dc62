"""Which ids mean the same thing: boilers, inspections, persons and holes joined by ``same``.

The smallest id names a class. Not here: who wrote the ``same`` records, and what joins mean for
a state.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from model.record.line import Record
from model.record.words import SameWhat


class Joined:
    """Union-find over ids; an id never joined stands for itself."""

    def __init__(self, pairs: Iterable[tuple[str, str]] = ()) -> None:
        self._parent: dict[str, str] = {}
        for a, b in pairs:
            first, second = sorted((self.name(a), self.name(b)))
            if first != second:
                self._parent[second] = first

    def name(self, member: str) -> str:
        """The smallest id of the member's class."""
        while member in self._parent:
            member = self._parent[member]
        return member

    def joined_with(self, member: str) -> set[str]:
        """Every id known to be in the member's class, itself included."""
        wanted = self.name(member)
        return {wanted, member} | {other for other in self._parent if self.name(other) == wanted}

    def renamed(self) -> dict[str, str]:
        """Every id that goes by another's name."""
        return {member: self.name(member) for member in self._parent}


@dataclass(frozen=True, slots=True, kw_only=True)
class Classes:
    """The classes of every sort of entity."""

    boiler: Joined
    inspection: Joined
    person: Joined
    hole: Joined


def classes_of(live_sames: Iterable[Record]) -> Classes:
    """The classes that the live ``same`` records make."""
    sames = list(live_sames)

    def pairs(what: SameWhat) -> Iterator[tuple[str, str]]:
        return ((r.body["a"], r.body["b"]) for r in sames if r.body["what"] == what)

    hole_pairs = (
        (b, a)
        for record in sames
        if record.body["what"] == SameWhat.BOILER
        for b, a in record.body["holes"].items()
    )
    return Classes(
        boiler=Joined(pairs(SameWhat.BOILER)),
        inspection=Joined(pairs(SameWhat.INSPECTION)),
        person=Joined(pairs(SameWhat.PERSON)),
        hole=Joined(hole_pairs),
    )
