"""The pages before the map: lists, one boiler, who, cautions, the start of an inspection."""

from dataclasses import replace
from datetime import date

import pytest

from fieldapp.cautions import CAUTIONS
from fieldapp.view.boiler_pages import (
    CautionsForm,
    build_boiler_page,
    list_boiler_lines,
    list_person_lines,
    name_fault,
    start_form,
)
from model.errors import StoreRefused
from model.record.words import Scope
from model.store.edits.inspections import SignOff, open_inspection, sign_off
from model.store.loading import load_boiler
from model.store.opening import open_store


def test_an_empty_database_lists_nothing(tmp_path, bench):
    with open_store(tmp_path / "empty.db", bench.surroundings) as store:
        assert list_boiler_lines(store) == ()
        assert list_person_lines(store) == ()


def test_a_boiler_says_when_it_was_inspected_and_whether_one_is_open(bench, session):
    (line,) = list_boiler_lines(bench.store)
    assert (line.tag, line.last_inspection, line.open_inspection) == (
        "LB-7",
        "2026-11-25",
        "2026-11-25",
    )
    assert line.words == "An Owner, A Site; inspection of 2026-11-25 is open"
    session.close()
    (line,) = list_boiler_lines(bench.store)
    assert line.words == "An Owner, A Site; last inspected 2026-11-25"


def test_the_page_has_facts_faces_and_inspections(bench, session):
    folded = load_boiler(bench.store, bench.boiler)
    sign_off(
        bench.store, folded, folded.inspections[0], SignOff(name="Eve", role="authorised inspector")
    )
    page = build_boiler_page(bench.store, bench.boiler)
    assert dict(page.fact_lines) == {
        "owner": "An Owner",
        "site": "A Site",
        "kind": "wet-back",
        "tubes": "14 tubes (pass 2: 10, pass 3: 4)",
        "tube size": "50.8 mm outside, 3 mm wall, 3000 mm long",
    }
    assert [(line.face.key, line.tubes) for line in page.faces] == [
        ("front", 14),
        ("turnaround", 10),
        ("rear", 4),
    ]
    assert page.faces[1].words == (
        "Seen from the turnaround chamber, looking forward: mirrored, column 1 is at the right."
    )
    assert [line.words for line in page.inspections] == [
        "2026-11-25, everything, Ada, open",
        "2025-11-20, everything, Ada, closed, signed off by Eve",
    ]
    assert page.main_key == "Go on with the inspection of 2026-11-25"
    assert page.resume == bench.inspection
    session.close()
    page = build_boiler_page(bench.store, bench.boiler)
    assert (page.main_key, page.resume) == ("Start an inspection", None)


def test_a_boiler_that_is_gone_is_said(bench):
    with pytest.raises(StoreRefused, match="not in this database any more"):
        build_boiler_page(bench.store, "z" * 13)


def test_everybody_known_is_offered_by_name(bench):
    bench.person("zoe")
    bench.person("Ben")
    assert [line.name for line in list_person_lines(bench.store)] == ["Ada", "Ben", "zoe"]
    assert name_fault(" ") == "Type a name: every mark says who made it."
    assert name_fault("Ben") is None


def test_every_caution_is_acknowledged_by_itself():
    form = CautionsForm()
    assert form.cautions == CAUTIONS
    for heading, _ in CAUTIONS:
        assert (form.is_done, form.next_heading) == (False, heading)
        form = form.acknowledge(heading)
    assert (form.is_done, form.next_heading) == (True, None)


def test_an_inspection_starts_with_what_the_form_says(bench, session):
    session.close()
    page = build_boiler_page(bench.store, bench.boiler)
    form = start_form(page, date(2026, 12, 1))
    assert (form.date, form.passes_there, form.faults) == ("2026-12-01", (2, 3), ())
    assert form.not_opened_words == ""
    form = form.toggle_opened("rear").toggle_cleaned("front").toggle_cleaned("turnaround")
    assert form.not_opened_words == (
        "Not opened: rear smokebox. Their ends count as not inspected, no entry."
    )
    new = form.new_inspection()
    assert (new.scope, new.opened, new.cleaned) == (
        Scope.FULL,
        ("front", "turnaround"),
        ("front", "turnaround"),
    )
    opened = open_inspection(bench.store, bench.boiler, new, "Ada")
    assert build_boiler_page(bench.store, bench.boiler).resume == opened


@pytest.mark.parametrize(
    ("given", "faults"),
    [
        ({"date": "1.12.2026"}, ("1.12.2026 is no date: write it as 2026-11-25.",)),
        ({"date": "2026-02-30"}, ("2026-02-30 is no date: write it as 2026-11-25.",)),
        ({"date": ""}, ("Nothing is no date: write it as 2026-11-25.",)),
        ({"date": "2026-13-01"}, ("2026-13-01 is no date: write it as 2026-11-25.",)),
        ({"date": "2031-06-01"}, ()),  # the clock of a tablet may stand decades back
        (
            {"date": "2062-12-01"},
            ("2062-12-01 has not come yet: write the day of the inspection.",),
        ),
        ({"date": "1998-05-02"}, ()),
        ({"scope": Scope.PASSES}, ("Choose the passes that are to be inspected.",)),
        ({"scope": Scope.PASSES, "passes": frozenset((3,))}, ()),
    ],
)
def test_a_form_that_cannot_start_says_why(bench, given, faults):
    form = start_form(build_boiler_page(bench.store, bench.boiler), date(2026, 12, 1))
    assert replace(form, **given).faults == faults


def test_passes_are_chosen_one_by_one_and_count_only_in_their_scope(bench):
    form = start_form(build_boiler_page(bench.store, bench.boiler), date(2026, 12, 1))
    form = form.toggle_pass(3).toggle_pass(2).toggle_pass(3)
    assert form.passes == {2}
    assert form.new_inspection().passes == ()
