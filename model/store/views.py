"""Flat views of the journal, one per kind, so that any SQLite tool can read it.

They show what was recorded, line by line: what a record's successors mean for a tube is computed
from all records together, never in SQL. Not here: the tables (``model.store.schema``).
"""

from collections.abc import Iterable, Mapping

from model.record.bodies import BODIES

VIEW_NAMES: Mapping[str, str] = {
    "person": "people",
    "origin": "origins",
    "boiler": "boilers",
    "layout": "layouts",
    "settings": "settings",
    "inspection": "inspections",
    "close": "closes",
    "observation": "observations",
    "reading": "readings",
    "part": "parts",
    "photo": "photos",
    "test_run": "test_runs",
    "settle": "settles",
    "withdraw": "withdrawals",
    "work": "works",
    "event": "events",
    "cause": "causes",
    "same": "sames",
    "sign_off": "sign_offs",
}

# A body field that has the name of an envelope field is shown once, from the envelope, where both
# are the same thing by definition (a boiler record's boiler), else with "body_" before it.
_ENVELOPE = {
    "record_id": "lower(hex(id))",
    "boiler": "boiler",
    "by_person": "by_person",
    "at": "at",
    "utc_offset_min": "json_extract(line, '$.utc_offset_min')",
    "origin": "origin",
    "seq": "seq",
    # How many records name this one: correct, withdraw, settle or follow it.
    "named_by": "(SELECT count(*) FROM edge WHERE edge.old = record.id)",
}
_SAME_BY_DEFINITION = frozenset(("boiler",))


def _view(kind: str, fields: Iterable[str]) -> str:
    columns = [f'{text} AS "{name}"' for name, text in _ENVELOPE.items()]
    for field in fields:
        if field in _SAME_BY_DEFINITION:
            continue
        name = f"body_{field}" if field in _ENVELOPE else field
        columns.append(f"""json_extract(line, '$.body."{field}"') AS "{name}\"""")
    return f"SELECT {', '.join(columns)} FROM record WHERE kind = '{kind}'"


VIEWS: Mapping[str, str] = {
    VIEW_NAMES[kind]: _view(kind, fields) for kind, fields in BODIES.items()
}
