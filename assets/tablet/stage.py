"""Lays out a folder that an Android packager can take: the packages, their data, main.py, the spec.

``python assets/tablet/stage.py FOLDER`` from the root of the repository. Not here: building.
"""

import shutil
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGES = ("fieldapp", "model", "sync")
DATA = (("assets", "fieldapp/_assets"), ("demo_data", "fieldapp/_demo_data"))
TOP = ("main.py", "buildozer.spec")


def stage(target: Path) -> list[str]:
    """Fill a new folder; gives what stands at its top."""
    if target.exists():
        raise SystemExit(f"{target} already exists; name a new folder.")
    leave_out = shutil.ignore_patterns("__pycache__", "*.pyc")
    for name in PACKAGES:
        shutil.copytree(ROOT / name, target / name, ignore=leave_out)
    for source, place in DATA:
        shutil.copytree(ROOT / source, target / place, ignore=leave_out)
    for name in TOP:
        shutil.copy2(Path(__file__).parent / name, target / name)
    return sorted(each.name for each in target.iterdir())


if __name__ == "__main__":
    if len(sys.argv) != 2:
        raise SystemExit("Name the new folder: python assets/tablet/stage.py FOLDER")
    print(", ".join(stage(Path(sys.argv[1]))))
