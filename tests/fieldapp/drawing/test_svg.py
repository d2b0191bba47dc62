"""SVG text: a golden snippet, the safe subset, escaping, and an independent engine's pixels."""

import io
import re
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image

from fieldapp.drawing.marks import TubeLook, mark
from fieldapp.drawing.palette import DARK, LIGHT, PRINT
from fieldapp.drawing.pixels import PILLOW_FONT, render_pixels
from fieldapp.drawing.primitives import Anchor, Circle, Group, Line, Path, Picture, Text
from fieldapp.drawing.svg import render_svg

NAMESPACE = "{http://www.w3.org/2000/svg}"

GOLDEN = """\
<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="10.5mm" viewBox="0 0 20 10.5" \
role="img" aria-label="A &lt;small&gt; picture" \
font-family="Roboto, Helvetica, Arial, sans-serif">
<title>A &lt;small&gt; picture</title>
<path d="M0 0H20V10.5H0Z" fill="#ffffff"/>
<g data-tube="P2-R03-C11" transform="translate(5 -0.25)">
<title>P2-R03-C11: thinned &amp; carried</title>
<circle cx="0" cy="0" r="1.333" fill="none" stroke="#20262b" stroke-width="0.2" \
stroke-dasharray="0.6 0.4"/>
<path d="M-1 1L1 -1" fill="none" stroke="#20262b" stroke-width="0.1"/>
<path d="M0 0L1 0L0 1Z" fill="#d55e00"/>
</g>
<text x="3" y="9" font-size="2.5" font-weight="700" text-anchor="middle" \
fill="#20262b">5 &gt; 4</text>
</svg>
"""


def picture_of(*primitives, width=20.0, height=10.5, theme=LIGHT):
    return Picture(
        width_mm=width,
        height_mm=height,
        ground=theme.ground,
        words="A <small> picture",
        primitives=primitives,
    )


def all_looks(theme):
    """Every state beside every addition, each mark in its own cell of 6 mm."""
    bases = [{"state": s} for s in (None, "sound", "thinned", "leaking", "plugged", "split")]
    bases += [
        {"state": "leaking", "joint_leak": True},
        {"state": "plugged", "plug_bad": True},
        {"state": None, "replaced": True},
    ]
    added = [{}, {"carried": True}, {"disputed": True}, {"finding": "watch"}, {"finding": "act"}]
    added += [{"filled": True}, {"stay": True}]
    groups = [
        Group(
            children=tuple(mark(TubeLook(**(base | extra)), 2.0, theme)),
            dx=6.0 * column + 3.0,
            dy=6.0 * row + 3.0,
        )
        for row, extra in enumerate(added)
        for column, base in enumerate(bases)
    ]
    return picture_of(*groups, width=54.0, height=42.0, theme=theme)


def test_a_small_picture_gives_these_very_bytes():
    group = Group(
        children=(
            Circle(x=-0.0, y=0, radius=4 / 3, stroke="#20262b", stroke_width=0.2, dash=(0.6, 0.4)),
            Line(x1=-1, y1=1, x2=1, y2=-1, stroke="#20262b", stroke_width=0.1),
            Path(points=((0, 0), (1, 0), (-0.0001, 1)), closed=True, fill="#d55e00"),
        ),
        dx=5,
        dy=-0.25,
        tube="P2-R03-C11",
        title="P2-R03-C11: thinned & carried",
    )
    words = Text(x=3, y=9, size=2.5, words="5 > 4", fill="#20262b", anchor=Anchor.MIDDLE, bold=True)
    assert render_svg(picture_of(group, words)) == GOLDEN


def test_only_the_safe_subset_is_used_and_no_pattern():
    svg = render_svg(all_looks(LIGHT))
    root = ElementTree.fromstring(svg)
    tags = {element.tag.removeprefix(NAMESPACE) for element in root.iter()}
    assert tags <= {"svg", "title", "g", "circle", "path", "text"}
    assert "pattern" not in svg
    assert "url(" not in svg
    assert "href" not in svg
    assert " id=" not in svg
    commands = set("".join(re.findall(r' d="([^"]*)"', svg))) - set("0123456789.- ")
    assert commands <= set("MLHVZ")


def test_a_thinned_tube_has_its_hatching_as_strokes():
    thinned = picture_of(Group(children=tuple(mark(TubeLook(state="thinned"), 2.0, LIGHT)), dx=5))
    svg = render_svg(thinned)
    assert len(re.findall(r'<path d="M[-0-9. ]+L[-0-9. ]+" fill="none"', svg)) >= 3


def test_words_that_would_spoil_the_file_are_made_harmless():
    nasty = "a<b>&\"'\x00\x0b\ud800 é"
    group = Group(children=(), tube=nasty, title=nasty)
    text = Text(x=0, y=0, size=1, words=nasty, fill="#000000")
    svg = render_svg(picture_of(group, text))
    root = ElementTree.fromstring(svg.encode("utf-8"))
    shown = root.find(f"{NAMESPACE}text").text
    assert shown == "a<b>&\"'\ufffd\ufffd\ufffd é"
    assert root.find(f"{NAMESPACE}g").get("data-tube") == shown


def test_the_same_picture_gives_the_same_bytes():
    assert render_svg(all_looks(DARK)) == render_svg(all_looks(DARK))


@pytest.mark.parametrize("theme", [LIGHT, DARK, PRINT], ids=["light", "dark", "print"])
def test_an_independent_engine_draws_the_svg_as_our_pixels(theme, tmp_path):
    typst = pytest.importorskip("typst", reason="typst is the independent SVG engine")
    picture = all_looks(theme)
    (tmp_path / "marks.svg").write_text(render_svg(picture), encoding="utf-8")
    source = tmp_path / "page.typ"
    source.write_text(
        f"#set page(width: {picture.width_mm}mm, height: {picture.height_mm}mm, margin: 0pt)\n"
        '#image("marks.svg", width: 100%)\n',
        encoding="utf-8",
    )
    dots = 254.0  # 10 pixels to the millimetre
    theirs = Image.open(io.BytesIO(typst.compile(str(source), format="png", ppi=dots)))
    ours = render_pixels(picture, dots_per_inch=dots, fonts=PILLOW_FONT)
    assert theirs.size == ours.size
    # Edges may differ by a fraction of a pixel; blurred by two pixels, areas must agree.
    shrunk = [
        np.asarray(image.convert("RGB").reduce(4), dtype=float) / 255 for image in (theirs, ours)
    ]
    apart = np.abs(shrunk[0] - shrunk[1])
    assert apart.mean() < 0.006
    assert apart.max() < 0.35
    # The judge has teeth: leaving the hatching out is seen.
    assert np.abs(shrunk[0] - theme_ground(theme)).mean() > 0.05


def theme_ground(theme):
    return np.array([int(theme.ground[i : i + 2], 16) for i in (1, 3, 5)]) / 255
