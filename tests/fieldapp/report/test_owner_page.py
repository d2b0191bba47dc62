"""The owner's page says what the advice says, in its order, in every state of the advice.

Not here: what stands behind it (``test_behind_the_advice``).
"""

import re
from dataclasses import replace

import pytest

from fieldapp.cautions import DECISION
from fieldapp.report.pieces import (
    Blanks,
    Paragraph,
    Points,
    Table,
)
from fieldapp.report.sections.owner_cash import year_bands
from fieldapp.report.sections.owner_nothing import nothing_words
from fieldapp.report.sections.owner_option import margin_words, option_heading
from fieldapp.report.sections.owner_order import (
    BEHIND_THE_ADVICE,
    OWNERS_PAGE,
    build_advice_sections,
)
from fieldapp.report.sections.owner_prepared import INSURANCE
from fieldapp.report.sections.owner_signing import acceptance_words
from fieldapp.report.sections.owner_unknown import helps_most_words
from model.decision.advice import PlannedWork
from model.record.words import Scope
from tests.fieldapp.report.invented_advice import (
    ALL_RULED_OUT,
    BY_CONDITION,
    BY_MONEY,
    NO_ADVICE,
    NOTHING_COSTS,
    ONE_OPTION,
    STATES,
    money,
    option,
)
from tests.fieldapp.report.said_pieces import (
    charts,
    said,
    table,
)

# ------------------------------------------------------------------------------ the whole page


@pytest.mark.parametrize("state", STATES)
def test_the_page_has_its_sections_in_the_owners_order(built, state):
    assert [key for key, each in built[state].items() if each.is_on_first_page] == [
        "steaming", "found", "verdict", "cash", "nothing", "cause", "unknown", "signing",
        "prepared",
    ]  # fmt: skip
    # An option that does nothing to tubes has no table of its tubes.
    silent = int("option-tubes" not in built[state])
    assert len(built[state]) == len(OWNERS_PAGE) + len(BEHIND_THE_ADVICE) - silent


@pytest.mark.parametrize("state", STATES)
def test_every_section_says_something_and_every_row_fills_every_column(built, state):
    for section in built[state].values():
        assert said(section).strip(), section.key
        for piece in section.pieces:
            if isinstance(piece, Table):
                assert {len(row.cells) for row in piece.rows} <= {len(piece.columns)}


@pytest.mark.parametrize("state", STATES)
def test_no_sentence_is_left_open_and_no_value_is_shown_as_python_writes_it(built, state):
    text = "\n".join(said(section) for section in built[state].values())
    assert not re.search(r"\bNone\b|\bnan\b|\binf\b|  |\.\.|: \.|Ruled out: Ruled out", text)


@pytest.mark.parametrize("state", STATES)
def test_the_decision_caution_stands_beside_the_option(built, state):
    verdict, caution = built[state]["verdict"].pieces[0], built[state]["verdict"].pieces[-1]
    assert verdict.words == STATES[state].words
    assert (caution.heading, caution.words) == ("Decision", DECISION)


@pytest.mark.parametrize("state", STATES)
def test_the_last_words_of_the_page_are_those_on_the_insurance(built, state):
    assert built[state]["prepared"].pieces[-1].words == INSURANCE
    assert "may also perform the work" in said(built[state]["prepared"])


def test_nobody_is_said_to_allow_steaming_and_the_names_are_asked(built):
    section = built["by money"]["steaming"]
    assert "does not say that the boiler may be steamed" in said(section)
    (blanks,) = [piece for piece in section.pieces if isinstance(piece, Blanks)]
    assert blanks.lines[0][1:] == (
        "Owner: name",
        "Authorised inspector: name",
        "Repair organisation: name",
    )
    assert "6 bad tubes not dealt with" in said(section)
    assert "1 open question from last time" in said(section)


# ------------------------------------------------------------------------------ the option


def test_by_money_the_option_has_its_cost_range_runner_up_margin_and_share(built):
    text = said(built["by money"]["verdict"])
    assert built["by money"]["verdict"].heading == "Lowest cost on these inputs"
    assert "88,400 USD now and 132,000 USD in all over 10 years" in text
    assert "between 116,000 USD and 151,000 USD" in text
    assert "Next is plugging now and retubing later, 12,500 USD more" in text
    assert "retubing pass 2 is cheaper in 71 % of the trials" in text


def test_by_condition_it_says_so_and_which_figures_are_missing(built):
    section = built["by condition"]["verdict"]
    assert section.heading == "The option by condition alone"
    assert "By condition alone. [costs] lacks labour_per_hour, tube_each." in said(section)
    assert "lowest cost" not in said(section).lower()


def test_where_every_option_is_ruled_out_the_one_by_condition_is_said_to_be_too(built):
    text = said(built["all ruled out"]["verdict"])
    assert "Every option that has a price is ruled out" in text
    assert "As it stands this option is ruled out too: a stay question is unanswered." in text


def test_finding_out_first_gives_its_reason_and_no_margin_to_what_is_known_so_far(built):
    section = built["find out"]["verdict"]
    assert section.heading == "Before money is compared"
    assert "Measure first: no wall of pass 3 was measured." in said(section)
    # Pulling samples has a price in the tables; looking, measuring and judging have none.
    assert "USD now" not in said(section)
    assert "cheaper in" not in said(section)


@pytest.mark.parametrize("scope", [Scope.LEAK_CALL, Scope.AFTER_REPAIR])
def test_a_partial_look_gives_no_advice_on_the_whole_boiler(numbers, scope):
    facts = replace(numbers.inspection.facts, scope=scope)
    partial = replace(numbers, inspection=replace(numbers.inspection, facts=facts))
    advice = replace(BY_CONDITION, option="plug-bad")
    assert option_heading(partial, advice) == "No advice on the whole boiler"
    assert option_heading(numbers, NO_ADVICE) == "No advice on the whole boiler"


def test_a_cheaper_option_that_an_engineer_may_allow_is_named(priced):
    advice = replace(BY_MONEY, if_engineer_allows="new-boiler")
    sections = {each.key: each for each in build_advice_sections(priced, advice)}
    assert sections["verdict"].pieces[1].words == (
        "Before that: ask an engineer whether the plate around the plugs holds (map of the "
        "chamber). If the answer is yes, replacing the boiler costs 420,000 USD now and 420,000 "
        "USD in all."
    )
    assert (
        "Replacing the boiler: no crane can stand there. Replacing the boiler would cost less, "
        "420,000 USD, if an engineer allows it." in said(sections["behind"])
    )


@pytest.mark.parametrize(
    ("margin", "words"),
    [
        (0.0, "Plugging now and retubing later costs the same; "),
        (-900.0, "Plugging now and retubing later would cost 900 USD less; "),
        (1e12, "Next is plugging now and retubing later, 1,000,000,000,000 USD more; "),
    ],
)
def test_a_margin_of_any_size_is_said_in_words(margin, words):
    assert margin_words(replace(BY_MONEY, margin=margin)).startswith(words)


def test_without_a_runner_up_that_is_said():
    assert "no runner-up" in margin_words(ONE_OPTION)


def test_two_options_that_differ_only_now_are_told_apart_by_their_items_and_no_trial():
    mine, other = (money(now, 500) for now in (9_000, 12_000))
    items = [
        {"labour_per_hour": (4_000.0, *later), name: (now, *later)}
        for name, now, later in (
            ("rental_per_week", 5_000.0, (250.0,) * 10),
            ("outage_per_day", 8_000.0, (0.0,) * 10),
        )
    ]
    items[0]["outage_per_day"], items[1]["rental_per_week"] = (0.0,) * 11, (0.0, *(250.0,) * 10)
    items[1]["labour_per_hour"] = (4_000.0, *(250.0,) * 10)
    advice = replace(
        BY_MONEY,
        option="rental",
        runner_up="retube-pass-2",
        margin=3_000.0,
        share_cheaper=1.0,
        options=(
            option("rental", replace(mine, flows_by_item=items[0])),
            option("retube-pass-2", replace(other, flows_by_item=items[1])),
        ),
    )
    assert margin_words(advice) == (
        "Next is retubing pass 2, 3,000 USD more; the two differ only in planned outage days and "
        "rental, now and not later."
    )


def test_lower_on_average_though_dearer_in_most_trials_is_said():
    assert margin_words(replace(BY_MONEY, share_cheaper=0.42)).endswith(
        "retubing pass 2 is lower on average, though dearer in more than half of the trials."
    )


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (0.449, "though dearer in more than half of the trials."),
        (0.45, "and cheaper in about half of the trials."),
        (0.496, "and cheaper in about half of the trials."),
        (0.55, "and cheaper in about half of the trials."),
        (0.56, "cheaper in 56 % of the trials."),
    ],
)
def test_a_share_near_one_half_is_told_as_about_half(share, words):
    assert margin_words(replace(BY_MONEY, share_cheaper=share)).endswith(words)


def test_the_days_until_the_work_is_done_tell_what_is_waiting(built):
    assert "About 69 days until the work is done (63 of them waiting for tubes)." in said(
        built["by money"]["verdict"]
    )
    assert "until the work is done" not in said(built["one option"]["verdict"])


def test_of_a_new_boiler_labour_and_outage_are_not_counted(numbers):
    bought = option(
        "new-boiler", plan={"is_new_boiler": True}, hours=0.0, days=0.0, is_work_counted=False
    )
    advice = replace(BY_CONDITION, option="new-boiler", options=(bought,))
    sections = {each.key: each for each in build_advice_sections(numbers, advice)}
    (row,) = table(sections["options"], "What each option is").rows
    assert [cell.words for cell in row.cells[2:4]] == ["not counted", "not counted"]


def test_by_condition_without_prices_it_is_no_comparison_of_costs(built):
    words = "This is not a comparison of costs: the cheapest option is not known."
    assert words in said(built["by condition"]["verdict"])
    for state in ("by money", "all ruled out", "no advice"):
        assert words not in said(built[state]["verdict"])


@pytest.mark.parametrize(
    ("expiry", "words"),
    [
        ("2026-09-01", "The certificate expired on 2026-09-01, before the inspection."),
        ("2026-10-31", "The certificate expires on 2026-10-31, before the work advised is done."),
        ("2027-09-15", "The certificate expires on 2027-09-15."),
        ("2027-09-16", ""),
        ("soon", ""),
        (None, ""),
    ],
)
def test_a_certificate_that_runs_out_stands_beside_the_question_of_steaming(numbers, expiry, words):
    identity = {**numbers.facts.identity, "certificate_expiry": expiry}
    stated = replace(numbers, facts=replace(numbers.facts, identity=identity))
    text = said(build_advice_sections(stated, BY_MONEY)[0])
    assert (words in text) if words else ("The certificate" not in text)


# ------------------------------------------------------------------------------ cash by year


def test_cash_by_year_is_of_the_best_three_with_calendar_years_before_present_value(built):
    section = built["by money"]["cash"]
    assert section.heading == "Cash by year, USD"
    shown = table(section, "What is paid in which year")
    years = [str(year) for year in range(2027, 2037)]
    assert [column.heading for column in shown.columns] == [
        "option", "present value", "now", *years
    ]  # fmt: skip
    assert [row.cells[0].words for row in shown.rows] == [
        "Retubing pass 2",
        "Plugging now and retubing later",
        "Replacing the bad tubes",
    ]
    assert [cell.words for cell in shown.rows[0].cells[1:4]] == ["132,000", "88,400", "6,140"]
    assert "only the present value is at 7 % a year" in said(section)


def test_years_without_a_date_of_the_inspection_are_numbered(priced):
    facts = replace(priced.inspection.facts, date=None)
    undated = replace(priced, inspection=replace(priced.inspection, facts=facts))
    sections = {each.key: each for each in build_advice_sections(undated, BY_MONEY)}
    headings = [each.heading for each in table(sections["cash"], "What is paid").columns]
    assert headings[1:5] == ["present value", "now", "year 1", "year 2"]


def test_many_years_are_banded_and_no_cash_is_lost(built):
    shown = table(built["many and huge"]["cash"], "What is paid")
    headings = [column.heading for column in shown.columns]
    assert headings[7:] == ["2031", "2032-35", "2036-39", "2040-43", "2044-47", "2048-51"]
    assert built["many and huge"]["cash"].heading == "Cash by year, million USD"
    assert shown.rows[0].cells[8].words == "920,000"  # four years of 0.23 million million


@pytest.mark.parametrize("horizon", [1, 2, 9, 10, 11, 12, 15, 25, 99, 100])
def test_the_bands_hold_every_year_once(horizon):
    bands = year_bands(horizon)
    years = [year for first, last in bands for year in range(first, last + 1)]
    assert years == list(range(horizon + 1))
    assert len(bands) <= 11


@pytest.mark.parametrize("state", ["by condition", "no advice", "all ruled out"])
def test_without_money_there_is_neither_a_table_of_cash_nor_a_chart(built, state):
    assert [type(piece) for piece in built[state]["cash"].pieces] == [Paragraph]
    assert [chart for each in built[state].values() for chart in charts(each)] == []


# ------------------------------------------------------------------------------ the other points


def test_doing_nothing_means_plugging_what_leaks_and_what_then_comes(priced):
    words = nothing_words(priced, BY_MONEY)
    assert words.startswith("A leaking or split tube never stays in service")
    assert "plugging the 6 bad tubes" in words
    # The owner looks again after two years: 0.4 and 0.5 leaks are expected in them.
    assert (
        "about 0.9 tubes are expected to be lost and 0.4 joints to leak in the next 2 years, with "
        "0.6 forced outages; over 10 years 8.5 tubes lost, 5 to 13 in eight of ten trials, with "
        "3.0 forced outages." in words
    )
    assert "14,200 USD now and 164,000 USD in all" in words
    assert "32,600 USD more than retubing pass 2" in words


def test_doing_nothing_tells_of_the_retube_that_comes_in_most_trials(priced):
    words = "This includes retubing pass 2 in 2030 (in 83 % of the trials)."
    assert words in nothing_words(priced, BY_MONEY)
    rare = PlannedWork(words="retube pass 2", year=None, chance=0.3)
    advice = replace(ONE_OPTION, options=(option("plug-bad", money(14_210, 21_350, planned=rare)),))
    assert "This includes" not in nothing_words(priced, advice)


def test_doing_nothing_is_running_on_where_nothing_is_bad(priced):
    sound = [each for each in priced.tubes if not each.left.is_bad]
    totals = replace(priced.totals, bad_now=0, joint_leaks_only=0)
    words = nothing_words(replace(priced, tubes=tuple(sound), totals=totals), NOTHING_COSTS)
    assert words.startswith(
        "No tube is bad and no joint leaks, so the tubes stay as they are. It mends no damaged "
        "part."
    )
    assert "this is what is advised." in words


def test_doing_nothing_where_only_joints_leak_is_re_rolling_them(priced):
    sound = [each for each in priced.tubes if not each.left.is_bad]
    totals = replace(priced.totals, bad_now=0, joint_leaks_only=1)
    advice = replace(NOTHING_COSTS, options=(option("re-roll", money(900, 100)),))
    words = nothing_words(replace(priced, tubes=tuple(sound), totals=totals), advice)
    assert "re-rolling 1 tube that leaks at the joint and running on" in words
    assert "900 USD now" in words


def test_what_is_ruled_out_as_the_least_to_do_is_said_to_be(priced):
    words = nothing_words(priced, ALL_RULED_OUT)
    assert "As it stands it is ruled out: a stay question is unanswered." in words
    assert "164,000 USD in all" in words
    assert nothing_words(priced, BY_CONDITION).endswith("What it costs was not worked out.")


@pytest.mark.parametrize(
    ("advice", "warns"), [(BY_MONEY, True), (NO_ADVICE, False), (NOTHING_COSTS, False)]
)
def test_no_cause_established_is_said_beside_a_retube(numbers, advice, warns):
    sections = {each.key: each for each in build_advice_sections(numbers, advice)}
    text = said(sections["cause"])
    assert "Cracked ends (water side): overheat; nobody has confirmed it." in text
    assert "No cause was established." in text
    assert ("may fail the same way" in text) is warns


def test_a_confirmed_cause_is_said_with_who_confirmed_it(numbers):
    (cause,) = numbers.records("cause")
    confirmed = replace(cause, body={**cause.body, "confirmed_by": "Dora Finch"})
    others = tuple(each for each in numbers.inspection.others if each.kind != "cause")
    inspection = replace(numbers.inspection, others=(*others, confirmed))
    sections = {
        each.key: each
        for each in build_advice_sections(replace(numbers, inspection=inspection), BY_MONEY)
    }
    assert "confirmed by Dora Finch" in said(sections["cause"])
    assert "No cause was established" not in said(sections["cause"])


def test_the_measurement_that_helps_most_leads_with_its_worth(built):
    (points,) = built["by money"]["unknown"].pieces
    assert points.items[0] == (
        "Would help most: pull one tube of pass 2 and have its ends sectioned. To know it before "
        "choosing is worth 6,480 USD at most."
    )
    assert points.items[1] == "The cause of the cracked ends."
    assert points.items[-1].startswith("And ")


def test_all_that_is_not_known_stands_behind_the_advice_each_once(built, numbers):
    (points,) = [
        piece
        for piece in built["by money"]["behind"].pieces
        if isinstance(piece, Points) and piece.heading == "All that is not known"
    ]
    on_page = built["by money"]["unknown"].pieces[0].items
    assert points.items[:3] == on_page[1:4]
    assert on_page[4] == f"And {len(points.items) - 3} more: see behind the advice."
    assert len(set(points.items)) == len(points.items)
    for words in (*BY_MONEY.missing, *numbers.advice.missing):
        assert any(words[1:] in item for item in points.items)
    # What the crew worked on and nobody looked at since.
    assert any("not looked at since (P2-R03-C06 and P3-R03-C07)" in item for item in points.items)


@pytest.mark.parametrize("state", STATES)
def test_the_reasons_lead_what_is_behind_the_advice(built, state):
    first = built[state]["behind"].pieces[0]
    assert (first.heading, first.items) == ("Why", STATES[state].reasons)


def test_a_measurement_worth_nothing_and_none_at_all_are_said():
    worthless = replace(BY_MONEY, measure_next=BY_MONEY.measure_next[1:])
    assert helps_most_words(worthless).endswith("but on these inputs it would change nothing.")
    assert helps_most_words(replace(BY_MONEY, measure_next=())) == (
        "No single measurement is likely to change the option."
    )
    assert helps_most_words(BY_CONDITION).endswith("was not worked out.")


def test_what_the_inspector_must_accept_is_the_work_of_the_option(numbers):
    tubes = sum(each.tube.pass_ == 2 for each in numbers.tubes)
    words = acceptance_words(numbers, BY_MONEY)
    assert f"{tubes} new tubes in pass 2, plugs in 1 tube and 3 re-rolled joints" in words
    assert "An engineer must answer first" in words
    assert "chamber sheet" in words


@pytest.mark.parametrize(
    ("plan", "words"),
    [
        ({"is_new_boiler": True}, "the new boiler and its installation"),
        ({"renew_sheets": ("chamber",)}, "the new chamber tube sheet"),
        ({"replace": frozenset("ab")}, "2 new tubes in place of single ones"),
    ],
)
def test_other_work_is_named_too(numbers, plan, words):
    advice = replace(ONE_OPTION, options=(option("plug-bad", plan=plan),))
    assert f"The inspector must accept first: {words}; " in acceptance_words(numbers, advice)


def test_who_examined_and_who_signed_stands_beside_the_lines_for_signatures(built):
    text = said(built["by money"]["signing"])
    assert "Inspection opened by Anna Lund; signed off by Clara Odell (supervisor)." in text
    assert "Authorised inspector: signature, date" in text
