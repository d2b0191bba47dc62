"""Of which passes an entry about earlier retubes speaks.

Not here: what follows for the age of a tube (``test_tube_life``, ``test_leak_history``).
"""

import pytest

from model.wall.earlier_retubes import may_be_renewed_before


def renewed(*entries):
    """Of passes 2 to 4, those that may be renewed."""
    identity = {"earlier_retubes": list(entries)}
    return [number for number in (2, 3, 4) if may_be_renewed_before(identity, number)]


@pytest.mark.parametrize(
    ("entry", "passes"),
    [
        ("2011-08, pass 2", [2]),
        ("pass 2, 2015", [2]),
        ("PASS 3 in 2015", [3]),
        ("passes 2 and 3", [2, 3]),
        ("Passes 2, 4", [2, 4]),
        ("passes 2, 3, and 4, 2015", [2, 3, 4]),
        ("passes 2 & 4", [2, 4]),
        ("passes 2 4", [2, 4]),
        ("pass 2 in 2011 and pass 4 in 2015", [2, 4]),
        ("passes 2 to 4", [2, 3, 4]),
        ("passes 2-4", [2, 3, 4]),
        ("all tubes of pass 2 - 2011-08", [2]),
    ],
)
def test_an_entry_that_names_its_passes_speaks_of_these_alone(entry, passes):
    assert renewed(entry) == passes


@pytest.mark.parametrize(
    "entry",
    ["2015", "", "all tubes", "2nd pass", "both passes", "pass two", "pass 2 and the 3rd pass"],
)
def test_an_entry_that_names_no_pass_by_its_number_may_speak_of_every_pass(entry):
    assert renewed(entry) == [2, 3, 4]


@pytest.mark.parametrize("entry", ["all but pass 3", "all except pass 3", "not pass 3"])
def test_an_entry_that_turns_its_passes_round_may_speak_of_every_pass(entry):
    assert renewed(entry) == [2, 3, 4]


def test_entries_add_up_and_one_without_a_pass_counts_for_all():
    assert renewed("pass 2, 2011", "pass 4, 2015") == [2, 4]
    assert renewed("pass 2, 2011", "2015") == [2, 3, 4]


@pytest.mark.parametrize("identity", [{}, {"earlier_retubes": []}, {"earlier_retubes": None}])
def test_without_an_entry_nothing_was_renewed(identity):
    assert not may_be_renewed_before(identity, 2)


@pytest.mark.parametrize("said", [2015, True, {"pass": 2}])
def test_what_another_program_wrote_in_another_form_may_speak_of_every_pass(said):
    assert may_be_renewed_before({"earlier_retubes": said}, 3)


def test_a_single_text_is_one_entry():
    assert may_be_renewed_before({"earlier_retubes": "pass 2"}, 2)
    assert not may_be_renewed_before({"earlier_retubes": "pass 2"}, 3)
