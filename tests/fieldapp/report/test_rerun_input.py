"""The input file of the advice is taken back as it is, whatever was stored."""

import re
import tomllib
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.intake.boiler_schema import SETTINGS
from fieldapp.intake.boiler_toml import read_boiler
from fieldapp.intake.templates import template_files
from fieldapp.report.rerun_input import FILE_NAME, render_rerun_input
from model.decision.prices import ESSENTIAL
from model.tubesheet.faces import Sheet
from tests.fieldapp.report.test_stored_rubbish import GOOD
from tests.fieldapp.report.test_stored_rubbish import STORED as RUBBISH

STORED = {
    "wall": {"retirement": "stated", "stated_mm": 1.8, "basis": 'letter "A" of C:\\letters\n2017'},
    "firing": {
        "fuel": "natural gas",
        "output_kw": 3600.0,
        "retarders": {"2": "none", "3": "strip"},
    },
    "outage": {"next": "2027-07-12", "interval_years": 1, "tube_lead_weeks": 9.5},
    "costs": {
        "currency": "EUR",
        "tube_each": {"value": 118.0, "source": "quoted"},
        "hours_per_tube": {"value": {"rolled": 2.5, "welded": 4.0}, "source": "owner"},
        "discount_percent": {"value": 0.00001, "source": "assumed"},
    },
    "limits": {
        "plugged_percent": {"watch": 4.0, "act": 10.0, "basis": "the owner's manual"},
        "cluster": {
            "chamber": {"act_mm": 240.5, "basis": 'letter "7" of the engineer, 2026-10-01'},
            "rear.2": {"act_mm": 200.0, "basis": "the same"},
        },
    },
}
MORE_SHEETS = (Sheet(key="rear.2", name="second rear"),)
"""A key that must be quoted."""


@pytest.fixture
def round_trip(numbers, tmp_path):
    """Settings written into the file and read as ``boiler update`` reads it."""

    def run(stored, tag="B-7"):
        return read_back(numbers, stored, tmp_path / FILE_NAME, tag)

    return run


def read_back(numbers, stored, path, tag="B-7", sheets=MORE_SHEETS):
    """As ``boiler update`` reads it, for a boiler with these sheets beside its own."""
    sheets = (*numbers.facts.sheets, *sheets)
    facts = replace(numbers.facts, settings=stored, tag=tag, sheets=sheets)
    path.write_bytes(render_rerun_input(replace(numbers, facts=facts)))
    there = [{"key": sheet.key, "name": sheet.name} for sheet in sheets]
    return read_boiler(path, tag_needed=False, sheets_there=there).settings


def test_what_is_stored_comes_back_as_it_was(round_trip):
    assert round_trip(STORED) == STORED


def test_every_figure_of_the_template_comes_back(round_trip, tmp_path):
    (tmp_path / "boiler.toml").write_text(template_files()["boiler.toml"], encoding="utf-8")
    stored = read_boiler(tmp_path / "boiler.toml").settings
    assert set(stored) == {"wall", "firing", "outage", "costs", "limits"}
    assert round_trip(stored) == stored


@settings(max_examples=60, deadline=None)
@given(
    basis=st.text(
        st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp")), min_size=1, max_size=40
    ),
    value=st.floats(min_value=0, max_value=1e12, allow_subnormal=False).map(lambda v: round(v, 6)),
)
def test_any_text_and_any_sum_come_back(numbers, tmp_path_factory, basis, value):
    stored = {
        "costs": {"currency": "x", "cleaning": {"value": value, "source": "owner"}},
        "wall": {"basis": basis.strip() or "b"},
    }
    facts = replace(numbers.facts, settings=stored)
    path = tmp_path_factory.mktemp("any") / FILE_NAME
    path.write_bytes(render_rerun_input(replace(numbers, facts=facts)))
    assert read_boiler(path, tag_needed=False).settings == stored


def test_what_another_program_stored_is_left_out_and_named(numbers, round_trip, tmp_path):
    stored = {
        "costs": {
            **STORED["costs"],
            "laser_each": {"value": 1.0, "source": "owner"},
            "plug_each": {"value": "cheap", "source": "owner"},
        },
        "outage": {"next": "some day\n[costs]\ncurrency = 'X'"},
        "limits": {"cluster": {"chamber": {"act_mm": 240.0}}},
    }
    assert round_trip(stored) == {"costs": STORED["costs"]}
    text = (tmp_path / FILE_NAME).read_text(encoding="utf-8")
    assert "# laser_each is stored and left out" in text
    assert "# plug_each is stored and left out" in text
    assert "# cluster is stored and left out" in text
    # An empty section would take the stored one away.
    assert "\n# [outage]\n" in text


@settings(max_examples=300)
@given(rubbish=RUBBISH, base=st.sampled_from((GOOD, STORED, {})))
def test_whatever_is_stored_the_file_is_one_that_is_taken_in(
    numbers, tmp_path_factory, rubbish, base
):
    stored = {section: {**base.get(section, {}), **rubbish[section]} for section in rubbish}
    found = read_back(numbers, stored, tmp_path_factory.getbasetemp() / FILE_NAME)
    # Nothing is made up on the way.
    assert all(set(values) <= set(stored[section]) for section, values in found.items())


CONTRADICTIONS = [
    ("limits", {"plugged_percent": {"watch": 20, "act": 5}}, "watch 20 must be at most act 5."),
    (
        "limits",
        {"plugged_percent": {"watch": 12}},
        "watch 12 lies beyond act, which is 10 where it",
    ),
    ("limits", {"coverage_percent": {"basis": "x"}}, "watch or act must be given."),
    ("limits", {"cluster": {"roof": {"act_mm": 9, "basis": "x"}}}, "'roof' is not the key of a"),
    ("wall", {"stated_mm": 2.0, "basis": "x"}, 'a stated wall needs retirement = "stated".'),
    ("wall", {"retirement": "stated", "stated_mm": -1}, "so stated_mm (or stated_in) must be"),
]


@pytest.mark.parametrize(("section", "stored", "sentence"), CONTRADICTIONS)
def test_a_section_that_contradicts_itself_is_left_out_as_a_whole_and_says_why(
    round_trip, tmp_path, section, stored, sentence
):
    more = {"out_of_service_percent": {"watch": 2, "act": 8}} if section == "limits" else {}
    both = {section: {**stored, **more}, "outage": STORED["outage"]}
    assert round_trip(both) == {"outage": STORED["outage"]}
    text = (tmp_path / FILE_NAME).read_text(encoding="utf-8")
    assert f"\n# [{section}]\n" in text
    assert sentence in text
    for key in both[section]:
        assert f"# {key} is stored and left out: this program does not read it." in text


def test_so_much_that_no_file_may_hold_it_is_left_out(numbers, tmp_path):
    bare = replace(numbers, facts=replace(numbers.facts, sheets=()))
    basis = "\N{SNOWMAN}" * 2000
    answers = {f"s{n}": {"act_mm": 240.0, "basis": basis} for n in range(100)}
    stored = {
        "limits": {"cluster": answers},
        "costs": {**STORED["costs"], **{f"of another program {n}": n for n in range(20_000)}},
        "wall": {"basis": basis},
    }
    found = read_back(bare, stored, tmp_path / FILE_NAME, sheets=())
    assert found == {"costs": STORED["costs"], "wall": {"basis": basis}}
    text = (tmp_path / FILE_NAME).read_text(encoding="utf-8")
    assert "# 19950 more are stored and left out." in text
    assert "# The section is too long." in text


def test_figures_that_are_not_given_are_named_as_comments(numbers):
    facts = replace(numbers.facts, settings={})
    text = render_rerun_input(replace(numbers, facts=facts)).decode()
    assert tomllib.loads(text) == {}
    for name in ESSENTIAL:
        assert f"# {name} = ...   # missing: without it nothing is ranked by money" in text
    assert "# freight = ...   # not given: counted as nothing" in text


@pytest.mark.parametrize("section", ["wall", "firing", "outage"])
def test_a_section_that_nobody_entered_shows_every_figure_that_can_be_entered(
    numbers, tmp_path, section
):
    facts = replace(numbers.facts, settings={})
    text = render_rerun_input(replace(numbers, facts=facts)).decode()
    stub = text.partition(f"\n# [{section}]\n")[2].partition("\n\n")[0].splitlines()
    first, *keys = stub
    assert first == (
        "# Not given; put what you know in the place of the dots; take the # away there and at the "
        "heading:"
    )
    assert [line.split()[1] for line in keys] == list(SETTINGS[section])
    # With the example in the place of the dots each is taken in.
    entered = []
    for line in keys:
        name, hint = line.removeprefix("# ").split(" = ...   # ")
        example = re.search(r'(?:such as|one of) ("[^"]*"|.*)', hint)[1]
        entered.append(f"{name} = {example}   # {hint}")
    path = tmp_path / FILE_NAME
    path.write_text("\n".join((f"[{section}]", *entered)), encoding="utf-8")
    assert set(read_boiler(path, tag_needed=False).settings[section]) == set(SETTINGS[section])


def test_a_section_with_figures_shows_those_that_are_not_given(numbers):
    facts = replace(numbers.facts, settings={"outage": {"next": "2027-07-12"}})
    text = render_rerun_input(replace(numbers, facts=facts)).decode()
    assert (
        '[outage]\nnext = "2027-07-12"\n# Not given; put what you know in the place of the dots:\n'
        "# interval_years = ...   # such as 1\n"
    ) in text


def test_it_says_how_to_run_it_again_and_a_hostile_tag_stays_in_its_comment(numbers, round_trip):
    text = render_rerun_input(numbers).decode()
    what_if = text.index("#   tubewright advise B-7 --with advice-input.toml\n")
    assert what_if < text.index("#   tubewright boiler update B-7 advice-input.toml --by NAME\n")
    assert round_trip(STORED, tag='B\n[costs]\nfreight = 1 "') == STORED


ANSWER = "# An engineer's answer would read so; act_mm is the width of open place that is accepted:"


def test_an_answer_to_each_place_that_is_too_wide_stands_as_a_comment_that_can_be_used(
    numbers, tmp_path
):
    facts = replace(numbers.facts, settings={})
    text = render_rerun_input(replace(numbers, facts=facts)).decode()
    assert tomllib.loads(text) == {}
    before, _, line = text.rstrip().rpartition("\n")
    assert before.endswith(f"\n# [limits]\n{ANSWER}")
    path = tmp_path / FILE_NAME
    path.write_text(f"[limits]\n{line.removeprefix('# ')}\n", encoding="utf-8")
    found = read_boiler(path, tag_needed=False).settings["limits"]["cluster"]
    # 311.7 and 253.0 mm; that of the rear is about a plugged stay tube, where no width helps.
    answer = {"basis": "letter of ..., date"}
    assert found == {"front": {"act_mm": 312, **answer}, "chamber": {"act_mm": 253, **answer}}


def test_an_answer_beside_others_goes_into_theirs(numbers, round_trip, tmp_path):
    assert round_trip(STORED) == STORED
    line = (tmp_path / FILE_NAME).read_text(encoding="utf-8").rstrip().rpartition("\n")[2]
    assert line.startswith("# front = { act_mm = 312, ")


def test_where_no_place_is_too_wide_no_answer_is_shown(numbers):
    kept = [each for each in numbers.limits if each.name != "cluster"]
    text = render_rerun_input(replace(numbers, limits=tuple(kept))).decode()
    assert "engineer's answer" not in text
    assert "act_mm" not in text
