"""``crew``: what is left to do, counted as one stands there."""

import pytest

from fieldapp.cautions import PRESSURE
from fieldapp.report.crew_tasks import columns_as_seen
from model.tubesheet.faces import Face
from model.tubesheet.layout import Tube

DECIDE = "plug or replace, as decided"
RENEW = "renew plug or replace, as decided"
WHO_DECIDES = (
    "Plug or replace is decided by the owner: see 'The tubes of the option' in the report."
)


@pytest.fixture
def tasks(done):
    """``tasks()``: (tube, face) to what is to be done there."""

    def look():
        return {
            (task["tube"], face["face"]): task["do"]
            for face in done("crew B-1")["faces"]
            for task in face["tasks"]
        }

    return look


@pytest.fixture
def all_sound(inspection, done, write, folder):
    keys = [line.partition(",")[0] for line in (folder / "layout.csv").read_text().splitlines()[1:]]
    write("all.csv", "tube,state,how", *(f"{key},sound,seen" for key in keys))
    done("observe B-1 all.csv")


def test_when_all_is_sound_there_is_nothing_to_do(all_sound, tubewright):
    said = tubewright("crew B-1").out
    assert said.count("nothing to do") == 3
    assert said.endswith(f"\nPressure. {PRESSURE}\n")


def test_rows_are_told_in_chalk_order_as_seen_from_each_face(all_sound, done, tubewright, write):
    write(
        "o.csv",
        "tube,end,state,leak_at",
        "P3-R01-C04,,split,",
        "P3-R01-C02,,split,",
        "P3-R01-C05,rear,leaking,joint",
        "P3-R02-C01,,split,",
        "P2-R01-C01,,split,",
    )
    done("observe B-1 o.csv")
    said = tubewright("crew B-1").out
    top, front, chamber, rear = said.partition("\nPressure.")[0].split("\n\n")
    assert top.splitlines()[1] == WHO_DECIDES
    assert front.splitlines() == [
        "Seen from the front smokebox, looking rearward: not mirrored, column 1 is at the left.",
        "pass 2",
        "  row 1: 1 plug or replace, as decided",
        "pass 3",
        "  row 1: 2, 4 plug or replace, as decided",
        "  row 2: 1 plug or replace, as decided",
    ]
    # In rows of five and four the first from the front is the last as seen from behind.
    assert chamber.splitlines()[2:] == ["pass 2", "  row 1: 4 (1) plug or replace, as decided"]
    assert rear.splitlines() == [
        "Seen from the rear smokebox, looking forward: mirrored, column 1 is at the right.",
        "Count from the left as you stand there; the number in brackets is the column of the "
        "tube's key and of the map, which counts from the right here.",
        "pass 3",
        "  row 1: 2 (4), 4 (2) plug or replace, as decided; 1 (5) re-roll",
        "  row 2: 5 (1) plug or replace, as decided",
    ]


def test_runs_of_tubes_are_joined_and_keys_are_told_on_request(inspection, tubewright):
    said = tubewright("crew B-1 --keys").out
    assert "  row 1: 1-5 look\n    1 P3-R01-C01: look, not looked at\n" in said


@pytest.mark.parametrize(
    ("row", "front", "rear"),
    [
        ("split,,,,,", DECIDE, DECIDE),
        ("leaking,bore,,,,", DECIDE, DECIDE),
        ("leaking,,,,,", DECIDE, DECIDE),
        ("leaking,joint,,,,", "re-roll", None),
        ("plugged,,weeping,,,", RENEW, None),
        ("plugged,,missing,,,", RENEW, None),
        ("sound,,,bead-cracked,act,", DECIDE, DECIDE),
        ("sound,,,bead-cracked,watch,", None, None),
        ("thinned,,,,,1.5", DECIDE, DECIDE),
        ("thinned,,,,,2.2", None, None),
    ],
)
def test_what_is_found_at_the_front_end_decides_what_is_done(
    all_sound, done, tasks, write, row, front, rear
):
    write("more.toml", "[wall]", 'retirement = "stated"', "stated_mm = 1.8", 'basis = "test"')
    done("boiler update B-1 more.toml --by Ada")
    write(
        "o.csv",
        "tube,end,state,leak_at,plug_condition,mechanism,grade,wall_mm",
        f"P3-R01-C02,front,{row}",
    )
    done("observe B-1 o.csv")
    if row.startswith("plugged"):
        rear = DECIDE  # the other end was seen open, and this plug does not hold
    assert tasks().get(("P3-R01-C02", "front")) == front
    assert tasks().get(("P3-R01-C02", "rear")) == rear


def test_what_is_not_asked_of_the_owner_keeps_its_short_words(all_sound, done, tubewright, write):
    write(
        "o.csv",
        "tube,end,state,leak_at",
        "P3-R01-C02,front,leaking,joint",
        "P3-R01-C03,front,plugged,",
    )
    done("observe B-1 o.csv")
    said = tubewright("crew B-1").out
    assert "  row 1: 2 re-roll\n" in said
    assert "  row 1: 3 (3) plug\n" in said  # plugged at one end, and the plug holds
    assert WHO_DECIDES not in said
    assert done("crew B-1")["decision"] is None


def test_as_json_it_says_who_decides_what_is_done_about_a_bad_tube(all_sound, done, write):
    write("o.csv", "tube,state", "P3-R01-C02,split")
    done("observe B-1 o.csv")
    assert done("crew B-1")["decision"] == WHO_DECIDES


def test_a_stay_tube_is_referred_and_not_plugged(done, tasks, write, folder):
    text = (folder / "layout.csv").read_text(encoding="utf-8").splitlines()
    kinds = ["kind", "stay", *["plain"] * 17]
    write("layout.csv", *(f"{line},{kind}" for line, kind in zip(text, kinds, strict=True)))
    done("boiler new boiler.toml --layout layout.csv --by Ada")
    done("inspection new B-1 --date 2026-03-10 --inspector Ida")
    write("o.csv", "tube,state", "P2-R01-C01,split")
    done("observe B-1 o.csv")
    assert tasks()["P2-R01-C01", "front"] == "stay tube: refer, do not plug"


def test_work_that_was_done_is_no_longer_to_be_done(all_sound, done, tasks, write):
    write(
        "o.csv",
        "tube,end,state,leak_at",
        "P2-R01-C01,front,split,",
        "P2-R01-C02,front,leaking,joint",
        "P2-R01-C03,front,split,",
    )
    done("observe B-1 o.csv")
    write(
        "w.csv",
        "tube,does,date,ends",
        "P2-R01-C01,plug,2026-03-10,both",
        "P2-R01-C02,re-roll,2026-03-10,front",
        "P2-R01-C03,replace,2026-03-10,",
    )
    done("work B-1 w.csv")
    # Nothing is left to mend, but a joint re-rolled and a new tube want to be looked at.
    assert tasks() == {
        ("P2-R01-C02", "front"): "look",
        ("P2-R01-C03", "front"): "look",
        ("P2-R01-C03", "turnaround"): "look",
    }


def test_what_two_people_disagree_about_is_looked_at_again_first(all_sound, done, tasks, write):
    write("o.csv", "tube,end,state", "P2-R01-C01,front,split")
    done("observe B-1 o.csv --by Tom")
    assert tasks() == {
        ("P2-R01-C01", "front"): "look again",
        ("P2-R01-C01", "turnaround"): DECIDE,
    }


def test_what_is_carried_is_confirmed_or_looked_at(inspection, done, tasks, write):
    write(
        "o.csv",
        "tube,end,state,leak_at",
        "P2-R01-C01,,plugged,",
        "P2-R01-C02,front,plugged,",
        "P2-R01-C03,front,leaking,bore",
        "P2-R01-C04,front,thinned,",
    )
    done("observe B-1 o.csv")
    done("inspection close B-1")
    done("inspection new B-1 --date 2026-09-01 --inspector Ida --scope passes:2")
    found = tasks()
    assert {key: do for key, do in found.items() if key[0].startswith("P2-R01")} == {
        ("P2-R01-C01", "front"): "confirm plug",
        ("P2-R01-C01", "turnaround"): "confirm plug",
        ("P2-R01-C02", "front"): "confirm plug",
        ("P2-R01-C02", "turnaround"): "look",
        ("P2-R01-C03", "front"): "look again",
        ("P2-R01-C03", "turnaround"): "look",
        ("P2-R01-C04", "front"): "look",
        ("P2-R01-C04", "turnaround"): "look",
    }
    # Pass 3 is out of the scope of this inspection.
    assert [tube for tube, _ in found if tube.startswith("P3")] == []


def test_a_thin_wall_of_last_time_is_measured_again(inspection, done, tasks, write):
    write("more.toml", "[wall]", 'retirement = "stated"', "stated_mm = 1.8", 'basis = "test"')
    done("boiler update B-1 more.toml --by Ada")
    write("o.csv", "tube,state,wall_mm", "P2-R01-C01,sound,1.5")
    done("observe B-1 o.csv")
    done("inspection close B-1")
    done("inspection new B-1 --date 2026-09-01 --inspector Ida")
    assert tasks()["P2-R01-C01", "front"] == "measure wall"


@pytest.mark.parametrize(
    ("columns", "as_seen"),
    [
        ([1, 2, 3, 4], [4, 3, 2, 1]),
        ([2, 3, 4], [4, 3, 2]),
        ([1, 2, 5, 6], [6, 5, 2, 1]),
        ([7], [7]),
    ],
)
def test_columns_count_from_the_left_as_seen(columns, as_seen):
    tubes = [
        Tube(key=f"T{c}", hole=f"h{c}", pass_=2, row=1, column=c, x_mm=c, y_mm=0) for c in columns
    ]
    front = Face(key="f", name="front", sheet="s", looks="rearward", shows=())
    rear = Face(key="r", name="rear", sheet="s", looks="forward", shows=())
    assert list(columns_as_seen(tubes, front).values()) == columns
    assert list(columns_as_seen(tubes, rear).values()) == as_seen
