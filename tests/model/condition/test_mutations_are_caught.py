"""Faults planted in copies of the fold: each must make it disagree with the judge.

A comparison that passes says little unless it fails when it should. Every fault is one replaced
text in one file of a copied package. Not here: the comparison itself.
"""

import importlib
import itertools
import sys
from pathlib import Path

import pytest

import model.condition
from tests.model.condition.against_the_judge import disagreements
from tests.model.condition.record_sets import seeded_records

SOURCE = Path(model.condition.__file__).parent
MOST_SETS = 1000
_copies = itertools.count()

MUTATIONS = {
    "an end takes plugged for worse than leaking": (
        "slots.py",
        "{state: rank for rank, state in enumerate(State)}",
        '{s: r for r, s in enumerate(("split", "plugged", "leaking", "thinned", "sound"))}',
    ),
    "an end takes the best of its opinions": (
        "slots.py",
        "return min(states, key=_WORST_STATE.__getitem__, default=None)",
        "return max(states, key=_WORST_STATE.__getitem__, default=None)",
    ),
    "fill-ins count as looks": (
        "slots.py",
        "any(_how(record) in LOOKS for record in stated)",
        "any(_how(record) in LOOKS | {How.FILLED} for record in stated)",
    ),
    "fill-ins argue with looks": (
        "slots.py",
        "if settled or any(_how(record) in LOOKS for record in stated):",
        "if settled:",
    ),
    "fill-ins wipe out what is carried": (
        "slots.py",
        "return carried is None or carried.state not in _NO_FILL_OVER",
        "return True",
    ),
    "a fill-in counts as having looked again": (
        "states.py",
        "LOOKS = frozenset((How.SEEN, How.PAPER, How.BY_ROW))",
        "LOOKS = frozenset(How)",
    ),
    "sound carries": (
        "inspection.py",
        "_CARRIES = frozenset((State.THINNED,",
        "_CARRIES = frozenset((State.SOUND, State.THINNED,",
    ),
    "thinned does not carry": (
        "inspection.py",
        "_CARRIES = frozenset((State.THINNED,",
        "_CARRIES = frozenset((",
    ),
    "a settle covers no settle": (
        "slots.py",
        "settled = [settle for settle in settles if settle.id not in covered]",
        "settled = list(settles)",
    ),
    "a settle kills what it names": (
        "slots.py",
        "findings = _findings(observations, date)",
        "findings = _findings([o for o in observations if o.id not in covered], date)",
    ),
    "the best plug counts": (
        "slots.py",
        "condition=min(conditions, key",
        "condition=max(conditions, key",
    ),
    "a leak without a place is at the joint": (
        "slots.py",
        'record.body["leak_at"] or LeakAt.NOT_FOUND',
        'record.body["leak_at"] or LeakAt.JOINT',
    ),
    "a dead record kills no more": (
        "liveness.py",
        "if target in by_id and may_kill(killer, by_id[target], classes)",
        "if target in by_id and may_kill(killer, by_id[target], classes)"
        " and not any(killer.id in other.supersedes for other in killers)",
    ),
    "anyone may correct": (
        "liveness.py",
        "return classes.person.name(killer.by) == classes.person.name(target.by)",
        "return True",
    ),
    "persons are never the same": (
        "liveness.py",
        "return classes.person.name(killer.by) == classes.person.name(target.by)",
        "return killer.by == target.by",
    ),
    "a correction reaches another slot": (
        "liveness.py",
        "return same_slot and _same_person",
        "return _same_person",
    ),
    "work that follows kills": (
        "liveness.py",
        'return bool(killer.body["corrects"]) and _same_person',
        "return _same_person",
    ),
    "replace wins over plug": (
        "works.py",
        "_WINNER = (Does.PLUG, Does.UNPLUG, Does.REPLACE)",
        "_WINNER = (Does.REPLACE, Does.UNPLUG, Does.PLUG)",
    ),
    "followed work still counts": (
        "works.py",
        "last = [deed for deed in setters if deed.record not in followed]",
        "last = list(setters)",
    ),
    "of dated work all of it counts": (
        "works.py",
        "return [deed for deed in last if deed.date == latest]",
        "return last",
    ),
    "rolling clears every leak": (
        "works.py",
        "before.state is State.LEAKING and before.leak_at is LeakAt.JOINT",
        "before.state is State.LEAKING",
    ),
    "a disputed replacement begins a life": (
        "works.py",
        "if not replacements or any(_is_disputed(deeds, end) for end in End):",
        "if not replacements:",
    ),
    "replacing acts on the named end alone": (
        "works.py",
        "ends=frozenset(End) if does is Does.REPLACE else ends",
        "ends=ends",
    ),
    "grave findings outlive the tube": (
        "inspection.py",
        "if key[0] not in renewed and (grave",
        "if (grave",
    ),
    "work of the day stands before the inspection": (
        "fold.py",
        "if deed.date >= after and (before is None or deed.date < before):",
        "if deed.date > after and (before is None or deed.date <= before):",
    ),
    "inspections stand by id": (
        "fold.py",
        "key=lambda pool: (pool.facts.date or _LATEST, pool.facts.inspection)",
        "key=lambda pool: pool.facts.inspection",
    ),
    "a count retubes a pass": (
        "fold.py",
        'if body["what"] != EventWhat.RETUBED or body["count"] is not None:',
        'if body["what"] != EventWhat.RETUBED:',
    ),
}


@pytest.fixture
def planted(tmp_path, monkeypatch):
    """Gives the fold of a copy of the package in which one text was replaced."""
    package = f"planted_condition_{next(_copies)}"

    def fold(file_name, old, new):
        folder = tmp_path / package
        folder.mkdir()
        for source in SOURCE.glob("*.py"):
            text = source.read_text(encoding="utf-8")
            if source.name == file_name:
                assert text.count(old) == 1, f"{file_name} holds {text.count(old)} times: {old}"
                text = text.replace(old, new)
            text = text.replace("model.condition", package)
            (folder / source.name).write_text(text, encoding="utf-8")
        monkeypatch.syspath_prepend(tmp_path)
        return importlib.import_module(f"{package}.fold").fold_boiler

    yield fold
    for name in [name for name in sys.modules if name.split(".")[0] == package]:
        del sys.modules[name]


def sets_until_caught(fold):
    """How many record sets it took until fold and judge differed; None when they never did."""
    for seed in range(MOST_SETS):
        if disagreements(seeded_records(seed), fold):
            return seed + 1
    return None


def test_a_copy_without_a_fault_agrees_with_the_judge(planted):
    assert (
        sets_until_caught(planted("fold.py", '"""The state of a boiler:', '"""The state:')) is None
    )


@pytest.mark.parametrize("mutation", MUTATIONS.values(), ids=MUTATIONS)
def test_a_planted_fault_is_caught(planted, mutation):
    assert sets_until_caught(planted(*mutation)) is not None


def test_swapping_the_order_of_a_tubes_ends_is_caught(planted):
    """Plugged in front and split behind: the tube counts as plugged."""
    fold = planted(
        "tubes.py",
        "    if State.PLUGGED in (front, rear):\n        return State.PLUGGED\n",
        "",
    )
    swapped = importlib.import_module(fold.__module__.replace(".fold", ".tubes")).folded_state
    assert swapped("plugged", "split") == "split"
