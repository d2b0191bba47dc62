"""A small picture for photos."""

import io

from PIL import Image


def picture(colour="red"):
    """The bytes of a PNG."""
    data = io.BytesIO()
    Image.new("RGB", (8, 8), colour).save(data, "PNG")
    return data.getvalue()
