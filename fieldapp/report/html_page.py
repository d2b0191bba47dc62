"""The report as one page: self-contained, no request to anywhere, nothing run but its own script.

Names and notes are foreign text: everything is escaped, and signs that could turn or hide text are
shown as replaced. Not here: what the sections say (``sections``), how a map is drawn.
"""

import base64
import hashlib
import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fieldapp.assets import find_asset
from fieldapp.drawing.marks import TubeLook
from fieldapp.drawing.palette import DARK, LIGHT, PRINT
from fieldapp.drawing.primitives import Picture
from fieldapp.drawing.svg import render_svg
from fieldapp.errors import FieldAppError
from fieldapp.report.face_pictures import (
    FacePictureOptions,
    build_face_picture,
    build_side_picture,
    faces_of,
    legend_of,
)
from fieldapp.report.line_breaks import STEADY
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.page_theme import build_page_theme, css_variables
from fieldapp.report.pieces import Drawing, Photo, Piece, Section
from fieldapp.report.shown_text import shown_text
from fieldapp.report.signs import sign_picture
from fieldapp.report.thumbnails import make_thumbnail
from fieldapp.report.wording import say_moment
from model.record.line import Record
from model.tubesheet.faces import Face

if TYPE_CHECKING:
    from jinja2 import Environment

PhotoPath = Callable[[Record], Path | None]

_PAGE = build_page_theme(LIGHT)


def render_html(
    numbers: ConditionNumbers, sections: Sequence[Section], photo_path: PhotoPath
) -> bytes:
    """The page. ``photo_path`` gives a photo's file, None while it is awaited.

    Raises FieldAppError when the library that fills the template is not installed.
    """
    environment = _environment()
    style, script = _style(), _asset("condition.js")
    page = environment.get_template("condition.html").render(
        numbers=numbers,
        sections=sections,
        printed=say_moment(numbers.printed_at),
        style=_trusted(style),
        script=_trusted(script),
        policy=_policy(style, script),
        kind=_kind,
        draw=lambda drawing: _trusted(_draw(numbers, drawing)),
        chart=lambda chart: _trusted(_inline(chart.build(theme=_PAGE))),
        legend=lambda drawing: legend_of(numbers, _face(numbers, drawing)),
        sign=lambda look: _trusted(_sign(look)),
        steady=lambda words: _trusted(_steady(words)),
        photo=lambda photo: _photo(photo, photo_path),
    )
    return page.encode("utf-8", "replace")


def _environment() -> "Environment":
    try:
        from jinja2 import Environment, FileSystemLoader, StrictUndefined
    except ImportError:
        raise FieldAppError(
            "The page needs the office libraries: python3 -m pip install 'tubewright[office]'."
        ) from None
    return Environment(
        loader=FileSystemLoader(find_asset("report")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_finalized,
    )


def _finalized(value: Any) -> Any:
    """Every value on its way into the page; what was made here as markup passes."""
    if isinstance(value, str) and not hasattr(value, "__html__"):
        return shown_text(value)
    return value


def _trusted(markup: str) -> Any:
    """Markup made by this program from escaped parts."""
    from markupsafe import Markup

    return Markup(markup)


def _asset(name: str) -> str:
    return (find_asset("report") / name).read_text(encoding="utf-8")


def _style() -> str:
    """The style sheet with the palette's colours in each surrounding."""
    return (
        _asset("condition.css")
        .replace("/*light*/", css_variables(LIGHT))
        .replace("/*dark*/", css_variables(DARK))
        .replace("/*grey*/", css_variables(PRINT))
    )


def _policy(style: str, script: str) -> str:
    """The content policy: nothing but this style, this script and pictures inside the page."""
    return "; ".join(
        (
            "default-src 'none'",
            "img-src data:",
            f"style-src '{_hash(style)}'",
            f"script-src '{_hash(script)}'",
            "base-uri 'none'",
            "form-action 'none'",
        )
    )


def _hash(text: str) -> str:
    digest = hashlib.sha256(text.encode("utf-8")).digest()
    return f"sha256-{base64.b64encode(digest).decode('ascii')}"


def _steady(words: str) -> str:
    """Escaped text in which keys, dates and numbers with their unit are not broken over lines."""
    return STEADY.sub(r'<span class="steady">\1</span>', escape(shown_text(words)))


def _kind(piece: Piece) -> str:
    return type(piece).__name__.lower()


def _draw(numbers: ConditionNumbers, drawing: Drawing) -> str:
    if drawing.face is None:
        return _inline(build_side_picture(numbers, _PAGE))
    options = FacePictureOptions(theme=_PAGE, legend=False)
    return _inline(build_face_picture(numbers, _face(numbers, drawing), options))


def _face(numbers: ConditionNumbers, drawing: Drawing) -> Face:
    return next(each for each in faces_of(numbers) if each.key == drawing.face)


def _inline(picture: Picture) -> str:
    """The drawing without its own title, which would show wherever the pointer rests."""
    return re.sub(r"<title>[^<]*</title>\n", "", render_svg(picture), count=1)


@lru_cache(maxsize=512)
def _sign(look: TubeLook) -> str:
    """A look as a small drawing beside words that say it already."""
    drawing = render_svg(sign_picture(look, _PAGE))
    return f'<span class="sign" aria-hidden="true">{drawing.strip()}</span>'


def _photo(photo: Photo, photo_path: PhotoPath) -> tuple[str | None, str]:
    """The address of the small picture, or None and what to say instead."""
    path = photo_path(photo.record)
    if path is None:
        return None, "photo awaited: its record is here, its file has not arrived"
    small = make_thumbnail(path)
    if small is None:
        return None, "the photo's file cannot be shown as a picture"
    return f"data:image/jpeg;base64,{base64.b64encode(small).decode('ascii')}", ""
