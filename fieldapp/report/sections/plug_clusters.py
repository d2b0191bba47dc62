"""Where plugs stand so close together that a wide piece of plate is unheld, sheet by sheet.

Not here: single plugs (``plugs``).
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from fieldapp.report.face_pictures import named_clusters
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.pieces import Cell, Column, Paragraph, Row, Section, Table, Tone, words
from fieldapp.report.wording import UNKNOWN, capital, say_list, say_mm
from model.condition.clusters import Cluster, accepted_widths

_TONES = {"refer": Tone.ACT, "unknown": Tone.WATCH, "ok": Tone.GOOD}
_Named = tuple[str, Cluster]

_BARE = (
    "These places are wider than permitted even with every tube in service: the plugs did not make "
    "them. Something else holds the plate there, such as stays or the edge of a turnaround "
    "chamber, and what it is cannot be entered. So they are not judged, rule no option out, and "
    "hide no narrower place of the same plugs, which stands in the other tables."
)
_ABOUT = (
    "A plugged tube no longer holds the sheet. The span is the widest circle through centres of "
    "surviving tubes, stay tubes and the rims of shell and furnaces; the permitted pitch is that "
    "of stays in a flat plate of the thickness as measured. Tubes are not stays fixed through the "
    "plate, so this is an engineering flag, never a verdict: refer means ask an engineer; unknown "
    "means that plate thickness, stress or MAWP is missing. The width that an engineer accepts on "
    "a sheet goes into [limits] cluster of boiler.toml."
)


def build_plug_clusters(numbers: ConditionNumbers) -> Section:
    """Every open place around plugs, against the pitch that stays may have."""
    named = named_clusters(numbers)
    judged = [entry for entry in named if not entry[1].is_bare]
    return Section(
        key="clusters",
        heading="Clusters of plugs",
        pieces=(
            _table(
                "Unheld places around plugs to be looked into",
                numbers,
                [entry for entry in judged if entry[1].status != "ok"],
                "No unheld place is wider than permitted."
                if named
                else "No tube is plugged, so there is no cluster.",
            ),
            *_bare(numbers, [entry for entry in named if entry[1].is_bare]),
            *_kept(numbers, [entry for entry in judged if entry[1].status == "ok"]),
            *_answers(numbers),
            Paragraph(words=_ABOUT),
        ),
    )


def _bare(numbers: ConditionNumbers, named: Sequence[_Named]) -> tuple[Table | Paragraph, ...]:
    if not named:
        return ()
    table = _table("Unheld places beside bare plate, which cannot be judged", numbers, named, "")
    columns = list(table.columns)
    columns.insert(-2, Column(heading="all tubes in", unit="mm", is_number=True))
    rows = []
    for row, (_, each) in zip(table.rows, named, strict=True):
        cells = list(row.cells)
        cells.insert(-2, Cell(words=say_mm(each.bare_mm, 0)))
        rows.append(replace(row, cells=tuple(cells)))
    return replace(table, columns=tuple(columns), rows=tuple(rows)), Paragraph(words=_BARE)


def _kept(numbers: ConditionNumbers, named: Sequence[_Named]) -> tuple[Table, ...]:
    if not named:
        return ()
    caption = "Unheld places around plugs that keep the permitted pitch"
    return (replace(_table(caption, numbers, named, ""), is_folded=True),)


def _answers(numbers: ConditionNumbers) -> Iterator[Paragraph]:
    """The widths that an engineer accepts, and answers that fit no sheet."""
    given = accepted_widths(numbers.facts.settings.get("limits", {}))
    for key, answer in given.items():
        sheet = numbers.facts.sheet(key)
        if sheet is None:
            said = f"[limits] cluster names {key}, which is no sheet of this boiler: not used."
        else:
            said = (
                f"{capital(sheet.name)}: {answer.width_mm:.0f} mm is permitted by {answer.basis}, "
                "in place of the pitch by plate, stress and MAWP."
            )
        yield Paragraph(words=said)


def _table(
    caption: str, numbers: ConditionNumbers, named: Sequence[_Named], if_empty: str
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
            _status(each),
        )
    )


def _status(each: Cluster) -> Cell:
    if each.is_bare:
        return Cell(words="not judged", tone=Tone.WATCH)
    return Cell(words=each.status, tone=_TONES.get(each.status, Tone.PLAIN))
