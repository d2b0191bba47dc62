"""``demo``: the invented boiler in a fresh database, made by the very commands that people type.

Not here: what they typed (``demo_data/steps.toml``), the report (``fieldapp.report``).
"""

import argparse
import random
import shutil
import tempfile
import tomllib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import fieldapp
from fieldapp.cautions import DECISION
from fieldapp.cli.answer import Answer
from fieldapp.cli.choosing import open_or_latest
from fieldapp.cli.context import Context
from fieldapp.cli.dispatch import parse, perform
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import describe
from fieldapp.cli.refusals import Refused
from fieldapp.report.deciding import decide
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.sections.owner_option import option_heading
from fieldapp.report.wording import say_percent
from fieldapp.report.writing import FORMATS, numbers_of, render_files, write_files
from model.decision.advice import Advice
from model.store.loading import list_boilers, load_boiler
from model.store.surroundings import Surroundings

DATABASE_NAME = "tubewright.db"
SEED = 20260916
"""The same demo at every run: also its ids are drawn from a generator."""
DEVICE = "the demo"
"""No machine is called so: whoever records in the demo later writes as a new origin."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Build the invented demo boiler in a fresh database and write its report. Nothing of it is "
        "real.",
        "demo --out tubewright-demo",
        run,
    )
    parser.add_argument(
        "--out",
        metavar="DIR",
        default="tubewright-demo",
        help="the folder, made when it is not there (default: tubewright-demo)",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One command that somebody typed, and when."""

    at: datetime
    words: tuple[str, ...]


def run(context: Context, arguments: Arguments) -> Answer:
    out = context.file(arguments.out)
    database = context.named_data or out / DATABASE_NAME
    if database.exists():
        raise Refused(
            f"{database} already exists, and the demo overwrites nothing; name another folder with "
            "--out, or remove that file."
        )
    if out.exists() and not out.is_dir():
        raise Refused(f"{out} is a file; name a folder with --out.")
    with _refusing_disk(out), _work_folder(database.parent) as work:
        last = run_steps(context, work / DATABASE_NAME)
        context.progress("the report")
        numbers, advice, files = _report(last)
        with _taking_back() as placed:
            placed += write_files(out, files)
            _place(work, database, placed)
        written = [path for path in placed if path.parent == out and path != database]
    return _answer(numbers, advice, database, written)


def run_steps(context: Context, database: Path) -> Context:
    """Type every command of the demo into a database; gives where the last one worked."""
    folder = demo_folder()
    steps = read_steps(folder / "steps.toml")
    random_bits = random.Random(SEED)
    there = context
    for number, step in enumerate(steps, start=1):
        context.progress(f"{number} of {len(steps)}: {step.words[0]}")
        there = _context_at(context, database, folder, random_bits, step.at)
        perform(parse(step.words), there)
    return there


def demo_folder() -> Path:
    """The demo's files: inside the installed package, or beside it in a checkout."""
    package = Path(fieldapp.__file__).parent
    for folder in (package / "_demo_data", package.parent / "demo_data"):
        if (folder / "steps.toml").is_file():
            return folder
    raise Refused("The demo's files are missing from this installation; install it again.")


def read_steps(path: Path) -> list[Step]:
    """The commands in order."""
    with path.open("rb") as file:
        return [
            Step(at=datetime.fromisoformat(entry["at"]), words=tuple(entry["command"]))
            for entry in tomllib.load(file)["steps"]
        ]


def _context_at(
    context: Context, database: Path, folder: Path, random_bits: random.Random, moment: datetime
) -> Context:
    surroundings = Surroundings(
        clock=lambda: moment,
        random_bits=random_bits,
        device=DEVICE,
        app_version=context.surroundings.app_version,
    )
    return Context(
        data=database,
        named_data=database,
        makes_folder=False,
        folder=folder,
        surroundings=surroundings,
    )


def _report(context: Context) -> tuple[ConditionNumbers, Advice, dict[str, bytes]]:
    printed_at = context.surroundings.clock()
    with context.open_to_read() as store:
        boiler = load_boiler(store, list_boilers(store)[0].boiler)
        inspection = open_or_latest(boiler, None)
        numbers = numbers_of(store, boiler, inspection.facts.inspection, printed_at)
        advice = decide(numbers)
        return numbers, advice, dict(render_files(numbers, store, FORMATS, advice=advice))


def _answer(
    numbers: ConditionNumbers, advice: Advice, database: Path, placed: Sequence[Path]
) -> Answer:
    totals, by_condition = numbers.totals, numbers.advice
    verdict = [
        f"{numbers.facts.tag}, {numbers.inspection.facts.date}, as left: {totals.tubes} tubes, "
        f"{totals.plugged} plugged (at least {say_percent(totals.plugged_percent)}), "
        f"{totals.bad_now} bad now, {totals.joint_leaks_only} leaking at the joint only.",
        f"{option_heading(numbers, advice)}: {advice.words}",
        f"By condition alone: {by_condition.words}",
    ]
    return Answer(
        lines=[*(f"Written: {path}" for path in (database, *placed)), *verdict],
        data={
            "data": str(database),
            "files": [str(path) for path in placed],
            "boiler": numbers.boiler.boiler,
            "tag": numbers.facts.tag,
            "inspection": numbers.inspection.facts.inspection,
            "option": advice.option,
            "option_by_condition": by_condition.option,
            "verdict": verdict,
        },
        notes=[f"The boiler and everything about it is invented. {DECISION}"],
    )


@contextmanager
def _work_folder(home: Path) -> Iterator[Path]:
    """A folder on the disk of the database, gone afterwards."""
    beside = home if home.is_dir() else home.parent
    beside.mkdir(parents=True, exist_ok=True)
    work = Path(tempfile.mkdtemp(prefix=".part-", dir=beside))
    try:
        yield work
    finally:
        shutil.rmtree(work, ignore_errors=True)


@contextmanager
def _taking_back() -> Iterator[list[Path]]:
    """After any failure the files listed so far are removed again."""
    placed: list[Path] = []
    try:
        yield placed
    except BaseException:
        for path in placed:
            path.unlink(missing_ok=True)
        raise


@contextmanager
def _refusing_disk(out: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise Refused(
            f"The demo cannot be written into {out} ({error.strerror or error}); name another "
            "folder with --out."
        ) from None


def _place(work: Path, database: Path, placed: list[Path]) -> None:
    """Move the photos and then the database to where they belong, listing each."""
    for photo in sorted((work / "photos").glob("*/*")):
        place = database.parent / photo.relative_to(work)
        place.parent.mkdir(parents=True, exist_ok=True)
        if not place.exists():
            placed.append(place)
        photo.replace(place)
    database.parent.mkdir(parents=True, exist_ok=True)
    placed.append(database)
    (work / DATABASE_NAME).rename(database)
