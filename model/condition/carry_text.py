"""What an inspection hands on, as text and back, so that a store can keep it.

Only a shortcut: it can always be worked out from the records again. Not here: keeping it
(``model.store.history``).
"""

import json
from dataclasses import asdict
from typing import Any

from model.condition.fold import KnownHistory
from model.condition.states import CarriedEnd, Carry, Finding, Life, Plug
from model.record.words import End, Grade, LeakAt, PlugCondition, PlugType, State

_VERSION = 2


def known_to_text(known: KnownHistory) -> str:
    carry = known.carry
    return json.dumps(
        {
            "version": _VERSION,
            "inspections": sorted(known.inspections),
            "last_date": known.last_date,
            "ends": [[hole, end, asdict(each)] for (hole, end), each in sorted(carry.ends.items())],
            "lives": {hole: asdict(life) for hole, life in sorted(carry.lives.items())},
            "acts": [
                [hole, end, [asdict(finding) for finding in findings]]
                for (hole, end), findings in sorted(carry.act_findings.items())
            ],
            "worked_on": sorted(carry.worked_on),
        },
        ensure_ascii=False,
        separators=(",", ":"),
    )


def known_from_text(text: str) -> KnownHistory | None:
    """The history of a text; None for one of another version."""
    data = json.loads(text)
    if data.get("version") != _VERSION:
        return None
    return KnownHistory(
        inspections=frozenset(data["inspections"]),
        last_date=data["last_date"],
        carry=Carry(
            ends={(hole, End(end)): _end(each) for hole, end, each in data["ends"]},
            lives={hole: Life(**life) for hole, life in data["lives"].items()},
            act_findings={
                (hole, End(end)): tuple(_finding(each) for each in findings)
                for hole, end, findings in data["acts"]
            },
            worked_on=frozenset(data["worked_on"]),
        ),
    )


def _end(data: dict[str, Any]) -> CarriedEnd:
    plug = data["plug"]
    return CarriedEnd(
        state=State(data["state"]),
        leak_at=None if data["leak_at"] is None else LeakAt(data["leak_at"]),
        plug=None
        if plug is None
        else Plug(
            type=None if plug["type"] is None else PlugType(plug["type"]),
            condition=None if plug["condition"] is None else PlugCondition(plug["condition"]),
            vented=plug["vented"],
        ),
        since=data["since"],
        said_on=data["said_on"],
    )


def _finding(data: dict[str, Any]) -> Finding:
    return Finding(**{**data, "grade": Grade(data["grade"])})
