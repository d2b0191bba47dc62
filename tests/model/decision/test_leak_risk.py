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
        "3 tubes lost in 10.0 years since 2014-10-10, coming faster with age (shape 1.96); no "
        "tubes found leaking at the joint in 1.5 years."
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
        "1 tube lost in 10.0 years since 2014-10-10; too few to tell how they grow with age, so "
        "the rate is taken as constant and new tubes get no credit; "
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
        "3 tubes lost in 10.5 years since 2014-03; the age of these tubes is not known, so the "
        "rate is taken as constant and new tubes get no credit"
    )


def test_a_record_of_one_day_counts_as_a_year_and_old_plugs_do_not_count():
    boiler = SmallBoiler({2: 20})
    describe(boiler, tubes={})
    for number in range(1, 9):
        boiler.see(f"2.{number}", "plugged", at=SPRING)
    boiler.see("2.9", "split", at=SPRING)
    found = risk(boiler, at=SPRING)
    assert (found.losses, found.window_years) == (1, 1.0)
    assert "1 tube lost in 1.0 years since 2024-04-10 (8 plugs of unknown date not" in found.basis


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


# ------------------------------------------------------------------ joints


def test_joint_leaks_run_from_one_interval_before_the_first_inspection(boiler):
    describe(boiler)
    state(boiler, "outage", interval_years=2.0)
    boiler.see("2.1", "leaking", "front", at=SPRING, **JOINT)
    boiler.see("2.2", "leaking", "front", **JOINT)
    found = risk(boiler)
    assert (found.joint_leaks, found.losses) == (2, 0)
    assert found.joint_window_years == pytest.approx(HALF_A_YEAR + 2.0)
    assert found.basis.endswith("; 2 tubes found leaking at the joint in 2.5 years.")
    assert risk(boiler, at=SPRING).joint_window_years == 2.0


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
