"""The sections of the report as the typesetter takes them: plain data, and the pictures as files.

What people typed stays data from here to the page: the template reads it, and nothing of it is ever
read as markup. Not here: how a piece looks (``assets/report/condition.typ``), running the
typesetter.
"""

import json
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

from fieldapp.drawing.marks import TubeLook
from fieldapp.drawing.palette import LIGHT
from fieldapp.drawing.primitives import Picture
from fieldapp.drawing.svg import render_svg
from fieldapp.report.face_pictures import (
    FacePictureOptions,
    build_face_picture,
    build_side_picture,
    faces_of,
    legend_of,
)
from fieldapp.report.line_breaks import Run, runs_of
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.paper import Paper, page_size_mm
from fieldapp.report.pieces import (
    Blanks,
    Cell,
    Chart,
    Drawing,
    Facts,
    Figures,
    Paragraph,
    Photo,
    Photos,
    Piece,
    Points,
    Section,
    Table,
    Verdict,
)
from fieldapp.report.shown_text import shown_text
from fieldapp.report.signs import sign_picture
from fieldapp.report.table_widths import column_widths
from fieldapp.report.wording import say_moment
from model.record.line import Record

SmallPhoto = Callable[[Record, int], bytes | str]
"""A photo as a JPEG of at most so many pixels a side, or what to say instead of it."""
Put = Callable[[str, bytes], object]
"""Takes a picture, by the name by which the content calls it."""

MARGIN_MM = 15.0
TABLE_LETTERS_MM = 2.82
"""8 points: the size of letters in tables, in which the columns are measured."""
LONG_TEXT = 500
"""Letters from which a row may be broken over pages; four times as many in a whole line."""
WIDE_FACT = 90
"""Letters from which a fact takes the whole width, not a third of it."""
FEW_PHOTOS = 24

Json = dict[str, Any]


def build_pdf_content(
    numbers: ConditionNumbers,
    sections: Sequence[Section],
    small_photo: SmallPhoto,
    paper: Paper,
    put: Put,
) -> bytes:
    """The sections of the report as one JSON text; the pictures that it names are put away."""
    writer = _Writer(numbers=numbers, small_photo=small_photo, paper=paper, put=put)
    facts, inspection = numbers.facts, numbers.inspection.facts
    date = inspection.date or "no date"
    where = ", ".join(each for each in (facts.owner, facts.site) if each)
    content = {
        "title": shown_text(f"Condition report: {facts.tag}, {date}"),
        "tag": _said(facts.tag),
        "where": _said(where),
        "when": _said(f"Inspection of {date}, printed {say_moment(numbers.printed_at)}"),
        "running": _said(f"{facts.tag}, inspection of {date}"),
        "number": _said(numbers.report_number),
        "paper": "us-letter" if paper is Paper.LETTER else paper.value,
        "margin_mm": MARGIN_MM,
        "printed": list(numbers.printed_at.utctimetuple()[:6]),
        "sections": [
            {
                "key": section.key,
                "heading": _said(section.heading),
                "is_on_first_page": section.is_on_first_page,
                "is_half_width": section.is_half_width,
                "pieces": [writer.piece(piece) for piece in section.pieces],
            }
            for section in sections
        ],
    }
    text = json.dumps(content, ensure_ascii=False, allow_nan=False)
    return text.encode("utf-8", "replace")


def _said(words: str) -> list[Run]:
    return runs_of(shown_text(words))


@dataclass(slots=True, kw_only=True)
class _Writer:
    """Pieces to data; the pictures that they need are put away as they are made."""

    numbers: ConditionNumbers
    small_photo: SmallPhoto
    paper: Paper
    put: Put
    signs: dict[TubeLook, str] = field(default_factory=dict)
    pictures: int = 0

    def piece(self, piece: Piece) -> Json:
        kind = "drawing" if isinstance(piece, Chart) else type(piece).__name__.lower()
        return {"kind": kind, **self._content(piece)}

    def _content(self, piece: Piece) -> Json:
        if isinstance(piece, Paragraph):
            heading = None if piece.heading is None else _said(piece.heading)
            return {
                "words": _said(piece.words),
                "heading": heading,
                "tone": piece.tone,
                "is_long": len(piece.words) > 4 * LONG_TEXT,
            }
        if isinstance(piece, Points):
            heading = None if piece.heading is None else _said(piece.heading)
            return {"items": [_said(item) for item in piece.items], "heading": heading}
        if isinstance(piece, Facts):
            return {
                "pairs": [
                    [_said(term), _said(words), len(words) > WIDE_FACT]
                    for term, words in piece.pairs
                ]
            }
        if isinstance(piece, Verdict):
            return {"words": _said(piece.words), "tone": piece.tone}
        if isinstance(piece, Figures):
            return {
                "items": [
                    {
                        "value": _said(each.value),
                        "words": _said(each.words),
                        "detail": _said(each.detail),
                        "tone": each.tone,
                    }
                    for each in piece.items
                ]
            }
        if isinstance(piece, Blanks):
            return {
                "lines": [[_said(label) for label in line] for line in piece.lines],
                "is_even": piece.is_even,
            }
        if isinstance(piece, Table):
            return self._table(piece)
        if isinstance(piece, Drawing):
            return self._drawing(piece)
        if isinstance(piece, Chart):
            shown = self._shown(piece.title, piece.caption, piece.build(theme=LIGHT))
            return {**shown, "is_narrow": piece.is_narrow}
        return self._photos(piece)

    def _table(self, table: Table) -> Json:
        room_mm = page_size_mm(self.paper)[0] - 2 * MARGIN_MM
        widths = column_widths(table, room_mm / TABLE_LETTERS_MM) if table.rows else []
        return {
            "caption": _said(table.caption),
            "if_empty": _said(table.if_empty),
            "widths": [round(each * TABLE_LETTERS_MM, 3) for each in widths],
            "columns": [
                {
                    "heading": _said(column.heading),
                    "unit": None if column.unit is None else _said(column.unit),
                    "is_number": column.is_number,
                }
                for column in table.columns
            ],
            "rows": [
                {
                    "is_total": row.is_total,
                    "is_long": sum(len(cell.words) for cell in row.cells) > LONG_TEXT,
                    "cells": [self._cell(cell) for cell in row.cells],
                }
                for row in table.rows
            ],
        }

    def _cell(self, cell: Cell) -> Json:
        sign = None if cell.look is None else self._sign(cell.look)
        return {"words": _said(cell.words), "tone": cell.tone, "sign": sign}

    def _sign(self, look: TubeLook) -> str:
        if look not in self.signs:
            drawing = render_svg(sign_picture(look, LIGHT)).encode()
            self.signs[look] = self._picture("svg", drawing)
        return self.signs[look]

    def _drawing(self, drawing: Drawing) -> Json:
        face = next((each for each in faces_of(self.numbers) if each.key == drawing.face), None)
        if face is None:
            picture = build_side_picture(self.numbers)
            legend: list[Json] = []
        else:
            options = FacePictureOptions(legend=False)
            picture = build_face_picture(self.numbers, face, options)
            legend = [
                {"sign": self._sign(entry.look), "words": _said(entry.words)}
                for entry in legend_of(self.numbers, face)
            ]
        shown = self._shown(drawing.title, drawing.caption, picture)
        return {**shown, "is_side_view": face is None, "legend": legend}

    def _shown(self, title: str, caption: str, picture: Picture) -> Json:
        return {
            "title": _said(title),
            "caption": _said(caption),
            "is_side_view": False,
            "is_narrow": False,
            "picture": self._picture("svg", render_svg(picture).encode()),
            "alt": shown_text(picture.words),
            "legend": [],
        }

    def _photos(self, photos: Photos) -> Json:
        """Many photos stand closer: the typesetter holds every one unpacked at once."""
        columns, longest_px = (2, 720) if len(photos.items) <= FEW_PHOTOS else (3, 440)
        return {
            "columns": columns,
            "height_mm": 128.0 / columns,
            "items": [self._photo(each, longest_px) for each in photos.items],
        }

    def _photo(self, photo: Photo, longest_px: int) -> Json:
        small = self.small_photo(photo.record, longest_px)
        shown: Json = {"picture": None, "instead": []}
        if isinstance(small, bytes):
            shown["picture"] = self._picture("jpg", small)
        else:
            shown["instead"] = _said(small)
        return {
            **shown,
            "title": _said(photo.title),
            "caption": _said(photo.caption),
            "details": _said(photo.details),
            "alt": shown_text(f"{photo.title}: {photo.caption or 'no caption'}"),
            "is_long": len(photo.caption) > LONG_TEXT,
        }

    def _picture(self, kind: str, content: bytes) -> str:
        self.pictures += 1
        name = f"picture-{self.pictures}.{kind}"
        self.put(name, content)
        return name
