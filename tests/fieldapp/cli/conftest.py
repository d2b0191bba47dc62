"""A small boiler, and the command line as somebody types it.

Pass 2 has rows of 4 and 4 tubes, pass 3 rows of 5 and 5: eighteen tubes, 36 ends.
"""

import json
import shlex
from dataclasses import dataclass
from datetime import datetime, timedelta

import pytest

import model.store.surroundings
from fieldapp.cli.main import main

BOILER_TOML = """\
[boiler]
tag = "B-1"
owner = "Invented owner"
site = "Invented site"
kind = "wet-back"
mawp_mpa = 1.0

[tubes]
od_mm = 50.8
wall_mm = 2.9

[shell]
diameter_mm = 1400
"""

COSTS = """\
[outage]
next = 2027-03-10
interval_years = 1
tube_lead_weeks = 8

[costs]
currency = "USD"
labour_per_hour = { value = 95.0, source = "quoted" }
set_up_hours = 16
hours_per_tube = 3
hours_per_plug = 1
tube_each = 118
plug_each = 22
open_and_close = 2400
pressure_test = 900
outage_per_day = { value = 2200.0, source = "owner" }
days_per_100_tubes = 6
forced_outage_days = 3
forced_outage_per_day = 9000
discount_percent = 7
horizon_years = 10
"""


def layout_lines(rows=((2, 1, 4), (2, 2, 4), (3, 1, 5), (3, 2, 5))):
    """``tube,pass,row,column,x_mm,y_mm`` of rows given as (pass, row, tubes)."""
    yield "tube,pass,row,column,x_mm,y_mm"
    for pass_, row, columns in rows:
        y_mm = (300 if pass_ == 3 else 0) - 80 * row
        for column in range(1, columns + 1):
            x_mm = (column - (columns + 1) / 2) * 80
            yield f"P{pass_}-R{row:02d}-C{column:02d},{pass_},{row},{column},{x_mm:g},{y_mm}"


LAYOUT_CSV = "\n".join(layout_lines()) + "\n"


@dataclass(frozen=True)
class Said:
    """What a command line came to."""

    code: int
    out: str
    err: str

    @property
    def data(self):
        return json.loads(self.out)


FIRST_DAY = datetime(2026, 11, 25, 12).astimezone()
"""Dates of the tests are before it, and no date of the future is taken in."""


class _Clock(datetime):
    """The machine's clock, put forward where it is behind the tests."""

    @classmethod
    def now(cls, tz=None):
        return datetime.now(tz) + cls.ahead

    ahead = max(FIRST_DAY - datetime.now().astimezone(), timedelta())


@pytest.fixture(autouse=True)
def clock_of_the_tests(monkeypatch):
    monkeypatch.setattr(model.store.surroundings, "datetime", _Clock)


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """The working folder, with the files of the small boiler in it."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "boiler.toml").write_text(BOILER_TOML, encoding="utf-8")
    (tmp_path / "layout.csv").write_text(LAYOUT_CSV, encoding="utf-8")
    return tmp_path


@pytest.fixture
def tubewright(folder, capsys):
    """``tubewright("boiler list")``: the command on the database ``b.db``; gives what it said."""

    def run(words, *, data="b.db"):
        argv = shlex.split(words) if isinstance(words, str) else list(words)
        capsys.readouterr()
        code = main(["--data", data, *argv] if data else argv)
        said = capsys.readouterr()
        return Said(code, said.out, said.err)

    return run


@pytest.fixture
def done(tubewright):
    """As ``tubewright``, for a command that must be done; gives its JSON."""

    def run(words, **named):
        argv = shlex.split(words) if isinstance(words, str) else list(words)
        said = tubewright(["--json", *argv], **named)
        assert said.code == 0, said.err
        return said.data

    return run


@pytest.fixture
def refused(tubewright, folder):
    """A command that must be refused: nothing on stdout, nothing changed; gives its sentences."""

    def run(words, **named):
        before = contents(folder)
        said = tubewright(words, **named)
        assert (said.code, said.out) == (1, ""), said
        assert contents(folder) == before
        assert "Traceback" not in said.err
        return said.err.splitlines()

    return run


def contents(folder):
    """Every file with its bytes; of a database, what is in it."""
    return {
        str(path.relative_to(folder)): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        # The log and its index come and go with every opening.
        if path.is_file() and path.suffix not in (".db-wal", ".db-shm")
    }


@pytest.fixture
def boiler(done):
    """The small boiler is there."""
    return done("boiler new boiler.toml --layout layout.csv --by 'Ada Moss'")["boiler"]


@pytest.fixture
def inspection(boiler, done):
    """An inspection of it is open."""
    return done("inspection new B-1 --date 2026-03-10 --inspector 'Ida Berg'")["inspection"]


@pytest.fixture
def write(folder):
    """Writes a file of lines."""

    def run(name, *lines):
        (folder / name).write_text("\n".join(lines) + "\n", encoding="utf-8")
        return folder / name

    return run


@pytest.fixture
def looked_at(inspection, done, write, folder):
    """Every tube end looked at, one tube leaking in the bore, a wall of each pass measured."""
    keys = [line.partition(",")[0] for line in (folder / "layout.csv").read_text().splitlines()[1:]]
    write(
        "all.csv",
        "tube,end,state,leak_at,how,wall_mm",
        *(f"{key},,sound,,seen," for key in keys[1:]),
        f"{keys[0]},,leaking,bore,seen,",
        *(f"{key},front,,,,2.8" for key in (keys[1], keys[-1])),
    )
    done("observe B-1 all.csv")


@pytest.fixture
def costs(folder):
    """``costs.toml`` is in the working folder; gives what stands in it."""
    (folder / "costs.toml").write_text(COSTS, encoding="utf-8")
    return COSTS


@pytest.fixture
def priced(looked_at, costs, done):
    """The owner's costs are known too."""
    done("boiler update B-1 costs.toml --by Ada")
