"""How losses and joint leaks of a pass become a rate, with its basis in words.

Not here: which losses count (``tests/model/wall/test_losses``, ``test_leak_history``).
"""

import pytest

from tests.model.condition.journal import AUTUMN, SPRING
from tests.model.condition.small_boiler import SmallBoiler, hole_of
from tests.model.decision.recorded import describe, recorded, state

TEN_YEARS = 3653 / 365.25
HALF_A_YEAR = 183 / 365.25
BORE = {"leak_at": "bore"}
JOINT = {"leak_at": "joint"}


@pytest.fixture
def boiler():
    """Inspections of 2024-04-10 and 2024-10-10, not yet described."""
    return SmallBoiler({2: 20, 3: 5})


def risk(boiler, number=2, at=AUTUMN):
    return recorded(boiler, at).pass_(number).risk


# ------------------------------------------------------------------ tubes


def test_with_a_growth_the_risk_is_its_losses_years_and_shape(boiler):
    describe(boiler)
    for key, day in (("2.1", "2018-10-10"), ("2.2", "2020-10-10"), ("2.3", "2023-10-10")):
        boiler.journal.event("leak", day, hole=hole_of(key))
    found = risk(boiler)
    assert found.is_growth_known
    assert (found.losses, found.window_years) == (3, pytest.approx(TEN_YEARS))
    # 3 / (ln 10/4 + ln 10/6 + ln 10/9), the years to within a day
    assert found.shape == pytest.approx(1.9592, abs=0.002)
    assert found.basis == (
        "3 tubes lost in 10.0 years since 2014-10-10, all of them between outages, coming faster "
        "with age (shape 1.96); no joint is on record as leaking, counted as half a joint in the "
        "10.0 years that these tubes stand."
    )


def test_a_shape_that_few_late_losses_give_is_taken_for_less(boiler):
    describe(boiler)
    for key, day in (("2.1", "2022-10-10"), ("2.2", "2023-10-10"), ("2.3", "2024-01-10")):
        boiler.journal.event("leak", day, hole=hole_of(key))
    found = risk(boiler)
    assert found.shape == 5.0
    assert "coming faster with age (shape 7.37, taken as 5);" in found.basis


def test_losses_of_one_outage_give_no_growth_but_a_constant_rate(boiler):
    describe(boiler, tubes={"installed": "2001"})
    boiler.journal.event("cleaned", "2001")
    boiler.see("2.1", "split")
    boiler.work("2.2", "plug")
    boiler.work("2.3", "plug")
    found = risk(boiler)
    assert (found.losses, found.is_growth_known, found.shape) == (3, False, 1.0)
    assert "; how they grow with age cannot be told, so the rate is taken as" in found.basis


def test_losses_that_came_early_come_more_slowly_with_age(boiler):
    describe(boiler)
    for key, day in (("2.1", "2015-01-10"), ("2.2", "2015-06-10"), ("2.3", "2016-01-10")):
        boiler.journal.event("leak", day, hole=hole_of(key))
    found = risk(boiler)
    assert found.shape < 1.0
    assert "coming more slowly with age" in found.basis


def test_with_too_few_losses_the_rate_is_constant_over_the_age_of_the_tubes(boiler):
    describe(boiler)
    boiler.see("2.1", "split", "front")
    found = risk(boiler)
    assert (found.losses, found.window_years) == (1, pytest.approx(TEN_YEARS))
    assert (found.shape, found.is_growth_known) == (1.0, False)
    assert found.basis.startswith(
        "1 tube lost in 10.0 years since 2014-10-10, not between outages; too few to tell how they "
        "grow with age, so the rate is taken as constant and new tubes get no credit; "
    )


def test_tubes_of_unknown_age_take_the_years_of_the_record(boiler):
    describe(boiler, tubes={})
    boiler.journal.event("plug", "2014-03", hole=hole_of("2.1"))
    for key in ("2.2", "2.3"):
        boiler.see(key, "leaking", "front", **BORE)
    found = risk(boiler)
    assert (found.losses, found.is_growth_known) == (3, False)
    assert found.window_years == pytest.approx(3846 / 365.25)
    assert found.basis.startswith(
        "3 tubes lost in 10.5 years since 2014-03, 1 of them between outages; the age of these "
        "tubes is not known, so the rate is taken as constant and new tubes get no credit"
    )


def test_a_record_that_begins_late_in_the_life_of_the_tubes_tells_its_own_years_alone(boiler):
    describe(boiler, tubes={"installed": "2001-10-10"})
    boiler.journal.event("leak", "2014-04-10", hole=hole_of("2.1"))
    for key in ("2.2", "2.3"):
        boiler.see(key, "leaking", "front", **BORE)
    boiler.see("2.4", "plugged", at=SPRING)
    found = risk(boiler)
    assert (found.losses, found.is_growth_known, found.shape) == (3, False, 1.0)
    assert found.window_years == pytest.approx(3836 / 365.25)
    assert stops(found) == (3, 1, 2)
    assert found.basis.startswith(
        "3 tubes lost in 10.5 years since 2014-04-10, 1 of them between outages (1 plug of unknown "
        "date not counted); the record begins 12 years after these tubes were put in, so the rate "
        "is taken as constant and new tubes get no credit; "
    )


@pytest.mark.parametrize(
    ("plugs", "leaking", "lost"), [(0, 0, 0), (3, 0, 3), (3, 2, 5)], ids=["no", "plugs", "leaks"]
)
def test_a_first_look_at_old_tubes_counts_what_their_whole_life_left(plugs, leaking, lost):
    boiler = SmallBoiler({2: 20})
    describe(boiler, tubes={"installed": "2012-04-10"})
    for number in range(1, plugs + 1):
        boiler.see(f"2.{number}", "plugged", at=SPRING)
    for number in range(plugs + 1, plugs + leaking + 1):
        boiler.see(f"2.{number}", "leaking", at=SPRING, **BORE)
    boiler.see_rest(at=SPRING)
    found = risk(boiler, at=SPRING)
    assert (found.losses, found.is_growth_known) == (lost, False)
    assert found.window_years == pytest.approx(4383 / 365.25)
    assert "lost in 12.0 years since 2012-04-10" in found.basis
    assert "plugs tell of them, and tubes replaced singly do not" in found.basis


def test_a_late_record_without_a_loss_does_not_hide_the_years_before_it(boiler):
    describe(boiler, tubes={"installed": "2001-10-10"})
    boiler.journal.event("cleaned", "2020-10-10")
    boiler.see("2.1", "plugged", at=SPRING)
    found = risk(boiler)
    assert (found.losses, found.window_years) == (1, pytest.approx(8401 / 365.25))
    # Half a tube in four years would be more than one in twenty-three.
    boiler.see("2.2", "split")
    assert (risk(boiler).losses, risk(boiler).window_years) == (1, pytest.approx(1461 / 365.25))


def test_a_record_that_begins_soon_after_the_tubes_counts_its_years_and_every_loss(boiler):
    describe(boiler, tubes={"installed": "2014-10-10"})
    boiler.journal.event("cleaned", "2016-10-09")
    boiler.see("2.1", "plugged", at=SPRING)
    found = risk(boiler)
    assert (found.losses, found.window_years) == (1, pytest.approx(2923 / 365.25))
    assert found.basis.startswith("1 tube lost in 8.0 years since 2016-10-09, ")


def test_a_record_of_one_day_counts_as_a_year_and_old_plugs_do_not_count():
    boiler = SmallBoiler({2: 20})
    describe(boiler, tubes={})
    for number in range(1, 9):
        boiler.see(f"2.{number}", "plugged", at=SPRING)
    boiler.see("2.9", "split", at=SPRING)
    found = risk(boiler, at=SPRING)
    assert (found.losses, found.window_years) == (1, 1.0)
    assert found.basis.startswith(
        "1 tube lost in 1.0 years since 2024-04-10, not between outages (8 plugs of unknown date "
        "not counted);"
    )
    assert (found.stopping_losses, found.losses_when_down) == (0, 1)


def test_no_loss_at_all_still_gives_a_rate_and_says_so(boiler):
    describe(boiler)
    found = risk(boiler)
    assert found.losses == 0
    assert "no tubes lost in 10.0 years since 2014-10-10, counted as half a tube" in found.basis


def test_a_pass_renewed_in_this_outage_takes_no_growth_from_the_tubes_before(boiler):
    describe(boiler)
    for number, day in enumerate(("2022-10-10", "2023-10-10", "2024-01-10"), start=1):
        boiler.journal.event("leak", day, hole=hole_of(f"3.{number}"))
    assert risk(boiler, 3).is_growth_known
    for number in range(1, 6):
        boiler.work(f"3.{number}", "replace")
    found = risk(boiler, 3)
    assert not found.is_growth_known
    assert (found.losses, found.shape) == (3, 1.0)
    assert "most of these tubes were renewed in this outage" in found.basis


def test_a_pass_renewed_earlier_counts_from_then(boiler):
    describe(boiler)
    boiler.journal.event("leak", "2018", **{"pass": 2, "count": 7})
    boiler.journal.event("retubed", "2020-10-10", **{"pass": 2})
    boiler.see("2.1", "split", "front")
    found = risk(boiler)
    assert (found.losses, found.window_years) == (1, pytest.approx(1461 / 365.25))


# ------------------------------------------------------------------ which stopped the boiler


def stops(found):
    return found.losses, found.stopping_losses, found.losses_when_down


def test_of_the_losses_some_came_between_outages_and_some_were_found_when_it_was_down(boiler):
    describe(boiler)
    boiler.journal.event("leak", "2012", **{"pass": 2, "count": 5})  # tubes before these
    boiler.journal.event("leak", "2018-05-02", hole=hole_of("2.1"))
    boiler.see("2.2", "split", "front", at=SPRING)
    boiler.journal.works("plug", at=None, hole=hole_of("2.3"), done_on="2024-07-01")
    boiler.work("2.4", "plug")
    found = risk(boiler)
    assert stops(found) == (4, 2, 2)
    assert found.is_growth_known
    assert "4 tubes lost in 10.0 years since 2014-10-10, 2 of them between outages," in found.basis
    assert stops(risk(boiler, at=SPRING)) == (2, 1, 1)
    assert stops(risk(boiler, 3)) == (0, 0, 0)


def test_of_plugs_without_a_date_it_is_not_known_and_they_say_so(boiler):
    describe(boiler)
    boiler.see("2.1", "plugged", at=SPRING)
    found = risk(boiler)
    assert stops(found) == (1, 0, 0)
    assert "since 2014-10-10, between outages or not is not known; too few" in found.basis
    boiler.see("2.2", "plugged", at=SPRING)
    boiler.journal.event("leak", "2018-05-02", hole=hole_of("2.3"))
    found = risk(boiler)
    assert stops(found) == (3, 1, 0)
    assert ", 1 of them between outages (of 2 more it is not known)" in found.basis


@pytest.mark.parametrize("tubes", [None, {}])
def test_no_more_are_told_of_than_were_lost(boiler, tubes):
    describe(boiler, tubes=tubes)
    boiler.see("2.1", "plugged", at=SPRING)
    boiler.see("2.2", "plugged")
    boiler.see("2.3", "split")
    boiler.journal.event("plug", "2019", hole=hole_of("2.4"))
    lost, stopping, when_down = stops(risk(boiler))
    assert (stopping, when_down) == (1, 1)
    assert lost == (4 if tubes is None else 2)


def test_what_a_leak_call_found_stopped_the_boiler():
    boiler = SmallBoiler({2: 20}, scope="leak-call")
    describe(boiler)
    boiler.see("2.1", "leaking", "front", **BORE)
    boiler.see("2.2", "leaking", "front", **JOINT)
    boiler.see("2.3", "leaking", "front", at=SPRING, **JOINT)
    found = risk(boiler)
    assert stops(found) == (1, 1, 0)
    assert (found.joint_leaks, found.stopping_joint_leaks) == (2, 1)
    assert "1 tube lost in 10.0 years since 2014-10-10, between outages; too few" in found.basis
    assert found.basis.endswith(
        "; 2 tubes found leaking at the joint in 1.5 years, 1 of them between outages."
    )


def test_a_joint_re_rolled_between_inspections_is_a_leak_that_stopped_the_boiler(boiler):
    describe(boiler)
    boiler.journal.works("re-roll", at=None, hole=hole_of("2.1"), done_on="2024-07-01")
    boiler.see("2.2", "leaking", "front", **JOINT)
    found = risk(boiler)
    assert (found.joint_leaks, found.stopping_joint_leaks) == (2, 1)
    assert found.basis.endswith(
        "; 2 tubes found leaking at the joint in 1.5 years, 1 of them between outages (1 known by "
        "re-rolling alone)."
    )
    assert risk(boiler, at=SPRING).joint_leaks == 0


# ------------------------------------------------------------------ joints


def test_joint_leaks_run_from_one_interval_before_the_first_inspection(boiler):
    describe(boiler)
    state(boiler, "outage", interval_years=2.0)
    boiler.see("2.1", "leaking", "front", at=SPRING, **JOINT)
    boiler.see("2.2", "leaking", "front", **JOINT)
    found = risk(boiler)
    assert (found.joint_leaks, found.losses) == (2, 0)
    assert found.joint_window_years == pytest.approx(HALF_A_YEAR + 2.0)
    assert found.basis.endswith(
        "; 2 tubes found leaking at the joint in 2.5 years, none of them between outages."
    )
    assert risk(boiler, at=SPRING).joint_window_years == 2.0


def test_where_no_joint_is_on_record_as_leaking_half_of_one_falls_on_the_age_of_the_tubes(boiler):
    describe(boiler)
    found = risk(boiler)
    assert (found.joint_leaks, found.joint_window_years) == (0, pytest.approx(TEN_YEARS))
    # One that was found is of lately, and tells more.
    boiler.see("2.1", "leaking", "front", **JOINT)
    assert risk(boiler).joint_window_years == pytest.approx(HALF_A_YEAR + 1.0)


def test_of_tubes_of_unknown_age_no_leaking_joint_tells_only_of_the_record(boiler):
    describe(boiler, tubes={})
    assert risk(boiler).joint_window_years == pytest.approx(HALF_A_YEAR + 1.0)


# ------------------------------------------------------------------ weak tubes among the lost


def test_of_the_tubes_lost_since_the_inspection_before_some_were_weak_then(boiler):
    describe(boiler)
    state(boiler, "wall", stated_mm=1.8)
    boiler.see("2.1", "thinned", at=SPRING)
    boiler.see("2.2", "sound", at=SPRING)
    boiler.measure("2.2", 2.1, at=SPRING)
    boiler.see("2.3", "sound", at=SPRING)
    boiler.see("2.5", "leaking", "front", at=SPRING, **BORE)
    boiler.journal.works("plug", at=None, hole=hole_of("2.1"), done_on="2024-07-01")
    for key in ("2.2", "2.3", "2.4", "2.5"):  # in spring nobody had looked at 2.4; 2.5 leaked
        boiler.see(key, "leaking", "front", **BORE)
    found = risk(boiler)
    assert (found.weak_losses, found.seen_losses) == (2, 3)
    assert (risk(boiler, 3).weak_losses, risk(boiler, 3).seen_losses) == (0, 0)


def test_a_first_inspection_has_seen_no_loss_before(boiler):
    describe(boiler)
    boiler.see("2.1", "split", at=SPRING)
    found = risk(boiler, at=SPRING)
    assert (found.losses, found.weak_losses, found.seen_losses) == (1, 0, 0)
