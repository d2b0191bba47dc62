"""The templates that ``boiler template`` writes are taken in without a fault.

Not here: writing them to disk.
"""

import re

import pytest

from fieldapp.intake.boiler_toml import read_boiler
from fieldapp.intake.history import read_history
from fieldapp.intake.layout_csv import read_layout
from fieldapp.intake.observations import read_observations
from fieldapp.intake.other_rows import read_causes, read_parts, read_pressure_tests
from fieldapp.intake.templates import template_files
from fieldapp.intake.work_rows import read_work
from model.tubesheet.layout import Circle
from model.tubesheet.validate import layout_faults
from model.wall.earlier_retubes import may_be_renewed_before


@pytest.fixture
def folder(tmp_path):
    for name, text in template_files().items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    return tmp_path


def test_every_template_is_taken_in_without_a_fault(folder):
    tubes = read_layout(folder / "layout.csv").tubes
    passes = {tube.key: tube.pass_ for tube in tubes}
    found = read_observations(
        folder / "observations.csv", keys=passes, nominal_wall_mm=lambda key: 2.9
    )
    assert len(tubes) == 24
    assert (len(found.rows), found.questions) == (8, ())
    readings = [row.reading for row in found.rows if row.reading is not None]
    assert {(each.instrument, each.accuracy_mm) for each in readings} == {("gauge 14", 0.1)}
    assert len(read_history(folder / "history.csv", passes_by_tube=passes)) == 3
    assert len(read_work(folder / "work.csv", passes_by_tube=passes)) == 4
    sheets = [sheet["key"] for sheet in read_boiler(folder / "boiler.toml").sheets]
    assert len(read_parts(folder / "part.csv", keys=passes, sheets=sheets)) == 3
    assert len(read_causes(folder / "cause.csv")) == 1
    assert len(read_pressure_tests(folder / "test.csv")) == 1


def test_what_the_template_says_of_earlier_retubes_is_how_they_are_read(folder):
    lines = template_files()["boiler.toml"].splitlines()
    at = next(n for n, line in enumerate(lines) if line.startswith("earlier_retubes = "))
    names, names_none = lines[at - 3], lines[at - 2]
    assert "Name the passes" in names
    assert "taken for every pass" in names_none
    read = {
        entry: [n for n in (2, 3, 4) if may_be_renewed_before({"earlier_retubes": [entry]}, n)]
        for entry in re.findall(r'"(.+?)"', names + names_none)
    }
    assert read == {
        "pass 2, 2015": [2],
        "passes 2 and 3, 2015": [2, 3],
        "passes 2 to 4": [2, 3, 4],
        "2015": [2, 3, 4],
        "2nd pass": [2, 3, 4],
        "all but pass 3": [2, 3, 4],
    }
    identity = read_boiler(folder / "boiler.toml").identity
    assert [n for n in (2, 3, 4) if may_be_renewed_before(identity, n)] == [2]


def test_the_layout_fits_the_boiler_and_the_boiler_says_it_is_invented(folder):
    boiler = read_boiler(folder / "boiler.toml")
    tubes = read_layout(folder / "layout.csv").tubes
    furnaces = [Circle(**furnace) for furnace in boiler.shell["furnaces"]]
    diameter_mm = boiler.shell["diameter_mm"]
    assert layout_faults(tubes, diameter_mm, furnaces, boiler.tubes["od_mm"]) == []
    assert "invented" in template_files()["boiler.toml"].splitlines()[0]
    shown = {(entry["pass"], entry["end"]) for face in boiler.faces for entry in face["shows"]}
    assert shown == {(tube.pass_, end) for tube in tubes for end in ("front", "rear")}
