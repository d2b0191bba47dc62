"""Writes the tables and drawn pictures of the invented boiler, the same bytes at every run.

Run ``python -m demo_data.make_demo`` (or ``python demo_data/make_demo.py``) from the repository's
root; an argument names another folder. Written by hand and only read by the program: ``README.md``,
``boiler.toml``, ``steps.toml``. Not here: the facts themselves (the other ``demo_*.py``).
"""

import csv
import io
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path

HERE = Path(__file__).resolve().parent
if __package__ in (None, ""):
    sys.path.insert(0, str(HERE.parent))

from demo_data.demo_inspections import (  # noqa: E402  the path comes first
    HOURS,
    Row,
    first_rows,
    second_rows,
    third_rows_a,
    third_rows_b,
    with_times,
)
from demo_data.demo_layout import DemoTube, all_tubes  # noqa: E402
from demo_data.demo_photos import draw_photos  # noqa: E402
from demo_data.demo_readings import baseline_rows, reading_rows  # noqa: E402
from demo_data.demo_tables import (  # noqa: E402
    CAUSES,
    HISTORY,
    PARTS,
    TESTS,
    WORK,
    work_rows,
)

LAYOUT_COLUMNS = (
    "tube", "pass", "row", "column", "x_mm", "y_mm", "od_mm", "wall_mm", "length_mm",
    "material", "kind",
)  # fmt: skip
OBSERVATION_COLUMNS = (
    "tube", "end", "state", "how", "reason", "leak_at", "leak_at_mm", "found_by", "test_mpa",
    "plug_type", "plug_condition", "vented", "mechanism", "side", "at_mm", "clock", "extent_mm",
    "thickness_mm", "grade", "wall_mm", "method", "instrument", "accuracy_mm", "surface",
    "in_rolled_zone", "purpose", "note", "observed_at",
)  # fmt: skip
HISTORY_COLUMNS = ("date", "what", "tube", "pass", "count", "plug_type", "by", "source")
WORK_COLUMNS = (
    "tube", "pass", "count", "does", "date", "ends", "plug_type", "heat", "od_mm", "wall_mm",
    "material", "source",
)  # fmt: skip
PART_COLUMNS = (
    "part", "tubes", "sheet", "distance_mm", "clock", "where", "mechanism", "side", "method",
    "length_mm", "grade", "note",
)  # fmt: skip
CAUSE_COLUMNS = ("group", "side", "evidence", "suspected", "confirmed_by")
TEST_COLUMNS = (
    "pressure_mpa", "medium", "water_c", "metal_c", "started", "held_minutes", "end_pressure_mpa",
    "gauge", "leaks_seen", "by_rule",
)  # fmt: skip


def make_files() -> dict[str, bytes]:
    """Every file that this script makes, by name."""
    tubes = all_tubes()
    tables = {
        "layout.csv": table(LAYOUT_COLUMNS, [_layout_row(tube) for tube in tubes]),
        "history.csv": table(HISTORY_COLUMNS, HISTORY),
        "part.csv": table(PART_COLUMNS, PARTS),
        "cause.csv": table(CAUSE_COLUMNS, CAUSES),
        **{name: table(WORK_COLUMNS, work_rows(name)) for name in WORK},
        **{name: table(TEST_COLUMNS, rows) for name, rows in TESTS.items()},
        **{
            name: table(OBSERVATION_COLUMNS, rows)
            for name, rows in observation_files(tubes).items()
        },
    }
    return tables | draw_photos(tubes)


def observation_files(tubes: list[DemoTube]) -> dict[str, list[Row]]:
    """The rows of the five observations files."""
    first = [*first_rows(tubes), *reading_rows(1, 2), *reading_rows(1, 3)]
    second = [*second_rows(tubes), *reading_rows(2, 2), *reading_rows(2, 3)]
    third_b = [*third_rows_b(tubes), *reading_rows(3, 2), *reading_rows(3, 3)]
    return {
        # Typed from paper: nobody wrote down the minute.
        "inspection-1-observations.csv": first,
        "inspection-2-observations.csv": with_times(second, HOURS["2"], 9),
        "inspection-2-new-tubes.csv": list(baseline_rows()),
        "inspection-3-observations-a.csv": with_times(list(third_rows_a(tubes)), HOURS["3a"], 11),
        "inspection-3-observations-b.csv": with_times(third_b, HOURS["3b"], 11),
    }


def table(columns: Sequence[str], rows: Iterable[Row]) -> bytes:
    """A CSV with the columns that hold anything, lines ended by a line feed."""
    kept = list(rows)
    used = [name for name in columns if any(row.get(name) for row in kept)]
    if "state" in columns and "state" not in used:
        used.insert(1, "state")
    text = io.StringIO()
    writer = csv.DictWriter(text, used, restval="", lineterminator="\n", extrasaction="raise")
    writer.writeheader()
    for row in kept:
        writer.writerow({name: cell for name, cell in row.items() if cell})
    return text.getvalue().encode()


def _layout_row(tube: DemoTube) -> Row:
    return {
        "tube": tube.key,
        "pass": str(tube.pass_),
        "row": str(tube.row),
        "column": str(tube.column),
        # Adding 0 turns a minus zero into zero.
        "x_mm": f"{tube.x_mm + 0:g}",
        "y_mm": f"{tube.y_mm + 0:g}",
        "od_mm": f"{tube.od_mm:g}",
        "wall_mm": f"{tube.wall_mm:g}",
        "length_mm": f"{tube.length_mm:g}",
        "material": "SA-178 A",
        "kind": tube.kind,
    }


def main(arguments: Sequence[str]) -> None:
    folder = Path(arguments[0]) if arguments else HERE
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in make_files().items():
        (folder / name).write_bytes(content)
        print(f"{len(content):7d}  {name}")


if __name__ == "__main__":
    main(sys.argv[1:])
