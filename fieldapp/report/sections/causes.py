"""Why: for each group of like damage the suspected cause, its evidence, and who confirms it.

Not here: any diagnosis by the program.
"""

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import (
    Cell,
    Paragraph,
    Piece,
    Row,
    Section,
    Table,
    Tone,
    columns,
    words,
)


def build_causes(numbers: ConditionNumbers) -> Section:
    """Causes, and a warning where a retube would go ahead without one."""
    records = sorted(numbers.records("cause"), key=lambda record: record.body["group"])
    pieces: list[Piece] = [
        Table(
            caption="Cause before remedy",
            columns=columns("damage", "side", "evidence", "suspected cause", "confirmed by"),
            rows=tuple(
                Row(
                    cells=(
                        *words(
                            record.body["group"],
                            record.body["side"],
                            record.body["evidence"],
                            record.body["suspected"],
                        ),
                        Cell(words=record.body["confirmed_by"])
                        if record.body["confirmed_by"]
                        else Cell(words="nobody yet", tone=Tone.WATCH),
                    )
                )
                for record in records
            ),
            if_empty="No cause was recorded.",
        )
    ]
    option = numbers.advice.option or ""
    established = any(record.body["confirmed_by"] for record in records)
    if option.startswith(("retube", "replace", "plug")) and not established:
        pieces.append(
            Paragraph(
                heading="No cause is established",
                tone=Tone.WATCH,
                words="Nobody has confirmed why the tubes failed. New tubes or plugs put in "
                "without an established cause may fail the same way.",
            )
        )
    return Section(key="causes", heading="Causes", pieces=tuple(pieces))
