"""What the crew did: in this outage, and between the last inspection and this one.

Not here: what was found before they began.
"""

from collections.abc import Sequence

from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Row, Section, Table, columns, words
from fieldapp.report.tube_words import say_ends, say_plug, say_tube_of
from fieldapp.report.wording import UNKNOWN, say_count, say_number, say_word
from model.condition.slots import merged_plug
from model.record.fields import last_day
from model.record.line import Record

_COLUMNS = columns("tube", "what", "ends", "on", "details", "entered by", "source")


def build_work_done(numbers: ConditionNumbers) -> Section:
    """Work of the outage, then of the time between."""
    here = sorted(
        numbers.inspection.work,
        key=lambda record: (record.body["does"], say_where(numbers, record), record.id),
    )
    return Section(
        key="work",
        heading="Work done",
        pieces=(
            Table(
                caption="In this outage",
                columns=_COLUMNS,
                rows=tuple(_work(numbers, record) for record in here),
                if_empty="No work was recorded in this outage.",
            ),
            Table(
                caption="Before it, outside any inspection on record"
                if numbers.previous is None
                else f"Between {numbers.previous.facts.date} and this inspection",
                columns=_COLUMNS,
                rows=tuple(_work(numbers, record) for record in _between(numbers)),
                if_empty="Nothing was entered for the time before this inspection.",
            ),
            *_later(numbers),
        ),
    )


def _later(numbers: ConditionNumbers) -> list[Table]:
    """Work after the inspection, shown only where there is some: the figures leave it out."""
    if not numbers.later_work:
        return []
    rows = tuple(_work(numbers, record) for record in numbers.later_work)
    caption = "After this inspection; none of this report's figures have it"
    return [Table(caption=caption, columns=_COLUMNS, rows=rows, if_empty="None.")]


def say_where(numbers: ConditionNumbers, record: Record) -> str:
    """The tube, or as much as was known: a count of a pass."""
    body = record.body
    if body["hole"] is not None:
        return say_tube_of(numbers, body["hole"])
    where = f"pass {body['pass']}" if body["pass"] is not None else "pass not known"
    count = body["count"]
    return where if count is None else f"{say_count(count, 'tube')}, {where}"


def _between(numbers: ConditionNumbers) -> Sequence[Record]:
    """Work and events after the inspection before, up to the day before this one."""
    date = numbers.inspection.facts.date or "9999-12-31"
    before = (numbers.previous.facts.date or "") if numbers.previous is not None else ""
    return [
        record
        for record in numbers.boiler.gap_work
        if before <= last_day(_date(record)).isoformat() < date
    ]


def _date(record: Record) -> str:
    body = record.body
    return str(body["date"] if record.kind == "event" else body["done_on"])


def _work(numbers: ConditionNumbers, record: Record) -> Row:
    body = record.body
    is_event = record.kind == "event"
    on = _date(record) if is_event or body["done_on"] else numbers.inspection.facts.date or UNKNOWN
    by = numbers.boiler.name_of(record.by)
    return Row(
        cells=words(
            say_where(numbers, record),
            say_word(body["what"] if is_event else body["does"]),
            "" if is_event else say_ends(body["ends"]),
            on,
            _details(record),
            f"{by}, done by {body['by_text']}" if is_event and body["by_text"] else by,
            body["source"],
        )
    )


def _details(record: Record) -> str:
    body = record.body
    said: list[str] = []
    if body["plug"]:
        said.append(say_plug(merged_plug([body["plug"]], None)))
    stock = body.get("tube") or {}
    if stock:
        size = f"tube {say_number(stock.get('od_mm'))} x {say_number(stock.get('wall_mm'))} mm"
        said.append(f"{size}, {stock['material']}" if stock.get("material") else size)
    if body.get("heat"):
        said.append(f"heat {body['heat']}")
    if body.get("corrects"):
        said.append("corrects an earlier entry")
    return "; ".join(said)
