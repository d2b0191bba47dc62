"""Rules between the keys of ``boiler.toml``: what must stand, and what contradicts something else.

Not here: single values (``boiler_schema``), and where the tubes are (``model.tubesheet.validate``).
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from fieldapp.intake.faults import FaultList, meant, printable, quoted
from model.decision.limits import CLUSTER, DEFAULT_LIMITS, LimitRule, is_watch_beyond_act
from model.tubesheet.layout import KEY_RULE, is_key

Table = Mapping[str, Any]

_MAX_TAG = 40


def check_boiler(boiler: Table, faults: FaultList) -> None:
    """The tag, and the two pressures against each other."""
    tag = boiler.get("tag")
    if tag is not None and (len(tag) > _MAX_TAG or "\n" in tag or "\t" in tag):
        faults.add(f"[boiler] tag: {quoted(tag)} must be one line of at most {_MAX_TAG} letters.")
    mawp, operating = boiler.get("mawp_mpa"), boiler.get("operating_pressure_mpa")
    if mawp is not None and operating is not None and operating > mawp:
        faults.add(
            f"[boiler] operating_pressure: {operating:g} MPa is above the MAWP of {mawp:g} MPa; "
            "correct one of them."
        )


def check_tubes(tubes: Table, faults: FaultList) -> None:
    od_mm, wall_mm = tubes.get("od_mm"), tubes.get("wall_mm")
    if od_mm is not None and wall_mm is not None and wall_mm * 2 >= od_mm:
        faults.add(f"[tubes] wall: {wall_mm:g} mm leaves no bore in a tube of {od_mm:g} mm.")


def check_sheets(sheets: Sequence[Table], faults: FaultList) -> None:
    _check_keys("sheets", sheets, faults)


def check_faces(faces: Sequence[Table], sheets: Sequence[Table], faults: FaultList) -> None:
    """Faces stand before sheets that exist, and no tube end is in two sheets."""
    _check_keys("faces", faces, faults)
    known = [sheet["key"] for sheet in sheets if "key" in sheet]
    sheet_of_end: dict[tuple[int, str], str] = {}
    for place, face in enumerate(faces, start=1):
        sheet = face.get("sheet")
        if sheet is not None and sheet not in known:
            faults.add(
                f"[[faces]] {place}, sheet: {quoted(sheet)} is none of the [[sheets]]"
                f"{meant(sheet, known)}"
            )
        _check_shows(place, face, sheet_of_end, faults)


def _check_shows(
    place: int, face: Table, sheet_of_end: dict[tuple[int, str], str], faults: FaultList
) -> None:
    shown: set[tuple[int, str]] = set()
    for number, entry in enumerate(face.get("shows", ()), start=1):
        where = f"[[faces]] {place}, shows {number}"
        if "pass" not in entry or "end" not in entry:
            continue
        end = (entry["pass"], entry["end"])
        if end in shown:
            faults.add(f"{where}: the {end[1]} ends of pass {end[0]} stand twice.")
        shown.add(end)
        sheet = face.get("sheet")
        if sheet is not None and sheet_of_end.setdefault(end, sheet) != sheet:
            faults.add(
                f"{where}: the {end[1]} ends of pass {end[0]} are in the sheet "
                f"'{sheet_of_end[end]}' by another face; an end is in one sheet only."
            )


def _check_keys(section: str, entries: Sequence[Table], faults: FaultList) -> None:
    first: dict[str, int] = {}
    for place, entry in enumerate(entries, start=1):
        key = entry.get("key")
        if key is None:
            continue
        if not is_key(key):
            faults.add(f"[[{section}]] {place}, key: {quoted(key)} must be {KEY_RULE}.")
        elif first.setdefault(key.casefold(), place) != place:
            faults.add(
                f"[[{section}]] {place}, key: '{key}' is the key of number "
                f"{first[key.casefold()]} too."
            )


def check_settings(settings: Mapping[str, Table], faults: FaultList) -> None:
    """The rules between the keys of one section of settings, each section for itself."""
    check_wall(settings.get("wall", {}), faults)
    check_limits(settings.get("limits", {}), faults)


def check_wall(wall: Table, faults: FaultList) -> None:
    """A stated retirement wall has its thickness, and a thickness is only for a stated one."""
    rule = wall.get("retirement")
    if rule == "stated" and "stated_mm" not in wall:
        faults.add('[wall] retirement: is "stated", so stated_mm (or stated_in) must be given.')
    if "stated_mm" in wall and rule != "stated":
        faults.add('[wall] stated: a stated wall needs retirement = "stated".')


def check_limits(limits: Mapping[str, Table], faults: FaultList) -> None:
    """Watch comes before act: from below, except for coverage, which is good when high.

    A watch alone must come before the act that is built in.
    """
    for name, limit in limits.items():
        if name == CLUSTER:
            continue
        watch, act = limit.get("watch"), limit.get("act")
        if watch is None and act is None:
            faults.add(f"[limits] {name}: watch or act must be given.")
        elif fault := _order_fault(DEFAULT_LIMITS[name], watch, act):
            faults.add(f"[limits] {name}: {fault}")


def _order_fault(rule: LimitRule, watch: float | None, act: float | None) -> str | None:
    """What is wrong with the order of two levels. An act that is not given is as built in; a watch
    that is not given is drawn to an act that comes before it."""
    low, high = ("at most", "at least") if rule.is_floor else ("at least", "at most")
    used_act = rule.act if act is None else act
    if watch is None or not is_watch_beyond_act(rule, watch=watch, act=used_act):
        return None
    if act is None:
        return (
            f"watch {watch:g} lies beyond act, which is {used_act:g} where it is not given; give "
            f"act too, {low} {watch:g}."
        )
    return f"watch {watch:g} must be {high} act {act:g}."


def check_accepted_sheets(keys: Iterable[str], sheets: Sequence[Table], faults: FaultList) -> None:
    """An engineer's answer is for a sheet that the boiler has, where it is known which it has.

    ``keys`` are those that stand in ``[limits] cluster``. People write the name in place of it.
    """
    known = {sheet["key"]: sheet.get("name", sheet["key"]) for sheet in sheets if "key" in sheet}
    shown = [printable(key if name == key else f"{key} ({name})") for key, name in known.items()]
    for key in keys:
        if known and key not in known:
            faults.add(
                f"[limits] cluster: {quoted(key)} is not the key of a sheet; write one of: "
                f"{', '.join(shown)}."
            )
