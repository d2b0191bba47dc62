"""The force of the water on a plug.

Not here: how many plugs there are and where (``model.condition``).
"""

import math

from model.errors import OutOfRange


def plug_load_n(*, bore_mm: float, pressure_mpa: float) -> float:
    """Force that pushes a plug out of a tube end once water has reached the bore.

    Source: statics, force = pressure x area. That water reaches the fire side through the leak and
    pushes on both plugs, which a through rod then holds together: Boiler Operator's Handbook, 2nd
    edition, p. 220.

    Scope: each of the two plugs of a tube, and a through rod between them, without its preload.

    Equation: F = P pi / 4 d^2.

    Parameters: ``bore_mm`` d, the diameter that the plug closes [mm]; ``pressure_mpa`` P [MPa
    gauge].

    Returns: force [N].

    Raises: OutOfRange unless both are above 0.

    >>> round(plug_load_n(bore_mm=46.0, pressure_mpa=1.0), 1)
    1661.9
    """
    for name, value in (("bore_mm", bore_mm), ("pressure_mpa", pressure_mpa)):
        if not value > 0.0:
            raise OutOfRange(name, value, "above 0")
    return pressure_mpa * math.pi / 4.0 * bore_mm**2
