"""Weibull's law of lifetimes: its fit to tubes that failed, still run, or failed in an interval.

Not here: the growth of leaks in one boiler, where repaired tubes go on (``leak_process``).
"""

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from model.errors import ModelError, OutOfRange

WEIBULL_SOURCE: Final = (
    "Weibull's law by maximum likelihood; the answers for interval-censored tubes are compared "
    "with the heat-exchanger data of Meeker and Escobar, Statistical Methods for Reliability Data "
    "(1998), as copied in the R package SMRD"
)

_MOST_STEPS: Final = 200
# Beyond these shapes the data fix no shape at all; a finite answer would be an accident.
_LEAST_BETA: Final = 1e-3
_MOST_BETA: Final = 1e5


@dataclass(frozen=True, slots=True, kw_only=True)
class FailedBetween:
    """Tubes found failed at one look that were whole at the look before; ``after`` may be 0."""

    after: float
    until: float
    count: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class WeibullFit:
    """Shape ``beta``, scale ``eta`` in the unit of the times, and the logarithm of likelihood."""

    beta: float
    eta: float
    log_likelihood: float

    def share_failed(self, time: float) -> float:
        """The share of tubes expected to have failed by a time: 1 - exp(-(t/eta)^beta).

        >>> WeibullFit(beta=1.0, eta=5.0, log_likelihood=0.0).share_failed(0.0)
        0.0
        """
        return -math.expm1(-((time / self.eta) ** self.beta))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Term:
    """Tubes alike: failed at ``until`` exactly (``is_exact``), between the two, or after one."""

    after: float | None
    until: float | None
    count: int
    is_exact: bool = False


def fit_weibull(
    *,
    failures: Sequence[float] = (),
    running: Sequence[float] = (),
    intervals: Sequence[FailedBetween] = (),
) -> WeibullFit:
    """Maximum likelihood fit of Weibull's law with right- and interval-censored tubes.

    Source: ``WEIBULL_SOURCE``.

    Scope: lifetimes of tubes that are replaced when they fail, all of one kind.

    Equation: with z = beta ln(t / eta), a failure adds ln beta - ln t + z - exp(z), a running tube
    adds -exp(z), and an interval adds ln(exp(-exp(z1)) - exp(-exp(z2))); the sum is made largest.

    Parameters: ``failures`` times at failure; ``running`` times of tubes that have not failed;
    ``intervals`` tubes that failed between two looks. All in one unit.

    Returns: ``WeibullFit`` in that unit.

    Raises: OutOfRange for a time that is not above 0 or an interval that does not run forward;
    ModelError where there is no failure, or the data leave the shape open.

    Notes: in beta and beta ln eta the sum is concave, so Newton's steps find the one best fit.

    >>> fit = fit_weibull(failures=[1.2, 2.5, 3.1, 4.0, 5.6], running=[6.0] * 5)
    >>> (round(fit.beta, 4), round(fit.eta, 4))
    (1.6436, 7.3964)
    """
    _require_times("failures", failures)
    _require_times("running", running)
    _require_intervals(intervals)
    if not failures and not intervals:
        raise ModelError("Weibull's law needs at least one failure, and no failure is given.")
    terms = _terms(failures, running, intervals)
    _require_a_shape(terms)
    log_reference = _log_reference(terms)
    a, b = _newton(terms, log_reference)
    log_likelihood = _sums(terms, log_reference, a, b)[0]
    log_likelihood -= log_reference * sum(term.count for term in terms if term.is_exact)
    return WeibullFit(beta=b, eta=math.exp(log_reference - a / b), log_likelihood=log_likelihood)


def _require_times(name: str, times: Iterable[float]) -> None:
    for time in times:
        if not 0.0 < time < math.inf:
            raise OutOfRange(name, time, "above 0")


def _require_intervals(intervals: Iterable[FailedBetween]) -> None:
    for each in intervals:
        shown = f"{each.after:g}:{each.until:g}x{each.count}"
        if not 0.0 <= each.after < each.until < math.inf:
            raise OutOfRange("intervals", shown, "from at least 0 to a later time")
        if each.count < 1:
            raise OutOfRange("intervals", shown, "of at least 1 tube")


def _terms(
    failures: Sequence[float], running: Sequence[float], intervals: Sequence[FailedBetween]
) -> list[_Term]:
    """Like tubes together: a data set of hundreds has few different times."""
    terms = [
        _Term(after=None, until=time, count=count, is_exact=True)
        for time, count in sorted(Counter(failures).items())
    ]
    terms += [
        _Term(after=time, until=None, count=count)
        for time, count in sorted(Counter(running).items())
    ]
    terms += [
        _Term(after=each.after or None, until=each.until, count=each.count) for each in intervals
    ]
    return terms


def _require_a_shape(terms: Sequence[_Term]) -> None:
    """Refuse data that a law of boundless steepness fits best.

    That is so exactly when one moment fits all: every failure can lie there, everything running
    ran no longer.
    """
    earliest = min(term.until for term in terms if term.until is not None)
    seen_whole = [term.after for term in terms if term.after is not None]
    exact = [term.until for term in terms if term.is_exact and term.until is not None]
    if max(seen_whole + exact, default=0.0) <= earliest:
        raise ModelError(
            f"These tubes could all have failed at one moment ({earliest:g}), so their shape beta "
            "stays open: it takes failures at different times, or tubes that ran longer than the "
            "first failure."
        )


def _log_reference(terms: Sequence[_Term]) -> float:
    """The logarithm of a time in the middle of the data, so that logarithms stay near zero."""
    logs = [math.log(t) for term in terms for t in (term.after, term.until) if t is not None]
    return math.fsum(logs) / len(logs)


def _newton(terms: Sequence[_Term], log_reference: float) -> tuple[float, float]:
    """The best a = -beta ln(eta / reference time) and b = beta."""
    a, b = _start(terms, log_reference)
    value, gradient, curvature = _sums(terms, log_reference, a, b)
    gain = math.inf
    for _ in range(_MOST_STEPS):
        step_a, step_b = _solved(curvature, gradient)
        gain = gradient[0] * step_a + gradient[1] * step_b
        if gain < 1e-20:
            break
        length = 1.0
        # Concave, so a short enough step uphill gains; below the last digit there is no gain left.
        while length > 1e-12:
            tried_a, tried_b = a + length * step_a, b + length * step_b
            if tried_b > 0.0:
                tried = _sums(terms, log_reference, tried_a, tried_b)
                if tried[0] >= value + 1e-4 * length * gain or (gain < 1e-9 and length == 1.0):
                    a, b = tried_a, tried_b
                    value, gradient, curvature = tried
                    break
            length /= 2.0
        else:
            break
        if not _LEAST_BETA < b < _MOST_BETA:
            break
    if not (_LEAST_BETA < b < _MOST_BETA and gain < 1e-9):
        raise ModelError(
            "These failures and running tubes leave the shape beta open: no Weibull law fits them "
            "better than every other. It takes failures at different times."
        )
    return a, b


def _start(terms: Sequence[_Term], log_reference: float) -> tuple[float, float]:
    """A steepness that suits how far the logarithms of the times lie apart, and its best a."""
    logs = [
        math.log(time) - log_reference
        for term in terms
        for time in (term.after, term.until)
        if time
    ]
    spread = math.sqrt(math.fsum(x * x for x in logs) / len(logs))
    b = min(max(1.28 / spread, 2.0 * _LEAST_BETA), 50.0)
    failed = sum(term.count for term in terms if term.until is not None)
    hazards = math.fsum(
        term.count * math.exp(b * (math.log(term.after or term.until or 1.0) - log_reference))
        for term in terms
    )
    return math.log(failed / hazards), b


_Gradient = tuple[float, float]
_Curvature = tuple[float, float, float]


def _sums(
    terms: Sequence[_Term], log_reference: float, a: float, b: float
) -> tuple[float, _Gradient, _Curvature]:
    """Log-likelihood, its slope and the negative of its curvature, in a and b."""
    value = slope_a = slope_b = curve_aa = curve_ab = curve_bb = 0.0
    for term in terms:
        part, slopes, curves = _part(term, log_reference, a, b)
        value += term.count * part
        slope_a += term.count * slopes[0]
        slope_b += term.count * slopes[1]
        curve_aa += term.count * curves[0]
        curve_ab += term.count * curves[1]
        curve_bb += term.count * curves[2]
    return value, (slope_a, slope_b), (curve_aa, curve_ab, curve_bb)


def _part(
    term: _Term, log_reference: float, a: float, b: float
) -> tuple[float, _Gradient, _Curvature]:
    """One tube's share of the sums, with times in units of the reference."""
    if term.until is None:
        assert term.after is not None
        x, w = _log_and_hazard(term.after, log_reference, a, b)
        return -w, (-w, -w * x), (w, w * x, w * x * x)
    x2, w2 = _log_and_hazard(term.until, log_reference, a, b)
    if term.is_exact:
        value = math.log(b) - x2 + a + b * x2 - w2
        slopes = (1.0 - w2, 1.0 / b + x2 * (1.0 - w2))
        return value, slopes, (w2, w2 * x2, w2 * x2 * x2 + 1.0 / (b * b))
    x1, w1 = (0.0, 0.0) if term.after is None else _log_and_hazard(term.after, log_reference, a, b)
    gap = w2 - w1
    if gap <= 0.0 or math.isinf(gap):
        return -math.inf, (0.0, 0.0), (0.0, 0.0, 0.0)
    spread, left = -math.expm1(-gap), math.exp(-gap)
    p1, p2 = w1 / spread, w2 * left / spread
    # Curvature in the two z, then by the chain rule in a and b.
    c11, c12, c22 = p1 + p1 * p1 * left, -p1 * p2, p2 * (w2 - 1.0 + p2)
    return (
        math.log(spread) - w1,
        (p2 - p1, p2 * x2 - p1 * x1),
        (
            c11 + 2.0 * c12 + c22,
            c11 * x1 + c12 * (x1 + x2) + c22 * x2,
            c11 * x1 * x1 + 2.0 * c12 * x1 * x2 + c22 * x2 * x2,
        ),
    )


def _log_and_hazard(time: float, log_reference: float, a: float, b: float) -> tuple[float, float]:
    """x, a time's logarithm from the reference, and exp(a + b x), infinite where too large."""
    x = math.log(time) - log_reference
    exponent = a + b * x
    return x, math.exp(exponent) if exponent < 700.0 else math.inf


def _solved(curvature: _Curvature, slope: _Gradient) -> _Gradient:
    """The Newton step; uphill along the slope where the curvature gives no direction."""
    aa, ab, bb = curvature
    determinant = aa * bb - ab * ab
    if not determinant > 1e-14 * aa * bb:
        return slope
    return (
        (bb * slope[0] - ab * slope[1]) / determinant,
        (aa * slope[1] - ab * slope[0]) / determinant,
    )
