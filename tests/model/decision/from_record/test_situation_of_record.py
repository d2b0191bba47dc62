"""From records to counts of each pass: which tube stands in which set, and the figures beside them.

Not here: weak tubes, walls due, leak risk and sheets by themselves (their own files).
"""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.condition.fold import fold_boiler
from model.decision.from_record.situation_of_record import interval_of
from tests.model.condition.journal import AUTUMN, SPRING, Journal
from tests.model.condition.record_sets import BOILER, record_sets
from tests.model.condition.small_boiler import SmallBoiler, hole_of
from tests.model.decision.recorded import describe, holes, recorded, recorded_of, state

BORE = {"leak_at": "bore"}
JOINT = {"leak_at": "joint"}
WEEPS = {"plug": {"type": "driven", "condition": "weeping", "vented": None}}


@pytest.fixture
def boiler():
    """Inspections of 2024-04-10 and 2024-10-10."""
    small = SmallBoiler({2: 20, 3: 5}, stays=("2.20",))
    describe(small, tubes={"wall_mm": 3.0, "installed": "2014-10-10", "ends": {"2": "rolled"}})
    return small


# ------------------------------------------------------------------ which tube is what


def test_each_tube_stands_where_it_was_left(boiler):
    boiler.see("2.1", "plugged")
    boiler.see("2.2", "plugged", **WEEPS)
    boiler.see("2.3", "leaking", "front", **BORE)
    boiler.see("2.4", "thinned", "front")
    boiler.see("2.5", "split", "rear")
    boiler.work("2.5", "plug")
    boiler.see("2.6", "split", "rear")
    boiler.work("2.6", "replace")
    boiler.see("2.20", "split", "rear")
    boiler.see_rest()
    found = recorded(boiler).pass_()
    assert found.tubes == 20
    assert found.plugged == holes("2.1", "2.5")
    assert found.bad == holes("2.2", "2.3", "2.20")
    assert found.behind_bad_plug == holes("2.2")
    assert found.weak == holes("2.4")
    assert found.stays == holes("2.20")
    assert found.unseen == 0


def test_every_weak_tube_has_its_reason_beside_it(boiler):
    boiler.see("2.4", "thinned", "front")
    boiler.see("3.1", "thinned", "rear")
    boiler.see_rest()
    found = recorded(boiler).situation
    assert found.why_weak == {hole_of("2.4"): "thinned", hole_of("3.1"): "thinned"}
    assert found.why_weak.keys() == found.pass_(2).weak | found.pass_(3).weak


def test_plugs_set_between_inspections_are_plugged_and_one_beside_a_leak_is_bad(boiler):
    boiler.journal.works("plug", at=None, hole=hole_of("2.1"), done_on="2024-07-01")
    boiler.journal.works("plug", at=None, hole=hole_of("2.2"), done_on="2024-07-01", ends=["front"])
    boiler.see("2.2", "leaking", "rear", **BORE)
    found = recorded(boiler).pass_()
    assert (found.plugged, found.bad) == (holes("2.1"), holes("2.2"))


def test_a_tube_replaced_since_is_neither_what_it_was_nor_unseen(boiler):
    boiler.see("2.1", "split", at=SPRING)
    boiler.work("2.1", "replace", at=SPRING)
    boiler.see("2.2", "thinned")
    boiler.work("2.2", "replace")
    boiler.see_rest()
    for at in (SPRING, AUTUMN):
        found = recorded(boiler, at).pass_()
        assert found.bad | found.plugged | found.weak == frozenset()
    assert found.unseen == 0


def test_joint_leaks_are_counted_by_end_on_tubes_that_are_not_bad(boiler):
    boiler.see("2.1", "leaking", **JOINT)
    boiler.see("2.2", "leaking", "rear", **JOINT)
    boiler.see("2.3", "leaking", "front", **JOINT)
    boiler.see("2.3", "split", "rear")
    boiler.see("2.4", "leaking", "front", **JOINT)
    boiler.work("2.4", "re-roll", ends=["front"])
    found = recorded(boiler).pass_()
    assert found.joint_ends == {hole_of("2.1"): 2, hole_of("2.2"): 1}
    assert found.bad == holes("2.3")


def test_unseen_are_tubes_of_which_nothing_is_known_at_all(boiler):
    boiler.see("2.1", "sound", "front")
    boiler.see("2.2", "plugged", at=SPRING)
    boiler.see("2.3", "sound", how="filled")
    boiler.work("2.4", "plug")
    boiler.work("2.5", "replace")
    assert recorded(boiler).pass_().unseen == 20 - 4


# ------------------------------------------------------------------ readings, ends, walls


def test_readings_are_those_of_this_inspection_that_can_be_trusted(boiler):
    boiler.measure("2.1", 2.9, at=SPRING)
    boiler.measure("2.1", 2.8)
    boiler.measure("2.1", 2.7)
    boiler.measure("2.2", 2.7, in_rolled_zone=True)
    assert recorded(boiler).pass_().readings == 2
    assert recorded(boiler).pass_(3).readings == 0


@pytest.mark.parametrize(
    ("said", "ends"),
    [
        ({"2": "rolled-beaded", "3": "welded"}, ("rolled-beaded", "welded")),
        ({"3": " rolled "}, (None, "rolled")),
        ({"2": 7, "two": "rolled", "3": ""}, (None, None)),
        (["rolled"], (None, None)),
        (None, (None, None)),
    ],
)
def test_ends_are_as_the_document_says_where_it_can_be_read(said, ends):
    small = SmallBoiler({2: 3, 3: 3})
    describe(small, tubes={"ends": said})
    found = recorded(small)
    assert (found.pass_(2).ends, found.pass_(3).ends) == ends


def test_a_boiler_without_a_document_has_counts_all_the_same():
    small = SmallBoiler({2: 3})
    small.see("2.1", "split")
    found = recorded(small).pass_()
    assert (found.ends, found.bad) == (None, holes("2.1"))


def test_walls_come_to_the_retirement_wall_weak_ones_apart(boiler):
    state(boiler, "wall", stated_mm=2.0)
    boiler.measure("2.1", 2.1)  # 0.09 mm a year: 1.1 years
    boiler.measure("2.2", 2.6)  # 0.04 mm a year: 15 years
    boiler.measure("2.3", 2.45)  # 0.055 mm a year: 8.2 years
    found = recorded(boiler).pass_()
    assert found.weak == holes("2.1")
    assert found.due_weak == (0.0, 1.0, *(0.0,) * 8)
    assert found.due_other == (*(0.0,) * 8, 1.0, 0.0)


def test_without_a_retirement_wall_nothing_is_due_and_that_is_said(boiler):
    boiler.measure("2.1", 2.1)
    found = recorded(boiler)
    assert found.pass_().due_weak == found.pass_().due_other == (0.0,) * 10
    assert found.lacks[0] == ("There is no retirement wall, so no tube is counted as coming to it.")


def test_what_is_not_counted_is_said_for_all_passes_at_once(boiler):
    state(boiler, "wall", stated_mm=2.0)
    assert recorded(boiler).lacks == (
        "Pass 2: of 20 unmeasured tubes none is counted as coming to the retirement wall. Only 0 "
        "tubes were measured as planned; a forecast needs at least 10.",
        "Pass 3: of 5 unmeasured tubes none is counted as coming to the retirement wall. Only 0 "
        "tubes were measured as planned; a forecast needs at least 10.",
        "Passes 2 and 3: leaks are counted at a constant rate, whatever the age. 0 of at least 3 "
        "losses: too little to conclude from.",
    )


# ------------------------------------------------------------------ the boiler as a whole


def test_figures_of_outage_firing_and_limits_are_taken_over(boiler):
    state(boiler, "outage", next="2026-10-10", interval_years=2, tube_lead_weeks=9)
    state(
        boiler, "firing", needed_output_kw=3000, standby_kw=1200, hours_per_year=5600,
        load_percent=70,
    )  # fmt: skip
    state(boiler, "limits", out_of_service_percent={"act": 12.0, "basis": "ours"})
    state(boiler, "costs", tube_each={"value": 118, "source": "quoted"})
    found = recorded(boiler).situation
    assert found.years_to_outage == pytest.approx(730 / 365.25)
    assert (found.interval_years, found.tube_lead_weeks) == (2.0, 9.0)
    assert found.out_of_service_act == {2: 12.0, 3: 12.0}
    assert (found.needed_output_kw, found.standby_kw) == (3000.0, 1200.0)
    assert (found.hours_per_year, found.load_percent) == (5600.0, 70.0)
    assert found.uncovered == pytest.approx(0.6)
    assert found.prices.value("tube_each") == 118.0


@pytest.mark.parametrize("said", [None, "2024-10-10", "2024-01", "soon", 2026, ["2026"]])
def test_an_outage_that_is_not_ahead_or_cannot_be_read_is_none(boiler, said):
    state(boiler, "outage", next=said)
    assert recorded(boiler).situation.years_to_outage is None


@pytest.mark.parametrize("said", [None, 0, -1, "two", True, [2]])
def test_an_interval_that_cannot_be_read_is_a_year(boiler, said):
    state(boiler, "outage", interval_years=said, tube_lead_weeks="six")
    found = recorded(boiler).situation
    assert (found.interval_years, found.tube_lead_weeks) == (1.0, None)


def test_an_inspection_without_a_date_has_counts_and_no_years(boiler):
    """Its own record has not arrived yet: only looks that name it have."""
    undated = "inspz" + "2" * 8
    boiler.see("2.1", "split", at=undated)
    state(boiler, "outage", next="2026-10-10")
    found = recorded(boiler, undated)
    assert found.situation.years_to_outage is None
    assert found.pass_().bad == holes("2.1")
    assert found.pass_().risk.window_years == 1.0


@pytest.mark.parametrize(
    ("stored", "years"),
    [(2, 2.0), (0.1, 0.1), (1e-9, 0.1), (0, 1.0), (-1, 1.0), (101, 1.0), (True, 1.0), ("2", 1.0)],
)
def test_an_interval_that_is_too_short_counts_as_a_tenth_of_a_year(stored, years):
    assert interval_of({"interval_years": stored}) == years


@pytest.mark.parametrize("name", ["needed_output_kw", "standby_kw", "hours_per_year"])
@pytest.mark.parametrize("stored", [-1, 2**53, "7", True, [7]])
def test_a_stored_figure_of_the_firing_that_cannot_be_meant_is_not_known(boiler, name, stored):
    state(boiler, "firing", **{name: stored})
    assert getattr(recorded(boiler).situation, name) is None


# ------------------------------------------------------------------ whatever was recorded

ANYTHING = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-3, 5000),
    st.floats(-1.0, 5000.0),
    st.sampled_from(("2026-10-10", "2020", "soon", "stated", "")),
    st.lists(st.integers(0, 3), max_size=2),
    st.dictionaries(st.sampled_from(("2", "value", "act")), st.integers(0, 9), max_size=2),
)
FIGURES = {
    "outage": ("next", "interval_years", "tube_lead_weeks"),
    "firing": ("needed_output_kw", "standby_kw", "hours_per_year", "load_percent"),
    "costs": ("tube_each", "hours_per_tube", "currency"),
}
SETTINGS = st.fixed_dictionaries(
    {
        section: st.dictionaries(st.sampled_from(names), ANYTHING, max_size=4)
        for section, names in FIGURES.items()
    }
)
STATED_MM = st.sampled_from((None, 1.5, 2.1, 2.9, 4.0))
TUBES = st.fixed_dictionaries(
    {},
    optional={
        "ends": ANYTHING,
        "wall_mm": st.sampled_from((2.5, 3.0)),
        "installed": st.sampled_from(("2001-09", "2023", "2030")),
    },
)


@settings(max_examples=100)
@given(record_sets(), SETTINGS, STATED_MM, TUBES)
def test_whatever_was_recorded_sets_are_disjoint_and_sums_bounded(
    records, sections, stated_mm, tubes
):
    journal = Journal(boiler=BOILER, origin="officez222222")
    journal.add("boiler", {"boiler": BOILER, "tag": "B-7", "kind": "other", "tubes": tubes})
    walls = {} if stated_mm is None else {"stated_mm": stated_mm}
    for section, values in {**sections, "wall": walls}.items():
        journal.add("settings", {"section": section, "values": values})
    folded = fold_boiler([*records, *journal.records], BOILER)
    for inspection in folded.inspections:
        found = recorded_of(folded, inspection, horizon_years=30).situation
        assert {hole for each in found.passes for hole in each.holes} == {
            tube.hole for tube in folded.tubes
        }
        for each in found.passes:
            _check_pass(each)
        assert found.interval_years > 0.0
        assert 0.0 <= found.uncovered <= 1.0


def _check_pass(each):
    for one, other in combinations((each.plugged, each.bad, each.weak), 2):
        assert one.isdisjoint(other)
    assert each.plugged | each.bad | each.weak | each.stays | each.joint_ends.keys() <= each.holes
    assert each.bad.isdisjoint(each.joint_ends)
    assert set(each.joint_ends.values()) <= {1, 2}
    others = each.tubes - len(each.plugged | each.bad | each.weak)
    for due, tubes in ((each.due_weak, len(each.weak)), (each.due_other, others)):
        assert len(due) == 30
        assert all(tubes >= 0.0 for tubes in due)
        assert sum(due) <= tubes + 1e-9
    assert 0 <= each.unseen <= each.tubes
    risk = each.risk
    assert 0 <= risk.weak_losses <= risk.seen_losses <= each.tubes
    assert risk.losses >= 0
    assert risk.window_years > 0.0
    assert risk.joint_window_years >= 1.0
    assert risk.shape > 0.0
    assert risk.is_growth_known or risk.shape == 1.0
    assert risk.basis.endswith(".")


@settings(max_examples=25)
@given(
    st.lists(st.sampled_from((2.9, 2.85, 2.7, 2.6, 2.4, 2.1)), min_size=10, max_size=13),
    st.lists(st.tuples(st.integers(1, 30), st.sampled_from(("plug", "replace"))), max_size=6),
    st.lists(st.tuples(st.integers(1, 30), st.sampled_from(("thinned", "split"))), max_size=12),
    st.sampled_from((1.9, 2.3, 2.8, 3.5)),
    st.sampled_from(("2001", "2024-06", None)),
)
def test_with_a_forecast_no_more_tubes_come_due_than_there_are(
    walls_mm, works, looks, stated_mm, installed
):
    boiler = SmallBoiler({2: 30})
    describe(boiler, tubes={"wall_mm": 3.0, "installed": installed})
    state(boiler, "wall", stated_mm=stated_mm)
    for number, wall_mm in enumerate(walls_mm, start=1):
        boiler.measure(f"2.{number}", wall_mm)
    for number, seen in looks:
        boiler.see(f"2.{number}", seen)
    for number, does in works:
        boiler.work(f"2.{number}", does)
    _check_pass(recorded(boiler, horizon_years=30).pass_())
