"""Where the files that come with the program lie: in the installed package, else in the checkout.

Not here: what is in them.
"""

from pathlib import Path

_HERE = Path(__file__).resolve().parent
_PLACES = (_HERE / "_assets", _HERE.parent / "assets")


def find_asset(name: str) -> Path:
    """The path of a file or folder such as ``report``. FileNotFoundError: a broken installation."""
    for place in _PLACES:
        path = place / name
        if path.exists():
            return path
    raise FileNotFoundError(f"{name} is missing among the files that come with the program")
