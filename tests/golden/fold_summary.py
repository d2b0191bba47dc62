"""What a set of record lines folds to, in a small form that can be frozen beside them.

Not here: the lines and the test.
"""

from model.condition.fold import fold_boiler
from model.record.line import read_line


def summary_of(lines, boiler):
    """Plain JSON values: the boiler's ends, lives and documents."""
    folded = fold_boiler([read_line(line) for line in lines], boiler)
    names = {tube.hole: tube.key for tube in folded.tubes}
    return {
        "boiler": folded.boiler,
        "tag": folded.document.body["tag"],
        "tubes": [tube.key for tube in folded.tubes],
        "retired": sorted(folded.retired),
        "settings": sorted(folded.settings),
        "persons": dict(sorted(folded.persons.items())),
        "not_understood": folded.not_understood,
        "gap_work": len(folded.gap_work),
        "inspections": [_of_inspection(one, names) for one in folded.inspections],
        "carried_after": {
            _end(key, names): [end.state, end.leak_at, _plug(end), end.since]
            for key, end in sorted(folded.carried_after.ends.items())
        },
    }


def _of_inspection(one, names):
    return {
        "inspection": one.facts.inspection,
        "date": one.facts.date,
        "closed": one.facts.is_closed,
        "found": {
            _end(key, names): [
                *(end.state, end.carried, end.disputed, end.how, end.leak_at, _plug(end)),
                sorted(finding.grade for finding in end.findings),
            ]
            for key, end in sorted(one.found.items())
        },
        "left": {
            _end(key, names): [end.state, end.carried, end.disputed, end.leak_at, _plug(end)]
            for key, end in sorted(one.left.items())
        },
        "lives": {names[hole]: life.number for hole, life in sorted(one.carried_out.lives.items())},
        "renewed": sorted(names[hole] for hole in one.renewed),
        "readings": len(one.readings),
        "work": len(one.work),
        "others": sorted(record.kind for record in one.others),
        "after_closing": sorted(names[hole] for hole in one.after_closing),
    }


def _end(key, names):
    hole, end = key
    return f"{names.get(hole, hole)} {end}"


def _plug(end):
    return None if end.plug is None else end.plug.condition
