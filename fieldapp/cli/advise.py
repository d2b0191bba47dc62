"""``advise``: what the record of an inspection and its costs lead to, on the terminal.

Not here: the advice (``model.decision``), its words (``fieldapp.report.advice_lines``).
"""

import argparse

from fieldapp.cautions import DECISION, PRESSURE
from fieldapp.cli.answer import Answer
from fieldapp.cli.choosing import chosen_boiler, open_or_latest
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import add_inspection, add_tag, describe
from fieldapp.cli.refusals import Refused
from fieldapp.report.advice_lines import advice_lines, wrapped
from fieldapp.report.deciding import decide
from fieldapp.report.recommendation_json import recommendation
from fieldapp.report.rerun_input import render_rerun_input
from fieldapp.report.writing import numbers_of, write_files


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Say which option costs least on these inputs, why, and what would change it. Without the "
        "figures of [costs] the option follows from the condition alone.",
        "advise LB-2",
        run,
    )
    add_tag(parser)
    add_inspection(parser, "the only open one, else the latest")
    parser.add_argument(
        "--out",
        metavar="FILE",
        help="write the inputs into this file too, to change them and run it again",
    )


def run(context: Context, arguments: Arguments) -> Answer:
    out = None if arguments.out is None else context.file(arguments.out)
    if out is not None and (not out.name or out.is_dir()):
        raise Refused(f"{out} is a folder; name a file with --out.")
    with context.open_to_read() as store:
        boiler = chosen_boiler(store, arguments.tag)
        inspection = open_or_latest(boiler, arguments.inspection)
        id_ = inspection.facts.inspection
        numbers = numbers_of(store, boiler, id_, context.surroundings.clock())
    context.progress("the trials")
    advice = decide(numbers)
    written = []
    if out is not None:
        write_files(out.parent, {out.name: render_rerun_input(numbers)})
        written = ["", f"Inputs written: {out}"]
    cautions = [f"Decision. {DECISION}", f"Pressure. {PRESSURE}"]
    return Answer(
        lines=[
            *advice_lines(numbers, advice),
            *written,
            *(line for words in cautions for line in ("", *wrapped(words))),
        ],
        data={
            "inspection": id_,
            "date": inspection.facts.date,
            **recommendation(advice),
            "caution": "\n".join(cautions),
        },
    )
