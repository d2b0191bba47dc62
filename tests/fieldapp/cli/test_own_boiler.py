"""A boiler of one's own, from its files to the report, with every count made by hand.

Eighteen tubes: pass 2 rows of 4 and 4, pass 3 rows of 5 and 5.
"""

import json

import pytest

HEADER = "tube,end,state,how,leak_at,plug_condition,mechanism,grade,reason,wall_mm"
FIRST = (
    # pass 2, row 1
    "P2-R01-C01,,sound,seen,,,,,,",
    "P2-R01-C02,,plugged,seen,,tight,,,,",
    "P2-R01-C03,front,leaking,seen,bore,,,,,",
    "P2-R01-C03,rear,sound,seen,,,,,,",
    "P2-R01-C04,front,leaking,seen,joint,,,,,",
    "P2-R01-C04,rear,sound,by-row,,,,,,",
    # pass 2, row 2
    "P2-R02-C01,,sound,by-row,,,,,,",
    "P2-R02-C02,front,sound,seen,,,bead-cracked,act,,",
    "P2-R02-C02,rear,sound,seen,,,,,,",
    "P2-R02-C03,front,split,seen,,,,,,",
    "P2-R02-C03,rear,,seen,,,,,refractory,",
    "P2-R02-C04,front,thinned,seen,,,,,,1.60",
    "P2-R02-C04,rear,sound,seen,,,,,,",
)
SECOND = (
    # pass 3, row 1: the front was dragged, two rear ends were filled in
    *(f"P3-R01-C0{column},front,sound,by-row,,,,,," for column in (1, 2, 3, 4, 5)),
    "P3-R01-C01,rear,sound,seen,,,scale,watch,,",
    "P3-R01-C02,rear,sound,filled,,,,,,",
    "P3-R01-C03,rear,sound,filled,,,,,,",
    # pass 3, row 2: only the first is seen, with a plug that weeps at the front
    "P3-R02-C01,front,plugged,seen,,weeping,,,,",
    "P3-R02-C01,rear,sound,seen,,,,,,",
    "P3-R02-C02,front,,seen,,,,,no-time,",
)


@pytest.fixture
def report(done, write, folder):
    openpyxl = pytest.importorskip("openpyxl", reason="openpyxl is missing: pip install openpyxl")
    write(
        "more.toml",
        *(folder / "boiler.toml").read_text(encoding="utf-8").splitlines(),
        "[wall]",
        'retirement = "stated"',
        "stated_mm = 1.8",
        'basis = "invented"',
    )
    done("boiler new more.toml --layout layout.csv --by 'Ada Moss'")
    done("inspection new B-1 --date 2026-03-10 --inspector 'Ida Berg'")
    book = openpyxl.Workbook()
    book.active.append(HEADER.split(","))
    for line in FIRST:
        *words, wall_mm = line.split(",")
        book.active.append([*words, float(wall_mm) if wall_mm else None])
    book.save(folder / "pass2.xlsx")
    write("pass3.csv", HEADER, *SECOND)
    # 10 rows of one end, 3 of both (C01 and C02 of row 1, C01 of row 2), and one reading.
    assert done("observe B-1 pass2.xlsx")["added"] == 17
    assert done("observe B-1 pass3.csv")["added"] == 11
    write("work.csv", "tube,does,date,ends", "P2-R01-C03,plug,2026-03-10,both")
    done("work B-1 work.csv")
    done("report B-1 --out r --only json")
    return json.loads((folder / "r" / "condition.json").read_text(encoding="utf-8"))


def test_every_count_is_the_one_made_by_hand(report):
    totals = report["totals"]
    expected = {
        "tubes": 18,
        # P2-R01-C01, P2-R02-C01, P2-R02-C02 and the five of row 1 in pass 3
        "sound": 8,
        "thinned": 1,  # P2-R02-C04
        "leaking": 1,  # P2-R01-C04, at the joint; P2-R01-C03 was plugged the same day
        "plugged": 3,  # P2-R01-C02, P2-R01-C03, P3-R02-C01
        "split": 1,  # P2-R02-C03
        "not_inspected": 4,  # P3-R02-C02 to C05
        "sound_with_findings": 2,  # P2-R02-C02 and P3-R01-C01
        "joint_leaks_only": 1,  # P2-R01-C04
        # P2-R02-C02 (act), P2-R02-C03 (split), P2-R02-C04 (1.60 mm under 1.8), P3-R02-C01 (weeps)
        "bad_now": 4,
    }
    assert {name: totals[name] for name in expected} == expected
    assert totals["plugged_percent"] == pytest.approx(100 * 3 / 18)
    # Three plugged and three bad that are not.
    assert totals["out_of_service_percent"] == pytest.approx(100 * 6 / 18)


def test_the_unseen_are_taken_to_be_like_the_seen_of_their_pass(report):
    # Pass 2: all eight looked at. Pass 3: six looked at, one of them plugged; four are not.
    high = {each["pass"]: each["plugged_percent_high"] for each in report["passes"]}
    assert high[2] == pytest.approx(100 * 2 / 8)
    assert high[3] == pytest.approx(100 * (1 + 4 / 6) / 10)
    assert report["totals"]["plugged_percent_high"] == pytest.approx(100 * (3 + 4 / 6) / 18)


def test_coverage_counts_ends_and_no_fill_in_as_a_look(report):
    coverage = report["coverage"]
    expected = {
        "ends": 36,
        # pass 2: 2 + 2 + 2 + 1 + 2 + 1 + 2 = 12; pass 3: 1 rear and 2 of P3-R02-C01 = 3
        "seen": 15,
        "by_row": 8,  # P2-R01-C04 rear, both ends of P2-R02-C01, five fronts of pass 3
        "filled": 2,
        "paper": 0,
        "not_inspected": 11,
        "tubes_both_ends": 9,  # seven of pass 2, P3-R01-C01, P3-R02-C01
        "tubes_one_end": 5,  # P2-R02-C03, P3-R01-C02 to C05
        "tubes_no_end": 4,
    }
    assert {name: coverage[name] for name in expected} == expected


def test_each_tube_says_what_stands_there(report):
    tubes = {each["tube"]: each for each in report["tubes"]}
    assert tubes["P2-R01-C03"]["as_left"] == "plugged"
    assert tubes["P3-R02-C01"]["plugged_one_end"] == "yes"
    assert tubes["P2-R02-C04"]["wall_mm"] == 1.6
    assert [key for key, each in tubes.items() if each["bad_now"]] == [
        "P2-R02-C02",
        "P2-R02-C03",
        "P2-R02-C04",
        "P3-R02-C01",
    ]
