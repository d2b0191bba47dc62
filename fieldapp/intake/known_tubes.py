"""The tubes of a folded boiler by the keys that people write.

Not here: reading the files in which they write them.
"""

from collections.abc import Iterable, Mapping, Sequence

from fieldapp.errors import IntakeRefused
from fieldapp.intake.cells import BadCell
from fieldapp.intake.rows import TubeKeys
from model.condition.states import FoldedBoiler
from model.tubesheet.layout import Tube


class KnownTubes:
    """Look-ups from a key to its tube; a key that two layouts gave to two holes is refused."""

    def __init__(self, boiler: FoldedBoiler) -> None:
        self._by_key: Mapping[str, Tube] = {tube.key: tube for tube in boiler.tubes}
        self._doubled = boiler.doubled_keys

    @property
    def passes_by_tube(self) -> dict[str, int]:
        """The keys as the layout spells them, with the pass of each."""
        return {key: tube.pass_ for key, tube in self._by_key.items()}

    def hole(self, key: str) -> str:
        """The hole of a key as the layout spells it."""
        hole = self._by_key[key].hole
        assert hole is not None, "a folded tube has its hole"
        return hole

    def typed(self, text: str) -> Tube:
        """The tube of a key as somebody typed it. IntakeRefused when it names none, or two."""
        try:
            key = TubeKeys(self._by_key).find(text.strip())
        except BadCell as error:
            raise IntakeRefused([f"The tube {error}"]) from None
        if (fault := self._doubled_fault(key)) is not None:
            raise IntakeRefused([fault])
        return self._by_key[key]

    def refuse_doubled(self, named: Iterable[tuple[int, str | None]]) -> None:
        """Refuse the lines that name a key of two holes; they come with what they name."""
        faults = [
            f"line {line}, tube: {fault}"
            for line, key in named
            if key is not None and (fault := self._doubled_fault(key)) is not None
        ]
        if faults:
            raise IntakeRefused(faults)

    def _doubled_fault(self, key: str) -> str | None:
        holes: Sequence[str] | None = self._doubled.get(key.upper())
        if holes is None:
            return None
        return (
            f"{key} names {len(holes)} holes, because two layouts differ ({', '.join(holes)}); "
            "give one of them another key with 'boiler update' first."
        )
