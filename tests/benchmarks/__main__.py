"""Runs the benchmarks and prints their figures: ``python -m tests.benchmarks [GROUP ...]``.

Each group runs in a process of its own, so that memory and imports are its own. Figures of shared
machines are noisy: compare ratios within one run. Not here: what a group measures (a file each).
"""

import argparse
import json
import platform
import subprocess
import sys
from pathlib import Path

from tests.benchmarks.measuring import Measured

GROUPS = {
    "map": "tests.benchmarks.map_drawing",
    "marks": "tests.benchmarks.marks",
    "tablet": "tests.benchmarks.tablet_app",
    "handover": "tests.benchmarks.handover",
    "report": "tests.benchmarks.report",
    "advice": "tests.benchmarks.advice",
    "whole-advice": "tests.benchmarks.whole_advice",
}
ROOT = Path(__file__).resolve().parents[2]


def main(arguments: list[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=__doc__)
    parser.add_argument("group", nargs="*", help=f"one of: {', '.join(GROUPS)} (default: all)")
    parser.add_argument("--out", type=Path, help="write the figures to this JSON file too")
    options = parser.parse_args(arguments)
    unknown = [name for name in options.group if name not in GROUPS]
    if unknown:
        parser.error(f"no such group: {', '.join(unknown)}; the groups are {', '.join(GROUPS)}")
    figures = {name: run(name) for name in options.group or GROUPS}
    for name, measured in figures.items():
        print_table(name, measured)
    if options.out is not None:
        options.out.write_text(as_json(figures), encoding="utf-8")
    return 0 if all(each.is_kept for group in figures.values() for each in group) else 1


def run(name: str) -> list[Measured]:
    """The figures of one group, measured in a new process."""
    done = subprocess.run(
        [sys.executable, "-m", GROUPS[name]], cwd=ROOT, capture_output=True, text=True, check=False
    )
    if done.returncode != 0:
        raise SystemExit(f"the group {name} failed:\n{done.stderr}")
    return [Measured(**each) for each in json.loads(done.stdout.splitlines()[-1])]


def print_table(name: str, figures: list[Measured]) -> None:
    print(f"\n{name}")
    wide = max(len(each.name) for each in figures)
    for each in figures:
        limit = ""
        if each.limit is not None:
            limit = f"  at most {each.limit:g}: {'kept' if each.is_kept else 'MISSED'}"
        note = f"  ({each.note})" if each.note else ""
        print(f"  {each.name:<{wide}} {each.value:10.3f} {each.unit:<3}{limit}{note}")


def as_json(figures: dict[str, list[Measured]]) -> str:
    groups = {
        name: [
            {"name": each.name, "value": each.value, "unit": each.unit, "limit": each.limit}
            for each in measured
        ]
        for name, measured in figures.items()
    }
    machine = {"python": platform.python_version(), "machine": platform.machine()}
    return json.dumps({"machine": machine, "groups": groups}, indent=2) + "\n"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
