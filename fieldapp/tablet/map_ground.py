"""What lies under the tubes: the plate with its rim, and the furnaces with their word.

Not here: the tubes.
"""

from kivy.graphics import Color, Ellipse, InstructionGroup
from kivy.utils import get_color_from_hex

from fieldapp.drawing.palette import Theme
from fieldapp.tablet.glyphs import CAP_HEIGHT, GlyphAtlas
from fieldapp.tablet.writing import WordsMesh
from fieldapp.view.face_map import FaceMap

_SEGMENTS = 240
_RIM_SHARE = 0.004
"""Width of the rim's line in shell diameters."""


def draw_ground(face_map: FaceMap, atlas: GlyphAtlas, theme: Theme) -> InstructionGroup:
    """In millimetres of the sheet."""
    group = InstructionGroup()
    shell = face_map.shell_diameter_mm
    line_mm = _RIM_SHARE * (shell or face_map.bounds.width_mm)
    if shell:
        _disc(group, 0.0, 0.0, shell / 2 + line_mm / 2, theme.ink)
        _disc(group, 0.0, 0.0, shell / 2 - line_mm / 2, theme.plate)
    words = WordsMesh(atlas)
    for furnace in face_map.furnaces:
        radius = furnace.diameter_mm / 2
        _disc(group, furnace.x_mm, furnace.y_mm, radius, theme.ink)
        _disc(group, furnace.x_mm, furnace.y_mm, radius - 0.7 * line_mm, theme.ground)
        em = min(0.3 * radius, 1.5 * radius / max(1.0, atlas.width(furnace.word)))
        words.write(furnace.word, furnace.x_mm, furnace.y_mm - CAP_HEIGHT * em / 2, em)
    group.add(words.canvas(theme.quiet_ink, None))
    return group


def _disc(group: InstructionGroup, x: float, y: float, radius: float, colour: str) -> None:
    group.add(Color(*get_color_from_hex(colour)))
    group.add(
        Ellipse(pos=(x - radius, y - radius), size=(2 * radius, 2 * radius), segments=_SEGMENTS)
    )
