"""When to decide: counted back from the next outage, or now where the option awaits tubes."""

from dataclasses import replace
from types import MappingProxyType

import pytest

from fieldapp.report.decide_by import NO_DAY, decide_by_words
from tests.fieldapp.report.invented_advice import (
    ALL_RULED_OUT,
    BY_CONDITION,
    BY_MONEY,
    FIND_OUT,
    ONE_OPTION,
    money,
    option,
)

OUTAGE = {"next": "2027-07-12", "tube_lead_weeks": 9.0}
# Inspected on 2026-09-15, printed the day after.
RENTAL = replace(
    BY_MONEY,
    option="rental",
    options=(option("rental", money(9, 9), plan={"retube": frozenset({2}), "rental_weeks": 10.0}),),
)


@pytest.fixture
def outage(numbers):
    """The numbers of the small boiler with another ``[outage]``."""

    def made(given):
        settings = MappingProxyType({**numbers.facts.settings, "outage": given})
        return replace(numbers, facts=replace(numbers.facts, settings=settings))

    return made


@pytest.mark.parametrize("advice", [ONE_OPTION, FIND_OUT])
def test_an_option_without_tubes_gives_the_day_for_who_wants_some_at_the_planned_outage(
    outage, advice
):
    assert decide_by_words(outage(OUTAGE), advice) == (
        "No tubes are ordered with it. For new ones at the planned outage of 2027-07-12 the day to "
        "order is 2027-05-10: tubes take 9 weeks."
    )


def test_an_option_that_retubes_later_gives_the_day_and_what_it_is_counted_from(outage):
    later = option("plug-bad", plan={"retube_in_year": {2: 1}})
    assert decide_by_words(outage(OUTAGE), replace(ONE_OPTION, options=(later,))) == (
        "Decide by 2027-05-10: tubes take 9 weeks, the next planned outage is 2027-07-12."
    )


@pytest.mark.parametrize("advice", [BY_MONEY, BY_CONDITION, ALL_RULED_OUT])
def test_a_retube_in_this_outage_is_decided_now(outage, advice):
    assert decide_by_words(outage(OUTAGE), advice) == (
        "Decide now: tubes take 9 weeks, and the outage waits for them. For the planned outage of "
        "2027-07-12 the tubes would have to be ordered by 2027-05-10."
    )


def test_an_outage_waits_for_many_single_tubes_as_for_a_pass(outage):
    many = frozenset(f"hole{number}" for number in range(21))
    advice = replace(ONE_OPTION, options=(option("plug-bad", plan={"replace": many}),))
    assert decide_by_words(outage(OUTAGE), advice).startswith(
        "Decide now: tubes take 9 weeks, and the outage waits for them. For the planned outage of "
    )


def test_a_rented_boiler_waits_for_the_tubes(outage):
    assert decide_by_words(outage(OUTAGE), RENTAL).startswith(
        "Decide now: tubes take 9 weeks, and the rented boiler waits for them. For the planned "
    )


@pytest.mark.parametrize(
    ("given", "take"),
    [
        ({"tube_lead_weeks": 1}, "tubes take 1 week"),
        ({"next": "2027-07-12"}, "how long tubes take is not stated"),
        ({"tube_lead_weeks": "soon"}, "how long tubes take is not stated"),
    ],
)
def test_what_is_not_stated_is_left_out(outage, given, take):
    advice = replace(RENTAL, decide_by=None)
    assert decide_by_words(outage(given), advice) == (
        f"Decide now: {take}, and the rented boiler waits for them."
    )


def test_without_a_day_it_says_what_is_missing(outage):
    assert decide_by_words(outage({}), replace(ONE_OPTION, decide_by=None)) == NO_DAY


@pytest.mark.parametrize(
    ("work", "words"),
    [
        (
            {"replace": frozenset({"hole1"})},
            "the new tubes go in during this outage, as far as the crew has so many in stock.",
        ),
        ({"is_new_boiler": True}, "the boiler is bought in this outage."),
    ],
)
def test_single_new_tubes_and_a_new_boiler_are_decided_now(outage, work, words):
    advice = replace(ONE_OPTION, options=(option("plug-bad", plan=work),), decide_by=None)
    assert decide_by_words(outage(OUTAGE), advice) == f"Decide now: {words}"


PAST = [
    ("2026-09-14", " That day was past at the inspection."),
    ("2026-09-15", " That day has passed."),
    ("2026-09-16", ""),
]


@pytest.mark.parametrize(("day", "words"), [*PAST, ("soon", "")])
def test_a_day_that_is_past_is_said_to_be(outage, day, words):
    said = decide_by_words(outage(OUTAGE), replace(ONE_OPTION, decide_by=day))
    assert said.rpartition(f"{day}")[2].endswith(f".{words}")
    assert said.count("That day") == (1 if words else 0)


@pytest.mark.parametrize(("day", "words"), PAST[1:])
def test_tubes_for_the_planned_outage_may_be_too_late_to_order(outage, day, words):
    given = {"next": day, "tube_lead_weeks": 0.0}
    assert decide_by_words(outage(given), RENTAL).endswith(f"be ordered by {day}.{words}")


def test_an_outage_that_was_past_at_the_inspection_is_no_planned_one(outage):
    said = decide_by_words(outage({"next": "2026-09-14", "tube_lead_weeks": 0.0}), RENTAL)
    assert said == "Decide now: tubes take 0 weeks, and the rented boiler waits for them."
