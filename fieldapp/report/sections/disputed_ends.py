"""Where two people disagree, who said what, and how disputes were settled.

Not here: corrections of one's own record, which are no disputes.
"""

from collections.abc import Iterator

from fieldapp.drawing.looks import look_of
from fieldapp.report.changes_found import Dispute
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Paragraph, Row, Section, Table, Tone, columns, words
from fieldapp.report.tube_words import say_how, say_state, say_tube, say_tube_of
from fieldapp.report.wording import capital, say_word
from model.condition.tubes import TubeCondition
from model.record.line import Record
from model.record.words import End, How, LeakAt, State


def build_disputed_ends(numbers: ConditionNumbers) -> Section:
    """Open disputes, then settled ones."""
    return Section(
        key="disputes",
        heading="Disputes, open and settled",
        pieces=(
            Table(
                caption="Open disputes: until somebody settles them the worse state counts",
                columns=columns("tube", "end", "counts as", "who said what"),
                rows=tuple(_open(numbers, each) for each in numbers.disputes),
                if_empty="Nobody disagrees about any tube end.",
            ),
            Table(
                caption="Settled",
                columns=columns(
                    "tube", "end", "settled as", "by", "from", "why", "who had said what"
                ),
                rows=tuple(_settled_rows(numbers)),
                if_empty="No dispute was settled in this inspection.",
            ),
            Paragraph(
                words="Nobody's record is deleted: a colleague who sees something else adds a "
                "record, and a settlement names the opinions that it weighed."
            ),
        ),
    )


def say_opinion(numbers: ConditionNumbers, record: Record) -> str:
    """One person's opinion, with name and how it is known."""
    body = record.body
    leak_at = LeakAt(body["leak_at"]) if body.get("leak_at") else None
    said = say_state(State(body["state"]), leak_at)
    how = "settled" if record.kind == "settle" else say_how(How(body["how"]))
    return f"{numbers.boiler.name_of(record.by)}: {said} ({how}, {record.at[:10]})"


def _open(numbers: ConditionNumbers, dispute: Dispute) -> Row:
    tube = next(each for each in numbers.tubes if each.hole == dispute.hole)
    opinions = [say_opinion(numbers, record) for record in dispute.opinions]
    if dispute.by_work:
        opinions = [
            f"{numbers.boiler.name_of(record.by)}: {say_word(record.body['does'])} "
            f"({record.body['done_on'] or numbers.inspection.facts.date})"
            for record in numbers.inspection.work
            if record.body["hole"] and numbers.boiler.hole_class(record.body["hole"]) == tube.hole
        ]
    return Row(
        cells=(
            Cell(words=say_tube(tube.tube), look=look_of(tube, dispute.end)),
            Cell(words=str(dispute.end)),
            Cell(words=say_state(dispute.governing, leak_known=False), tone=Tone.WATCH),
            Cell(words="; ".join(opinions)),
        ),
        tube=tube.tube.key,
    )


def _settled_rows(numbers: ConditionNumbers) -> Iterator[Row]:
    live = {record.id: record for record in numbers.boiler.live}
    for each in numbers.tubes:
        for end in End:
            for record in each.ends_found[end].opinions:
                if record.kind == "settle":
                    yield _settled(numbers, each, end, record, live)


def _settled(
    numbers: ConditionNumbers,
    each: TubeCondition,
    end: End,
    record: Record,
    live: dict[str, Record],
) -> Row:
    body = record.body
    weighed = sorted(
        (live[name] for name in record.supersedes if name in live), key=lambda r: (r.at, r.id)
    )
    leak_at = LeakAt(body["leak_at"]) if body["leak_at"] else None
    return Row(
        cells=(
            Cell(words=say_tube_of(numbers, each.hole), look=look_of(each, end)),
            *words(
                str(end),
                say_state(State(body["state"]), leak_at),
                f"{numbers.boiler.name_of(record.by)}, {record.at[:10]}",
                say_word(body["from"]),
                capital(body["why"]),
                "; ".join(say_opinion(numbers, opinion) for opinion in weighed),
            ),
        ),
        tube=each.tube.key,
    )
