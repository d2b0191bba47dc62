"""The fourteen scenarios of the record, each a test, and the rulings that settle a hard case.

Every scenario is also held against the judge. Not here: random sets.
"""

import pytest

from model.condition.fold import fold_boiler
from model.condition.tubes import WallConcerns, tube_conditions
from model.record.words import End
from tests.model.condition.against_the_judge import disagreements
from tests.model.condition.journal import (
    ADA,
    AUTUMN,
    BEN,
    BOILER,
    CHIEF,
    HOLE,
    SPRING,
    Journal,
    entity,
)

TWIN_BOILER, TWIN_HOLE, TWIN_INSPECTION = entity("boilera"), entity("ahole"), entity("inspa")


@pytest.fixture
def journal():
    """A spring and an autumn inspection; what is recorded must satisfy the judge as well."""
    journal = Journal()
    journal.inspection(SPRING, "2024-04-10")
    journal.inspection(AUTUMN, "2024-10-10")
    yield journal
    assert disagreements(journal.records) == []


def fold(journal):
    return fold_boiler(journal.records, BOILER)


def inspection(journal, name=SPRING):
    return next(i for i in fold(journal).inspections if name in i.facts.members)


def found(journal, at=SPRING, hole=HOLE, end="front"):
    return inspection(journal, at).end_found(hole, End(end))


def left(journal, at=SPRING, hole=HOLE, end="front"):
    return inspection(journal, at).end_left(hole, End(end))


def tube(journal, at=SPRING):
    """The one tube of the layout, which is recorded last so that a test need not mention it."""
    journal.layout({HOLE: ("P2-R01-C01", 2)})
    folded = fold(journal)
    one = next(i for i in folded.inspections if at in i.facts.members)
    return tube_conditions(folded, one, WallConcerns())[0]


def opinions(end):
    return {record.id for record in end.opinions}


# The fourteen scenarios


def test_correction_by_the_same_person(journal):
    first = journal.looks("split")
    second = journal.looks("sound", names=[first])
    assert (found(journal).state, found(journal).disputed) == ("sound", False)
    assert opinions(found(journal)) == {second.id}


def test_colleague_who_disagrees(journal):
    mine = journal.looks("sound")
    theirs = journal.looks("thinned", by=BEN, names=[mine])  # naming it does not kill it
    assert (found(journal).state, found(journal).disputed) == ("thinned", True)
    assert opinions(found(journal)) == {mine.id, theirs.id}


def test_settle(journal):
    mine, theirs = journal.looks("sound"), journal.looks("split", by=BEN)
    journal.settles("sound", mine, theirs)
    end = found(journal)
    assert (end.state, end.disputed, end.settled) == ("sound", False, True)


def test_late_third_opinion_after_a_settle(journal):
    mine, theirs = journal.looks("sound"), journal.looks("split", by=BEN)
    journal.settles("sound", mine, theirs)
    journal.looks("leaking", leak_at="bore", by=entity("carl"))
    assert (found(journal).state, found(journal).disputed) == ("leaking", True)


def test_withdraw_of_a_settle(journal):
    mine, theirs = journal.looks("sound"), journal.looks("split", by=BEN)
    settle = journal.settles("sound", mine, theirs)
    journal.withdraws(settle, by=BEN)
    assert (found(journal).state, found(journal).disputed) == ("split", True)
    assert opinions(found(journal)) == {mine.id, theirs.id}


def test_undo_of_a_first_mark_and_of_a_correction(journal):
    first = journal.looks("leaking", leak_at="joint")
    correction = journal.looks("split", names=[first])
    undo = journal.looks("leaking", leak_at="joint", names=[correction])
    assert found(journal).state == "leaking"
    assert opinions(found(journal)) == {undo.id}
    mark = journal.looks("thinned", end="rear")
    journal.withdraws(mark)
    assert found(journal, end="rear").state is None


def test_withdrawing_a_correction_does_not_revive_what_it_corrected(journal):
    first = journal.looks("split")
    correction = journal.looks("sound", names=[first])
    journal.withdraws(correction)
    assert found(journal).state is None


def test_fill_in_against_a_look(journal):
    journal.looks("thinned", by=BEN)
    journal.looks("sound", how="filled")
    assert (found(journal).state, found(journal).disputed) == ("thinned", False)
    assert found(journal).how == "seen"


def test_one_end_seen(journal):
    journal.looks("sound")
    one = tube(journal)
    assert one.found.state == "sound"
    assert (one.ends_found[End.REAR].state, one.looked_at_ends) == (None, 1)


def test_plugged_in_an_earlier_inspection_and_not_looked_at_now(journal):
    journal.looks("plugged", plug={"type": "driven", "condition": "weeping"})
    end = found(journal, AUTUMN)
    assert (end.state, end.carried, end.how, end.since) == ("plugged", True, None, "2024-04-10")
    assert end.plug.condition == "weeping"
    assert tube(journal, AUTUMN).looked_at_ends == 0


def test_leak_found_then_plugged_the_same_day(journal):
    journal.looks("leaking", leak_at="bore")
    journal.works("plug", plug={"type": "driven", "condition": "tight"})
    assert (found(journal).state, found(journal).leak_at) == ("leaking", "bore")
    assert (left(journal).state, left(journal).leak_at) == ("plugged", None)
    assert found(journal, AUTUMN).state == "plugged"
    one = tube(journal)
    assert (one.found.is_bad, one.left.is_bad) == (True, False)


def test_plug_removed_and_tube_replaced(journal):
    journal.looks("plugged", at=SPRING)
    unplug = journal.works("unplug", at=AUTUMN)
    journal.works("replace", at=AUTUMN, names=[unplug])
    assert (found(journal, AUTUMN).state, found(journal, AUTUMN).carried) == ("plugged", True)
    assert (left(journal, AUTUMN).state, left(journal, AUTUMN).disputed) == (None, False)
    autumn = inspection(journal, AUTUMN)
    assert autumn.renewed == {HOLE}
    assert (autumn.carried_in.life(HOLE).number, autumn.carried_out.life(HOLE).number) == (1, 2)
    assert fold(journal).carried_after.ends == {}


def test_two_tablets_inspections_of_one_day_joined_by_same(journal):
    other = entity("inspother")
    journal.inspection(other, "2024-04-10", by=BEN, origin=entity("second"))
    journal.looks("sound")
    journal.looks("split", at=other, by=BEN)
    journal.looks("thinned", at=other, by=BEN, end="rear")
    apart = fold(journal)
    assert len(apart.inspections) == 3
    journal.joins("inspection", SPRING, other)
    assert len(fold(journal).inspections) == 2
    assert inspection(journal).facts.members == {SPRING, other}
    assert (found(journal).state, found(journal).disputed) == ("split", True)
    assert found(journal, end="rear").state == "thinned"


def test_layout_revised_with_keys_shifted(journal):
    neighbour = entity("neighbour")
    old = journal.layout({HOLE: ("P2-R01-C01", 2), neighbour: ("P2-R01-C02", 2)})
    journal.looks("split")
    journal.layout({HOLE: ("P2-R01-C02", 2), neighbour: ("P2-R01-C03", 2)}, names=[old])
    keys = {t.hole: t.key for t in fold(journal).tubes}
    assert keys == {HOLE: "P2-R01-C02", neighbour: "P2-R01-C03"}
    assert found(journal).state == "split"
    assert found(journal, hole=neighbour).state is None


def test_same_record_twice_in_any_order(journal):
    first = journal.looks("split")
    journal.looks("sound", names=[first])
    journal.looks("thinned", by=BEN)
    once = fold(journal)
    assert fold_boiler([*reversed(journal.records), *journal.records], BOILER) == once


# The rulings


def test_a_settle_of_a_settle_ends_the_dispute(journal):
    mine, theirs = journal.looks("sound"), journal.looks("split", by=BEN)
    first = journal.settles("split", mine, theirs)
    second = journal.settles("sound", first, by=BEN)
    assert (found(journal).state, found(journal).disputed) == ("sound", False)
    assert opinions(found(journal)) == {second.id}


def test_a_settle_covers_only_its_own_slot(journal):
    journal.looks("sound")
    rear = journal.looks("split", end="rear")
    journal.settles("sound", rear, end="front")
    assert found(journal, end="rear").state == "split"


def test_a_settle_says_where_it_leaks_and_what_plug(journal):
    mine = journal.looks("leaking", leak_at="bore")
    journal.settles("leaking", mine, leak_at="joint")
    assert found(journal).leak_at == "joint"
    rear = journal.looks("plugged", end="rear")
    journal.settles("plugged", rear, end="rear", plug={"condition": "burned"})
    assert found(journal, end="rear").plug.condition == "burned"


def test_findings_stay_with_their_observation_when_a_settle_covers_it(journal):
    bowed = {"mechanism": "bowed", "side": "fire", "grade": "act", "note": ""}
    mine = journal.looks("sound", findings=[bowed])
    journal.settles("sound", mine)
    assert [finding.record for finding in found(journal).findings] == [mine.id]
    journal.withdraws(mine)
    assert found(journal).findings == ()


@pytest.mark.parametrize("carried", ["plugged", "leaking", "split"])
def test_a_fill_in_never_wipes_out_what_is_carried(journal, carried):
    journal.looks(carried)
    journal.looks("sound", at=AUTUMN, how="filled")
    end = found(journal, AUTUMN)
    assert (end.state, end.carried, end.how, end.fill_dropped) == (carried, True, None, True)


def test_a_fill_in_over_a_carried_thinning_counts(journal):
    journal.looks("thinned")
    journal.looks("sound", at=AUTUMN, how="filled")
    assert (found(journal, AUTUMN).state, found(journal, AUTUMN).how) == ("sound", "filled")


def test_work_acts_on_its_ends_and_on_both_when_none_is_named(journal):
    journal.works("plug", ends=["front"])
    assert (left(journal).state, left(journal, end="rear").state) == ("plugged", None)
    journal.works("plug", ends=[])
    assert left(journal, end="rear").state == "plugged"


@pytest.mark.parametrize("does", ["re-roll", "weld"])
@pytest.mark.parametrize(
    ("state", "leak_at", "after"),
    [
        ("leaking", "joint", None),
        ("leaking", "bore", "leaking"),
        ("leaking", None, "leaking"),
        ("split", None, "split"),
        ("plugged", None, "plugged"),
        ("sound", None, "sound"),
    ],
)
def test_rolling_or_welding_clears_a_joint_leak_and_nothing_else(
    journal, does, state, leak_at, after
):
    journal.looks(state, leak_at=leak_at)
    journal.works(does)
    assert left(journal).state == after
    assert found(journal, AUTUMN).state == (None if after == "sound" else after)


def test_cleaning_beside_plugging_is_no_dispute(journal):
    journal.works("clean", by=BEN)
    journal.works("plug")
    assert (left(journal).state, left(journal).disputed) == ("plugged", False)


def test_rolling_beside_replacing_is_part_of_it(journal):
    journal.looks("leaking", leak_at="bore")
    journal.works("replace")
    journal.works("re-roll", by=BEN)
    assert (left(journal).state, left(journal).disputed) == (None, False)
    assert inspection(journal).renewed == {HOLE}


def test_two_who_both_plugged_agree(journal):
    journal.works("plug")
    journal.works("plug", by=BEN)
    assert (left(journal).state, left(journal).disputed) == ("plugged", False)


@pytest.mark.parametrize(
    ("one", "other", "state"),
    [
        ("plug", "replace", "plugged"),
        ("plug", "unplug", "plugged"),
        ("unplug", "replace", None),
    ],
)
def test_plug_unplug_and_replace_against_each_other_dispute(journal, one, other, state):
    journal.looks("thinned")
    journal.works(one)
    journal.works(other, by=BEN)
    assert (left(journal).state, left(journal).disputed) == (state, True)
    assert inspection(journal).renewed == set()


def test_work_that_follows_ends_the_dispute_and_both_stay_live(journal):
    first = journal.works("replace")
    second = journal.works("plug", by=BEN, names=[first])
    assert (left(journal).state, left(journal).disputed) == ("plugged", False)
    assert {record.id for record in inspection(journal).work} == {first.id, second.id}
    assert inspection(journal).renewed == {HOLE}


def test_a_correction_of_ones_own_work_kills_it_and_of_anothers_does_not(journal):
    wrong = journal.works("replace")
    journal.works("clean", names=[wrong], corrects=True)
    assert inspection(journal).renewed == set()
    other = journal.works("plug", by=BEN)
    journal.works("clean", names=[other], corrects=True)
    assert left(journal).state == "plugged"


def test_moving_a_mark_is_a_withdrawal_and_a_new_mark(journal):
    neighbour = entity("neighbour")
    wrong = journal.looks("split")
    moved = journal.looks("split", hole=neighbour, names=[wrong])
    assert found(journal).state == "split"  # another slot: naming it does nothing
    journal.withdraws(wrong)
    assert found(journal).state is None
    assert opinions(found(journal, hole=neighbour)) == {moved.id}
    journal.withdraws(moved, by=BEN)  # not theirs to withdraw
    assert found(journal, hole=neighbour).state == "split"


def test_a_past_leak_is_history_and_changes_no_state(journal):
    journal.event("leak", "2023", hole=HOLE)
    assert found(journal).state is None
    assert [record.kind for record in fold(journal).gap_work] == ["event"]


def test_past_work_acts_on_what_is_carried(journal):
    journal.event("plug", "2023-11", hole=HOLE, plug={"type": "driven", "condition": "tight"})
    end = found(journal)
    assert (end.state, end.carried, end.since) == ("plugged", True, "2023-11")
    journal.event("replaced", "2024-07", hole=HOLE)
    assert (found(journal).state, found(journal, AUTUMN).state) == ("plugged", None)
    assert inspection(journal, AUTUMN).carried_in.life(HOLE).number == 2


@pytest.mark.parametrize(
    ("date", "before_spring"),
    [
        ("2023", True),
        ("2024", False),  # stands at its last day
        ("2024-03", True),
        ("2024-04", False),
        ("2024-04-09", True),
        ("2024-04-10", False),  # on the day of an inspection it does not name: after it
    ],
)
def test_a_partial_date_stands_at_its_last_day(journal, date, before_spring):
    journal.event("plug", date, hole=HOLE)
    assert (found(journal).state == "plugged") is before_spring


def test_of_work_between_inspections_the_latest_counts(journal):
    journal.event("replaced", "2022", hole=HOLE)
    journal.event("plug", "2023", hole=HOLE)
    assert found(journal).state == "plugged"
    assert inspection(journal).carried_in.life(HOLE).number == 2


def test_a_retubed_pass_renews_its_tubes_and_a_count_renews_none(journal):
    third = entity("third")
    journal.layout({HOLE: ("P2-R01-C01", 2), third: ("P3-R01-C01", 3)})
    journal.event("retubed", "2020", **{"pass": 3})
    journal.event("retubed", "2021", **{"pass": 2, "count": 12})
    carry = inspection(journal).carried_in
    assert (carry.life(HOLE).number, carry.life(third).number) == (1, 2)
    journal.event("retubed", "2022")
    assert inspection(journal).carried_in.life(HOLE).number == 2


def test_holes_of_two_records_of_one_boiler_are_joined(journal):
    journal.looks("sound")
    twin = Journal(boiler=TWIN_BOILER, origin=entity("second"), by=BEN)
    twin.inspection(TWIN_INSPECTION, "2024-04-10")
    twin.looks("split", at=TWIN_INSPECTION, hole=TWIN_HOLE)
    journal.records += twin.records
    assert found(journal).state == "sound"
    join = journal.joins("boiler", TWIN_BOILER, BOILER, {HOLE: TWIN_HOLE}, boiler=TWIN_BOILER)
    journal.joins("inspection", TWIN_INSPECTION, SPRING, boiler=TWIN_BOILER)
    assert fold(journal).boiler == TWIN_BOILER
    assert fold(journal) == fold_boiler(journal.records, TWIN_BOILER)
    both = found(journal, hole=TWIN_HOLE)
    assert (both.state, both.disputed) == ("split", True)
    journal.withdraws(join, by=BEN)
    assert found(journal).state == "sound"


def test_joining_what_is_joined_already_changes_nothing(journal):
    third = entity("inspthird")
    journal.looks("sound", at=third)
    for a, b in ((SPRING, AUTUMN), (SPRING, AUTUMN), (AUTUMN, third), (SPRING, third)):
        journal.joins("inspection", a, b)
    assert [i.facts.members for i in fold(journal).inspections] == [{SPRING, AUTUMN, third}]


def test_a_hole_is_retired_when_any_live_layout_retires_it(journal):
    gone = entity("gone")
    journal.layout({HOLE: ("A", 2), gone: ("B", 2)})
    journal.layout({HOLE: ("A", 2)}, retired=[gone])
    journal.looks("split", hole=gone)
    assert [t.hole for t in fold(journal).tubes] == [HOLE]
    assert fold(journal).retired == {gone}
    assert found(journal, hole=gone).state == "split"  # its records stay


def test_a_key_that_two_layouts_give_to_two_holes_is_named_with_both(journal):
    other = entity("other")
    journal.layout({HOLE: ("A1", 2)})
    journal.layout({other: ("a1", 2)})
    assert {k: set(holes) for k, holes in fold(journal).doubled_keys.items()} == {
        "A1": {HOLE, other}
    }


def test_plugged_in_front_and_leaking_behind_counts_as_plugged_and_is_still_bad(journal):
    journal.looks("plugged")
    journal.looks("leaking", leak_at="bore", end="rear")
    one = tube(journal)
    assert (one.found.state, one.found.is_bad) == ("plugged", True)
    assert one.ends_found[End.REAR].state == "leaking"


def test_an_end_takes_the_worst_of_its_opinions(journal):
    journal.looks("plugged")
    journal.looks("leaking", leak_at="joint", by=BEN)
    assert (found(journal).state, found(journal).leak_at) == ("leaking", "joint")


def test_of_several_places_the_worst_counts_and_none_means_not_found(journal):
    journal.looks("leaking", leak_at="joint")
    assert found(journal).leak_at == "joint"
    journal.looks("leaking", by=BEN)
    assert found(journal).leak_at == "not-found"
    journal.looks("leaking", leak_at="bore", by=CHIEF)
    assert (found(journal).leak_at, found(journal).disputed) == ("bore", False)


@pytest.mark.parametrize(
    ("hows", "best"),
    [
        (("seen", "paper", "by-row"), "seen"),
        (("by-row", "paper"), "paper"),
        (("by-row", "filled"), "by-row"),
        (("filled",), "filled"),
    ],
)
def test_the_best_way_of_knowing_counts(journal, hows, best):
    for how, person in zip(hows, (ADA, BEN, CHIEF), strict=False):
        journal.looks("sound", how=how, by=person)
    assert found(journal).how == best
    assert found(journal).is_looked_at is (best != "filled")


def test_settled_after_looking_again_counts_as_seen(journal):
    mine = journal.looks("sound", how="by-row")
    settle = journal.settles("sound", mine)
    assert found(journal).how == "by-row"
    journal.settles("sound", settle, **{"from": "looked-again"})
    assert found(journal).how == "seen"


def test_not_inspected_with_a_reason_is_no_look(journal):
    journal.looks(None, reason="no-entry")
    end = found(journal)
    assert (end.state, end.how, end.reason) == (None, None, "no-entry")


def test_the_life_as_left_begins_with_the_replacement_of_the_same_outage(journal):
    journal.works("replace", tube={"od_mm": 50.8, "wall_mm": 2.9, "material": "A192"})
    spring = inspection(journal)
    assert spring.carried_in.life(HOLE).number == 1
    assert (spring.carried_out.life(HOLE).number, spring.carried_out.life(HOLE).wall_mm) == (2, 2.9)
    assert spring.carried_out.life(HOLE).since == "2024-04-10"


def test_a_grave_finding_counts_until_that_end_is_looked_at_again(journal):
    bowed = {"mechanism": "bowed", "side": "fire", "grade": "act", "note": ""}
    journal.looks("sound", findings=[bowed, {**bowed, "grade": "watch"}])
    assert [f.grade for f in found(journal, AUTUMN).findings] == ["act"]
    journal.looks("sound", at=AUTUMN, how="filled")
    assert [f.grade for f in found(journal, AUTUMN).findings] == ["act"]
    journal.looks("sound", at=AUTUMN)
    assert found(journal, AUTUMN).findings == ()


def test_a_grave_finding_does_not_cross_a_life(journal):
    bowed = {"mechanism": "bowed", "side": "fire", "grade": "act", "note": ""}
    journal.looks("sound", findings=[bowed])
    journal.works("replace")
    assert len(found(journal).findings) == 1
    assert found(journal, AUTUMN).findings == ()


@pytest.mark.parametrize("lowering", ["settle", "withdraw", "same"])
def test_only_a_settle_its_withdrawal_or_a_join_may_lower_a_look(journal, lowering):
    mine = journal.looks("split")
    journal.looks("sound", by=BEN, names=[mine])
    if lowering == "settle":
        assert found(journal).state == "split"
        journal.settles("sound", mine)
    if lowering == "withdraw":
        settle = journal.settles("split", mine)
        mine_again = journal.looks("sound", names=[mine])
        assert (found(journal).state, mine_again.by) == ("split", ADA)
        journal.withdraws(settle, by=BEN)
    if lowering == "same":
        assert found(journal).state == "split"
        journal.joins("person", ADA, BEN, boiler="")
    assert found(journal).state == "sound"


def test_a_sign_off_and_an_origin_cannot_be_withdrawn_nor_a_withdrawal_undone(journal):
    mine = journal.looks("split")
    withdrawal = journal.withdraws(mine)
    journal.withdraws(withdrawal)
    assert found(journal).state is None
    held = {"vector": {}, "beyond_gap": [], "digest": "0" * 64}
    signed = journal.add("sign_off", {"inspection": SPRING, "name": "N", "role": "R", **held})
    journal.withdraws(signed)
    assert [record.id for record in inspection(journal).facts.sign_offs] == [signed.id]


def test_a_late_record_shows_as_after_closing_by_the_vector_and_not_by_the_clock(journal):
    journal.looks("sound")
    vector = {BOILER: {journal.origin: len(journal.records)}}
    held = {"inspection": SPRING, "vector": vector, "beyond_gap": [], "digest": "0" * 64}
    close = journal.add("close", held)
    assert inspection(journal).facts.is_closed
    assert inspection(journal).after_closing == set()
    journal.looks("split", hole=entity("late"))
    assert inspection(journal).after_closing == {entity("late")}
    assert found(journal, hole=entity("late")).state == "split"  # it counts all the same
    journal.withdraws(close, by=BEN)
    assert not inspection(journal).facts.is_closed


def test_an_inspection_whose_own_record_is_missing_comes_last(journal):
    lost = entity("inspa")  # the smallest id, yet last
    journal.looks("sound", at=lost)
    journal.looks("split", at=AUTUMN, end="rear")
    assert [i.facts.inspection for i in fold(journal).inspections] == [SPRING, AUTUMN, lost]
    assert found(journal, lost, end="rear").carried


def test_what_this_program_does_not_understand_is_counted_and_says_nothing(journal):
    mine = journal.looks("sound")
    body = {**mine.body, "state": "split"}
    journal.add("observation", body, schema=2, raw=True, names=[mine])
    journal.add("gauge_check", body, raw=True)
    assert (found(journal).state, fold(journal).not_understood) == ("sound", 2)


def test_of_two_versions_of_a_document_the_greatest_id_is_used(journal):
    body = {"boiler": BOILER, "kind": "wet-back"}
    one = journal.add("boiler", {**body, "tag": "B-1"})
    two = journal.add("boiler", {**body, "tag": "B-2"}, by=BEN)
    folded = fold(journal)
    assert folded.document == max((one, two), key=lambda record: record.id)
    assert {record.id for record in folded.document_versions} == {one.id, two.id}
    final = journal.add("boiler", {**body, "tag": "B-3"}, names=[one, two])
    assert [record.id for record in fold(journal).document_versions] == [final.id]
