"""Behind the owner's page: charts, break-evens, every option, prices, what else is told of it."""

from dataclasses import replace

import pytest

from fieldapp.drawing.primitives import Text, flatten
from fieldapp.report.advice_words import say_break_even
from fieldapp.report.pieces import (
    Points,
    Table,
)
from fieldapp.report.rerun_input import FILE_NAME
from fieldapp.report.sections.about_report import build_about_report
from fieldapp.report.sections.by_condition import build_by_condition
from fieldapp.report.sections.causes import build_causes
from fieldapp.report.sections.owner_behind import build_owner_behind
from fieldapp.report.sections.owner_unknown import not_known
from model.decision.advice import BreakEven
from model.decision.choosing.what_matters import THE_RECORD
from tests.fieldapp.report.invented_advice import (
    BY_CONDITION,
    BY_MONEY,
    FIND_OUT,
    MANY_AND_HUGE,
    NO_ADVICE,
)
from tests.fieldapp.report.said_pieces import charts, said, table


def test_the_cost_chart_shows_what_may_be_chosen_the_advised_option_first(built):
    cost, driver = charts(built["by money"]["behind"])
    shown = [each.words for each in flatten(cost.build().primitives) if isinstance(each, Text)]
    names = [words for words in shown if words[:1].isupper() and words != "USD"]
    assert names == [
        "Retubing pass 2",
        "Plugging now and retubing later",
        "Replacing the bad tubes",
        "Plugging the bad and the weak tubes",
        "Plugging the bad tubes",
        "Retubing the boiler",
    ]
    assert driver.title == "What matters most"


def test_an_input_known_from_the_record_says_so_in_one_word_in_the_chart(numbers):
    recorded = replace(BY_MONEY.drivers[0], source=THE_RECORD)
    advice = replace(BY_MONEY, drivers=(recorded, *BY_MONEY.drivers[1:]))
    _, driver = charts(build_owner_behind(numbers, advice))
    shown = [each.words for each in flatten(driver.build().primitives) if isinstance(each, Text)]
    assert "Coming losses of pass 2, 0.6 to 3.1 tubes a year (record)" in shown


def test_what_is_ruled_out_is_a_list_with_reasons_and_no_bar(built):
    (points,) = [
        piece
        for piece in built["by money"]["behind"].pieces
        if isinstance(piece, Points) and piece.heading == "Ruled out, and why"
    ]
    assert points.items == (
        "Running on: 6 tubes are bad and must be dealt with first.",
        "Re-rolling the joints: 6 tubes are bad.",
        "Replacing the boiler: no crane can stand there.",
        "Retubing while a rented boiler steams: its cost cannot be worked out without "
        "rental_per_week.",
    )


def test_options_ruled_out_for_one_reason_stand_in_one_line(built):
    assert (
        "Plugging the bad tubes, plugging the bad and the weak tubes, plugging now and retubing "
        "later, replacing the bad tubes, retubing pass 2 and retubing the boiler: a stay question "
        "is unanswered." in said(built["all ruled out"]["behind"])
    )


@pytest.mark.parametrize(
    ("name", "below", "above", "words"),
    [
        ("years to planned replacement", 3.0, None,
         "Years to planned replacement, now 10 years: with 3 years or fewer left plugging the bad "
         "tubes costs less."),
        ("years to planned replacement", 1.0, 16.0,
         "Years to planned replacement, now 10 years: with 1 year or fewer left plugging the bad "
         "tubes costs less and with 16 years or more left retubing the boiler costs less."),
        ("further leaks per year", 0.41837, None,
         "Further leaks per year: below 0.42 times those expected plugging the bad tubes costs "
         "less."),
    ],
)  # fmt: skip
def test_years_are_whole_and_a_factor_of_leaks_is_rough(name, below, above, words):
    each = BreakEven(
        name=name,
        unit="years" if "years" in name else "times those expected",
        now=10.0,
        low=1.0,
        high=30.0,
        below=below,
        below_option="plug-bad",
        above=above,
        above_option="retube-all",
    )
    assert say_break_even(each, "USD") == words


def test_a_name_of_the_costs_keeps_its_small_letter(numbers):
    advice = replace(BY_CONDITION, missing=("outage_per_day in [costs]", "the wall of pass 2"))
    assert not_known(numbers, advice)[:2] == ("outage_per_day in [costs].", "The wall of pass 2.")


def test_break_evens_are_sentences(built):
    text = said(built["by money"]["behind"])
    assert "Fuel price: no value between 0 and 42.50 USD/GJ changes the choice." in text
    assert (
        "Outage cost, now 2,200 USD a day: above 15,400 USD a day plugging the bad tubes costs "
        "less." in text
    )
    assert (
        "below 0.42 times the present rate plugging the bad tubes costs less and above 3.5 times "
        "the present rate retubing the boiler costs less." in text
    )


def test_what_moves_the_margin_is_said_to_who_cannot_see_the_chart(built):
    cost, driver = (each.build().words for each in charts(built["by money"]["behind"]))
    assert "Retubing pass 2 132,000 USD, 116,000 to 151,000" in cost
    assert "Forced outage, 8,100 to 9,900 USD a day (owner): margin 4,900 to 19,900" in driver


def test_the_table_of_costs_holds_every_priced_option_and_says_which_may_be_chosen(built):
    rows = [
        tuple(cell.words for cell in row.cells)
        for row in table(built["by money"]["options"], "What the options cost").rows
    ]
    assert rows[0] == (
        "Retubing pass 2", "yes", "88,400", "132,000", "116,000", "151,000", "8.5", "5-13",
        "2.0", "3.0", "retube pass 2: 2030 (83 % of the trials)",
    )  # fmt: skip
    assert [row[:2] for row in rows][-1] == ("Replacing the boiler", "no")
    assert len(rows) == 7


def test_every_option_is_told_with_its_key_work_limits_and_gas_side(built):
    section = built["by money"]["options"]
    described = table(section, "What each option is")
    assert [row.cells[-1].words for row in described.rows] == [
        each.plan.key for each in BY_MONEY.options
    ]
    retube = next(row for row in described.rows if row.cells[-1].words == "retube-pass-2")
    assert [cell.words for cell in retube.cells[2:4]] == ["371", "69"]
    after = table(section, "Acceptance limits")
    assert after.rows[0].cells[1].words == "refer"
    assert after.rows[0].cells[2].words == (
        "chamber sheet: 228 mm around plugs (refer to an engineer); pass 2 6.6 % plugged (watch); "
        "pass 2 6.6 % out of service (watch)"
    )
    gas = table(section, "Gas side")
    assert [cell.words for cell in gas.rows[0].cells[1:]] == [
        "2.4", "0.11", "0.13", "1.12", "3,310"
    ]  # fmt: skip
    assert said(section).endswith(
        "Highest output: upper bound: a flat fan curve. Retune and check carbon monoxide after "
        "plugging, whatever these figures say."
    )


def test_cash_of_every_year_stands_in_tables_of_ten_years(built):
    tables = [
        piece
        for piece in built["many and huge"]["options"].pieces
        if isinstance(piece, Table) and piece.caption.startswith("What is paid")
    ]
    assert [each.caption for each in tables] == [
        "What is paid in which year, million USD: now to 2036",
        "What is paid in which year, million USD: 2037 to 2046",
        "What is paid in which year, million USD: 2047 to 2051",
    ]
    years = [column.heading for each in tables for column in each.columns[1:]]
    assert years == ["now", *map(str, range(2027, 2052)), "present value"]
    assert {len(each.rows) for each in tables} == {len(MANY_AND_HUGE.options)} == {14}


def test_options_that_are_ruled_out_are_marked_in_the_cash_of_every_year(built):
    shown = table(built["by money"]["options"], "What is paid in which year, USD")
    assert shown.caption.endswith("USD (* ruled out)")
    marked = [row.cells[0].words for row in shown.rows if row.cells[0].words.startswith("* ")]
    assert marked == ["* Replacing the boiler"]
    assert "ruled out" not in table(built["one option"]["options"], "What is paid").caption


def test_every_price_has_its_source_and_what_is_missing_is_named(built):
    section = built["by money"]["inputs"]
    rows = {
        row.cells[0].words: [cell.words for cell in row.cells[1:]]
        for row in table(section, "Every price").rows
    }
    assert rows["labour"] == ["95", "USD an hour", "quoted", "labour_per_hour"]
    assert rows["replacing a tube (welded)"] == ["4", "hours", "owner", "hours_per_tube"]
    assert rows["the new boiler"] == ["420,000", "USD", "assumed", "new_boiler"]
    assert rows["discount"] == ["7", "% a year", "owner", "discount_percent"]
    text = said(section)
    assert "Not given and counted as nothing in every option: fuel_per_gj, " in text
    assert "Given and in no option: deductible and new_boiler." in text
    assert "Missing, so that" not in text
    assert "Missing, so that nothing is ranked by money: set_up_hours, " in said(
        built["by condition"]["inputs"]
    )


def test_assumptions_file_trials_and_seed_are_told(built):
    text = said(built["by money"]["inputs"])
    assert "Single tubes come from stock; a set of tubes takes 9 weeks." in text
    assert "A set of tubes takes 9 weeks. (For retubing pass 2.)" in text
    assert FILE_NAME in text
    # First the way that stores nothing: a what-if is no decision yet.
    what_if = text.index(f"tubewright advise B-7 --with {FILE_NAME} (stores nothing)")
    assert what_if < text.index(f"To keep the figures: tubewright boiler update B-7 {FILE_NAME}")
    assert "10,000" in text
    assert "8192" in text
    assert "Seed of the trials" not in said(built["by condition"]["inputs"])


@pytest.mark.parametrize(
    ("advice", "says_so"), [(NO_ADVICE, True), (BY_CONDITION, True), (BY_MONEY, False)]
)
def test_that_costs_are_not_compared_is_said_only_where_they_are_not(numbers, advice, says_so):
    text = said(build_about_report(numbers, advice))
    assert ("No comparison of costs" in text) is says_so


def test_who_prepared_the_report_is_asked_in_one_place_only(numbers):
    about = said(build_about_report(numbers, BY_MONEY))
    assert "company" not in about
    assert "Prepared by the person named on the first page" in about


def test_the_warning_beside_the_causes_goes_by_the_option_advised(numbers):
    assert "No cause is established" not in said(build_causes(numbers, FIND_OUT))
    assert "No cause is established" in said(build_causes(numbers, BY_MONEY))


def test_what_the_condition_alone_calls_for_has_its_own_section(numbers):
    text = said(build_by_condition(numbers))
    assert text.startswith("\nFind out more first: too few tube ends were looked at. This is")
    for reason in numbers.advice.reasons:
        assert reason in text
    assert "1 question from last time is open" in text


def test_an_advice_of_find_out_keeps_the_cheapest_of_what_is_known_beside_it(built):
    shown = table(built["find out"]["cash"], "What is paid")
    assert [row.cells[0].words for row in shown.rows] == [
        "Retubing pass 2",
        "Plugging now and retubing later",
        "Replacing the bad tubes",
    ]
    assert FIND_OUT.runner_up == "retube-pass-2"
