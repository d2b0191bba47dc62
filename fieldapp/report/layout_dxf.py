"""``layout.dxf``: one circle per tube where it stands, seen from the front, for a workshop's CAD.

Millimetres, x right, y up, origin at the shell's centre, as in ``layout.csv``. A circle is the hole
in the tube sheet where its diameter is known, else the tube. Nothing else in the file is a circle:
shell and furnaces are closed polylines. The library's writer is the only thing asked of it: no
extrusion other than (0, 0, 1) is ever written, because a reader that ignores one mirrors x.
Not here: reading a drawing.
"""

import io
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from fieldapp.errors import FieldAppError
from fieldapp.report.face_grounds import ends_shown
from fieldapp.report.face_pictures import faces_of
from fieldapp.report.numbers import ConditionNumbers
from fieldapp.report.shown_text import shown_text
from fieldapp.report.wording import say_moment
from model.condition.tubes import TubeCondition
from model.record.words import End, State

APP = "TUBEWRIGHT"
"""Under this name every circle carries its tube's key and the hole's id as extended data."""
UNKNOWN_DIAMETER_MM = 1.0
"""Drawn where neither hole nor tube has a known diameter; then only the centre means something."""
_MILLIMETRES = 4
_LONGEST_DATA = 60
# Colour indices of the format: 7 is black on paper, white on a screen.
_COLOURS: Mapping[State | None, int] = {
    State.SOUND: 3,
    State.THINNED: 30,
    State.LEAKING: 5,
    State.SPLIT: 1,
    State.PLUGGED: 7,
    None: 8,
}


def render_dxf(numbers: ConditionNumbers) -> bytes:
    """The drawing; the same numbers give the same bytes.

    Raises FieldAppError when the library that writes it is not installed.
    """
    ezdxf = _library()
    with _fixed_dates(ezdxf):
        drawing = ezdxf.new("R2010", units=_MILLIMETRES)
        drawing.appids.add(APP)
        drawing.header.custom_vars.append("REPORT", _line(numbers.report_number))
        drawing.header.custom_vars.append("PRINTED", say_moment(numbers.printed_at))
        drawing.header.custom_vars.append("VIEW", "seen from the front, x right, y up")
        space = drawing.modelspace()
        _draw_plate(drawing, space, numbers)
        holes = _hole_diameters_mm(numbers)
        for each in numbers.tubes:
            _draw_tube(drawing, space, each, tube_diameter_mm(numbers, each, holes))
        text = io.StringIO(newline="")
        drawing.write(text)
    return text.getvalue().encode(drawing.output_encoding, "dxfreplace")


def layer_of(tube: TubeCondition) -> str:
    """The layer of a tube's circle: its pass and its state as left."""
    state = tube.left.state
    return f"PASS-{tube.tube.pass_}-{'NOT-INSPECTED' if state is None else str(state).upper()}"


def tube_diameter_mm(
    numbers: ConditionNumbers, tube: TubeCondition, holes: Mapping[int, float]
) -> float | None:
    """The hole of the tube's pass [mm], else the tube's outside diameter, else None."""
    hole = holes.get(tube.tube.pass_)
    od_mm = tube.tube.od_mm
    usual = od_mm is None or od_mm == numbers.facts.od_mm
    # A sheet states the hole of its usual tubes; another size has a hole that nobody stated.
    return hole if hole is not None and usual else od_mm or numbers.facts.od_mm


def _hole_diameters_mm(numbers: ConditionNumbers) -> dict[int, float]:
    """Hole diameter by pass: of the sheet with the front ends, else of that with the rear ends."""
    found: dict[int, float] = {}
    for wanted in End:
        for face in faces_of(numbers):
            sheet = numbers.facts.sheet(face.sheet)
            if sheet is None or sheet.hole_mm is None:
                continue
            for pass_, end in ends_shown(face).items():
                if end is wanted:
                    found.setdefault(pass_, sheet.hole_mm)
    return found


def _draw_tube(drawing: Any, space: Any, each: TubeCondition, diameter_mm: float | None) -> None:
    tube = each.tube
    centre = (tube.x_mm, tube.y_mm)
    drawn_mm = diameter_mm or UNKNOWN_DIAMETER_MM
    layer = _layer(drawing, layer_of(each), _COLOURS[each.left.state])
    circle = space.add_circle(centre, drawn_mm / 2, dxfattribs={"layer": layer})
    circle.set_xdata(
        APP,
        [
            (1000, _line(tube.key)),
            (1000, _line(each.hole)),
            (1000, "diameter known" if diameter_mm else "diameter not known"),
        ],
    )
    words = space.add_text(
        _line(tube.key),
        height=0.16 * drawn_mm,
        dxfattribs={"layer": _layer(drawing, f"PASS-{tube.pass_}-KEYS", 8)},
    )
    words.set_placement(centre, align=_middle())


def _draw_plate(drawing: Any, space: Any, numbers: ConditionNumbers) -> None:
    facts = numbers.facts
    if facts.shell_diameter_mm is not None:
        _draw_round(space, 0.0, 0.0, facts.shell_diameter_mm / 2, _layer(drawing, "SHELL", 7))
    for each in facts.furnaces:
        layer = _layer(drawing, "FURNACE", 7)
        _draw_round(space, each.x_mm, each.y_mm, each.diameter_mm / 2, layer)


def _draw_round(space: Any, x_mm: float, y_mm: float, radius_mm: float, layer: str) -> None:
    """A closed polyline of two half circles (bulge 1)."""
    points = [(x_mm - radius_mm, y_mm, 1.0), (x_mm + radius_mm, y_mm, 1.0)]
    space.add_lwpolyline(points, format="xyb", close=True, dxfattribs={"layer": layer})


def _layer(drawing: Any, name: str, colour: int) -> str:
    if name not in drawing.layers:
        drawing.layers.add(name, color=colour)
    return name


def _line(words: str) -> str:
    """Text on one line; a percent sign doubled would be read as a command."""
    shown = " ".join(shown_text(words).split()).replace("%%", "% %").replace("^", "'")
    return shown[:_LONGEST_DATA]


def _middle() -> Any:
    from ezdxf.enums import TextEntityAlignment

    return TextEntityAlignment.MIDDLE_CENTER


@contextmanager
def _fixed_dates(ezdxf: Any) -> Iterator[None]:
    """The library stamps the clock and chance into a file; this is its own switch against it."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _library() -> Any:
    try:
        import ezdxf
    except ImportError:
        raise FieldAppError(
            "The drawing needs the office libraries: python3 -m pip install 'tubewright[office]'."
        ) from None
    return ezdxf
