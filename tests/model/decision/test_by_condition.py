"""The option by condition: each branch of the rule, the order of the reasons, what is missing.

Not here: levels of the limits (``test_limits``), prices.
"""

import pytest

from model.condition.clusters import find_clusters
from model.condition.counts import as_left, count_boiler, count_passes
from model.decision.by_condition import advise_by_condition, bad_and_open, plugged_stays
from model.decision.limits import judge_limits, limits_with_overrides
from model.record.words import Scope
from model.tubesheet.faces import Face, Sheet, Shown
from tests.model.condition.journal import BEN, SPRING
from tests.model.condition.small_boiler import SmallBoiler

FACE = Face(
    key="f", name="front", sheet="front", looks="rearward",
    shows=tuple(Shown(pass_=number, end="front") for number in (2, 3, 4)),
)  # fmt: skip
THREE_ROWS = {2: 40, 3: 40, 4: 40}
"""One row for each pass: pass 3 stands between the two others, pass 2 at the edge."""
BORE = {"leak_at": "bore"}
JOINT = {"leak_at": "joint"}
ACT = {"findings": [{"mechanism": "bead-cracked", "side": "fire", "grade": "act", "note": ""}]}


def advice(boiler, scope=Scope.FULL, *, plate_mm=20.0, mawp_mpa=1.0, overrides=()):
    tubes = list(boiler.tubes().values())
    sheet = Sheet(
        key="front", name="front", plate_mm=plate_mm, stress_mpa=90.0, hole_mm=None, material=None
    )
    clusters = find_clusters(
        tubes, (sheet,), (FACE,), shell_diameter_mm=20_000.0, furnaces=(), mawp_mpa=mawp_mpa
    )
    passes = count_passes(tubes, as_left, None)
    limits = judge_limits(
        passes, boiler.coverage(), clusters, limits_with_overrides(dict(overrides))
    )
    totals = count_boiler(tubes, as_left, None)
    return advise_by_condition(tubes, totals, boiler.coverage(), limits, scope)


def marked(marks, passes=None, **more):
    """A boiler of 40 tubes, all seen, with the given ones ({tube: (state, more)})."""
    boiler = SmallBoiler(passes or {2: 40}, **more)
    for key, (state, rest) in marks.items():
        boiler.see(key, state, **rest)
    boiler.see_rest()
    return boiler


# ------------------------------------------------------------------ the option


def test_run_on_when_nothing_is_wrong():
    said = advice(marked({}))
    assert (said.option, said.words) == ("run-on", "Nothing found calls for work on the tubes.")
    assert said.reasons == ("No tube is bad, no joint leaks, and every limit is kept.",)
    assert said.missing == ()


def test_find_out_when_coverage_is_below_its_level_to_act_whatever_was_found():
    boiler = SmallBoiler({2: 40})
    for number in range(1, 32):
        boiler.see(f"2.{number}", "split")
    said = advice(boiler)  # 77.5 %
    assert said.option == "find-out"
    assert said.reasons[0] == "62 of 80 tube ends in scope were looked at (77.5 %)."
    assert said.missing[0] == "18 tube ends in scope that nobody looked at"


def test_coverage_exactly_at_its_level_is_enough():
    boiler = SmallBoiler({2: 40})
    for number in range(1, 33):
        boiler.see(f"2.{number}", "sound")
    said = advice(boiler)  # 80 %
    assert said.option == "run-on"
    assert said.reasons == ("64 of 80 tube ends in scope were looked at (80.0 %).",)


def test_fill_ins_are_no_looks_and_are_named_among_what_is_missing():
    boiler = SmallBoiler({2: 40})
    boiler.see_rest(how="filled")
    said = advice(boiler)
    assert said.option == "find-out"
    assert said.missing == ("80 tube ends in scope that nobody looked at",)


def test_a_boiler_without_tubes_is_to_be_found_out_about():
    assert advice(SmallBoiler({})).option == "find-out"


def test_retube_the_worst_pass_when_passes_are_beyond_their_level_to_act():
    marks = {f"2.{n}": ("plugged", {}) for n in range(1, 6)}
    marks |= {f"3.{n}": ("split", {}) for n in range(1, 7)}
    said = advice(marked(marks, {2: 40, 3: 40}))
    assert (said.option, said.words) == (
        "retube-pass-3",
        "Retube pass 3. Pass 2 is beyond too.",
    )
    assert said.reasons[0].startswith("Pass 3: at least 15.0 % out of service if every bad is")
    assert said.reasons[1].startswith("Pass 2: at least 12.5 % plugged, beyond 10 % (common")


def test_a_pass_exactly_at_its_level_is_not_retubed():
    marks = {f"2.{n}": ("plugged", {}) for n in range(1, 5)}
    said = advice(marked(marks))  # 10 %
    assert said.option == "run-on"


def test_the_owners_level_decides_where_there_is_one():
    overrides = {"plugged_percent": {"act": 2.0, "basis": "owner's rule"}}
    said = advice(marked({"2.1": ("plugged", {})}), overrides=overrides)
    assert said.option == "retube-pass-2"
    assert said.reasons[0] == "Pass 2: at least 2.5 % plugged, beyond 2 % (owner's rule)."


def test_plug_the_bad_when_no_pass_is_beyond():
    said = advice(marked({"2.1": ("split", {}), "2.2": ("leaking", JOINT)}))
    assert (said.option, said.words) == ("plug-bad", "Plug the bad tubes.")
    assert said.reasons[0] == "1 tube is bad and must be dealt with before steaming."


def test_replace_the_bad_when_a_stay_tube_is_among_them():
    said = advice(marked({"2.1": ("split", {}), "2.2": ("leaking", BORE)}, stays=("2.2",)))
    assert said.option == "replace-bad"
    assert "stay tube" in said.words


def test_re_roll_when_only_joints_leak():
    said = advice(marked({"2.1": ("leaking", JOINT)}))
    assert (said.option, said.words) == ("re-roll", "Re-roll the leaking joints.")
    assert said.reasons == ("1 tube leaks at the joint only: re-roll, no plug needed.",)


# ------------------------------------------------------------------ what is dealt with


@pytest.mark.parametrize("does", ["plug", "replace"])
def test_a_bad_tube_that_the_crew_plugged_or_replaced_needs_nothing_more(does):
    boiler = marked({"2.1": ("sound", ACT)})
    boiler.work("2.1", does)
    assert bad_and_open(list(boiler.tubes().values())) == []
    assert advice(boiler).option == "run-on"


@pytest.mark.parametrize("condition", ["weeping", "burned", "missing"])
def test_a_bad_plug_is_not_dealt_with(condition):
    plug = {"plug": {"type": "driven", "condition": condition, "vented": None}}
    boiler = marked({"2.1": ("plugged", plug)})
    assert [each.tube.key for each in bad_and_open(list(boiler.tubes().values()))] == ["2.1"]
    assert advice(boiler).option == "plug-bad"


@pytest.mark.parametrize("other", [("leaking", BORE), ("split", {})])
def test_a_plugged_tube_that_leaks_at_its_other_end_is_not_dealt_with(other):
    state, more = other
    boiler = SmallBoiler({2: 40})
    boiler.see("2.1", "plugged", "front", **ACT)
    boiler.see("2.1", state, "rear", **more)
    boiler.see_rest()
    assert len(bad_and_open(list(boiler.tubes().values()))) == 1
    assert advice(boiler).option == "plug-bad"


# ------------------------------------------------------------------ a leak call


def test_a_leak_call_gives_no_advice_on_the_whole_boiler():
    boiler = SmallBoiler({2: 40})
    boiler.see("2.1", "plugged")
    said = advice(boiler, Scope.LEAK_CALL)
    assert said.option is None
    assert said.words == "No advice on the whole boiler; nothing bad was recorded."
    assert said.reasons[0] == "This was a leak call: it says nothing about the whole boiler."


@pytest.mark.parametrize(
    ("mark", "stays", "option"),
    [
        (("leaking", BORE), (), "plug-bad"),
        (("leaking", BORE), ("2.1",), "replace-bad"),
        (("leaking", JOINT), (), "re-roll"),
    ],
)
def test_a_leak_call_deals_with_what_was_found(mark, stays, option):
    boiler = SmallBoiler({2: 40}, stays=stays)
    boiler.see("2.1", mark[0], "front", **mark[1])
    assert advice(boiler, Scope.LEAK_CALL).option == option


@pytest.mark.parametrize(
    ("scope", "what"),
    [(Scope.LEAK_CALL, "a leak call"), (Scope.AFTER_REPAIR, "a look after repair")],
)
def test_a_partial_look_never_says_to_retube_a_pass_or_to_find_out_more(scope, what):
    boiler = marked({f"2.{n}": ("split", {}) for n in range(1, 21)})
    assert advice(boiler, scope).option == "plug-bad"
    assert advice(boiler, scope).reasons[0].startswith(f"This was {what}: it says nothing")
    unseen = SmallBoiler({2: 40})
    unseen.see("2.1", "split", "front")
    assert advice(unseen, scope).option == "plug-bad"


# ------------------------------------------------------------------ the reasons


def test_reasons_come_by_weight_coverage_limits_bad_clusters_joints_and_what_to_watch():
    boiler = SmallBoiler(THREE_ROWS)
    for number in range(1, 6):
        boiler.see(f"2.{number}", "plugged")
    boiler.see("2.10", "leaking", "front", **JOINT)
    boiler.see("3.1", "split")
    for number in range(20, 22):
        boiler.see(f"3.{number}", "plugged")
    said_already = {"2.1", "2.2", "2.3", "2.4", "2.5", "2.10", "3.1", "3.20", "3.21"}
    never_seen = {f"2.{number}" for number in range(30, 40)}
    for key in boiler.keys:
        if key not in said_already | never_seen:
            boiler.see(key, "sound")
    said = advice(boiler, plate_mm=5.0)
    heads = [
        "219 of 240 tube ends",  # ten tubes and the rear of 2.10
        "Pass 2: at least 12.5 % plugged",
        "Pass 2: at least 12.5 % out of service",
        "1 tube is bad",
        "On the front sheet a circle of ",
    ]
    assert len(said.reasons) == 5  # the joint leak and pass 3, only to watch, come after these
    assert said.more_reasons >= 2
    for reason, head in zip(said.reasons, heads, strict=True):
        assert reason.startswith(head)


def test_bad_tubes_come_before_levels_that_are_only_to_be_watched():
    marks = {f"2.{n}": ("plugged", {}) for n in range(1, 4)}
    said = advice(marked({**marks, "2.5": ("leaking", JOINT), "2.6": ("split", {})}), plate_mm=None)
    assert [reason.split()[0] for reason in said.reasons] == ["1", "1", "Pass", "Pass"]
    assert "out of service" in said.reasons[2]  # 10 % before 7.5 %


def test_a_cluster_says_span_and_permitted_pitch():
    said = advice(marked({"3.20": ("plugged", {})}, THREE_ROWS), plate_mm=5.0)
    (reason,) = (r for r in said.reasons if "sheet" in r)
    # Two pitches around it; p = t sqrt(S C / P) = 5 sqrt(90 x 2.1 / 1.0)
    assert reason == (
        "On the front sheet a circle of 140 mm around plugs holds no working tube or stay; 69 mm "
        "is permitted: refer to an engineer."
    )
    assert said.missing == ()


def test_a_plugged_stay_tube_is_a_reason_even_where_nothing_else_can_be_judged():
    boiler = marked({"2.20": ("plugged", {})}, stays=("2.20",))
    assert plugged_stays(list(boiler.tubes().values())) == ["2.20"]
    for plate_mm in (20.0, None):
        said = advice(boiler, plate_mm=plate_mm)
        assert "Stay tube 2.20 is plugged: refer to an engineer." in said.reasons


# ------------------------------------------------------------------ what is missing


def test_disputes_are_missing_until_settled():
    boiler = marked({"2.1": ("sound", {})})
    boiler.see("2.1", "thinned", "front", by=BEN)
    assert advice(boiler).missing == ("1 tube on which two people disagree",)


def test_without_plate_stress_or_mawp_clusters_cannot_be_judged_and_not_every_limit_is_kept():
    said = advice(marked({"2.20": ("plugged", {})}), plate_mm=None)
    assert said.missing == (
        "plate thickness, stress or MAWP, without which clusters cannot be judged",
    )
    assert said.reasons == (
        "No tube is bad, no joint leaks, and every limit that could be judged is kept.",
    )


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        (("2.20",), "1 plug beside bare plate cannot be judged"),
        (("2.20", "4.3", "3.10"), "2 plugs beside bare plate cannot be judged"),
    ],
)
def test_plugs_beside_bare_plate_are_missing_and_no_reason_to_ask_an_engineer(keys, said):
    # 275 mm permitted: beyond the outer rows nothing is entered that holds the plate.
    found = advice(marked({key: ("plugged", {}) for key in keys}, THREE_ROWS))
    assert found.option == "run-on"
    assert found.missing == (
        "what holds the front sheet beside its tubes (stays, edges) is not entered; " + said,
    )
    assert found.reasons == (
        "No tube is bad, no joint leaks, and every limit that could be judged is kept.",
    )


def test_a_plug_between_others_is_judged_and_nothing_is_missing():
    found = advice(marked({"3.20": ("plugged", {})}, THREE_ROWS))
    assert found.missing == ()
    assert found.reasons == ("No tube is bad, no joint leaks, and every limit is kept.",)


def test_what_is_carried_is_dealt_with_as_what_was_seen():
    boiler = SmallBoiler({2: 40})
    boiler.see("2.1", "leaking", "front", at=SPRING, **BORE)
    for key in boiler.keys[1:]:
        boiler.see(key, "sound")
    assert advice(boiler).option == "plug-bad"
