"""The units of ``boiler.toml`` by the ending of a key, and their twins in a file of US units.

Not here: reading values (``toml_fields``).
"""

from collections.abc import Callable
from dataclasses import dataclass

from model import units


@dataclass(frozen=True, slots=True, kw_only=True)
class Twin:
    """A unit of SI files, by the ending of the key, and what stands for it in US files."""

    si: str
    us: str
    to_si: Callable[[float], float]
    from_si: Callable[[float], float]
    both_in_us: bool = False


_M2_PER_FT2 = (units.mm_from_inches(12) / 1000) ** 2
TWINS = (
    Twin(si="_mm", us="_in", to_si=units.mm_from_inches, from_si=units.inches_from_mm),
    Twin(si="_mpa", us="_psi", to_si=units.mpa_from_psi, from_si=units.psi_from_mpa),
    Twin(si="_c", us="_f", to_si=units.c_from_f, from_si=units.f_from_c),
    Twin(si="_kw", us="_bhp", to_si=units.kw_from_bhp, from_si=units.bhp_from_kw),
    # Data plates give square feet; a file of US units may keep square metres all the same.
    Twin(
        si="_m2",
        us="_ft2",
        to_si=lambda area_ft2: area_ft2 * _M2_PER_FT2,
        from_si=lambda area_m2: area_m2 / _M2_PER_FT2,
        both_in_us=True,
    ),
)


def twin_of(key: str) -> Twin | None:
    """The twin units of a key of an SI file."""
    return next((twin for twin in TWINS if key.endswith(twin.si)), None)


def us_key(key: str) -> str:
    """The key as a file of US units spells it."""
    twin = twin_of(key)
    return key if twin is None else key.removesuffix(twin.si) + twin.us
