"""What an inspection hands on survives being kept as text.

Not here: where it is kept, and when it no longer fits (``tests/model/store/test_cache``).
"""

import json

from hypothesis import given

from model.condition.carry_text import known_from_text, known_to_text
from model.condition.fold import KnownHistory, fold_boiler
from model.condition.states import Carry
from model.record.words import End
from tests.model.condition.journal import BOILER, SPRING
from tests.model.condition.record_sets import record_sets
from tests.model.condition.small_boiler import SmallBoiler, hole_of


def known(carry, *inspections):
    return KnownHistory(inspections=frozenset(inspections), last_date="2024-04-10", carry=carry)


@given(record_sets())
def test_any_carry_comes_back_as_it_was(records):
    for inspection in fold_boiler(records, BOILER).inspections:
        history = known(inspection.carried_out, inspection.facts.inspection)
        assert known_from_text(known_to_text(history)) == history


def test_plugs_leaks_lives_and_findings_to_act_on_come_back():
    boiler = SmallBoiler({2: 4})
    plug = {"type": "through-rod", "condition": "weeping", "vented": False}
    finding = {"mechanism": "pitting", "side": "water", "grade": "act", "at_mm": 8, "note": "Größe"}
    boiler.see("2.1", "plugged", "front", at=SPRING, plug=plug)
    boiler.see("2.2", "leaking", "rear", at=SPRING, leak_at="bore")
    boiler.see("2.3", "sound", "front", at=SPRING, findings=[finding])
    stock = {"od_mm": 51.0, "wall_mm": 3.2, "material": "P235GH"}
    boiler.work("2.4", "replace", at=SPRING, tube=stock)
    carry = known_from_text(known_to_text(known(boiler.inspection(SPRING).carried_out))).carry
    assert carry.ends[hole_of("2.1"), End.FRONT].plug.condition == "weeping"
    assert carry.ends[hole_of("2.2"), End.REAR].leak_at == "bore"
    assert carry.act_findings[hole_of("2.3"), End.FRONT][0].note == "Größe"
    life = carry.life(hole_of("2.4"))
    assert (life.number, life.wall_mm, life.material) == (2, 3.2, "P235GH")


def test_the_same_carry_gives_the_same_text():
    boiler = SmallBoiler({2: 3})
    boiler.see_rest("plugged", at=SPRING)
    carry = boiler.inspection(SPRING).carried_out
    backward = Carry(ends=dict(reversed(carry.ends.items())))
    assert known_to_text(known(carry, "b", "a")) == known_to_text(known(backward, "a", "b"))


def test_a_text_of_another_version_is_not_read():
    data = json.loads(known_to_text(known(Carry())))
    assert known_from_text(json.dumps({**data, "version": data["version"] + 1})) is None
    assert known_from_text("{}") is None
