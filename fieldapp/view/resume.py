"""Where the app was, kept so that a killed or paused app opens there again.

A small JSON file, written whole or not at all; whatever is wrong with it, the app opens at the
list of boilers. No fact is kept here: what was marked is in the journal. Not here: the screens,
gloves and theme (``tablet_settings``).
"""

import json
import math
import os
import tempfile
from contextlib import suppress
from dataclasses import asdict, dataclass, fields
from pathlib import Path
from typing import Any

FILE_NAME = "where-it-was.json"
_VERSION = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Everything that is restored; None is not chosen yet."""

    boiler: str | None = None
    inspection: str | None = None
    person: str | None = None
    face: str | None = None
    centre_x_mm: float | None = None
    """The middle of the view, as seen at the face, and how near it is."""
    centre_y_mm: float | None = None
    px_per_mm: float | None = None
    key: str | None = None
    plug_type: str | None = None
    reason: str | None = None
    unit: str = "mm"
    """In which walls are typed."""


def write_place(path: Path, place: Place) -> bool:
    """Keep the place; False when the disk does not take it, which costs nothing but the place."""
    text = json.dumps({"version": _VERSION, **asdict(place)}, indent=1, allow_nan=False)
    part: Path | None = None
    try:
        handle, name = tempfile.mkstemp(prefix=".part-", dir=path.parent)
        part = Path(name)
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.replace(part, path)
    except OSError:
        if part is not None:
            with suppress(OSError):
                part.unlink(missing_ok=True)
        return False
    return True


def read_place(path: Path) -> Place:
    """The place that was kept; of a damaged file whatever is sound."""
    try:
        kept = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return Place()
    if not isinstance(kept, dict) or kept.get("version") != _VERSION:
        return Place()
    sound = {
        each.name: kept[each.name]
        for each in fields(Place)
        if each.name in kept and _is_sound(str(each.type), kept[each.name])
    }
    return Place(**sound)


def _is_sound(kind: str, value: Any) -> bool:
    if value is None:
        return kind.endswith("| None")
    if kind.startswith("float"):
        is_number = isinstance(value, int | float) and not isinstance(value, bool)
        return is_number and math.isfinite(value)
    return isinstance(value, str)
