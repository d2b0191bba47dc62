"""Boilers: made, revised without moving a mark, joined with the map of their holes.

Not here: reading their files (``tests/fieldapp/intake``), faults of a layout.
"""

from dataclasses import replace

import pytest

from model.errors import Faults, RecordRefused, StoreRefused
from model.store.edits.boilers import (
    create_boiler,
    join_boilers,
    planned_revision,
    revise_boiler,
)
from model.store.loading import find_boiler, list_boilers, load_boiler
from model.store.queries import count_records
from tests.model.store.edits.one_boiler import ADA, BEN, CHIEF, KEYS, Desk, document, row, tube


def revise(desk, *, by=CHIEF, **given):
    return revise_boiler(desk.store, desk.boiler, by, **given)


def keys_by_hole(desk):
    return {each.hole: each.key for each in desk.folded().tubes}


# ------------------------------------------------------------------ made


def test_a_new_boiler_has_its_document_settings_and_a_hole_for_every_tube(desk):
    folded = desk.folded()
    assert folded.document.body["tag"] == "B-7"
    assert folded.settings["wall"].body["values"]["stated_mm"] == 1.9
    assert [each.key for each in folded.tubes] == list(KEYS)
    assert len({each.hole for each in folded.tubes}) == 6


def test_a_boiler_that_breaks_a_rule_leaves_nothing(store):
    with pytest.raises(RecordRefused, match=r"This boiler cannot be recorded: .*kind"):
        create_boiler(store, document(kind="round"), row("a"), "Somebody New")
    with pytest.raises(RecordRefused, match="This layout cannot be recorded"):
        create_boiler(store, document(), row("a", "not a key"), "Somebody New")
    assert count_records(store) == 0


# ------------------------------------------------------------------ document and settings


def test_a_document_that_says_what_stands_changes_nothing(desk):
    before = desk.count()
    assert revise(desk, document=document(), tubes=row(*KEYS)) == []
    assert desk.count() == before


def test_a_field_that_changed_supersedes_the_document_and_only_it(desk):
    assert revise(desk, document=document(owner="Another")) == ["boiler"]
    folded = desk.folded()
    assert len(folded.document_versions) == 1
    assert folded.document.body["owner"] == "Another"


def test_a_section_that_changed_is_superseded_and_one_not_given_stays(desk):
    settings = {"wall": {"stated_mm": 2.0}, "limits": {"cluster": {"basis": "engineer"}}}
    assert revise(desk, document=document(settings=settings)) == ["wall", "limits"]
    assert revise(desk, document=document(settings={})) == []
    folded = desk.folded()
    assert {name: len(versions) for name, versions in folded.settings_versions.items()} == {
        "wall": 1, "limits": 1,
    }  # fmt: skip
    assert folded.settings["wall"].body["values"] == {"stated_mm": 2.0}


@pytest.mark.parametrize("blank", [None, "", [], {}])
def test_a_blank_and_a_missing_field_are_the_same(desk, blank):
    settings = {"wall": {"stated_mm": 1.9, "basis": "letter", "more": blank}}
    assert revise(desk, document=document(settings=settings)) == []


@pytest.mark.parametrize("value", [0, 0.0, False])
def test_nought_and_no_are_not_the_same_as_nothing_said(desk, value):
    settings = {"wall": {"stated_mm": 1.9, "basis": "letter", "allowance_mm": value}}
    assert revise(desk, document=document(settings=settings)) == ["wall"]
    assert desk.folded().settings["wall"].body["values"]["allowance_mm"] == value


def test_two_versions_of_a_document_become_one_when_it_is_revised(desk, store):
    with store.write() as writer:
        body = {**desk.folded().document.body, "owner": "Another"}
        writer.append("boiler", body, boiler=desk.boiler, by="ppppppppppppp")
    assert len(desk.folded().document_versions) == 2
    assert revise(desk, document=document()) == ["boiler"]
    assert len(desk.folded().document_versions) == 1


# ------------------------------------------------------------------ the layout revised


def test_keys_shifted_along_a_row_move_no_mark(opened):
    opened.enter(opened.mark("b", "split"))
    holes = opened.holes
    # The owner counts from the left again: every tube is called by its neighbour's name.
    shifted = row("z", *KEYS[:-1])
    revision = planned_revision(opened.store, opened.boiler, shifted)
    assert dict(revision.renamed) == {"a": "z", "b": "a", "c": "b", "d": "c", "e": "d", "f": "e"}
    assert revision.needs_confirmation
    assert revise(opened, tubes=shifted) == ["layout"]
    assert opened.holes["a"] == holes["b"]
    assert opened.found("a").state == "split"
    assert opened.found("b").state is None


def test_a_row_with_a_hole_id_is_that_hole_wherever_it_is_put(desk):
    holes = desk.holes
    moved = [tube(key, column, x_mm=10_000.0 - 70.0 * column, hole=holes[key])
             for column, key in enumerate(KEYS, 1)]  # fmt: skip
    assert not planned_revision(desk.store, desk.boiler, moved).needs_confirmation
    assert revise(desk, tubes=moved) == ["layout"]
    assert desk.holes == holes
    assert desk.folded().tubes[0].x_mm == 9930.0


@pytest.mark.parametrize(("apart_mm", "is_same"), [(17.4, True), (17.6, False)])
def test_without_a_hole_id_a_tube_within_a_quarter_pitch_is_the_same(desk, apart_mm, is_same):
    """The pitch is 70 mm, a quarter of it 17.5."""
    moved = [replace(each, x_mm=each.x_mm + (apart_mm if each.key == "f" else 0.0))
             for each in row(*KEYS)]  # fmt: skip
    revision = planned_revision(desk.store, desk.boiler, moved)
    assert [each.key for each in revision.new] == ([] if is_same else ["f"])
    assert [each.key for each in revision.retired] == ([] if is_same else ["f"])
    assert revision.needs_confirmation is not is_same


def test_a_tube_in_the_same_place_of_another_pass_is_another_tube(desk):
    revision = planned_revision(desk.store, desk.boiler, row(*KEYS, pass_=3))
    assert (len(revision.new), len(revision.retired)) == (6, 6)


def test_tubes_that_are_gone_are_retired_and_their_records_stay(opened):
    opened.enter(opened.mark("f", "plugged"))
    hole = opened.holes["f"]
    assert revise(opened, tubes=row(*KEYS[:-1])) == ["layout"]
    folded = opened.folded()
    assert [each.key for each in folded.tubes] == list(KEYS[:-1])
    assert folded.retired == {hole}
    assert any(r.body.get("hole") == hole for r in folded.live if r.kind == "observation")


def test_a_tube_where_one_was_retired_has_its_hole_and_its_records_again(opened):
    opened.enter(opened.mark("f", "plugged"))
    hole = opened.holes["f"]
    revise(opened, tubes=row(*KEYS[:-1]))
    assert [each.key for each in opened.folded().retired_tubes] == ["f"]
    back = [*row(*KEYS[:-1]), tube("g", 6)]
    revision = planned_revision(opened.store, opened.boiler, back)
    assert [(each.key, each.hole) for each in revision.revived] == [("g", hole)]
    assert (revision.new, revision.retired, revision.renamed) == ((), (), ())
    assert revise(opened, tubes=back) == ["layout"]
    assert opened.holes["g"] == hole
    assert opened.found("g").state == "plugged"
    assert (opened.folded().retired, opened.folded().retired_tubes) == (frozenset(), ())


def test_a_row_with_the_id_of_a_retired_hole_is_that_hole_wherever_it_is_put(desk):
    hole = desk.holes["f"]
    revise(desk, tubes=row(*KEYS[:-1]))
    revise(desk, tubes=[*row(*KEYS[:-1]), tube("f", 9, hole=hole)])
    assert desk.holes["f"] == hole
    revise(desk, tubes=row(*KEYS[:-1]))
    # It was last there, and no longer in the sixth place.
    revise(desk, tubes=row(*KEYS))
    assert desk.holes["f"] != hole
    assert desk.folded().retired == {hole}


@pytest.mark.parametrize(("apart_mm", "pass_"), [(17.6, 2), (0.0, 3)])
def test_a_tube_elsewhere_or_of_another_pass_is_a_new_one(desk, apart_mm, pass_):
    hole = desk.holes["f"]
    revise(desk, tubes=row(*KEYS[:-1]))
    new = tube("f", 6, x_mm=70.0 * 6 + apart_mm, pass_=pass_)
    revise(desk, tubes=[*row(*KEYS[:-1]), new])
    assert desk.holes["f"] != hole
    assert desk.folded().retired == {hole}


def test_new_tubes_get_holes_and_the_others_keep_theirs(desk):
    before = desk.holes
    assert revise(desk, tubes=row(*KEYS, "g", "h")) == ["layout"]
    after = desk.holes
    assert {key: after[key] for key in KEYS} == before
    assert len(set(after.values())) == 8


def test_a_hole_id_of_another_boiler_is_refused_and_nothing_is_written(desk):
    before = desk.count()
    foreign = [*row(*KEYS[:-1]), tube("f", 6, hole="zzzzzzzzzzzzz")]
    with pytest.raises(Faults, match="Tube f: hole zzzzzzzzzzzzz is not of this boiler; leave the"):
        revise(desk, document=document(owner="Another"), tubes=foreign)
    assert desk.count() == before


def test_two_tubes_in_one_place_are_refused(desk):
    doubled = [*row(*KEYS), tube("g", 7, x_mm=70.0 + 5.0)]
    with pytest.raises(Faults, match="Tubes a and g both stand where a is; correct one position"):
        revise(desk, tubes=doubled)


def test_document_and_layout_are_revised_in_one_transaction(desk):
    before = desk.count()
    with pytest.raises(RecordRefused, match="This layout cannot be recorded"):
        revise(desk, document=document(owner="Another"), tubes=row(*KEYS, "not a key"), by="New")
    assert desk.count() == before
    assert desk.folded().document.body["owner"] == "Fernhill (invented)"


# ------------------------------------------------------------------ joined


@pytest.fixture
def twin(store, desk):
    """The same boiler as another tablet made it: other ids, keys in another case, 5 mm off."""
    tubes = [replace(each, key=each.key.upper(), x_mm=each.x_mm + 5.0) for each in row(*KEYS)]
    other = Desk.__new__(Desk)
    other.store, other.inspection = store, None
    other.boiler = create_boiler(store, document(), tubes, BEN)
    return other


def test_two_boilers_of_one_tag_stay_two_and_the_tag_is_refused_with_the_ids(store, desk, twin):
    assert len(list_boilers(store)) == 2
    with pytest.raises(StoreRefused, match="2 boilers have the tag b-7; give one of the ids") as no:
        find_boiler(store, "b-7")
    assert desk.boiler in str(no.value)
    assert twin.boiler in str(no.value)
    assert find_boiler(store, desk.boiler[:6]).boiler == desk.boiler


@pytest.mark.parametrize("is_turned", [False, True])
def test_joined_boilers_are_one_with_every_mark_on_its_tube(store, desk, twin, is_turned):
    desk.open()
    desk.enter(desk.mark("b", "split"))
    twin.inspection = desk.inspection
    pair = [desk.name(), twin.name()]
    assert join_boilers(store, *(reversed(pair) if is_turned else pair), CHIEF) == 6
    for either in (desk, twin):
        folded = load_boiler(store, either.boiler)
        assert folded.boiler == min(desk.boiler, twin.boiler)
        assert len(folded.tubes) == 6
        assert folded.doubled_keys == {}
        assert len(folded.document_versions) == 2
    (same,) = desk.live("same")
    assert same.boiler == same.body["a"] == min(desk.boiler, twin.boiler)
    assert find_boiler(store, "B-7").members == tuple(sorted((desk.boiler, twin.boiler)))
    # What is said of the twin's hole is said of the same tube.
    found = desk.latest()[1]
    hole = next(each.hole for each in desk.folded().tubes if each.key.casefold() == "b")
    assert found.end_found(hole, "front").state == "split"


def test_marks_of_both_before_the_join_meet_on_one_tube(store, desk, twin):
    desk.open()
    desk.enter(desk.mark("b", "sound"))
    twin.open("2027-05-04", by=BEN)
    body_of_twin = twin.mark("B", "leaking", by=BEN)
    twin.enter(body_of_twin)
    join_boilers(store, twin.name(), desk.name(), CHIEF)
    folded = desk.folded()
    assert [i.facts.date for i in folded.inspections] == ["2026-05-04", "2027-05-04"]
    hole = next(each.hole for each in folded.tubes if each.key.casefold() == "b")
    assert [i.end_found(hole, "front").state for i in folded.inspections] == ["sound", "leaking"]


def test_joining_again_is_refused(store, desk, twin):
    join_boilers(store, desk.name(), twin.name(), CHIEF)
    with pytest.raises(StoreRefused, match="are already one boiler"):
        join_boilers(store, desk.name(), desk.name(), CHIEF)


@pytest.mark.parametrize(
    "tubes",
    [
        row("a", "b", "c", "d", "e", "g"),
        row(*KEYS, "g"),
        row(*KEYS[:-1]),
        [*row(*KEYS[:-1]), tube("f", 6, x_mm=500.0)],
        row(*KEYS, pass_=3),
    ],
    ids=["another key", "one too many", "one too few", "another place", "another pass"],
)
def test_layouts_that_do_not_agree_are_refused_and_nothing_is_joined(store, desk, tubes):
    names = [desk.boiler, create_boiler(store, document(), tubes, BEN)]
    first, second = (find_boiler(store, name) for name in names)
    with pytest.raises(Faults, match="make the two layouts agree with 'boiler update' first"):
        join_boilers(store, first, second, CHIEF)
    assert len(list_boilers(store)) == 2


def test_entries_for_either_member_go_to_the_one_boiler(store, desk, twin):
    join_boilers(store, desk.name(), twin.name(), CHIEF)
    desk.open(by=ADA)
    upper = desk.folded().tubes[0].key
    desk.enter(desk.mark(upper, "thinned"))
    twin.inspection = desk.inspection
    assert twin.enter(twin.mark(upper, "thinned")).skipped == 1
