"""What the report says of places beside bare plate, and of the widths that an engineer accepts.

Not here: which places there are (``tests/model/condition/test_clusters``).
"""

from datetime import UTC, datetime

import pytest

from fieldapp.report.numbers import build_numbers
from fieldapp.report.pieces import Paragraph, Table
from fieldapp.report.sections.limits import build_limits
from fieldapp.report.sections.maps import build_maps
from fieldapp.report.sections.plug_clusters import build_plug_clusters
from fieldapp.report.site_lists import build_site_lists
from tests.model.condition.small_boiler import SmallBoiler

ROWS = {2: 9, 3: 9, 4: 9}
"""One row of nine tubes for each pass, 70 mm apart: pass 3 stands between the two others."""
PRINTED = datetime(2024, 10, 11, 8, 0, tzinfo=UTC)
LETTER = "letter of the owner's engineer, 2026-10-01"


def numbers_of(plugged, answers=None):
    """A boiler whose front sheet may have 197 mm between stays."""
    boiler = SmallBoiler(ROWS)
    shows = [{"pass": number, "end": "front"} for number in ROWS]
    boiler.journal.add(
        "boiler",
        {
            "boiler": boiler.journal.boiler, "tag": "B-7", "kind": "other", "mawp_mpa": 1.0,
            "tubes": {"od_mm": 51.0, "wall_mm": 3.0}, "shell": {"diameter_mm": 3000.0},
            "sheets": [{"key": "front", "name": "front sheet", "plate_mm": 14, "stress_mpa": 90}],
            "faces": [{"key": "f", "name": "front", "sheet": "front", "looks": "rearward",
                       "shows": shows}],
        },
    )  # fmt: skip
    if answers is not None:
        values = {"cluster": answers}
        boiler.journal.add("settings", {"section": "limits", "values": values})
    for key in plugged:
        boiler.see(key, "plugged")
    boiler.see_rest()
    folded = boiler.folded()
    return build_numbers(
        folded, boiler.inspection(folded=folded), printed_at=PRINTED, digest="d" * 64
    )


def tables(section):
    return {
        piece.caption: [tuple(cell.words for cell in row.cells) for row in piece.rows]
        for piece in section.pieces
        if isinstance(piece, Table)
    }


def said(section):
    return " ".join(piece.words for piece in section.pieces if isinstance(piece, Paragraph))


def hazards(numbers):
    (found,) = [each for each in build_site_lists(numbers) if each.heading == "Hazards"]
    return [line for line in found.lines if line.startswith("K")]


def place_limit(numbers):
    (limits,) = tables(build_limits(numbers)).values()
    (row,) = [row for row in limits if row[0].startswith("widest")]
    return row


def test_a_plug_beside_bare_plate_stands_apart_and_is_not_judged():
    numbers = numbers_of(["4.5"])
    section = build_plug_clusters(numbers)
    found = tables(section)
    (bare,) = found["Unheld places beside bare plate, which cannot be judged"]
    name, sheet, plugs, span, all_in, permitted, status = bare
    assert (name, sheet, plugs, permitted, status) == (
        "K1",
        "front sheet",
        "4.5",
        "197",
        "not judged",
    )
    assert float(span) > float(all_in) > 197.0
    assert found["Unheld places around plugs to be looked into"] == []
    (kept,) = found["Unheld places around plugs that keep the permitted pitch"]
    assert kept == ("K2", "front sheet", "4.5", "140", "197", "ok")
    assert "wider than permitted even with every tube in service" in said(section)


def test_a_plug_between_tubes_has_no_table_of_bare_plate():
    section = build_plug_clusters(numbers_of(["3.5"]))
    assert list(tables(section)) == [
        "Unheld places around plugs to be looked into",
        "Unheld places around plugs that keep the permitted pitch",
    ]
    assert "every tube in service" not in said(section)


def test_limits_maps_and_site_sheet_say_what_lies_beside_bare_plate():
    numbers = numbers_of(["4.5", "3.4", "3.5", "2.4", "2.5"])
    assert place_limit(numbers)[0] == (
        "widest unheld place around plugs, but for those beside bare plate, which cannot be judged"
    )
    named = [piece.caption for piece in build_maps(numbers).pieces if hasattr(piece, "caption")]
    (caption,) = [each for each in named if "Circled" in each]
    assert caption.endswith(
        "Circled: K1, K2 and K3, see the clusters of plugs. K1 and K2 lie beside bare plate and "
        "cannot be judged by the plugs."
    )
    said_of = {
        line.partition(",")[0]: line.partition(" permitted: ")[2] for line in hazards(numbers)
    }
    beside = "beside bare plate, too wide with every tube in; see what holds the plate there"
    assert said_of == {"K1": beside, "K2": beside, "K3": "ask an engineer"}


def test_without_bare_plate_limits_and_maps_say_nothing_of_it():
    numbers = numbers_of(["3.4", "3.5", "3.6"])
    assert place_limit(numbers)[0] == "widest unheld place around plugs"
    assert not any(
        "bare plate" in getattr(piece, "caption", "") for piece in build_maps(numbers).pieces
    )


@pytest.mark.parametrize("width_mm", [240, 240.0])
def test_an_engineers_answer_is_said_with_its_basis(width_mm):
    answers = {"front": {"act_mm": width_mm, "basis": LETTER}}
    section = build_plug_clusters(numbers_of(["3.5"], answers))
    (kept,) = tables(section)["Unheld places around plugs that keep the permitted pitch"]
    assert kept[4:] == ("240", "ok")
    assert f"Front sheet: 240 mm is permitted by {LETTER}, in place of" in said(section)
    limit = place_limit(numbers_of(["3.5"], answers))
    assert limit[2:] == ("140 mm", "", "above 240 mm", "ok", LETTER)


def test_an_answer_for_no_sheet_of_the_boiler_is_named_and_not_used():
    numbers = numbers_of(["3.5"], {"chambr": {"act_mm": 240, "basis": LETTER}})
    assert place_limit(numbers)[4] == "above 197 mm"
    assert "[limits] cluster names chambr, which is no sheet of this boiler: not used." in said(
        build_plug_clusters(numbers)
    )


@pytest.mark.parametrize("stored", [None, 5, "x", [], {"front": 5}, {"front": {"act_mm": 240}}])
def test_whatever_another_program_stored_changes_nothing(stored):
    assert place_limit(numbers_of(["3.5"], stored))[4] == "above 197 mm"
