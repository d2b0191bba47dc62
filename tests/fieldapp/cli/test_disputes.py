"""``disputes``, ``settle``, ``withdraw``."""

import pytest

from model.store.loading import find_boiler, load_boiler
from model.store.opening import open_store
from model.store.surroundings import real_surroundings


@pytest.fixture
def dispute(inspection, done, write):
    """Tom says that an end leaks, Uma that it is sound."""
    write(
        "o.csv",
        "tube,end,state,leak_at,how,inspector",
        "P2-R01-C01,front,leaking,joint,seen,Tom",
        "P2-R01-C01,front,sound,,seen,Uma",
        "P2-R01-C02,front,sound,,seen,Tom",
    )
    done("observe B-1 o.csv")
    return done("disputes B-1")["disputes"]


@pytest.fixture
def end_found(folder):
    def look(key="P2-R01-C01", end="front"):
        with open_store(folder / "b.db", real_surroundings()) as store:
            boiler = load_boiler(store, find_boiler(store, "B-1").boiler)
        (hole,) = [tube.hole for tube in boiler.tubes if tube.key == key]
        return boiler.inspections[-1].end_found(hole, end)

    return look


def test_a_dispute_is_listed_with_who_says_what_and_the_worse_counts(dispute, tubewright):
    (listed,) = dispute
    assert (listed["tube"], listed["end"], listed["counted_as"]) == (
        "P2-R01-C01",
        "front",
        "leaking",
    )
    assert {(each["by"], each["state"]) for each in listed["opinions"]} == {
        ("Tom", "leaking"),
        ("Uma", "sound"),
    }
    said = tubewright("disputes B-1").out
    assert said.startswith("1 dispute in the inspection of 2026-03-10.\nP2-R01-C01 front: ")
    assert "Tom: leaking (joint, seen)" in said


def test_settling_ends_the_dispute_and_a_late_opinion_opens_it_again(
    dispute, done, end_found, write
):
    settled = done(
        "settle B-1 p2-r01-c01 sound --by Sue --why 'dried and looked again' --from looked-again"
    )
    assert settled["ends"] == ["front"]
    assert settled["weighed"] == 2
    assert done("disputes B-1")["disputes"] == []
    assert end_found().state == "sound"
    write("o.csv", "tube,end,state,how", "P2-R01-C01,front,split,seen")
    done("observe B-1 o.csv --by Vic")
    assert end_found().state == "split"
    assert len(done("disputes B-1")["disputes"]) == 1


def test_a_settle_may_say_where_it_leaks_and_what_plug_it_is(dispute, done, end_found):
    done("settle B-1 P2-R01-C01 leaking --leak-at bore --by Sue --why 'water in the bore'")
    assert end_found().leak_at == "bore"
    done(
        "settle B-1 P2-R01-C01 plugged --end rear --plug-type driven --plug-condition weeping "
        "--by Sue --why 'photo 3' --from photos"
    )
    plug = end_found(end="rear").plug
    assert (plug.type, plug.condition) == ("driven", "weeping")


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (
            "P2-R01-C02 sound",
            "Nobody disagrees about P2-R01-C02 in the inspection of 2026-03-10; name the end that "
            "you settle with --end front or --end rear.",
        ),
        (
            "P2-R01-C01 broken",
            "state: 'broken' is not known; write one of: split, leaking, plugged, thinned, sound.",
        ),
        ("P2-R01-C01 sound --leak-at bore", "--leak-at goes with leaking, but the state is sound."),
        (
            "P2-R01-C01 sound --plug-type cap",
            "--plug-type and --plug-condition go with plugged, but the state is sound.",
        ),
        ("P2-R01-C01 sound --by ''", "--by is empty; write something."),
    ],
)
def test_what_cannot_be_settled_is_refused(dispute, refused, words, sentence):
    by = "" if "--by" in words else "--by Sue"
    assert refused(f"settle B-1 {words} {by} --why 'seen'") == [sentence]


def test_an_unknown_tube_is_refused_with_those_near_it(dispute, refused):
    (sentence,) = refused("settle B-1 P2-R1-C01 sound --by Sue --why seen")
    assert sentence.startswith("The tube 'P2-R1-C01' is not in the layout; near it: P2-R01-C01")


def test_one_takes_back_ones_own_record_and_not_anothers(dispute, done, refused):
    ids = {each["by"]: each["id"] for each in dispute[0]["opinions"]}
    (sentence,) = refused(f"withdraw {ids['Tom'][:10]} --by Uma --why 'I think not'")
    assert sentence.startswith("This observation was made by Tom, and only they may withdraw it")
    taken = done(f"withdraw {ids['Tom'][:10]} --by Tom --why 'wrong tube'")
    assert taken == {"id": ids["Tom"], "kind": "observation"}
    assert done("disputes B-1")["disputes"] == []
    (sentence,) = refused(f"withdraw {ids['Tom'][:10]} --by Tom --why again")
    assert sentence.endswith("was superseded or withdrawn already.")


@pytest.mark.parametrize("start", ["abc", "zzzz", "0123456789abcdef"])
def test_an_id_that_fits_no_one_record_is_refused(dispute, refused, start):
    (sentence,) = refused(f"withdraw {start} --by Tom --why 'no such'")
    assert "give at least 4 characters that fit one record" in sentence
