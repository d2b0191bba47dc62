"""Textured quads in meshes of 256: changing one quad sends one small mesh again.

Measured with 5,000 tubes: a widget each took 63 ms a change, meshes of 256 quads 6 to 11 ms on a
machine without a graphics processor. Not here: what the quads show.
"""

from array import array
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from kivy.graphics import InstructionGroup, Mesh
from kivy.graphics.texture import Texture

from fieldapp.tablet.atlas import TexCoords

CHUNK = 256
_FLOATS = 16
"""Of one quad: four corners of x, y, u, v."""
_CORNERS = (0, 1, 2, 2, 3, 0)
_MOST_QUADS = 16_000
"""A mesh counts its corners in 16 bits."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Box:
    left: float
    bottom: float
    right: float
    top: float


def square(x: float, y: float, half: float) -> Box:
    return Box(left=x - half, bottom=y - half, right=x + half, top=y + half)


class QuadChunks:
    """A fixed number of quads at fixed places, whose pictures may change."""

    def __init__(self, texture: Texture) -> None:
        self.canvas = InstructionGroup()
        self._texture = texture
        self._chunks: list[tuple[array[float], Mesh]] = []

    def show(self, quads: Iterable[tuple[Box, TexCoords]]) -> None:
        """All quads anew."""
        self.canvas.clear()
        self._chunks = []
        floats = array("f")
        for box, coords in quads:
            floats.extend(_corners(box, coords))
            if len(floats) == CHUNK * _FLOATS:
                self._close_chunk(floats)
                floats = array("f")
        if floats:
            self._close_chunk(floats)

    def set_many(self, changes: Iterable[tuple[int, TexCoords]]) -> None:
        """Other pictures for some quads; each mesh that they touch is sent once."""
        touched: set[int] = set()
        for index, (left, bottom, right, top) in changes:
            number, place = divmod(index, CHUNK)
            floats = self._chunks[number][0]
            at = place * _FLOATS
            floats[at + 2] = floats[at + 14] = left
            floats[at + 6] = floats[at + 10] = right
            floats[at + 3] = floats[at + 7] = bottom
            floats[at + 11] = floats[at + 15] = top
            touched.add(number)
        for number in touched:
            floats, mesh = self._chunks[number]
            mesh.vertices = floats

    def _close_chunk(self, floats: "array[float]") -> None:
        mesh = _mesh(floats, self._texture)
        self._chunks.append((floats, mesh))
        self.canvas.add(mesh)


def add_quads(group: InstructionGroup, floats: "array[float]", texture: Texture) -> None:
    """Quads whose corners are given, in as few meshes as 16-bit indices allow."""
    step = _MOST_QUADS * _FLOATS
    for first in range(0, len(floats), step):
        group.add(_mesh(floats[first : first + step], texture))


def _mesh(floats: "array[float]", texture: Texture) -> Mesh:
    indices = _indices(len(floats) // _FLOATS)
    return Mesh(vertices=floats, indices=indices, mode="triangles", texture=texture)


@cache
def _indices(quads: int) -> "array[int]":
    return array("H", [4 * quad + corner for quad in range(quads) for corner in _CORNERS])


def _corners(box: Box, coords: TexCoords) -> tuple[float, ...]:
    left, bottom, right, top = coords
    return (
        *(box.left, box.bottom, left, bottom),
        *(box.right, box.bottom, right, bottom),
        *(box.right, box.top, right, top),
        *(box.left, box.top, left, top),
    )
