"""Who saw what: the rows of every observations file of the invented boiler, except wall readings.

Here are the marks of three inspections, as their people would have made them. Not here: readings
(``demo_readings``) and what happened between inspections (``demo_tables``).
"""

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta

from demo_data.demo_layout import DemoTube

Row = dict[str, str]
EndOfTube = tuple[str, str]
"""(key, end)."""

SOUND: Row = {"state": "sound"}
DRIVEN: Row = {"state": "plugged", "plug_type": "driven", "plug_condition": "tight"}
ROD: Row = {
    "state": "plugged",
    "plug_type": "through-rod",
    "plug_condition": "tight",
    "vented": "yes",
}
JOINT: Row = {"state": "leaking", "leak_at": "joint", "found_by": "eye"}

HOURS = {
    "2": "2022-07-19T07:50:00-05:00",
    "3a": "2026-09-15T07:35:00-05:00",
    "3b": "2026-09-15T08:10:00-05:00",
}
"""When each person's first mark was made."""


def both(row: Row, *keys: str) -> dict[EndOfTube, Row]:
    """The same mark on both ends of some tubes."""
    return {(key, end): row for key in keys for end in ("front", "rear")}


def not_inspected(reason: str) -> Row:
    return {"state": "", "reason": reason}


FIRST: dict[EndOfTube, Row] = {
    **both(DRIVEN, "P2-R02-C10", "P3-R03-C09", "P3-R04-C20"),
    ("P2-R03-C11", "rear"): {
        "state": "leaking",
        "leak_at": "bore",
        "leak_at_mm": "3470",
        "found_by": "standing-water",
        "note": "water in the bore, pinhole about 130 mm from the chamber sheet",
    },
    ("P2-R08-C03", "rear"): {
        "state": "split",
        "mechanism": "circumferential-crack",
        "side": "water",
        "grade": "act",
        "note": "cracked around the end",
    },
    ("P3-R05-C20", "front"): JOINT,
    ("P2-R08-C01", "rear"): {
        "state": "sound",
        "mechanism": "pitting",
        "side": "water",
        "grade": "note",
    },
    ("P3-R02-C11", "rear"): not_inspected("retarder-in-place"),
    ("P3-R02-C12", "rear"): not_inspected("retarder-in-place"),
    ("P2-R09-C01", "rear"): not_inspected("refractory"),
    ("P2-R09-C06", "rear"): not_inspected("refractory"),
    ("P3-R06-C26", "rear"): not_inspected("no-time"),
    ("P3-R06-C27", "rear"): not_inspected("no-time"),
}

SECOND: dict[EndOfTube, Row] = {
    **both(DRIVEN, "P2-R02-C10", "P3-R03-C09", "P3-R04-C20", "P2-R08-C03"),
    **both(ROD, "P2-R03-C11"),
    ("P2-R02-C11", "rear"): {
        "state": "leaking",
        "leak_at": "bore",
        "leak_at_mm": "3440",
        "found_by": "pressure-test",
        "test_mpa": "1.03",
    },
    ("P2-R04-C04", "rear"): {"state": "split", "note": "end broken off at the sheet"},
    ("P2-R07-C01", "rear"): {
        "state": "thinned",
        "mechanism": "general-thinning",
        "side": "water",
        "grade": "act",
    },
    ("P2-R07-C02", "rear"): {
        "state": "thinned",
        "mechanism": "oxygen-pitting",
        "side": "water",
        "grade": "watch",
    },
    ("P2-R08-C01", "rear"): {
        "state": "leaking",
        "leak_at": "bore",
        "leak_at_mm": "3390",
        "found_by": "standing-water",
    },
    ("P2-R08-C02", "rear"): {
        "state": "thinned",
        "mechanism": "oxygen-pitting",
        "side": "water",
        "grade": "act",
    },
    ("P2-R05-C03", "rear"): {"state": "thinned"},
    ("P2-R06-C08", "rear"): {"state": "thinned"},
    ("P2-R04-C13", "rear"): {
        "state": "sound",
        "mechanism": "bead-cracked",
        "side": "fire",
        "clock": "7",
        "extent_mm": "8",
        "grade": "watch",
    },
    ("P2-R01-C03", "rear"): JOINT,
    ("P3-R01-C05", "front"): JOINT,
    ("P3-R01-C06", "front"): JOINT,
    ("P3-R05-C12", "rear"): {**JOINT, "note": "salt below the joint; not re-rolled, no time"},
    ("P3-R04-C17", "front"): {
        "state": "leaking",
        "leak_at": "bore",
        "found_by": "standing-water",
        "note": "retarder is stuck, so the place is not known",
    },
    ("P3-R04-C17", "rear"): not_inspected("retarder-in-place"),
    ("P2-R09-C01", "rear"): not_inspected("refractory"),
    ("P2-R09-C06", "rear"): not_inspected("refractory"),
}

THIRD_A: dict[EndOfTube, Row] = {
    # Plugs from before, confirmed at the front.
    ("P2-R02-C10", "front"): DRIVEN,
    ("P2-R02-C11", "front"): ROD,
    ("P2-R03-C11", "front"): ROD,
    ("P2-R03-C12", "front"): DRIVEN,
    ("P3-R03-C09", "front"): DRIVEN,
    ("P3-R03-C16", "front"): DRIVEN,
    ("P3-R04-C17", "front"): DRIVEN,
    ("P2-R08-C03", "front"): {
        "state": "plugged",
        "plug_type": "driven",
        "plug_condition": "weeping",
        "found_by": "pressure-test",
        "test_mpa": "1.03",
        "note": "wet around the plug at test pressure",
    },
    # Joints.
    ("P3-R02-C14", "front"): JOINT,
    ("P3-R06-C11", "front"): JOINT,
    # What else was seen.
    ("P2-R05-C05", "front"): {
        "state": "sound",
        "mechanism": "rust-trail",
        "side": "water",
        "clock": "6",
        "grade": "note",
    },
    # Not inspected.
    ("P2-R09-C01", "front"): not_inspected("refractory"),
    ("P3-R04-C02", "front"): not_inspected("obstructed"),
}

THIRD_B: dict[EndOfTube, Row] = {
    # Plugs from before, confirmed at the other end.
    ("P2-R02-C10", "rear"): DRIVEN,
    ("P2-R02-C11", "rear"): ROD,
    ("P2-R03-C11", "rear"): ROD,
    ("P2-R03-C12", "rear"): DRIVEN,
    ("P2-R08-C03", "rear"): DRIVEN,
    ("P3-R03-C09", "rear"): DRIVEN,
    # Open at this end although plugged at the front.
    ("P3-R03-C16", "rear"): {"state": "sound", "note": "open: no plug at this end"},
    # Leaks and splits.
    ("P2-R05-C10", "rear"): {
        "state": "leaking",
        "leak_at": "bore",
        "leak_at_mm": "3480",
        "found_by": "pressure-test",
        "test_mpa": "1.03",
    },
    ("P2-R03-C05", "rear"): {
        "state": "leaking",
        "leak_at": "ligament",
        "found_by": "dye-penetrant",
        "note": "crack toward P2-R03-C06, see the part",
    },
    ("P2-R06-C02", "rear"): {
        "state": "split",
        "mechanism": "circumferential-crack",
        "side": "water",
        "clock": "4",
        "extent_mm": "55",
        "grade": "act",
    },
    ("P3-R05-C07", "rear"): {
        "state": "leaking",
        "leak_at": "not-found",
        "found_by": "standing-water",
    },
    ("P2-R01-C09", "rear"): JOINT,
    ("P2-R02-C04", "rear"): JOINT,
    ("P2-R05-C02", "rear"): {**JOINT, "note": "white trail below the joint"},
    # Thinned.
    ("P2-R05-C03", "rear"): {"state": "thinned"},
    ("P2-R07-C03", "rear"): {
        "state": "thinned",
        "mechanism": "oxygen-pitting",
        "side": "water",
        "at_mm": "3420",
        "clock": "6",
        "grade": "watch",
    },
    ("P2-R06-C01", "rear"): {
        "state": "thinned",
        "mechanism": "general-thinning",
        "side": "water",
        "grade": "watch",
    },
    ("P3-R01-C10", "front"): {
        "state": "thinned",
        "note": "thin at the end by the feel of the gauge",
    },
    ("P3-R06-C22", "front"): {"state": "thinned"},
    # Sound, with something to say.
    ("P2-R04-C13", "rear"): {
        "state": "sound",
        "mechanism": "bead-cracked",
        "side": "fire",
        "clock": "7",
        "extent_mm": "22",
        "grade": "act",
        "note": "8 mm in 2022",
    },
    ("P2-R01-C12", "rear"): {
        "state": "sound",
        "mechanism": "end-burned",
        "side": "fire",
        "grade": "watch",
    },
    ("P2-R02-C07", "rear"): {
        "state": "sound",
        "mechanism": "scale",
        "side": "water",
        "thickness_mm": "1.5",
        "grade": "watch",
    },
    ("P3-R02-C20", "rear"): {
        "state": "sound",
        "mechanism": "pitting",
        "side": "fire",
        "clock": "6",
        "grade": "note",
    },
    ("P3-R04-C24", "rear"): {
        "state": "sound",
        "mechanism": "retarder-stuck",
        "side": "fire",
        "grade": "note",
    },
    # Not inspected.
    ("P2-R09-C01", "rear"): not_inspected("refractory"),
    ("P2-R06-C08", "rear"): not_inspected("no-time"),
    ("P2-R07-C08", "rear"): not_inspected("no-time"),
    ("P2-R08-C06", "rear"): not_inspected("no-time"),
    ("P3-R04-C02", "rear"): not_inspected("retarder-in-place"),
    ("P3-R02-C05", "rear"): not_inspected("retarder-in-place"),
    ("P3-R02-C06", "rear"): not_inspected("retarder-in-place"),
    ("P3-R05-C20", "rear"): not_inspected("retarder-in-place"),
    ("P3-R04-C17", "rear"): not_inspected("no-time"),
}

THIRD_UNTOUCHED: frozenset[EndOfTube] = frozenset(
    {
        *both({}, "P2-R04-C04", "P3-R04-C20"),  # plugs that nobody confirmed
        ("P3-R05-C12", "rear"),  # a joint leak of 2022 that nobody answered
    }
)


def first_rows(tubes: list[DemoTube]) -> Iterator[Row]:
    """2018, typed from a paper map: one row for both ends where they were alike."""
    for tube in tubes:
        front = FIRST.get((tube.key, "front"), SOUND)
        rear = FIRST.get((tube.key, "rear"), SOUND)
        if front == rear:
            yield {"tube": tube.key, "end": "", "how": "paper", **front}
        else:
            yield {"tube": tube.key, "end": "front", "how": "paper", **front}
            yield {"tube": tube.key, "end": "rear", "how": "paper", **rear}


def second_rows(tubes: list[DemoTube]) -> Iterator[Row]:
    """2022: fronts dragged by rows, the chamber seen one by one, half of the rear filled in."""
    for tube in tubes:
        yield _row(tube, "front", SECOND, "by-row")
    for tube in tubes:
        how = "seen" if tube.pass_ == 2 else "by-row" if tube.row <= 3 else "filled"
        yield _row(tube, "rear", SECOND, how)


def third_rows_a(tubes: list[DemoTube]) -> Iterator[Row]:
    """2026, the first inspector: all fronts, then a look into the chamber at two rows."""
    for tube in tubes:
        if (tube.key, "front") not in THIRD_UNTOUCHED:
            yield _row(tube, "front", THIRD_A, _third_front_how(tube))
    for tube in tubes:
        if tube.pass_ == 2 and (tube.row == 2 or tube.key == "P2-R05-C02"):
            marks = {**THIRD_B, ("P2-R05-C02", "rear"): SOUND}
            yield _row(tube, "rear", _plain(marks), "seen")


def third_rows_b(tubes: list[DemoTube]) -> Iterator[Row]:
    """2026, the second inspector: chamber and rear, and a second look at some fronts of pass 3."""
    for tube in tubes:
        if tube.pass_ == 2 and (tube.key, "rear") not in THIRD_UNTOUCHED:
            how = "paper" if tube.row == 9 else "by-row" if tube.row <= 4 else "seen"
            yield _row(tube, "rear", THIRD_B, how)
    for tube in tubes:
        if tube.pass_ == 3 and (tube.key, "rear") not in THIRD_UNTOUCHED:
            yield _row(tube, "rear", THIRD_B, "by-row")
    for tube in tubes:
        if tube.pass_ == 3 and (tube.row == 1 or tube.key == "P3-R06-C22"):
            yield _row(tube, "front", THIRD_B, "seen")


def with_times(rows: list[Row], first_mark: str, seconds: int) -> list[Row]:
    """The rows with a moment each, a few seconds apart, as taps are."""
    start = datetime.fromisoformat(first_mark)
    return [
        {**row, "observed_at": (start + timedelta(seconds=seconds * number)).isoformat()}
        for number, row in enumerate(rows)
    ]


def _third_front_how(tube: DemoTube) -> str:
    if tube.pass_ == 2:
        return "seen"
    if tube.row < 6:
        return "by-row"
    return "seen" if tube.column <= 20 else "filled"


def _plain(marks: Mapping[EndOfTube, Row]) -> dict[EndOfTube, Row]:
    """The marks without findings and notes, which the other inspector wrote down."""
    kept = ("state", "reason", "leak_at", "found_by", "plug_type", "plug_condition", "vented")
    return {
        place: {column: text for column, text in row.items() if column in kept}
        for place, row in marks.items()
    }


def _row(tube: DemoTube, end: str, marks: Mapping[EndOfTube, Row], usual_how: str) -> Row:
    """One mark. What is not plain sound was looked at by itself, never dragged or filled in."""
    mark = marks.get((tube.key, end))
    how = usual_how if mark is None or usual_how == "paper" else "seen"
    if mark is not None and mark["state"] == "":
        how = ""
    return {"tube": tube.key, "end": end, "how": how, **(mark or SOUND)}
