"""Makes the golden set of record lines: one line of every kind, several where variants matter.

Run once, before the first release; from then on the files are read for ever and never made
again, so this refuses to write over them. Not here: the test that reads them
(``tests/model/record/test_golden_lines.py``).

    python3 tests/golden/make_record_lines.py
"""

import hashlib
import json
import random
import sys
from collections import Counter
from pathlib import Path

HERE = Path(__file__).resolve().parent
sys.path.insert(0, str(HERE.parent.parent))

from model.record.ids import mint_id  # noqa: E402
from model.record.kinds import complete_body  # noqa: E402
from model.record.line import line_id, write_line  # noqa: E402
from model.record.words import Does, EventWhat, SettingsSection  # noqa: E402
from tests.golden.fold_summary import summary_of  # noqa: E402

CHANCE = random.Random(20_261_125)
TABLET, OFFICE = mint_id(CHANCE), mint_id(CHANCE)
BOILER, TWIN = sorted((mint_id(CHANCE), mint_id(CHANCE)))
ADA, BEN, CHIEF, CHIEF_AGAIN = (mint_id(CHANCE) for _ in range(4))
FIRST, SECOND, SECOND_TWIN = (mint_id(CHANCE) for _ in range(3))
HOLES = sorted(mint_id(CHANCE) for _ in range(6))
RETIRED, TWIN_HOLE, ACT = (mint_id(CHANCE) for _ in range(3))
NOTHING_SEEN = {"beyond_gap": [], "digest": hashlib.sha256(b"").hexdigest()}

LINES: list[bytes] = []
_next: Counter = Counter()


def add(kind, body, *, by=ADA, boiler=BOILER, origin=TABLET, names=(), schema=1, raw=False):
    """One more line; gives its id."""
    _next[origin, boiler] += 1
    LINES.append(
        write_line(
            kind=kind,
            schema=schema,
            body=body if raw else complete_body(kind, body),
            at=f"2026-11-25T10:{len(LINES) // 60:02d}:{len(LINES) % 60:02d}.007Z",
            utc_offset_min=-300,
            boiler=boiler,
            by=by,
            origin=origin,
            seq=_next[origin, boiler],
            supersedes=names,
        )
    )
    return line_id(LINES[-1])


def people_and_boiler():
    add("origin", {"app_version": "0.1.0", "device": "tablet, 10 in"}, by="", boiler="")
    office = {"app_version": "0.1.0", "device": "office", "cloned_from": TABLET}
    add("origin", office, by="", boiler="", origin=OFFICE)
    ada = {"person": ADA, "name": "Ada Ångström", "company": "Boiler works", "role": "inspector"}
    add("person", {**ada, "certificate": "level 2"}, by="", boiler="")
    add("person", {"person": BEN, "name": "Ben"}, boiler="")
    add("person", {"person": CHIEF, "name": "Chief"}, boiler="", origin=OFFICE)
    add("person", {"person": CHIEF_AGAIN, "name": "The chief"}, boiler="", origin=OFFICE)
    draft = add("boiler", {"boiler": BOILER, "tag": "B-1", "kind": "wet-back"})
    add("boiler", whole_boiler(), names=[draft])
    add("boiler", {"boiler": TWIN, "tag": "b 1", "kind": "other"}, boiler=TWIN, origin=OFFICE)
    old = add("layout", {"holes": [a_hole(n, f"T{n}") for n in range(5)]})
    new = [a_hole(n, f"P{2 + n % 2}-R01-C{n + 1:02d}") for n in range(6)]
    add("layout", {"holes": new, "retired": [RETIRED]}, names=[old], by=CHIEF)
    twin = {**a_hole(0, "X1"), "hole": TWIN_HOLE}
    add("layout", {"holes": [twin]}, boiler=TWIN, origin=OFFICE, by=CHIEF)
    for section in SettingsSection:
        values = {"price": {"value": 12.5, "source": "quoted"}, "retirement_mm": 1.8}
        add("settings", {"section": section, "values": values, "basis": "the owner's engineer"})


def whole_boiler():
    return {
        "boiler": BOILER,
        "tag": "B-1 “north”",
        "owner": "Dairy",
        "site": "Mill lane",
        "kind": "wet-back",
        "year_built": 1987,
        "mawp_mpa": 1.034,
        "operating_pressure_mpa": 0.86,
        "identity": {"serial": "4711", "fuel": ["gas", "oil"]},
        "tubes": {"od_mm": 50.8, "wall_mm": 2.9},
        "shell": {"diameter_mm": 2000},
        "sheets": [{"key": "front", "name": "Front sheet", "plate_mm": 12.7, "hole_mm": 51.6}],
        "faces": [
            {
                "key": "front",
                "name": "Front",
                "sheet": "front",
                "looks": "rearward",
                "shows": [{"pass": 2, "end": "front"}, {"pass": 3, "end": "front"}],
            }
        ],
        "numbering_note": "rows counted from the top",
    }


def a_hole(n, key):
    return {
        "hole": HOLES[n],
        "tube": key,
        "label": "7a" if n == 1 else None,
        "pass": 2 + n % 2,
        "row": 1,
        "column": n + 1,
        "x_mm": 69.85 * n - 100,
        "y_mm": -0.5,
        "od_mm": 50.8,
        "wall_mm": None if n == 2 else 2.9,
        "length_mm": 4000,
        "material": "A192",
        "kind": "stay" if n == 5 else "plain",
    }


def a_mark(hole, end, state, at=SECOND, how="seen", **more):
    """The body of an observation."""
    tube = f"P{2 + hole % 2}-R01-C{hole + 1:02d}"
    body = {"inspection": at, "hole": HOLES[hole], "tube": tube, "end": end, "state": state}
    return {**body, "how": how, **more}


def the_first_inspection():
    opened = {"scope": "full", "purpose": "yearly", "opened": ["front"], "cleaned": ["front"]}
    add("inspection", {"inspection": FIRST, "date": "2024-10-02", **opened})
    worn = {"type": "driven", "condition": "weeping", "vented": False}
    add("observation", a_mark(0, "front", "plugged", FIRST, plug=worn))
    add("observation", a_mark(1, "front", "leaking", FIRST, leak_at="joint"))
    add("observation", a_mark(2, "rear", "split", FIRST, findings=[a_finding("act")]))
    add("observation", a_mark(3, "rear", "thinned", FIRST, how="paper"))
    vector = {BOILER: {TABLET: _next[TABLET, BOILER]}}
    add("close", {"inspection": FIRST, "vector": vector, **NOTHING_SEEN}, by=CHIEF)
    role = {"name": "Chief", "role": "supervisor", "certificate": "", "statement": "As found."}
    add("sign_off", {"inspection": FIRST, "vector": vector, **NOTHING_SEEN, **role}, by=CHIEF)


def a_finding(grade):
    place = {"at_mm": 120, "clock_h": 6.5, "extent_mm": 30, "thickness_mm": 0.4}
    return {"mechanism": "oxygen-pitting", "side": "water", **place, "grade": grade, "note": "deep"}


def the_second_inspection():
    gauge = {"name": "gauge 3", "method": "ultrasonic", "accuracy_mm": 0.1, "calibration": "May"}
    body = {"inspection": SECOND, "date": "2026-11-25", "scope": "passes", "passes": [2, 3]}
    add("inspection", {**body, "instruments": [gauge]})
    leak = {"leak_at": "bore", "leak_at_mm": 350, "found_by": "pressure-test", "test_mpa": 1.55}
    mine = add("observation", a_mark(0, "rear", "leaking", **leak, face="front", act=ACT))
    theirs = add("observation", a_mark(0, "rear", "sound", how="by-row"), by=BEN)
    add("observation", a_mark(1, "rear", None, reason="not-cleaned"))
    wrong = add("observation", a_mark(2, "front", "split"))
    add("observation", a_mark(2, "front", "thinned", findings=[a_finding("watch")]), names=[wrong])
    add("observation", a_mark(0, "front", "sound", how="filled"))
    add("observation", a_mark(4, "front", "sound", how="filled"))
    slip = add("observation", a_mark(5, "front", "split"))
    add("withdraw", {"why": "a slip of the finger"}, names=[slip])
    weighed = {"inspection": SECOND, "hole": HOLES[0], "end": "rear", "why": "saw the photograph"}
    settled = {**weighed, "state": "leaking", "leak_at": "joint", "from": "photos"}
    add("settle", settled, names=[mine, theirs], by=CHIEF)
    cap = {"type": "cap", "condition": "tight", "vented": True}
    again = {**weighed, "hole": HOLES[5], "end": "rear", "state": "plugged", "plug": cap}
    add("settle", {**again, "from": "looked-again"}, by=CHIEF)


def readings_parts_and_the_rest():
    at = {"inspection": SECOND, "hole": HOLES[3]}
    place = {"end": "rear", "at_mm": 150, "clock_h": 12, "side": "water"}
    inch = {"value": 0.084, "unit": "in"}
    wall = {"wall_mm": 2.1336, "entered": inch, "method": "ultrasonic", "instrument": "gauge 3"}
    good = {"surface": "cleaned", "accuracy_mm": 0.1, "in_rolled_zone": False, "confirmed": True}
    add("reading", {**at, **place, **wall, **good, "purpose": "suspect", "note": "by the pit"})
    add("reading", {**at, "side": "unknown", "loss_percent": 31, "purpose": "planned"})
    add("reading", {**at, "side": "water", "wall_mm": 3, "purpose": "baseline"})
    where = {"holes": HOLES[:2], "sheet": "front", "distance_mm": 20, "clock_h": 3, "text": "left"}
    crack = {"mechanism": "circumferential-crack", "method": "dye-penetrant", "length_mm": 12}
    sizes = {"depth_mm": 1.5, "remaining_percent": 80, "grade": "act", "note": "between holes"}
    part = {"inspection": SECOND, "part": "ligament", "where": where, "side": "fire"}
    add("part", {**part, **crack, **sizes})
    picture = {"sha256": hashlib.sha256(b"a photo").hexdigest(), "bytes": 7, "media": "image/jpeg"}
    about = {"what": "tube", "hole": HOLES[0], "end": "rear", "key": None}
    add("photo", {"inspection": SECOND, "about": about, **picture, "caption": "trail"})
    plate = {"what": "data-plate", "hole": None, "end": None, "key": None}
    add("photo", {"about": plate, **picture, "taken_at": "2026-11-25T09:00:00Z"})
    test = {"pressure_mpa": 1.55, "medium": "water", "water_c": 21, "metal_c": 20.5}
    hold = {"started": "2026-11-25T15:00:00Z", "held_minutes": 15, "end_pressure_mpa": 1.53}
    seen = {"gauge": "0 to 2.5", "leaks_seen": False, "by_rule": "pa-code-34"}
    add("test_run", {"inspection": SECOND, **test, **hold, **seen})
    why = {"evidence": "pits at the waterline", "suspected": "oxygen", "confirmed_by": ""}
    add("cause", {"inspection": SECOND, "group": "oxygen pitting", "side": "water", **why})


def work_and_events():
    dated = {"hole": HOLES[4], "ends": ["front"], "done_on": "2025-03", "source": "night crew"}
    add("work", {**dated, "does": Does.PLUG, "plug": {"type": "driven"}})
    add("work", {"inspection": SECOND, "pass": 2, "count": 3, "does": Does.PLUG})
    stock = {"od_mm": 50.8, "wall_mm": 3.2, "material": "A192"}
    for n, does in enumerate(Does):
        tube = stock if does is Does.REPLACE else None
        body = {"inspection": SECOND, "hole": HOLES[n % 4], "does": does, "heat": "H-77"}
        last = add("work", {**body, "tube": tube, "done_on": "2026-11-25"}, by=BEN)
    fixed = {"inspection": SECOND, "hole": HOLES[3], "does": Does.CLEAN, "corrects": True}
    add("work", fixed, names=[last], by=BEN)
    dates = ("1999", "2001-02", "2019-06-01", "2020", "2021-12", "2022")
    for n, (what, date) in enumerate(zip(EventWhat, dates, strict=True)):
        body = {"hole": HOLES[n % 6], "what": what, "date": date, "by_text": "the owner"}
        add("event", {**body, "plug": {"type": "welded"} if what == "plug" else None})
    add("event", {"what": EventWhat.RETUBED, "date": "1998", "pass": 3, "source": "paper"})
    add("event", {"what": EventWhat.LEAK, "date": "1997", "count": 4})


def joins_and_what_is_not_understood():
    holes = {TWIN_HOLE: HOLES[0]}
    add("same", {"what": "boiler", "a": BOILER, "b": TWIN, "holes": holes}, by=CHIEF)
    a, b = sorted((SECOND, SECOND_TWIN))
    add("same", {"what": "inspection", "a": a, "b": b}, by=CHIEF)
    a, b = sorted((CHIEF, CHIEF_AGAIN))
    add("same", {"what": "person", "a": a, "b": b}, by=CHIEF, boiler="")
    mark = {"inspection": SECOND_TWIN, "hole": TWIN_HOLE, "tube": "X1", "end": "front"}
    shut = {"state": "plugged", "how": "seen", "plug": {"condition": "burned"}}
    add("observation", {**mark, **shut}, boiler=TWIN, origin=OFFICE, by=CHIEF_AGAIN)
    body = {"hole": HOLES[1], "inspection": SECOND, "torque_nm": 35.5, "é": ["\x7f", "\u2028"]}
    add("expanding", body, raw=True, names=[line_id(LINES[-1])])
    newer = {**complete_body("observation", a_mark(1, "front", "split")), "temperature_c": 21}
    add("observation", newer, schema=2, raw=True)


def main():
    files = [HERE / f"record_lines.{suffix}" for suffix in ("ndjson", "sha256", "fold.json")]
    if any(file.exists() for file in files):
        sys.exit("The golden lines exist. They are frozen: read them, do not make them again.")
    people_and_boiler()
    the_first_inspection()
    the_second_inspection()
    readings_parts_and_the_rest()
    work_and_events()
    joins_and_what_is_not_understood()
    files[0].write_bytes(b"".join(line + b"\n" for line in LINES))
    files[1].write_text("".join(f"{line_id(line)}\n" for line in LINES), encoding="ascii")
    summary = json.dumps(summary_of(LINES, BOILER), indent=1, ensure_ascii=False)
    files[2].write_text(summary + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
