"""Inspections opened, closed, reopened, joined and signed off, and what each seals.

Not here: how late records are told (``tests/model/condition``).
"""

import pytest

from model.errors import RecordRefused, StoreRefused
from model.record.words import Scope
from model.store.edits.inspections import (
    NewInspection,
    SignOff,
    close_inspection,
    join_inspections,
    open_inspection,
    reopen_inspection,
    sign_off,
)
from model.store.queries import inspection_digest, record_ids_of_inspection
from tests.model.store.edits.one_boiler import ADA, BEN, CHIEF

TOOL = {"name": "gauge 3", "method": "ultrasonic", "accuracy_mm": 0.1, "calibration": "2026-01"}


def close(desk, by=CHIEF):
    close_inspection(desk.store, *desk.latest(), by)


def sign(desk, **more):
    sign_off(desk.store, *desk.latest(), SignOff(name=CHIEF, role="supervisor", **more))


def after(desk):
    inspection = desk.latest()[1]
    keys = {hole: key for key, hole in desk.holes.items()}
    return (
        {keys[hole] for hole in inspection.after_closing},
        {keys[hole] for hole in inspection.after_sign_off},
    )


def test_an_inspection_keeps_what_was_said_of_it(desk):
    given = NewInspection(
        date="2026-05-04", scope=Scope.PASSES, passes=[3, 2], purpose="outage",
        opened=["front smokebox"], cleaned=["pass 2"], instruments=[TOOL],
    )  # fmt: skip
    desk.inspection = open_inspection(desk.store, desk.boiler, given, ADA)
    facts = desk.latest()[1].facts
    assert (facts.date, facts.scope, facts.passes) == ("2026-05-04", "passes", {2, 3})
    assert (facts.purpose, facts.opened, facts.cleaned) == (
        "outage", ("front smokebox",), ("pass 2",),
    )  # fmt: skip
    assert facts.instruments == (TOOL,)
    assert [desk.folded().name_of(person) for person in facts.opened_by] == [ADA]
    assert not facts.is_closed


@pytest.mark.parametrize("date", ["2026", "2026-05", "2026-02-30", "4 May 2026", ""])
def test_a_date_that_is_no_day_is_refused_and_leaves_no_person(desk, date):
    before = desk.count()
    with pytest.raises(RecordRefused, match=r"This inspection cannot be recorded: .*date"):
        desk.open(date, by="Somebody New")
    assert desk.count() == before


def test_a_second_one_waits_until_the_first_is_closed(opened):
    with pytest.raises(StoreRefused, match="The inspection of 2026-05-04 is still open; close it"):
        opened.open("2026-06-01")
    close(opened)
    opened.open("2026-06-01")
    assert len(opened.folded().inspections) == 2


def test_closing_twice_is_refused(opened):
    close(opened)
    assert opened.latest()[1].facts.is_closed
    with pytest.raises(StoreRefused, match="The inspection of 2026-05-04 is already closed"):
        close(opened)


def test_late_records_are_taken_and_show_as_after_closing(opened):
    opened.enter(opened.mark("a", "sound"))
    close(opened)
    assert after(opened) == (set(), set())
    opened.enter(opened.mark("b", "sound"), opened.reading("c", 2.5), opened.work("d", "plug"))
    assert after(opened) == ({"b", "c", "d"}, set())
    assert opened.found("b").state == "sound"


def test_reopening_withdraws_the_closing_and_closing_again_takes_late_ones_in(opened):
    close(opened)
    opened.enter(opened.mark("b", "sound"))
    reopen_inspection(opened.store, *opened.latest(), CHIEF, "two tubes were missed")
    assert not opened.latest()[1].facts.is_closed
    assert after(opened) == (set(), set())
    (withdrawal,) = opened.live("withdraw")
    assert withdrawal.body["why"] == "two tubes were missed"
    close(opened)
    assert after(opened) == (set(), set())
    opened.enter(opened.mark("c", "sound"))
    assert after(opened) == ({"c"}, set())


def test_reopening_what_is_open_is_refused(opened):
    with pytest.raises(StoreRefused, match="The inspection of 2026-05-04 is open"):
        reopen_inspection(opened.store, *opened.latest(), CHIEF, "why not")


def test_a_closing_seals_the_vector_and_the_digest_of_what_it_saw(opened):
    opened.enter(opened.mark("a", "sound"))
    folded, inspection = opened.latest()
    members = inspection.facts.members
    ids = record_ids_of_inspection(opened.store, folded.members, members)
    last = max(record.seq for record in folded.live if record.boiler)
    close(opened)
    (closing,) = opened.live("close")
    assert closing.body["vector"] == {opened.boiler: {opened.store.origin: last}}
    assert closing.body["digest"] == inspection_digest(ids)
    assert closing.body["beyond_gap"] == []
    assert closing.seq == last + 1


def test_what_came_before_a_gap_was_filled_is_known_to_the_sign_off_by_its_id(opened, foreign_line):
    body = {"inspection": opened.inspection, "hole": opened.holes["a"], "tube": "a",
            "end": "front", "state": "sound", "how": "seen"}  # fmt: skip
    lines = [
        foreign_line(seq, boiler=opened.boiler, kind="observation", body={**body, "end": end})
        for seq, end in ((1, "front"), (3, "rear"))
    ]
    with opened.store.write() as writer:
        for line in lines:
            writer.add_line(line)
    sign(opened)
    (signed,) = opened.live("sign_off")
    assert signed.body["vector"][opened.boiler]["ooooooooooooo"] == 1
    assert len(signed.body["beyond_gap"]) == 1
    assert after(opened) == (set(), set())
    late = foreign_line(
        2, boiler=opened.boiler, kind="observation", body={**body, "hole": opened.holes["b"]}
    )
    with opened.store.write() as writer:
        writer.add_line(late)
    assert after(opened) == (set(), {"b"})


def test_a_sign_off_says_who_and_what_and_later_records_come_after_it(opened):
    opened.enter(opened.mark("a", "sound"))
    sign(opened, certificate="K-12", statement="Complete.")
    (signed,) = opened.latest()[1].facts.sign_offs
    said = (signed.body["name"], signed.body["role"], signed.body["certificate"])
    assert said == (CHIEF, "supervisor", "K-12")
    assert signed.body["statement"] == "Complete."
    opened.enter(opened.mark("b", "sound"))
    assert after(opened) == (set(), {"b"})
    sign(opened)
    assert len(opened.latest()[1].facts.sign_offs) == 2
    assert after(opened) == (set(), set())


def test_a_sign_off_needs_a_name_and_a_role(opened):
    before = opened.count()
    with pytest.raises(StoreRefused, match="No name was given"):
        sign_off(opened.store, *opened.latest(), SignOff(name=" ", role="supervisor"))
    with pytest.raises(RecordRefused, match=r"This sign_off cannot be recorded: .*role"):
        sign_off(opened.store, *opened.latest(), SignOff(name="Somebody New", role=""))
    assert opened.count() == before


# ------------------------------------------------------------------ joined


OTHER = "iiiiiiiiiiiii"


@pytest.fixture
def both(opened):
    """Two tablets' inspections of one day, both open: one comes from elsewhere."""
    with opened.store.write() as writer:
        body = {"inspection": OTHER, "date": "2026-05-04", "scope": "leak-call"}
        writer.append("inspection", body, boiler=opened.boiler, by="ppppppppppppp")
    return opened


def join(desk, first, second):
    join_inspections(desk.store, desk.folded(), first, second, CHIEF)


def test_two_joined_inspections_are_one_and_are_closed_together(both):
    both.enter(both.mark("a", "sound"))
    join(both, both.inspection, OTHER)
    (inspection,) = both.folded().inspections
    assert inspection.facts.members == {both.inspection, OTHER}
    assert inspection.facts.scope is Scope.FULL
    close(both)
    assert {record.body["inspection"] for record in both.live("close")} == {both.inspection, OTHER}
    assert both.latest()[1].facts.is_closed


def test_one_closed_before_they_were_joined_leaves_the_whole_open_until_the_other_is(both):
    close(both)
    join(both, both.inspection, OTHER)
    assert not both.latest()[1].facts.is_closed
    close(both, by=BEN)
    assert both.latest()[1].facts.is_closed
    assert len(both.live("close")) == 2


def test_joining_what_is_joined_or_unknown_is_refused(both):
    with pytest.raises(StoreRefused, match="There is no inspection zzz of this boiler"):
        join(both, both.inspection, "zzz")
    with pytest.raises(StoreRefused, match="The two ids name one inspection already"):
        join(both, OTHER, OTHER)
    join(both, both.inspection, OTHER)
    with pytest.raises(StoreRefused, match="The two ids name one inspection already"):
        join(both, OTHER, both.inspection)
