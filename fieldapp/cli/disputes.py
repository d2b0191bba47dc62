"""``disputes``: the tube ends on which people disagree, with what each says.

Not here: what makes a dispute (``model.condition``), settling one (``settle``).
"""

import argparse

from fieldapp.cli.answer import Answer, count_of
from fieldapp.cli.choosing import chosen_boiler, open_or_latest
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import add_inspection, add_tag, describe
from fieldapp.report.changes_found import Dispute
from fieldapp.report.writing import numbers_of
from model.condition.states import FoldedBoiler
from model.record.line import Record


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "List the tube ends on which people disagree. Until someone settles it the worse counts.",
        "disputes LB-2",
        run,
    )
    add_tag(parser)
    add_inspection(parser, "the only open one, else the latest")


def run(context: Context, arguments: Arguments) -> Answer:
    with context.open_to_read() as store:
        boiler = chosen_boiler(store, arguments.tag)
        inspection = open_or_latest(boiler, arguments.inspection)
        id_ = inspection.facts.inspection
        numbers = numbers_of(store, boiler, id_, context.surroundings.clock())
    date = inspection.facts.date
    how_many = count_of(len(numbers.disputes), "dispute")
    lines = [f"{how_many} in the inspection of {date}."]
    for dispute in numbers.disputes:
        lines += _lines(boiler, dispute)
    return Answer(
        lines=lines,
        data={
            "inspection": id_,
            "date": date,
            "disputes": [_data(boiler, dispute) for dispute in numbers.disputes],
        },
    )


def _lines(boiler: FoldedBoiler, dispute: Dispute) -> list[str]:
    what = "what was done" if dispute.by_work else f"counted as {dispute.governing}"
    lines = [f"{dispute.tube} {dispute.end}: {what}"]
    for record in dispute.opinions if not dispute.by_work else ():
        about = _about(record)
        lines.append(
            f"  {boiler.name_of(record.by)}: {record.body['state']}{about}, {record.at} "
            f"({record.id[:12]})"
        )
    return lines


def _about(record: Record) -> str:
    """Where it leaks, how it is known, in brackets."""
    said = [record.body.get("leak_at"), record.body.get("how"), record.body.get("note")]
    if record.kind == "settle":
        said = [record.body.get("leak_at"), f"settled, {record.body['from']}", record.body["why"]]
    words = ", ".join(str(part) for part in said if part)
    return f" ({words})" if words else ""


def _data(boiler: FoldedBoiler, dispute: Dispute) -> dict[str, object]:
    return {
        "tube": dispute.tube,
        "end": str(dispute.end),
        "counted_as": dispute.governing,
        "by_work": dispute.by_work,
        "opinions": [
            {
                "id": record.id,
                "by": boiler.name_of(record.by),
                "kind": record.kind,
                "state": record.body["state"],
                "leak_at": record.body["leak_at"],
                "at": record.at,
            }
            for record in dispute.opinions
        ],
    }
