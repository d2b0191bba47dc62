"""The section of specialists' results: worst of each tube beside the own governing wall."""

import random
from datetime import UTC, datetime

import pytest

from fieldapp.report.pieces import Table
from fieldapp.report.sections.order import build_sections
from fieldapp.report.sections.specialists import build_specialists
from fieldapp.report.writing import numbers_of
from model.record.words import Scope
from model.store.edits.boilers import BoilerDocument, create_boiler
from model.store.edits.entries import Entry, record_entries
from model.store.edits.inspections import NewInspection, open_inspection
from model.store.loading import load_boiler
from model.store.opening import open_store
from model.store.surroundings import Surroundings
from model.tubesheet.layout import Tube, default_key
from model.wall.firm_results import FirmSurvey, survey_note, survey_of
from tests.fieldapp.report.invented_advice import BY_MONEY

EDDY = FirmSurvey(firm="Invented Probes", method="eddy-current", date="2026-03-09")
OTHER = FirmSurvey(firm="Second Firm. Ltd by the lake", method="ultrasonic", date="2026-03-10")
NOW = datetime(2026, 3, 11, 8, 0, tzinfo=UTC)


def key(column):
    return default_key(2, 1, column)


@pytest.fixture
def section_of(tmp_path):
    """The section of an inspection in which ``(tube, survey or None, fields)`` were read."""

    def build(*readings, wall_mm=3.0):
        surroundings = Surroundings(
            clock=lambda: NOW, random_bits=random.Random(7), device="test", app_version="0.0-test"
        )
        tubes = [
            Tube(key=key(column), pass_=2, row=1, column=column, x_mm=80.0 * column, y_mm=0.0)
            for column in (1, 2, 3)
        ]
        document = BoilerDocument(
            body={
                "tag": "B-8",
                "kind": "other",
                "tubes": {} if wall_mm is None else {"wall_mm": wall_mm},
            },
            settings={},
        )
        with open_store(tmp_path / "b.db", surroundings) as store:
            boiler = create_boiler(store, document, tubes, "Ada Moss")
            given = NewInspection(date="2026-03-10", scope=Scope.FULL)
            inspection = open_inspection(store, boiler, given, "Ada Moss")
            holes = {tube.key: tube.hole for tube in load_boiler(store, boiler).tubes}
            record_entries(
                store,
                boiler,
                [
                    Entry(
                        kind="reading",
                        body={
                            "inspection": inspection,
                            "hole": holes[tube],
                            "side": "unknown",
                            "purpose": "suspect",
                            "note": "" if survey is None else survey_note(survey, "seen."),
                            **fields,
                        },
                        by="Ada Moss" if survey is None else survey.firm,
                    )
                    for tube, survey, fields in readings
                ],
            )
            return numbers_of(store, load_boiler(store, boiler), inspection, NOW)

    return build


def loss(percent, **more):
    entered = {"value": float(percent), "unit": "percent"}
    return {"loss_percent": float(percent), "entered": entered, **more}


def cells(numbers):
    """By caption, the words of every row."""
    return {
        piece.caption: [[cell.words for cell in row.cells] for row in piece.rows]
        for piece in build_specialists(numbers).pieces
        if isinstance(piece, Table)
    }


def test_the_worst_of_each_tube_stands_beside_the_own_wall_thinnest_first(section_of):
    numbers = section_of(
        (key(1), None, {"wall_mm": 2.5}),
        (key(1), EDDY, loss(10)),
        (key(2), None, {"wall_mm": 2.6}),
        (key(2), EDDY, loss(20, at_mm=150.0)),
        (key(2), EDDY, loss(40, at_mm=900.0)),
        (key(3), EDDY, loss(5)),
    )
    ((caption, rows),) = cells(numbers).items()
    assert caption == (
        "Invented Probes, eddy current, 2026-03-09: 4 indications on 3 tubes, the worst of each, "
        "thinnest first"
    )
    # 40 % of 3.0 mm as supplied leaves 1.80 mm, 10 % leaves 2.70 mm, 5 % leaves 2.85 mm.
    assert [row[1:] for row in rows] == [
        ["2", "40 % lost", "900", "1.80", "2.60", "-0.80", "the firm's"],
        ["1", "10 % lost", "not known", "2.70", "2.50", "+0.20", "own"],
        ["1", "5 % lost", "not known", "2.85", "not measured", "", "the firm's"],
    ]
    assert [row[0].split()[0] for row in rows] == [key(2), key(1), key(3)]


def test_each_survey_has_its_own_table(section_of):
    numbers = section_of((key(1), EDDY, loss(30)), (key(1), OTHER, {"wall_mm": 1.5}))
    eddy, other = cells(numbers).values()
    assert eddy[0][4:] == ["2.10", "not measured", "", "another survey"]
    assert other[0][4:] == ["1.50", "not measured", "", "the firm's"]


def test_a_loss_of_an_unknown_wall_is_shown_and_does_not_count(section_of):
    numbers = section_of((key(1), EDDY, loss(10)), (key(1), EDDY, loss(30)), wall_mm=None)
    ((row,),) = cells(numbers).values()
    assert row[1:] == [
        "2", "30 % lost", "not known", "not known", "not measured", "", "the firm's does not count"
    ]  # fmt: skip


def test_without_a_firm_the_section_says_so(section_of):
    (said,) = build_specialists(section_of((key(1), None, {"wall_mm": 2.5}))).pieces
    assert said.words == "No result of a specialist firm was entered in this inspection."


def test_a_firms_readings_make_no_forecast_of_the_others(section_of):
    numbers = section_of((key(1), EDDY, loss(30)), (key(2), EDDY, loss(20)))
    assert all(each.now is None for each in numbers.worst)
    assert "specialists" in [section.key for section in build_sections(numbers, BY_MONEY)]


@pytest.mark.parametrize("survey", [EDDY, OTHER])
@pytest.mark.parametrize("remark", ["", "pitted", "two lines\nby eye on 2020-01-01."])
def test_a_survey_is_read_back_from_its_note(survey, remark):
    assert survey_of({"note": survey_note(survey, remark)}) == survey
    assert survey_of({"note": remark}) is None
