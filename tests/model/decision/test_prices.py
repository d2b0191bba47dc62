"""Prices as stored: sources, hours by end type, what is missing, and rubbish that is no price."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.intake.boiler_schema import COSTS as SCHEMA
from fieldapp.intake.boiler_toml import read_boiler
from fieldapp.intake.templates import template_files
from model.decision.prices import BY_PRICE, COUNTED_AS_NOTHING, ESSENTIAL, prices_of
from tests.model.decision.situation_cases import COSTS


def test_a_price_says_who_stated_it_and_a_bare_number_is_assumed():
    prices = prices_of(
        {
            "tube_each": {"value": 90, "source": "quoted"},
            "plug_each": {"value": 25, "source": "owner"},
            "freight": {"value": 800},
            "inspector": 900,
            "cleaning": {"value": 5, "source": "hearsay"},
        }
    )
    assert {name: (each.value, str(each.source)) for name, each in prices.items.items()} == {
        "tube_each": (90.0, "quoted"),
        "plug_each": (25.0, "owner"),
        "freight": (800.0, "assumed"),
        "inspector": (900.0, "assumed"),
        "cleaning": (5.0, "assumed"),
    }


def test_money_of_a_bill_is_quantity_times_price_and_a_missing_price_adds_nothing():
    prices = prices_of({"labour_per_hour": 85, "tube_each": 90, "outage_per_day": 5000})
    bill = {"labour_per_hour": 10.5, "tube_each": 3, "outage_per_day": 0.5, "freight": 1}
    # 892.50 + 270 + 2500
    assert prices.money(bill) == pytest.approx(3662.5)
    assert (prices.value("freight"), prices.has("freight")) == (0.0, False)


def test_hours_per_tube_may_be_one_figure_or_one_for_each_way_of_making_ends():
    one = prices_of({"hours_per_tube": {"value": 3.0, "source": "quoted"}})
    several = prices_of({"hours_per_tube": {"value": {"rolled": 1.0, "beaded": 1.3}}})
    assert (one.tube_hours, one.value("hours_per_tube")) == ({"": 3.0}, 3.0)
    assert several.tube_hours == {"rolled": 1.0, "beaded": 1.3}
    assert several.value("hours_per_tube") == pytest.approx(1.15)


@pytest.mark.parametrize(
    "given_value",
    [
        None, "12", True, -1, float("nan"), float("inf"), 1e308, 10**400, [], {}, {"value": None},
        {"value": "12", "source": "quoted"}, {"value": {"rolled": 1.0}}, {"source": "quoted"},
    ],
)  # fmt: skip
def test_rubbish_from_another_program_is_missing_and_no_price(given_value):
    prices = prices_of({"tube_each": given_value, "plug_each": 1})
    assert list(prices.items) == ["plug_each"]
    assert "tube_each" in prices.missing_essentials


@pytest.mark.parametrize(
    ("hours", "kept"),
    [
        ({"rolled": "x", "beaded": 2.0}, {"beaded": 2.0}),
        ({"rolled": -1, "colour": 2.0, "": 9.0}, {}),
        ({"rolled": 1e300, "beaded": 1.0}, {"beaded": 1.0}),
        ({}, {}),
        ("quick", {}),
    ],
)
def test_hours_that_cannot_be_read_are_left_out(hours, kept):
    prices = prices_of({"hours_per_tube": {"value": hours}})
    assert prices.tube_hours == kept
    assert prices.has("hours_per_tube") is bool(kept)


def test_a_rate_or_horizon_beyond_reason_is_missing():
    prices = prices_of({"discount_percent": 101, "horizon_years": 1e9})
    assert {"discount_percent", "horizon_years"} <= set(prices.missing_essentials)
    assert not prices_of({"horizon_years": 0}).has("horizon_years")
    kept = prices_of({"discount_percent": 0, "horizon_years": 100})
    assert (kept.value("discount_percent"), kept.value("horizon_years")) == (0.0, 100.0)


@pytest.mark.parametrize(
    ("name", "most"), [("set_up_hours", 1e5), ("forced_outage_days", 1e4), ("new_boiler", 1e12)]
)
def test_a_figure_beyond_what_a_file_may_say_is_missing(name, most):
    assert prices_of({name: most}).value(name) == most
    assert not prices_of({name: most * 1.01}).has(name)


def test_what_is_missing_is_named_and_a_key_that_is_no_cost_is_no_price():
    prices = prices_of({"labour_per_hour": 85, "currency": 5, "colour": 3})
    assert prices.currency == ""
    assert list(prices.items) == ["labour_per_hour"]
    assert prices.missing_essentials == tuple(n for n in ESSENTIAL if n != "labour_per_hour")
    assert prices.counted_as_nothing == COUNTED_AS_NOTHING


def test_every_cost_that_the_file_may_hold_is_read_and_no_other_is_asked_for(tmp_path):
    path = tmp_path / "boiler.toml"
    path.write_text(template_files()["boiler.toml"], encoding="utf-8")
    prices = prices_of(read_boiler(path).settings["costs"])
    assert {"currency", *prices.items} == set(SCHEMA)
    assert prices.missing_essentials == prices.counted_as_nothing == ()
    assert (prices.currency, str(prices.items["fuel_per_gj"].source)) == ("EUR", "owner")
    assert set(SCHEMA) >= BY_PRICE | set(ESSENTIAL) | set(COUNTED_AS_NOTHING)


@given(st.dictionaries(st.sampled_from(sorted(COSTS)), st.none() | st.floats() | st.text()))
def test_whatever_is_stored_every_price_is_a_finite_number(costs):
    for price in prices_of(costs).items.values():
        assert 0.0 <= price.value < float("inf")
