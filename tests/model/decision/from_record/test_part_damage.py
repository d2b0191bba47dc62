"""Damage of parts: what it is called, and with which tube sheet it goes.

Not here: which sheets are renewed (``test_sheet_renewal``), what the advice says of it.
"""

import pytest

from model.decision.plans import Plan
from model.decision.situation import PartDamage
from tests.model.condition.journal import SPRING
from tests.model.condition.small_boiler import SmallBoiler
from tests.model.decision.from_record.test_sheet_renewal import SHEETS, part
from tests.model.decision.recorded import describe, recorded


@pytest.fixture
def boiler():
    small = SmallBoiler({2: 10})
    describe(small, sheets=SHEETS)
    return small


def damage(boiler):
    return recorded(boiler).situation.damage


@pytest.mark.parametrize(
    ("what", "sheet", "words", "goes_with", "may_decide"),
    [
        ("ligament", "rear", "a ligament of the rear sheet", "rear", False),
        ("sheet-area", "rear", "an area of plate of the rear sheet", "rear", True),
        ("furnace", "rear", "the furnace of the rear sheet", None, True),
        ("ligament", None, "a ligament", None, False),
        ("ligament", "gone", "a ligament of the gone", "gone", False),
        ("handhole", None, "a handhole", None, False),
    ],
)
def test_plate_goes_with_its_own_sheet_and_other_parts_with_none(
    boiler, what, sheet, words, goes_with, may_decide
):
    part(boiler, what, "act", sheet)
    part(boiler, what, "watch", sheet)
    assert damage(boiler) == (PartDamage(words=words, sheet=goes_with, may_decide=may_decide),)


def test_only_the_sheet_that_is_renewed_or_a_new_boiler_takes_damage_away(boiler):
    part(boiler, "ligament", "act", "rear")
    part(boiler, "furnace", "act", None)
    ligament, furnace = sorted(damage(boiler), key=lambda each: each.words)
    plans = {
        "rear": Plan(key="renew-sheet", words="", renew_sheets=("rear",)),
        "front": Plan(key="renew-sheet", words="", renew_sheets=("front",)),
        "new": Plan(key="new-boiler", words="", is_new_boiler=True),
    }
    left = {name: (plan.leaves(ligament), plan.leaves(furnace)) for name, plan in plans.items()}
    assert left == {"rear": (False, True), "front": (True, True), "new": (False, False)}


def test_damage_of_before_that_is_not_mentioned_since_says_since_when(boiler):
    part(boiler, "furnace", "act", None, at=SPRING)
    part(boiler, "stay", "act", None, at=SPRING)
    part(boiler, "stay", "note", None)
    (found,) = damage(boiler)
    assert found.words == "the furnace (on 2024-04-10, and not mentioned since)"
