"""The advice on a terminal: complete, in plain lines that fit."""

from dataclasses import replace

import pytest

from fieldapp.report.advice_lines import WIDTH, advice_lines
from tests.fieldapp.report.invented_advice import (
    BY_CONDITION,
    BY_MONEY,
    NO_ADVICE,
    STATES,
    limits,
    option,
)


def said(numbers, advice):
    return "\n".join(advice_lines(numbers, advice))


def flat(numbers, advice):
    return " ".join(said(numbers, advice).split())


@pytest.mark.parametrize("state", STATES)
def test_every_line_fits_and_none_shows_a_value_as_python_writes_it(numbers, state):
    lines = advice_lines(numbers, STATES[state])
    assert max(map(len, lines)) <= WIDTH
    assert "None" not in " ".join(lines)
    assert STATES[state].words in " ".join(" ".join(lines).split())


def test_it_leads_with_the_option_its_cost_the_runner_up_and_the_day(numbers):
    text = flat(numbers, BY_MONEY)
    assert "Lowest cost on these inputs: Retube pass 2. Costs 88,400 USD now and" in text
    assert (
        "Takes 371 hours of labour, about 69 days until the work is done (63 of them waiting for "
        "tubes)."
    ) in text
    assert "Next is plugging now and retubing later, 12,500 USD more" in text
    assert "Decide now: how long tubes take is not stated, and the outage waits" in text


def test_the_options_stand_in_columns_with_what_is_ruled_out(numbers):
    lines = advice_lines(numbers, BY_MONEY)
    start = lines.index("What each option costs, USD, and the forced outages, over 10 years")
    assert [line.split("  ")[0] for line in lines[start + 2 : start + 4]] == [
        "> retube-pass-2",
        "",
    ]
    assert lines[start + 2].split() == [
        ">", "retube-pass-2", "88,400", "132,000", "116,000", "to", "151,000", "8.5", "3.0",
    ]  # fmt: skip
    (boiler,) = [line for line in lines if line.startswith("  new-boiler")]
    assert boiler.endswith("ruled out")
    assert "- new-boiler: no crane can stand there." in lines


def test_each_limit_says_how_far_it_is_today_and_after_the_option(numbers):
    after = tuple(replace(each, value=0.0) for each in limits()[:1])
    advice = replace(
        BY_MONEY, options=(option("retube-pass-2", BY_MONEY.options[6].money, limits=after),)
    )
    (line,) = [each for each in advice_lines(numbers, advice) if "pass 2" in each and "ged" in each]
    assert line.split() == [
        *("pass", "2", "9.4", "%", "plugged", "act", "watch", "above", "4", "%,", "act"),
        *("above", "9", "%", "0.0", "%", "(watch)"),
    ]


def test_what_would_change_it_and_what_is_missing_are_listed(numbers):
    lines = advice_lines(numbers, BY_MONEY)
    changes = lines[lines.index("What would change it") :]
    assert changes[1] == "- Fuel price: no value between 0 and 42.50 USD/GJ changes the choice."
    unknown = lines[lines.index("What is not known") :]
    assert unknown[1].startswith("- Would help most: pull one tube of pass 2")
    assert "- The cause of the cracked ends." in unknown


def test_by_condition_it_says_why_and_shows_no_empty_table(numbers):
    text = said(numbers, BY_CONDITION)
    assert "By condition alone. [costs] lacks labour_per_hour, tube_each." in text
    assert "What each option costs" not in text
    assert "What would change it" not in text


def test_without_advice_the_limits_are_still_told(numbers):
    text = said(numbers, NO_ADVICE)
    assert "No advice on the whole boiler" in text
    assert "Decide by" not in text
    assert "Limits, and how far each is" in text
