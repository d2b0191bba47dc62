"""The page of limits: numbers as judged for the report, order, and what is said beside them."""

import pytest

from fieldapp.cautions import DECISION
from fieldapp.report.numbers import build_numbers
from fieldapp.view.session_pages import limits_of
from model.decision.limits import OUT_OF_SERVICE, PLUGGED, LimitStatus
from model.record.words import Scope
from model.store.edits.entries import Entry, record_entries
from model.store.loading import load_boiler
from tests.fieldapp.view.bench import CARRIED
from tests.fieldapp.view.limit_pages import page_of, plugged, row_of
from tests.model.condition.small_boiler import SmallBoiler

SOUND = {"state": "sound"}


def test_values_and_statuses_are_those_of_the_report(make_bench):
    overrides = {"plugged_percent": {"watch": 4, "act": 12, "basis": "the owner's manual"}}
    bench = make_bench(
        carried=CARRIED,
        readings=[("P2-R01-C01", 1.6), ("P3-R01-C01", 2.9)],
        settings={
            "limits": overrides,
            "wall": {"retirement": "stated", "stated_mm": 2.0, "basis": "the engineer"},
        },
    )
    session = bench.session()
    session.mark([bench.ref("P2-R01-C02")], {"state": "split"})
    session.mark([bench.ref("P3-R01-C01", "rear")], {"state": "plugged"})
    session.mark(bench.row(3, 2), SOUND)
    body = {
        "inspection": bench.inspection,
        "hole": bench.tubes["P2-R02-C01"].hole,
        "does": "plug",
    }
    record_entries(bench.store, bench.boiler, [Entry(kind="work", body=body, by="Cyd")])
    page = limits_of(session)
    folded = load_boiler(bench.store, bench.boiler)
    report = build_numbers(
        folded, folded.inspections[-1], printed_at=bench.surroundings.clock(), digest="0" * 64
    )
    assert tuple(row.result for row in page.rows) == report.limits
    row = row_of(page, PLUGGED, 2)
    assert (row.value, row.status, row.basis) == (
        "2 of 10 tubes: at least 20.0 %",
        LimitStatus.ACT,
        "the owner's manual",
    )
    # Out of service: the two plugs, the split one and the wall of last year.
    assert row_of(page, OUT_OF_SERVICE, 2).value.startswith("4 of 10 tubes: at least 40.0 %")


def test_what_the_crew_did_counts_as_left(bench, session):
    assert row_of(limits_of(session), PLUGGED, 2).value.startswith("1 of 10 tubes")
    body = {
        "inspection": bench.inspection,
        "hole": bench.tubes["P2-R02-C02"].hole,
        "does": "replace",
    }
    record_entries(bench.store, bench.boiler, [Entry(kind="work", body=body, by="Cyd")])
    assert row_of(limits_of(session), PLUGGED, 2).value.startswith("0 of 10 tubes")


def test_what_is_passed_comes_first_under_headings_with_counts():
    boiler = plugged(SmallBoiler({2: 20, 3: 20}), [1, 2, 3])
    groups = page_of(boiler).groups
    assert [heading for heading, _ in groups] == [
        "Act, or refer to an engineer (3)",
        "Not known (4)",
    ]
    assert sorted(row.name for _, rows in groups for row in rows) == sorted(
        row.name for row in page_of(boiler).rows
    )


def test_the_page_says_whose_limits_these_are_and_gives_no_advice(session):
    page = limits_of(session)
    assert "common practice" in page.about
    assert "none is a code rule" in page.about
    assert page.office == "What it costs and which option follows: in the office."
    assert page.caution == DECISION
    assert row_of(page, PLUGGED, 2).basis.startswith("common practice")


@pytest.mark.parametrize(
    ("scope", "note"),
    [
        (Scope.LEAK_CALL, "A leak call says nothing about the whole boiler."),
        (Scope.AFTER_REPAIR, "A look after repair says nothing about the whole boiler."),
    ],
)
def test_a_partial_look_says_that_it_is_one(scope, note):
    assert page_of(SmallBoiler({2: 3}), scope).notes[0] == note
    assert note not in page_of(SmallBoiler({2: 3})).notes


def test_disputes_are_counted(bench, session):
    session.mark([bench.ref("P2-R01-C01")], SOUND)
    session.switch_person("Ben")
    session.mark([bench.ref("P2-R01-C01")], {"state": "split"})
    assert limits_of(session).notes[0] == "1 tube is disputed: the worse state counts."
