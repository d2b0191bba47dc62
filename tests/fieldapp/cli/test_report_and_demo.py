"""``report`` and ``demo``: files written whole, the demo built by the commands themselves."""

import contextlib
import io
import json
import sys

import pypdf
import pytest

from fieldapp.cautions import DECISION
from fieldapp.cli.demo import demo_folder, read_steps
from fieldapp.cli.main import main
from fieldapp.report.writing import FORMATS


def test_the_formats_asked_for_are_written(inspection, done, folder):
    written = done("report B-1 --out r --only json,csv --at 2026-03-11T08:00:00+01:00")
    assert written["inspection"] == inspection
    names = {path.name for path in (folder / "r").iterdir()}
    assert "condition.json" in names
    assert {f"r/{name}" for name in names} == {path.replace("\\", "/") for path in written["files"]}
    assert {path.rpartition(".")[2] for path in names} == {"json", "csv"}


def test_without_only_every_format_is_written(inspection, done, folder):
    done("report B-1 --out r")
    names = {path.name for path in (folder / "r").iterdir()}
    assert {name.rpartition(".")[2] for name in names} == set(FORMATS) - {"site"}
    assert {"site-sheet.pdf", "site-sheet-1.png", "site-sheet-2.png"} < names


def test_the_printed_time_is_fixed_so_that_a_report_can_be_made_again(inspection, done, folder):
    for out in ("r", "s"):
        done(f"report B-1 --out {out} --only pdf,json,html,xlsx,dxf --at 2026-03-11T08:00:00+01:00")
    assert len(list((folder / "r").iterdir())) == 5
    for name in (path.name for path in (folder / "r").iterdir()):
        assert (folder / "r" / name).read_bytes() == (folder / "s" / name).read_bytes()


def test_the_caution_about_decisions_stands_beside_a_report(inspection, tubewright):
    assert f"Decision. {DECISION}\n" in tubewright("report B-1 --out r --only json").err


OFFICE = ("typst", "jinja2", "xlsxwriter", "openpyxl", "ezdxf", "segno", "numpy")


def test_what_the_tablet_can_write_needs_no_office_library(inspection, done, folder, monkeypatch):
    for name in OFFICE:
        monkeypatch.setitem(sys.modules, name, None)
    done("report B-1 --out r --only json,csv,svg,site")
    assert (folder / "r" / "site-sheet.pdf").is_file()


@pytest.mark.parametrize("kind", ["pdf", "html", "xlsx", "dxf"])
def test_without_its_library_a_format_is_refused_and_nothing_is_written(
    inspection, refused, folder, monkeypatch, kind
):
    for name in OFFICE:
        monkeypatch.setitem(sys.modules, name, None)
    (sentence,) = refused(f"report B-1 --out r --only json,{kind}")
    assert sentence.endswith("python3 -m pip install 'tubewright[office]'.")
    assert not (folder / "r").exists()


def test_the_report_can_be_set_for_either_paper(inspection, done, folder):
    for paper, width in (("a4", 595.28), ("letter", 612.0)):
        done(f"report B-1 --out {paper} --only pdf --paper {paper}")
        page = pypdf.PdfReader(folder / paper / "condition.pdf").pages[0]
        assert float(page.mediabox.width) == pytest.approx(width, abs=0.5)


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (
            "--only pdf --paper a5",
            "--paper: 'a5' is not known; write one of: a4, letter.",
        ),
        ("--only ''", "--only is empty; name something, or leave it out."),
        ("--only ,", "--only is empty; name something, or leave it out."),
        (
            "--only json,docx",
            f"docx is not a format of the report; choose from: {', '.join(FORMATS)}.",
        ),
        (
            "--at 2026-03-11",
            "--at: '2026-03-11' is not a date and time; write one such as "
            "2026-11-25T10:00:00+01:00.",
        ),
        (
            "--at 2026-03-11T08:00:00",
            "--at: '2026-03-11T08:00:00' has no offset from UTC; add one such as +01:00, or Z.",
        ),
    ],
)
def test_what_cannot_be_written_is_refused_and_no_folder_is_made(
    inspection, refused, folder, words, sentence
):
    assert refused(f"report B-1 --out r {words}") == [sentence]
    assert not (folder / "r").exists()


def test_a_report_needs_an_inspection(boiler, refused):
    (sentence,) = refused("report B-1 --out r")
    assert sentence == (
        "There is no inspection of this boiler yet; open one with 'inspection new'."
    )


def test_a_file_in_the_place_of_the_folder_is_refused(inspection, refused, folder):
    (folder / "r").write_text("mine", encoding="utf-8")
    (sentence,) = refused("report B-1 --out r --only json")
    assert sentence.startswith("The report could not be written into r")


# ------------------------------------------------------------------------------------ demo


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    """The folder of a demo, and what its command printed; made once."""
    out = tmp_path_factory.mktemp("demo") / "made"
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed), contextlib.redirect_stderr(io.StringIO()):
        assert main(["demo", "--out", str(out)]) == 0
    return out, printed.getvalue().splitlines()


def test_the_demo_ends_with_what_was_written_the_counts_and_what_is_advised(demo):
    out, (*written, counts, advised, by_condition) = demo
    assert {line.removeprefix("Written: ") for line in written} == {
        str(path) for path in out.iterdir() if path.is_file()
    }
    report = json.loads((out / "condition.json").read_text(encoding="utf-8"))
    totals = report["totals"]
    assert counts.startswith(f"LB-2, 2026-09-15, as left: {totals['tubes']} tubes, ")
    assert f"{totals['plugged']} plugged" in counts
    assert f"{totals['bad_now']} bad now, {totals['joint_leaks_only']} leaking" in counts
    assert report["recommendation"]["is_by_money"]
    assert advised == f"Lowest cost on these inputs: {report['recommendation']['words']}"
    assert by_condition == "By condition alone: Retube pass 2."


def test_the_demos_folder_holds_its_database_photos_and_every_format(demo):
    out, _ = demo
    assert (out / "tubewright.db").is_file()
    photos = [s for s in read_steps(demo_folder() / "steps.toml") if s.words[0] == "photo"]
    assert len(list(out.glob("photos/*/*.jpg"))) == len(photos)
    endings = {path.suffix.lstrip(".") for path in out.iterdir() if path.suffix}
    assert endings == {"db", *FORMATS} - {"site"}
    assert (out / "site-sheet.pdf").is_file()
    assert [path for path in out.parent.iterdir() if path != out] == []


def test_the_demos_database_can_be_worked_with(demo, done):
    data = str(demo[0] / "tubewright.db")
    assert done("check", data=data)["problems"] == []
    listed = done("inspection list LB-2", data=data)
    assert [each["date"] for each in listed] == ["2018-06-12", "2022-07-19", "2026-09-15"]
    (dispute,) = done("disputes LB-2", data=data)["disputes"]
    assert dispute["tube"] == "P3-R01-C10"
    assert len(done("crew LB-2", data=data)["faces"]) == 3


def test_a_demo_overwrites_no_database(demo, capsys):
    out, _ = demo
    before = (out / "tubewright.db").read_bytes()
    assert main(["demo", "--out", str(out)]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err == (
        f"{out / 'tubewright.db'} already exists, and the demo overwrites nothing; name another "
        "folder with --out, or remove that file.\n"
    )
    assert (out / "tubewright.db").read_bytes() == before


def test_the_demo_is_the_same_at_every_run_wherever_its_database_lies(
    demo, tubewright, folder, monkeypatch
):
    monkeypatch.setenv("TUBEWRIGHT_DATA", str(folder / "mine.db"))
    assert tubewright("demo --out made", data="theirs.db").code == 0
    assert (folder / "theirs.db").is_file()
    assert (folder / "photos").is_dir()
    assert not (folder / "mine.db").exists()
    assert not (folder / "made" / "tubewright.db").exists()
    for name in ("condition.json", "condition.html", "tubes.csv"):
        assert (folder / "made" / name).read_bytes() == (demo[0] / name).read_bytes()


def test_a_demo_that_cannot_be_written_leaves_nothing(refused, folder):
    (folder / "made").write_text("mine", encoding="utf-8")
    assert refused("demo --out made", data=None) == ["made is a file; name a folder with --out."]
    (sentence,) = refused("demo --out made/inside", data=None)
    assert "name another folder with --out" in sentence
    assert sorted(path.name for path in folder.iterdir()) == ["boiler.toml", "layout.csv", "made"]
