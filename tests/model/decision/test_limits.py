"""Acceptance limits: levels, overrides, exactly at a level, floors, and the worst place of a sheet.

Not here: what follows from them (``test_by_condition``).
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.condition.clusters import Cluster
from model.condition.counts import as_left, count_passes
from model.decision.limits import (
    CLUSTER,
    COVERAGE,
    DEFAULT_LIMITS,
    OUT_OF_SERVICE,
    PLUGGED,
    LimitRule,
    LimitStatus,
    judge_limits,
    limit_status,
    limits_with_overrides,
)
from tests.model.condition.small_boiler import SmallBoiler

ORDER = [LimitStatus.OK, LimitStatus.WATCH, LimitStatus.ACT]


def place(sheet, span_mm, permitted_mm, status, *, tubes=("2.1",), bare_mm=0.0, **more):
    return Cluster(
        sheet=sheet, tubes=tubes, span_mm=span_mm, bare_mm=bare_mm, permitted_mm=permitted_mm,
        status=status, x_mm=0.0, y_mm=0.0, **more,
    )  # fmt: skip


def bare(span_mm=867.0, **more):
    """A place of the chamber sheet, where 214 mm are permitted."""
    return place("chamber", span_mm, 214.0, "refer", bare_mm=span_mm - 100.0, **more)


def place_limit(*clusters):
    (result,) = (r for r in judged(SmallBoiler({2: 1}), clusters) if r.name == CLUSTER)
    return result


def judged(boiler, clusters=(), overrides=()):
    passes = count_passes(list(boiler.tubes().values()), as_left, None)
    rules = limits_with_overrides(dict(overrides))
    return judge_limits(passes, boiler.coverage(), clusters, rules)


def test_the_limits_are_those_of_common_practice_and_say_so():
    levels = {name: (rule.watch, rule.act) for name, rule in DEFAULT_LIMITS.items()}
    assert levels == {
        PLUGGED: (5.0, 10.0),
        OUT_OF_SERVICE: (5.0, 10.0),
        COVERAGE: (95.0, 80.0),
        CLUSTER: (None, None),
    }
    assert "common practice" in DEFAULT_LIMITS[PLUGGED].basis
    assert "no published code limit" in DEFAULT_LIMITS[OUT_OF_SERVICE].basis
    assert DEFAULT_LIMITS[COVERAGE].basis == "ours"


@pytest.mark.parametrize(
    ("value", "status"),
    [
        (None, "unknown"),
        (0.0, "ok"),
        (5.0, "ok"),
        (5.000001, "watch"),
        (10.0, "watch"),
        (10.000001, "act"),
        (100.0, "act"),
    ],
)
def test_a_value_exactly_at_a_level_is_not_beyond_it(value, status):
    assert limit_status(DEFAULT_LIMITS[PLUGGED], value) == status


@pytest.mark.parametrize(
    ("value", "status"),
    [(100.0, "ok"), (95.0, "ok"), (94.99, "watch"), (80.0, "watch"), (79.9, "act")],
)
def test_of_a_floor_less_is_worse(value, status):
    assert limit_status(DEFAULT_LIMITS[COVERAGE], value) == status


def test_6_of_60_plugged_is_exactly_10_percent_and_not_beyond_it():
    boiler = SmallBoiler({2: 60})
    for number in range(1, 7):
        boiler.see(f"2.{number}", "plugged", "front")
    (plugged,) = (limit for limit in judged(boiler) if limit.name == PLUGGED)
    assert (plugged.value, plugged.status) == (10.0, LimitStatus.WATCH)


@given(st.lists(st.floats(0, 100), min_size=2, max_size=2), st.booleans())
def test_worse_is_never_judged_milder(values, is_floor):
    rule = LimitRule(name="x", watch=40.0, act=60.0, basis="", is_floor=is_floor)
    if is_floor:
        rule = LimitRule(name="x", watch=60.0, act=40.0, basis="", is_floor=True)
    better, worse = sorted(values, reverse=is_floor)
    assert ORDER.index(limit_status(rule, better)) <= ORDER.index(limit_status(rule, worse))


def test_an_owner_overrides_levels_and_names_the_basis():
    rules = limits_with_overrides({PLUGGED: {"watch": 3, "act": 6.5, "basis": "insurer's letter"}})
    rule = rules[PLUGGED]
    assert (rule.watch, rule.act, rule.basis) == (3.0, 6.5, "insurer's letter")
    assert rules[OUT_OF_SERVICE] == DEFAULT_LIMITS[OUT_OF_SERVICE]
    assert limit_status(rule, 6.6) is LimitStatus.ACT


def test_what_an_override_does_not_give_stays_and_a_missing_basis_is_said():
    rule = limits_with_overrides({COVERAGE: {"act": 50}})[COVERAGE]
    assert (rule.watch, rule.act, rule.is_floor) == (95.0, 50.0, True)
    assert rule.basis == "owner, no basis given"


def test_a_limit_that_does_not_exist_changes_nothing():
    assert limits_with_overrides({"colour": {"act": 1}}) == DEFAULT_LIMITS


@pytest.mark.parametrize("stored", [None, 5, "5 %", [1], True])
def test_what_another_program_stored_as_a_limit_changes_nothing(stored):
    given = {PLUGGED: stored, CLUSTER: stored}
    assert limits_with_overrides(given) == DEFAULT_LIMITS
    rule = limits_with_overrides({PLUGGED: {"watch": stored, "act": True}})[PLUGGED]
    assert (rule.watch, rule.act) == (5.0, 10.0)


@pytest.mark.parametrize("level", [-1, 101, float("nan"), float("inf"), 10**400, {}])
def test_a_stored_level_that_cannot_be_meant_is_as_built_in(level):
    stored = {PLUGGED: {"watch": level, "act": level, "basis": "owner"}}
    assert limits_with_overrides(stored) == DEFAULT_LIMITS
    rule = limits_with_overrides({PLUGGED: {"watch": level, "act": 9, "basis": ["x"]}})[PLUGGED]
    assert (rule.watch, rule.act, rule.basis) == (5.0, 9.0, "owner, no basis given")


@pytest.mark.parametrize(
    ("name", "stored", "levels", "beyond"),
    [
        (PLUGGED, {"watch": 20, "act": 5}, (5.0, 5.0), 5.1),
        (OUT_OF_SERVICE, {"watch": 12}, (10.0, 10.0), 10.1),
        (COVERAGE, {"watch": 70, "act": 90}, (90.0, 90.0), 89.9),
    ],
)
def test_a_stored_watch_that_lies_beyond_act_counts_as_act_and_act_still_acts(
    name, stored, levels, beyond
):
    rule = limits_with_overrides({name: {**stored, "basis": "owner"}})[name]
    assert (rule.watch, rule.act) == levels
    assert rule.basis.startswith("owner; watch would be ")
    assert limit_status(rule, beyond) is LimitStatus.ACT
    assert limit_status(rule, rule.act) is LimitStatus.OK


@pytest.mark.parametrize(("name", "act"), [(PLUGGED, 3.0), (COVERAGE, 97.0)])
def test_an_act_alone_draws_watch_to_it_without_a_word(name, act):
    rule = limits_with_overrides({name: {"act": act, "basis": "owner"}})[name]
    assert (rule.watch, rule.act, rule.basis) == (act, act, "owner")


def test_an_engineers_answer_for_a_sheet_is_no_level_of_every_sheet():
    answer = {CLUSTER: {"chamber": {"act_mm": 240.0, "basis": "letter"}}}
    assert limits_with_overrides(answer) == DEFAULT_LIMITS


def test_every_pass_is_judged_for_itself_with_its_high_figure():
    boiler = SmallBoiler({2: 4, 3: 2})
    boiler.see("2.1", "plugged")
    boiler.see("2.2", "sound")
    results = [
        (each.name, each.pass_, each.value, each.high, str(each.status)) for each in judged(boiler)
    ]
    assert results == [
        (PLUGGED, 2, 25.0, 50.0, "act"),
        # Nobody looked at pass 3: that none is counted there says nothing.
        (PLUGGED, 3, 0.0, None, "unknown"),
        (OUT_OF_SERVICE, 2, 25.0, 50.0, "act"),
        (OUT_OF_SERVICE, 3, 0.0, None, "unknown"),
        (COVERAGE, None, pytest.approx(100 * 4 / 12), None, "act"),
    ]


def test_of_each_sheet_the_widest_place_stands():
    clusters = [
        place("front", 200.0, 250.0, "ok"),
        place("front", 240.0, 250.0, "ok"),
        place("chamber", 240.0, 200.0, "refer"),
        place("rear", 240.0, None, "unknown"),
    ]
    results = {
        each.sheet: (each.value, each.act, str(each.status))
        for each in judged(SmallBoiler({2: 1}), clusters)
        if each.name == CLUSTER
    }
    assert results == {
        "front": (240.0, 250.0, "ok"),
        "chamber": (240.0, 200.0, "refer"),
        "rear": (240.0, None, "unknown"),
    }


def test_a_narrow_place_with_a_plugged_stay_comes_before_a_wide_one_that_is_kept():
    result = place_limit(place("front", 240.0, 250.0, "ok"), place("front", 140.0, 250.0, "refer"))
    assert (result.value, str(result.status)) == (140.0, "refer")
    assert result.basis == "a plugged stay tube is always referred to an engineer"


@pytest.mark.parametrize(("span_mm", "status"), [(228.0, "refer"), (172.0, "ok")])
def test_a_bare_place_hides_no_narrower_one_that_is_the_plugs_doing(span_mm, status):
    result = place_limit(bare(), place("chamber", span_mm, 214.0, status))
    assert (result.value, str(result.status)) == (span_mm, status)
    assert "stayed flat plate" in result.basis
    assert result.plugs_beside_bare_plate == 1


def test_plugs_beside_bare_plate_are_counted_once_and_by_sheet():
    clusters = [
        bare(600.0, tubes=("2.1", "2.2")),
        bare(tubes=("2.2", "2.9")),
        place("chamber", 140.0, 214.0, "ok", tubes=("2.1", "2.2", "2.9")),
        place("front", 140.0, 250.0, "ok"),
    ]
    counts = {
        each.sheet: each.plugs_beside_bare_plate
        for each in judged(SmallBoiler({2: 1}), clusters)
        if each.name == CLUSTER
    }
    assert counts == {"chamber": 3, "front": 0}


def test_an_engineers_answer_is_the_basis_of_its_sheet_alone():
    letter = "letter of the owner's engineer"
    clusters = [
        place("chamber", 228.0, 240.0, "ok", permitted_by=letter),
        place("front", 228.0, 253.0, "ok"),
    ]
    found = {
        each.sheet: each for each in judged(SmallBoiler({2: 1}), clusters) if each.name == CLUSTER
    }
    assert (found["chamber"].basis, found["chamber"].permitted_by) == (letter, letter)
    assert "stayed flat plate" in found["front"].basis
    assert found["front"].permitted_by is None


def test_a_boiler_without_plugs_has_no_limit_on_clusters():
    assert all(each.name != CLUSTER for each in judged(SmallBoiler({2: 1})))
