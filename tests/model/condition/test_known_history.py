"""Folding on from a known carry gives the same as folding everything, wherever one stops.

Not here: where the known carry is kept.
"""

from hypothesis import given

from model.condition.fold import KnownHistory, fold_boiler
from tests.model.condition.journal import BOILER
from tests.model.condition.record_sets import record_sets

MAY_BE_LEFT_OUT = ("observation", "settle", "reading", "work", "part", "cause")


def needed(records, members):
    """All but the records inside some inspections; a correction that reaches out of them stays."""
    inside = {
        record.id
        for record in records
        if record.kind in MAY_BE_LEFT_OUT and record.body.get("inspection") in members
    }
    return [r for r in records if r.id not in inside or not inside.issuperset(r.supersedes)]


@given(record_sets())
def test_folding_on_from_any_inspection_gives_the_same(records):
    whole = fold_boiler(records, BOILER)
    for place, last in enumerate(whole.inspections, 1):
        if last.facts.date is None:
            break  # its own record may still come and move it
        covered = whole.inspections[:place]
        members = frozenset(name for one in covered for name in one.facts.members)
        known = KnownHistory(
            inspections=frozenset(one.facts.inspection for one in covered),
            last_date=last.facts.date,
            carry=last.carried_out,
        )
        rest = fold_boiler(needed(records, members), BOILER, known)
        assert rest.inspections == whole.inspections[place:]
        assert rest.carried_after == whole.carried_after
