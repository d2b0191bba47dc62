"""What one person sets on one tablet: gloves, theme, how large a millimetre is; kept in a file.

Nothing of the record: a lost file costs a setting. Not here: the screen that changes them.
"""

import json
import os
import tempfile
from dataclasses import asdict, dataclass, fields
from pathlib import Path
from typing import Any

from fieldapp.view.themes import TABLET_THEMES
from fieldapp.view.viewport import LEAST_PITCH_GLOVE_MM, LEAST_PITCH_MM

SMALLEST_PX_PER_MM, LARGEST_PX_PER_MM = 1.5, 40.0
"""Beyond these no screen is meant (38 to 1016 dots per inch): the calibration slipped."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TabletSettings:
    """``px_per_mm`` None: as the system says; a calibration sets it."""

    theme: str = "light"
    gloves: bool = False
    px_per_mm: float | None = None
    speaks: bool = False
    """Whether what was done is read aloud, where the device can."""

    @property
    def least_pitch_mm(self) -> float:
        """Least pitch on the screen for marking."""
        return LEAST_PITCH_GLOVE_MM if self.gloves else LEAST_PITCH_MM


def load_settings(file: Path) -> TabletSettings:
    """The settings kept in a file; what is missing or spoiled is as usual."""
    try:
        kept = json.loads(file.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return TabletSettings()
    if not isinstance(kept, dict):
        return TabletSettings()
    usual = asdict(TabletSettings())
    return TabletSettings(
        **{
            field.name: kept[field.name]
            if field.name in kept and _is_sound(field.name, kept[field.name])
            else usual[field.name]
            for field in fields(TabletSettings)
        }
    )


def save_settings(settings: TabletSettings, file: Path) -> None:
    """Whole or not at all; a full or read-only disk only costs the setting."""
    write_whole(file, json.dumps(asdict(settings), indent=2))


def write_whole(file: Path, text: str) -> bool:
    """Put a small file in its place in one step; False where the disk does not allow it."""
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=file.parent, suffix=".part")
        try:
            with os.fdopen(handle, "w", encoding="utf-8") as part:
                part.write(text)
            os.replace(name, file)
        except OSError:
            os.unlink(name)
            return False
    except OSError:
        return False
    return True


def _is_sound(name: str, value: Any) -> bool:
    if name == "theme":
        return value in TABLET_THEMES
    if name == "px_per_mm":
        is_number = isinstance(value, int | float) and not isinstance(value, bool)
        return value is None or (is_number and SMALLEST_PX_PER_MM <= value <= LARGEST_PX_PER_MM)
    return isinstance(value, bool)
