"""``work`` and ``history``: what a crew did, in an outage, between inspections, long ago."""

import pytest

from model.store.loading import find_boiler, load_boiler
from model.store.opening import open_store
from model.store.surroundings import real_surroundings


@pytest.fixture
def folded(folder):
    def look():
        with open_store(folder / "b.db", real_surroundings()) as store:
            return load_boiler(store, find_boiler(store, "B-1").boiler)

    return look


@pytest.fixture
def state_left(folded):
    """``state_left(tube, end)`` in the latest inspection."""

    def look(key, end="front"):
        boiler = folded()
        (hole,) = [tube.hole for tube in boiler.tubes if tube.key == key]
        return boiler.inspections[-1].end_left(hole, end).state

    return look


def test_work_from_the_day_of_the_open_inspection_on_belongs_to_it(inspection, done, folded, write):
    write(
        "w.csv",
        "tube,does,date,ends,plug_type,by,source",
        "P2-R01-C01,plug,2026-03-10,,driven,Crew Ltd,list 4",
        "P2-R01-C02,plug,2026-03-11,front,,,",
        "P2-R01-C03,plug,2026-03-09,,,,",
        "P2-R01-C04,plug,2026-03,,,,",
    )
    said = done("work B-1 w.csv")
    assert (said["added"], said["inspection"]) == (4, inspection)
    boiler = folded()
    of_outage = {record.body["done_on"]: record.body for record in boiler.inspections[0].work}
    assert sorted(of_outage) == ["2026-03-10", "2026-03-11"]
    assert of_outage["2026-03-10"]["source"] == "done by Crew Ltd; list 4"
    assert of_outage["2026-03-10"]["plug"]["type"] == "driven"
    assert of_outage["2026-03-11"]["ends"] == ["front"]
    between = {record.body["done_on"] for record in boiler.gap_work}
    assert between == {"2026-03-09", "2026-03"}


def test_work_of_a_named_inspection_belongs_to_it_whatever_is_open(
    inspection, done, state_left, refused, write
):
    write("w.csv", "tube,does,date", "P2-R01-C01,plug,2026-03")
    done("inspection close B-1")
    assert done("work B-1 w.csv --inspection 2026-03-10")["inspection"] == inspection
    assert state_left("P2-R01-C01") == "plugged"
    write("w.csv", "tube,does,date", "P2-R01-C02,plug,2026-02")
    assert refused("work B-1 w.csv --inspection 2026-03-10") == [
        "line 2, date: 2026-02 is before the inspection of 2026-03-10; leave --inspection out for "
        "work between inspections."
    ]


def test_work_between_inspections_is_carried_into_the_next(
    inspection, done, state_left, refused, write
):
    done("inspection close B-1")
    write("w.csv", "tube,does,date", "P2-R01-C01,plug,2026-05")
    assert refused("work B-1 w.csv") == ["Nobody is named: say who with --by NAME."]
    assert done("work B-1 w.csv --by Ada")["inspection"] is None
    done("inspection new B-1 --date 2026-09-01 --inspector Ida")
    assert state_left("P2-R01-C01") == "plugged"


def test_rows_of_one_tube_are_done_one_after_the_other(inspection, done, state_left, write):
    write(
        "w.csv",
        "tube,does,date",
        "P2-R01-C01,unplug,2026-03-10",
        "P2-R01-C01,replace,2026-03-10",
        "P2-R01-C02,replace,2026-03-10",
        "P2-R01-C02,plug,2026-03-10",
    )
    assert done("work B-1 w.csv")["added"] == 4
    assert done("disputes B-1")["disputes"] == []
    assert state_left("P2-R01-C02") == "plugged"
    assert done("work B-1 w.csv")["skipped"] == 4


def test_work_that_follows_or_corrects_an_earlier_record_names_it(
    inspection, done, refused, folded, state_left, write
):
    write("w.csv", "tube,does,date", "P2-R01-C01,plug,2026-03-10")
    done("work B-1 w.csv")
    (plug,) = folded().inspections[0].work
    head = "tube,does,date,follows,corrects"
    write("w.csv", head, f"P2-R01-C01,unplug,2026-03-11,{plug.id[:8]},")
    done("work B-1 w.csv")
    assert state_left("P2-R01-C01") is None
    assert done("disputes B-1")["disputes"] == []
    write("w.csv", head, "P2-R01-C01,unplug,2026-03-11,abcdef,")
    assert refused("work B-1 w.csv") == [
        "line 2, follows: no record of work of this boiler begins with abcdef; write the id of one."
    ]


def test_work_of_an_outage_is_not_done_after_the_next_inspection(inspection, done, refused, write):
    done("inspection close B-1")
    done("inspection new B-1 --date 2026-06-01 --inspector 'Ida Berg'")
    write(
        "w.csv",
        "tube,does,date",
        "P2-R01-C01,plug,2026-03-09",
        "P2-R01-C02,plug,2026-06-01",
        "P2-R01-C03,plug,2026-06-02",
        "P2-R01-C04,plug,2026-07",
        "P2-R02-C01,plug,2026",
    )
    between = "leave --inspection out for work between inspections."
    assert refused("work B-1 w.csv --inspection 2026-03-10") == [
        f"line 2, date: 2026-03-09 is before the inspection of 2026-03-10; {between}",
        "line 4, date: 2026-06-02 is after the next inspection, of 2026-06-01; name that one, or "
        f"{between}",
        "line 5, date: 2026-07 is after the next inspection, of 2026-06-01; name that one, or "
        f"{between}",
    ]


@pytest.mark.parametrize(("command", "head"), [("work", "does"), ("history", "what")])
def test_work_and_events_of_the_future_are_refused(inspection, refused, write, command, head):
    write("f.csv", f"tube,{head},date", "P2-R01-C01,plug,2199-01-01", "P2-R01-C02,plug,2199")
    assert refused(f"{command} B-1 f.csv") == [
        "line 2, date: '2199-01-01' is in the future; write when it was.",
        "line 3, date: '2199' is in the future; write when it was.",
    ]


def test_plug_and_replace_that_know_nothing_of_each_other_are_a_dispute(inspection, done, write):
    for does in ("plug", "replace"):
        write("w.csv", "tube,does,date", f"P2-R01-C01,{does},2026-03-10")
        done("work B-1 w.csv")
    disputes = done("disputes B-1")["disputes"]
    assert {(each["tube"], each["end"], each["by_work"]) for each in disputes} == {
        ("P2-R01-C01", "front", True),
        ("P2-R01-C01", "rear", True),
    }
    assert {each["counted_as"] for each in disputes} == {"plugged"}


def test_history_is_kept_with_its_partial_dates_and_acts_on_tubes(
    boiler, done, folded, state_left, write
):
    write(
        "h.csv",
        "date,what,tube,pass,count,plug_type,by,source",
        "2015,retubed,,2,,,Crew Ltd,invoice",
        "2019-06,leak,,3,2,,,log",
        "2021-03-14,plug,P2-R01-C03,,,driven,night crew,log",
    )
    assert done("history B-1 h.csv --by Ada")["added"] == 3
    assert done("history B-1 h.csv --by Ada")["skipped"] == 3
    plug = next(each.body for each in folded().gap_work if each.body["what"] == "plug")
    assert (plug["date"], plug["by_text"], plug["source"]) == ("2021-03-14", "night crew", "log")
    done("inspection new B-1 --date 2026-03-10 --inspector Ida")
    assert state_left("P2-R01-C03", "rear") == "plugged"
    assert folded().carried_after.life(folded().tubes[0].hole).since == "2015"


def test_history_needs_somebody_unless_one_inspection_is_open(boiler, done, refused, write):
    write("h.csv", "date,what", "2017,cleaned")
    assert refused("history B-1 h.csv") == ["Nobody is named: say who with --by NAME."]
    done("inspection new B-1 --date 2026-03-10 --inspector Ida")
    assert done("history B-1 h.csv")["added"] == 1
