"""How often the forecast of the worst unmeasured tube is right: ``python -m
tests.campaigns.wall_forecast [--count N] [--seed S] [--out FILE]``.

Invents boilers whose corrosion is known, hides most tubes, forecasts from the rest and looks.
The first table draws from the law that the forecast assumes, where its bound must hold as often as
it says (exit code 1 where it does not). The second draws from two other laws: what it says there
must not be trusted, and the table shows by how much. Readings are exact: a gauge's error is not in
it. Not here: the forecast (``model.wall.forecast``).
"""

import argparse
import json
import math
import sys
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from random import Random
from typing import ClassVar

from model.wall.forecast import FORECAST_PROBABILITY, NoForecast, forecast_worst
from model.wall.pivots import Pivots, simulate_pivots

USUAL_COUNT = 2000
USUAL_SEED = 20261125
TUBES = 300
SAMPLE_SIZES = (8, 10, 20, 40)
PIVOTS_OFF_BY = 0.01
"""The simulated fits behind a bound put it off by up to a hundredth (``USUAL_SIMULATIONS``)."""

Law = Callable[[Random, int], list[float]]


def gumbel_losses(chance: Random, tubes: int) -> list[float]:
    """The law that is assumed. Each boiler has another place and spread [mm]."""
    mu_mm, sigma_mm = chance.uniform(0.1, 1.0), chance.uniform(0.02, 0.12)
    return [mu_mm + sigma_mm * _standard(chance) for _ in range(tubes)]


def heavy_losses(chance: Random, tubes: int) -> list[float]:
    """A longer tail than assumed: the logarithm of the loss is normal with a spread of 0.9."""
    middle_mm = chance.uniform(0.05, 0.2)
    return [middle_mm * math.exp(chance.gauss(0.0, 0.9)) for _ in range(tubes)]


def two_kinds_of_losses(chance: Random, tubes: int) -> list[float]:
    """Two kinds of damage: the assumed law, and one tube in thirty that also lost 1 mm more."""
    losses = gumbel_losses(chance, tubes)
    return [loss + (1.0 if chance.random() < 1 / 30 else 0.0) for loss in losses]


ASSUMED = {"Gumbel's, as assumed": gumbel_losses}
OTHERS = {"log-normal, long tail": heavy_losses, "two kinds of damage": two_kinds_of_losses}


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What came of the boilers of one law and one sample size."""

    law: str
    readings: int
    boilers: int
    held: int
    """Bounds that every hidden tube stayed within."""
    missed: int
    mean_width_mm: float | None
    """From the most likely worst loss to the bound; None without a forecast."""
    refused: dict[str, int]
    """How often, by reason."""

    @property
    def forecasts(self) -> int:
        return self.held + self.missed

    @property
    def share_held(self) -> float | None:
        return self.held / self.forecasts if self.forecasts else None

    @property
    def standard_error(self) -> float:
        """Of the share, if the bound holds as often as it says."""
        spread = FORECAST_PROBABILITY * (1.0 - FORECAST_PROBABILITY)
        return math.sqrt(spread / self.forecasts) if self.forecasts else math.inf

    @property
    def is_as_often_as_said(self) -> bool:
        """Within three standard errors, and what the simulated fits are off by."""
        if self.share_held is None:
            return True
        off_by = abs(self.share_held - FORECAST_PROBABILITY)
        return off_by <= 3.0 * self.standard_error + PIVOTS_OFF_BY


class RememberedPivots(Pivots):
    """Pivots whose levels are worked out once, because all boilers of a study ask for the same."""

    _levels: ClassVar[dict[tuple[float, ...], float]] = {}

    def level(self, probability: float, others: float) -> float:
        asked = (self.sample_size, self.places[0], probability, others)
        if asked not in self._levels:
            self._levels[asked] = super().level(probability, others)
        return self._levels[asked]


def study(name: str, law: Law, readings: int, *, count: int, seed: int) -> Outcome:
    """Invent boilers of a law, measure so many tubes of each, and compare with the hidden ones."""
    chance = Random(f"{seed} {name} {readings}")
    found = simulate_pivots(sample_size=readings, chance=chance)
    pivots = RememberedPivots(
        sample_size=readings, places=found.places, spreads=found.spreads, distances=found.distances
    )
    held = missed = 0
    widths_mm: list[float] = []
    refused: Counter[str] = Counter()
    for _ in range(count):
        losses_mm = law(chance, TUBES)
        measured, hidden = losses_mm[:readings], losses_mm[readings:]
        forecast = forecast_worst(measured, tubes=TUBES, chance=chance, pivots=pivots)
        if isinstance(forecast, NoForecast):
            refused["does not fit the law" if forecast.test else forecast.reason] += 1
            continue
        widths_mm.append(forecast.bound_mm - forecast.most_likely_worst_mm)
        if max(hidden) <= forecast.bound_mm:
            held += 1
        else:
            missed += 1
    return Outcome(
        law=name,
        readings=readings,
        boilers=count,
        held=held,
        missed=missed,
        mean_width_mm=math.fsum(widths_mm) / len(widths_mm) if widths_mm else None,
        refused=dict(refused),
    )


def table(outcomes: Sequence[Outcome]) -> str:
    """The outcomes as lines for a screen."""
    lines = [
        f"{'law':24}{'readings':>9}{'forecasts':>11}{'bound held':>18}{'mean width':>13}  refused"
    ]
    for each in outcomes:
        held = width = "-"
        if each.share_held is not None and each.mean_width_mm is not None:
            held = f"{each.share_held:.1%} +- {each.standard_error:.1%}"
            width = f"{each.mean_width_mm:.3f} mm"
        why = "; ".join(f"{n / each.boilers:.1%}: {reason}" for reason, n in each.refused.items())
        lines.append(
            f"{each.law:24}{each.readings:>9}{each.forecasts:>11}{held:>18}{width:>13}"
            f"  {why or 'none'}"
        )
    return "\n".join(lines)


def main(arguments: Sequence[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.campaigns.wall_forecast")
    parser.add_argument("--count", type=int, default=USUAL_COUNT, help="boilers a row")
    parser.add_argument("--seed", type=int, default=USUAL_SEED, help="of all chance")
    parser.add_argument("--out", type=Path, help="write the figures to this JSON file too")
    options = parser.parse_args(arguments)
    if options.count < 1:
        parser.error(f"--count is {options.count}, but must be at least 1.")
    if options.out is not None and not options.out.parent.is_dir():
        parser.error(f"--out: there is no folder {options.out.parent}; make it first.")

    def rows(laws: dict[str, Law]) -> list[Outcome]:
        return [
            study(name, law, readings, count=options.count, seed=options.seed)
            for name, law in laws.items()
            for readings in SAMPLE_SIZES
        ]

    assumed, others = rows(ASSUMED), rows(OTHERS)
    print(f"{options.count} invented boilers a row, {TUBES} tubes each, seed {options.seed}.")
    print(f"\nThe law that is assumed: the bound is to hold in {FORECAST_PROBABILITY:.0%}.")
    print(table(assumed))
    print("\nOther laws: where less than that hold, the forecast is not to be trusted.")
    print(table(others))
    wrong = [each for each in assumed if not each.is_as_often_as_said]
    for each in wrong:
        print(f"\nWith {each.readings} readings the bound does not hold as often as it says.")
    if options.out is not None:
        found = {
            "seed": options.seed,
            "tubes": TUBES,
            "rows": [asdict(e) for e in assumed + others],
        }
        options.out.write_text(json.dumps(found, indent=1) + "\n", encoding="utf-8")
    return 1 if wrong else 0


def _standard(chance: Random) -> float:
    # 1 - random() is never zero; its logarithm is zero one time in 2^53.
    return -math.log(-math.log(1.0 - chance.random()) or 5e-324)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
