"""The retirement wall by the owner's choice, and what rules ask of new tubes.

Not here: the rules' own figures (``test_new_tube_rules``).
"""

import re

import pytest

from model.condition.boiler_facts import document_facts
from model.tubesheet.layout import Tube
from model.wall.new_tube_rules import NewTubeRule, required_wall
from model.wall.retirement import check_new_tubes, retirement_wall

DOCUMENT = {"mawp_mpa": 1.48, "tubes": {"od_mm": 51.0, "wall_mm": 2.9}}


def facts(wall, **document):
    return document_facts("b", {**DOCUMENT, **document}, {"wall": wall})


def tube(*, column=1, **sizes):
    key = f"P2-R01-C{column:02}"
    return Tube(key=key, pass_=2, row=1, column=column, x_mm=80.0 * column, y_mm=0.0, **sizes)


TUBES = [tube()]


def test_a_stated_wall_is_taken_as_stated_without_the_allowance():
    found = retirement_wall(
        facts({"stated_mm": 1.8, "basis": "letter", "allowance_mm": 0.5}), TUBES
    )
    assert (found.wall_mm, found.basis, found.why_not) == (1.8, "letter", None)


def test_without_a_statement_no_rule_steps_in():
    found = retirement_wall(facts({}), TUBES)
    assert found.wall_mm is None
    assert "no remaining life is given" in found.why_not


@pytest.mark.parametrize("rule", NewTubeRule)
def test_a_chosen_rule_gives_its_wall_at_the_mawp_with_the_allowance_on_top(rule):
    found = retirement_wall(facts({"retirement": rule.value, "allowance_mm": 0.3}), TUBES)
    bare = required_wall(od_mm=51.0, pressure_mpa=1.48, rule=rule).wall_mm
    assert found.wall_mm == pytest.approx(bare + 0.3)
    assert "an allowance of 0.3 mm" in found.basis


def test_a_rule_from_memory_says_so_in_the_basis():
    found = retirement_wall(facts({"retirement": "us-historic"}), TUBES)
    assert "from memory, not checked against the document" in found.basis


@pytest.mark.parametrize(
    ("document", "tubes", "reason"),
    [
        ({"mawp_mpa": None}, TUBES, "no MAWP"),
        ({"tubes": {}}, TUBES, "outside diameter of the tubes is not known"),
        ({}, [tube(), tube(column=2, od_mm=63.5)], r"several outside diameters \(51, 63.5 mm\)"),
        ({"mawp_mpa": 9.0}, TUBES, "where the Lloyd's table ends"),
        ({"mawp_mpa": 0.5}, TUBES, "gives no number"),
    ],
)
def test_where_the_rule_cannot_be_used_it_says_why(document, tubes, reason):
    found = retirement_wall(facts({"retirement": "lloyds-table"}, **document), tubes)
    assert found.wall_mm is None
    assert re.search(reason, found.why_not)
    assert "[wall]" in found.why_not


def test_a_word_that_names_no_rule_is_no_rule():
    found = retirement_wall(facts({"retirement": "guess"}), TUBES)
    assert found.wall_mm is None
    assert "'guess'" in found.why_not


UNMEANT = [-1, 0, True, 10**400, 101, float("nan"), float("inf"), "2.0", "", [2.0], {"mm": 2.0}]


@pytest.mark.parametrize("stored", UNMEANT)
def test_a_stored_wall_that_cannot_be_meant_counts_as_not_stated_and_that_is_said(stored):
    of_boiler = facts({"retirement": "stated", "stated_mm": stored, "basis": "letter"})
    found = retirement_wall(of_boiler, TUBES)
    assert (found.wall_mm, found.basis) == (None, None)
    assert of_boiler.retirement_mm is None
    assert re.search("stored in .wall. is .+, which cannot be meant", found.why_not)
    assert len(found.why_not) < 350


@pytest.mark.parametrize("chosen", [{"stated": 2.0}, ["lloyds-table"], 7, True, "", "guess" * 99])
def test_what_is_stored_in_place_of_a_rule_and_is_none_gives_no_wall(chosen):
    of_boiler = facts({"retirement": chosen, "stated_mm": 2.0})
    found = retirement_wall(of_boiler, TUBES)
    assert (found.wall_mm, of_boiler.retirement_mm) == (None, None)
    assert "which is no rule known here" in found.why_not
    assert len(found.why_not) < 200


def test_a_rule_that_is_stored_as_nothing_is_not_given():
    assert retirement_wall(facts({"retirement": None, "stated_mm": 1.8}), TUBES).wall_mm == 1.8


@pytest.mark.parametrize("stored", [-0.5, True, "0.3", [0.3], float("nan"), 10**400])
def test_an_allowance_that_cannot_be_meant_is_left_out_and_named(stored):
    bare = retirement_wall(facts({"retirement": "lloyds-table"}), TUBES)
    found = retirement_wall(facts({"retirement": "lloyds-table", "allowance_mm": stored}), TUBES)
    assert found.wall_mm == bare.wall_mm
    assert "The allowance stored in [wall] is " in found.basis
    assert "which cannot be meant: none is added." in found.basis


def test_a_basis_that_is_no_text_is_none():
    assert retirement_wall(facts({"stated_mm": 1.8, "basis": ["letter"]}), TUBES).basis is None


def test_stay_tubes_of_another_size_do_not_stand_in_the_way_of_the_rule():
    tubes = [*TUBES, tube(column=2, od_mm=57.0, kind="stay")]
    assert retirement_wall(facts({"retirement": "lloyds-table"}), tubes).wall_mm == 3.25


def test_rules_for_new_tubes_reject_and_accept_without_allowance():
    checks = check_new_tubes(facts({"allowance_mm": 5.0}), TUBES)
    said = {check.rule: (check.wall_mm, check.rejects_as_new) for check in checks}
    assert said[NewTubeRule.LLOYDS_TABLE] == (3.25, True)
    wall_mm, rejects = said[NewTubeRule.US_HISTORIC]
    assert wall_mm == pytest.approx(25.4 * (0.065 + 1.48 / 0.006894757 * 51.0 / 25.4 / 14_000))
    assert rejects is False
    assert "rejects the tubes as new" in next(c.note for c in checks if c.rejects_as_new)


def test_where_the_table_gives_no_number_nobody_is_rejected():
    checks = check_new_tubes(facts({}, mawp_mpa=0.5), TUBES)
    lloyds = next(check for check in checks if check.rule is NewTubeRule.LLOYDS_TABLE)
    assert (lloyds.wall_mm, lloyds.rejects_as_new) == (None, None)
    assert "no more than 2.95 mm" in lloyds.note


def test_a_tube_that_is_thicker_than_the_table_could_ask_meets_it():
    checks = check_new_tubes(facts({}, mawp_mpa=0.5), [tube(wall_mm=2.95)])
    lloyds = next(check for check in checks if check.rule is NewTubeRule.LLOYDS_TABLE)
    assert (lloyds.wall_mm, lloyds.rejects_as_new) == (None, False)


def test_every_size_of_plain_tube_is_checked():
    tubes = [tube(), tube(column=2, od_mm=57.0, wall_mm=4.0), tube(column=3, kind="stay")]
    sizes = [(each.od_mm, each.supplied_mm) for each in check_new_tubes(facts({}), tubes)]
    assert sizes == [(51.0, 2.9), (57.0, 4.0)] * 2
