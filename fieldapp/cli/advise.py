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
from fieldapp.intake.boiler_document import sheets_of
from fieldapp.intake.boiler_schema import SETTINGS
from fieldapp.intake.boiler_toml import read_boiler
from fieldapp.intake.what_if import WhatIf, with_settings_of
from fieldapp.report.advice_lines import advice_lines, wrapped
from fieldapp.report.deciding import decide
from fieldapp.report.gas_side_words import gas_side_remarks
from fieldapp.report.in_any_case import in_any_case
from fieldapp.report.option_tubes import keys_in_order
from fieldapp.report.recommendation_json import recommendation
from fieldapp.report.rerun_input import render_rerun_input
from fieldapp.report.writing import numbers_of, write_files
from model.condition.states import FoldedBoiler


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
        "--with",
        dest="what_if",
        metavar="FILE",
        help="a what-if: [firing], [outage], [costs], [limits] and [wall] of this file take the "
        "place of the stored ones for this answer; nothing is stored",
    )
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
        what_if = None
        if arguments.what_if is not None:
            what_if = _what_if(context, arguments.what_if, boiler)
            boiler = what_if.boiler
        inspection = open_or_latest(boiler, arguments.inspection)
        id_ = inspection.facts.inspection
        numbers = numbers_of(store, boiler, id_, context.surroundings.clock())
    context.progress("the trials")
    advice = decide(numbers)
    written = []
    if out is not None:
        write_files(out.parent, {out.name: render_rerun_input(numbers)})
        written = ["", f"Inputs written: {out}"]
    notes = [] if what_if is None else _notes(what_if)
    cautions = [f"Decision. {DECISION}", f"Pressure. {PRESSURE}"]
    return Answer(
        lines=[
            *([] if what_if is None else _what_if_lines(arguments.what_if, what_if)),
            *advice_lines(numbers, advice),
            *written,
            *(line for words in cautions for line in ("", *wrapped(words))),
        ],
        data={
            "inspection": id_,
            "date": inspection.facts.date,
            "what_if": arguments.what_if,
            **recommendation(advice, in_any_case(numbers, advice), keys_in_order(numbers)),
            "gas_side_remarks": list(gas_side_remarks(numbers)),
            "caution": "\n".join(cautions),
            "notes": notes,
        },
        notes=[f"Note: {note}" for note in notes],
    )


def _what_if(context: Context, file: str, boiler: FoldedBoiler) -> WhatIf:
    given = read_boiler(context.file(file), tag_needed=False, sheets_there=sheets_of(boiler))
    return with_settings_of(boiler, given)


def _what_if_lines(file: str, what_if: WhatIf) -> list[str]:
    changed = ", ".join(f"[{name}]" for name in what_if.changed)
    return [
        f"What if: inputs from {file}; nothing is stored.",
        f"Other than stored: {changed}." if changed else "They are the stored ones.",
        "",
    ]


def _notes(what_if: WhatIf) -> list[str]:
    if not what_if.left_out:
        return []
    return [
        f"Left out of the file: {', '.join(what_if.left_out)}; a what-if changes only "
        f"{', '.join(f'[{name}]' for name in SETTINGS)}."
    ]
