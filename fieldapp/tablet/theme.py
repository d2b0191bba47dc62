"""Colours and sizes of the tablet's keys and words, from the theme and from a true millimetre.

Not here: how tube ends are drawn (``fieldapp.drawing``), the widgets.
"""

from dataclasses import dataclass

from kivy.utils import get_color_from_hex

from fieldapp.drawing.palette import Theme, mix

Rgba = tuple[float, float, float, float]
KEY_MM = 20.0
"""Least side of a key: errors fall up to this size and not above (Colle and Hiszem 2004)."""


def rgba(colour: str) -> Rgba:
    """A ``#rrggbb`` colour as Kivy takes it."""
    red, green, blue, alpha = get_color_from_hex(colour)
    return red, green, blue, alpha


@dataclass(frozen=True, slots=True, kw_only=True)
class Paint:
    """What the widgets are painted with."""

    theme: Theme

    @property
    def ground(self) -> Rgba:
        return rgba(self.theme.ground)

    @property
    def panel(self) -> Rgba:
        """Bars and cards, a little off the ground."""
        return rgba(self.theme.plate)

    @property
    def line(self) -> Rgba:
        return rgba(self.theme.faint)

    @property
    def ink(self) -> Rgba:
        return rgba(self.theme.ink)

    @property
    def quiet(self) -> Rgba:
        return rgba(self.theme.quiet_ink)

    @property
    def key(self) -> Rgba:
        """A key at rest."""
        return rgba(mix(self.theme.ink, self.theme.ground, 0.07))

    @property
    def key_down(self) -> Rgba:
        """A key under the finger."""
        return rgba(mix(self.theme.here, self.theme.ground, 0.35))

    @property
    def chosen(self) -> Rgba:
        """The edge of what is chosen, and keys that go on."""
        return rgba(self.theme.here)

    @property
    def chosen_ground(self) -> Rgba:
        return rgba(mix(self.theme.here, self.theme.ground, 0.16))

    @property
    def on_chosen(self) -> Rgba:
        """Words on a key that goes on."""
        return rgba(self.theme.ground)

    @property
    def warning(self) -> Rgba:
        return rgba(self.theme.act)

    @property
    def veil(self) -> Rgba:
        """Over what waits while a question is asked."""
        return 0.0, 0.0, 0.0, 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes:
    """Everything is sized by the millimetre of glass."""

    px_per_mm: float

    def mm(self, length_mm: float) -> float:
        """Millimetres in whole pixels, so that edges are sharp."""
        return float(round(length_mm * self.px_per_mm))

    @property
    def key(self) -> float:
        return self.mm(KEY_MM)

    @property
    def gap(self) -> float:
        """Between keys: a glove that misses one should hit nothing."""
        return self.mm(1.6)

    @property
    def edge(self) -> float:
        return max(1.0, self.mm(0.25))

    # Heights of the em.

    @property
    def title(self) -> float:
        return self.mm(4.6)

    @property
    def heading(self) -> float:
        return self.mm(3.8)

    @property
    def body(self) -> float:
        return self.mm(3.2)

    @property
    def small(self) -> float:
        return self.mm(2.6)


@dataclass(frozen=True, slots=True, kw_only=True)
class Kit:
    """What every widget is made with."""

    paint: Paint
    sizes: Sizes
