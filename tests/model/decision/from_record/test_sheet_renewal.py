"""When the findings of a tube sheet call for its renewal.

Not here: what renewing costs.
"""

import pytest

from tests.model.condition.journal import AUTUMN, SPRING
from tests.model.condition.small_boiler import SmallBoiler, hole_of
from tests.model.decision.recorded import describe, recorded

SHEETS = [{"key": "front", "name": "front sheet"}, {"key": "rear", "name": "rear sheet"}]
FACES = [
    {
        "key": sheet,
        "name": sheet,
        "sheet": sheet,
        "looks": looks,
        "shows": [{"pass": number, "end": sheet} for number in (2, 3)],
    }
    for sheet, looks in (("front", "rearward"), ("rear", "forward"))
]


@pytest.fixture
def boiler():
    small = SmallBoiler({2: 10, 3: 5})
    describe(small, sheets=SHEETS, faces=FACES)
    return small


def part(boiler, what, grade, sheet="rear", *keys, at=AUTUMN):
    where = {"holes": list(map(hole_of, keys)), "sheet": sheet, "text": ""}
    body = {"inspection": at, "part": what, "where": where, "side": "fire", "grade": grade}
    boiler.journal.add("part", body)


def leak(boiler, key, end="rear", **more):
    boiler.see(key, "leaking", end, leak_at="ligament", **more)


def renewed(boiler):
    return recorded(boiler).situation.sheets_to_renew


def test_an_area_graded_act_calls_for_renewal_and_one_to_watch_does_not(boiler):
    part(boiler, "sheet-area", "watch", "front")
    part(boiler, "sheet-area", "act", "rear")
    part(boiler, "furnace", "act", "front")
    assert renewed(boiler) == ("rear",)


def test_three_bad_ligaments_call_for_renewal_and_two_do_not(boiler):
    leak(boiler, "2.1")
    leak(boiler, "3.2")
    assert renewed(boiler) == ()
    leak(boiler, "2.5", at=SPRING)  # carried
    assert renewed(boiler) == ("rear",)


def test_ligaments_of_one_sheet_do_not_count_for_another(boiler):
    leak(boiler, "2.1")
    leak(boiler, "2.2")
    leak(boiler, "2.3", "front")
    assert renewed(boiler) == ()


def test_a_crack_recorded_beside_a_leaking_tube_is_the_same_ligament(boiler):
    leak(boiler, "2.1")
    leak(boiler, "2.4")
    part(boiler, "ligament", "act", "rear", "2.1", "2.2")
    assert renewed(boiler) == ()
    part(boiler, "ligament", "act", "rear", "2.8", "2.9")
    assert renewed(boiler) == ("rear",)


@pytest.mark.parametrize(("grade", "sheet"), [("watch", "rear"), ("act", None), ("act", "roof")])
def test_parts_to_watch_or_of_no_known_sheet_count_for_none(boiler, grade, sheet):
    for key in ("2.1", "2.4", "2.7"):
        part(boiler, "ligament", grade, sheet, key)
    part(boiler, "sheet-area", grade, sheet)
    assert renewed(boiler) == ()


def test_damaged_plate_of_an_earlier_inspection_counts_until_somebody_mentions_it(boiler):
    part(boiler, "sheet-area", "act", "rear", at=SPRING)
    for key in ("2.1", "2.2", "2.3"):
        part(boiler, "ligament", "act", "front", key, at=SPRING)
    # Single ligaments are asked about; how many still stand so nobody knows.
    assert renewed(boiler) == ("rear",)
    part(boiler, "sheet-area", "note", "rear")
    assert renewed(boiler) == ()


def test_the_passes_of_a_sheet_are_those_whose_ends_its_faces_show(boiler):
    assert recorded(boiler).situation.passes_of_sheet == {"front": (2, 3), "rear": (2, 3)}
