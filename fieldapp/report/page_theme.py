"""The palette as variables of the page: one drawing serves light, dark and grey.

A map in the page names variables instead of colours; the style sheet says what they are in each
surrounding. Not here: the colours (``fieldapp.drawing.palette``), the rest of the style.
"""

from collections.abc import Iterator
from dataclasses import fields

from fieldapp.drawing.palette import Theme, Tone

_PREFIX = "--c-"


def build_page_theme(model: Theme) -> Theme:
    """The theme whose every colour is a variable."""
    values: dict[str, object] = {"name": "page"}
    for field in fields(Theme):
        value = getattr(model, field.name)
        if isinstance(value, Tone):
            values[field.name] = Tone(
                **{part.name: _variable(field.name, part.name) for part in fields(Tone)}
            )
        elif field.name != "name":
            values[field.name] = _variable(field.name)
    return Theme(**values)  # type: ignore[arg-type]


def css_variables(theme: Theme) -> str:
    """What the variables are in a theme, as declarations.

    >>> from fieldapp.drawing.palette import LIGHT
    >>> css_variables(LIGHT).split(";")[0]
    '--c-ground:#ffffff'
    """
    return ";".join(f"{_PREFIX}{name}:{colour}" for name, colour in _colours(theme))


def _colours(theme: Theme) -> Iterator[tuple[str, str]]:
    for field in fields(Theme):
        value = getattr(theme, field.name)
        name = field.name.replace("_", "-")
        if isinstance(value, Tone):
            for part in fields(Tone):
                yield f"{name}-{part.name}", getattr(value, part.name)
        elif field.name != "name":
            yield name, value


def _variable(*names: str) -> str:
    return f"var({_PREFIX}{'-'.join(names).replace('_', '-')})"
