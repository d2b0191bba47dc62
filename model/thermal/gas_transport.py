"""Viscosity and thermal conductivity of each gas of a flue gas at low pressure.

The zero-density terms of the correlations for the pure fluids. Not here: their density terms, which
at atmospheric pressure change these gases by less than 1 %, and mixtures (``flue_gas``).
"""

import math
from typing import Final

from model.thermal.gas_species import MOLAR_MASS_G_PER_MOL, Gas

TRANSPORT_SOURCE: Final = (
    "zero-density terms of: N2 and O2 Lemmon and Jacobsen, Int. J. Thermophys. 25 (2004) 21; H2O "
    "IAPWS 2008 (viscosity) and IAPWS 2011 (conductivity); CO2 Laesecke and Muzny, J. Phys. "
    "Chem. Ref. Data 46 (2017) 013107 (viscosity) and Huber et al., J. Phys. Chem. Ref. Data 45 "
    "(2016) 013102 (conductivity)"
)

# Collision integral of Lemmon and Jacobsen, shared by nitrogen and oxygen.
_COLLISION = (0.431, -0.4623, 0.08406, 0.005341, -0.00331)
# Gas: length [nm] and energy [K] of a collision.
_LENNARD_JONES = {Gas.N2: (0.3656, 98.94), Gas.O2: (0.3428, 118.5)}
# Gas: critical temperature [K], then N1, N2, t2, N3, t3 of the conductivity in mW/(m K).
_LEMMON_CONDUCTIVITY = {
    Gas.N2: (126.192, 1.511, 2.117, -1.0, -3.332, -0.7),
    Gas.O2: (154.581, 1.036, 6.283, -0.9, -4.262, -0.6),
}
_CO2_VISCOSITY = (
    *(1749.354893188350, -369.069300007128, 5423856.34887691, -2.21283852168356),
    *(-269503.247933569, 73145.021531826, 5.34368649509278),
)
_CO2_CRITICAL_K = 304.1282
_CO2_CONDUCTIVITY = (0.0151874307, 0.0280674040, 0.0228564190, -0.00741624210)
_H2O_CRITICAL_K = 647.096
_H2O_VISCOSITY = (1.67752, 2.20462, 0.6366564, -0.241605)
_H2O_CONDUCTIVITY = (2.443221e-3, 1.323095e-2, 6.770357e-3, -3.454586e-3, 4.096266e-4)


def gas_viscosity_pa_s(gas: Gas, temperature_k: float) -> float:
    """Viscosity of a pure gas in the limit of low pressure.

    Source: ``TRANSPORT_SOURCE``; coefficients of N2 and O2 as the data of CoolProp 8.0.0 give them
    under that reference, of H2O as the package ``iapws`` 1.5.5 does, of CO2 as stored open codes
    give them.

    Scope: the resistance of the gas to flow, which at atmospheric pressure depends on temperature
    alone.

    Equation: N2, O2: 0.0266958 sqrt(M T) / (s^2 exp(sum b_i (ln T/e)^i)) uPa s; CO2:
    1005.5 sqrt(T) / (a0 + a1 T^(1/6) + a2 exp(a3 c) + (a4 + a5 c) exp(-c) + a6 sqrt(T)) uPa s with
    c = T^(1/3); H2O: 100 sqrt(Tr) / sum(H_i / Tr^i) uPa s with Tr = T/647.096.

    Parameters: ``gas``; ``temperature_k`` T [K].

    Returns: viscosity [Pa s].

    Raises: nothing; meant for 300 to 1700 K, which ``flue_gas`` checks.

    Notes: the source states H2O to 1173 K; up to 1700 K we extrapolate. An independent fit (CEA)
    stays within 1.5 % of every gas from 450 K up.

    >>> round(gas_viscosity_pa_s(Gas.N2, 300.0) * 1e6, 1)
    17.9
    """
    if gas is Gas.H2O:
        return 1e-4 * _reduced(_H2O_VISCOSITY, temperature_k / _H2O_CRITICAL_K)
    if gas is Gas.CO2:
        return _co2_viscosity_pa_s(temperature_k)
    length_nm, energy_k = _LENNARD_JONES[gas]
    integral = _exp_of_log_series(_COLLISION, temperature_k / energy_k)
    root = math.sqrt(MOLAR_MASS_G_PER_MOL[gas] * temperature_k)
    return 0.0266958e-6 * root / (length_nm**2 * integral)


def gas_conductivity_w_per_m_k(gas: Gas, temperature_k: float) -> float:
    """Thermal conductivity of a pure gas in the limit of low pressure.

    Source: as ``gas_viscosity_pa_s``; coefficients of CO2 likewise.

    Scope: how well the gas at rest leads heat.

    Equation: N2, O2: N1 mu + N2 (Tc/T)^t2 + N3 (Tc/T)^t3 mW/(m K), mu in uPa s; CO2:
    sqrt(Tr) / sum(l_k / Tr^k) mW/(m K) with Tr = T/304.1282; H2O:
    sqrt(Tr) / sum(L_k / Tr^k) mW/(m K) with Tr = T/647.096.

    Parameters: ``gas``; ``temperature_k`` T [K].

    Returns: conductivity [W/(m K)].

    Raises: nothing, as above.

    Notes: extrapolated for CO2 above 1100 K and H2O above 1173 K; there the independent fit (CEA)
    differs by up to 6 % for CO2 and 4 % for H2O.

    >>> round(gas_conductivity_w_per_m_k(Gas.N2, 300.0), 4)
    0.0259
    """
    if gas is Gas.H2O:
        return 1e-3 * _reduced(_H2O_CONDUCTIVITY, temperature_k / _H2O_CRITICAL_K)
    if gas is Gas.CO2:
        return 1e-3 * _reduced(_CO2_CONDUCTIVITY, temperature_k / _CO2_CRITICAL_K)
    critical_k, n1, n2, t2, n3, t3 = _LEMMON_CONDUCTIVITY[gas]
    tau = critical_k / temperature_k
    viscosity_upa_s = 1e6 * gas_viscosity_pa_s(gas, temperature_k)
    return 1e-3 * (n1 * viscosity_upa_s + n2 * math.pow(tau, t2) + n3 * math.pow(tau, t3))


def _co2_viscosity_pa_s(temperature_k: float) -> float:
    a0, a1, a2, a3, a4, a5, a6 = _CO2_VISCOSITY
    sixth = math.pow(temperature_k, 1.0 / 6.0)
    third, root = sixth * sixth, math.sqrt(temperature_k)
    below = a0 + a1 * sixth + a2 * math.exp(a3 * third)
    below += (a4 + a5 * third) * math.exp(-third) + a6 * root
    return 1.0055e-3 * root / below


def _reduced(coefficients: tuple[float, ...], reduced: float) -> float:
    series = sum(each / reduced**power for power, each in enumerate(coefficients))
    return math.sqrt(reduced) / series


def _exp_of_log_series(coefficients: tuple[float, ...], reduced: float) -> float:
    log = math.log(reduced)
    return math.exp(sum(each * log**power for power, each in enumerate(coefficients)))
