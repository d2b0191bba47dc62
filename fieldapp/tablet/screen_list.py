"""Which screens there are, by the names that ``services.go`` takes; loaded when first shown."""

import importlib
from collections.abc import Mapping

SCREENS: Mapping[str, tuple[str, str]] = {
    "boilers": ("boilers", "BoilersScreen"),
    "boiler": ("boiler", "BoilerScreen"),
    "start": ("start", "StartScreen"),
    "face": ("face", "FaceScreen"),
    "check": ("check", "CheckScreen"),
    "map": ("map", "MapScreen"),
    "person": ("person", "PersonScreen"),
    # From the map: hole=..., end=... for what concerns one tube end.
    "card": ("tube_card", "TubeCardScreen"),
    "reading": ("reading_keypad", "ReadingScreen"),
    "finding": ("finding", "FindingScreen"),
    "note": ("note", "NoteScreen"),
    "photo": ("photo", "PhotoScreen"),
    "one photo": ("one_photo", "OnePhotoScreen"),
    "choose file": ("choose_file", "ChooseFileScreen"),
    "leave": ("before_leaving", "BeforeLeavingScreen"),
    "crew": ("crew_list", "CrewListScreen"),
    "limits": ("limits", "LimitsScreen"),
    "caller": ("caller", "CallerScreen"),
    "move": ("move_marks", "MoveMarksScreen"),
    "settings": ("settings", "SettingsScreen"),
    "calibrate": ("calibrate", "CalibrateScreen"),
    # From the list of boilers.
    "row plan": ("row_plan", "RowPlanScreen"),
}
"""Module and class in ``screens``."""


def screen_class(name: str) -> type:
    """The class of a screen."""
    module, cls = SCREENS[name]
    found = getattr(importlib.import_module(f"fieldapp.tablet.screens.{module}"), cls)
    assert isinstance(found, type)
    return found
