"""Parts, causes and pressure tests, row by row.

Not here: observations, readings, work.
"""

from datetime import UTC, datetime

import pytest

from fieldapp.intake.other_rows import (
    CAUSE_COLUMNS,
    PART_COLUMNS,
    TEST_COLUMNS,
    CauseRow,
    PartRow,
    PressureTestRow,
    read_causes,
    read_parts,
    read_pressure_tests,
)
from model.record.words import FoundBy, Grade, Mechanism, Medium, PartWhat, Side

BOILER = {"keys": ("P2-R01-C01", "P2-R01-C02"), "sheets": ("front", "rear")}


def test_a_part_says_where_it_is_and_what_was_seen(written):
    path = written(
        "part,tubes,sheet,distance_mm,clock,where,mechanism,side,method,length_mm,depth_mm,"
        "remaining_percent,grade,note,inspector,observed_at\n"
        "ligament,p2-r01-c01 P2-R01-C02,front,12,3,between two tubes,other,water,dye-penetrant,"
        "18,2,60,act,a crack,A. Example,2026-11-25T10:00Z\n"
        "furnace,,,,,,,,,,,,,,,\n"
    )
    crack, furnace = read_parts(path, **BOILER)
    assert crack == PartRow(
        line=2,
        part=PartWhat.LIGAMENT,
        tubes=("P2-R01-C01", "P2-R01-C02"),
        sheet="front",
        distance_mm=12.0,
        clock_h=3.0,
        where="between two tubes",
        mechanism=Mechanism.OTHER,
        side=Side.WATER,
        method=FoundBy.DYE_PENETRANT,
        length_mm=18.0,
        depth_mm=2.0,
        remaining_percent=60.0,
        grade=Grade.ACT,
        note="a crack",
        inspector="A. Example",
        observed_at=datetime(2026, 11, 25, 10, tzinfo=UTC),
    )
    assert (furnace.tubes, furnace.grade, furnace.side) == ((), Grade.NOTE, Side.UNKNOWN)


def test_every_faulty_cell_of_a_part_is_named(written, faults_of):
    path = written("part,tubes,sheet,remaining_percent\nligamnet,P2-R01-C09,frnt,120\n,,,1\n")
    assert faults_of(read_parts, path, **BOILER) == [
        "line 2, part: 'ligamnet' is not known; did you mean 'ligament'?",
        "line 2, tubes: 'P2-R01-C09' is not in the layout; near it: P2-R01-C02, P2-R01-C01.",
        "line 2, sheet: 'frnt' is no tube sheet of the boiler; did you mean 'front'?",
        "line 2, remaining_percent: 120 must be at least 0 and at most 100.",
        "line 3, part: is empty; write one of: ligament, sheet-area, stay, furnace, chamber, "
        "refractory, water-side, handhole, other.",
    ]


def test_a_cause_names_a_group_and_who_confirms(written, faults_of):
    path = written("group,side,evidence,suspected,confirmed_by\npits low,water,scale,oxygen,\n")
    assert read_causes(path) == (
        CauseRow(
            line=2,
            group="pits low",
            side=Side.WATER,
            evidence="scale",
            suspected="oxygen",
            confirmed_by=None,
            inspector=None,
        ),
    )
    assert faults_of(read_causes, written("group,side\n,fire\n")) == [
        "line 2, group: is empty; write something."
    ]


def test_a_pressure_test_has_a_pressure_and_a_medium(written):
    path = written(
        "pressure_mpa,medium,water_c,metal_c,started,held_minutes,end_pressure_mpa,gauge,"
        "leaks_seen,by_rule\n"
        "1.5,water,21,20,2026-11-26T09:00+01:00,30,1.48,G7,no,repair\n"
    )
    (run,) = read_pressure_tests(path)
    assert isinstance(run, PressureTestRow)
    assert (run.pressure_mpa, run.medium, run.water_c, run.metal_c) == (1.5, Medium.WATER, 21, 20)
    assert run.started == datetime(2026, 11, 26, 8, tzinfo=UTC)
    assert (run.held_minutes, run.end_pressure_mpa, run.gauge) == (30, 1.48, "G7")
    assert (run.leaks_seen, run.by_rule, run.inspector) == (False, "repair", None)


def test_every_faulty_cell_of_a_pressure_test_is_named(written, faults_of):
    path = written("pressure_mpa,medium,leaks_seen\n,steam,few\n0,,\n")
    assert faults_of(read_pressure_tests, path) == [
        "line 2, pressure_mpa: is empty; write the pressure of the test.",
        "line 2, medium: 'steam' is not known; write one of: water, air, other.",
        "line 2, leaks_seen: 'few' is neither yes nor no; write yes or no.",
        "line 3, pressure_mpa: 0 must be above 0 and at most 100.",
        "line 3, medium: is empty; write one of: water, air, other.",
    ]


@pytest.mark.parametrize(
    ("columns", "read", "given"),
    [
        (PART_COLUMNS, read_parts, BOILER),
        (CAUSE_COLUMNS, read_causes, {}),
        (TEST_COLUMNS, read_pressure_tests, {}),
    ],
)
def test_the_columns_with_a_closed_list_are_those_that_refuse_other_words(
    written, faults_of, columns, read, given
):
    names = columns.required + columns.optional
    path = written(f"{','.join(names)}\n{','.join(['qqq'] * len(names))}\n")
    refused = {
        fault.partition(": ")[0].split(", ")[1]: fault.partition("write one of: ")[2]
        for fault in faults_of(read, path, **given)
        if "is not known" in fault
    }
    assert refused == {name: f"{', '.join(words)}." for name, words in columns.words.items()}
