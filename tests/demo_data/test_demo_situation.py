"""What the decision knows of the demo boiler, set beside what was counted by hand from its files.

Not here: the counts by state (``test_demo_counts``), the advice that follows.
"""

from pathlib import Path

import pytest

from fieldapp.cli.context import Context
from fieldapp.cli.demo import run_steps
from model.store.loading import list_boilers, load_boiler
from model.store.surroundings import real_surroundings
from tests.demo_data.test_demo_counts import EXPECTED_TUBES
from tests.model.decision.recorded import Recorded, recorded_of

EXPECTED_BAD = {
    2: {"P2-R06-C02", "P2-R03-C05", "P2-R04-C13", "P2-R08-C03", "P2-R07-C03"},
    3: {"P3-R05-C07"},
}
# P2-R05-C03: 1.86 mm, 0.1 mm of gauge, 1.8 mm to retire at.
EXPECTED_WEAK = {
    "P2-R01-C12": "end burned, to watch",
    "P2-R04-C02": "2.10 mm, measured thin",
    "P2-R06-C04": "2.22 mm, measured thin",
    "P2-R05-C03": "thinned; 1.86 mm, measured thin and within the gauge's error of the retirement "
    "wall; its wall lasts 0.7 years, less than twice the 1 year between planned outages",
    "P2-R06-C01": "thinned; 2.28 mm, measured thin",
    "P2-R06-C08": "thinned",
    "P3-R01-C10": "thinned",
    "P3-R06-C22": "thinned; 2.14 mm, measured thin",
}


class Demo:
    def __init__(self, path: Path) -> None:
        context = Context(
            data=path,
            named_data=path,
            makes_folder=False,
            folder=path.parent,
            surroundings=real_surroundings(),
        )
        with run_steps(context, path).open_to_read() as store:
            self.boiler = load_boiler(store, list_boilers(store)[0].boiler)
        self.recorded: Recorded = recorded_of(self.boiler, self.boiler.inspections[-1])
        self.keys = {tube.hole: tube.key for tube in self.boiler.tubes}

    def named(self, holes: frozenset[str]) -> set[str]:
        return {self.keys[hole] for hole in holes}


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Demo:
    return Demo(tmp_path_factory.mktemp("demo") / "demo.db")


def test_plugged_bad_and_leaking_joints_are_those_named_by_hand(demo: Demo) -> None:
    for number, bad in EXPECTED_BAD.items():
        each = demo.recorded.pass_(number)
        of_pass = {key for key in EXPECTED_TUBES["plugged"] if key.startswith(f"P{number}")}
        assert demo.named(each.bad) == bad
        assert demo.named(each.plugged) == of_pass - bad
        joints = {key for key in EXPECTED_TUBES["joint_leaks_only"] if key[:2] == f"P{number}"}
        assert demo.named(frozenset(each.joint_ends)) == joints
        assert set(each.joint_ends.values()) == {1}


def test_weak_tubes_are_named_with_their_reasons(demo: Demo) -> None:
    assert demo.recorded.weak == EXPECTED_WEAK


def test_the_passes_have_their_tubes_ends_stays_and_two_tubes_nobody_saw(demo: Demo) -> None:
    two, three = demo.recorded.pass_(2), demo.recorded.pass_(3)
    assert (two.tubes, two.ends, len(two.stays), two.unseen) == (106, "rolled-beaded", 6, 1)
    assert (three.tubes, three.ends, len(three.stays), three.unseen) == (147, "rolled-flared", 6, 1)


def test_walls_come_due_where_they_were_measured_and_by_a_trace_where_not(demo: Demo) -> None:
    two, three = demo.recorded.pass_(2), demo.recorded.pass_(3)
    # Beside P2-R05-C03 three more of the weak ones come to 1.8 mm within ten years.
    assert sum(two.due_weak) == pytest.approx(4.0, abs=0.1)
    assert two.due_weak[0] == pytest.approx(1.0, abs=0.01)
    assert 0.0 < sum(two.due_other) < 0.5
    assert sum(three.due_weak) == pytest.approx(0.0, abs=0.01)
    # Of 2001, so that their walls grow thinner year by year.
    assert 0.0 < sum(three.due_other) < 0.1
    assert three.due_other[-1] > three.due_other[0]


def test_pass_2_grows_leaks_from_its_retube_and_of_pass_3_the_record_begins_too_late(
    demo: Demo,
) -> None:
    two, three = demo.recorded.pass_(2).risk, demo.recorded.pass_(3).risk
    assert two.basis == (
        "10 tubes lost in 15.0 years since 2011-08-31, 2 of them between outages, coming faster "
        "with age (shape 1.59); 3 tubes found leaking at the joint in 9.3 years, none of them "
        "between outages."
    )
    assert three.basis == (
        "5 tubes lost in 12.5 years since 2014-03, 3 of them between outages; the record begins 12 "
        "years after these tubes were put in, so the rate is taken as constant and new tubes get "
        "no credit; 6 tubes found leaking at the joint in 9.3 years, none of them between outages."
    )
    # P2-R02-C10 and P2-R03-C12; P3-R03-C09, P3-R04-C20 and P3-R03-C16. P3-R01-C05, re-rolled in
    # 2023, had been left leaking in 2022.
    assert (two.stopping_losses, two.losses_when_down) == (2, 8)
    assert (three.stopping_losses, three.losses_when_down) == (3, 2)
    assert (two.stopping_joint_leaks, three.stopping_joint_leaks) == (0, 0)
    # Since 2022: C12 plugged, C10, R06-C02 and R03-C05 leak or split, none of them called weak.
    assert (two.seen_losses, two.weak_losses) == (4, 0)
    assert (three.seen_losses, three.weak_losses) == (2, 0)


def test_one_cracked_ligament_calls_for_no_new_sheet(demo: Demo) -> None:
    situation = demo.recorded.situation
    assert situation.sheets_to_renew == ()
    assert situation.passes_of_sheet == {"front": (2, 3), "chamber": (2,), "rear": (3,)}
    assert situation.years_to_outage == pytest.approx(300 / 365.25)
    assert situation.uncovered == pytest.approx(0.6)
