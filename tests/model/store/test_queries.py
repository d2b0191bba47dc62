"""What is asked of the journal, against answers worked out from the lines themselves."""

import hashlib
import tempfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import StoreRefused
from model.record.line import line_id
from model.store import queries
from model.store.check import check
from model.store.opening import open_store

BOILER = "bbbbbbbbbbbbb"
OTHER_BOILER = "ccccccccccccc"
ORIGINS = ["ooooooooooooo", "qqqqqqqqqqqqq", "aaaaaaaaaaaaa"]
PLACES = st.tuples(
    st.sampled_from([BOILER, OTHER_BOILER]),
    st.sampled_from(ORIGINS),
    st.integers(1, 9),
    st.sampled_from(["", "a cloned tablet's"]),
)


def add_all(store, lines):
    with store.write() as writer:
        return [writer.add_line(line) for line in lines]


@pytest.fixture(scope="session")
def fresh_store(make_surroundings):
    """A new store for each example of Hypothesis, and the folder it lies in."""

    def make():
        folder = tempfile.TemporaryDirectory()
        return folder, open_store(Path(folder.name) / "boilers.db", make_surroundings())

    return make


@given(st.lists(PLACES, max_size=40))
def test_a_vector_reaches_to_the_first_gap_and_the_rest_lies_beyond(
    fresh_store, foreign_line, places
):
    lines = {
        foreign_line(seq, boiler=boiler, origin=origin, note=note): (boiler, origin, seq)
        for boiler, origin, seq, note in places
    }
    folder, store = fresh_store()
    with folder, store:
        add_all(store, lines)
        held = {}
        for boiler, origin, seq in lines.values():
            held.setdefault((boiler, origin), set()).add(seq)
        reached = {
            place: max([0, *(n for n in numbers if set(range(1, n + 1)) <= numbers)])
            for place, numbers in held.items()
        }
        wanted = {}
        for (boiler, origin), seq in reached.items():
            if seq:
                wanted.setdefault(boiler, {})[origin] = seq
        both = [BOILER, OTHER_BOILER]
        assert queries.contiguous_vector(store, both) == wanted
        assert queries.beyond_gap_ids(store, both) == sorted(
            line_id(line)
            for line, (boiler, origin, seq) in lines.items()
            if seq > reached[boiler, origin]
        )
        assert queries.contiguous_vector(store, [BOILER]) == {
            boiler: vector for boiler, vector in wanted.items() if boiler == BOILER
        }
        # A gap in what came from elsewhere is awaited, not lost.
        result = check(store)
        assert result.problems == []
        assert result.facts["gaps"] == sum(reached[p] < max(n) for p, n in held.items())
        assert queries.list_boiler_ids(store) == sorted({place[0] for place in held})


@given(st.lists(PLACES, min_size=1, max_size=25), st.data())
def test_a_union_is_the_same_set_in_any_order_and_however_often(
    fresh_store, foreign_line, places, data
):
    lines = [
        foreign_line(seq, boiler=boiler, origin=origin, note=note)
        for boiler, origin, seq, note in places
    ]
    shuffled = data.draw(st.permutations(lines + lines))
    folder, store = fresh_store()
    with folder, store:
        assert sum(add_all(store, shuffled)) == len(set(lines))
        assert sorted(queries.each_line(store)) == sorted(set(lines))
        assert queries.count_records(store) == len(set(lines))


def test_a_fork_is_listed_and_both_records_count(store, foreign_line):
    one, other = foreign_line(1, note="one"), foreign_line(1, note="other")
    add_all(store, [one, other, foreign_line(2)])
    (fork,) = queries.list_forks(store)
    assert fork.ids == tuple(sorted([line_id(one), line_id(other)]))
    assert (fork.boiler, fork.origin, fork.seq) == (BOILER, ORIGINS[0], 1)
    assert queries.count_records(store, [BOILER]) == 3
    assert queries.contiguous_vector(store, [BOILER]) == {BOILER: {ORIGINS[0]: 2}}
    result = check(store)
    assert result.problems == []
    assert result.facts["forks"] == 1
    assert any("a tablet was cloned; all of them count" in note for note in result.notes)


def test_the_digest_is_of_the_sorted_raw_ids(store, tap):
    with store.write() as writer:
        ids = [tap(writer).id for _ in range(5)]
        tap(writer, inspection="jjjjjjjjjjjjj")
    found = queries.record_ids_of_inspection(store, [BOILER], ["iiiiiiiiiiiii"])
    assert found == sorted(ids)
    by_hand = hashlib.sha256(bytes.fromhex("".join(sorted(ids)))).hexdigest()
    assert queries.inspection_digest(reversed(ids)) == by_hand
    assert queries.inspection_digest([]) == hashlib.sha256(b"").hexdigest()
    assert queries.inspection_digest(ids[1:]) != by_hand


def test_records_of_several_boilers_and_of_the_shop(store, tap):
    with store.write() as writer:
        one, other = tap(writer), tap(writer, boiler=OTHER_BOILER)
        person = writer.append("person", {"person": "ppppppppppppp", "name": "Ada"})
    assert queries.load_records(store, [OTHER_BOILER, BOILER, BOILER]) == [one, other]
    assert queries.load_records(store, []) == []
    assert [each.kind for each in queries.load_shop_records(store)] == ["origin", "person"]
    assert queries.load_shop_records(store)[1] == person
    assert queries.count_records(store) == 4


def test_a_record_is_found_by_the_beginning_of_its_id(store, tap):
    with store.write() as writer:
        records = [tap(writer) for _ in range(40)]
    for record in records:
        assert queries.find_records_by_prefix(store, record.id) == [record]
        for length in (1, 2, 3, 7):
            prefix = record.id[:length]
            every = [*records, *queries.load_shop_records(store)]
            wanted = sorted(each.id for each in every if each.id.startswith(prefix))
            found = queries.find_records_by_prefix(store, prefix.upper())
            assert [each.id for each in found] == wanted
    for no_prefix in ("", "xyz", "0x1", "' OR 1=1 --", "a" * 65, "²"):
        assert queries.find_records_by_prefix(store, no_prefix) == []


def test_a_text_in_place_of_a_list_of_ids_is_a_bug(store):
    with pytest.raises(TypeError, match="give a list of ids"):
        queries.load_records(store, BOILER)


def test_a_vector_of_many_records_is_quick(store, foreign_line):
    import time

    add_all(store, [foreign_line(seq) for seq in range(1, 5_001)])
    before = time.perf_counter()
    assert queries.contiguous_vector(store, [BOILER]) == {BOILER: {ORIGINS[0]: 5_000}}
    assert time.perf_counter() - before < 1
    plan = store.rows(f"EXPLAIN QUERY PLAN {queries._ORIGINS}", (BOILER,))
    assert all("SCAN record" not in row[3] for row in plan)  # jumps, and reads no entry in between


def changed_behind_the_guards(store, was, now):
    store.database.conn.execute("DROP TRIGGER record_is_never_changed")
    store.database.conn.execute("UPDATE record SET line = replace(line, ?, ?)", (was, now))


@pytest.mark.parametrize(
    ("was", "now"),
    [
        ('"body"', '"bodi"'),
        ("all of it", "part of it"),  # still a record, yet not the one that was written
    ],
    ids=["no record any more", "another word"],
)
def test_a_damaged_record_is_said_in_a_sentence(store, foreign_line, was, now):
    line = foreign_line(1, note="all of it")
    add_all(store, [line])
    changed_behind_the_guards(store, was, now)
    sentence = "a record in it is not as it was written; run 'tubewright check', .* restore"
    with pytest.raises(StoreRefused, match=sentence):
        queries.load_records(store, [BOILER])
    with pytest.raises(StoreRefused, match=sentence):
        queries.find_records_by_prefix(store, line_id(line))
