"""``calc``: one engineering formula by itself, so that a figure can be checked by hand.

The options are those of the formula, so they are read here and not by argparse, which would also
take a value that begins with a minus for an option. Not here: the formulas (``model.desk``).
"""

import argparse
from collections.abc import Mapping, Sequence

from fieldapp.cli.answer import Answer
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import EVERYWHERE, describe
from fieldapp.cli.refusals import WrongUsage
from model.desk.catalogue import find, formulas, run
from model.desk.formula import Formula, Outcome, ResultValue

_USAGE = "usage: tubewright calc [NAME [--parameter VALUE ...]]\n"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Run one engineering formula by itself. Without a name the formulas are listed; "
        "'calc NAME --help' gives symbols, units, range and source.",
        "calc ligament --pitch-mm 63.5 --hole-mm 51.6 --plate-mm 16",
        answer,
    )
    parser.add_argument("name", nargs="?", metavar="NAME", help="the formula")
    parser.add_argument(
        "parameters", nargs=argparse.REMAINDER, metavar="--parameter VALUE", help="its values"
    )


def answer(context: Context, arguments: Arguments) -> Answer:
    if arguments.name is None:
        return _list()
    if arguments.name not in [formula.name for formula in formulas()]:
        known = ", ".join(formula.name for formula in formulas())
        raise WrongUsage(
            f"{_USAGE}tubewright calc: there is no formula {arguments.name}; there are: {known}"
        )
    formula = find(arguments.name)
    if {"--help", "-h"} & set(arguments.parameters):
        lines = [*formula.help_lines(), "", EVERYWHERE]
        return Answer(lines=lines, data={"name": formula.name, "help": list(formula.help_lines())})
    raw = _read_parameters(formula, arguments.parameters)
    outcome = run(formula.name, raw)
    return Answer(lines=_lines(formula, outcome), data=outcome.to_dict())


def _list() -> Answer:
    every = formulas()
    width = max(len(formula.name) for formula in every)
    return Answer(
        lines=[
            f"{formula.name:<{width}}  {formula.summary} [{formula.source}]" for formula in every
        ],
        data=[
            {"name": formula.name, "summary": formula.summary, "source": formula.source}
            for formula in every
        ],
    )


def _read_parameters(formula: Formula, words: Sequence[str]) -> dict[str, str]:
    """Values by option. Wrong usage: an option that is unknown, doubled, missing or without value.

    What a value means, and whether it is in range, is the formula's to say.
    """
    given: dict[str, str] = {}
    rest = iter(words)
    for word in rest:
        option, joined, value = word.partition("=")
        name = option.removeprefix("--").replace("-", "_")
        if not option.startswith("--") or formula.parameter(name) is None:
            raise _wrong(formula, f"unknown: {word}; '--help' lists the parameters")
        if not joined:
            value = next(rest, "--")
            # A value may begin with one minus (-100,39), an option begins with two.
            if value.startswith("--"):
                raise _wrong(formula, f"{option} needs a value")
        if name in given:
            raise _wrong(formula, f"{option} is given twice")
        given[name] = value
    _require_all(formula, given)
    return given


def _require_all(formula: Formula, given: dict[str, str]) -> None:
    grouped = {name for group in formula.one_of for name in group}
    missing = [
        each.option
        for each in formula.parameters
        if each.is_required
        and each.default is None
        and each.name not in given
        and each.name not in grouped
    ]
    if missing:
        raise _wrong(formula, f"missing: {', '.join(missing)}")
    for group in formula.one_of:
        options = [each.option for each in formula.parameters if each.name in group]
        if sum(name in given for name in group) != 1:
            raise _wrong(formula, f"give exactly one of {' and '.join(options)}")


def _wrong(formula: Formula, what: str) -> WrongUsage:
    must = {each.name for each in formula.parameters if each.is_required and each.default is None}
    must -= {name for group in formula.one_of for name in group}
    parameters = " ".join(
        f"{each.option} VALUE" if each.name in must else f"[{each.option} VALUE]"
        for each in formula.parameters
    )
    command = f"tubewright calc {formula.name}"
    return WrongUsage(f"usage: {command} {parameters}\n{command}: {what}")


def _lines(formula: Formula, outcome: Outcome) -> list[str]:
    lines = [
        f"{name} = {_shown(value)}    {formula.results.get(name, '')}".rstrip()
        for name, value in outcome.result.items()
    ]
    return [*lines, f"Source: {outcome.source}", *(f"Note: {note}" for note in outcome.notes)]


def _shown(value: ResultValue) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None:
        return "none"
    if isinstance(value, Mapping):
        return ", ".join(f"{name} {_shown(each)}" for name, each in value.items())
    return f"{value:.6g}" if isinstance(value, float) else str(value)
