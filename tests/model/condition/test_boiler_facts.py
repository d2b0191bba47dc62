"""The boiler's document as facts: what is missing is left out, and junk of others is no number.

Not here: reading the file (``tests/fieldapp/intake``).
"""

import pytest

from model.condition.boiler_facts import boiler_facts, document_facts
from model.condition.fold import fold_boiler
from tests.model.condition.journal import BOILER, Journal

FACE = {
    "key": "f", "name": "front", "sheet": "front", "looks": "rearward",
    "shows": [{"pass": 2, "end": "front"}],
}  # fmt: skip


def facts(body=(), **settings):
    return document_facts(BOILER, dict(body), settings)


def test_a_boiler_whose_document_has_not_arrived_has_only_an_id():
    journal = Journal()
    journal.inspection("inspspring222", "2024-04-10")
    known = boiler_facts(fold_boiler(journal.records, BOILER))
    assert (known.boiler, known.tag, known.kind) == (BOILER, BOILER, "other")
    assert known.sheets == known.faces == known.furnaces == ()
    assert known.bore_mm is None


def test_a_stored_document_gives_its_facts_in_the_version_in_use():
    journal = Journal()
    body = {
        "boiler": BOILER, "tag": "B-7", "kind": "wet-back", "mawp_mpa": 1.0,
        "tubes": {"od_mm": 51, "wall_mm": 3},
        "shell": {"diameter_mm": 1400, "furnaces": [{"x_mm": 0, "y_mm": -1, "diameter_mm": 4}]},
        "sheets": [{"key": "front", "name": "front tube sheet", "plate_mm": 14}],
        "faces": [FACE],
    }  # fmt: skip
    journal.add("boiler", body)
    journal.add("settings", {"section": "wall", "values": {"stated_mm": 1.9}})
    known = boiler_facts(fold_boiler(journal.records, BOILER))
    assert (known.tag, known.mawp_mpa, known.bore_mm) == ("B-7", 1.0, 45.0)
    assert (known.shell_diameter_mm, known.furnaces[0].y_mm) == (1400.0, -1.0)
    assert (known.sheet("front").plate_mm, known.sheet("front").stress_mpa) == (14, None)
    assert (known.face("f").shows[0].pass_, known.face("f").looks) == (2, "rearward")
    assert (known.sheet("other"), known.face("other")) == (None, None)
    assert known.retirement_mm == 1.9


@pytest.mark.parametrize("tubes", [{}, {"od_mm": 51.0}, {"wall_mm": 3.0}])
def test_without_both_sizes_there_is_no_bore(tubes):
    assert facts({"tubes": tubes}).bore_mm is None


def test_the_note_threshold_is_20_percent_unless_the_owner_sets_another():
    assert facts().note_percent == 20.0
    assert facts(wall={"note_percent": 15}).note_percent == 15.0


@pytest.mark.parametrize(
    ("wall", "retirement_mm"),
    [
        ({}, None),
        ({"stated_mm": 1.8}, 1.8),
        ({"retirement": "stated", "stated_mm": 1.8}, 1.8),
        ({"retirement": "stated"}, None),
        # A rule is not worked out yet; a stated wall beside it is not what was chosen.
        ({"retirement": "us-historic", "stated_mm": 1.8}, None),
    ],
)
def test_the_retirement_wall_is_the_stated_one_or_none(wall, retirement_mm):
    assert facts(wall=wall).retirement_mm == retirement_mm


def test_the_allowance_is_not_added_to_a_stated_wall():
    assert facts(wall={"stated_mm": 1.8, "allowance_mm": 0.5}).retirement_mm == 1.8


@pytest.mark.parametrize("junk", ["3,0", "", None, True, [3.0], {"mm": 3.0}])
def test_what_another_program_wrote_and_is_no_number_is_not_known(junk):
    known = facts(
        {"tubes": {"od_mm": junk, "wall_mm": 3.0}, "shell": {"diameter_mm": junk}},
        wall={"note_percent": junk, "stated_mm": junk},
    )
    assert known.od_mm is known.shell_diameter_mm is known.retirement_mm is None
    assert known.note_percent == 20.0


@pytest.mark.parametrize(
    "furnaces", [None, "two", [None], [{}], [{"x_mm": 0, "y_mm": "low", "diameter_mm": 400}]]
)
def test_a_furnace_that_cannot_be_placed_is_left_out(furnaces):
    assert facts({"shell": {"furnaces": furnaces}}).furnaces == ()
