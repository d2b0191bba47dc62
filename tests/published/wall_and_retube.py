"""Formulas of walls, statistics, retubing, steam and money, in the units of their sources.

For the rows of the TOML files beside it. Not here: formulas of the tube sheet.
"""

from collections.abc import Callable, Sequence

from model.decision.present_value import (
    internal_rates_percent,
    nearest_to_zero,
    net_present_value,
)
from model.desk.tube_intervals import read_intervals
from model.retube.expanding import contact_bore_mm, expansion_percent, target_bore_mm
from model.retube.hydro_test import HydroCase, HydroRule, HydroTest, hydro_test
from model.retube.plugs import plug_load_n
from model.retube.pressure_hold import PressureHold, pressure_hold
from model.retube.tube_ends import projection_band
from model.thermal.steam import boiler_output, saturation_temperature_c, saturation_temperature_k
from model.tubesheet.sizes import tube_mass_kg
from model.units import (
    BTU_PER_H_PER_BHP,
    KG_PER_LB,
    KJ_PER_BTU,
    STANDARD_GRAVITY_M_PER_S2,
    c_from_f,
    f_from_c,
    inches_from_mm,
    lb_from_kg,
    mm_from_inches,
    mpa_from_psi,
    psi_from_mpa,
)
from model.wall import external_pressure as external
from model.wall import life
from model.wall.gumbel import GumbelFit, fit_gumbel, level_that_all_stay_under, worst_of
from model.wall.lloyds_table import lloyds_pressure_mpa, lloyds_wall
from model.wall.new_tube_rules import us_historic_pressure_mpa, us_historic_wall_mm
from model.wall.weibull import WeibullFit, fit_weibull


def _us_historic_psi(od_in: float, wall_in: float) -> float:
    pressure_mpa = us_historic_pressure_mpa(
        od_mm=mm_from_inches(od_in), wall_mm=mm_from_inches(wall_in)
    )
    return psi_from_mpa(pressure_mpa)


def _us_historic_wall_in(od_in: float, pressure_psi: float) -> float:
    wall_mm = us_historic_wall_mm(
        od_mm=mm_from_inches(od_in), pressure_mpa=mpa_from_psi(pressure_psi)
    )
    return inches_from_mm(wall_mm)


def _lloyds_wall_mm(od_mm: float, pressure_mpa: float) -> float:
    wall_mm = lloyds_wall(od_mm=od_mm, pressure_mpa=pressure_mpa).wall_mm
    assert wall_mm is not None
    return wall_mm


def _elastic_psi(od_in: float, wall_in: float, modulus_psi: float) -> float:
    pressure_mpa = external.elastic_pressure_mpa(
        od_mm=mm_from_inches(od_in),
        wall_mm=mm_from_inches(wall_in),
        modulus_mpa=mpa_from_psi(modulus_psi),
    )
    return psi_from_mpa(pressure_mpa)


def _remaining_life(wall: float, retirement: float, rate: float) -> float:
    years = life.remaining_life_years(wall_mm=wall, retirement_mm=retirement, rate_mm_per_year=rate)
    assert years is not None
    return years


def _expanded(times: Sequence[float | str]) -> list[float]:
    """``3x95`` is 95 threes."""
    every: list[float] = []
    for each in times:
        number, _, count = str(each).partition("x")
        every += [float(number)] * int(count or 1)
    return every


def _weibull(
    failures: Sequence[float | str] = (),
    running: Sequence[float | str] = (),
    intervals: Sequence[str] = (),
) -> WeibullFit:
    return fit_weibull(
        failures=_expanded(failures),
        running=_expanded(running),
        intervals=read_intervals(",".join(intervals)) if intervals else (),
    )


def _return_level(losses: Sequence[float], tubes: int) -> float:
    return level_that_all_stay_under(fit_gumbel(losses), 1, 1 - 1 / tubes)


def _gumbel(losses: Sequence[float]) -> GumbelFit:
    return fit_gumbel(losses)


def _target_bore_in(hole_in: float, od_in: float, wall_in: float, percent: float) -> float:
    target_mm = target_bore_mm(
        hole_mm=mm_from_inches(hole_in),
        od_mm=mm_from_inches(od_in),
        wall_mm=mm_from_inches(wall_in),
        target_percent=percent,
    )
    return inches_from_mm(target_mm)


def _percent_of_target(hole_in: float, od_in: float, wall_in: float, percent: float) -> float:
    return expansion_percent(
        hole_mm=mm_from_inches(hole_in),
        od_mm=mm_from_inches(od_in),
        wall_mm=mm_from_inches(wall_in),
        rolled_bore_mm=mm_from_inches(_target_bore_in(hole_in, od_in, wall_in, percent)),
    )


def _percent_of_growth(
    od_in: float, wall_in: float, clearance_in: float, growth_in: float
) -> float:
    contact_in = od_in - 2 * wall_in + clearance_in
    return expansion_percent(
        hole_mm=mm_from_inches(od_in + clearance_in),
        od_mm=mm_from_inches(od_in),
        wall_mm=mm_from_inches(wall_in),
        rolled_bore_mm=mm_from_inches(contact_in + growth_in),
    )


def _plug_load_lbf(bore_in: float, pressure_psi: float) -> float:
    force_n = plug_load_n(bore_mm=mm_from_inches(bore_in), pressure_mpa=mpa_from_psi(pressure_psi))
    return force_n / (KG_PER_LB * STANDARD_GRAVITY_M_PER_S2)


def _hydro(rule: str, case: str, mawp_psi: float = 150.0) -> HydroTest:
    return hydro_test(mawp_mpa=mpa_from_psi(mawp_psi), rule=HydroRule(rule), case=HydroCase(case))


def _hydro_psi(figure: str) -> Callable[..., float]:
    return lambda **inputs: psi_from_mpa(getattr(_hydro(**inputs), figure))


def _hold_minutes(**inputs: object) -> float:
    minutes = _hydro(**inputs).hold_minutes
    assert minutes is not None
    return minutes


def _is_water_allowed(rule: str, case: str, water_f: float) -> int:
    test = _hydro(rule, case)
    assert test.water_min_c is not None
    assert test.water_max_c is not None
    # A tenth of a millionth of a degree: a limit in degF must not move by being converted.
    return int(test.water_min_c - 1e-7 <= c_from_f(water_f) <= test.water_max_c + 1e-7)


def _hold(start_psi: float, end_psi: float) -> PressureHold:
    return pressure_hold(
        start_mpa=mpa_from_psi(start_psi), end_mpa=mpa_from_psi(end_psi), minutes=15.0
    )


def _lb_per_ft(od_in: float, wall_in: float) -> float:
    mass_kg = tube_mass_kg(
        od_mm=mm_from_inches(od_in), wall_mm=mm_from_inches(wall_in), length_mm=mm_from_inches(12)
    )
    return lb_from_kg(mass_kg)


def _irr_percent(flows: Sequence[float]) -> float:
    rate_percent = nearest_to_zero(internal_rates_percent(flows))
    assert rate_percent is not None
    return rate_percent


FORMULAS: dict[str, Callable[..., float]] = {
    "us-historic-psi": _us_historic_psi,
    "us-historic-psi-of-mm": lambda od_mm, wall_mm: psi_from_mpa(
        us_historic_pressure_mpa(od_mm=od_mm, wall_mm=wall_mm)
    ),
    "us-historic-wall-in": _us_historic_wall_in,
    "us-historic-wall-mm": us_historic_wall_mm,
    "lloyds-mpa": lloyds_pressure_mpa,
    "lloyds-psi": lambda **tube: psi_from_mpa(lloyds_pressure_mpa(**tube)),
    "lloyds-wall-mm": _lloyds_wall_mm,
    "factor-a": lambda od_in, wall_in: external.external_factor_a(od_mm=od_in, wall_mm=wall_in),
    "elastic-psi": _elastic_psi,
    "loss-rate": lambda earlier, later, years: life.loss_rate_mm_per_year(
        earlier_mm=earlier, later_mm=later, years=years
    ),
    "remaining-life": _remaining_life,
    "thinning-allows": lambda remaining: life.thinning_allows_years(remaining_years=remaining),
    "weibull-eta": lambda **data: _weibull(**data).eta,
    "weibull-beta": lambda **data: _weibull(**data).beta,
    "weibull-log-likelihood": lambda **data: _weibull(**data).log_likelihood,
    "weibull-share-failed": lambda time, **data: _weibull(**data).share_failed(time),
    "gumbel-mu": lambda losses: _gumbel(losses).mu,
    "gumbel-sigma": lambda losses: _gumbel(losses).sigma,
    "gumbel-worst": lambda losses, tubes: worst_of(_gumbel(losses), tubes),
    "gumbel-return-level": _return_level,
    "contact-bore-in": lambda hole_in, od_in, wall_in: contact_bore_mm(
        hole_mm=hole_in, od_mm=od_in, wall_mm=wall_in
    ),
    "target-bore-in": _target_bore_in,
    "target-bore-mm": lambda percent, **joint: target_bore_mm(target_percent=percent, **joint),
    "percent-of-target": _percent_of_target,
    "percent-of-growth": _percent_of_growth,
    "projection-minimum-in": lambda wall_in: inches_from_mm(
        projection_band(mm_from_inches(wall_in)).minimum_mm
    ),
    "projection-maximum-in": lambda wall_in: inches_from_mm(
        projection_band(mm_from_inches(wall_in)).maximum_mm
    ),
    "is-projection-within": lambda wall_in, projection_in: int(
        projection_band(mm_from_inches(wall_in)).holds(mm_from_inches(projection_in))
    ),
    "plug-load-lbf": _plug_load_lbf,
    "hydro-test-psi": _hydro_psi("test_mpa"),
    "hydro-ceiling-psi": _hydro_psi("ceiling_mpa"),
    "hydro-hold-minutes": _hold_minutes,
    "is-water-allowed": _is_water_allowed,
    "hold-drop-percent": lambda **gauge: _hold(**gauge).drop_percent,
    "is-hold-within": lambda **gauge: int(_hold(**gauge).is_within_rule is True),
    "saturation-k": saturation_temperature_k,
    "saturation-f": lambda gauge_psi: f_from_c(
        saturation_temperature_c(pressure_mpa=mpa_from_psi(gauge_psi))
    ),
    "bhp-steam-lb-per-h": lambda bhp: lb_from_kg(boiler_output(bhp).steam_kg_per_h),
    "bhp-heat-btu-per-h": lambda bhp: boiler_output(bhp).heat_kw * 3600.0 / KJ_PER_BTU,
    "bhp-heat-kw": lambda bhp: boiler_output(bhp).heat_kw,
    "bhp-surface-ft2": lambda btu_per_h_ft2: BTU_PER_H_PER_BHP / btu_per_h_ft2,
    "lb-per-ft": _lb_per_ft,
    "npv": net_present_value,
    "irr-percent": _irr_percent,
}
