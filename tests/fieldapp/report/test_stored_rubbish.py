"""Whatever another program stored as settings, the report and the advice come out.

Not here: what is said of it (the tests of each part).
"""

from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.intake.boiler_schema import SETTINGS
from fieldapp.report.advice_lines import advice_lines
from fieldapp.report.condition_json import render_condition_json
from fieldapp.report.deciding import decide
from fieldapp.report.html_page import render_html
from fieldapp.report.numbers import build_numbers
from fieldapp.report.sections.order import build_sections
from model.record.line import Record
from model.wall.retirement import facts_with_retirement
from tests.fieldapp.report.test_numbers import PRINTED
from tests.model.condition.journal import SPRING
from tests.model.condition.small_boiler import SmallBoiler
from tests.model.decision.fired_boiler import DOCUMENT, FIRING
from tests.model.decision.situation_cases import COSTS

GOOD = {
    "wall": {"retirement": "stated", "stated_mm": 2.0, "basis": "letter"},
    "firing": {**FIRING, "output_kw": 300.0, "needed_output_kw": 250.0},
    "outage": {
        "next": "2025-10-01",
        "interval_years": 1.0,
        "legal_interval_years": 2.0,
        "tube_lead_weeks": 8.0,
    },
    "costs": COSTS,
    "limits": {
        "plugged_percent": {"watch": 4.0, "act": 9.0, "basis": "owner"},
        "cluster": {"front": {"act_mm": 240.0, "basis": "engineer"}},
    },
}
NUMBERS = st.one_of(
    st.integers(-3, 3),
    st.floats(),
    st.sampled_from((1e-300, 0.04, 50, 101, 2**53, -(2**53), 1e12, 1e15, 1e308, 10**400)),
)
SCALARS = st.one_of(
    st.none(),
    st.booleans(),
    NUMBERS,
    st.text(max_size=6),
    st.sampled_from(
        ("stated", "us-historic", "lloyds-table", "natural gas", "9", "2024", "9999-12-31", "soon")
    ),
)
INNER = st.sampled_from(
    ("value", "source", "watch", "act", "basis", "act_mm", "rolled", "2", "front", "")
)
RUBBISH = st.recursive(
    SCALARS,
    lambda inner: st.one_of(st.lists(inner, max_size=2), st.dictionaries(INNER, inner, max_size=3)),
    max_leaves=5,
)
STORED = st.fixed_dictionaries(
    {
        section: st.dictionaries(st.sampled_from((*schema, "of_another_program")), RUBBISH)
        for section, schema in SETTINGS.items()
    }
)


@cache
def inspected():
    """A boiler with a leaking tube, plugs, a joint leak, a gas side and walls measured twice."""
    small = SmallBoiler({2: 8, 3: 6})
    face = {"key": "F", "name": "F", "sheet": "front", "looks": "rearward"}
    document = {
        **DOCUMENT,
        "boiler": small.journal.boiler,
        "tubes": {**DOCUMENT["tubes"], "installed": "2004"},
        "sheets": [{"key": "front", "name": "front", "plate_mm": 10.0, "stress_mpa": 90.0}],
        "faces": [{**face, "shows": [{"pass": 2, "end": "front"}, {"pass": 3, "end": "front"}]}],
    }
    small.journal.add("boiler", document)
    small.see("2.5", "leaking", leak_at="bore")
    for key in ("2.6", "2.7"):
        small.see(key, "plugged")
    small.see("3.4", "leaking", "front", leak_at="joint")
    small.measure("2.1", 2.9, at=SPRING, end="front", at_mm=100.0)
    for key in ("2.1", "3.1"):
        small.measure(key, 2.6, end="front", at_mm=100.0)
    small.see_rest()
    folded = small.folded()
    return folded, small.inspection(folded=folded)


def numbers_with(stored):
    """The numbers of that boiler with these settings, also such as no journal would take."""
    folded, inspection = inspected()
    boiler = replace(folded, settings={name: _record(name, stored[name]) for name in stored})
    facts_with_retirement(boiler)
    return build_numbers(boiler, inspection, printed_at=PRINTED, digest="d" * 64)


def _record(section, values):
    return Record(
        id="", kind="settings", schema=1, at="", utc_offset_min=0, boiler="", by="", origin="",
        seq=0, supersedes=(), body={"section": section, "values": values},
    )  # fmt: skip


def bring_out_all(stored):
    numbers = numbers_with(stored)
    advice = decide(numbers, trials=50)
    assert render_condition_json(numbers, advice)
    assert advice_lines(numbers, advice)
    return render_html(numbers, build_sections(numbers, advice), lambda photo: None)


def test_with_settings_that_can_be_meant_the_boiler_is_advised_by_money_and_its_gas_is_known():
    numbers = numbers_with(GOOD)
    assert decide(numbers, trials=50).is_by_money
    assert numbers.gas_side.why_not is None


@settings(max_examples=25)
@given(rubbish=STORED)
def test_rubbish_under_any_key_stops_neither_the_report_nor_the_advice(rubbish):
    bring_out_all({section: {**GOOD[section], **rubbish[section]} for section in GOOD})


@pytest.mark.parametrize(
    ("section", "key", "value"),
    [
        ("wall", "retirement", {"stated": 2.0}),
        ("wall", "retirement", ["stated"]),
        ("wall", "stated_mm", -1),
        ("wall", "stated_mm", 2**53),
        ("wall", "stated_mm", 10**400),
        ("wall", "stated_mm", float("inf")),
        ("firing", "needed_output_kw", 10**400),
        ("firing", "standby_kw", 1e308),
        ("outage", "interval_years", 1e-300),
        ("outage", "interval_years", 2**53),
        ("outage", "legal_interval_years", float("nan")),
        ("outage", "tube_lead_weeks", -(2**53)),
        ("costs", "tube_each", 1e308),
        ("costs", "days_per_100_tubes", {"value": 2**53, "source": ["owner"]}),
        ("costs", "hours_per_tube", {"value": {"rolled": 1e300}}),
        ("limits", "coverage_percent", {"watch": float("nan"), "act": 10**400, "basis": {}}),
        ("limits", "plugged_percent", {"watch": 20, "act": 5}),
        ("limits", "cluster", {"front": {"act_mm": 10**400, "basis": "letter"}}),
    ],
    ids=lambda part: part if isinstance(part, str) else "",
)
def test_one_figure_that_cannot_be_meant_stops_nothing(section, key, value):
    bring_out_all({**GOOD, section: {**GOOD[section], key: value}})
