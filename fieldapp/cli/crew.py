"""``crew``: what is left to do at every face, in chalk order.

Not here: what is to be done (``crew_tasks``).
"""

import argparse
from collections.abc import Iterator, Sequence
from itertools import groupby
from pathlib import Path

from fieldapp.cautions import PRESSURE
from fieldapp.cli.answer import Answer
from fieldapp.cli.choosing import chosen_boiler, open_or_latest
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import Arguments, word
from fieldapp.cli.parsers import add_inspection, add_tag, describe
from fieldapp.report.crew_page import render_crew_pages
from fieldapp.report.crew_tasks import Task, list_tasks
from fieldapp.report.crew_words import (
    COUNT_FROM_THE_LEFT,
    TO_BE_ACCEPTED,
    decision_lines,
    say_row,
)
from fieldapp.report.paper import Paper
from fieldapp.report.writing import numbers_of, write_files
from model.tubesheet.faces import Face, is_mirrored, mirror_words


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "List what is left to do, face by face as seen, row by row from the top; the numbers count "
        "the tubes of a row from the left as one stands there.",
        "crew LB-2",
        run,
    )
    add_tag(parser)
    add_inspection(parser, "the only open one, else the latest")
    parser.add_argument(
        "--keys", action="store_true", help="say the key of every tube and why, a line each"
    )
    parser.add_argument(
        "--out", type=Path, metavar="DIR", help="write it as pages to print into this folder"
    )
    parser.add_argument(
        "--paper",
        type=word("--paper", Paper),
        default=Paper.A4,
        metavar="PAPER",
        help="a4 or letter (default: a4)",
    )


def run(context: Context, arguments: Arguments) -> Answer:
    with context.open_to_read() as store:
        boiler = chosen_boiler(store, arguments.tag)
        inspection = open_or_latest(boiler, arguments.inspection)
        id_ = inspection.facts.inspection
        numbers = numbers_of(store, boiler, id_, context.surroundings.clock())
    if arguments.out is not None:
        written = write_files(arguments.out, render_crew_pages(numbers, arguments.paper))
        return Answer(
            lines=[str(path) for path in written], data={"written": [str(p) for p in written]}
        )
    by_face = list_tasks(numbers)
    date = inspection.facts.date
    decided = decision_lines(task for _, tasks in by_face for task in tasks)
    lines = [
        f"{numbers.facts.tag}, inspection of {date}, as left: what is left to do.",
        *decided,
        TO_BE_ACCEPTED,
    ]
    for face, tasks in by_face:
        lines += ["", *_lines_of_face(face, tasks, with_keys=arguments.keys)]
    return Answer(
        lines=[*lines, "", f"Pressure. {PRESSURE}"],
        data={
            "inspection": id_,
            "date": date,
            "faces": [
                {
                    "face": face.key,
                    "seen": mirror_words(face),
                    "tasks": [_data(task) for task in tasks],
                }
                for face, tasks in by_face
            ],
            "decision": " ".join(decided) or None,
            "caution": PRESSURE,
        },
    )


def _lines_of_face(face: Face, tasks: Sequence[Task], *, with_keys: bool) -> Iterator[str]:
    yield mirror_words(face)
    if is_mirrored(face):
        yield COUNT_FROM_THE_LEFT
    if not tasks:
        yield "nothing to do"
    for pass_, of_pass in groupby(tasks, key=lambda task: task.pass_):
        yield f"pass {pass_}"
        for row, members in groupby(of_pass, key=lambda task: task.row):
            of_row = list(members)
            yield f"  row {row}: {say_row(of_row, with_key_columns=is_mirrored(face))}"
            if with_keys:
                yield from (
                    f"    {each.column} {each.tube}: {each.do}, {each.why}" for each in of_row
                )


def _data(task: Task) -> dict[str, object]:
    return {
        "pass": task.pass_,
        "row": task.row,
        "column": task.column,
        "key_column": task.key_column,
        "tube": task.tube,
        "end": str(task.end),
        "do": task.do,
        "why": task.why,
    }
