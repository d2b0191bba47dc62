"""Pages drawn by Pillow alone, as PNG files and as one PDF of pictures: needs no office library.

Not here: what stands on the pages.
"""

import io
from collections.abc import Sequence
from datetime import UTC, datetime

from PIL import Image

from fieldapp.drawing.pixels import FontFiles, render_pixels
from fieldapp.drawing.primitives import Picture


def render_pages(
    pages: Sequence[Picture], *, dots_per_inch: float, fonts: FontFiles
) -> list[Image.Image]:
    """Every page as pixels."""
    return [render_pixels(page, dots_per_inch=dots_per_inch, fonts=fonts) for page in pages]


def png_of(page: Image.Image, dots_per_inch: float) -> bytes:
    """One page as a PNG that says how large it is on paper."""
    file = io.BytesIO()
    page.save(file, format="PNG", optimize=False, dpi=(dots_per_inch, dots_per_inch))
    return file.getvalue()


def pdf_of(
    pages: Sequence[Image.Image], *, dots_per_inch: float, title: str, printed_at: datetime
) -> bytes:
    """All pages as one PDF of pictures, dated with the time printed on them."""
    file = io.BytesIO()
    moment = printed_at.astimezone(UTC).timetuple()
    first, *others = pages
    first.save(
        file,
        format="PDF",
        save_all=True,
        append_images=others,
        resolution=dots_per_inch,
        quality=92,
        title=title,
        producer="tubewright",
        creationDate=moment,
        modDate=moment,
    )
    return file.getvalue()
