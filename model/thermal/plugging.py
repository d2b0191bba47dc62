"""The scaling law of plugged tubes: what plugs do to one pass when the gas flow is held.

A check on the marched model, and a figure for the back of an envelope. Not here: the boiler with
all its passes (``plugging_cost``).
"""

import math
from dataclasses import dataclass
from typing import Final

from model.errors import OutOfRange

FILM_EXPONENT: Final = 0.8
FRICTION_EXPONENT: Final = 1.8
ENDS_EXPONENT: Final = 2.0

PLUGGING_SOURCE: Final = (
    "own derivation: gas flow held, heat transfer of the gas as (flow per tube)^0.8, friction as "
    "(flow per tube)^1.8; gas at a constant wall temperature follows "
    "(T1 - Ts)/(T2 - Ts) = exp(NTU)"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class PluggedPass:
    """One pass before and after plugging."""

    ntu: float
    ntu_after: float
    outlet_after_c: float
    rise_k: float
    draft_ratio: float


def plugged_pass(
    *, tubes: int, plugged: int, inlet_c: float, outlet_c: float, saturation_c: float
) -> PluggedPass:
    """Outlet temperature and draft loss of a pass after plugging, by the scaling law.

    Source: ``PLUGGING_SOURCE``.

    Scope: turbulent gas in plain tubes, its flow held by the burner. Ten per cent plugged barely
    moves the outlet but costs about a fifth more draft in that pass.

    Equation: x = plugged/tubes; NTU = ln((T1 - Ts)/(T2 - Ts)); NTU' = NTU (1 - x)^0.2;
    T2' = Ts + (T1 - Ts) exp(-NTU'); draft ratio = (1 - x)^-1.8.

    Parameters: ``tubes`` in the pass; ``plugged`` of them; ``inlet_c`` T1, ``outlet_c`` T2 with no
    plugs, ``saturation_c`` Ts [degC].

    Returns: ``PluggedPass``.

    Raises: OutOfRange unless 0 <= plugged < tubes and saturation < outlet < inlet.

    Notes: the ratio is of friction; losses at the ends grow as (1 - x)^-2, so the whole draft loss
    grows a little more. Near Reynolds 6,000 heat transfer goes with the
    power 0.9 rather than 0.8, below about 4,100 with more than 1: there use the marched pass.

    >>> result = plugged_pass(
    ...     tubes=100, plugged=10, inlet_c=982.2, outlet_c=232.2, saturation_c=185.6)
    >>> round(result.draft_ratio, 4)
    1.2088
    """
    if not tubes >= 1:
        raise OutOfRange("tubes", tubes, "at least 1")
    if not 0 <= plugged < tubes:
        raise OutOfRange("plugged", plugged, f"at least 0 and below the number of tubes, {tubes}")
    if not saturation_c > -273.15:
        raise OutOfRange("saturation_c", saturation_c, "above -273.15 degC")
    if not saturation_c < outlet_c < math.inf:
        raise OutOfRange("outlet_c", outlet_c, f"above the saturation's {saturation_c:g} degC")
    if not outlet_c < inlet_c < math.inf:
        raise OutOfRange("inlet_c", inlet_c, f"above the outlet's {outlet_c:g} degC")
    share_open = 1.0 - plugged / tubes
    ntu = math.log((inlet_c - saturation_c) / (outlet_c - saturation_c))
    ntu_after = ntu * math.pow(share_open, 1.0 - FILM_EXPONENT)
    outlet_after_c = saturation_c + (inlet_c - saturation_c) * math.exp(-ntu_after)
    return PluggedPass(
        ntu=ntu,
        ntu_after=ntu_after,
        outlet_after_c=outlet_after_c,
        rise_k=outlet_after_c - outlet_c,
        draft_ratio=math.pow(share_open, -FRICTION_EXPONENT),
    )
