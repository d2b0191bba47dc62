"""Everything that differs from run to run: the clock, chance, the machine, the program's version.

Not here: paths, which the caller names.
"""

import platform
import random
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from importlib import metadata

from model.record.ids import RandomBits


@dataclass(frozen=True, slots=True, kw_only=True)
class Surroundings:
    """What the store asks the outside for. ``clock`` gives aware moments in the local zone."""

    clock: Callable[[], datetime]
    random_bits: RandomBits
    device: str
    """Names the machine; it goes into the origin record, and a change of it means a copy."""
    app_version: str


def real_surroundings() -> Surroundings:
    """The surroundings of a program that people use."""
    return Surroundings(
        clock=_local_now,
        random_bits=random.SystemRandom(),
        device=f"{platform.node()} ({platform.system()} {platform.machine()})",
        app_version=program_version(),
    )


def _local_now() -> datetime:
    return datetime.now().astimezone()


def program_version() -> str:
    """The version that is installed, or "unknown" in a checkout that never was."""
    try:
        return metadata.version("tubewright")
    except metadata.PackageNotFoundError:
        return "unknown"
