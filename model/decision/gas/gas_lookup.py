"""Extra fuel and missing output for any number of plugs, looked up for many trials at once.

Not here: the gas side that fills the tables (``gas_side``), what is done when output is missing
(``trial_years``).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from model.decision.gas.gas_effects import GasEffects
    from model.decision.situation import Situation

    Floats = NDArray[np.float64]

KW_PER_MW: Final = 1000.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """One quantity by the percentage of one pass that is plugged."""

    percent: tuple[float, ...]
    values: tuple[float, ...]

    def at(self, percent: Floats) -> Floats:
        """Straight between the points; beyond the last, up to all tubes, as before it."""
        import numpy as np

        return np.interp(percent, self.percent, self.values)

    @property
    def is_rising(self) -> bool:
        return all(later >= earlier for earlier, later in pairwise(self.values))


@dataclass(frozen=True, slots=True, kw_only=True)
class GasLookup:
    """What plugs cost on the gas side; tables by place of the pass in the situation.

    What is not known costs nothing here; who reports must say so.
    """

    fuel: tuple[Table | None, ...]
    """Extra fuel of a year [GJ]."""
    draft: tuple[Table | None, ...]
    """Draft loss at the measured firing [Pa]."""
    is_draft_rising: bool
    """More plugs never draw less."""
    effects: GasEffects | None
    needed_kw: float | None
    standby_kw: float
    mwh_per_kw: float
    """Of a year at the stated hours and load; 0 where they are not stated."""

    @property
    def can_be_short(self) -> bool:
        """Whether a year's missing output can be told."""
        return self.limits_output and self.mwh_per_kw > 0.0 and self.beyond_standby_kw > 0.0

    @property
    def limits_output(self) -> bool:
        """Whether highest output and output needed are known."""
        return (
            self.effects is not None and self.effects.fan is not None and self.needed_kw is not None
        )

    @property
    def is_need_met_without_plugs(self) -> bool:
        """Whether the fan reaches the output needed with every tube open; where it does not, new
        tubes cannot help."""
        import numpy as np

        if self.needed_kw is None:
            return True
        open_pa = sum(table.at(np.zeros(1)) for table in self.draft if table is not None)
        return bool(self.output_limit_kw(np.zeros(1) + open_pa)[0] >= self.needed_kw)

    @property
    def beyond_standby_kw(self) -> float:
        return (self.needed_kw or 0.0) - self.standby_kw

    def output_limit_kw(self, tubes_pa: Floats) -> Floats:
        """Highest output with these draft losses of all tube passes together."""
        import numpy as np

        if self.effects is None or self.effects.fan is None:
            return np.full(tubes_pa.shape, np.inf)
        fan = self.effects.fan
        room_pa = max(0.0, fan.fan_pa - fan.held_pa)
        output_kw = self.effects.output_kw * fan.correction
        limit: Floats = output_kw * np.sqrt(room_pa / (fan.growing_pa + tubes_pa))
        return limit


def gas_lookup(situation: Situation, effects: GasEffects | None) -> GasLookup:
    """The tables in the order of the situation's passes; a pass without an effect adds nothing."""
    fuel: list[Table | None] = []
    draft: list[Table | None] = []
    for each in situation.passes:
        effect = None if effects is None else effects.passes.get(each.pass_)
        if effects is None or effect is None:
            fuel.append(None)
            draft.append(None)
            continue
        draft.append(_table(effect.plugged_percent, effect.draft_loss_pa))
        gj = effects.yearly_fuel_gj
        rises = [0.0 if gj is None else gj * rise / 100.0 for rise in effect.fuel_rise_percent]
        fuel.append(None if gj is None else _table(effect.plugged_percent, rises))
    hours, load = situation.hours_per_year, situation.load_percent
    return GasLookup(
        fuel=tuple(fuel),
        draft=tuple(draft),
        is_draft_rising=all(each is None or each.is_rising for each in draft),
        effects=effects,
        needed_kw=situation.needed_output_kw,
        standby_kw=situation.standby_kw or 0.0,
        mwh_per_kw=0.0 if hours is None or load is None else hours * load / 100.0 / KW_PER_MW,
    )


def _table(percent: Sequence[float], values: Sequence[float]) -> Table:
    """With a point at 100 % plugged in line with the last two."""
    percent, values = list(percent), list(values)
    if len(percent) >= 2 and percent[-1] < 100.0:
        slope = (values[-1] - values[-2]) / (percent[-1] - percent[-2])
        values.append(values[-1] + slope * (100.0 - percent[-1]))
        percent.append(100.0)
    return Table(percent=tuple(percent), values=tuple(values))
