"""The commands there are, and from the words of a command line to the command that runs.

Only the module of the command that is named is loaded. Not here: printing and exit codes
(``main``).
"""

import argparse
import importlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fieldapp.cli.answer import Answer
from fieldapp.cli.context import Context
from fieldapp.cli.parsers import EVERYWHERE, CommandParser
from fieldapp.cli.refusals import WrongUsage

COMMANDS: Mapping[str, str] = {
    "demo": "build the invented demo boiler and write its report",
    "tablet": "the touch app: mark tube ends on a map",
    "boiler": "new, update, list, show, same, template: the boilers",
    "inspection": "new, change, list, close, reopen, same: the inspections of a boiler",
    "observe": "add what was seen and measured, from a spreadsheet",
    "probe": "add the results of a specialist firm, from its own table",
    "history": "add what happened before, from a spreadsheet",
    "work": "add what a crew did, from a spreadsheet",
    "part": "add damage to what is not a tube, from a spreadsheet",
    "cause": "add suspected causes, from a spreadsheet",
    "test": "add pressure tests, from a spreadsheet",
    "photo": "add photos",
    "disputes": "list the tube ends on which people disagree",
    "settle": "settle a dispute",
    "withdraw": "withdraw one record",
    "signoff": "sign an inspection off",
    "report": "write the condition report",
    "maps": "write face maps to print and fill in by hand",
    "crew": "list what to do, in chalk order",
    "advise": "say which option costs least on these inputs, and what would change that",
    "handover": "write, read: the file that carries a boiler from one database to another",
    "calc": "run one engineering formula by itself",
    "person": "list, same: the people",
    "check": "check the database for damage",
    "backup": "write the database and its photos into one file",
    "restore": "make a database from a backup",
}
"""Names, in the order of the work, each with its line in the help. The module has the same name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GlobalOptions:
    """What may stand before or after any command."""

    data: str | None
    as_json: bool


def take_global_options(argv: Sequence[str]) -> tuple[GlobalOptions, list[str]]:
    """The options that stand anywhere, and the words that are left for the command."""
    data: str | None = None
    as_json = False
    rest: list[str] = []
    words = iter(argv)
    for word in words:
        if word == "--":
            rest += [word, *words]
        elif word == "--json":
            as_json = True
        elif word == "--data" or word.startswith("--data="):
            data = next(words, "") if word == "--data" else word.removeprefix("--data=")
            if not data:
                raise WrongUsage("tubewright: --data needs the name of a file")
        else:
            rest.append(word)
    return GlobalOptions(data=data, as_json=as_json), rest


def parse(words: Sequence[str]) -> argparse.Namespace:
    """The arguments of a command line without its global options.

    Raises WrongUsage; SystemExit after ``--help`` was printed.
    """
    parser = CommandParser(
        prog="tubewright",
        description="Record the condition of every tube of a fire-tube boiler, and report it.",
        epilog=f"'tubewright COMMAND --help' says more of a command.\n\n{EVERYWHERE}",
    )
    parser.add_argument("--version", action="version", version=_version(words))
    commands = parser.add_subparsers(metavar="COMMAND", required=True, dest="command")
    for name, summary in COMMANDS.items():
        command = commands.add_parser(name, help=summary)
        if name in words:
            importlib.import_module(f"fieldapp.cli.{name}").add_arguments(command)
    return parser.parse_args(words)


def perform(arguments: argparse.Namespace, context: Context) -> Answer:
    """Run the command."""
    answer: Answer = arguments.run(context, arguments)
    return answer


def _version(words: Sequence[str]) -> str:
    if "--version" not in words:
        return ""
    # Looking it up reads the installed packages, which every other command need not wait for.
    from model.store.surroundings import program_version

    return f"tubewright {program_version()}"
