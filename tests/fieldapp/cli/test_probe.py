"""``probe``: a firm's table stands beside own readings, as that firm's."""

import pytest

from model.condition.boiler_facts import boiler_facts
from model.store.edits.people import load_people
from model.store.loading import find_boiler, load_boiler
from model.store.opening import open_store
from model.store.surroundings import real_surroundings
from model.wall.firm_results import survey_of
from model.wall.governing import inspection_walls

PROBE = (
    "probe B-1 table.csv --map map.toml --firm 'Invented Probes' --method eddy-current "
    "--date 2026-03-09"
)


@pytest.fixture
def files(write):
    write("map.toml", "[columns]", 'tube = "Tube"', 'loss = "Loss %"', 'note = "Remark"',
          "[probe]", 'name = "bobbin 40"')  # fmt: skip
    write("table.csv", "Tube,Loss %,Remark", "P2-R01-C01,40,pitted", "P2-R01-C01,20,",
          "P2-R01-C01,20,", "P2-R01-C02,10,")  # fmt: skip


@pytest.fixture
def look(folder):
    """The folded boiler and the people."""

    def run():
        with open_store(folder / "b.db", real_surroundings()) as store:
            people = load_people(store)
            return load_boiler(store, find_boiler(store, "B-1").boiler), people

    return run


def test_indications_become_readings_of_the_firm_and_twice_changes_nothing(
    inspection, files, done, look
):
    assert done(PROBE)["added"] == 4
    again = done(f"{PROBE} --by 'Uma Voss'")
    assert (again["added"], again["skipped"]) == (0, 4)
    boiler, people = look()
    (firm,) = people.called("Invented Probes")
    (body,) = [r.body for r in people.live if r.kind == "person" and r.body["person"] == firm]
    assert body["company"] == "Invented Probes"
    readings = [each for each in boiler.live if each.kind == "reading"]
    assert {each.by for each in readings} == {firm}
    worst = max((each.body for each in readings), key=lambda each: each["loss_percent"])
    assert worst["note"] == (
        "Result of Invented Probes by eddy-current on 2026-03-09. pitted. Entered by Ida Berg."
    )
    assert (worst["instrument"], worst["method"]) == ("Invented Probes, bobbin 40", "eddy-current")
    assert worst["entered"] == {"value": 40, "unit": "percent"}
    assert survey_of(worst).firm == "Invented Probes"


def test_the_firms_wall_governs_where_it_is_thinner_and_is_never_a_planned_sample(
    inspection, files, done, look, write
):
    done(PROBE)
    write("own.csv", "tube,state,wall_mm,purpose", "P2-R01-C01,sound,2.5,planned",
          "P2-R01-C02,sound,2.5,planned")  # fmt: skip
    done("observe B-1 own.csv")
    boiler, _ = look()
    facts = boiler_facts(boiler)
    walls = inspection_walls(
        boiler, boiler.inspections[-1], default_wall_mm=facts.wall_mm, retirement_mm=None
    ).today
    hole_of = {tube.key: tube.hole for tube in boiler.tubes}
    # 40 % of the wall of 2.9 mm as supplied leaves 1.74 mm, 10 % leaves 2.61 mm.
    assert walls[hole_of["P2-R01-C01"]].wall_mm == pytest.approx(1.74)
    assert walls[hole_of["P2-R01-C02"]].wall_mm == 2.5
    firm = [r.body for r in boiler.live if r.kind == "reading" and survey_of(r.body)]
    assert {body["purpose"] for body in firm} == {"suspect"}


def test_one_of_them_can_be_withdrawn_as_the_firms(inspection, files, done, look):
    done(PROBE)
    boiler, _ = look()
    worst = next(r for r in boiler.live if r.kind == "reading" and r.body["loss_percent"] == 40)
    done(f"withdraw {worst.id} --why 'wrong tube' --by 'Invented Probes'")
    boiler, _ = look()
    assert sum(r.kind == "reading" for r in boiler.live) == 3


def test_a_faulty_table_leaves_nothing_behind_not_even_the_firm(
    inspection, files, refused, look, write
):
    write("table.csv", "Tube,Loss %,Remark", "P2-R01-C09,40,", "P2-R01-C01,140,")
    lines = refused(PROBE)
    assert lines[0].startswith("line 2, Tube: 'P2-R01-C09' is not in the layout; near it: ")
    assert lines[1] == "line 3, Loss %: 140 must be at least 0 and at most 100."
    _, people = look()
    assert "Invented Probes" not in people.names().values()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("--by 'invented probes'", "--by is who enters the table, not the firm; name a person."),
        ("--date 2190-01-01", "--date: 2190-01-01 is in the future; write when it was."),
        ("--date 2026", "--date: '2026' is not a day; write one such as 2026-11-25."),
        ("--method eddy", "--method: 'eddy' is not known"),
        ("--firm ''", "--firm is empty; write something."),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(inspection, files, refused, words, said):
    (line,) = refused(f"{PROBE} {words}")
    assert line.startswith(said)


def test_a_wall_thicker_than_a_tube_can_be_is_kept_and_said_not_to_count(
    inspection, tubewright, write
):
    write("map.toml", "[columns]", 'tube = "Tube"', 'wall = "Wall"', "[units]", 'wall = "mm"')
    write("table.csv", "Tube,Wall", "P2-R01-C01,4.2")
    said = tubewright(PROBE)
    assert said.code == 0
    assert "line 2: 4.2 mm is more than 1.3 times the wall of P2-R01-C01 as supplied" in said.err


def test_a_person_of_that_name_becomes_the_firm(inspection, files, done, look):
    done("inspection close B-1")
    done("inspection new B-1 --date 2026-04-10 --inspector 'Invented Probes'")
    done(f"{PROBE} --by 'Ida Berg' --inspection 2026-04-10")
    _, people = look()
    (firm,) = people.called("Invented Probes")
    (body,) = [r.body for r in people.live if r.kind == "person" and r.body["person"] == firm]
    assert body["company"] == "Invented Probes"


def test_the_report_names_the_firm_beside_own_walls(inspection, files, done, write, folder):
    write("own.csv", "tube,state,wall_mm", "P2-R01-C01,sound,2.5")
    done("observe B-1 own.csv")
    done(PROBE)
    done("report B-1 --out out --only html")
    (page,) = (folder / "out").glob("*.html")
    assert "Invented Probes, eddy current, 2026-03-09: 4 indications on 2 tubes" in page.read_text(
        encoding="utf-8"
    )
