"""One inspection in a line, and as data.

Not here: what was found in it (``fieldapp.report``).
"""

from collections import Counter

from model.condition.states import FoldedBoiler, FoldedInspection
from model.record.words import Scope


def inspection_line(boiler: FoldedBoiler, inspection: FoldedInspection) -> str:
    """Day, id, scope, whether it is open, who opened it, how much was entered."""
    facts = inspection.facts
    scope = str(facts.scope)
    if facts.scope is Scope.PASSES:
        scope += f" {', '.join(map(str, sorted(facts.passes)))}"
    people = ", ".join(dict.fromkeys(boiler.name_of(person) for person in facts.opened_by))
    counts = _counts(boiler, inspection)
    entered = ", ".join(_words(count, name) for name, count in counts.items() if count)
    state = "closed" if facts.is_closed else "open"
    if facts.sign_offs:
        signers = dict.fromkeys(record.body["name"] for record in facts.sign_offs)
        state += f", signed off by {', '.join(signers)}"
    return (
        f"{facts.date} ({facts.inspection}), {scope}, {state}, opened by {people}: "
        f"{entered or 'empty'}"
    )


def inspection_data(boiler: FoldedBoiler, inspection: FoldedInspection) -> dict[str, object]:
    """The same as data."""
    facts = inspection.facts
    return {
        "inspection": facts.inspection,
        "members": sorted(facts.members),
        "date": facts.date,
        "scope": str(facts.scope),
        "passes": sorted(facts.passes),
        "purpose": facts.purpose,
        "opened": list(facts.opened),
        "cleaned": list(facts.cleaned),
        "instruments": [dict(tool) for tool in facts.instruments],
        "inspectors": [boiler.name_of(person) for person in facts.opened_by],
        "closed": facts.is_closed,
        "sign_offs": [
            {
                "name": record.body["name"],
                "role": record.body["role"],
                "certificate": record.body["certificate"],
                "statement": record.body["statement"],
                "at": record.at,
            }
            for record in facts.sign_offs
        ],
        **_counts(boiler, inspection),
    }


_COUNTED = {
    "observation": "observations",
    "reading": "readings",
    "work": "work",
    "part": "parts",
    "photo": "photos",
    "test_run": "tests",
    "cause": "causes",
    "settle": "settles",
}


def _counts(boiler: FoldedBoiler, inspection: FoldedInspection) -> dict[str, int]:
    kinds = Counter(
        record.kind
        for record in boiler.live
        if record.kind in _COUNTED
        and boiler.inspection_class(record.body.get("inspection") or "")
        == inspection.facts.inspection
    )
    return {name: kinds[kind] for kind, name in _COUNTED.items()}


def _words(count: int, name: str) -> str:
    """``2 readings``, ``1 reading``; work is not counted in pieces."""
    return f"{count} {name.removesuffix('s') if count == 1 else name}"
