"""What chance decides in each trial, drawn once and the same for all options.

That options meet the same chances makes their difference far better known than either cost. Not
here: what follows from the draws (``loss_rates``, ``trials``).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from model.decision.prices import BY_PRICE, Prices, PriceSource
from model.errors import ModelError, OutOfRange

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from model.decision.situation import PassSituation, Situation

    Floats = NDArray[np.float64]

PRICE_ITEMS: Final = tuple(sorted(BY_PRICE))
"""Order of the prices in every array."""

PRICE_SPREAD: Final = {
    PriceSource.QUOTED: 0.0,
    PriceSource.OWNER: 0.1,
    PriceSource.ASSUMED: 0.3,
}
"""By which part a price may be wrong either way, by who says it. Ours."""

# Uniform numbers keep so far from 0 and 1: their logarithms are finite, and sums of probabilities
# reach them in spite of rounding.
_EDGE = 1e-12

_PASSES, _TUBE_LEAKS, _JOINT_LEAKS, _PRICES, _TUBE_STOPS, _JOINT_STOPS = range(6)


@dataclass(frozen=True, slots=True, kw_only=True)
class Draws:
    """Arrays [pass, trial], passes in the order of the situation, or [year, pass, trial]."""

    seed: int
    years: int
    losses: Floats
    """m: tubes lost in the time of the record, as far as it is known."""
    shape: Floats
    """s: how losses grow with age; 1 where that is not known."""
    joint_leaks_per_year: Floats
    weak_share: Floats
    """phi: share of the coming losses of old tubes that falls on the weak ones, while some are
    left."""
    stopping_share: Floats
    """psi: share of the coming lost tubes that stop the boiler; the rest are found when it is down
    anyway."""
    joint_stopping_share: Floats
    """The same of the coming leaking joints."""
    tube_uniforms: Floats
    """[year, pass, trial], from year 1."""
    joint_uniforms: Floats
    price_factors: Floats
    """[price, trial] in the order of ``PRICE_ITEMS``; each has mean 1."""

    @property
    def trials(self) -> int:
        return int(self.losses.shape[1])

    def with_more_leaks(self, leak_factor: float | Floats) -> Draws:
        """The same chances with so many times the tube leaks (one factor, or one per trial)."""
        return replace(self, losses=self.losses * leak_factor)

    def part(self, part: slice) -> Draws:
        """Some of the trials, without copying."""
        return replace(
            self,
            losses=self.losses[:, part],
            shape=self.shape[:, part],
            joint_leaks_per_year=self.joint_leaks_per_year[:, part],
            weak_share=self.weak_share[:, part],
            stopping_share=self.stopping_share[:, part],
            joint_stopping_share=self.joint_stopping_share[:, part],
            tube_uniforms=self.tube_uniforms[:, :, part],
            joint_uniforms=self.joint_uniforms[:, :, part],
            price_factors=self.price_factors[:, part],
        )


def draw(
    situation: Situation,
    *,
    years: int,
    trials: int,
    seed: int,
    leak_factor: float | Floats = 1.0,
) -> Draws:
    """Draws all trials; the same seed gives the same draws.

    Per pass: m from Gamma(losses + 1/2); s from s_hat chi2(2n) / (2n) where the growth is known
    from n losses; joint leaks a year from Gamma(joint leaks + 1/2) / window; phi from
    Beta(weak losses + 1/2, other losses seen before + 1/2); psi from Beta(those that stopped the
    boiler + 1/2, those found when it was down + 1/2), of tubes and of joints, which without any
    record is half of them, widely spread. Each kind of chance has a stream of its own, and later
    years come after earlier ones: a longer horizon leaves the years before as they were.

    Raises: OutOfRange unless there is a pass, a year and a trial, and every time is above 0;
    ModelError where numpy is missing.
    """
    _check(situation, years, trials)
    require_numpy()
    import numpy as np

    def stream(purpose: int) -> np.random.Generator:
        return np.random.default_rng([seed, purpose])

    chance = stream(_PASSES)
    drawn = [_draw_pass(each, chance, trials) for each in situation.passes]
    losses, shape, joints, weak_share = (np.stack(each) for each in zip(*drawn, strict=True))
    risks = [each.risk for each in situation.passes]

    def uniforms(purpose: int) -> Floats:
        numbers = stream(purpose).random((years, len(situation.passes), trials))
        return np.clip(numbers, _EDGE, 1.0 - _EDGE, out=numbers)

    return Draws(
        seed=seed,
        years=years,
        losses=losses * leak_factor,
        shape=shape,
        joint_leaks_per_year=joints,
        weak_share=weak_share,
        stopping_share=_draw_shares(
            [(risk.stopping_losses, risk.losses_when_down) for risk in risks],
            stream(_TUBE_STOPS),
            trials,
        ),
        joint_stopping_share=_draw_shares(
            [
                (risk.stopping_joint_leaks, risk.joint_leaks - risk.stopping_joint_leaks)
                for risk in risks
            ],
            stream(_JOINT_STOPS),
            trials,
        ),
        tube_uniforms=uniforms(_TUBE_LEAKS),
        joint_uniforms=uniforms(_JOINT_LEAKS),
        price_factors=_draw_price_factors(situation.prices, stream(_PRICES), trials),
    )


def require_numpy() -> None:
    """Raises ModelError where the trials cannot be run."""
    try:
        import numpy  # noqa: F401 - only whether it is there
    except ImportError:
        raise ModelError(
            "Costs over the years need numpy, which is not installed; install the office parts: "
            "pip install '.[office]'."
        ) from None


def price_spread(prices: Prices, name: str) -> float:
    """By which part the price may be wrong either way; 0 where it is missing."""
    found = prices.items.get(name)
    return 0.0 if found is None else PRICE_SPREAD[found.source]


def weak_and_others(each: PassSituation) -> tuple[int, int]:
    """Weak tubes and others, of those in service and not bad at the inspection."""
    weak = len(each.weak)
    return weak, each.tubes - len(each.plugged) - len(each.bad) - weak


def _check(situation: Situation, years: int, trials: int) -> None:
    if not situation.passes:
        raise OutOfRange("passes", "empty", "at least one pass")
    for name, value in (("years", years), ("trials", trials)):
        if value < 1:
            raise OutOfRange(name, value, "at least 1")
    for each in situation.passes:
        for name in ("window_years", "joint_window_years"):
            value = getattr(each.risk, name)
            if not value > 0.0:
                raise OutOfRange(f"{name} of pass {each.pass_}", value, "above 0")


def _draw_pass(
    each: PassSituation, chance: np.random.Generator, trials: int
) -> tuple[Floats, Floats, Floats, Floats]:
    """m, s, joint leaks a year and phi; each drawn whether needed or not, so that what is known of
    one thing does not change what is drawn of another."""
    import numpy as np

    risk = each.risk
    losses = chance.gamma(risk.losses + 0.5, size=trials)
    degrees = 2 * max(1, risk.losses)
    spread = chance.chisquare(degrees, size=trials) / degrees
    joints = chance.gamma(risk.joint_leaks + 0.5, size=trials) / risk.joint_window_years
    others_lost = max(0, risk.seen_losses - risk.weak_losses)
    weak_share = chance.beta(risk.weak_losses + 0.5, others_lost + 0.5, size=trials)
    grows = risk.is_growth_known and risk.losses >= 1
    weak, others = weak_and_others(each)
    if weak == 0:
        weak_share = np.zeros(trials)
    elif others <= 0:
        weak_share = np.ones(trials)
    return losses, risk.shape * spread if grows else np.ones(trials), joints, weak_share


def _draw_shares(
    counts: Sequence[tuple[int, int]], chance: np.random.Generator, trials: int
) -> Floats:
    """The share of a thing [pass, trial], of which so many were so and so many were not."""
    import numpy as np

    return np.stack(
        [chance.beta(so + 0.5, max(0, others) + 0.5, size=trials) for so, others in counts]
    )


def _draw_price_factors(prices: Prices, chance: np.random.Generator, trials: int) -> Floats:
    import numpy as np

    spreads = np.array([price_spread(prices, name) for name in PRICE_ITEMS])
    factors: Floats = 1.0 + spreads[:, None] * chance.uniform(
        -1.0, 1.0, size=(len(PRICE_ITEMS), trials)
    )
    return factors
