"""Many verified lines at once are the same records, edges and journal as one by one."""

import pytest

from model.store.check import check


def contents(store):
    return (
        sorted(store.rows("SELECT id, line FROM record")),
        sorted(store.rows("SELECT new, old FROM edge")),
    )


def test_many_lines_are_the_same_as_one_by_one(store, tmp_path, surroundings, foreign_line):
    from model.record.line import line_id
    from model.store.opening import open_store

    lines = [foreign_line(seq) for seq in range(1, 700)]
    lines += [foreign_line(700 + n, supersedes=[line_id(lines[n])]) for n in range(3)]
    with store.write() as writer:
        assert writer.add_verified(iter(lines)) == 702
        assert writer.add_verified([*lines[:5], foreign_line(900), *lines[:5]]) == 1
    with open_store(tmp_path / "one-by-one.db", surroundings) as other:
        with other.write() as writer:
            for line in [*lines, foreign_line(900)]:
                writer.add_line(line)
        assert contents(store) == contents(other)
    assert check(store).problems == []


def test_outside_its_transaction_nothing_is_added(store, foreign_line):
    with store.write() as writer:
        pass
    with pytest.raises(RuntimeError, match="outside the transaction"):
        writer.add_verified([foreign_line(1)])
    assert store.rows("SELECT count(*) FROM record") == [(0,)]


def test_an_error_half_way_adds_nothing(store, foreign_line):
    def lines():
        yield from (foreign_line(seq) for seq in range(1, 400))
        raise OSError("the disk was pulled out")

    with pytest.raises(OSError, match="pulled out"), store.write() as writer:
        writer.add_verified(lines())
    assert store.rows("SELECT count(*) FROM record") == [(0,)]
