"""The entry point ``tubewright``: prints what a command answers, or in one sentence why not.

The only place of the command line that catches what is refused; bugs keep their traceback. Not
here: the commands (``dispatch`` and one module each).
"""

import json
import os
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TextIO

from fieldapp.cli.answer import Answer
from fieldapp.cli.context import Context, default_data
from fieldapp.cli.dispatch import GlobalOptions, parse, perform, take_global_options
from fieldapp.cli.refusals import WrongUsage
from fieldapp.errors import FieldAppError
from model.errors import ModelError
from sync.errors import SyncError

DONE, REFUSED, WRONG_USAGE, INTERRUPTED = 0, 1, 2, 130


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command line (by default the process's own); gives the exit code."""
    for stream in (sys.stdout, sys.stderr):
        _use_utf8(stream)
    try:
        return _run(sys.argv[1:] if argv is None else argv)
    except KeyboardInterrupt:
        print("Interrupted.", file=sys.stderr)
        return INTERRUPTED
    except BrokenPipeError:
        # Whoever read our output has seen enough. Python would complain at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE


def _run(argv: Sequence[str]) -> int:
    try:
        options, words = take_global_options(argv)
        arguments = parse(words)
        answer = perform(arguments, _context(options, os.environ))
    except WrongUsage as error:
        print(error, file=sys.stderr)
        return WRONG_USAGE
    except (ModelError, SyncError, FieldAppError) as refusal:
        print(refusal, file=sys.stderr)
        return REFUSED
    except SystemExit as asked:  # --help and --version have printed what was asked
        sys.stdout.flush()
        return int(asked.code or DONE)
    _print(answer, as_json=options.as_json)
    return answer.exit_code


def _print(answer: Answer, *, as_json: bool) -> None:
    for note in answer.notes:
        print(note, file=sys.stderr)
    if as_json:
        print(json.dumps(answer.data, ensure_ascii=False, indent=2, allow_nan=False))
    else:
        for line in answer.lines:
            print(line)
    sys.stdout.flush()


def _context(options: GlobalOptions, environment: Mapping[str, str]) -> Context:
    from model.store.surroundings import real_surroundings

    named = options.data or environment.get("TUBEWRIGHT_DATA")
    return Context(
        data=default_data() if not named else Path(named),
        named_data=None if options.data is None else Path(options.data),
        makes_folder=not named,
        folder=Path(),
        surroundings=real_surroundings(),
        progress=_tell if sys.stderr.isatty() else lambda words: None,
    )


def _tell(words: str) -> None:
    print(f"{words} ...", file=sys.stderr, flush=True)


def _use_utf8(stream: TextIO) -> None:
    """Keys, names and sentences are Unicode, whatever the machine's locale says."""
    reconfigure = getattr(stream, "reconfigure", None)
    if reconfigure is not None:
        reconfigure(encoding="utf-8", errors="backslashreplace")


if __name__ == "__main__":
    sys.exit(main())
