"""How a command describes itself: its help with one example, its options, the function it runs.

Not here: which commands there are (``dispatch``).
"""

import argparse
from collections.abc import Callable
from typing import Any, NoReturn

from fieldapp.cli.answer import Answer
from fieldapp.cli.column_help import column_help
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import filled
from fieldapp.cli.refusals import WrongUsage
from fieldapp.intake.tables import Columns

Run = Callable[[Context, argparse.Namespace], Answer]
EVERYWHERE = (
    "before or after the command:\n"
    "  --data FILE  the database (or TUBEWRIGHT_DATA; default: in your data folder)\n"
    "  --json       print machine-readable output"
)


class CommandParser(argparse.ArgumentParser):
    """A parser whose wrong usage is an exception, and which guesses no shortened options."""

    def __init__(self, **named: Any) -> None:
        named.setdefault("allow_abbrev", False)
        named.setdefault("formatter_class", argparse.RawDescriptionHelpFormatter)
        super().__init__(**named)

    def error(self, message: str) -> NoReturn:
        raise WrongUsage(f"{self.format_usage()}{self.prog}: {message}")


def describe(
    parser: argparse.ArgumentParser,
    summary: str,
    example: str,
    run: Run,
    columns: Columns | None = None,
) -> None:
    """Complete the parser of one command; ``columns`` of the table it reads are listed."""
    parser.description = summary
    listed = "" if columns is None else f"{column_help(columns)}\n\n"
    parser.epilog = f"{listed}example:\n  tubewright {example}\n\n{EVERYWHERE}"
    parser.set_defaults(run=run)


class Family:
    """A command of several words, such as ``boiler new``."""

    def __init__(self, parser: argparse.ArgumentParser, summary: str) -> None:
        parser.description = summary
        parser.epilog = EVERYWHERE
        self._words = parser.add_subparsers(metavar="WORD", required=True, dest="word")

    def add(self, word: str, summary: str, example: str, run: Run) -> argparse.ArgumentParser:
        """The parser of one word of the family."""
        parser: argparse.ArgumentParser = self._words.add_parser(word, help=summary)
        describe(parser, summary, example, run)
        return parser


def add_tag(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("tag", metavar="TAG", help="the boiler's tag, or the beginning of its id")


def add_by(parser: argparse.ArgumentParser, default: str) -> None:
    parser.add_argument("--by", metavar="NAME", help=f"who says so (default: {default})")


def add_filled(parser: argparse.ArgumentParser, option: str, metavar: str, about: str) -> None:
    """An option that must be given, with text that is not empty."""
    parser.add_argument(option, required=True, type=filled(option), metavar=metavar, help=about)


def add_inspection(parser: argparse.ArgumentParser, default: str) -> None:
    parser.add_argument(
        "--inspection",
        metavar="ID|DATE",
        help=f"which inspection, by its day or its id (default: {default})",
    )


def add_table(parser: argparse.ArgumentParser, what: str) -> None:
    """A CSV or XLSX file."""
    parser.add_argument("file", metavar="FILE", help=f"{what} (.csv or .xlsx)")
    parser.add_argument(
        "--sheet", metavar="NAME", help="which sheet of a workbook (default: the first)"
    )
