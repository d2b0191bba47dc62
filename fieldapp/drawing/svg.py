"""A picture as SVG text: self-contained, the same bytes for the same picture.

Only what every engine draws alike: circle, path, text with ``text-anchor``, ``translate`` and
``stroke-dasharray``. No ids, so that several pictures can stand in one page, and no scripts, styles
or references. Not here: what is drawn.
"""

from xml.sax.saxutils import escape, quoteattr

from fieldapp.drawing.primitives import Circle, Group, Line, Path, Picture, Primitive, Text

FONT_FAMILY = "Roboto, Helvetica, Arial, sans-serif"


def render_svg(picture: Picture) -> str:
    """The picture as one SVG document, one shape a line."""
    width, height = _number(picture.width_mm), _number(picture.height_mm)
    words = quoteattr(_printable(picture.words))
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}" role="img" aria-label={words} '
        f'font-family="{FONT_FAMILY}">',
        f"<title>{_content(picture.words)}</title>",
        f'<path d="M0 0H{width}V{height}H0Z" fill="{picture.ground}"/>',
    ]
    for primitive in picture.primitives:
        _write(primitive, lines)
    lines.append("</svg>")
    return "\n".join(lines) + "\n"


def _write(primitive: Primitive, lines: list[str]) -> None:
    if isinstance(primitive, Group):
        _write_group(primitive, lines)
    elif isinstance(primitive, Circle):
        lines.append(
            f'<circle cx="{_number(primitive.x)}" cy="{_number(primitive.y)}" '
            f'r="{_number(primitive.radius)}"'
            f"{_paint(primitive.fill, primitive.stroke, primitive.stroke_width)}"
            f"{_dash(primitive.dash)}/>"
        )
    elif isinstance(primitive, Line):
        lines.append(
            f'<path d="M{_pair(primitive.x1, primitive.y1)}L{_pair(primitive.x2, primitive.y2)}"'
            f"{_paint(None, primitive.stroke, primitive.stroke_width)}{_dash(primitive.dash)}/>"
        )
    elif isinstance(primitive, Path):
        lines.append(_path(primitive))
    else:
        lines.append(_text(primitive))


def _write_group(group: Group, lines: list[str]) -> None:
    attributes = ""
    if group.tube is not None:
        attributes += f" data-tube={quoteattr(_printable(group.tube))}"
    if group.dx or group.dy:
        attributes += f' transform="translate({_pair(group.dx, group.dy)})"'
    lines.append(f"<g{attributes}>")
    if group.title is not None:
        lines.append(f"<title>{_content(group.title)}</title>")
    for child in group.children:
        _write(child, lines)
    lines.append("</g>")


def _path(path: Path) -> str:
    points = "L".join(_pair(x, y) for x, y in path.points)
    end = "Z" if path.closed else ""
    join = ' stroke-linejoin="round"' if path.stroke else ""
    return f'<path d="M{points}{end}"{_paint(path.fill, path.stroke, path.stroke_width)}{join}/>'


def _text(text: Text) -> str:
    weight = ' font-weight="700"' if text.bold else ""
    return (
        f'<text x="{_number(text.x)}" y="{_number(text.y)}" font-size="{_number(text.size)}"'
        f'{weight} text-anchor="{text.anchor.value}" fill="{text.fill}">'
        f"{_content(text.words)}</text>"
    )


def _paint(fill: str | None, stroke: str | None, width: float) -> str:
    painted = f' fill="{fill or "none"}"'
    if stroke:
        painted += f' stroke="{stroke}" stroke-width="{_number(width)}"'
    return painted


def _dash(dash: tuple[float, float] | None) -> str:
    return f' stroke-dasharray="{_pair(*dash)}"' if dash else ""


def _pair(x: float, y: float) -> str:
    return f"{_number(x)} {_number(y)}"


def _number(value: float) -> str:
    """Micrometres are enough; no trailing noughts, no negative nought."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _content(words: str) -> str:
    return escape(_printable(words))


def _printable(words: str) -> str:
    """Without characters that XML 1.0 forbids; one of them would spoil the whole file."""
    return "".join(c if _is_allowed(ord(c)) else "\N{REPLACEMENT CHARACTER}" for c in words)


def _is_allowed(code: int) -> bool:
    return (
        code in (0x9, 0xA, 0xD)
        or 0x20 <= code <= 0xD7FF
        or 0xE000 <= code <= 0xFFFD
        or code >= 0x10000
    )
