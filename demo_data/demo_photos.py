"""Draws the pictures that stand where photos would, each saying that it is drawn.

Not here: reading photos (the program's intake). The bytes of a JPEG depend on the version of the
library that packs it; with one version they are the same at every run.
"""

import io
import math
import random
from collections.abc import Callable

from PIL import Image, ImageDraw, ImageFont

from demo_data.demo_layout import (
    FURNACE_DIAMETER_MM,
    FURNACE_X_MM,
    FURNACE_Y_MM,
    SHELL_DIAMETER_MM,
    DemoTube,
)

SIZE = (800, 600)
QUALITY = 60
STEEL = (126, 112, 98)
DARK = (38, 34, 32)
RIM = (168, 150, 130)
SCALE = (214, 208, 196)
RUST = (150, 72, 36)
CRACK = (16, 12, 12)
PAPER = (244, 242, 236)
INK = (20, 20, 20)

Draw = ImageDraw.ImageDraw


def draw_photos(tubes: list[DemoTube]) -> dict[str, bytes]:
    """Every picture by file name."""
    pictures: dict[str, tuple[str, Callable[[Draw], None]]] = {
        "photo-data-plate.jpg": ("data plate of LB-2", _data_plate),
        "photo-front-face.jpg": ("front tube sheet, seen from the front", _front_face(tubes)),
        "photo-split-P2-R06-C02.jpg": ("P2-R06-C02, rear end: cracked around the end", _split_end),
        "photo-bead-P2-R04-C13.jpg": ("P2-R04-C13, rear end: bead cracked", _cracked_bead),
        "photo-plug-P2-R08-C03.jpg": ("P2-R08-C03, front end: plug weeps", _weeping_plug),
        "photo-ligament-P2-R03-C05.jpg": ("crack from P2-R03-C05 to P2-R03-C06", _ligament),
    }
    return {name: _picture(*drawn) for name, drawn in pictures.items()}


def _picture(caption: str, paint: Callable[[Draw], None]) -> bytes:
    image = Image.new("RGB", SIZE, STEEL)
    draw = ImageDraw.Draw(image)
    paint(draw)
    draw.rectangle((0, 536, 800, 600), fill=PAPER)
    draw.text((16, 541), "drawn, not a photograph", font=_font(26), fill=INK)
    draw.text((16, 572), f"invented boiler - {caption}", font=_font(20), fill=INK)
    packed = io.BytesIO()
    image.save(packed, "JPEG", quality=QUALITY)
    return packed.getvalue()


def _font(size: int) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    return ImageFont.load_default(size)


def _disc(draw: Draw, x: float, y: float, radius: float, fill: tuple[int, int, int]) -> None:
    draw.ellipse((x - radius, y - radius, x + radius, y + radius), fill=fill)


def _tube_end(draw: Draw, x: float, y: float, radius: float) -> None:
    """A beaded tube end in its hole: rim of the bead, wall, dark bore."""
    _disc(draw, x, y, radius, RIM)
    _disc(draw, x, y, radius * 0.9, (112, 98, 86))
    _disc(draw, x, y, radius * 0.8, DARK)


def _stains(draw: Draw, seed: int) -> None:
    chance = random.Random(seed)
    for _ in range(60):
        x, y, radius = chance.uniform(0, 800), chance.uniform(0, 540), chance.uniform(4, 26)
        shade = chance.randint(-10, 10)
        _disc(draw, x, y, radius, (STEEL[0] + shade, STEEL[1] + shade, STEEL[2] + shade))


def _crack(draw: Draw, points: list[tuple[float, float]], width: int) -> None:
    draw.line(points, fill=CRACK, width=width, joint="curve")


def _around(x: float, y: float, radius: float, clock_h: float) -> tuple[float, float]:
    """A point on a circle by the clock, as the picture shows it."""
    angle = math.radians(clock_h * 30 - 90)
    return x + radius * math.cos(angle), y + radius * math.sin(angle)


def _split_end(draw: Draw) -> None:
    _stains(draw, 1)
    _tube_end(draw, 400, 270, 210)
    # The chamber is seen from the rear, so 4 o'clock from the front is 8 o'clock here.
    points = [_around(400, 270, 188 + (4 if k % 2 else -4), 6.9 + k * 0.2) for k in range(12)]
    _crack(draw, points, 7)
    x, y = _around(400, 270, 215, 8)
    draw.polygon([(x - 20, y), (x + 6, y + 6), (x - 30, 530), (x - 52, 530)], fill=RUST)


def _cracked_bead(draw: Draw) -> None:
    _stains(draw, 2)
    _tube_end(draw, 400, 270, 210)
    # Seven o'clock from the front is five from the rear.
    for clock_h in (4.7, 5.0, 5.3):
        inner, outer = _around(400, 270, 176, clock_h), _around(400, 270, 209, clock_h + 0.08)
        _crack(draw, [inner, outer], 5)


def _weeping_plug(draw: Draw) -> None:
    _stains(draw, 3)
    _tube_end(draw, 400, 240, 190)
    _disc(draw, 400, 240, 156, (140, 140, 146))
    _disc(draw, 400, 240, 96, (166, 166, 172))
    draw.polygon([(330, 385), (470, 385), (440, 536), (372, 536)], fill=(92, 104, 116))
    draw.polygon([(340, 380), (362, 380), (340, 520), (322, 520)], fill=SCALE)


def _ligament(draw: Draw) -> None:
    _stains(draw, 4)
    _tube_end(draw, 190, 270, 150)
    _tube_end(draw, 610, 270, 150)
    chance = random.Random(5)
    points = [(338 + k * 10.4, 262 + chance.uniform(-9, 9)) for k in range(13)]
    draw.rectangle((330, 220, 470, 310), fill=(206, 92, 104))
    _crack(draw, points, 5)
    draw.text((352, 316), "dye", font=_font(22), fill=PAPER)


def _front_face(tubes: list[DemoTube]) -> Callable[[Draw], None]:
    def paint(draw: Draw) -> None:
        draw.rectangle((0, 0, 800, 540), fill=(60, 56, 54))
        scale = 510 / SHELL_DIAMETER_MM
        _disc(draw, 400, 268, SHELL_DIAMETER_MM / 2 * scale, STEEL)
        furnace_x, furnace_y = 400 + FURNACE_X_MM * scale, 268 - FURNACE_Y_MM * scale
        _disc(draw, furnace_x, furnace_y, FURNACE_DIAMETER_MM / 2 * scale, (84, 62, 48))
        for tube in tubes:
            place = (400 + tube.x_mm * scale, 268 - tube.y_mm * scale)
            _disc(draw, *place, tube.od_mm / 2 * scale, RIM)
            _disc(draw, *place, (tube.od_mm / 2 - tube.wall_mm * 1.5) * scale, DARK)

    return paint


def _data_plate(draw: Draw) -> None:
    draw.rounded_rectangle((90, 50, 710, 500), 18, fill=(176, 170, 150), outline=INK, width=4)
    lines = (
        "FERROW & GANT BOILERWORKS (INVENTED)",
        "SERIAL  4471-2      BUILT  2001",
        "MAWP  1.03 MPa      TEST  1.55 MPa",
        "HEATING SURFACE  193 m2",
        "THREE-PASS WET-BACK",
        "LB-2",
    )
    for number, line in enumerate(lines):
        draw.text((122, 86 + number * 66), line, font=_font(27), fill=INK)
    for x, y in ((112, 72), (688, 72), (112, 478), (688, 478)):
        _disc(draw, x, y, 9, (70, 66, 60))
