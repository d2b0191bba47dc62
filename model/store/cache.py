"""Texts that can be computed again, kept under the digest of what they were computed from.

Whatever is wrong with the cache, the answer is "not there". Not here: what is kept in it.
"""

import hashlib
from contextlib import suppress

from model.errors import StoreRefused
from model.store.engine import engine, refusing
from model.store.store import Store


def put_cached(store: Store, name: str, key: str, digest: str, value: str) -> None:
    """Keep a text; ``digest`` (hex) names what it was computed from. A failure is no failure."""
    if store.read_only:
        return
    with suppress(StoreRefused, engine.DatabaseError), refusing(store.path):
        store.database.conn.execute(
            "INSERT INTO cache(name, key, digest, value, value_sha256) VALUES(?, ?, ?, ?, ?)"
            " ON CONFLICT(name, key) DO UPDATE SET digest = excluded.digest,"
            " value = excluded.value, value_sha256 = excluded.value_sha256",
            (name, key, bytes.fromhex(digest), value, _sha256(value)),
        )


def get_cached(store: Store, name: str, key: str, digest: str) -> str | None:
    """The text kept under this digest; None when there is none, an older one or a damaged one."""
    try:
        rows = store.rows(
            "SELECT digest, value, value_sha256 FROM cache WHERE name = ? AND key = ?", (name, key)
        )
    except (StoreRefused, engine.DatabaseError):
        return None
    for kept_digest, value, value_sha256 in rows:
        if (
            kept_digest == bytes.fromhex(digest)
            and isinstance(value, str)
            and value_sha256 == _sha256(value)
        ):
            return value
    return None


def drop_cache(store: Store) -> None:
    """Forget everything that can be computed again."""
    with store.write():
        store.database.conn.execute("DELETE FROM cache")


def _sha256(value: str) -> bytes:
    return hashlib.sha256(value.encode("utf-8", "surrogatepass")).digest()
