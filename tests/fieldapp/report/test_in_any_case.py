"""What the option does not mend: parts to act on, tubes plugged at one end, open disputes."""

from dataclasses import replace

from fieldapp.report.in_any_case import in_any_case
from fieldapp.report.pieces import Tone
from fieldapp.report.recommendation_json import recommendation
from fieldapp.report.sections.owner_option import build_owner_option
from model.record.words import State
from tests.fieldapp.report.invented_advice import BY_MONEY, option

NOTHING_DONE = replace(BY_MONEY, option="run-on", options=(option("run-on"),))


def advised(**plan):
    return replace(BY_MONEY, option="x", options=(option("x", plan=plan),))


def with_part(numbers, **changes):
    """The first part of the small boiler's inspection, graded act and changed."""
    first = numbers.records("part")[0]
    body = {
        **first.body,
        "grade": "act",
        "part": "ligament",
        "mechanism": None,
        "note": "",
        **changes,
    }
    others = [each for each in numbers.inspection.others if each.kind != "part"]
    inspection = replace(numbers.inspection, others=(*others, replace(first, body=body)))
    return replace(numbers, inspection=inspection)


def test_a_part_to_act_on_is_not_mended_by_new_tubes(numbers):
    where = {"holes": [], "sheet": "chamber", "text": ""}
    cracked = with_part(numbers, where=where, note="crack from hole to hole")
    said = in_any_case(cracked, NOTHING_DONE)[0]
    assert said.startswith("No work on tubes mends the ligament of the ")
    assert said.endswith(
        "(crack from hole to hole), and no option holds what it costs: the repair is decided with "
        "the authorised inspector."
    )
    retubed = advised(retube=frozenset({2, 3}))
    assert in_any_case(cracked, retubed)[0] == said


def test_a_new_sheet_or_a_new_boiler_mends_a_ligament(numbers):
    cracked = with_part(numbers, where={"holes": [], "sheet": "chamber", "text": ""})
    renewed = advised(renew_sheets=("chamber",))
    assert not any("ligament" in each for each in in_any_case(cracked, renewed))
    assert in_any_case(cracked, advised(is_new_boiler=True)) == ()


def test_a_part_only_to_watch_is_not_named(numbers):
    watched = with_part(numbers, grade="watch", where={"holes": [], "sheet": None, "text": ""})
    assert not any("New tubes" in each for each in in_any_case(watched, NOTHING_DONE))


def test_a_tube_plugged_at_one_end_is_named_unless_the_option_takes_it(numbers):
    tube = numbers.tubes[0]
    open_end = replace(tube, plugged_one_end="yes")
    half = replace(numbers, tubes=(open_end, *numbers.tubes[1:]))
    key = tube.tube.key
    assert any(
        key in each and "plugged at one end" in each for each in in_any_case(half, NOTHING_DONE)
    )
    for plan in (
        {"plug": frozenset({tube.hole})},
        {"replace": frozenset({tube.hole})},
        {"retube": frozenset({tube.tube.pass_})},
    ):
        assert not any(
            key in each for each in in_any_case(half, advised(**plan)) if "plugged" in each
        )


def test_a_tube_that_does_not_last_until_the_outage_is_named_where_it_stays(numbers):
    tube = next(each for each in numbers.tubes if each.left.state is State.SOUND)
    due = replace(NOTHING_DONE, due_before_outage=frozenset({tube.hole}))
    words = (
        f"{tube.tube.key} is at the retirement wall today or before the next planned outage, by "
        "the readings: deal with it now, or have the inspector accept it."
    )
    assert words in in_any_case(numbers, due)
    assert words not in in_any_case(numbers, NOTHING_DONE)
    for plan in (
        {"plug": frozenset({tube.hole})},
        {"replace": frozenset({tube.hole})},
        {"retube": frozenset({tube.tube.pass_})},
    ):
        gone = replace(advised(**plan), due_before_outage=due.due_before_outage)
        assert not any("retirement wall" in each for each in in_any_case(numbers, gone))


def test_an_open_dispute_on_a_tube_that_stays_must_be_settled(numbers):
    dispute = numbers.disputes[0]
    said = in_any_case(numbers, NOTHING_DONE)
    assert any(f"{dispute.tube} {dispute.end}" in each for each in said)
    holes = frozenset(each.hole for each in numbers.disputes)
    gone = in_any_case(numbers, advised(replace=holes))
    assert not any("dispute" in each for each in gone)


def test_the_json_holds_the_sentences_or_null_where_nobody_looked():
    assert recommendation(BY_MONEY, ("a.",))["in_any_case"] == ["a."]
    assert recommendation(BY_MONEY)["in_any_case"] is None


def test_running_on_is_good_news_only_where_nothing_is_to_be_dealt_with_in_any_case(numbers):
    damaged = with_part(
        replace(numbers, tubes=(), disputes=()), where={"holes": [], "sheet": None, "text": ""}
    )
    sound = replace(damaged, inspection=replace(damaged.inspection, others=()))
    tones = [build_owner_option(each, NOTHING_DONE).pieces[0].tone for each in (sound, damaged)]
    assert tones == [Tone.GOOD, Tone.WATCH]
