"""How far each limit is: that many more tubes or ends, and no fewer, take it to its level."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.view.limit_rows import BAR_TO_ACT, least_reaching, most_within
from fieldapp.view.limits_page import limits_page
from fieldapp.view.session_pages import limits_of
from model.decision.limits import (
    CLUSTER,
    COVERAGE,
    OUT_OF_SERVICE,
    PLUGGED,
    LimitRule,
    LimitStatus,
    limit_status,
)
from model.errors import ModelError
from model.record.words import Scope, State
from tests.fieldapp.view.limit_pages import facts, level_of, page_of, plugged, row_of
from tests.model.condition.small_boiler import SmallBoiler

SOUND = {"state": "sound"}
WATCH, ACT, OK = LimitStatus.WATCH, LimitStatus.ACT, LimitStatus.OK


# In tubes


def test_exactly_10_percent_is_not_beyond_and_one_more_tube_is():
    boiler = plugged(SmallBoiler({2: 60}), range(1, 7))
    row = row_of(page_of(boiler), PLUGGED, 2)
    act = level_of(row, ACT)
    assert (row.result.value, row.status) == (10.0, WATCH)
    assert (act.is_beyond, act.count) == (False, 1)
    assert row.lines == (
        "Watch beyond 5 %: 3 tubes too many.",
        "Act beyond 10 %: 1 more plugged tube of pass 2 takes it there.",
    )
    row = row_of(page_of(plugged(boiler, [7])), PLUGGED, 2)
    assert (row.status, level_of(row, ACT).is_beyond) == (ACT, True)
    assert level_of(row, ACT).words == "Act beyond 10 %: 1 tube too many."


@pytest.mark.parametrize(("tubes", "already"), [(60, 0), (60, 2), (59, 2), (30, 1), (7, 0)])
def test_marking_as_many_as_it_says_takes_it_beyond_and_one_fewer_does_not(tubes, already):
    boiler = plugged(SmallBoiler({2: tubes}), range(1, already + 1))
    more = {}
    for name in (PLUGGED, OUT_OF_SERVICE):
        levels = row_of(page_of(boiler), name, 2).levels
        assert [level.is_beyond for level in levels] == [False, False]
        more[name] = level_of(row_of(page_of(boiler), name, 2), ACT).count
    assert more[PLUGGED] == more[OUT_OF_SERVICE]
    last = already + more[PLUGGED]
    plugged(boiler, range(already + 1, last))
    assert row_of(page_of(boiler), PLUGGED, 2).status is not ACT
    assert level_of(row_of(page_of(boiler), PLUGGED, 2), ACT).count == 1
    boiler.see(f"2.{last}", "split", "rear")
    page = page_of(boiler)
    assert row_of(page, PLUGGED, 2).status is not ACT
    assert row_of(page, OUT_OF_SERVICE, 2).status is ACT
    plugged(boiler, [last])
    assert row_of(page_of(boiler), PLUGGED, 2).status is ACT


def test_taking_away_the_tubes_that_are_too_many_keeps_the_level():
    over = level_of(row_of(page_of(plugged(SmallBoiler({2: 30}), range(1, 9))), PLUGGED, 2), ACT)
    assert (over.is_beyond, over.count) == (True, 5)
    fewer = row_of(page_of(plugged(SmallBoiler({2: 30}), range(1, 9 - over.count))), PLUGGED, 2)
    assert (fewer.result.value, fewer.status) == (10.0, WATCH)
    one_more = row_of(page_of(plugged(SmallBoiler({2: 30}), range(1, 10 - over.count))), PLUGGED, 2)
    assert one_more.status is ACT


@given(st.integers(1, 400), st.one_of(st.floats(0, 100), st.integers(0, 100)))
def test_the_greatest_count_within_a_level_is_that_of_the_judgement(whole, level):
    rule = LimitRule(name="x", watch=None, act=float(level), basis="")
    within = most_within(level, whole)
    assert limit_status(rule, 100.0 * within / whole) is OK
    if within < whole:
        assert limit_status(rule, 100.0 * (within + 1) / whole) is ACT


@given(st.integers(1, 400), st.one_of(st.floats(0, 100), st.integers(0, 100)))
def test_the_least_count_that_reaches_a_level_is_that_of_the_judgement(whole, level):
    rule = LimitRule(name="x", watch=None, act=float(level), basis="", is_floor=True)
    least = least_reaching(level, whole)
    assert limit_status(rule, 100.0 * least / whole) is OK
    if least:
        assert limit_status(rule, 100.0 * (least - 1) / whole) is ACT


def test_a_level_that_no_number_of_tubes_passes_says_so():
    limits = {PLUGGED: {"watch": 50, "act": 100}}
    row = row_of(page_of(plugged(SmallBoiler({2: 4}), [1, 2, 3, 4]), limits=limits), PLUGGED, 2)
    assert row.lines == (
        "Watch beyond 50 %: 2 tubes too many.",
        "Act beyond 100 %: no number of tubes takes it there.",
    )
    assert level_of(row, ACT).count is None


def test_if_the_unseen_are_like_the_seen_is_told_beside_what_is_known():
    boiler = plugged(SmallBoiler({2: 20}), [1])
    boiler.see("2.2", "sound")
    assert row_of(page_of(boiler), PLUGGED, 2).value == (
        "1 of 20 tubes: at least 5.0 %, about 50.0 % if the unseen are like the seen"
    )


def test_a_pass_that_nobody_has_looked_at_says_so():
    boiler = SmallBoiler({2: 4, 3: 4})
    boiler.see("2.1", "sound")
    assert row_of(page_of(boiler), PLUGGED, 3).value == (
        "0 of 4 tubes: at least 0.0 %; nobody has looked at this pass yet"
    )


# In tube ends


def test_looking_at_as_many_ends_as_it_says_is_enough_and_one_fewer_is_not(bench, session):
    ends = [bench.ref(key, end) for end in ("front", "rear") for key in sorted(bench.tubes)]
    session.mark(ends[:3], SOUND)
    row = row_of(limits_of(session), COVERAGE)
    assert row.value == "3 of 28 ends in scope: 10.7 %"
    assert row.lines == (
        "Watch below 95 %: 24 ends still to look at.",
        "Act below 80 %: 20 ends still to look at.",
    )
    session.mark(ends[3:22], SOUND)
    row = row_of(limits_of(session), COVERAGE)
    assert (row.status, level_of(row, ACT).count) == (ACT, 1)
    session.mark(ends[22:23], SOUND)
    row = row_of(limits_of(session), COVERAGE)
    assert (row.status, level_of(row, ACT).is_beyond, level_of(row, ACT).count) == (
        WATCH,
        False,
        None,
    )
    assert level_of(row, ACT).words == "Act below 80 %: enough ends were looked at."


def test_fill_ins_are_told_and_are_no_looks(bench, session):
    before = level_of(row_of(limits_of(session), COVERAGE), ACT).count
    session.fill_rest(bench.row(3, 1), State.SOUND)
    row = row_of(limits_of(session), COVERAGE)
    assert level_of(row, ACT).count == before
    assert row.value == "0 of 28 ends in scope: 0.0 %; 2 filled in, which is no look"


def test_only_ends_of_the_scope_are_counted():
    boiler = SmallBoiler({2: 4, 3: 6})
    boiler.see("2.1", "sound")
    tubes = list(boiler.tubes().values())
    page = limits_page(tubes, tubes[:4], facts(), Scope.PASSES)
    row = row_of(page, COVERAGE)
    assert row.value == "2 of 8 ends in scope: 25.0 %"
    assert level_of(row, ACT).count == 5
    assert row_of(limits_page(tubes, [], facts(), Scope.PASSES), COVERAGE).value == (
        "0 of 0 ends in scope: nothing is in scope"
    )


# In millimetres of an open place


def places(boiler, *, stress_mpa=100.0, mawp_mpa=1.0, plate_mm=8.0):
    """Both sheets with the same plate; no shell, so that places end with the tubes."""
    made = facts(mawp_mpa=mawp_mpa)
    sheets = tuple(
        replace(sheet, plate_mm=plate_mm, stress_mpa=stress_mpa) for sheet in made.sheets
    )
    tubes = list(boiler.tubes().values())
    return limits_page(tubes, tubes, replace(made, sheets=sheets), Scope.FULL)


def grid():
    """Rows of pass 2 and 3 that hold each other."""
    return SmallBoiler({2: 9, 3: 9})


def test_a_place_that_is_too_wide_is_told_in_millimetres_and_referred():
    page = places(plugged(grid(), [4, 5, 6]), plate_mm=2.0)
    row = row_of(page, CLUSTER, sheet="front")
    over_mm = row.result.value - row.result.act
    assert (row.status, row.levels) == (LimitStatus.REFER, ())
    assert over_mm > 1.0
    assert row.lines == (
        f"{row.result.act:.0f} mm permitted: {over_mm:.0f} mm too wide, refer to an engineer.",
    )
    assert row.value.startswith(f"Circle of {row.result.value:.0f} mm without a working tube")
    assert row.bar.value > row.bar.act


def test_a_place_that_is_kept_says_what_is_to_spare():
    row = row_of(places(plugged(grid(), [1]), plate_mm=60.0), CLUSTER, sheet="rear")
    spare_mm = row.result.act - row.result.value
    assert row.lines == (f"{row.result.act:.0f} mm permitted: {spare_mm:.0f} mm to spare.",)
    assert row.status is OK
    assert row.value.endswith("around 2.1")


def test_a_place_without_plate_or_pressure_names_what_is_missing():
    row = row_of(places(plugged(grid(), [1]), mawp_mpa=None), CLUSTER, sheet="front")
    assert row.lines == ("What is permitted is not known: MAWP is missing.",)
    assert (row.status, row.bar) == (LimitStatus.UNKNOWN, None)
    row = row_of(
        places(plugged(grid(), [1]), stress_mpa=None, plate_mm=None), CLUSTER, sheet="front"
    )
    assert row.lines == ("What is permitted is not known: plate thickness and stress are missing.",)


def beside_bare_plate(numbers, limits=None):
    """Two rows in the middle of a wide shell, where 124 mm are permitted."""
    made = facts(limits, mawp_mpa=1.0, shell_diameter_mm=3000.0)
    sheets = tuple(replace(sheet, plate_mm=10.0, stress_mpa=74.0) for sheet in made.sheets)
    tubes = list(plugged(grid(), numbers).tubes().values())
    return limits_page(tubes, tubes, replace(made, sheets=sheets), Scope.FULL)


def test_plugs_beside_bare_plate_are_told_beside_the_place_that_is_judged():
    row = row_of(beside_bare_plate([4, 8]), CLUSTER, sheet="front")
    assert row.value == "Circle of 140 mm without a working tube or stay, around 2.4"
    assert row.lines == (
        "125 mm permitted: 15 mm too wide, refer to an engineer.",
        "2 plugs stand beside bare plate that is too wide even with every tube in service: what "
        "holds it (stays, an edge) is not entered.",
    )


def test_an_engineers_answer_is_what_is_permitted_and_the_basis():
    letter = {"cluster": {"front": {"act_mm": 150, "basis": "letter of 2026-10-01"}}}
    page = beside_bare_plate([4], letter)
    row = row_of(page, CLUSTER, sheet="front")
    assert (row.status, row.basis) == (OK, "letter of 2026-10-01")
    assert row.lines[0] == "150 mm permitted: 10 mm to spare."
    rear = row_of(page, CLUSTER, sheet="rear")
    assert rear.status is LimitStatus.REFER
    assert rear.basis.startswith("stayed flat plate")


def test_a_plugged_stay_tube_is_named_however_narrow_its_place():
    boiler = SmallBoiler({2: 9, 3: 9}, stays=("2.5",))
    row = row_of(places(plugged(boiler, [5]), plate_mm=60.0), CLUSTER, sheet="front")
    assert row.status is LimitStatus.REFER
    assert row.lines[-1] == "Stay tube 2.5 is plugged: refer to an engineer."
    assert "to spare" in row.lines[0]


def test_many_plugs_of_a_place_are_counted():
    boiler = plugged(grid(), (4, 5, 6))
    for number in (4, 5, 6):
        boiler.see(f"3.{number}", "plugged", "rear")
    row = row_of(places(boiler), CLUSTER, sheet="front")
    assert row.value.endswith(", around 2.4, 2.5, 2.6 and 3 more")


def test_sheets_without_a_plug_are_told():
    boiler = SmallBoiler({2: 3})
    boiler.see("2.1", "sound")
    assert page_of(boiler).notes == (
        "No plug at the front tube sheet and rear tube sheet: no open place to judge there.",
    )


def test_a_tube_outside_the_shell_is_refused():
    boiler = plugged(SmallBoiler({2: 9}), [1])
    with pytest.raises(ModelError, match="lies outside the shell"):
        page_of(boiler, shell_diameter_mm=100.0)


# On the bar


def test_act_stands_at_one_place_of_every_bar_that_less_is_better_of():
    page = page_of(plugged(SmallBoiler({2: 60}), range(1, 4)))
    bar = row_of(page, PLUGGED, 2).bar
    assert (bar.value, bar.watch, bar.act) == pytest.approx((0.4, 0.4, BAR_TO_ACT))
    assert (bar.is_floor, bar.is_cut) == (False, False)
    bar = row_of(page, COVERAGE).bar
    assert (bar.value, bar.watch, bar.act) == pytest.approx((3 / 120, 0.95, 0.80))
    assert bar.is_floor


def test_a_value_far_beyond_act_is_cut_and_says_so():
    bar = row_of(page_of(plugged(SmallBoiler({2: 10}), [1, 2])), PLUGGED, 2).bar
    assert (bar.value, bar.is_cut) == (1.0, True)
    bar = row_of(page_of(SmallBoiler({2: 10}), limits={PLUGGED: {"act": 0}}), PLUGGED, 2).bar
    assert (bar.value, bar.act, bar.is_cut) == (0.0, 0.0, False)


def test_the_high_figure_reaches_beyond_the_value_only_where_there_is_more():
    boiler = plugged(SmallBoiler({2: 60}), [1])
    boiler.see("2.2", "sound")
    bar = row_of(page_of(boiler), PLUGGED, 2).bar
    assert bar.high == 1.0
    boiler.see_rest()
    assert row_of(page_of(boiler), PLUGGED, 2).bar.high is None
