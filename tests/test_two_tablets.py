"""The script of the README: two tablets, two files, one report."""

import json
import os
import shlex
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


def test_the_script_of_two_tablets_ends_with_one_settled_report(tmp_path):
    program = tmp_path / "tubewright"
    run = f"PYTHONPATH={shlex.quote(str(ROOT))} exec {shlex.quote(sys.executable)} -m fieldapp.cli"
    program.write_text(f'#!/bin/sh\n{run} "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    done = subprocess.run(
        ["sh", str(ROOT / "demo_data" / "two-tablets.sh")],
        cwd=tmp_path,
        env={**os.environ, "TUBEWRIGHT": str(program)},
        capture_output=True,
        text=True,
        timeout=300,
    )
    assert done.returncode == 0, done.stderr
    assert "P2-R01-C03 front: counted as leaking" in done.stdout
    written = tmp_path / "two-tablets" / "report" / "condition.json"
    condition = json.loads(written.read_text(encoding="utf-8"))
    assert condition["disputes"] == []
    tubes = {tube["tube"]: tube for tube in condition["tubes"]}
    ends = {
        (key, end): tubes[key]["ends"][end]["state"]
        for key, end in (
            ("P2-R01-C01", "front"),
            ("P2-R01-C02", "front"),
            ("P2-R01-C03", "front"),
            ("P3-R01-C01", "rear"),
        )
    }
    assert list(ends.values()) == ["sound", "leaking", "leaking", "sound"]
    assert condition["coverage"]["seen"] == 4
