"""Reads the figures of a boiler's gas side, noting what is missing, odd or assumed.

Not here: what is made of them (``gas_inputs``).
"""

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from model.condition.boiler_facts import BoilerFacts
from model.condition.stored_figures import MOST_KW, shown, stored_figure
from model.condition.tubes import TubeCondition
from model.errors import ModelError
from model.thermal.combustion import Fuel
from model.thermal.gas_side_as_built import PassGeometry
from model.thermal.output_limit import Pressures

RANGES: Final = {
    "output_kw": (0.001, MOST_KW),
    "needed_output_kw": (0.0, MOST_KW),
    "oxygen_percent": (0.0, 20.9),
    "stack_c": (-60.0, 2500.0),
    "air_c": (-60.0, 400.0),
    "load_percent": (0.001, 150.0),
    "hours_per_year": (0.0, 8784.0),
    "furnace_exit_c": (-60.0, 2500.0),
    "furnace_pressure_pa": (-1e5, 1e5),
    "burner_loss_pa": (0.0, 1e5),
    "fan_pressure_pa": (0.001, 1e5),
}
"""Bounds within which a figure of ``[firing]`` can be meant."""

_PRESSURES = ("furnace_pressure_pa", "burner_loss_pa", "fan_pressure_pa")
_LONGEST_SAID = 40
_HIGHEST_MPA = 21.9


class GasSideNotKnown(ModelError):
    """The record does not hold what the gas side needs; the message names all of it."""


def firing_figure(settings: Mapping[str, Mapping[str, Any]], name: str) -> float | None:
    """A figure of the section ``[firing]``, None where it is missing or cannot be meant."""
    low, high = RANGES[name]
    return stored_figure(settings.get("firing", {}).get(name), least=low, most=high)


@dataclass(slots=True, kw_only=True)
class GasRecord:
    """Reads one boiler, and notes what is missing, what cannot be meant and what is assumed."""

    facts: BoilerFacts
    tubes: Sequence[TubeCondition]
    lacks: dict[str, list[str]] = field(default_factory=lambda: defaultdict(list))
    odd: list[str] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)

    @property
    def firing(self) -> Mapping[str, Any]:
        return self.facts.settings.get("firing", {})

    def _figure(self, name: str) -> float | None:
        return firing_figure(self.facts.settings, name)

    def needed(self, name: str) -> float:
        """A figure without which nothing is computed; nan where it is noted as missing."""
        found = self._figure(name)
        if found is None:
            self._note_missing(name)
            return math.nan
        return found

    def optional(self, name: str) -> float | None:
        """A figure that may be left out, but not be wrong."""
        found = self._figure(name)
        if found is None and self.firing.get(name) is not None:
            self._note_missing(name)
        return found

    def _note_missing(self, name: str) -> None:
        value = self.firing.get(name)
        if value is None:
            self.lacks["firing"].append(name)
        else:
            self.odd.append(self._odd(name, value))

    def _odd(self, name: str, value: object) -> str:
        low, high = RANGES[name]
        bounds = f"above 0 and at most {high:,.10g}" if 0.0 < low < 1.0 else f"{low:g} to {high:g}"
        return f"{name} in [firing] is {shown(value)}, but must be {bounds}"

    def fuel(self) -> Fuel | None:
        value = self.firing.get("fuel")
        if isinstance(value, str) and value in list(Fuel):
            return Fuel(value)
        if value is None:
            self.lacks["firing"].append("fuel")
        else:
            self.odd.append(f"fuel in [firing] is {shown(value)}, but must be {' or '.join(Fuel)}")
        return None

    def steam_pressure_mpa(self) -> float | None:
        operating_mpa, mawp_mpa = self.facts.operating_pressure_mpa, self.facts.mawp_mpa
        if operating_mpa is None and mawp_mpa is None:
            self.lacks["boiler"].append("operating_pressure_mpa")
        elif operating_mpa is None:
            self.remarks.append(
                "No operating pressure is recorded: the water is taken to boil as at the MAWP."
            )
        pressure_mpa = mawp_mpa if operating_mpa is None else operating_mpa
        if pressure_mpa is not None and pressure_mpa >= _HIGHEST_MPA:
            self.odd.append(
                f"the pressure in [boiler] is {pressure_mpa:g} MPa, where water boils only below "
                f"{_HIGHEST_MPA:g}"
            )
        return pressure_mpa

    def pressures(self) -> Pressures | None:
        """Of burner and fan, when all three are there."""
        for name in _PRESSURES:
            value = self.firing.get(name)
            if value is not None and self._figure(name) is None:
                self.remarks.append(f"{self._odd(name, value)}; it is left out.")
        furnace_pa, burner_pa, fan_pa = (self._figure(name) for name in _PRESSURES)
        if furnace_pa is None or burner_pa is None or fan_pa is None:
            return None
        return Pressures(
            furnace_pressure_pa=furnace_pa, burner_loss_pa=burner_pa, fan_pressure_pa=fan_pa
        )

    def passes(self) -> tuple[PassGeometry, ...]:
        """The passes in the order of their numbers, in which the gas flows."""
        numbers = sorted({each.tube.pass_ for each in self.tubes})
        said_nothing = [number for number in numbers if self._retarder(number) is None]
        if said_nothing:
            self.remarks.append(
                f"Nothing is recorded of retarders in pass {_list(map(str, said_nothing))}: the "
                "tubes are taken as plain."
            )
        return tuple(each for number in numbers if (each := self._pass(number)) is not None)

    def _pass(self, number: int) -> PassGeometry | None:
        of_pass = [each for each in self.tubes if each.tube.pass_ == number]
        sizes = [self._size(each) for each in of_pass]
        known = Counter(
            (od_mm - 2.0 * wall_mm, length_mm)
            for od_mm, wall_mm, length_mm in sizes
            if od_mm is not None and wall_mm is not None and length_mm is not None
        )
        if not known:
            for name, found in zip(
                ("od_mm", "wall_mm", "length_mm"), zip(*sizes, strict=True), strict=True
            ):
                if None in found and name not in self.lacks["tubes"]:
                    self.lacks["tubes"].append(name)
            return None
        (bore_mm, length_mm), count = known.most_common(1)[0]
        if count < len(of_pass):
            self.remarks.append(
                f"Pass {number} mixes tube sizes: all {len(of_pass)} tubes are computed with the "
                f"bore of {bore_mm:.1f} mm and the length of {length_mm:g} mm that {count} have."
            )
        return PassGeometry(
            pass_=number,
            tubes=len(of_pass),
            bore_mm=bore_mm,
            length_mm=length_mm,
            retarder=self._retarder(number),
        )

    def _size(self, each: TubeCondition) -> tuple[float | None, float | None, float | None]:
        """Outside diameter, wall and length of the tube that stands there now [mm]."""
        return (
            each.life.od_mm or each.tube.od_mm or self.facts.od_mm,
            each.life.wall_mm or each.tube.wall_mm or self.facts.wall_mm,
            each.tube.length_mm or self.facts.length_mm,
        )

    def _retarder(self, number: int) -> str | None:
        given = self.firing.get("retarders")
        said = given.get(str(number)) if isinstance(given, Mapping) else given
        return None if said is None else str(said)[:_LONGEST_SAID]

    def furnace_surface_m2(self, passes: Sequence[PassGeometry]) -> float | None:
        """All furnaces together, as long as the tubes of the first pass: an estimate of ours."""
        if not self.facts.furnaces:
            self.lacks["firing"].append("furnace_exit_c")
            return None
        if not passes:
            return None
        around_mm = sum(math.pi * each.diameter_mm for each in self.facts.furnaces)
        self.remarks.append(
            "No furnace exit temperature is recorded: it is estimated from the furnace's surface, "
            f"taken to be as long as the tubes of pass {passes[0].pass_}."
        )
        return around_mm * passes[0].length_mm / 1e6

    def refuse_if_missing(self) -> None:
        said = [f"[{section}] lacks {_list(names)}" for section, names in self.lacks.items()]
        if said or self.odd:
            raise GasSideNotKnown(f"{', '.join([*said, *self.odd])}.")


def _list(words: Iterable[str]) -> str:
    *others, last = list(words)
    return f"{', '.join(others)} and {last}" if others else last
