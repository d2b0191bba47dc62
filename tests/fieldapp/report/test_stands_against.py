"""What stands against steaming, point by point.

Not here: the page that says it (``test_owner_page``).
"""

import pytest

from fieldapp.report.sections.owner_steaming import stands_against
from tests.fieldapp.report.test_deciding import damaged
from tests.fieldapp.report.test_numbers import numbers_of
from tests.model.condition.small_boiler import SmallBoiler

WALL = {"retirement": "stated", "stated_mm": 2.0, "basis": "letter"}


def points(*bad, boiler=None, wall=None):
    """Of four sound tubes, of which these are split."""
    boiler = boiler or SmallBoiler({2: 4})
    for key in bad:
        boiler.see(key, "split")
    boiler.see_rest()
    return stands_against(numbers_of(boiler, **({"wall": wall} if wall else {})))


@pytest.mark.parametrize(
    ("bad", "words"),
    [
        (("2.1",), "1 bad tube not dealt with, leaking or split"),
        (("2.1", "2.2"), "2 bad tubes not dealt with, all of them leaking or split"),
    ],
)
def test_bad_tubes_are_counted_in_words_that_fit_one_and_many(bad, words):
    assert points(*bad) == (words,)
    assert points() == ()


def test_a_wall_within_the_gauges_error_of_the_retirement_wall_is_no_silence():
    boiler = SmallBoiler({2: 4})
    boiler.see_rest()
    boiler.measure("2.1", 1.95, accuracy_mm=0.1)
    boiler.measure("2.2", 2.05, accuracy_mm=0.1)
    assert points(boiler=boiler, wall=WALL) == (
        "1 tube that reads below the retirement wall, within the gauge's error",
    )


def test_damage_and_ends_in_reach_that_nobody_looked_at_stand_against_it_too():
    boiler = damaged(SmallBoiler({2: 1}))
    boiler.see("2.1", "sound", "front")
    assert stands_against(numbers_of(boiler)) == (
        "1 damaged part graded act",
        "1 tube end in reach that nobody looked at",
    )
