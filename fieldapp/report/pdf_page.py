"""``condition.pdf``: the report set by typst, tagged, searchable, with its fonts inside.

The typesetter sees one folder with our template, the content as data and the pictures, nothing else
of the machine. Not here: what stands on the pages (``pdf_content``, ``assets/report``).
"""

import tempfile
from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from fieldapp.assets import find_asset
from fieldapp.drawing.pixels import find_fonts
from fieldapp.errors import FieldAppError
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.paper import Paper
from fieldapp.report.pdf_content import build_pdf_content
from fieldapp.report.pieces import Section
from fieldapp.report.thumbnails import make_thumbnail
from model.record.line import Record

if TYPE_CHECKING:
    import typst

PhotoPath = Callable[[Record], Path | None]

_STANDARDS = ("a-2a", "ua-1")
"""What the file declares to be: for archives (PDF/A-2a) and for people who cannot see it
(PDF/UA-1). The typesetter refuses what it knows to break them; no validator has judged the rest."""
_TEMPLATE = "condition.typ"


def render_pdf(
    numbers: ConditionNumbers,
    sections: Sequence[Section],
    photo_path: PhotoPath,
    paper: Paper = Paper.A4,
) -> bytes:
    """The file. ``photo_path`` gives a photo's file, None while it is awaited.

    Raises FieldAppError when the typesetter is not installed.
    """
    typesetter = _typesetter()

    def small_photo(record: Record, longest_px: int) -> bytes | str:
        path = photo_path(record)
        if path is None:
            return "photo awaited: its record is here, its file has not arrived"
        small = make_thumbnail(path, longest_px)
        return small or "the photo's file cannot be shown as a picture"

    with tempfile.TemporaryDirectory(prefix="tubewright-pdf-") as folder:
        root = Path(folder)
        content = build_pdf_content(
            numbers,
            sections,
            small_photo,
            paper,
            lambda name, picture: (root / name).write_bytes(picture),
        )
        (root / "content.json").write_bytes(content)
        return typeset(typesetter, root, numbers.printed_at)


def typeset(typesetter: Any, root: Path, printed_at: datetime) -> bytes:
    """Set the content that lies in a folder, with the fewest fonts that show all of its letters.

    The fonts that come with the program make the same file on every machine. Where they lack a
    letter, the machine's own are asked; where these lack it too, it shows as a box, and the file
    no longer declares the standards, which forbid that.
    """
    (root / _TEMPLATE).write_bytes((find_asset("report") / _TEMPLATE).read_bytes())

    def attempt(standards: Sequence[str], *, with_system_fonts: bool) -> bytes:
        compiler = typesetter.Compiler(
            str(root / _TEMPLATE),
            root=str(root),
            font_paths=_fonts(typesetter, with_system_fonts=with_system_fonts),
        )
        made: bytes = compiler.compile(
            format="pdf",
            pdf_standards=list(standards),
            timestamp=printed_at.replace(microsecond=0),
        )
        return made

    for with_system_fonts in (False, True):
        try:
            return attempt(_STANDARDS, with_system_fonts=with_system_fonts)
        except typesetter.TypstError as error:
            if "could not be displayed" not in str(error.message):
                raise
    return attempt((), with_system_fonts=True)


def _typesetter() -> Any:
    try:
        import typst
    except ImportError:
        raise FieldAppError(
            "The PDF needs the office libraries: python3 -m pip install 'tubewright[office]'."
        ) from None
    return typst


def _fonts(typesetter: Any, *, with_system_fonts: bool) -> "typst.Fonts":
    regular = find_fonts().regular
    fonts: typst.Fonts = typesetter.Fonts(
        include_system_fonts=with_system_fonts,
        include_embedded_fonts=True,
        font_paths=[] if regular is None else [str(regular.parent)],
    )
    return fonts
