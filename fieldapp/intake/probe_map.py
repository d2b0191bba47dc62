"""Reads ``probe-map.toml``: which column of a specialist firm's table means what, in which unit.

Not here: the table itself (``probe_table``).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from fieldapp.intake.boiler_toml import parsed_toml
from fieldapp.intake.faults import FaultList, meant, printable, quoted
from fieldapp.intake.toml_fields import (
    Schema,
    Spot,
    choice,
    number,
    read_table_of,
    text,
    texts,
    whole,
)
from model.record.words import End

VALUES = ("loss", "depth", "wall")
_PLACE = ("pass", "row", "column")
_LENGTHS_MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, "ft": 304.8}

_SECTIONS: Mapping[str, Schema] = {
    "columns": dict.fromkeys(("tube", *_PLACE, *VALUES, "distance", "end", "clock", "note"), text),
    "units": {
        "loss": choice(("percent", "fraction")),
        "depth": choice(("mm", "in")),
        "wall": choice(("mm", "in")),
        "distance": choice(tuple(_LENGTHS_MM)),
    },
    "table": {
        "header_line": whole(least=1, most=1_000),
        "pass": whole(least=1, most=9),
        "end": choice(End),
        "front_words": texts,
        "rear_words": texts,
        "distance_from": choice(("front", "rear", "end")),
        "nothing_found": texts,
    },
    "probe": {"name": text, "accuracy_mm": number(least=0, most=100)},
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ProbeMap:
    """How a firm's table is to be read."""

    columns: Mapping[str, str]
    """The firm's heading by what it means to us."""
    value: str
    """``loss``, ``depth`` or ``wall``: what the firm states of each indication."""
    unit: str | None
    """Of the value; None where nobody said whether a loss is in percent."""
    distance_mm: float
    """One unit of the distance in millimetres."""
    distance_from: str
    """``front``, ``rear``, or ``end``: the sheet at the end that the row names."""
    header_line: int
    pass_: int | None
    """The pass of every row, where no column says it."""
    end: str | None
    """The end of every row, where no column says it."""
    end_words: Mapping[str, str]
    """What the firm calls an end, folded, and which it is."""
    nothing_found: frozenset[str]
    """What stands, folded, in the place of a value where the firm found nothing."""
    probe: str
    accuracy_mm: float | None


def read_probe_map(path: Path) -> ProbeMap:
    """The checked map. IntakeRefused names every fault."""
    document = parsed_toml(path)
    faults = FaultList()
    for name in document:
        if name not in _SECTIONS:
            faults.add(f"[{printable(name[:40])}] is not a known section{meant(name, _SECTIONS)}")
    columns, units, table, probe = (
        read_table_of(
            document.get(name, {}), schema, Spot(place=f"[{name}]", is_us=False, faults=faults)
        )
        for name, schema in _SECTIONS.items()
    )
    if not faults:
        _check(columns, units, table, faults)
    faults.refuse_if_any()
    value = next(name for name in VALUES if name in columns)
    return ProbeMap(
        columns=columns,
        value=value,
        unit=units.get(value),
        distance_mm=_LENGTHS_MM[units.get("distance", "mm")],
        distance_from=table.get("distance_from", "front"),
        header_line=table.get("header_line", 1),
        pass_=table.get("pass"),
        end=table.get("end"),
        end_words={
            word.casefold(): str(end)
            for end in End
            for word in (str(end), *table.get(f"{end}_words", ()))
        },
        nothing_found=frozenset(word.casefold() for word in table.get("nothing_found", ())),
        probe=probe.get("name", ""),
        accuracy_mm=probe.get("accuracy_mm"),
    )


def _check(
    columns: Mapping[str, Any],
    units: Mapping[str, Any],
    table: Mapping[str, Any],
    faults: FaultList,
) -> None:
    values = [name for name in VALUES if name in columns]
    if len(values) != 1:
        said = f"{' and '.join(values)} both stand" if values else "none of them stands"
        faults.add(f"[columns]: name one of loss, depth and wall; {said}.")
    elif values != ["loss"] and values[0] not in units:
        faults.add(f'[units] {values[0]}: is missing; write {values[0]} = "mm" or "in".')
    _check_tube(columns, table, faults)
    if "distance" in columns:
        for section, key, example in (
            (units, "[units] distance", 'distance = "mm"'),
            (table, "[table] distance_from", 'distance_from = "front", "rear" or "end"'),
        ):
            if key.split()[1] not in section:
                faults.add(f"{key}: is missing; write {example}.")
        if table.get("distance_from") == "end" and "end" not in columns and "end" not in table:
            faults.add('[table] distance_from: "end" needs the column end, or end in [table].')
    for name in ("pass", "end"):
        if name in columns and name in table:
            faults.add(f"[table] {name}: stands in [columns] too; keep one of them.")
    both = {word.casefold() for word in table.get("front_words", ())} & {
        word.casefold() for word in table.get("rear_words", ())
    }
    for word in sorted(both):
        faults.add(f"[table]: {quoted(word)} cannot mean both front and rear.")
    seen: dict[str, str] = {}
    for name, heading in columns.items():
        if (other := seen.setdefault(heading.casefold(), name)) != name:
            faults.add(f"[columns] {name}: {quoted(heading)} is the column of {other} already.")


def _check_tube(columns: Mapping[str, Any], table: Mapping[str, Any], faults: FaultList) -> None:
    place = [name for name in _PLACE if name in columns or (name == "pass" and "pass" in table)]
    if "tube" in columns:
        if place:
            faults.add(f"[columns] tube: names the tube alone; leave out {', '.join(place)}.")
    elif missing := [name for name in _PLACE if name not in place]:
        faults.add(
            f"[columns]: the tube is not named: write tube, or pass, row and column "
            f"({', '.join(missing)} missing)."
        )
