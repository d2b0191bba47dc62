"""One stream of records: its lines in order, what is missing of it, its digest."""

import hashlib
import random

from hypothesis import given, settings
from hypothesis import strategies as st

from model.store.streams import Gap, authors_of, count_and_digest, each_line_of, list_gaps

BOILER, ORIGIN = "bbbbbbbbbbbbb", "ooooooooooooo"


def fill(store, lines):
    with store.write() as writer:
        for line in lines:
            writer.add_line(line)


def gaps(store, up_to=0):
    return [(gap.first, gap.last) for gap in list_gaps(store, BOILER, ORIGIN, up_to)]


def test_lines_come_by_number_and_id_across_pages(store, foreign_line):
    lines = [foreign_line(seq, note=note) for seq in range(1, 401) for note in ("a", "b")]
    wanted = [
        line
        for seq in range(400)
        for line in sorted(
            lines[2 * seq : 2 * seq + 2], key=lambda each: hashlib.sha256(each).digest()
        )
    ]
    random.Random(1).shuffle(lines)
    fill(store, lines)
    assert [line for _seq, _raw, line in each_line_of(store, BOILER, ORIGIN)] == wanted
    after = [line for _seq, _raw, line in each_line_of(store, BOILER, ORIGIN, 390)]
    assert after == wanted[-20:]
    assert list(each_line_of(store, BOILER, "x" * 13)) == []


def test_a_digest_names_the_records_and_not_their_arrival(store, foreign_line):
    lines = [foreign_line(seq) for seq in (3, 1, 2)]
    fill(store, lines)
    ids = [hashlib.sha256(line).digest() for line in (lines[1], lines[2])]
    wanted = hashlib.sha256(b"".join(ids)).hexdigest()
    assert count_and_digest(store, BOILER, ORIGIN, 2) == (2, wanted)
    fill(store, [foreign_line(2, note="another number 2")])
    count, digest = count_and_digest(store, BOILER, ORIGIN, 2)
    assert count == 3
    assert digest != wanted


def test_gaps_at_the_beginning_inside_and_at_the_end(store, foreign_line):
    assert gaps(store) == []
    assert gaps(store, 3) == [(1, 3)]
    fill(store, [foreign_line(seq) for seq in (2, 3, 6, 9)])
    assert gaps(store) == [(1, 1), (4, 5), (7, 8)]
    assert gaps(store, 12) == [(1, 1), (4, 5), (7, 8), (10, 12)]
    assert list_gaps(store, BOILER, ORIGIN)[0] == Gap(boiler=BOILER, origin=ORIGIN, first=1, last=1)


def test_a_number_claimed_twice_is_no_gap(store, foreign_line):
    fill(store, [foreign_line(1), foreign_line(2), foreign_line(2, note="other")])
    assert gaps(store) == []


def test_authors_are_those_of_the_boiler_alone(store, foreign_line):
    fill(
        store,
        [
            foreign_line(1, by="ccccccccccccc"),
            foreign_line(1, by="ddddddddddddd", boiler="aaaaaaaaaaaaa", origin="m" * 13),
        ],
    )
    assert authors_of(store, [BOILER]) == ({"ccccccccccccc"}, {ORIGIN})


@settings(max_examples=25)
@given(held=st.sets(st.integers(1, 30)), up_to=st.integers(0, 35))
def test_numbers_held_and_missing_make_all_numbers(
    tmp_path_factory, make_surroundings, foreign_line, held, up_to
):
    from model.store.opening import open_store

    path = tmp_path_factory.mktemp("gaps") / "boilers.db"
    with open_store(path, make_surroundings()) as store:
        fill(store, [foreign_line(seq) for seq in held])
        missing = {number for low, high in gaps(store, up_to) for number in range(low, high + 1)}
    assert missing.isdisjoint(held)
    assert missing | held == set(range(1, max([up_to, *held]) + 1))
