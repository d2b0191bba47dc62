"""Why: for each group of like damage the suspected cause, its evidence, and who confirms it.

Not here: any diagnosis by the program.
"""

from collections.abc import Sequence

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
from model.decision.advice import Advice
from model.record.line import Record

_PUTS_IN = ("retube", "replace", "plug", "renew-sheet", "rental", "reduced-output")


def build_causes(numbers: ConditionNumbers, advice: Advice) -> Section:
    """Causes, and a warning where the option advised would go ahead without one."""
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
    if puts_in_tubes_or_plugs(advice.option) and not is_established(records):
        pieces.append(
            Paragraph(
                heading="No cause is established",
                tone=Tone.WATCH,
                words="Nobody has confirmed why the tubes failed. New tubes or plugs put in "
                "without an established cause may fail the same way.",
            )
        )
    return Section(key="causes", heading="Causes", pieces=tuple(pieces))


def is_established(records: Sequence[Record]) -> bool:
    """Whether somebody has confirmed a cause."""
    return any(record.body["confirmed_by"] for record in records)


def puts_in_tubes_or_plugs(option: str | None) -> bool:
    """Whether an option ends with new tubes or new plugs."""
    return option is not None and option.startswith(_PUTS_IN)
