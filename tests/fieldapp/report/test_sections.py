"""The sections say what the numbers hold: counted by hand on the small boiler."""

import json
from dataclasses import replace

import pytest

from fieldapp.drawing.wall_map import Margin
from fieldapp.report.condition_json import render_condition_json
from fieldapp.report.pieces import Chart, Paragraph, Photos, Points, Table, Tone
from fieldapp.report.sections.leak_history import build_leak_history
from fieldapp.report.sections.order import build_sections
from fieldapp.report.sections.owner_found import found_figures
from fieldapp.report.sections.repeatability import build_repeatability
from fieldapp.report.sections.walls import _spots
from fieldapp.report.sections.worst_walls import build_worst_walls
from model.decision.limits import LimitStatus
from model.wall.more_readings import MoreReadings
from model.wall.pass_forecast import WallsAhead
from model.wall.repeatability import GaugeRepeatability
from model.wall.retirement import RetirementWall
from tests.fieldapp.report.invented_advice import BY_MONEY


@pytest.fixture(scope="module")
def sections(numbers):
    return {section.key: section for section in build_sections(numbers, BY_MONEY)}


def tables(section):
    return {piece.caption: piece for piece in section.pieces if isinstance(piece, Table)}


def rows(table):
    return [tuple(cell.words for cell in row.cells) for row in table.rows]


def row_of(table, key):
    (row,) = [row for row in table.rows if row.tube == key]
    return dict(
        zip(
            (column.heading for column in table.columns),
            (cell.words for cell in row.cells),
            strict=True,
        )
    )


def said(section):
    return " ".join(piece.words for piece in section.pieces if isinstance(piece, Paragraph))


def test_every_section_has_its_own_key_and_says_something(numbers):
    built = build_sections(numbers, BY_MONEY)
    assert len({section.key for section in built}) == len(built)
    assert [section.key for section in built if not section.pieces] == []


def test_every_row_fills_every_column(sections):
    ragged = [
        (section.key, table.caption)
        for section in sections.values()
        for table in tables(section).values()
        for row in table.rows
        if len(row.cells) != len(table.columns)
    ]
    assert ragged == []


def test_what_was_found_stands_in_three_numbers(sections):
    (figures,) = sections["found"].pieces
    assert [(figure.value, figure.words) for figure in figures.items] == [
        ("6", "bad tubes"),
        ("16.7 %", "of pass 3 out of service if every bad tube is plugged"),
        ("67.0 %", "of the tube ends were looked at"),
    ]
    assert figures.items[0].detail.startswith("of those looked at, of 56 tubes, as left")
    assert figures.items[1].detail == (
        "4 of its 24 tubes, counting the bad ones of those looked at; limit 10 %; whole boiler: at "
        "least 16.1 %, about 18.1 % if the unseen are like the seen, 4 tubes plugged now"
    )


def looked_at_everywhere(numbers, status):
    """The same numbers with nothing bad or out of service, after a look at every end."""
    coverage = replace(numbers.coverage, seen=112, by_row=0, filled=0, paper=0, not_inspected=0)
    limits = tuple(
        replace(each, status=status if each.name == "coverage_percent" else LimitStatus.OK)
        for each in numbers.limits
    )
    totals = replace(numbers.totals, bad_now=0)
    return replace(numbers, coverage=coverage, limits=limits, totals=totals, tubes=())


def test_where_every_end_was_looked_at_the_share_of_the_boiler_is_no_lower_bound(numbers):
    detail = found_figures(looked_at_everywhere(numbers, LimitStatus.OK)).items[1].detail
    assert "; whole boiler: 16.1 %, 4 tubes plugged now" in detail
    assert "at least" not in detail


@pytest.mark.parametrize(
    ("coverage", "tone"),
    [
        (LimitStatus.OK, Tone.GOOD),
        (LimitStatus.WATCH, Tone.GOOD),
        (LimitStatus.ACT, Tone.WATCH),
        (LimitStatus.UNKNOWN, Tone.WATCH),
    ],
)
def test_no_number_is_green_where_too_few_ends_were_looked_at(numbers, coverage, tone):
    figures = found_figures(looked_at_everywhere(numbers, coverage)).items[:2]
    assert [figure.tone for figure in figures] == [tone, tone]
    assert ["of those looked at" in figure.detail for figure in figures] == [tone is Tone.WATCH] * 2


def test_the_option_by_condition_alone_has_its_reasons_and_how_many_more_there_are(sections):
    section = sections["by-condition"]
    assert said(section).startswith("Find out more first: too few tube ends were looked at.")
    (reasons,) = [piece for piece in section.pieces if isinstance(piece, Points)]
    assert len(reasons.items) == 6
    assert reasons.items[-1] == "And 6 more: see the acceptance limits."


def test_the_bad_tubes_are_the_bad_tubes(sections, bad_tubes, what_is_what):
    bad = tables(sections["bad-tubes"])
    assert [row.tube for row in bad["Bad tubes, as left"].rows] == sorted(bad_tubes)
    mended = bad["Found bad and dealt with in this outage"]
    assert [row.tube for row in mended.rows] == [what_is_what["leak plugged the same day"]]


def test_a_bad_tube_says_why_where_and_by_whom(sections, what_is_what):
    bad = tables(sections["bad-tubes"])["Bad tubes, as left"]
    leak = row_of(bad, what_is_what["bore leak"])
    assert leak["why"] == "Leaking in the bore"
    assert leak["where and how found"] == (
        "rear end: leaking in the bore, seen, at 3900 mm from the front sheet, "
        "found by pressure test"
    )
    assert leak["by"] == "Boris Wieck"
    thin = row_of(bad, what_is_what["below the retirement wall"])
    assert thin["where and how found"] == "wall 1.70 mm, measured 2026-09-15"
    assert thin["by"] == "Boris Wieck"


def test_joint_leaks_are_not_among_the_bad(sections, what_is_what):
    joints = tables(sections["joint-leaks"])
    left = [row.tube for row in joints["Leaking at the joint only, as left"].rows]
    assert left == [what_is_what["joint leak"], what_is_what["disputed"]]
    cleared = joints["Found leaking at the joint and dealt with in this outage"]
    assert rows(cleared) == [
        (
            what_is_what["joint leak re-rolled the same day"],
            "2",
            "rear end: leaking at the joint, seen",
            "Anna Lund",
            "nothing known since the work",
        )
    ]


@pytest.mark.parametrize(
    ("what", "hazard"),
    [
        ("carried plug, not looked at", "Whether it is vented is not known"),
        ("carried plug, confirmed weeping", "Plug weeping; whether it is vented is not known"),
        ("leak plugged the same day", "none known"),
        (
            "plugged stay tube, one end",
            "Plugged at one end only, the other end was seen open; stay tube: refer to an "
            "engineer; whether it is vented is not known; tightness is not known",
        ),
    ],
)
def test_every_plug_says_its_hazards(sections, what_is_what, what, hazard):
    table = tables(sections["plugs"])["Plugged tubes, as left"]
    assert row_of(table, what_is_what[what])["hazard"] == hazard


def test_carried_ends_and_the_question_of_last_time_are_listed(sections, what_is_what):
    carried = tables(sections["carried"])
    key = what_is_what["carried leak, a question"]
    assert rows(carried["Questions that today's record does not answer"]) == [
        (key, "rear", "Leaking since 2022-06-14: repaired, or still so?")
    ]
    ends = rows(carried["Tube ends that stand as last time, not confirmed today"])
    assert (key, "rear", "leaking in the bore", "2022-06-14", "2022-06-14") in ends
    assert len(ends) == 4


def test_a_dispute_says_who_said_what_and_a_settlement_how(sections, what_is_what):
    disputes = tables(sections["disputes"])
    ((tube, end, counts, who),) = rows(
        disputes["Open disputes: until somebody settles them the worse state counts"]
    )
    assert (tube, end, counts) == (what_is_what["disputed"], "front", "leaking")
    assert "Anna Lund: sound (seen, 2026-09-15)" in who
    assert "Boris Wieck: leaking at the joint (seen, 2026-09-15)" in who
    ((tube, end, as_what, by, source, why, before),) = rows(disputes["Settled"])
    assert (tube, end, as_what) == (what_is_what["settled"], "front", "sound")
    assert (by, source, why) == (
        "Clara Odell, 2026-09-15",
        "looked again",
        "Dried and looked again",
    )
    assert "Anna Lund: thinned" in before
    assert "Boris Wieck: sound" in before


def test_work_of_the_outage_and_of_the_time_between_are_apart(sections):
    work = tables(sections["work"])
    assert [row[:2] for row in rows(work["In this outage"])] == [
        ("P2-R02-C04", "plug"),
        ("P2-R03-C06", "re-roll"),
        ("P3-R03-C07", "replace"),
    ]
    between = rows(work["Between 2022-06-14 and this inspection"])
    assert [row[:2] for row in between] == [("P2-R04-C01", "clean")]


def test_readings_say_where_each_wall_stands(sections, what_is_what):
    walls = tables(sections["readings"])["Governing wall of each tube measured, thinnest first"]
    assert [row.tube for row in walls.rows] == [
        what_is_what["below the retirement wall"],
        what_is_what["thinned"],
        what_is_what["said sound, measured thin"],
    ]
    thinned = row_of(walls, what_is_what["thinned"])
    since_first, below_supplied = "loss since first reading", "below wall as supplied"
    assert (thinned["wall"], thinned[since_first], thinned[below_supplied]) == (
        "2.20",
        "24.1 % of 2.90 mm",
        "26.7 %",
    )
    assert thinned["against the retirement wall"] == "above"
    assert row_of(walls, what_is_what["below the retirement wall"])[
        "against the retirement wall"
    ] == ("below")


def test_a_wall_whose_gauges_error_nobody_stated_is_not_told_as_exact(numbers, what_is_what):
    key = what_is_what["below the retirement wall"]
    hole = next(each.hole for each in numbers.tubes if each.tube.key == key)
    wall = replace(numbers.walls.today[hole], accuracy_mm=0.0, is_accuracy_known=False)
    walls = replace(numbers.walls, today={**numbers.walls.today, hole: wall})
    built = build_sections(replace(numbers, walls=walls), BY_MONEY)
    readings, bad = (next(s for s in built if s.key == name) for name in ("readings", "bad-tubes"))
    row = row_of(tables(readings)["Governing wall of each tube measured, thinnest first"], key)
    assert row["gauge's error"] == "not stated"
    assert row["against the retirement wall"] == "below, gauge's error not stated"
    assert "For 1 of 3 governing walls nobody stated the gauge's error" in said(readings)
    found = row_of(tables(bad)["Bad tubes, as left"], key)["where and how found"]
    assert found.endswith("gauge's error not stated")
    doubtful = replace(numbers, walls=walls)
    of_pass = [each for each in numbers.tubes if each.hole == hole]
    assert next(spot.title for spot in _spots(doubtful, of_pass)).endswith("error not stated")
    told = json.loads(render_condition_json(doubtful, BY_MONEY))
    (tube,) = [each for each in told["tubes"] if each["tube"] == key]
    assert (tube["wall_accuracy_mm"], tube["wall_verdict"]) == (None, "below")


def test_without_repeated_readings_the_report_says_that_nothing_is_known_of_them(sections):
    assert "how well readings repeat is not known" in said(sections["readings"])


def test_a_gauge_that_scatters_more_than_its_error_is_marked(numbers):
    steady = GaugeRepeatability(
        instrument="Gauge 7", method="pit-gauge", accuracy_mm=0.1, places=3, readings=9,
        deviation_mm=0.0312, degrees_of_freedom=6,
    )  # fmt: skip
    found = (
        steady,
        replace(steady, deviation_mm=0.0512),
        replace(steady, instrument=None, method=None, accuracy_mm=None),
    )
    table, how = build_repeatability(replace(numbers, repeatability=found))
    assert rows(table) == [
        ("Gauge 7, pit gauge", "3", "9", "0.031", "6", "0.10", "within"),
        ("Gauge 7, pit gauge", "3", "9", "0.051", "6", "0.10", "scatters more"),
        ("not known", "3", "9", "0.031", "6", "not known", "nobody stated it"),
    ]
    assert [row.cells[-1].tone for row in table.rows] == [Tone.PLAIN, Tone.WATCH, Tone.PLAIN]
    assert "set wrongly" in how.words


def test_without_a_retirement_wall_the_report_says_why(numbers):
    nothing = RetirementWall(wall_mm=None, why_not="Nobody stated one.")
    bare = replace(numbers, retirement=nothing)
    section = next(each for each in build_sections(bare, BY_MONEY) if each.key == "readings")
    assert said(section).startswith("Nobody stated one.")


def test_the_examiners_are_those_who_looked(sections):
    facts = dict(pair for piece in sections["examined"].pieces[:2] for pair in piece.pairs)
    assert facts["Examined by"] == "Anna Lund, Boris Wieck and Clara Odell"
    assert facts["Opened"] == "front smokebox and turnaround chamber"
    late = next(p for p in sections["examined"].pieces if isinstance(p, Paragraph))
    assert late.words == (
        "Recorded after closing: P2-R03-C01. Recorded after sign-off: P2-R03-C01."
    )


def test_the_first_inspection_has_no_last_time(numbers):
    first = replace(numbers, previous=None, changes=())
    section = next(each for each in build_sections(first, BY_MONEY) if each.key == "changes")
    assert said(section) == "This is the first inspection on record; there is no last time."


def test_photos_name_the_tube_the_end_and_the_person(sections):
    (photos,) = [piece for piece in sections["photos"].pieces if isinstance(piece, Photos)]
    assert [photo.title for photo in photos.items] == [
        "P2-R04-C07, rear end",
        "Face: front smokebox",
    ]
    assert photos.items[0].details.startswith("Boris Wieck, added 2026-09-15")


def test_the_report_says_who_may_do_the_work_and_what_it_leaves_out(sections, numbers):
    about = sections["about"]
    assert "who may also perform the work" in said(about)
    assert any(
        isinstance(piece, Points) and piece.heading == "What this report does not contain"
        for piece in about.pieces
    )
    assert any(numbers.digest in str(getattr(piece, "pairs", "")) for piece in about.pieces)


def test_causes_that_nobody_confirmed_are_not_established(sections):
    section = sections["causes"]
    assert [piece.heading for piece in section.pieces if isinstance(piece, Paragraph)] == [
        "No cause is established"
    ]


def test_a_rule_that_rejects_the_tubes_as_new_says_so_and_is_no_retirement_wall(sections):
    (table,) = (p for p in sections["new-tube-rules"].pieces if isinstance(p, Table))
    said_of = {row.cells[0].words: [cell.words for cell in row.cells] for row in table.rows}
    # 51 mm at 1.0 MPa: the table's thinnest row for that size, 2.95 mm, goes to 1.07 MPa.
    assert said_of["lloyds-table"][2:5] == ["3.00", "not known", "the tubes as supplied meet it"]
    assert said_of["us-historic"][3] == "2.18"
    assert "from memory, not checked" in said_of["us-historic"][5]


def test_the_walls_of_each_measured_pass_are_drawn(sections):
    charts = [piece for piece in sections["walls"].pieces if isinstance(piece, Chart)]
    assert [chart.title for chart in charts] == [
        "Pass 2: walls measured",
        "Pass 2: how many tubes have which wall",
        "Pass 3: walls measured",
        "Pass 3: how many tubes have which wall",
    ]
    picture = charts[2].build()
    assert picture.words == "Pass 3: 2 tubes measured of 24, thinnest 1.70 mm, as a map."


def test_margins_of_the_map_are_those_of_the_verdicts(numbers, what_is_what):
    spots = {each.tube: each for each in _spots(numbers, numbers.tubes)}
    assert spots[what_is_what["below the retirement wall"]].margin is Margin.BELOW
    assert spots[what_is_what["said sound, measured thin"]].margin is Margin.CLOSE
    assert spots[what_is_what["bore leak"]].margin is Margin.NOT_MEASURED


def test_too_few_planned_readings_give_a_reason_and_no_forecast(sections):
    table, reasons, *_ = sections["worst-walls"].pieces
    assert table.rows == ()
    assert reasons.items[1] == (
        "Pass 3: no forecast. Only 2 tubes were measured as planned; a forecast needs at least 10."
    )


def test_a_forecast_says_its_figures_its_test_and_never_a_certainty(numbers):
    ahead = WallsAhead(
        on="2026-09-15",
        most_likely_thinnest_mm=2.5,
        bound_mm=2.3,
        expected_below=0.0001,
        chance_of_none_below=0.9999,
    )
    given = replace(
        numbers.worst[0], now=ahead, why_not=None, test="the test", why_no_outage="No day."
    )
    section = build_worst_walls(replace(numbers, worst=(given,)))
    assert rows(section.pieces[0])[0][4:] == ("2.50", "2.30", "under 0.1", "over 99")
    assert section.pieces[1].items[:2] == (
        "Pass 2: the test.",
        "Pass 2: no figure for the next outage. No day.",
    )
    assert "Only planned readings speak" in said(section)


def test_the_tubes_to_measure_next_are_named_with_what_to_record_them_as(sections, numbers):
    heading = "Which tubes to measure next, and how many more would do"
    by_pass = rows(tables(sections["worst-walls"])[heading])
    assert [row[0] for row in by_pass] == ["2", "3"]
    measured = {each.tube.key for each in numbers.tubes if numbers.wall_of(each) is not None}
    plugged = {each.tube.key for each in numbers.tubes if each.left.state == "plugged"}
    for _, width, how_many, spread, beside in by_pass:
        assert (width, how_many) == (
            "",
            "There is no forecast yet whose bound could be brought closer.",
        )
        named = f"{spread}, {beside}".split(", ")
        assert len(set(named)) == len(named) == 10
        assert not set(named) & (measured | plugged)
    assert "record them as suspect" in said(sections["worst-walls"])


@pytest.mark.parametrize(
    ("more", "words"), [(0, "none: close enough"), (14, "about 14"), (None, "It cannot be done.")]
)
def test_further_readings_are_a_figure_for_planning(numbers, more, words):
    plan = MoreReadings(
        width_mm=0.2, width_now_mm=0.31, more=more, why_not=None if more is not None else words
    )
    given = replace(numbers.worst[0], more_readings=plan)
    section = build_worst_walls(replace(numbers, worst=(given,)))
    heading = "Which tubes to measure next, and how many more would do"
    assert rows(tables(section)[heading])[0][1:3] == ("0.31", words)


def test_where_every_tube_was_measured_none_is_named(numbers):
    given = replace(numbers.worst[0], measure_next=())
    section = build_worst_walls(replace(numbers, worst=(given,)))
    assert "No tube is left that could be measured next." in said(section)


def test_too_short_a_history_gives_its_counts_a_reason_and_a_bound(sections):
    table, reasons, _ = sections["leak-history"].pieces
    assert rows(table) == [("2", "the record began", "5", "2"), ("3", "the record began", "2", "1")]
    assert reasons.items[1:] == (
        "Pass 3: no growth. 2 of at least 3 losses: too little to conclude from.",
        "Pass 3: with 2 tubes lost in 8.4 years, at most 6 are to be expected in the next 8.4 "
        "years, with 90 % confidence, if nothing changes.",
    )


@pytest.mark.parametrize(
    ("lost", "bound", "years", "begins"),
    [
        (0, 2.303, 7.0, "Pass 3: with none lost in 7.0 years, at most 3 are to be expected in the"),
        (1, 3.89, 7.0, "Pass 3: with 1 tube lost in 7.0 years, at most 4 are to be expected in th"),
        (0, 2.303, 0.0, None),
    ],
)
def test_the_most_losses_to_come_are_said_of_as_many_years_as_are_on_record(
    numbers, lost, bound, years, begins
):
    given = replace(numbers.leaks[1], lost=lost, upper_bound=bound, years_on_record=years)
    section = build_leak_history(replace(numbers, leaks=(given,)))
    points = [item for piece in section.pieces if isinstance(piece, Points) for item in piece.items]
    found = [item for item in points if "to be expected" in item]
    assert len(found) == (begins is not None)
    assert all(each.startswith(begins) for each in found)
