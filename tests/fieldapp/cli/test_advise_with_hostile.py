"""``advise --with`` on files that nobody should write: a sentence or an answer, and nothing stored.

Not here: what a sound what-if says (``test_advise_with``).
"""

import json
import os

import pytest

from model.store.opening import open_store
from model.store.surroundings import real_surroundings

JSON = pytest.mark.parametrize("asked", ["", "--json "])


def records_in(folder):
    with open_store(folder / "b.db", real_surroundings()) as store:
        ((count,),) = store.rows("SELECT count(*) FROM record")
    return count


@pytest.fixture
def hostile(tubewright, folder):
    """Runs the advice with a file; whatever comes of it, nothing is stored and nothing crashes."""

    def run(content, asked="", name="f.toml"):
        if content is not None:
            path = folder / name
            path.write_bytes(content if isinstance(content, bytes) else content.encode())
        before = records_in(folder), (folder / "b.db").read_bytes()
        said = tubewright([*asked.split(), "advise", "B-1", "--with", name])
        assert (records_in(folder), (folder / "b.db").read_bytes()) == before
        assert "Traceback" not in said.err
        return said

    return run


@pytest.fixture
def sentence(hostile):
    """The one sentence by which a file is refused, with nothing on stdout."""

    def run(content, asked="", name="f.toml"):
        said = hostile(content, asked, name)
        assert (said.code, said.out) == (1, ""), said
        (line,) = said.err.splitlines()
        return line

    return run


UNREADABLE = [
    (b"", "The file has none of the sections of a what-if: [wall], [firing], "),
    (b"# a comment alone\n", "The file has none of the sections of a what-if: "),
    (b"\xef\xbb\xbf", "The file has none of the sections of a what-if: "),
    (b"\x7fELF\x02\x01\x01\x00\x00", "f.toml holds a NUL byte, so it is not a text file; "),
    (b"\x89PNG\r\n\x1a\n\xff", "f.toml is not UTF-8 (byte 0x89 in line 1); "),
    ("[costs]\n".encode("utf-16"), "f.toml is UTF-16, not UTF-8; save it again as UTF-8."),
    (b"[costs]\ntube_each = 1\ntube_each = 2\n", "f.toml is not valid TOML: "),
    (b"x = " + b"[" * 5000, "f.toml is nested too deep; "),
    (b"x = " + b"9" * 5000, "f.toml is not valid TOML: "),
    (b"#" * 300_000, "f.toml is larger than 256 kB; "),
]


@JSON
@pytest.mark.parametrize(("content", "begins"), UNREADABLE, ids=range(len(UNREADABLE)))
def test_a_file_that_cannot_be_read_is_refused_in_a_sentence(
    looked_at, sentence, content, begins, asked
):
    assert sentence(content, asked).startswith(begins)


@JSON
def test_a_file_that_is_none_is_refused_in_a_sentence(looked_at, sentence, folder, asked):
    (folder / "folder.toml").mkdir()
    if hasattr(os, "mkfifo"):
        os.mkfifo(folder / "pipe.toml")
        assert sentence(None, asked, "pipe.toml") == "pipe.toml is not a file; name a file."
    assert sentence(None, asked, "gone.toml") == "The file gone.toml does not exist."
    assert sentence(None, asked, "folder.toml") == "folder.toml is not a file; name a file."
    assert sentence(None, asked, "") == ". is not a file; name a file."
    assert sentence(None, asked, "a\nb") == "The file a\\nb does not exist."
    assert sentence(None, asked, "n" * 5000).startswith("The file nnn")


FAULTS = {
    "units in a file that is SI": (
        "[firing]\nstack_f = 450\n",
        '[firing] stack_f: this file is in SI units; write stack_c, or units = "us" on top.',
    ),
    "SI in a file that is US": (
        'units = "us"\n[wall]\nretirement = "stated"\nstated_in = 0.08\nallowance_mm = 0.1\n',
        "[wall] allowance_mm: this file is in US units; write allowance_in.",
    ),
    "units that are none": ('units = "uk"\n[costs]\n', 'units: must be "si" or "us".'),
    "an unknown section": ("[cost]\n", "[cost] is not a known section; did you mean 'costs'?"),
    "a section that is none": ("costs = 7\n", "[costs]: must be a table of keys and values."),
    "an unknown key": (
        "[costs]\ntubes_each = 1\n",
        "[costs] tubes_each: is not a known key; did you mean 'tube_each'?",
    ),
    "a huge price": (
        "[costs]\nplug_each = 1e308\n",
        "[costs] plug_each: 1e+308 must be at least 0 and at most 1e+12.",
    ),
    "a price beyond all numbers": (
        "[costs]\nplug_each = 1e999\n",
        "[costs] plug_each: inf is not a number; write a number such as ",
    ),
    "a price of 300 digits": (f"[costs]\nplug_each = {'9' * 300}\n", "[costs] plug_each: is too "),
    "a negative price": (
        "[costs]\nplug_each = {value = -22, source = 'quoted'}\n",
        "[costs] plug_each, value: -22 must be at least 0 and at most 1e+12.",
    ),
    "a fuel that does not exist": (
        '[firing]\nfuel = "peat"\n',
        "[firing] fuel: 'peat' is not known; write one of: natural gas, light oil.",
    ),
    "no year ahead": (
        "[costs]\nhorizon_years = 0\n",
        "[costs] horizon_years: 0 must be at least 1 and at most 100.",
    ),
    "an outage every day": (
        "[outage]\ninterval_years = 0.003\n",
        "[outage] interval_years: 0.003 must be at least 0.1 and at most 100.",
    ),
    "a watch beyond act": (
        "[limits]\nplugged_percent = {watch = 20, act = 5}\n",
        "[limits] plugged_percent: watch 20 must be at most act 5.",
    ),
}


@JSON
@pytest.mark.parametrize("what", FAULTS)
def test_what_cannot_be_meant_is_refused_in_a_sentence(looked_at, sentence, what, asked):
    content, begins = FAULTS[what]
    assert sentence(content, asked).startswith(begins)


def test_several_faults_are_told_at_once_a_sentence_each(looked_at, hostile):
    said = hostile("".join(content for content, _ in FAULTS.values() if "[limits]" in content)
                   + "[costs]\nplug_each = -1\ncleaning = -1\n")  # fmt: skip
    assert (said.code, said.out, len(said.err.splitlines())) == (1, "", 3)


def test_the_tag_of_another_boiler_is_left_out_and_named(priced, hostile, costs):
    said = hostile(f'[boiler]\ntag = "B-2"\nmawp_mpa = 2.0\n{costs}', "--json")
    assert said.code == 0
    data = json.loads(said.out)
    assert data["notes"] == [
        "Left out of the file: [boiler]; a what-if changes only [wall], [firing], [outage], "
        "[costs], [limits]."
    ]
    assert data["what_if"] == "f.toml"


def test_costs_that_lack_essentials_give_an_advice_by_condition_that_names_them(priced, hostile):
    said = hostile("[costs]\ntube_each = 118\ndiscount_percent = 7\n", "--json")
    assert said.code == 0
    data = json.loads(said.out)
    assert (data["is_by_money"], data["trials"]) == (False, 0)
    assert data["by"].startswith("condition alone. [costs] lacks labour_per_hour, ")
    assert "plug_each in [costs]" in data["missing"]
    assert "tube_each in [costs]" not in data["missing"]


def test_an_empty_section_takes_the_stored_one_away(priced, hostile):
    assert json.loads(hostile("[costs]\n", "--json").out)["is_by_money"] is False


@pytest.mark.parametrize(
    ("given", "wanted"),
    [
        (("horizon_years = 10", "horizon_years = 100"), {"horizon_years": 100}),
        (("discount_percent = 7", "discount_percent = 100"), {"horizon_years": 10}),
        (("discount_percent = 7", "discount_percent = 0"), {"horizon_years": 10}),
        (("tube_each = 118", "tube_each = 1e12"), {"currency": "USD"}),
        (("interval_years = 1", "interval_years = 0.1"), {"trials": 10_000}),
    ],
)
def test_figures_at_their_bounds_are_worked_with(looked_at, costs, hostile, given, wanted):
    content = costs.replace(*given)
    assert content != costs
    said = hostile(content, "--json")
    assert said.code == 0
    data = json.loads(said.out)
    assert data["is_by_money"] is True
    assert {key: data[key] for key in wanted} == wanted


def test_an_output_of_which_nothing_is_needed_is_worked_with(looked_at, costs, hostile):
    content = f"{costs}[firing]\nneeded_output_kw = 0\nstandby_kw = 0\nhours_per_year = 0\n"
    said = hostile(content, "--json")
    assert said.code == 0
    data = json.loads(said.out)
    assert data["is_by_money"] is True
    assert "the output needed ([firing] needed_output_kw)" not in data["missing"]


@JSON
def test_part_of_a_boiler_gives_no_advice_on_the_whole_with_any_file(
    boiler, done, write, costs, hostile, asked
):
    done("inspection new B-1 --date 2026-03-10 --inspector Ida --scope leak-call")
    write("o.csv", "tube,state,leak_at,how", "P2-R01-C01,leaking,bore,seen")
    done("observe B-1 o.csv")
    said = hostile(costs, asked)
    assert said.code == 0
    if asked:
        assert json.loads(said.out)["options"] == []
    else:
        assert "No advice on the whole boiler: Plug the bad tubes." in said.out
