"""Coverage counted by hand: ends of the scope by how they are known, tubes by ends looked at.

Not here: percentages of tubes (``test_counts``).
"""

import pytest

from model.condition.coverage import count_coverage
from tests.model.condition.journal import BEN, SPRING
from tests.model.condition.small_boiler import SmallBoiler


def hows(coverage):
    names = ("seen", "by_row", "filled", "paper", "not_inspected")
    counts = {name: getattr(coverage, name) for name in names}
    assert sum(counts.values()) == coverage.ends
    return {name: count for name, count in counts.items() if count}


def test_coverage_counts_ends_by_how_they_are_known():
    boiler = SmallBoiler({2: 6})
    for key, how in (("2.1", "seen"), ("2.2", "by-row"), ("2.3", "filled"), ("2.4", "paper")):
        boiler.see(key, "sound", how=how)
    boiler.see("2.5", "sound", "front")
    coverage = boiler.coverage()
    assert coverage.ends == 12
    assert hows(coverage) == {
        "seen": 3, "by_row": 2, "filled": 2, "paper": 2, "not_inspected": 3,
    }  # fmt: skip


def test_tubes_are_counted_by_looks_and_a_fill_in_is_no_look():
    boiler = SmallBoiler({2: 6})
    boiler.see("2.1", "sound")
    boiler.see("2.2", "sound", "front")
    boiler.see("2.3", "sound", "rear", how="paper")
    boiler.see("2.4", "sound", "front", how="by-row")
    boiler.see("2.4", "sound", "rear", how="filled")
    boiler.see("2.5", "sound", how="filled")
    coverage = boiler.coverage()
    assert coverage.tubes_both_ends == 1
    assert (coverage.tubes_front_only, coverage.tubes_rear_only) == (2, 1)
    assert coverage.tubes_one_end == 3
    assert coverage.tubes_no_end == 2
    assert (coverage.looked_at, coverage.looked_at_percent) == (5, pytest.approx(100 * 5 / 12))


@pytest.mark.parametrize(
    ("said", "best"),
    [
        (("seen", "paper"), "seen"),
        (("paper", "by-row"), "paper"),
        (("by-row", "filled"), "by_row"),
        (("filled", "filled"), "filled"),
    ],
)
def test_of_several_ways_the_best_counts(said, best):
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "sound", how=said[0])
    boiler.see("2.1", "sound", how=said[1], by=BEN)
    assert hows(boiler.coverage()) == {best: 2}


@pytest.mark.parametrize("source", ["photos", "readings"])
@pytest.mark.parametrize("how", ["filled", "paper", "by-row"])
def test_settled_from_photos_or_readings_counts_as_the_how_of_what_it_covers(source, how):
    boiler = SmallBoiler({2: 1})
    said = [boiler.see("2.1", "sound", "front", how=how)]
    said.append(boiler.see("2.1", "thinned", "front", how="filled", by=BEN))
    boiler.settle("2.1", "thinned", *said, **{"from": source})
    assert hows(boiler.coverage()) == {how.replace("-", "_"): 1, "not_inspected": 1}


def test_settled_after_looking_again_counts_as_seen():
    boiler = SmallBoiler({2: 1})
    said = boiler.see("2.1", "sound", "front", how="filled")
    boiler.settle("2.1", "sound", said, **{"from": "looked-again"})
    assert hows(boiler.coverage()) == {"seen": 1, "not_inspected": 1}


def test_no_state_is_not_inspected_whatever_the_reason_and_so_is_a_carried_state():
    boiler = SmallBoiler({2: 2})
    boiler.see("2.1", None, reason="no-entry")
    boiler.see("2.2", "plugged", at=SPRING)
    coverage = boiler.coverage()
    assert hows(coverage) == {"not_inspected": 4}
    assert coverage.tubes_no_end == 2
    assert coverage.looked_at_percent == 0.0


def test_a_withdrawn_mark_is_no_look():
    boiler = SmallBoiler({2: 1})
    boiler.journal.withdraws(boiler.see("2.1", "sound", "front"))
    assert hows(boiler.coverage()) == {"not_inspected": 2}


def test_a_fill_in_over_a_carried_plug_is_not_counted_as_filled():
    boiler = SmallBoiler({2: 1})
    boiler.see("2.1", "plugged", at=SPRING)
    boiler.see("2.1", "sound", how="filled")
    assert hows(boiler.coverage()) == {"not_inspected": 2}


def test_coverage_is_of_the_scope_where_the_scope_names_passes():
    boiler = SmallBoiler({2: 3, 3: 5}, scope="passes", of_passes=(3,))
    boiler.see_rest()
    coverage = boiler.coverage()
    assert (coverage.ends, coverage.seen, coverage.tubes_both_ends) == (10, 10, 5)


@pytest.mark.parametrize("scope", ["full", "leak-call", "after-repair"])
@pytest.mark.parametrize("of_passes", [(), (3,)])
def test_coverage_is_of_every_tube_where_the_scope_is_not_of_passes(scope, of_passes):
    assert SmallBoiler({2: 3, 3: 5}, scope=scope, of_passes=of_passes).coverage().ends == 16


def test_coverage_is_of_every_tube_where_the_scope_is_of_passes_and_names_none():
    assert SmallBoiler({2: 3, 3: 5}, scope="passes").coverage().ends == 16


def test_coverage_of_nothing_has_no_percentage():
    assert count_coverage([]).looked_at_percent is None
