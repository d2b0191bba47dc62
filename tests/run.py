#!/usr/bin/env python3
"""Makes an environment of its own and runs every check that stands between a change and a release.

Needs Python 3.11 or newer, pip and git, nothing else. Run by hand and by ``.ci/run``, from any
folder, as root or not:

    python3 tests/run.py                        format, lint, types, contracts, all tests
    python3 tests/run.py --fast                 the tests only, up to the first failure
    python3 tests/run.py -- tests/model -k end  what follows the two dashes goes to pytest

Not here: what the tools are told (``pyproject.toml``) and what a skip means in CI
(``tests/conftest.py``).
"""

from __future__ import annotations

import argparse
import ctypes.util
import hashlib
import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

if sys.version_info < (3, 11):  # noqa: UP036 - said here, or a traceback further down says it
    sys.exit(f"tests/run.py: needs Python 3.11 or newer, and this is {sys.version.split()[0]}.")

import tomllib

ROOT = Path(__file__).resolve().parent.parent
ENVIRONMENT = ROOT / ".venv-test"
STAMP = ENVIRONMENT / "made-from.txt"
PYTHON = (
    ENVIRONMENT / "Scripts" / "python.exe" if os.name == "nt" else ENVIRONMENT / "bin" / "python"
)

ON_TWO_CORES = ("-n", "2", "--dist", "loadfile")
"""Each file of tests stays on one core, with the fixtures that it shares."""


class CannotRun(Exception):
    """Something outside the checks is missing; the message says what to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SystemPackage:
    """A Debian package that a test needs and pip cannot bring."""

    package: str
    reason: str
    command: str = ""
    library: str = ""

    def is_there(self) -> bool:
        """Whether the command or the library that the package brings can be found."""
        if self.command:
            return shutil.which(self.command) is not None
        return ctypes.util.find_library(self.library) is not None


SYSTEM_PACKAGES = (
    SystemPackage(
        package="chromium",
        command="chromium",
        reason="a browser opens the HTML report, so that a test can judge what a reader sees",
    ),
    SystemPackage(
        package="poppler-utils",
        command="pdftotext",
        reason="another reader than ours opens the PDF report, so that a test can judge its pages",
    ),
    SystemPackage(
        package="libgl1",
        library="GL",
        reason="the touch map is drawn for real, so that a test can judge its pixels",
    ),
    SystemPackage(
        package="libegl1",
        library="EGL",
        reason="the window of the touch map's tests is drawn into memory, without a display",
    ),
    SystemPackage(
        package="xvfb",
        command="Xvfb",
        reason="the touch app runs in a real window on a screen that nobody sees",
    ),
    SystemPackage(
        package="xdotool",
        command="xdotool",
        reason="real clicks and drags reach the touch app's window",
    ),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One check: a name for people and what Python is asked to run."""

    name: str
    arguments: tuple[str, ...]


CHECKS = (
    Step(name="format", arguments=("-m", "ruff", "format", "--check", ".")),
    Step(name="lint", arguments=("-m", "ruff", "check", ".")),
    Step(name="types", arguments=("-m", "mypy")),
    Step(
        name="import contracts",
        arguments=(
            "-c",
            "from importlinter.cli import lint_imports_command; lint_imports_command()",
            "--no-logo",
        ),
    ),
)


def main(arguments: list[str]) -> int:
    """Run the checks in order; the exit code is that of the first that failed, else 0."""
    options = _options(arguments)
    try:
        _make_environment()
        _install_system_packages()
    except CannotRun as problem:
        print(f"tests/run.py: {problem}", file=sys.stderr, flush=True)
        return 1
    for step in () if options.fast else CHECKS:
        code = _run(step)
        if code != 0:
            print(f"tests/run.py: stopped, because this failed: {step.name}", flush=True)
            return code
    how = ("-x", "-q") if options.fast else ON_TWO_CORES
    # The last line of all is pytest's own, whatever the outcome: nothing is printed after it.
    return _run(Step(name="tests", arguments=("-m", "pytest", *how, *options.pytest)))


def _options(arguments: list[str]) -> argparse.Namespace:
    before, after = arguments, []
    if "--" in arguments:
        split = arguments.index("--")
        before, after = arguments[:split], arguments[split + 1 :]
    parser = argparse.ArgumentParser(
        prog="tests/run.py",
        description="Run format, lint, types, import contracts and all tests.",
        epilog="What follows -- is handed to pytest.",
    )
    parser.add_argument("--fast", action="store_true", help="only pytest, up to the first failure")
    options = parser.parse_args(before)
    options.pytest = after
    return options


def _run(step: Step) -> int:
    _say(step.name)
    code = subprocess.run(
        [str(PYTHON), *step.arguments], cwd=ROOT, env=_clean_environment(), check=False
    ).returncode
    return code if code >= 0 else 128 - code  # a signal, told the way a shell tells it


def _clean_environment() -> dict[str, str]:
    """The caller's environment without what would bend the checks or reach the caller's data."""
    unwanted = {"PYTHONPATH", "PYTHONHOME", "PYTEST_ADDOPTS", "TUBEWRIGHT_DATA"}
    return {name: value for name, value in os.environ.items() if name not in unwanted}


def _say(text: str) -> None:
    print(f"== {text}", flush=True)


# The Python environment


def _make_environment() -> None:
    wanted = _stamp()
    if (
        os.access(PYTHON, os.X_OK)
        and STAMP.is_file()
        and STAMP.read_text(encoding="utf-8") == wanted
    ):
        _say(f"environment: {ENVIRONMENT.name} is up to date")
        return
    _require_pip()
    _say(f"environment: making {ENVIRONMENT.name}")
    # Debian's Python has no ensurepip: an environment without pip, filled by the pip outside it.
    _must(
        [sys.executable, "-m", "venv", "--clear", "--without-pip", str(ENVIRONMENT)],
        f"could not make {ENVIRONMENT}; is the checkout writable?",
    )
    _must(
        [
            *(sys.executable, "-m", "pip", "--python", str(PYTHON), "install"),
            *("--quiet", "--disable-pip-version-check", "--no-warn-script-location"),
            *_requirements(),
        ],
        "pip could not install what the tests need; its own message is above.",
    )
    STAMP.write_text(wanted, encoding="utf-8")  # last, so that a broken installation is made anew


def _stamp() -> str:
    """What the environment depends on: the requirements, this Python, and where it stands."""
    project = hashlib.sha256((ROOT / "pyproject.toml").read_bytes()).hexdigest()
    return f"pyproject.toml {project}\npython {sys.version}\nat {ENVIRONMENT}\n"


def _requirements() -> list[str]:
    """Everything the project can ask for; the project itself is used from the checkout."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    every = [*project["dependencies"]]
    for extra in project["optional-dependencies"].values():
        every += [line for line in extra if not line.startswith(f"{project['name']}[")]
    return list(dict.fromkeys(every))


def _require_pip() -> None:
    found = subprocess.run(
        [sys.executable, "-m", "pip", "--version"], capture_output=True, text=True, check=False
    )
    if found.returncode != 0:
        raise CannotRun(
            f"{sys.executable} has no pip; install it (on Debian: apt-get install python3-pip)."
        )
    version = found.stdout.split()[1]
    if tuple(int(part) for part in version.split(".")[:2]) < (22, 3):
        raise CannotRun(f"pip {version} is too old to fill another environment; 22.3 is needed.")


def _must(command: list[str], complaint: str) -> None:
    if subprocess.run(command, cwd=ROOT, env=_clean_environment(), check=False).returncode != 0:
        raise CannotRun(complaint)


# What apt brings


def _install_system_packages() -> None:
    missing = [each for each in SYSTEM_PACKAGES if not each.is_there()]
    if missing and _may_use_apt():
        names = [each.package for each in missing]
        _say(f"system packages: apt-get install {' '.join(names)}")
        if _apt("update", "-qq"):
            _apt("install", "-y", "-qq", "--no-install-recommends", *names)
        missing = [each for each in missing if not each.is_there()]
    for each in missing:
        _say(
            f"system package missing: {each.package} ({each.reason}). Tests that need it are"
            f" skipped, which CI counts as failed; as root: apt-get install {each.package}"
        )


def _apt(*arguments: str) -> bool:
    """Whether it worked; its hundred lines are shown only if not."""
    done = subprocess.run(
        ["apt-get", *arguments],
        env={**os.environ, "DEBIAN_FRONTEND": "noninteractive"},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
    )
    if done.returncode != 0:
        _say(f"apt-get {arguments[0]} failed:\n{done.stdout.strip()}")
    return done.returncode == 0


def _may_use_apt() -> bool:
    return os.name == "posix" and os.geteuid() == 0 and shutil.which("apt-get") is not None


if __name__ == "__main__":
    try:
        sys.exit(main(sys.argv[1:]))
    except KeyboardInterrupt:
        sys.exit(130)
