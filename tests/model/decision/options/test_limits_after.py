"""Limits after an option: as if the work had been recorded, and the unseen no better than before.

Not here: open places for any set of plugs (``test_places_after``).
"""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.condition.boiler_facts import document_facts
from model.condition.clusters import find_clusters
from model.condition.counts import as_left, count_passes
from model.decision.by_condition import plugged_stays
from model.decision.limits import (
    COVERAGE,
    OUT_OF_SERVICE,
    PLUGGED,
    judge_limits,
    limits_with_overrides,
)
from model.decision.options.limits_after import limits_after
from model.decision.options.places_after import PlacesAfter
from model.decision.plans import Plan
from model.tubesheet.faces import Face, Sheet, Shown
from tests.model.condition.small_boiler import SmallBoiler, hole_of

RULES = limits_with_overrides({})
FACTS = replace(
    document_facts("b", {}, {}),
    sheets=(Sheet(key="front", name="front", plate_mm=16.0, stress_mpa=92.4),),
    faces=(
        Face(
            key="f", name="front", sheet="front", looks="rearward",
            shows=(Shown(pass_=2, end="front"), Shown(pass_=3, end="front")),
        ),
    ),
    shell_diameter_mm=6000.0,
    mawp_mpa=1.0,
)  # fmt: skip
WEEPING = {"plug": {"type": "driven", "condition": "weeping", "vented": None}}


def holes(*keys):
    return frozenset(map(hole_of, keys))


def after(boiler, *plans, today=()):
    tubes = list(boiler.tubes().values())
    places = PlacesAfter(tubes, FACTS, today)
    return limits_after(plans, tubes, FACTS, coverage=boiler.coverage(), rules=RULES, places=places)


def recorded(boiler):
    """Limits and plugged stays of what stands in the record."""
    tubes = list(boiler.tubes().values())
    clusters = find_clusters(
        tubes, FACTS.sheets, FACTS.faces, shell_diameter_mm=FACTS.shell_diameter_mm,
        furnaces=(), mawp_mpa=FACTS.mawp_mpa,
    )  # fmt: skip
    passes = count_passes(tubes, as_left, None)
    limits = judge_limits(passes, boiler.coverage(), clusters, RULES)
    return limits, tuple(plugged_stays(tubes))


def worn(**more):
    """Forty tubes in two passes, all seen: plugs, a weeping one, bad tubes."""
    boiler = SmallBoiler({2: 20, 3: 20}, stays=("3.10",), **more)
    for key in ("2.1", "2.2", "3.5"):
        boiler.see(key, "plugged")
    boiler.see("2.3", "plugged", **WEEPING)
    for key in ("2.4", "2.12", "3.6"):
        boiler.see(key, "leaking", leak_at="bore")
    boiler.see("3.10", "split", "front")
    boiler.see_rest()
    return boiler


def said(limits):
    return {(each.name, each.pass_, each.sheet): each for each in limits}


def test_percentages_by_hand():
    plugged, replaced, retubed, new = after(
        worn(),
        Plan(key="plug", words="", plug=holes("2.3", "2.4", "2.12", "3.6")),
        Plan(key="replace", words="", replace=holes("2.3", "2.4", "2.12", "3.6", "3.10")),
        Plan(key="retube", words="", retube=frozenset({2}), plug=holes("3.6")),
        Plan(key="new", words="", is_new_boiler=True),
    ).values()

    def percent(found):
        limits = said(found.limits)
        names = (PLUGGED, OUT_OF_SERVICE)
        return [limits[name, number, None].value for name in names for number in (2, 3)]

    # Of 20 tubes a pass. Pass 2 has 3 plugs, one of them weeping, and 2 bad tubes beside; pass 3
    # has a plug, a bad tube and a split stay tube.
    assert percent(plugged) == [25.0, 10.0, 25.0, 15.0]
    assert percent(replaced) == [10.0, 5.0, 10.0, 5.0]
    assert percent(retubed) == [0.0, 10.0, 0.0, 15.0]
    assert percent(new) == [0.0, 0.0, 0.0, 0.0]
    assert not any(each.sheet for each in new.limits)


def test_a_stay_tube_that_an_option_plugs_is_named_and_one_that_it_replaces_is_not():
    boiler = SmallBoiler({2: 6}, stays=("2.2", "2.4", "2.5"))
    boiler.see("2.2", "split")
    boiler.see("2.4", "plugged")
    boiler.see_rest()
    found = after(
        boiler,
        Plan(key="plug", words="", plug=holes("2.2")),
        Plan(key="replace", words="", replace=holes("2.2")),
        Plan(key="both", words="", replace=holes("2.2", "2.4")),
    )
    assert [each.plugged_stays for each in found.values()] == [("2.2", "2.4"), ("2.4",), ()]


def test_coverage_stays_what_it_was():
    boiler = SmallBoiler({2: 10})
    boiler.see("2.1", "split")
    found = after(boiler, Plan(key="retube", words="", retube=frozenset({2})))
    assert said(found["retube"].limits)[COVERAGE, None, None].value == pytest.approx(10.0)


def test_the_unseen_are_no_better_because_the_seen_were_replaced():
    boiler = SmallBoiler({2: 20})
    for number in range(1, 11):
        boiler.see(f"2.{number}", "split" if number <= 2 else "sound")
    plans = (
        Plan(key="nothing", words=""),
        Plan(key="replace", words="", replace=holes("2.1", "2.2")),
        Plan(key="plug", words="", plug=holes("2.1", "2.2")),
        Plan(key="retube", words="", retube=frozenset({2})),
    )
    high = {
        key: (
            said(found.limits)[PLUGGED, 2, None].high,
            said(found.limits)[OUT_OF_SERVICE, 2, None].high,
        )
        for key, found in after(boiler, *plans).items()
    }
    # 2 of 10 seen are bad, so perhaps 2 of the 10 unseen: 10 % of 20. A retube renews these too.
    assert high == {
        "nothing": (0.0, 20.0),
        "replace": (0.0, 10.0),
        "plug": (20.0, 20.0),
        "retube": (0.0, 0.0),
    }


def test_where_nobody_looked_at_a_pass_its_high_figure_stays_unknown():
    boiler = SmallBoiler({2: 4})
    boiler.work("2.1", "plug")
    found = after(boiler, Plan(key="plug", words="", plug=holes("2.2")))
    assert said(found["plug"].limits)[PLUGGED, 2, None].high is None


KEYS = [f"{number}.{column}" for number in (2, 3) for column in range(1, 21)]


@settings(max_examples=20)
@given(
    st.sets(st.sampled_from(KEYS), max_size=8),
    st.sets(st.sampled_from(KEYS), max_size=4),
    st.booleans(),
)
def test_limits_after_an_option_are_those_of_the_record_once_the_work_is_done(
    plug, renewed, is_known
):
    boiler = worn()
    tubes = list(boiler.tubes().values())
    today = find_clusters(
        tubes, FACTS.sheets, FACTS.faces, shell_diameter_mm=FACTS.shell_diameter_mm,
        furnaces=(), mawp_mpa=FACTS.mawp_mpa,
    )  # fmt: skip
    plan = Plan(key="x", words="", plug=holes(*(plug - renewed)), replace=holes(*renewed))
    found = after(boiler, plan, Plan(key="0", words=""), today=today if is_known else ())
    assert (found["0"].limits, found["0"].plugged_stays) == recorded(boiler)
    for key in sorted(plug - renewed):
        boiler.work(key, "plug")
    for key in sorted(renewed):
        boiler.work(key, "replace")
    limits, stays = recorded(boiler)
    assert found["x"].plugged_stays == stays
    assert [_judged(each) for each in found["x"].limits] == [_judged(each) for each in limits]


def _judged(limit):
    """All but the high figure, which is the record's own guess of the unseen."""
    return replace(limit, high=None)
