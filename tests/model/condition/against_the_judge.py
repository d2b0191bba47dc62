"""The fold beside the judge: every point on which they differ, in words.

Not here: the record sets, and what counts as passing.
"""

from model.condition.fold import fold_boiler
from tests.model.condition.journal import BOILER
from tests.model.condition.judge import judge


def disagreements(records, fold=fold_boiler, boiler=BOILER):
    """Where a fold and the judge differ on a set of records; empty when they agree."""
    folded, verdict = fold(records, boiler), judge(records, boiler)
    names = [one.facts.inspection for one in folded.inspections]
    expected = [one.name for one in verdict.inspections]
    if names != expected:
        return [f"inspections: fold {names}, judge {expected}"]
    found = []
    for mine, theirs in zip(folded.inspections, verdict.inspections, strict=True):
        found += _of_inspection(mine, theirs)
    found += _of_carry(folded.carried_after, verdict.carried_after, "after all")
    found += _of_lives(folded.carried_after, verdict.lives_after, "after all")
    return found


def _of_inspection(mine, theirs):
    where = f"{theirs.name} ({theirs.date})"
    points = [("date", mine.facts.date, theirs.date)]
    points.append(("unknown ends", set(mine.found) - set(theirs.found), set()))
    points.append(("unknown ends left", set(mine.left) - set(theirs.left), set()))
    for key, end in theirs.found.items():
        points.append((f"{key} found", _found(mine.end_found(*key)), _judged_found(end)))
    for key, end in theirs.left.items():
        points.append((f"{key} left", _left(mine.end_left(*key)), _left_of_judge(end)))
    renewed = {h for h, life in theirs.lives_left.items() if life != theirs.lives_found[h]}
    points.append(("renewed", mine.renewed, renewed))
    return [
        *_differing(points, where),
        *_of_carry(mine.carried_in, theirs.carried_in, f"{where} carried in"),
        *_of_carry(mine.carried_out, theirs.carried_out, f"{where} carried out"),
        *_of_lives(mine.carried_in, theirs.lives_found, f"{where} as found"),
        *_of_lives(mine.carried_out, theirs.lives_left, f"{where} as left"),
    ]


def _of_carry(mine, theirs, where):
    carried = {key: _carried(end) for key, end in mine.ends.items()}
    expected = {
        key: (end.state, end.leak_at, end.plug) for key, end in theirs.items() if end is not None
    }
    return _differing([("ends", carried, expected)], where)


def _of_lives(mine, theirs, where):
    return _differing([(f"life of {h}", mine.life(h).number, n) for h, n in theirs.items()], where)


def _differing(points, where):
    return [
        f"{where}, {what}: fold {mine}, judge {theirs}"
        for what, mine, theirs in points
        if mine != theirs
    ]


def _plug(plug):
    return None if plug is None else plug.condition


def _carried(end):
    return (end.state, end.leak_at, _plug(end.plug))


def _found(end):
    return (
        *(end.state, end.carried, end.disputed, end.leak_at, _plug(end.plug), end.how),
        frozenset(record.id for record in end.opinions),
        frozenset((finding.record, finding.grade) for finding in end.findings),
    )


def _judged_found(end):
    return (*_left_of_judge(end), end.how, end.opinions, end.findings)


def _left(end):
    return (end.state, end.carried, end.disputed, end.leak_at, _plug(end.plug))


def _left_of_judge(end):
    return (end.state, end.carried, end.disputed, end.leak_at, end.plug)
