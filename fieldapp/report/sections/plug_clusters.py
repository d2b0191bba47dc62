"""Where plugs stand so close together that a wide piece of plate is unheld, sheet by sheet.

Not here: single plugs (``plugs``).
"""

from collections.abc import Sequence
from dataclasses import replace

from fieldapp.report.face_pictures import named_clusters
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Column, Paragraph, Row, Section, Table, Tone, words
from fieldapp.report.wording import UNKNOWN, say_list, say_mm
from model.condition.clusters import Cluster

_TONES = {"refer": Tone.ACT, "unknown": Tone.WATCH, "ok": Tone.GOOD}


def build_plug_clusters(numbers: ConditionNumbers) -> Section:
    """Every open place around plugs, against the pitch that stays may have."""
    named = named_clusters(numbers)
    return Section(
        key="clusters",
        heading="Clusters of plugs",
        pieces=(
            _table(
                "Unheld places around plugs to be looked into",
                numbers,
                [entry for entry in named if entry[1].status != "ok"],
                "No unheld place is wider than permitted."
                if named
                else "No tube is plugged, so there is no cluster.",
            ),
            *_kept(numbers, [entry for entry in named if entry[1].status == "ok"]),
            Paragraph(
                words="A plugged tube no longer holds the sheet. The span is the widest circle "
                "through centres of surviving tubes, stays and the held edge; the permitted pitch "
                "is that of stays in a flat plate of the thickness as measured. Tubes are not "
                "stays fixed through the plate, so this is an engineering flag, never a verdict: "
                "refer means ask an engineer; unknown means that plate thickness, stress or MAWP "
                "is missing."
            ),
        ),
    )


def _kept(numbers: ConditionNumbers, named: Sequence[tuple[str, Cluster]]) -> tuple[Table, ...]:
    if not named:
        return ()
    caption = "Unheld places around plugs that keep the permitted pitch"
    return (replace(_table(caption, numbers, named, ""), is_folded=True),)


def _table(
    caption: str, numbers: ConditionNumbers, named: Sequence[tuple[str, Cluster]], if_empty: str
) -> Table:
    return Table(
        caption=caption,
        columns=(
            Column(heading="name"),
            Column(heading="tube sheet"),
            Column(heading="plugs in it"),
            Column(heading="span", unit="mm", is_number=True),
            Column(heading="permitted", unit="mm", is_number=True),
            Column(heading="status"),
        ),
        rows=tuple(_row(numbers, name, each) for name, each in named),
        if_empty=if_empty,
    )


def _row(numbers: ConditionNumbers, name: str, each: Cluster) -> Row:
    sheet = numbers.facts.sheet(each.sheet)
    return Row(
        cells=(
            *words(
                name,
                sheet.name if sheet is not None else each.sheet,
                say_list(each.tubes),
                say_mm(each.span_mm, 0),
                UNKNOWN if each.permitted_mm is None else say_mm(each.permitted_mm, 0),
            ),
            Cell(words=each.status, tone=_TONES.get(each.status, Tone.PLAIN)),
        )
    )
