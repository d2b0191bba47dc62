"""Properties of a flue gas between 300 and 1700 K at atmospheric pressure.

Not here: what the gas consists of (``combustion``), the pure gases (``gas_species``,
``gas_transport``), and the quick table that the march along a tube reads (``gas_table``).
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from model.errors import OutOfRange
from model.thermal.gas_species import (
    GAS_CONSTANT_J_PER_MOL_K,
    HIGHEST_ENTHALPY_K,
    LOWEST_ENTHALPY_K,
    MOLAR_MASS_G_PER_MOL,
    NASA9,
    NASA9_SOURCE,
    Gas,
    Nasa9,
    enthalpy_over_r,
    heat_capacity_over_r,
)
from model.thermal.gas_transport import (
    TRANSPORT_SOURCE,
    gas_conductivity_w_per_m_k,
    gas_viscosity_pa_s,
)

ATMOSPHERE_PA: Final = 101_325.0
LOWEST_GAS_K: Final = 300.0
HIGHEST_GAS_K: Final = 1700.0

FLUE_GAS_SOURCE: Final = (
    f"cp: {NASA9_SOURCE}; pure gases: {TRANSPORT_SOURCE}; mixing: Wilke (1950) and Wassiljewa with "
    "the factors of Herning and Zipperer, as the package chemicals 1.5.2 describes them"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class GasProperties:
    """A gas at one temperature and 101,325 Pa."""

    cp_j_per_kg_k: float
    viscosity_pa_s: float
    conductivity_w_per_m_k: float
    density_kg_per_m3: float
    molar_mass_g_per_mol: float

    @property
    def prandtl(self) -> float:
        """cp mu / k [-]."""
        return self.cp_j_per_kg_k * self.viscosity_pa_s / self.conductivity_w_per_m_k


@dataclass(frozen=True, slots=True, kw_only=True)
class FlueGas:
    """What a flue gas consists of, as mole fractions of the wet gas (their sum is 1)."""

    co2: float
    h2o: float
    o2: float
    n2: float

    @property
    def parts(self) -> tuple[tuple[Gas, float], ...]:
        """Each gas with its mole fraction."""
        return (
            (Gas.CO2, self.co2),
            (Gas.H2O, self.h2o),
            (Gas.O2, self.o2),
            (Gas.N2, self.n2),
        )

    @property
    def molar_mass_g_per_mol(self) -> float:
        """Mean molar mass [g/mol]."""
        return sum(fraction * MOLAR_MASS_G_PER_MOL[gas] for gas, fraction in self.parts)

    @property
    def nasa9(self) -> Nasa9:
        """The polynomials of the mixture: the means of its gases' coefficients."""
        below = [[share * each for each in NASA9[gas].below] for gas, share in self.parts]
        above = [[share * each for each in NASA9[gas].above] for gas, share in self.parts]
        return Nasa9(
            below=tuple(sum(column) for column in zip(*below, strict=True)),
            above=tuple(sum(column) for column in zip(*above, strict=True)),
        )


def flue_gas_properties(gas: FlueGas, temperature_k: float) -> GasProperties:
    """Heat capacity, viscosity, conductivity, density and molar mass of a flue gas.

    Source: ``FLUE_GAS_SOURCE``.

    Scope: burnt gas in tubes of a boiler, at atmospheric pressure.

    Equation: cp = sum y cp_i / M; mu by ``mixture_viscosity_pa_s``; k by
    ``mixture_conductivity_w_per_m_k``; rho = p M / (R T) with p = 101,325 Pa.

    Parameters: ``gas`` its composition; ``temperature_k`` T [K].

    Returns: ``GasProperties``.

    Raises: OutOfRange unless 300 <= T <= 1700 K.

    Notes: ideal gases; dissociation, water vapour of the air and argon are left out.

    >>> air = FlueGas(co2=0.0, h2o=0.0, o2=0.2095, n2=0.7905)
    >>> round(flue_gas_properties(air, 300.0).density_kg_per_m3, 2)
    1.17
    """
    if not LOWEST_GAS_K <= temperature_k <= HIGHEST_GAS_K:
        raise OutOfRange("temperature_k", temperature_k, "300 to 1700 K")
    fractions = [fraction for _, fraction in gas.parts]
    masses = [MOLAR_MASS_G_PER_MOL[each] for each, _ in gas.parts]
    mass = gas.molar_mass_g_per_mol
    return GasProperties(
        cp_j_per_kg_k=(
            1e3
            * GAS_CONSTANT_J_PER_MOL_K
            / mass
            * heat_capacity_over_r(gas.nasa9.at(temperature_k), temperature_k)
        ),
        viscosity_pa_s=mixture_viscosity_pa_s(
            fractions, [gas_viscosity_pa_s(each, temperature_k) for each, _ in gas.parts], masses
        ),
        conductivity_w_per_m_k=mixture_conductivity_w_per_m_k(
            fractions,
            [gas_conductivity_w_per_m_k(each, temperature_k) for each, _ in gas.parts],
            masses,
        ),
        density_kg_per_m3=ATMOSPHERE_PA * mass / (1e3 * GAS_CONSTANT_J_PER_MOL_K * temperature_k),
        molar_mass_g_per_mol=mass,
    )


def flue_gas_enthalpy_kj_per_kg(gas: FlueGas, temperature_k: float) -> float:
    """Enthalpy of a flue gas from the elements; only differences have a meaning of their own.

    Source: ``NASA9_SOURCE``.

    Scope: the heat that a gas gives up between two temperatures is the difference of this.

    Equation: h = (R/M) sum y (H_i/R).

    Parameters: ``gas`` its composition; ``temperature_k`` T [K].

    Returns: enthalpy [kJ/kg].

    Raises: OutOfRange unless 200 <= T <= 6000 K.

    >>> air = FlueGas(co2=0.0, h2o=0.0, o2=0.2095, n2=0.7905)
    >>> hot, cold = (flue_gas_enthalpy_kj_per_kg(air, t) for t in (400.0, 300.0))
    >>> 100.0 < hot - cold < 103.0
    True
    """
    if not LOWEST_ENTHALPY_K <= temperature_k <= HIGHEST_ENTHALPY_K:
        raise OutOfRange("temperature_k", temperature_k, "200 to 6000 K")
    over_r = enthalpy_over_r(gas.nasa9.at(temperature_k), temperature_k)
    return GAS_CONSTANT_J_PER_MOL_K * over_r / gas.molar_mass_g_per_mol


def mixture_viscosity_pa_s(
    fractions: Sequence[float], viscosities_pa_s: Sequence[float], masses: Sequence[float]
) -> float:
    """Viscosity of a gas mixture by Wilke's rule.

    Source: Wilke, J. Chem. Phys. 18 (1950) 517, as the package ``chemicals`` 1.5.2 describes it.

    Scope: gases at low pressure.

    Equation: mu = sum_i y_i mu_i / sum_j y_j p_ij,
    p_ij = (1 + sqrt(mu_i/mu_j) (M_j/M_i)^(1/4))^2 / sqrt(8 (1 + M_i/M_j)).

    Parameters: ``fractions`` y [-]; ``viscosities_pa_s`` mu_i [Pa s]; ``masses`` M [g/mol].

    Returns: viscosity [Pa s].

    Raises: nothing; the lists are ours.

    >>> round(mixture_viscosity_pa_s([0.5, 0.5], [2e-5, 2e-5], [28.0, 28.0]) * 1e5, 6)
    2.0
    """
    return sum(
        y_i
        * mu_i
        / sum(
            y_j
            * (1.0 + math.sqrt(mu_i / mu_j) * math.sqrt(math.sqrt(m_j / m_i))) ** 2
            / math.sqrt(8.0 * (1.0 + m_i / m_j))
            for y_j, mu_j, m_j in zip(fractions, viscosities_pa_s, masses, strict=True)
        )
        for y_i, mu_i, m_i in zip(fractions, viscosities_pa_s, masses, strict=True)
    )


def mixture_conductivity_w_per_m_k(
    fractions: Sequence[float], conductivities_w_per_m_k: Sequence[float], masses: Sequence[float]
) -> float:
    """Conductivity of a gas mixture: Wassiljewa's form with the factors of Herning and Zipperer.

    Source: as the package ``chemicals`` 1.5.2 describes it, after Poling, The Properties of Gases
    and Liquids, 5th edition.

    Scope: gases at low pressure.

    Equation: k = sum_i y_i k_i / sum_j y_j sqrt(M_j/M_i) = sum y k sqrt(M) / sum y sqrt(M).

    Parameters: ``fractions`` y [-]; ``conductivities_w_per_m_k`` k_i [W/(m K)]; ``masses`` M
    [g/mol].

    Returns: conductivity [W/(m K)].

    Raises: nothing; the lists are ours.

    >>> mixture_conductivity_w_per_m_k([0.5, 0.5], [0.04, 0.02], [16.0, 16.0])
    0.03
    """
    weights = [y * math.sqrt(mass) for y, mass in zip(fractions, masses, strict=True)]
    return sum(
        weight * k for weight, k in zip(weights, conductivities_w_per_m_k, strict=True)
    ) / sum(weights)
