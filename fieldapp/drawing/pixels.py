"""A picture as pixels, drawn by Pillow: for PNG files, the on-site sheet and the tablet's sprites.

Edges are smoothed by drawing several times too large and averaging, in strips, so that a large
sheet does not need a large memory. Strokes are drawn as polygons, because Pillow's own lines have
whole-pixel widths. Not here: what is drawn, and any file.
"""

import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from importlib.util import find_spec
from itertools import pairwise
from math import cos, hypot, pi, sin
from pathlib import Path as FilePath

from PIL import Image, ImageDraw, ImageFont

from fieldapp.drawing.primitives import (
    Anchor,
    Circle,
    Line,
    Path,
    Picture,
    Primitive,
    Shape,
    Text,
    flatten,
)

SUPERSAMPLING = 4
_STRIP_PIXELS = 256
_ANCHORS = {Anchor.START: "ls", Anchor.MIDDLE: "ms", Anchor.END: "rs"}

Point = tuple[float, float]
Font = ImageFont.FreeTypeFont | ImageFont.ImageFont


@dataclass(frozen=True, slots=True, kw_only=True)
class FontFiles:
    """Where the letters come from; None is the font inside Pillow, which has few accents."""

    regular: FilePath | None = None
    bold: FilePath | None = None


PILLOW_FONT = FontFiles()


def find_fonts() -> FontFiles:
    """Roboto as Kivy's wheel carries it, if it is installed, else Pillow's own font.

    Looks where the package lies without importing it: importing Kivy opens a window.
    """
    spec = find_spec("kivy")
    for place in (spec.submodule_search_locations or ()) if spec else ():
        regular = FilePath(place) / "data" / "fonts" / "Roboto-Regular.ttf"
        bold = regular.with_name("Roboto-Bold.ttf")
        if regular.is_file() and bold.is_file():
            return FontFiles(regular=regular, bold=bold)
    return PILLOW_FONT


def render_pixels(picture: Picture, *, dots_per_inch: float, fonts: FontFiles) -> Image.Image:
    """The whole picture on its ground, RGB."""
    scale = dots_per_inch / 25.4
    size = (
        max(1, round(picture.width_mm * scale)),
        max(1, round(picture.height_mm * scale)),
    )
    image = render_shapes(
        picture.primitives, size=size, scale=scale, fonts=fonts, ground=picture.ground
    )
    return image.convert("RGB")


def render_shapes(
    primitives: Sequence[Primitive],
    *,
    size: tuple[int, int],
    scale: float,
    fonts: FontFiles,
    origin: Point = (0.0, 0.0),
    ground: str | None = None,
) -> Image.Image:
    """Shapes on a canvas of ``size`` pixels, ``scale`` pixels to the millimetre, RGBA.

    ``origin`` is where (0, 0) of the shapes stands, in pixels. Without a ground the canvas is
    clear, as the sprites of the tablet need it.
    """
    width, height = size
    fine = scale * SUPERSAMPLING
    shapes = [(shape, _span(shape)) for shape in flatten(primitives)]
    image = Image.new("RGBA", size)
    pens: dict[tuple[float, bool], Font] = {}
    for top in range(0, height, _STRIP_PIXELS):
        rows = min(_STRIP_PIXELS, height - top)
        strip = Image.new(
            "RGBA",
            (width * SUPERSAMPLING, rows * SUPERSAMPLING),
            ground if ground is not None else (0, 0, 0, 0),
        )
        surface = _Surface(
            draw=ImageDraw.Draw(strip),
            scale=fine,
            dx=origin[0] * SUPERSAMPLING,
            dy=(origin[1] - top) * SUPERSAMPLING,
            fonts=fonts,
            pens=pens,
        )
        first = (top - origin[1]) / scale
        last = (top + rows - origin[1]) / scale
        for shape, (low, high) in shapes:
            if high >= first and low <= last:
                surface.paint(shape)
        image.paste(strip.resize((width, rows), Image.Resampling.BOX), (0, top))
    return image


def _span(shape: Shape) -> tuple[float, float]:
    """Lowest and highest y that a shape may touch."""
    if isinstance(shape, Circle):
        reach = shape.radius + shape.stroke_width
        return shape.y - reach, shape.y + reach
    if isinstance(shape, Text):
        return shape.y - 1.5 * shape.size, shape.y + 0.6 * shape.size
    ys = [shape.y1, shape.y2] if isinstance(shape, Line) else [y for _, y in shape.points]
    return min(ys) - shape.stroke_width, max(ys) + shape.stroke_width


@dataclass(frozen=True, slots=True, kw_only=True)
class _Surface:
    """One strip, and how millimetres become its pixels."""

    draw: ImageDraw.ImageDraw
    scale: float
    dx: float
    dy: float
    fonts: FontFiles
    pens: dict[tuple[float, bool], Font]

    def paint(self, shape: Shape) -> None:
        if isinstance(shape, Circle):
            self._paint_circle(shape)
        elif isinstance(shape, Line):
            self._paint_line(shape)
        elif isinstance(shape, Path):
            self._paint_path(shape)
        else:
            self._paint_text(shape)

    def _place(self, points: Iterable[Point]) -> list[Point]:
        return [(x * self.scale + self.dx, y * self.scale + self.dy) for x, y in points]

    def _box(self, x: float, y: float, radius: float) -> list[Point]:
        # Pillow counts the last pixel of a box as inside: half a pixel in on each side is right.
        (x1, y1), (x2, y2) = self._place(((x - radius, y - radius), (x + radius, y + radius)))
        return [(x1 + 0.5, y1 + 0.5), (max(x1, x2 - 1) + 0.5, max(y1, y2 - 1) + 0.5)]

    def _polygon(self, points: Iterable[Point], colour: str) -> None:
        self.draw.polygon(self._place(points), fill=colour)

    def _stroke(self, one: Point, other: Point, width: float, colour: str) -> None:
        # Pillow's polygons come out 0.6 pixels too fat on average (measured over all angles).
        thin = max(0.2 * width, width - 0.6 / self.scale)
        self._polygon(_bar(one, other, thin), colour)

    def _disc(self, x: float, y: float, radius: float, colour: str) -> None:
        self.draw.ellipse(self._box(x, y, radius), fill=colour)

    def _paint_circle(self, circle: Circle) -> None:
        if circle.fill is not None:
            self._disc(circle.x, circle.y, circle.radius, circle.fill)
        if circle.stroke is None:
            return
        if circle.dash is None:
            outer = circle.radius + circle.stroke_width / 2
            box = self._box(circle.x, circle.y, outer)
            width = max(1, round(circle.stroke_width * self.scale))
            self.draw.ellipse(box, outline=circle.stroke, width=width)
            return
        for start, stop in _cut(2 * pi * circle.radius, circle.dash):
            arc = _ring_piece(circle, start / circle.radius, stop / circle.radius)
            self._polygon(arc, circle.stroke)

    def _paint_line(self, line: Line) -> None:
        length = hypot(line.x2 - line.x1, line.y2 - line.y1)
        if length == 0:
            return
        along = ((line.x2 - line.x1) / length, (line.y2 - line.y1) / length)
        for start, stop in _cut(length, line.dash):
            ends = [(line.x1 + along[0] * way, line.y1 + along[1] * way) for way in (start, stop)]
            self._stroke(ends[0], ends[1], line.stroke_width, line.stroke)

    def _paint_path(self, path: Path) -> None:
        if path.fill is not None:
            self._polygon(path.points, path.fill)
        if path.stroke is None:
            return
        points = [*path.points, path.points[0]] if path.closed else list(path.points)
        for one, other in pairwise(points):
            if one != other:
                self._stroke(one, other, path.stroke_width, path.stroke)
        joints = path.points if path.closed else path.points[1:-1]
        for x, y in joints:
            self._disc(x, y, path.stroke_width / 2, path.stroke)

    def _paint_text(self, text: Text) -> None:
        key = (text.size * self.scale, text.bold)
        if key not in self.pens:
            self.pens[key] = load_pen(self.fonts, *key)
        own = self.fonts.regular is None
        self.draw.text(
            (text.x * self.scale + self.dx, text.y * self.scale + self.dy),
            in_few_letters(text.words) if own else text.words,
            fill=text.fill,
            font=self.pens[key],
            anchor=_ANCHORS[text.anchor],
            # Pillow's own font has no bold: a stroke around the letters stands for it.
            stroke_width=max(1, round(key[0] * 0.02)) if own and text.bold else 0,
        )


def load_pen(fonts: FontFiles, size: float, bold: bool) -> Font:
    """The letters of a size in pixels."""
    file = fonts.bold if bold else fonts.regular
    if file is None:
        return ImageFont.load_default(max(1.0, size))
    # The basic layout engine, because the other one is not in every build of Pillow.
    return ImageFont.truetype(str(file), max(1.0, size), layout_engine=ImageFont.Layout.BASIC)


def in_few_letters(words: str) -> str:
    """Words in the letters that Pillow's own font has: others show as boxes."""
    plain = words.translate(str.maketrans("–—−·’‘“”×≥≤", "---,''\"\"x><"))
    bare = unicodedata.normalize("NFKD", plain)
    return "".join(c if c.isascii() else "?" for c in bare if not unicodedata.combining(c))


def _cut(length: float, dash: tuple[float, float] | None) -> Iterator[tuple[float, float]]:
    """The painted pieces of a stroke."""
    if dash is None or sum(dash) <= 0:
        yield 0.0, length
        return
    start = 0.0
    while start < length:
        yield start, min(start + dash[0], length)
        start += dash[0] + dash[1]


def _bar(one: Point, other: Point, width: float) -> list[Point]:
    """A straight stroke with flat ends as a rectangle."""
    length = hypot(other[0] - one[0], other[1] - one[1])
    across_x = -(other[1] - one[1]) / length * width / 2
    across_y = (other[0] - one[0]) / length * width / 2
    return [
        (one[0] + across_x, one[1] + across_y),
        (other[0] + across_x, other[1] + across_y),
        (other[0] - across_x, other[1] - across_y),
        (one[0] - across_x, one[1] - across_y),
    ]


def _ring_piece(circle: Circle, start: float, stop: float) -> list[Point]:
    """A piece of a circle's outline between two angles, clockwise from three o'clock."""
    steps = max(2, round((stop - start) / 0.1))
    turns = [start + (stop - start) * step / steps for step in range(steps + 1)]
    outer = circle.radius + circle.stroke_width / 2
    inner = circle.radius - circle.stroke_width / 2
    return [
        *((circle.x + outer * cos(turn), circle.y + outer * sin(turn)) for turn in turns),
        *((circle.x + inner * cos(turn), circle.y + inner * sin(turn)) for turn in reversed(turns)),
    ]
