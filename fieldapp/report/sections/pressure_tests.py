"""Tests of pressure as they were made.

Not here: which pressure a rule would ask for.
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Column, Row, Section, Table, Tone, drop_empty, words
from fieldapp.report.wording import UNKNOWN, say_number, say_time, say_yes_or_no


def build_pressure_tests(numbers: ConditionNumbers) -> Section:
    """Every test, in order of time."""
    records = sorted(
        numbers.records("test_run"), key=lambda record: record.body["started"] or record.at
    )
    rows = []
    for record in records:
        body = record.body
        is_water = body["medium"] == "water"
        rows.append(
            Row(
                cells=(
                    Cell(words=say_time(body["started"]) if body["started"] else UNKNOWN),
                    Cell(words=say_number(body["pressure_mpa"])),
                    Cell(
                        words=body["medium"] if is_water else f"{body['medium']}: never advised",
                        tone=Tone.PLAIN if is_water else Tone.ACT,
                    ),
                    *words(
                        say_number(body["held_minutes"]),
                        say_number(body["end_pressure_mpa"]),
                        say_number(body["water_c"]),
                        say_number(body["metal_c"]),
                    ),
                    Cell(
                        words=say_yes_or_no(body["leaks_seen"]),
                        tone=Tone.ACT if body["leaks_seen"] else Tone.PLAIN,
                    ),
                    *words(body["gauge"], body["by_rule"], numbers.boiler.name_of(record.by)),
                )
            )
        )
    return Section(
        key="tests",
        heading="Pressure tests",
        pieces=(
            drop_empty(
                Table(
                    caption="Pressure tests",
                    columns=(
                        Column(heading="started"),
                        Column(heading="pressure", unit="MPa gauge", is_number=True),
                        Column(heading="medium"),
                        Column(heading="held", unit="min", is_number=True),
                        Column(heading="at the end", unit="MPa gauge", is_number=True),
                        Column(heading="water", unit="°C", is_number=True),
                        Column(heading="metal", unit="°C", is_number=True),
                        Column(heading="leaks seen"),
                        Column(heading="gauge"),
                        Column(heading="rule"),
                        Column(heading="by"),
                    ),
                    rows=tuple(rows),
                    if_empty="No pressure test was recorded in this inspection.",
                ),
            ),
        ),
    )
