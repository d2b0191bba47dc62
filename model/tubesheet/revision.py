"""A revised layout against the one before: which tube is which, so that no mark ever moves.

A row that carries a hole id is that hole; otherwise the tube of the same pass with its centre
within a quarter of the pitch; otherwise a retired hole of that pass and place, which is revived
with its records; otherwise it is new. Not here: storing it.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from model.errors import Faults
from model.tubesheet.lattice import fitted_pitch
from model.tubesheet.layout import Tube


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision:
    """What a revised layout does. ``matched`` and ``revived`` tubes carry the old hole ids, ``new``
    ones none."""

    matched: tuple[Tube, ...]
    renamed: tuple[tuple[str, str], ...]
    """Old and new keys of holes that go by another key."""
    revived: tuple[Tube, ...]
    """Tubes in holes that had been retired."""
    new: tuple[Tube, ...]
    retired: tuple[Tube, ...]

    @property
    def needs_confirmation(self) -> bool:
        return bool(self.renamed or self.retired)


def compare_layouts(
    before: Sequence[Tube], after: Sequence[Tube], retired: Sequence[Tube] = ()
) -> Revision:
    """Match a revised layout to the present one, and to the tubes retired from earlier ones.

    Raises Faults when rows name hole ids that do not exist, or two rows claim one hole.
    """
    standing = {tube.hole for tube in before}
    by_hole = {tube.hole: tube for tube in (*retired, *before)}
    faults = [
        f"Tube {tube.key}: hole {tube.hole} is not of this boiler; leave the cell empty."
        for tube in after
        if tube.hole is not None and tube.hole not in by_hole
    ]
    claims: dict[str, str] = {}
    limit = _quarter_pitch(before)
    found: list[Tube] = []
    new: list[Tube] = []
    for tube in after:
        old = (
            by_hole.get(tube.hole)
            if tube.hole is not None
            else _nearest(tube, before, limit) or _nearest(tube, retired, limit)
        )
        if old is None or old.hole is None:
            new.append(replace(tube, hole=None))
            continue
        if old.hole in claims:
            faults.append(
                f"Tubes {claims[old.hole]} and {tube.key} both stand where {old.key} is; "
                "correct one position."
            )
        claims[old.hole] = tube.key
        found.append(replace(tube, hole=old.hole))
    if faults:
        raise Faults(faults)
    matched = tuple(tube for tube in found if tube.hole in standing)
    return Revision(
        matched=matched,
        renamed=tuple(
            (by_hole[tube.hole].key, tube.key)
            for tube in matched
            if by_hole[tube.hole].key != tube.key
        ),
        revived=tuple(tube for tube in found if tube.hole not in standing),
        new=tuple(new),
        retired=tuple(tube for tube in before if tube.hole not in claims),
    )


def _quarter_pitch(tubes: Sequence[Tube]) -> float:
    pitch = fitted_pitch(tubes)
    return 0.0 if pitch is None else pitch.pitch_mm / 4.0


def _nearest(tube: Tube, before: Sequence[Tube], limit_mm: float) -> Tube | None:
    def distance_squared(old: Tube) -> float:
        return (old.x_mm - tube.x_mm) ** 2 + (old.y_mm - tube.y_mm) ** 2

    of_pass = [old for old in before if old.pass_ == tube.pass_]
    nearest = min(of_pass, key=distance_squared, default=None)
    if nearest is None or distance_squared(nearest) > limit_mm**2:
        return None
    return nearest
