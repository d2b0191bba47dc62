"""A boiler read with its closed inspections from the cache equals one folded from everything."""

from dataclasses import replace

import pytest

from model.store.cache import put_cached
from model.store.check import check
from model.store.history import HISTORY_CACHE, load_present, recompute_history
from model.store.loading import load_boiler
from model.store.opening import open_store

HOLES = ("holea22222222", "holeb22222222")
BOILER, BY = "boiler2222222", "ada2222222222"
YEARS = ("inspa22222222", "inspb22222222", "inspc22222222")


@pytest.fixture
def store(tmp_path, surroundings):
    with open_store(tmp_path / "b.db", surroundings) as opened:
        yield opened


def add(store, kind, body, names=()):
    with store.write() as writer:
        by = BY if kind != "person" else ""
        at = BOILER if kind != "person" else ""
        supersedes = [record.id for record in names]
        return writer.append(kind, body, boiler=at, by=by, supersedes=supersedes)


def marked(store, inspection, hole, state, **more):
    body = {"inspection": inspection, "hole": hole, "tube": "T1", "end": "front", "how": "seen"}
    return add(store, "observation", {**body, "state": state, **more})


def closed(store, inspection):
    empty = {"vector": {}, "beyond_gap": [], "digest": "0" * 64}
    return add(store, "close", {"inspection": inspection, **empty})


@pytest.fixture
def three_years(store):
    """Two closed inspections and an open one; a plug, a leak, a replaced tube, gap work."""
    add(store, "boiler", {"boiler": BOILER, "tag": "B", "kind": "other"})
    holes = [
        {"hole": h, "tube": f"T{n}", "pass": 2, "row": 1, "column": n, "x_mm": n * 70, "y_mm": 0}
        | {"kind": "plain"}
        for n, h in enumerate(HOLES, 1)
    ]
    add(store, "layout", {"holes": holes})
    for inspection, year in zip(YEARS, (2018, 2022, 2026), strict=True):
        body = {"inspection": inspection, "date": f"{year}-06-01", "scope": "full"}
        add(store, "inspection", body)
    marked(store, YEARS[0], HOLES[0], "plugged", plug={"condition": "weeping"})
    marked(store, YEARS[0], HOLES[1], "leaking", leak_at="bore")
    closed(store, YEARS[0])
    work = {"inspection": YEARS[1], "hole": HOLES[1], "does": "replace", "done_on": "2022-06-02"}
    add(store, "work", work)
    closed(store, YEARS[1])
    marked(store, YEARS[2], HOLES[1], "sound")


def agrees(store):
    """The later inspections as read with the cache, compared with everything folded."""
    every = load_boiler(store, BOILER)
    for _ in range(2):  # once making the cache, once from it
        present = load_present(store, BOILER)
        later = every.inspections[-len(present.inspections) :]
        assert [i.facts for i in present.inspections] == [i.facts for i in later]
        for here, there in zip(present.inspections, later, strict=True):
            assert replace(here, work=(), readings=(), others=()) == replace(
                there, work=(), readings=(), others=()
            )
        assert present.carried_after == every.carried_after
    return present


def test_only_the_inspections_after_the_closed_ones_are_listed(store, three_years):
    present = agrees(store)
    assert [each.facts.date for each in present.inspections] == ["2026-06-01"]
    assert present.inspections[0].carried_in.life(HOLES[1]).number == 2


def test_a_late_record_of_a_closed_inspection_is_seen(store, three_years):
    agrees(store)
    marked(store, YEARS[1], HOLES[0], "split")
    assert agrees(store).inspections[0].carried_in.ends[HOLES[0], "front"].state == "split"


def test_a_withdrawal_in_a_closed_inspection_is_seen(store, three_years):
    late = marked(store, YEARS[1], HOLES[0], "split")
    agrees(store)
    add(store, "withdraw", {"why": "wrong tube"}, [late])
    assert agrees(store).inspections[0].carried_in.ends[HOLES[0], "front"].state == "plugged"


def test_a_mark_and_its_undoing_in_the_open_inspection_leave_the_cache_as_it_is(
    store, three_years, monkeypatch
):
    agrees(store)
    mark = marked(store, YEARS[2], HOLES[0], "plugged")
    add(store, "withdraw", {"why": "taken back"}, [mark])
    monkeypatch.setattr("model.store.history.load_boiler", None)  # folding anew would fail
    load_present(store, BOILER)


def test_work_that_names_work_of_another_inspection_is_folded_with_everything(store, three_years):
    plug = {"inspection": YEARS[1], "hole": HOLES[0], "does": "unplug"}
    first = add(store, "work", plug)
    agrees(store)
    body = {"inspection": YEARS[2], "hole": HOLES[0], "does": "clean", "corrects": True}
    add(store, "work", body, [first])
    every, present = load_boiler(store, BOILER), load_present(store, BOILER)
    assert present.inspections[-1] == every.inspections[-1]
    assert present.inspections[-1].carried_in.ends[HOLES[0], "front"].state == "plugged"


def test_the_check_compares_the_cache_with_a_new_fold(store, three_years):
    load_present(store, BOILER)
    compare = {HISTORY_CACHE: lambda boiler: recompute_history(store, boiler)}
    assert check(store, compare).problems == []
    ((digest,),) = store.rows("SELECT lower(hex(digest)) FROM cache")
    text = recompute_history(store, BOILER)
    with_a_lie = text.replace('"plugged"', '"split"')
    assert with_a_lie != text
    put_cached(store, HISTORY_CACHE, BOILER, digest, with_a_lie)
    assert check(store, compare).problems == [
        f"The cache's history of {BOILER} differs from a new one."
    ]


def test_an_outdated_cache_is_no_damage(store, three_years):
    load_present(store, BOILER)
    marked(store, YEARS[1], HOLES[0], "split")
    assert recompute_history(store, BOILER) is None
