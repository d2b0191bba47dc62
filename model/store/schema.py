"""The database's tables, indexes and guards as SQL text.

The journal is the one table that matters; ``edge`` and ``cache`` can be rebuilt from it. Not here:
the flat views for other SQLite tools (``model.store.views``), changes of an older schema
(``model.store.migrating``).
"""

from model.store.views import VIEWS

APPLICATION_ID = 0x54425752  # "TBWR"; tells our files from any other SQLite database
SCHEMA_VERSION = 1

_RECORD = """
CREATE TABLE record(
  n INTEGER PRIMARY KEY,
  id BLOB NOT NULL UNIQUE CHECK (typeof(id) = 'blob' AND length(id) = 32),
  line TEXT NOT NULL,
  kind TEXT AS (json_extract(line, '$.kind')),
  boiler TEXT AS (json_extract(line, '$.boiler')),
  origin TEXT AS (json_extract(line, '$.origin')),
  seq INTEGER AS (json_extract(line, '$.seq')),
  by_person TEXT AS (json_extract(line, '$.by')),
  at TEXT AS (json_extract(line, '$.at')),
  inspection TEXT AS (json_extract(line, '$.body.inspection')),
  hole TEXT AS (json_extract(line, '$.body.hole'))
)
"""

# INSERT OR REPLACE deletes without firing delete triggers unless recursive_triggers is on, which
# another tool may not have set: so a replacing insert is refused by itself.
_GUARDS = (
    """
CREATE TRIGGER record_is_never_changed BEFORE UPDATE ON record BEGIN
  SELECT RAISE(ABORT, 'records are never changed; add one that supersedes');
END
""",
    """
CREATE TRIGGER record_is_never_deleted BEFORE DELETE ON record BEGIN
  SELECT RAISE(ABORT, 'records are never deleted; add one that withdraws');
END
""",
    """
CREATE TRIGGER record_is_never_replaced BEFORE INSERT ON record
WHEN EXISTS (SELECT 1 FROM record WHERE n = NEW.n OR id = NEW.id) BEGIN
  SELECT RAISE(ABORT, 'records are never replaced; this one is already there');
END
""",
)

STATEMENTS: tuple[str, ...] = (
    _RECORD,
    # No uniqueness here: a cloned tablet makes two records of one place, and both count.
    "CREATE INDEX record_by_origin ON record(boiler, origin, seq)",
    "CREATE INDEX record_by_inspection ON record(boiler, inspection, kind)",
    "CREATE INDEX record_by_hole ON record(hole)",
    *_GUARDS,
    "CREATE TABLE edge(new BLOB NOT NULL, old BLOB NOT NULL, PRIMARY KEY(new, old)) WITHOUT ROWID",
    "CREATE INDEX edge_by_old ON edge(old)",
    "CREATE TABLE meta(key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID",
    """
CREATE TABLE cache(
  name TEXT NOT NULL, key TEXT NOT NULL, digest BLOB NOT NULL, value TEXT NOT NULL,
  value_sha256 BLOB NOT NULL, PRIMARY KEY(name, key)
) WITHOUT ROWID
""",
    *(f'CREATE VIEW "{name}" AS {select}' for name, select in VIEWS.items()),
    f"PRAGMA application_id = {APPLICATION_ID}",
    f"PRAGMA user_version = {SCHEMA_VERSION}",
)
