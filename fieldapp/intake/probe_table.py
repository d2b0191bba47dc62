"""Reads a specialist firm's table of indications by a map of its columns, one indication a row.

Several indications of one tube are several rows. Not here: what the columns are called
(``probe_map``), records (``probe_entries``).
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from fieldapp.errors import IntakeRefused
from fieldapp.intake.cells import (
    DECIMAL_PLACES,
    BadCell,
    check_range,
    parse_clock,
    parse_number,
    parse_whole,
)
from fieldapp.intake.faults import FaultList, meant, quoted
from fieldapp.intake.files import shown_name
from fieldapp.intake.probe_map import ProbeMap
from fieldapp.intake.rows import TubeKeys
from fieldapp.intake.tables import MAX_ROWS, RawRow, clean_cell, raw_rows
from model.tubesheet.layout import Tube
from model.units import mm_from_inches

Value = TypeVar("Value")
_NEAR_TUBES = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Indication:
    """One indication as the firm states it."""

    line: int
    tube: str
    """The key as the layout spells it."""
    end: str | None
    at_mm: float | None
    """From the outer face of the front sheet."""
    clock_h: float | None
    wall_mm: float | None
    loss_percent: float | None
    entered_value: float
    entered_unit: str
    remark: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ProbeTable:
    indications: tuple[Indication, ...]
    nothing_found: int
    """Rows that say that the firm found nothing; they are no reading."""


def read_probe_table(
    path: Path,
    probe_map: ProbeMap,
    *,
    tubes: Sequence[Tube],
    nominal_wall_mm: Callable[[Tube], float | None],
    length_mm: Callable[[Tube], float | None],
    sheet: str | None = None,
) -> ProbeTable:
    """The indications of a CSV or XLSX file. IntakeRefused names every fault.

    ``nominal_wall_mm`` gives the wall as supplied, from which a depth is taken; ``length_mm`` the
    length of a tube, from which a distance from the rear is turned around.
    """
    faults = FaultList()
    reader = _Reader(probe_map, tubes, nominal_wall_mm, length_mm, faults)
    found: list[Indication] = []
    nothing_found = 0
    for line, cells in _mapped_rows(path, probe_map, sheet, faults):
        if cells.get(probe_map.value, "").casefold() in probe_map.nothing_found - {""}:
            nothing_found += reader.tube(line, cells) is not None
        elif (indication := reader.indication(line, cells)) is not None:
            found.append(indication)
    _check_unit(probe_map, found, faults)
    faults.refuse_if_any()
    return ProbeTable(indications=tuple(found), nothing_found=nothing_found)


def _mapped_rows(
    path: Path, probe_map: ProbeMap, sheet: str | None, faults: FaultList
) -> Iterator[tuple[int, dict[str, str]]]:
    """The cells of each row by what they mean; the firm's other columns are passed over."""
    raw = raw_rows(path, sheet=sheet)
    header: Sequence[str] = ()
    for line, cells in raw:
        if line >= probe_map.header_line:
            header = [cell.strip() for cell in cells] if line == probe_map.header_line else ()
            break
    places = _places(header, probe_map, shown_name(path))
    for count, (line, cells) in enumerate(raw, start=1):
        if count > MAX_ROWS:
            raise IntakeRefused([f"{shown_name(path)} has more than {MAX_ROWS} rows; split it."])
        row = _cells_of(line, cells, len(header), faults)
        if row is not None:
            yield (
                line,
                {
                    name: clean_cell(line, probe_map.columns[name], row[place], faults)
                    for name, place in places.items()
                },
            )


def _places(header: Sequence[str], probe_map: ProbeMap, name: str) -> dict[str, int]:
    """Where the columns of the map stand, whatever the case of their letters."""
    folded = [heading.casefold() for heading in header]
    faults = FaultList()
    places: dict[str, int] = {}
    for meaning, heading in probe_map.columns.items():
        count = folded.count(heading.casefold())
        if count == 1:
            places[meaning] = folded.index(heading.casefold())
        elif count:
            faults.add(f"line {probe_map.header_line}: the column {quoted(heading)} stands twice.")
        else:
            hint = meant(heading, [each for each in header if each])
            faults.add(
                f"line {probe_map.header_line} of {name}: there is no column {quoted(heading)}, "
                f"which the map names for {meaning}{hint}"
            )
    faults.refuse_if_any()
    return places


def _cells_of(
    line: int, cells: RawRow | Sequence[str], width: int, faults: FaultList
) -> list[str] | None:
    stripped = [str(cell).strip() for cell in cells]
    if not any(stripped):
        return None
    if any(stripped[width:]):
        faults.add(
            f"line {line} has {len(stripped)} cells, but the header names {width} columns; put "
            "quotes around a cell with a comma in it."
        )
        return None
    return stripped[:width] + [""] * (width - len(stripped))


def _check_unit(probe_map: ProbeMap, found: Sequence[Indication], faults: FaultList) -> None:
    """A workbook shows 0.35 as 35 %: where every loss is below 1 somebody must say which it is."""
    if probe_map.value != "loss" or probe_map.unit is not None:
        return
    losses = [each.entered_value for each in found]
    if any(losses) and max(losses) <= 1:
        faults.add(
            f"{probe_map.columns['loss']}: no loss is above 1; write in the map's [units] "
            'loss = "fraction" if 0.35 means 35 percent, or loss = "percent".'
        )


class _Reader:
    """From the cells of one row to its indication, with every fault on the list."""

    def __init__(
        self,
        probe_map: ProbeMap,
        tubes: Sequence[Tube],
        nominal_wall_mm: Callable[[Tube], float | None],
        length_mm: Callable[[Tube], float | None],
        faults: FaultList,
    ) -> None:
        self._map = probe_map
        self._by_key = {tube.key: tube for tube in tubes}
        self._by_place = {(tube.pass_, tube.row, tube.column): tube for tube in tubes}
        self._keys = TubeKeys(self._by_key)
        self._nominal_wall_mm = nominal_wall_mm
        self._length_mm = length_mm
        self._faults = faults

    def indication(self, line: int, cells: Mapping[str, str]) -> Indication | None:
        tube = self.tube(line, cells)
        end = self._read(line, cells, "end", self._end) or self._map.end
        distance = self._read(line, cells, "distance", parse_number)
        clock_h = self._read(line, cells, "clock", parse_clock)
        value = self._value(line, cells)
        if tube is None or value is None:
            return None
        at_mm = None if distance is None else self._at_mm(line, tube, end, distance)
        wall_mm, loss_percent, unit = self._wall(line, tube, value)
        return Indication(
            line=line,
            tube=tube.key,
            end=end,
            at_mm=at_mm,
            clock_h=clock_h,
            wall_mm=wall_mm,
            loss_percent=loss_percent,
            entered_value=value,
            entered_unit=unit,
            remark=cells.get("note", ""),
        )

    def tube(self, line: int, cells: Mapping[str, str]) -> Tube | None:
        """The tube of a row, by its key or by its pass, row and column."""
        if "tube" in cells:
            if not cells["tube"]:
                self._fault(line, "tube", "is empty; write the key of a tube.")
            key = self._read(line, cells, "tube", self._keys.find)
            return None if key is None else self._by_key[key]
        numbers: list[int | None] = [
            self._map.pass_
            if name == "pass" and name not in cells
            else self._whole(line, cells, name)
            for name in ("pass", "row", "column")
        ]
        pass_, row, column = numbers
        if pass_ is None or row is None or column is None:
            return None
        found = self._by_place.get((pass_, row, column))
        if found is None:
            self._faults.add(
                f"line {line}: pass {pass_}, row {row}, column {column} is not in the layout"
                f"{self._near(pass_, row, column)}"
            )
        return found

    def _near(self, pass_: int, row: int, column: int) -> str:
        of_pass = [tube for tube in self._by_place.values() if tube.pass_ == pass_]
        of_pass.sort(key=lambda tube: (abs(tube.row - row) + abs(tube.column - column), tube.key))
        near = ", ".join(tube.key for tube in of_pass[:_NEAR_TUBES])
        return f"; near it: {near}." if near else "."

    def _end(self, text: str) -> str:
        end = self._map.end_words.get(text.casefold())
        if end is None:
            known = ", ".join(sorted(self._map.end_words))
            raise BadCell(f"{quoted(text)} is no end; the map knows {known}.")
        return end

    def _whole(self, line: int, cells: Mapping[str, str], name: str) -> int | None:
        if not cells[name]:
            self._fault(line, name, "is empty; write a whole number.")
        return self._read(line, cells, name, parse_whole)

    def _value(self, line: int, cells: Mapping[str, str]) -> float | None:
        name = self._map.value
        if not cells[name]:
            hint = "write what was found, or name in nothing_found of the map what stands there"
            self._fault(line, name, f"is empty; {hint} where nothing was.")
        most = {"loss": 1.0 if self._map.unit == "fraction" else 100.0}.get(name, 100.0)

        def parse(text: str) -> float:
            value = parse_number(text.removesuffix("%").strip() if name == "loss" else text)
            check_range(value, above=0.0 if name == "wall" else None, least=0.0, most=most)
            return value

        return self._read(line, cells, name, parse)

    def _wall(self, line: int, tube: Tube, value: float) -> tuple[float | None, float | None, str]:
        """Wall, loss in percent, and the unit in which the firm stated it."""
        name, unit = self._map.value, self._map.unit
        if name == "loss":
            is_fraction = unit == "fraction"
            percent = round(value * 100.0, DECIMAL_PLACES) if is_fraction else value
            return None, percent, "of 1 lost" if is_fraction else "percent"
        length_mm = mm_from_inches(value) if unit == "in" else value
        if name == "wall":
            return round(length_mm, DECIMAL_PLACES), None, str(unit)
        nominal_mm = self._nominal_wall_mm(tube)
        if nominal_mm is None:
            self._fault(line, name, f"the wall of {tube.key} as supplied is not known; state it.")
        elif length_mm > nominal_mm * (1 + 1e-9):
            rest = f"{value:g} {unit} is more than the wall of {tube.key}, {nominal_mm:g} mm."
            self._fault(line, name, rest)
        else:
            wall_mm = max(0.0, nominal_mm - length_mm)
            return round(wall_mm, DECIMAL_PLACES), None, f"{unit} deep"
        return None, None, f"{unit} deep"

    def _at_mm(self, line: int, tube: Tube, end: str | None, distance: float) -> float | None:
        """The distance from the outer face of the front sheet."""
        along_mm = distance * self._map.distance_mm
        length_mm = self._length_mm(tube)
        origin = end if self._map.distance_from == "end" else self._map.distance_from
        if origin is None:
            self._fault(line, "distance", "is from the sheet of the row's end, which is not named.")
        elif along_mm < 0 or (length_mm is not None and along_mm > length_mm):
            limit = "" if length_mm is None else f" and at most its length, {length_mm:g} mm"
            rest = f"{along_mm:g} mm is not on {tube.key}: it must be at least 0{limit}."
            self._fault(line, "distance", rest)
        elif origin == "front":
            return round(along_mm, DECIMAL_PLACES)
        elif length_mm is None:
            rest = f"is from the rear, and the length of {tube.key} is not known; state it."
            self._fault(line, "distance", rest)
        else:
            return round(length_mm - along_mm, DECIMAL_PLACES)
        return None

    def _read(
        self, line: int, cells: Mapping[str, str], name: str, parse: Callable[[str], Value]
    ) -> Value | None:
        text = cells.get(name)
        if not text:
            return None
        try:
            return parse(text)
        except BadCell as error:
            self._fault(line, name, str(error))
            return None

    def _fault(self, line: int, name: str, rest: str) -> None:
        self._faults.add(f"line {line}, {self._map.columns[name]}: {rest}")
