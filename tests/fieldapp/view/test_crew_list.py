"""The tablet's crew list has the tasks of ``tubewright crew``, face by face, in chalk order."""

from fieldapp.cautions import PRESSURE
from fieldapp.view.crew_list import build_crew_list
from model.record.words import Reason


def test_the_list_is_chalked_face_by_face(bench, session):
    session.mark([bench.ref("P2-R01-C01")], {"state": "split"})
    session.mark([bench.ref("P2-R02-C04", "rear")], {"state": "leaking", "leak_at": "joint"})
    session.set_not_inspected(bench.row(3, 1), Reason.NOT_CLEANED)
    now = bench.surroundings.clock()
    crew = build_crew_list(bench.store, bench.boiler, bench.inspection, now)
    assert crew.caution == PRESSURE
    front, turnaround, rear = crew.faces
    assert front.rows[0].words == "row 1: 1 plug or replace, as decided; 2, 3 look"
    assert front.seen == (
        "Seen from the front smokebox, looking rearward: not mirrored, column 1 is at the left."
    )
    assert turnaround.rows[0].words == (
        "row 1: 3 (1) plug or replace, as decided; 1 (3), 2 (2) look"
    )
    assert turnaround.rows[1].words.startswith("row 2: 1 (4) re-roll; ")
    assert turnaround.seen.endswith(
        "the number in brackets is the column of the tube's key and of the map, which counts from "
        "the right here."
    )
    who, nothing, *chalked = crew.words.splitlines()
    assert (who, nothing) == (crew.decision, "")
    assert who.startswith("Plug or replace is decided by the owner: see 'The tubes of the option'")
    assert chalked[:3] == [front.seen, "pass 2", f"  {front.rows[0].words}"]
    assert crew.count == sum(len(row.tasks) for face in crew.faces for row in face.rows)
    (task,) = [task for task in front.rows[0].tasks if task.tube == "P2-R01-C01"]
    assert (task.do, task.why) == ("plug or replace, as decided", "split")
    assert {row.pass_ for row in rear.rows} == {3}


def test_a_face_with_nothing_to_do_says_so(bench, session):
    for end in ("front", "rear"):
        for pass_, row in ((2, 1), (2, 2), (2, 3), (3, 1), (3, 2)):
            session.mark(bench.row(pass_, row, end), {"state": "sound"})
    now = bench.surroundings.clock()
    crew = build_crew_list(bench.store, bench.boiler, bench.inspection, now)
    assert (crew.count, crew.decision) == (0, "")
    assert crew.words.count("nothing to do") == 3
