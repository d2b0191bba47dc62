"""What was done and found besides the tube ends: history, work, parts, causes, pressure tests.

Not here: marks (``demo_inspections``) and readings (``demo_readings``).
"""

from demo_data.demo_inspections import Row

NIGHT_CREW = "night crew of the boiler house"
CONTRACTOR = "Tarn & Whittle Boiler Repair (invented)"
LOG = "owner's log book"

HISTORY: list[Row] = [
    {"date": "2008", "what": "leak", "pass": "2", "count": "3", "source": LOG},
    {"date": "2009-10", "what": "leak", "pass": "2", "count": "5", "source": LOG},
    {
        "date": "2011-08",
        "what": "retubed",
        "pass": "2",
        "by": CONTRACTOR,
        "source": "invoice in the owner's file",
    },
    {
        "date": "2014-03",
        "what": "plug",
        "tube": "P3-R03-C09",
        "plug_type": "driven",
        "by": NIGHT_CREW,
        "source": LOG,
    },
    {"date": "2015", "what": "re-roll", "pass": "3", "count": "4", "by": CONTRACTOR, "source": LOG},
    {"date": "2015-06-22", "what": "leak", "tube": "P3-R04-C20", "source": LOG},
    {
        "date": "2015-06-22",
        "what": "plug",
        "tube": "P3-R04-C20",
        "plug_type": "driven",
        "by": NIGHT_CREW,
        "source": LOG,
    },
    {"date": "2016-11-03", "what": "leak", "tube": "P2-R02-C10", "source": LOG},
    {
        "date": "2016-11",
        "what": "plug",
        "tube": "P2-R02-C10",
        "plug_type": "driven",
        "by": CONTRACTOR,
        "source": "work sheet, day not readable",
    },
    {"date": "2017-02-08", "what": "cleaned", "by": CONTRACTOR, "source": LOG},
]

WORK: dict[str, list[Row]] = {
    "work-2018-outage.csv": [
        {"tube": "P2-R03-C11", "does": "plug", "ends": "both", "plug_type": "through-rod"},
        {"tube": "P2-R08-C03", "does": "plug", "ends": "both", "plug_type": "driven"},
        {"tube": "P3-R05-C20", "does": "re-roll", "ends": "front"},
    ],
    "work-2022-outage.csv": [
        {"tube": "P2-R02-C11", "does": "plug", "ends": "both", "plug_type": "through-rod"},
        {"tube": "P2-R04-C04", "does": "plug", "ends": "both", "plug_type": "through-rod"},
        {"tube": "P3-R04-C17", "does": "plug", "ends": "front", "plug_type": "driven"},
        {"tube": "P2-R01-C03", "does": "re-roll", "ends": "rear"},
        {"tube": "P3-R01-C06", "does": "re-roll", "ends": "front"},
        *(
            {
                "tube": tube,
                "does": "replace",
                "heat": heat,
                "od_mm": "63.5",
                "wall_mm": "3.05",
                "material": "SA-178 A",
            }
            for tube, heat in (
                ("P2-R07-C01", "K48217"),
                ("P2-R07-C02", "K48217"),
                ("P2-R08-C01", "K48217"),
                ("P2-R08-C02", "K48231"),
            )
        ),
    ],
    "work-2023-2024-between.csv": [
        {
            "tube": "P3-R01-C05",
            "does": "re-roll",
            "date": "2023-05",
            "ends": "front",
            "source": f"work sheet of {CONTRACTOR}, day not written",
        },
        {
            "tube": "P2-R03-C12",
            "does": "plug",
            "date": "2024-01-17",
            "ends": "both",
            "plug_type": "driven",
            "source": f"{LOG}, {NIGHT_CREW}",
        },
        {
            "tube": "P3-R03-C16",
            "does": "plug",
            "date": "2024-01-17",
            "ends": "front",
            "plug_type": "driven",
            "source": f"{LOG}, {NIGHT_CREW}: rear door not opened",
        },
    ],
    "work-2026-outage.csv": [
        {"tube": "P2-R05-C10", "does": "plug", "ends": "both", "plug_type": "through-rod"},
        {"tube": "P3-R02-C14", "does": "re-roll", "ends": "front"},
        {"tube": "P2-R01-C09", "does": "re-roll", "ends": "rear"},
        {"pass": "2", "count": "99", "does": "clean"},
    ],
}
OUTAGE_DAYS = {
    "work-2018-outage.csv": "2018-06-13",
    "work-2022-outage.csv": "2022-07-20",
    "work-2026-outage.csv": "2026-09-15",
}

PARTS: list[Row] = [
    {
        "part": "ligament",
        "tubes": "P2-R03-C05 P2-R03-C06",
        "sheet": "chamber",
        "where": "between the two holes, fire side",
        "side": "fire",
        "method": "dye-penetrant",
        "length_mm": "14",
        "grade": "act",
        "note": "crack from hole to hole; depth not measured",
    },
    {
        "part": "sheet-area",
        "sheet": "chamber",
        "where": "above the furnace, right of the middle as seen from the front",
        "mechanism": "scale",
        "side": "water",
        "method": "borescope",
        "grade": "watch",
        "note": "scale packed between the tubes",
    },
    {
        "part": "refractory",
        "where": "floor of the turnaround chamber",
        "mechanism": "mechanical-damage",
        "side": "fire",
        "method": "eye",
        "grade": "watch",
        "note": "two bricks loose; they hide P2-R09-C01",
    },
    {
        "part": "furnace",
        "distance_mm": "2100",
        "clock": "12",
        "side": "fire",
        "method": "eye",
        "grade": "note",
        "note": "soot, no bulge by straight edge",
    },
]

CAUSES: list[Row] = [
    {
        "group": "cracked and leaking rear ends of pass 2",
        "side": "water",
        "evidence": "scale on the chamber sheet, cracks begin on the water side",
        "suspected": "overheating of the ends under scale",
        "confirmed_by": "",
    },
    {
        "group": "pitted tubes low in pass 2",
        "side": "water",
        "evidence": "round pits at the bottom of the tube, rust tubercles",
        "suspected": "oxygen: the feed tank ran cold in the winters since 2021",
        "confirmed_by": "",
    },
]

TESTS: dict[str, list[Row]] = {
    "test-2022.csv": [
        {
            "pressure_mpa": "1.29",
            "medium": "water",
            "water_c": "24",
            "metal_c": "23",
            "started": "2022-07-20T15:10:00-05:00",
            "held_minutes": "30",
            "end_pressure_mpa": "1.29",
            "gauge": "test gauge 3, 0 to 2.5 MPa",
            "leaks_seen": "no",
            "by_rule": "pressure agreed with the inspector before the test",
        }
    ],
    "test-2026.csv": [
        {
            "pressure_mpa": "1.03",
            "medium": "water",
            "water_c": "22",
            "metal_c": "21",
            "started": "2026-09-15T05:50:00-05:00",
            "held_minutes": "20",
            "end_pressure_mpa": "0.99",
            "gauge": "test gauge 3, 0 to 2.5 MPa",
            "leaks_seen": "yes",
            "by_rule": "look for leaks at MAWP before opening, not a repair test",
        }
    ],
}


def work_rows(name: str) -> list[Row]:
    """The work of one file, with what is the same in every row of an outage."""
    day = OUTAGE_DAYS.get(name)
    if day is None:
        return WORK[name]
    usual = {"date": day, "source": f"crew's list, {CONTRACTOR}"}
    return [{**usual, **row} for row in WORK[name]]
