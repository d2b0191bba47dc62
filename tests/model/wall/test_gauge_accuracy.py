"""How accurate a reading is: as it says, or as its instrument is recorded in the inspection.

Not here: which reading governs (``test_governing``).
"""

import pytest

from model.wall.governing import WallVerdict
from tests.model.condition.journal import AUTUMN
from tests.model.condition.small_boiler import SmallBoiler, hole_of

HOLE = hole_of("2.1")
GAUGE = {"name": "Gauge 14", "method": "ultrasonic", "accuracy_mm": 0.1, "calibration": ""}
OTHER = {"name": "Gauge 2", "method": "ultrasonic", "accuracy_mm": 0.3, "calibration": ""}
PIT = {"name": "Pit gauge", "method": "pit-gauge", "accuracy_mm": 0.5, "calibration": ""}
UNKNOWN = {"name": "Old gauge", "method": "ultrasonic", "accuracy_mm": None, "calibration": ""}
BARE = {"name": "Caliper", "method": None, "accuracy_mm": 0.05, "calibration": ""}


def governing(tools, **reading):
    boiler = SmallBoiler({2: 2})
    body = {"inspection": AUTUMN, "date": "2024-10-10", "scope": "full", "instruments": tools}
    first = next(r for r in boiler.journal.records if r.body.get("inspection") == AUTUMN)
    boiler.journal.add("inspection", body, names=[first])
    boiler.measure("2.1", 1.75, **reading)
    return boiler.walls(wall_mm=3.0, retirement_mm=1.8).today[HOLE]


@pytest.mark.parametrize(
    ("tools", "reading", "accuracy_mm"),
    [
        ([GAUGE], {"accuracy_mm": 0.02, "instrument": "Gauge 14"}, 0.02),
        ([GAUGE, OTHER], {"instrument": "Gauge 14"}, 0.1),
        ([GAUGE, OTHER], {"instrument": " gauge  14"}, 0.1),
        # Nothing is named: the only instrument of the method it is.
        ([GAUGE], {"method": "ultrasonic"}, 0.1),
        ([GAUGE, PIT], {"method": "ultrasonic"}, 0.1),
        ([GAUGE, PIT], {"method": "pit-gauge"}, 0.5),
        ([GAUGE, {**GAUGE, "name": "GAUGE 14"}], {"method": "ultrasonic"}, 0.1),
        # With two of them, or none, nobody said which.
        ([GAUGE, OTHER], {"method": "ultrasonic"}, None),
        ([GAUGE], {"method": "caliper"}, None),
        ([GAUGE], {}, None),
        ([BARE], {}, None),
        ([], {"method": "ultrasonic"}, None),
        ([GAUGE], {"method": "ultrasonic", "instrument": "Gauge 9"}, None),
        ([UNKNOWN], {"method": "ultrasonic"}, None),
    ],
)
def test_a_reading_is_as_accurate_as_it_says_or_as_its_instrument_is(tools, reading, accuracy_mm):
    wall = governing(tools, **reading)
    assert wall.is_accuracy_known is (accuracy_mm is not None)
    assert wall.accuracy_mm == (accuracy_mm or 0.0)


def test_an_instrument_that_is_exact_is_known_to_be_so():
    wall = governing([{**GAUGE, "accuracy_mm": 0}], method="ultrasonic")
    assert (wall.accuracy_mm, wall.is_accuracy_known) == (0.0, True)


def test_the_only_instrument_of_the_method_decides_where_the_wall_stands():
    assert governing([GAUGE], method="ultrasonic").verdict is WallVerdict.WITHIN_ERROR
    assert governing([GAUGE, OTHER], method="ultrasonic").verdict is WallVerdict.BELOW
