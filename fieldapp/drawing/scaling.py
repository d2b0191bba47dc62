"""A drawing made smaller or larger as a whole, letters and strokes with it.

Not here: any drawing.
"""

from dataclasses import replace

from fieldapp.drawing.primitives import Circle, Group, Line, Path, Picture, Primitive, Shape


def scale_picture(picture: Picture, factor: float) -> Picture:
    """The picture at ``factor`` times its size."""
    return replace(
        picture,
        width_mm=picture.width_mm * factor,
        height_mm=picture.height_mm * factor,
        primitives=tuple(_scale(each, factor) for each in picture.primitives),
    )


def _scale(primitive: Primitive, factor: float) -> Primitive:
    if isinstance(primitive, Group):
        return _scale_group(primitive, factor)
    return _scale_shape(primitive, factor)


def _scale_group(group: Group, factor: float) -> Group:
    return replace(
        group,
        children=tuple(
            _scale_group(child, factor) if isinstance(child, Group) else _scale_shape(child, factor)
            for child in group.children
        ),
        dx=group.dx * factor,
        dy=group.dy * factor,
    )


def _scale_shape(shape: Shape, factor: float) -> Shape:
    if isinstance(shape, Circle):
        return replace(
            shape,
            x=shape.x * factor,
            y=shape.y * factor,
            radius=shape.radius * factor,
            stroke_width=shape.stroke_width * factor,
            dash=_scale_dash(shape.dash, factor),
        )
    if isinstance(shape, Line):
        return replace(
            shape,
            x1=shape.x1 * factor,
            y1=shape.y1 * factor,
            x2=shape.x2 * factor,
            y2=shape.y2 * factor,
            stroke_width=shape.stroke_width * factor,
            dash=_scale_dash(shape.dash, factor),
        )
    if isinstance(shape, Path):
        return replace(
            shape,
            points=tuple((x * factor, y * factor) for x, y in shape.points),
            stroke_width=shape.stroke_width * factor,
        )
    return replace(shape, x=shape.x * factor, y=shape.y * factor, size=shape.size * factor)


def _scale_dash(dash: tuple[float, float] | None, factor: float) -> tuple[float, float] | None:
    return None if dash is None else (dash[0] * factor, dash[1] * factor)
