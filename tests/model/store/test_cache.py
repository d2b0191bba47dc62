"""The cache answers right or not at all."""

import pytest

from model.store.cache import drop_cache, get_cached, put_cached
from model.store.opening import open_store

DIGEST = "ab" * 32
OTHER = "cd" * 32


def test_what_is_kept_comes_back_under_its_digest_only(store):
    assert get_cached(store, "folded", "a", DIGEST) is None
    put_cached(store, "folded", "a", DIGEST, '{"größe":1}')
    assert get_cached(store, "folded", "a", DIGEST) == '{"größe":1}'
    assert get_cached(store, "folded", "a", OTHER) is None
    assert get_cached(store, "folded", "b", DIGEST) is None
    assert get_cached(store, "other", "a", DIGEST) is None


def test_a_newer_text_takes_the_place_of_the_older(store):
    put_cached(store, "folded", "a", DIGEST, "old")
    put_cached(store, "folded", "a", OTHER, "new")
    assert get_cached(store, "folded", "a", DIGEST) is None
    assert get_cached(store, "folded", "a", OTHER) == "new"
    assert store.rows("SELECT count(*) FROM cache") == [(1,)]


@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE cache SET value = 'wrong'",
        "UPDATE cache SET value = x'00ff'",
        "UPDATE cache SET value = CAST(x'ff' AS TEXT)",
        "UPDATE cache SET digest = 'text'",
        "UPDATE cache SET value_sha256 = 5",
        "DELETE FROM cache",
        "DROP TABLE cache",
    ],
)
def test_a_damaged_cache_is_a_cache_that_has_nothing(store, sql):
    put_cached(store, "folded", "a", DIGEST, "right")
    store.database.conn.execute(sql)
    assert get_cached(store, "folded", "a", DIGEST) is None
    put_cached(store, "folded", "a", DIGEST, "again")  # a failure is no failure


def test_a_store_opened_for_reading_keeps_nothing(store, make_surroundings):
    with open_store(store.path, make_surroundings(2), read_only=True) as reader:
        put_cached(reader, "folded", "a", DIGEST, "right")
        assert get_cached(reader, "folded", "a", DIGEST) is None


def test_an_undone_write_undoes_what_was_cached_in_it(store):
    with pytest.raises(KeyError):
        cache_and_fail(store)
    assert get_cached(store, "folded", "a", DIGEST) is None


def cache_and_fail(store):
    with store.write():
        put_cached(store, "folded", "a", DIGEST, "right")
        assert get_cached(store, "folded", "a", DIGEST) == "right"
        raise KeyError


def test_the_cache_can_be_dropped(store):
    put_cached(store, "folded", "a", DIGEST, "right")
    drop_cache(store)
    assert get_cached(store, "folded", "a", DIGEST) is None
