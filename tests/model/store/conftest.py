"""A store to try things on, in surroundings without chance, and people's entries for it."""

import os
import random
import shutil
import subprocess
import sys
import tempfile
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest

from model.record.line import write_line
from model.store.opening import open_store
from model.store.surroundings import Surroundings


class TickingClock:
    """A minute later at every look, two hours east of Greenwich."""

    def __init__(self):
        self.now = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)

    def __call__(self):
        self.now += timedelta(minutes=1)
        return self.now.astimezone(timezone(timedelta(hours=2)))


@pytest.fixture(scope="session")
def make_surroundings():
    """``make_surroundings(seed, device)``: the same seed mints the same ids."""

    def make(seed=1, device="tablet of the test"):
        return Surroundings(
            clock=TickingClock(),
            random_bits=random.Random(seed),
            device=device,
            app_version="0.0-test",
        )

    return make


@pytest.fixture
def surroundings(make_surroundings):
    return make_surroundings()


@pytest.fixture
def store(tmp_path, surroundings):
    with open_store(tmp_path / "boilers.db", surroundings) as opened:
        yield opened


BOILER = "bbbbbbbbbbbbb"
INSPECTION = "iiiiiiiiiiiii"
PERSON = "ppppppppppppp"


@pytest.fixture(scope="session")
def tap():
    """``tap(writer)``: one observation of a tube end, as a touch makes it."""

    def record_tap(writer, *, boiler=BOILER, inspection=INSPECTION, by=PERSON, **more):
        body = {
            "inspection": inspection,
            "hole": "hhhhhhhhhhhhh",
            "tube": "P2-R03-C11",
            "end": "front",
            "state": "sound",
            "how": "seen",
        }
        envelope = {name: more.pop(name) for name in ("supersedes", "at") if name in more}
        return writer.append("observation", body | more, boiler=boiler, by=by, **envelope)

    return record_tap


@pytest.fixture(scope="session")
def foreign_line():
    """``foreign_line(seq)``: a line as another tablet wrote it."""

    def make(seq, *, origin="ooooooooooooo", boiler=BOILER, kind="cause", note="", **more):
        body = {"inspection": INSPECTION, "group": "all", "side": "fire", "evidence": note}
        return write_line(
            **{
                "kind": kind,
                "schema": 1,
                "body": body,
                "at": "2026-11-25T10:00:00.000Z",
                "utc_offset_min": 0,
                "boiler": boiler,
                "by": PERSON,
                "origin": origin,
                "seq": seq,
            }
            | more
        )

    return make


@pytest.fixture
def open_folder():
    """A folder that any user can reach (the tests' own belong to one user alone)."""
    folder = Path(tempfile.mkdtemp(prefix="tubewright-test-"))
    folder.chmod(0o777)
    yield folder
    folder.chmod(0o777)
    shutil.rmtree(folder)


@pytest.fixture
def run_beside():
    """``run_beside([arguments, ...])``: that many programs of ``tapping.py``, begun together.

    The words that each said.
    """
    root = Path(__file__).resolve().parents[3]

    def run(programs):
        started = [
            subprocess.Popen(
                [sys.executable, str(Path(__file__).with_name("tapping.py")), *map(str, each)],
                cwd=root,
                env=os.environ | {"PYTHONPATH": str(root)},
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                text=True,
            )
            for each in programs
        ]
        for program in started:
            assert program.stdout.readline() == "ready\n"
        for program in started:
            program.stdin.write("go\n")
            program.stdin.flush()
        said = [program.communicate(timeout=60)[0].split() for program in started]
        assert [program.returncode for program in started] == [0 for _ in started]
        return said

    return run
