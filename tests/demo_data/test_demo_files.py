"""The demo's files are what their script makes, small, and consistent with each other.

Not here: what the records add up to (``test_demo_counts``).
"""

import csv
import io
import itertools
import math
import tomllib
from datetime import datetime
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageStat

from demo_data.demo_layout import (
    FURNACE_DIAMETER_MM,
    FURNACE_MARGIN_MM,
    FURNACE_X_MM,
    FURNACE_Y_MM,
    RIM_MARGIN_MM,
    SHELL_DIAMETER_MM,
    all_tubes,
)
from demo_data.demo_readings import PLANNED
from demo_data.make_demo import make_files

DEMO = Path(__file__).resolve().parents[2] / "demo_data"
BY_HAND = {"README.md", "boiler.toml", "steps.toml", "two-tablets.sh"}
TABLES = sorted(path.name for path in DEMO.glob("*.csv"))
PHOTOS = sorted(path.name for path in DEMO.glob("*.jpg"))


@pytest.fixture(scope="module")
def made() -> dict[str, bytes]:
    return make_files()


def read(name: str) -> list[dict[str, str]]:
    with (DEMO / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, strict=True))


def test_the_folder_holds_what_the_script_makes_and_what_was_written_by_hand(
    made: dict[str, bytes],
) -> None:
    files = {path.name for path in DEMO.iterdir() if path.is_file() and path.suffix != ".py"}
    assert files == set(made) | BY_HAND


@pytest.mark.parametrize("name", TABLES)
def test_the_script_makes_each_table_byte_for_byte(made: dict[str, bytes], name: str) -> None:
    assert (DEMO / name).read_bytes() == made[name]


def test_the_script_makes_the_same_bytes_twice(made: dict[str, bytes]) -> None:
    assert make_files() == made


@pytest.mark.parametrize("name", PHOTOS)
def test_the_script_draws_each_picture_as_it_is_stored(made: dict[str, bytes], name: str) -> None:
    # Another version of the packing library may pack other bytes; the picture must be the same.
    stored = Image.open(DEMO / name).convert("RGB")
    drawn = Image.open(io.BytesIO(made[name])).convert("RGB")
    assert stored.size == drawn.size == (800, 600)
    assert max(ImageStat.Stat(ImageChops.difference(stored, drawn)).mean) < 1.0


def test_all_files_together_are_small() -> None:
    assert sum(path.stat().st_size for path in DEMO.iterdir() if path.is_file()) < 400_000


@pytest.mark.parametrize("name", TABLES)
def test_each_table_has_whole_rows_and_known_tubes(name: str) -> None:
    keys = {row["tube"] for row in read("layout.csv")}
    with (DEMO / name).open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file, strict=True))
    assert len(rows) > 1
    assert {len(row) for row in rows} == {len(rows[0])}
    for row in read(name):
        assert not row.get("tube") or row["tube"] in keys
        assert set(row.get("tubes", "").split()) <= keys


@pytest.mark.parametrize("name", [name for name in TABLES if name.startswith("inspection")])
def test_no_file_marks_an_end_twice(name: str) -> None:
    marks = [
        (row["tube"], end)
        for row in read(name)
        if row["state"] or row.get("reason")
        for end in ([row["end"]] if row["end"] else ["front", "rear"])
    ]
    assert len(marks) == len(set(marks))


def test_no_tube_is_worked_on_twice_in_one_file() -> None:
    for name in TABLES:
        if name.startswith("work"):
            tubes = [row["tube"] for row in read(name) if row["tube"]]
            assert len(tubes) == len(set(tubes))


def test_tubes_do_not_overlap_and_keep_clear_of_rim_and_furnace() -> None:
    tubes = all_tubes()
    assert len(tubes) == 253
    for number, tube in enumerate(tubes):
        radius = tube.od_mm / 2
        assert math.hypot(tube.x_mm, tube.y_mm) + radius + RIM_MARGIN_MM <= SHELL_DIAMETER_MM / 2
        from_furnace = math.hypot(tube.x_mm - FURNACE_X_MM, tube.y_mm - FURNACE_Y_MM) - radius
        assert from_furnace >= FURNACE_DIAMETER_MM / 2 + FURNACE_MARGIN_MM
        for other in tubes[:number]:
            gap = math.hypot(tube.x_mm - other.x_mm, tube.y_mm - other.y_mm)
            assert gap - radius - other.od_mm / 2 > 20.0


def test_the_layout_is_symmetrical_left_and_right() -> None:
    places = {(tube.x_mm, tube.y_mm, tube.kind, tube.od_mm) for tube in all_tubes()}
    assert {(-x_mm, *rest) for x_mm, *rest in places} == places


def test_boiler_and_layout_agree() -> None:
    with (DEMO / "boiler.toml").open("rb") as file:
        boiler = tomllib.load(file)
    assert boiler["shell"] == {
        "diameter_mm": SHELL_DIAMETER_MM,
        "furnaces": [
            {"x_mm": FURNACE_X_MM, "y_mm": FURNACE_Y_MM, "diameter_mm": FURNACE_DIAMETER_MM}
        ],
    }
    shown = [(show["pass"], show["end"]) for face in boiler["faces"] for show in face["shows"]]
    assert sorted(shown) == [(2, "front"), (2, "rear"), (3, "front"), (3, "rear")]
    assert {face["sheet"] for face in boiler["faces"]} == {each["key"] for each in boiler["sheets"]}


def test_the_planned_sample_is_large_enough_and_of_plain_unplugged_tubes() -> None:
    kinds = {tube.key: tube.kind for tube in all_tubes()}
    plugged = {row["tube"] for name in TABLES if name.startswith("inspection")
               for row in read(name) if row["state"] == "plugged"}  # fmt: skip
    for keys in PLANNED.values():
        assert len(keys) == len(set(keys)) >= 14
        assert {kinds[key] for key in keys} == {"plain"}
        assert not plugged & set(keys)


def test_planned_walls_grow_thinner_within_the_scatter_of_the_gauge() -> None:
    names = [
        "inspection-1-observations.csv",
        "inspection-2-observations.csv",
        "inspection-3-observations-b.csv",
    ]
    series: dict[str, list[float]] = {}
    for name in names:
        for row in read(name):
            if row["wall_mm"] and row["purpose"] == "planned":
                series.setdefault(row["tube"], []).append(float(row["wall_mm"]))
    for tube, walls in series.items():
        for earlier, later in itertools.pairwise(walls):
            assert later < earlier + 0.08, tube


def test_no_wall_is_thicker_than_a_new_tube_can_be() -> None:
    nominal = {row["tube"]: float(row["wall_mm"]) for row in read("layout.csv")}
    for name in TABLES:
        if name.startswith("inspection"):
            for row in read(name):
                assert not row.get("wall_mm") or float(row["wall_mm"]) < 1.22 * nominal[row["tube"]]


def test_the_steps_go_forward_in_time_and_name_only_files_that_exist() -> None:
    with (DEMO / "steps.toml").open("rb") as file:
        steps = tomllib.load(file)["steps"]
    moments = [datetime.fromisoformat(step["at"]) for step in steps]
    assert all(moment.tzinfo is not None for moment in moments)
    assert moments == sorted(set(moments))
    named = {
        word
        for step in steps
        for word in step["command"]
        if word.endswith((".csv", ".toml", ".jpg"))
    }
    assert named == set(TABLES) | set(PHOTOS) | {"boiler.toml"}


def test_everything_says_that_it_is_invented() -> None:
    assert "invented" in (DEMO / "README.md").read_text(encoding="utf-8").split("\n\n")[1]
    with (DEMO / "boiler.toml").open("rb") as file:
        boiler = tomllib.load(file)
    assert "(invented)" in boiler["boiler"]["owner"]
    assert "(invented)" in boiler["identity"]["maker"]
    assert "(invented)" in boiler["wall"]["basis"]


def steps_that(*words: str) -> list[list[str]]:
    steps = tomllib.loads((DEMO / "steps.toml").read_text(encoding="utf-8"))["steps"]
    commands: list[list[str]] = [step["command"] for step in steps]
    return [command for command in commands if command[: len(words)] == list(words)]


def test_every_reading_is_made_with_an_instrument_that_its_inspection_lists() -> None:
    listed = {}
    for command in steps_that("inspection", "new"):
        name, method, accuracy_mm, calibration = command[command.index("--instrument") + 1].split(
            ":"
        )
        listed[command[command.index("--date") + 1]] = (name, method, float(accuracy_mm))
        assert calibration
    assert len(listed) == 3
    read_with = set()
    for command in steps_that("observe"):
        date = command[command.index("--inspection") + 1]
        for row in read(command[2]):
            if row.get("wall_mm"):
                used = (row["instrument"], row["method"], float(row["accuracy_mm"]))
                assert used == listed[date]
                read_with.add(date)
    assert read_with == set(listed)
