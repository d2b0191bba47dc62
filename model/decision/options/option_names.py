"""Options by name, as they stand in a table or a sentence; their keys are for commands and files.

Not here: what an option does with this boiler (``Plan.words``).
"""

from collections.abc import Mapping
from typing import Final

RETUBE_PASS: Final = "retube-pass-"

_NAMES: Final[Mapping[str, str]] = {
    "run-on": "Running on",
    "re-roll": "Re-rolling the joints",
    "plug-bad": "Plugging the bad tubes",
    "plug-bad-and-weak": "Plugging the bad and the weak tubes",
    "plug-then-retube": "Plugging now and retubing later",
    "replace-bad": "Replacing the bad tubes",
    "replace-bad-and-weak": "Replacing the bad and the weak tubes",
    "retube-all": "Retubing the boiler",
    "renew-sheet": "Retubing and renewing a tube sheet",
    "reduced-output": "Running at reduced output",
    "new-boiler": "Replacing the boiler",
    "rental": "Retubing while a rented boiler steams",
    "find-out": "Finding out more first",
}


def option_name(key: str) -> str:
    """The name at the beginning of a line.

    >>> option_name("retube-pass-2"), option_name("plug-bad")
    ('Retubing pass 2', 'Plugging the bad tubes')
    """
    if key.startswith(RETUBE_PASS):
        return f"Retubing pass {key.removeprefix(RETUBE_PASS)}"
    return _NAMES.get(key, key.replace("-", " ").capitalize())


def option_in_sentence(key: str) -> str:
    """The name inside a sentence.

    >>> option_in_sentence("run-on")
    'running on'
    """
    name = option_name(key)
    return name[:1].lower() + name[1:]
