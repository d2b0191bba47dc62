"""``boiler``: new, update, list, show, same, template."""

import json

import pytest

from fieldapp.intake.templates import template_files


def test_a_boiler_is_made_listed_and_shown(done, folder):
    made = done("boiler new boiler.toml --layout layout.csv --by 'Ada Moss'")
    assert (made["tag"], made["tubes"], made["passes"]) == ("B-1", 18, [2, 3])
    assert [each["boiler"] for each in done("boiler list")] == [made["boiler"]]
    shown = done("boiler show B-1")
    assert shown["passes"] == [{"pass": 2, "tubes": 8}, {"pass": 3, "tubes": 10}]
    assert [face["key"] for face in shown["faces"]] == ["front", "turnaround", "rear"]
    assert done("person list")[0]["name"] == "Ada Moss"


def test_a_boiler_is_found_by_its_tag_in_any_case_and_by_the_beginning_of_its_id(boiler, done):
    for name in ("b-1", " B - 1", boiler, boiler[:5]):
        assert done(["boiler", "show", name])["boiler"] == boiler


def test_the_words_of_the_mirror_stand_at_every_face(boiler, tubewright):
    said = tubewright("boiler show B-1").out
    assert "looking rearward: not mirrored, column 1 is at the left" in said
    assert said.count("looking forward: mirrored, column 1 is at the right") == 2


def test_a_boiler_needs_somebody_who_says_so(refused, folder):
    assert refused("boiler new boiler.toml --layout layout.csv") == [
        "Nobody is named: say who with --by NAME."
    ]
    assert not (folder / "b.db").exists()


def test_every_fault_of_a_layout_is_told_with_its_line_and_no_database_is_made(
    refused, folder, write
):
    write(
        "layout.csv",
        "tube,pass,row,column,x_mm,y_mm",
        "A,2,1,1,0,0",
        "B,2,1,2,10,0",
        "C,2,1,3,900,0",
    )
    faults = refused("boiler new boiler.toml --layout layout.csv --by Ada")
    assert faults == [
        "line 4: Tube C reaches 925.4 mm from the centre, outside the shell, whose radius is "
        "700.0 mm.",
        "line 3: Tubes A and B overlap: their centres are 10.0 mm apart.",
    ]
    assert not (folder / "b.db").exists()


def test_a_narrow_ligament_is_a_note_and_no_refusal(tubewright, write):
    write(
        "layout.csv",
        "tube,pass,row,column,x_mm,y_mm",
        "A,2,1,1,0,0",
        "B,2,1,2,60,0",
    )
    said = tubewright("boiler new boiler.toml --layout layout.csv --by Ada")
    assert said.code == 0
    assert "Note: Sheet front: the narrowest ligament, between A and B, is 9.2 mm" in said.err


def test_sheets_without_faces_must_be_those_that_the_kind_has(refused, folder):
    text = (folder / "boiler.toml").read_text(encoding="utf-8")
    (folder / "boiler.toml").write_text(text + '\n[[sheets]]\nkey = "middle"\n', encoding="utf-8")
    (sentence,) = refused("boiler new boiler.toml --layout layout.csv --by Ada")
    assert "no face stands before middle" in sentence
    assert "front, turnaround, rear" in sentence


def test_a_sheet_of_the_usual_faces_keeps_its_plate(done, folder):
    text = (folder / "boiler.toml").read_text(encoding="utf-8")
    sheet = '\n[[sheets]]\nkey = "rear"\nplate_mm = 14\n'
    (folder / "boiler.toml").write_text(text + sheet, encoding="utf-8")
    done("boiler new boiler.toml --layout layout.csv --by Ada")
    sheets = {each["key"]: each for each in done("boiler show B-1")["sheets"]}
    assert (sheets["rear"]["plate_mm"], sheets["rear"]["name"]) == (14, "rear tube sheet")


def test_hole_ids_of_another_boiler_are_refused(refused, write):
    write("layout.csv", "tube,pass,row,column,x_mm,y_mm,hole", "A,2,1,1,0,0,aaaaaaaaaaaaa")
    (sentence,) = refused("boiler new boiler.toml --layout layout.csv --by Ada")
    assert sentence.startswith("line 2, hole: aaaaaaaaaaaaa is of another boiler")


def test_two_boilers_may_have_one_tag_and_then_the_id_is_asked_for(boiler, tubewright, refused):
    words = "boiler new boiler.toml --layout layout.csv --by Ada"
    assert refused(words) == [
        f"There is a boiler B-1 already: {boiler} (Invented site); 'boiler update' revises it. "
        "Give --confirm if this is another boiler with the same tag; nothing was changed."
    ]
    second = tubewright(f"{words} --confirm --json")
    assert second.code == 0
    assert f"{boiler} (Invented site) has the tag B-1 too" in second.err
    (sentence,) = refused("boiler show B-1")
    assert boiler in sentence
    assert second.data["boiler"] in sentence


# ------------------------------------------------------------------------------- update


def test_an_update_changes_what_the_file_gives_and_keeps_the_rest(boiler, done, write):
    write("more.toml", "[boiler]", "mawp_mpa = 0.8", "", "[wall]", "note_percent = 15")
    assert done("boiler update B-1 more.toml --by Ada")["changed"] == ["boiler", "wall"]
    shown = done("boiler show B-1")
    assert (shown["mawp_mpa"], shown["owner"]) == (0.8, "Invented owner")
    assert shown["settings"]["wall"] == {"note_percent": 15}
    assert done("boiler update B-1 more.toml --by Ada")["changed"] == []


def test_an_update_needs_something_to_update(boiler, refused):
    (sentence,) = refused("boiler update B-1 --by Ada")
    assert sentence.startswith("Nothing to update")


def test_tubes_that_go_or_change_their_key_must_be_confirmed(boiler, done, refused, write, folder):
    lines = (folder / "layout.csv").read_text(encoding="utf-8").splitlines()
    lines[1] = lines[1].replace("P2-R01-C01", "FIRST")
    write("layout.csv", *lines[:-1], "NEW,3,2,6,240,140")
    assert refused("boiler update B-1 --layout layout.csv --by Ada") == [
        "Tube P2-R01-C01 would be called FIRST.",
        "Tube P3-R02-C05 is not in the new layout and would be retired.",
        "Layout: 16 kept, 1 renamed, 1 new, 1 retired. Give --confirm if that is right; nothing "
        "was changed.",
    ]
    changed = done("boiler update B-1 --layout layout.csv --by Ada --confirm")
    assert changed["layout"] == {
        "kept": 16,
        "renamed": [{"from": "P2-R01-C01", "to": "FIRST"}],
        "revived": [],
        "new": ["NEW"],
        "retired": ["P3-R02-C05"],
    }
    assert done("boiler show B-1")["tubes_total"] == 18


def test_a_tube_put_back_where_one_was_retired_has_its_records_again(
    inspection, done, tubewright, write, folder
):
    write("o.csv", "tube,state", "P3-R02-C05,plugged")
    done("observe B-1 o.csv")
    whole = (folder / "layout.csv").read_text(encoding="utf-8").splitlines()
    write("layout.csv", *whole[:-1])
    done("boiler update B-1 --layout layout.csv --by Ada --confirm")
    write("layout.csv", *whole)
    said = tubewright("boiler update B-1 --layout layout.csv --by Ada")
    assert said.out.splitlines() == [
        "Changed: layout.",
        "Layout: 17 kept, 0 renamed, 1 revived, 0 new, 0 retired.",
        "Tube P3-R02-C05 stands where a tube was retired: its hole is revived, with its records.",
    ]
    done("report B-1 --out r --only json")
    report = json.loads((folder / "r" / "condition.json").read_text(encoding="utf-8"))
    assert report["totals"]["plugged"] == 1


def test_a_layout_with_its_keys_shifted_moves_no_mark(inspection, done, write, folder):
    write("o.csv", "tube,state,end", "P2-R01-C01,leaking,front")
    done("observe B-1 o.csv")
    lines = (folder / "layout.csv").read_text(encoding="utf-8").splitlines()
    keys = [line.partition(",")[0] for line in lines[1:5]]
    shifted = [*keys[1:], "P2-R01-C05"]
    lines[1:5] = [
        f"{new},{line.partition(',')[2]}" for new, line in zip(shifted, lines[1:5], strict=True)
    ]
    write("layout.csv", *lines)
    done("boiler update B-1 --layout layout.csv --by Ada --confirm")
    tasks = done("crew B-1")["faces"][0]["tasks"]
    assert [task["tube"] for task in tasks if task["do"].startswith("plug")] == ["P2-R01-C02"]


# -------------------------------------------------------------------------- same, template


def test_two_boilers_that_are_one_are_joined(boiler, done):
    other = done("boiler new boiler.toml --layout layout.csv --by Ada --confirm")["boiler"]
    joined = done(f"boiler same {boiler[:6]} {other} --by Ada")
    assert joined == {
        "boiler": min(boiler, other),
        "joined": sorted([boiler, other]),
        "tubes": 18,
    }
    assert len(done("boiler list")) == 1
    assert done(["boiler", "show", max(boiler, other)])["tubes_total"] == 18


def test_boilers_with_other_tubes_are_not_joined(boiler, done, refused, write):
    write("layout.csv", "tube,pass,row,column,x_mm,y_mm", "P2-R01-C01,2,1,1,0,0")
    other = done("boiler new boiler.toml --layout layout.csv --by Ada --confirm")["boiler"]
    faults = refused(f"boiler same {boiler} {other} --by Ada")
    assert "make the two layouts agree with 'boiler update' first" in faults[0]


def test_the_templates_make_a_boiler_that_works(done, folder):
    written = done("boiler template own")["files"]
    assert len(written) == len(template_files())
    made = done("boiler new own/boiler.toml --layout own/layout.csv --by Ada")
    assert made["tag"] == "EXAMPLE-1"
    done("inspection new EXAMPLE-1 --date 2025-11-25 --inspector 'A. Example'")
    assert done("history EXAMPLE-1 own/history.csv")["added"] == 3
    assert done("observe EXAMPLE-1 own/observations.csv")["added"] == 10
    assert done("work EXAMPLE-1 own/work.csv")["added"] == 4
    assert done("part EXAMPLE-1 own/part.csv")["added"] == 3
    assert done("cause EXAMPLE-1 own/cause.csv")["added"] == 1
    assert done("test EXAMPLE-1 own/test.csv")["added"] == 1


def test_templates_overwrite_nothing(tubewright, refused, folder):
    assert tubewright("boiler template own").code == 0
    (sentence,) = refused("boiler template own")
    assert "already exists" in sentence


@pytest.mark.parametrize("words", ["boiler list", "boiler show B-1"])
def test_what_only_reads_works_where_nothing_can_be_written(boiler, tubewright, folder, words):
    said = tubewright([*words.split(), "--json"])
    assert said.code == 0
    assert json.loads(said.out)


ANSWER = '\n[limits]\ncluster = {%s = {act_mm = 240, basis = "letter"}}\n'


def test_an_engineers_answer_is_for_a_sheet_that_the_boiler_has(done, refused, folder):
    text = (folder / "boiler.toml").read_text(encoding="utf-8")
    (folder / "boiler.toml").write_text(text + ANSWER % "chamber", encoding="utf-8")
    (said,) = refused("boiler new boiler.toml --layout layout.csv --by Ada")
    assert said.startswith("[limits] cluster: 'chamber' is not the key of a sheet; write one of: ")
    assert "turnaround" in said
    (folder / "boiler.toml").write_text(text + ANSWER % "turnaround", encoding="utf-8")
    done("boiler new boiler.toml --layout layout.csv --by Ada")
    (folder / "answer.toml").write_text(ANSWER % "rear", encoding="utf-8")
    assert done("boiler update B-1 answer.toml --by Ada")["changed"] == ["limits"]
