"""What is worth a note about a file of observations that was taken in.

Pure. Not here: what is refused or asked about (``observations``, ``late_looks``).
"""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Sequence

from fieldapp.intake.faults import quoted
from fieldapp.intake.observations import ObservationRow
from model.condition.states import FoldedBoiler, FoldedInspection
from model.record.line import Record
from model.record.words import Purpose, State
from model.wall.trusted_readings import plain_name

MAX_DOUBLED = 20
_SHOWN_ID = 12


def notes_of_rows(rows: Sequence[ObservationRow], inspection: FoldedInspection) -> list[str]:
    """Instruments that the inspection does not list, and leaks without a place."""
    return [*_unlisted(rows, inspection), *_leaks_without_place(rows)]


def _unlisted(rows: Sequence[ObservationRow], inspection: FoldedInspection) -> Iterable[str]:
    listed = {plain_name(str(tool["name"])) for tool in inspection.facts.instruments}
    if not listed:
        return
    named = Counter(
        row.reading.instrument
        for row in rows
        if row.reading is not None and row.reading.instrument is not None
    )
    for name, count in named.items():
        if plain_name(name) not in listed:
            yield (
                f"the instrument {quoted(name)} of {_rows(count)} is not among those of the "
                f"inspection of {inspection.facts.date}, so its accuracy is only known where a row "
                "gives accuracy_mm; 'inspection change' can list it."
            )


def _leaks_without_place(rows: Sequence[ObservationRow]) -> Iterable[str]:
    count = sum(row.state is State.LEAKING and row.leak_at is None for row in rows)
    if count:
        yield (
            f"{_rows(count)} with state leaking without leak_at: 'place not found' counts as a "
            "leak of the tube, not of its joint."
        )


def _rows(count: int) -> str:
    return f"{count} {'row' if count == 1 else 'rows'}"


def doubled_readings(
    boiler: FoldedBoiler,
    inspection: FoldedInspection,
    rows: Sequence[ObservationRow],
    person_class: Callable[[str], str],
) -> list[str]:
    """Readings of one person that stand side by side for one place with different walls.

    ``boiler`` and ``inspection`` as they are after the rows were recorded; only tubes that a row
    measures are looked at.
    """
    measured = {row.tube for row in rows if row.reading is not None}
    key_of = {tube.hole: tube.key for tube in boiler.tubes if tube.key in measured}
    places: dict[tuple[object, ...], list[Record]] = defaultdict(list)
    for record in inspection.readings:
        body = record.body
        hole = boiler.hole_class(body["hole"])
        if hole in key_of:
            # A baseline is of the new tube, any other reading of the one that was found.
            is_baseline = body["purpose"] == Purpose.BASELINE
            where = (body["end"], body["at_mm"], body["clock_h"], body["method"], is_baseline)
            places[person_class(record.by), key_of[hole], *where].append(record)
    notes = [
        _doubled(boiler, str(place[1]), of_place)
        for place, of_place in sorted(places.items(), key=lambda each: str(each[0][1]))
        if len({_value(record) for record in of_place}) > 1
    ]
    left_off = len(notes) - MAX_DOUBLED
    if left_off > 0:
        notes[MAX_DOUBLED:] = [f"... and {left_off} more places with readings that differ."]
    return notes


def _doubled(boiler: FoldedBoiler, tube: str, readings: Sequence[Record]) -> str:
    first = readings[0]
    values = " and ".join(
        f"{_value(record)} ({record.id[:_SHOWN_ID]})"
        for record in sorted(readings, key=lambda each: (_value(each), each.id))
    )
    return (
        f"{tube}{_place(first)}: {boiler.name_of(first.by)} has readings that differ for one "
        f"place, {values}; the thinner governs. Take a wrong one back with 'withdraw' and its id."
    )


def _place(reading: Record) -> str:
    body = reading.body
    parts = [
        body["end"],
        None if body["at_mm"] is None else f"at {body['at_mm']:g} mm",
        None if body["clock_h"] is None else f"{body['clock_h']:g} o'clock",
        body["method"],
    ]
    return "".join(f", {part}" for part in parts if part is not None)


def _value(reading: Record) -> str:
    body = reading.body
    if body["wall_mm"] is None:
        return f"{body['loss_percent']:g} % loss"
    return f"{body['wall_mm']:g} mm"
