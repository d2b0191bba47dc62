"""The tubes of the option: every tube that it works on by its key, with what is done and why."""

from dataclasses import replace

import pytest

from fieldapp.report.advice_lines import advice_lines
from fieldapp.report.option_tubes import WEAK_MEANS, option_tube_lines, works_of_option
from fieldapp.report.recommendation_json import recommendation
from fieldapp.report.sections.owner_order import BEHIND_THE_ADVICE, build_advice_sections
from fieldapp.report.sections.owner_tubes import build_owner_tubes
from fieldapp.report.xlsx_tables import build_sheets
from tests.fieldapp.report.invented_advice import BY_MONEY, NO_ADVICE, option
from tests.fieldapp.report.said_pieces import said, table


@pytest.fixture(scope="module")
def hole(numbers, what_is_what):
    """``hole("split")``: the hole of that tube of the small boiler."""
    holes = {each.tube.key: each.hole for each in numbers.tubes}
    return lambda what: holes[what_is_what[what]]


@pytest.fixture(scope="module")
def weak(hole):
    return {
        hole("thinned"): "thinned; 2.20 mm, measured thin",
        hole("said sound, measured thin"): "2.30 mm, measured thin",
    }


@pytest.fixture
def advised(weak):
    """``advised("x", plug=...)``: advice of one option with this plan."""

    def make(key="x", *, others=(), ruled_out=None, **plan):
        mine = option(key, plan=plan, ruled_out=ruled_out)
        return replace(BY_MONEY, option=key, options=(*others, mine), why_weak=weak)

    return make


@pytest.fixture
def replacing(advised, hole, weak):
    """The bad, the weak and one plugged tube replaced, and a joint re-rolled."""
    return advised(
        replace=frozenset(
            {hole("split"), hole("below the retirement wall"), *weak}
            | {hole("carried plug, not looked at")}
        ),
        re_roll={hole("joint leak"): 1},
    )


def rows(section):
    found = table(section, "What is done in this outage to which tube")
    return [tuple(cell.words for cell in row.cells) for row in found.rows]


# ------------------------------------------------------------------ the table


def test_every_tube_is_named_with_what_is_done_and_why_in_chalk_order(numbers, replacing):
    assert rows(build_owner_tubes(numbers, replacing)) == [
        ("P2-R01-C01", "replace", "Plugged: its place around plugs is too wide"),
        ("P2-R03-C05", "re-roll 1 joint", "Leaking at the joint, front end"),
        ("P2-R04-C07", "replace", "Bad: split"),
        ("P2-R04-C08", "replace", "Weak: thinned; 2.20 mm, measured thin"),
        ("P3-R01-C01", "replace", "Bad: wall below the retirement wall"),
        ("P3-R01-C02", "replace", "Weak: 2.30 mm, measured thin"),
    ]


def test_the_layout_may_list_its_tubes_in_any_order(numbers, replacing):
    turned = replace(numbers, tubes=tuple(reversed(numbers.tubes)))
    assert rows(build_owner_tubes(turned, replacing)) == rows(build_owner_tubes(numbers, replacing))


def test_a_tube_is_plugged_where_the_plan_plugs_it(numbers, advised, hole):
    (row,) = rows(build_owner_tubes(numbers, advised(plug=frozenset({hole("split")}))))
    assert row == ("P2-R04-C07", "plug", "Bad: split")


def test_a_pass_that_is_retubed_is_one_line_with_what_is_bad_and_weak_in_it(numbers, advised, hole):
    section = build_owner_tubes(
        numbers, advised(retube=frozenset({2}), plug=frozenset({hole("finding to act on")}))
    )
    assert rows(section) == [
        ("Every tube of pass 2, 32", "retube", "Whole pass, 3 bad and 1 weak among them"),
        ("P3-R02-C03", "plug", "Bad: bead cracked, act"),
    ]


def test_a_stay_tube_says_why_it_is_not_left_plugged_or_whom_to_ask(numbers, advised, hole):
    stay = hole("plugged stay tube, one end")
    (row,) = rows(build_owner_tubes(numbers, advised(replace=frozenset({stay}))))
    assert row[2] == "Plugged: a stay tube is never left plugged"
    torn = tuple(
        replace(each, tube=replace(each.tube, kind="stay")) if each.hole == hole("split") else each
        for each in numbers.tubes
    )
    plan = {"plug": frozenset({hole("split")})}
    (row,) = rows(build_owner_tubes(replace(numbers, tubes=torn), advised(**plan)))
    assert row[2] == "Bad: split; a stay tube: refer to an engineer before plugging"


def test_who_orders_the_work_sees_what_is_carried_and_what_is_disputed(numbers, advised, hole):
    carried, disputed = hole("carried leak, a question"), hole("disputed")
    advice = advised(replace=frozenset({carried, disputed}))
    advice = replace(advice, why_weak={disputed: "end burned, to watch"})
    assert [row[2] for row in rows(build_owner_tubes(numbers, advice))] == [
        "Weak: end burned, to watch; disputed: look again first",
        "Bad: leaking in the bore; from last time, not confirmed",
    ]


# ------------------------------------------------------------------ beside the table


def test_weak_is_defined_where_a_weak_tube_is_named_and_only_there(numbers, replacing, advised):
    text = said(build_owner_tubes(numbers, replacing))
    assert WEAK_MEANS in text
    assert "left in service" not in text
    retubed = build_owner_tubes(numbers, advised(retube=frozenset({2, 3})))
    assert WEAK_MEANS not in said(retubed)


def test_weak_tubes_that_the_option_leaves_in_service_are_named_too(numbers, advised, hole):
    text = said(build_owner_tubes(numbers, advised(plug=frozenset({hole("split")}))))
    assert "Weak, and left in service by this option: P2-R04-C08, P3-R01-C02." in text
    assert WEAK_MEANS in text


@pytest.mark.parametrize("plan", [{}, {"is_new_boiler": True}])
def test_an_option_that_does_nothing_to_tubes_has_no_such_section(numbers, advised, plan):
    advice = advised(**plan)
    assert build_owner_tubes(numbers, advice).pieces == ()
    assert "option-tubes" not in [each.key for each in build_advice_sections(numbers, advice)]
    assert "The tubes of the option" not in advice_lines(numbers, advice)


def test_without_an_option_nothing_is_named(numbers):
    assert works_of_option(numbers, NO_ADVICE) == ()
    assert build_owner_tubes(numbers, NO_ADVICE).pieces == ()


def test_it_stands_right_behind_the_advice(numbers, replacing):
    keys = [each.key for each in build_advice_sections(numbers, replacing)]
    assert keys[keys.index("behind") + 1] == "option-tubes"
    assert BEHIND_THE_ADVICE[1] is build_owner_tubes


def test_where_finding_out_more_leads_the_tubes_are_those_of_the_option_that_the_words_name(
    numbers, advised, hole
):
    named = option("plug-bad", plan={"plug": frozenset({hole("split")})})
    leads = advised("find-out", others=(named,), replace=frozenset({hole("stay tube")}))
    section = build_owner_tubes(numbers, replace(leads, runner_up="plug-bad"))
    assert rows(section) == [("P2-R04-C07", "plug", "Bad: split")]
    assert works_of_option(numbers, replace(leads, runner_up=None)) == ()


def test_work_that_may_not_be_ordered_yet_says_so_first(numbers, advised, hole):
    plan = {"plug": frozenset({hole("split")})}
    why = "Ruled out: ask an engineer first."
    first = build_owner_tubes(numbers, advised(ruled_out=why, **plan)).pieces[0]
    assert first.words == "As it stands this option is ruled out: ask an engineer first."


# ------------------------------------------------------------------ terminal, workbook, JSON


def test_the_terminal_has_a_line_for_each_reason_with_every_key(numbers, replacing):
    assert option_tube_lines(numbers, replacing) == (
        "replace, bad: P2-R04-C07, P3-R01-C01.",
        "replace, weak: P2-R04-C08, P3-R01-C02.",
        "replace, plugged, its place around plugs is too wide: P2-R01-C01.",
        "re-roll, leaking at the joint: P2-R03-C05 (front end).",
        WEAK_MEANS,
    )
    lines = advice_lines(numbers, replacing)
    place = lines.index("The tubes of the option")
    assert lines[place + 1] == "- replace, bad: P2-R04-C07, P3-R01-C01."
    assert lines.index("Why") < place < lines.index("Limits, and how far each is")


def test_the_terminal_names_a_pass_that_is_retubed(numbers, advised):
    assert option_tube_lines(numbers, advised(retube=frozenset({3}))) == (
        "retube: every tube of pass 3, 24.",
    )


def test_a_long_list_of_the_terminal_is_wrapped_and_complete(numbers, advised):
    holes = frozenset(each.hole for each in numbers.tubes)
    lines = advice_lines(numbers, advised(replace=holes))
    assert max(map(len, lines)) <= 100
    text = " ".join(lines[lines.index("The tubes of the option") :])
    assert [each.tube.key for each in numbers.tubes if each.tube.key not in text] == []


def test_the_workbook_has_the_same_rows(numbers, replacing):
    sheet = next(
        each for each in build_sheets(numbers, replacing) if each.name == "tubes of the option"
    )
    found = [dict(zip(sheet.columns, row, strict=True)) for row in sheet.rows]
    assert [(each["tube"], each["what_is_done"], each["why"].capitalize()) for each in found] == [
        (key, does, why.capitalize())
        for key, does, why in rows(build_owner_tubes(numbers, replacing))
    ]
    assert [each["reason"] for each in found][:3] == ["plugged", "leaking at the joint", "bad"]
    assert {each["tubes"] for each in found} == {1}
    about = next(each for each in build_sheets(numbers, replacing) if each.name == "about")
    assert ("what weak means", WEAK_MEANS) in about.rows


def test_the_json_names_tubes_beside_their_holes_and_says_why_they_are_weak(weak, replacing):
    (first, second), keys = weak, {"z": "T1", **dict(zip(reversed(weak), "BA", strict=True))}
    block = recommendation(replacing, None, keys)
    assert block["weak"] == [{"tube": "B", "why": weak[second]}, {"tube": "A", "why": weak[first]}]
    work = block["options"][0]["work"]
    assert len(work["replace_tubes"]) == len(work["replace"]) == 5
    assert work["replace_tubes"][:2] == ["B", "A"]
    # A hole that no tube of the layout has is named by its id, as in the rest of the report.
    assert work["replace_tubes"][2].startswith("hole ")
    ((hole, joints),) = work["re_roll"].items()
    assert work["re_roll_tubes"] == {f"hole {hole}": joints}
    assert work["plug_tubes"] == []
