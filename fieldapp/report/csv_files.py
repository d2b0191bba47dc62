"""The record as plain tables: tubes, ends, readings, and the layout with its hole ids.

Units stand in the headers. Text that a spreadsheet would take for a formula gets an apostrophe in
front. Not here: totals (``condition_json``).
"""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence

from fieldapp.report.numbers import ConditionNumbers
from model.record.words import End

Cell = str | int | float | bool | None
_FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n")


def render_csv_files(numbers: ConditionNumbers) -> Mapping[str, bytes]:
    """File name to bytes."""
    return {
        "tubes.csv": table(TUBE_COLUMNS, tube_rows(numbers)),
        "ends.csv": table(END_COLUMNS, end_rows(numbers)),
        "readings.csv": table(READING_COLUMNS, reading_rows(numbers)),
        "layout.csv": table(_LAYOUT_COLUMNS, _layout_rows(numbers)),
    }


def table(columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """A CSV table in UTF-8 with lines ended as RFC 4180 has them."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(columns)
    writer.writerows([safe_cell(cell) for cell in row] for row in rows)
    return out.getvalue().encode("utf-8")


def safe_cell(cell: Cell) -> Cell:
    """A cell that no spreadsheet runs: numbers as they are, doubtful text behind an apostrophe."""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, str) and cell.startswith(_FORMULA_STARTS):
        return f"'{cell}"
    return cell


TUBE_COLUMNS = (
    "tube,label,pass,row,column,kind,state_as_found,state_as_left,carried,disputed,bad_now,why,"
    "plugged_one_end,wall_mm,wall_loss_percent,tube_number,since,after_sign_off"
).split(",")


def tube_rows(numbers: ConditionNumbers) -> Iterable[Sequence[Cell]]:
    for each in numbers.tubes:
        wall = numbers.wall_of(each)
        tube = each.tube
        yield (
            tube.key,
            tube.label,
            tube.pass_,
            tube.row,
            tube.column,
            tube.kind,
            each.found.state,
            each.left.state,
            each.left.carried,
            each.left.disputed,
            each.left.is_bad,
            "; ".join(each.left.bad),
            each.plugged_one_end,
            None if wall is None else wall.wall_mm,
            None if wall is None else wall.loss_percent,
            each.life.number,
            each.life.since,
            each.after_sign_off,
        )


END_COLUMNS = (
    "tube,end,state_as_found,how,carried,since,disputed,settled,leak_at,leak_at_mm,reason,"
    "state_as_left,plug_type,plug_condition,findings"
).split(",")


def end_rows(numbers: ConditionNumbers) -> Iterable[Sequence[Cell]]:
    for each in numbers.tubes:
        for end in End:
            found, left = each.ends_found[end], each.ends_left[end]
            findings = (f"{f.mechanism} ({f.grade})" for f in found.findings)
            yield (
                each.tube.key,
                end,
                found.state,
                found.how,
                found.carried,
                found.since,
                found.disputed,
                found.settled,
                found.leak_at,
                found.leak_at_mm,
                found.reason,
                left.state,
                left.plug.type if left.plug else None,
                left.plug.condition if left.plug else None,
                "; ".join(findings),
            )


READING_COLUMNS = (
    "tube,end,at_mm,clock_h_from_front,side,wall_mm,loss_percent,method,instrument,surface,"
    "accuracy_mm,in_rolled_zone,purpose,confirmed,by,record"
).split(",")


def reading_rows(numbers: ConditionNumbers) -> Iterable[Sequence[Cell]]:
    keys = {each.hole: each.tube.key for each in numbers.tubes}
    for record in sorted(numbers.inspection.readings, key=lambda r: (r.at, r.id)):
        body = record.body
        yield (
            keys.get(numbers.boiler.hole_class(body["hole"]), body["hole"]),
            body["end"],
            body["at_mm"],
            body["clock_h"],
            body["side"],
            body["wall_mm"],
            body["loss_percent"],
            body["method"],
            body["instrument"],
            body["surface"],
            body["accuracy_mm"],
            body["in_rolled_zone"],
            body["purpose"],
            body["confirmed"],
            numbers.boiler.name_of(record.by),
            record.id,
        )


_LAYOUT_COLUMNS = (
    "tube,pass,row,column,x_mm,y_mm,od_mm,wall_mm,length_mm,material,kind,label,hole"
).split(",")


def _layout_rows(numbers: ConditionNumbers) -> Iterable[Sequence[Cell]]:
    for each in numbers.tubes:
        tube = each.tube
        yield (
            tube.key,
            tube.pass_,
            tube.row,
            tube.column,
            tube.x_mm,
            tube.y_mm,
            tube.od_mm,
            tube.wall_mm,
            tube.length_mm,
            tube.material,
            tube.kind,
            tube.label,
            tube.hole,
        )
