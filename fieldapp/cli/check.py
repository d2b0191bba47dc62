"""``check``: look for damage in the database; changes nothing.

Not here: what is looked at (``model.store.check``).
"""

import argparse

from fieldapp.cli.answer import Answer, count_of
from fieldapp.cli.context import Context
from fieldapp.cli.option_types import Arguments
from fieldapp.cli.parsers import describe
from model.store.check import check
from model.store.history import HISTORY_CACHE, recompute_history


def add_arguments(parser: argparse.ArgumentParser) -> None:
    describe(
        parser,
        "Check the database: every record is verified again and what is derived is compared. "
        "Exits with 1 when damage is found.",
        "check --data boilers.db",
        run,
    )


def run(context: Context, arguments: Arguments) -> Answer:
    with context.open_to_read() as store:
        result = check(store, {HISTORY_CACHE: lambda boiler: recompute_history(store, boiler)})
    facts = result.facts
    lines = [f"Damage: {problem}" for problem in result.problems]
    lines += [f"Note: {note}" for note in result.notes]
    lines.append(
        f"{context.data}: {count_of(facts.get('records', 0), 'record')}, "
        f"{count_of(facts.get('boilers', 0), 'boiler')}, "
        f"{count_of(facts.get('photos', 0), 'photo')}: "
        + (f"{count_of(len(result.problems), 'problem')}." if result.problems else "sound.")
    )
    return Answer(
        lines=lines,
        data={"problems": result.problems, "notes": result.notes, "facts": facts},
        notes=["Damage was found; restore from a backup and keep the damaged file."]
        if result.problems
        else [],
        exit_code=1 if result.problems else 0,
    )
