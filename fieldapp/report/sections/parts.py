"""What was seen on anything that is not a tube.

Not here: findings at tube ends (``findings``).
"""

from collections.abc import Mapping
from typing import Any

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Column, Row, Section, Table, Tone, drop_empty, words
from fieldapp.report.tube_words import say_tube_of
from fieldapp.report.wording import say_list, say_number, say_word
from model.record.line import Record

_TONES = {"act": Tone.ACT, "watch": Tone.WATCH}
_ORDER = ("act", "watch", "note")


def build_parts(numbers: ConditionNumbers) -> Section:
    """Parts, those to act on first."""
    records = sorted(
        numbers.records("part"), key=lambda record: (_ORDER.index(record.body["grade"]), record.id)
    )
    return Section(
        key="parts",
        heading="Parts that are not tubes",
        pieces=(
            drop_empty(
                Table(
                    caption="Parts, those to act on first",
                    columns=(
                        Column(heading="part"),
                        Column(heading="where"),
                        Column(heading="what"),
                        Column(heading="found by"),
                        Column(heading="length", unit="mm", is_number=True),
                        Column(heading="depth", unit="mm", is_number=True),
                        Column(heading="remaining", unit="%", is_number=True),
                        Column(heading="grade"),
                        Column(heading="note"),
                        Column(heading="by"),
                    ),
                    rows=tuple(_row(numbers, record) for record in records),
                    if_empty="Nothing was recorded on parts that are not tubes; that does not mean "
                    "that they are sound.",
                ),
            ),
        ),
    )


def _row(numbers: ConditionNumbers, record: Record) -> Row:
    body = record.body
    what = say_word(body["mechanism"]) if body["mechanism"] else ""
    side = f"{body['side']} side" if body["side"] != "unknown" else ""
    return Row(
        cells=(
            *words(
                say_word(body["part"]),
                _where(numbers, body["where"]),
                ", ".join(each for each in (what, side) if each),
                say_word(body["method"] or ""),
                *(
                    "" if body[name] is None else say_number(body[name])
                    for name in ("length_mm", "depth_mm", "remaining_percent")
                ),
            ),
            Cell(words=body["grade"], tone=_TONES.get(body["grade"], Tone.PLAIN)),
            *words(body["note"], numbers.boiler.name_of(record.by)),
        )
    )


def _where(numbers: ConditionNumbers, where: Mapping[str, Any]) -> str:
    said = [say_list(say_tube_of(numbers, hole) for hole in where.get("holes") or [])]
    key = where.get("sheet")
    if key:
        sheet = numbers.facts.sheet(key)
        said.append(sheet.name if sheet is not None else f"sheet {key}")
    if where.get("distance_mm") is not None:
        said.append(f"{say_number(where['distance_mm'])} mm from the front sheet")
    if where.get("clock_h") is not None:
        said.append(f"{say_number(where['clock_h'])} o'clock from the front")
    said.append(where.get("text") or "")
    return "; ".join(each for each in said if each)
